package icons

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/color"
	"image/png"
	"testing"
)

// Every named icon must be there and be whole XML: a broken one shows as a gap.
func TestEveryIconIsWholeSVG(t *testing.T) {
	for _, name := range Names() {
		t.Run(name, func(t *testing.T) {
			var root struct {
				XMLName xml.Name
				ViewBox string `xml:"viewBox,attr"`
			}
			if err := xml.Unmarshal(SVG(name), &root); err != nil {
				t.Fatalf("icon %q: %v", name, err)
			}
			if root.XMLName.Local != "svg" || root.ViewBox != "0 0 24 24" {
				t.Errorf("icon %q: got root %q with view box %q, want svg with 0 0 24 24", name, root.XMLName.Local, root.ViewBox)
			}
		})
	}
}

func TestUnknownIcon(t *testing.T) {
	if got := SVG("../icons"); got != nil {
		t.Errorf("SVG(%q): got %d bytes, want nil", "../icons", len(got))
	}
}

// The picture of the program is as large as desktops ask for, clear at its corners, and has
// one drawer lit, as its drawing has it.
func TestProgram(t *testing.T) {
	picture, err := png.Decode(bytes.NewReader(Program()))
	if err != nil {
		t.Fatal(err)
	}
	const perUnit = 4 // pixels, of the 64 that the drawing is wide
	if got := picture.Bounds().Size(); got != image.Pt(64*perUnit, 64*perUnit) {
		t.Fatalf("it is %v pixels large", got)
	}
	for at, want := range map[image.Point]color.NRGBA{
		{X: 0, Y: 0}:   {},
		{X: 32, Y: 6}:  {R: 0x2B, G: 0x66, B: 0x49, A: 0xFF},
		{X: 22, Y: 28}: {R: 0xFF, G: 0xFF, B: 0xFF, A: 0xFF},
		{X: 42, Y: 28}: {R: 0xF2, G: 0xB7, B: 0x05, A: 0xFF},
	} {
		if got := color.NRGBAModel.Convert(picture.At(at.X*perUnit, at.Y*perUnit)); got != want {
			t.Errorf("at %v it is %v, want %v", at, got, want)
		}
	}
}
