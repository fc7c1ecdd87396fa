package gallery

import (
	"bytes"
	"image"
	"os"
	"testing"

	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"

	"stowright/app/look"
	"stowright/store/output"
)

// Every state is laid out in every mode and no text may be cut off or too faint. With
// STOWRIGHT_PICTURES set to a folder the pictures are written there.
func TestEverythingCanBeRead(t *testing.T) {
	states := append(Sketches(), Widgets()...)
	for _, s := range states {
		for _, m := range Modes() {
			t.Run(s.Name+"/"+m.Name, func(t *testing.T) {
				for _, text := range Unreadable(s, m, test.WidgetRenderer) {
					t.Error(text)
				}
			})
		}
	}
	if dir := os.Getenv("STOWRIGHT_PICTURES"); dir != "" {
		if _, err := Write(dir, states, output.Options{Replace: true}); err != nil {
			t.Fatal(err)
		}
	}
}

// A window that was built light and small must look, after a change of theme, as
// if it had been built dark in shop mode: nothing may keep an old colour or size.
func TestThemeChangesUnderWay(t *testing.T) {
	to := Mode{"dark shop", look.Theme{Mode: look.Dark, Shop: true}}
	for _, s := range Sketches() { // they hold nearly every widget once
		t.Run(s.Name, func(t *testing.T) {
			fresh := Render(s, to)
			c := canvas(s, Modes()[0])
			c.Capture()
			changed := software.RenderCanvas(c, to.Theme)
			if n := differing(fresh, changed); n > 0 {
				t.Errorf("%d pixels differ from a window built anew", n)
			}
		})
	}
}

func differing(a, b image.Image) int {
	x, y := a.(*image.NRGBA), b.(*image.NRGBA)
	if x.Rect != y.Rect {
		return x.Rect.Dx() * x.Rect.Dy()
	}
	n := 0
	for i := 0; i < len(x.Pix); i += 4 {
		if !bytes.Equal(x.Pix[i:i+4], y.Pix[i:i+4]) {
			n++
		}
	}
	return n
}
