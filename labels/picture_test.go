package labels

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// TestPictureShowsThePrint compares our picture of a page with the PDF of it,
// drawn by a program that is not ours.
func TestPictureShowsThePrint(t *testing.T) {
	list := samples()
	dashed := *list[0].Piece
	dashed.Strokes = append([]Path{}, dashed.Strokes...)
	for i := range dashed.Strokes {
		dashed.Strokes[i].Dashed = i > 0
	}
	list[0].Piece = &dashed
	for _, name := range []string{"letter-3x10", "crate-100x62", "tape-12"} {
		t.Run(name, func(t *testing.T) {
			doc := mustLayout(t, list, name, Options{CutMarks: true})
			const dpi = 300
			want := rasterized(t, doc, dpi, doc.Pages[0].H)
			got, err := Picture(doc.Pages[0], dpi/inch)
			if err != nil {
				t.Fatal(err)
			}
			if dir := os.Getenv("PICTURES"); dir != "" {
				writePNG(t, filepath.Join(dir, name+"-ours.png"), got)
			}
			// Two programs smooth and place edges differently, so squares of a
			// millimetre are compared: how dark each one is in both. A lost letter
			// makes 60 and more.
			const square = 12
			worst, at := 0.0, image.Point{}
			for y := 0; y+square <= got.Bounds().Dy(); y += square {
				for x := 0; x+square <= got.Bounds().Dx(); x += square {
					sum := 0
					for i := range square * square {
						px, py := x+i%square, y+i/square
						sum += int(got.RGBAAt(px, py).R) - int(want.GrayAt(px, py).Y)
					}
					if d := math.Abs(float64(sum)) / square / square; d > worst {
						worst, at = d, image.Pt(x, y)
					}
				}
			}
			t.Logf("worst square at %v is %.1f of 255 off", at, worst)
			if worst > 45 {
				t.Errorf("square at %v is %.1f of 255 off, want at most 45", at, worst)
			}
		})
	}
}

func TestPictureBounds(t *testing.T) {
	cases := []struct {
		name  string
		page  Page
		perMM float64
		want  image.Point // zero: an error
	}{
		{"letter", Page{W: 215.9, H: 279.4}, 4, image.Pt(864, 1118)},
		{"whole millimetres", Page{W: 100, H: 62}, 2, image.Pt(200, 124)},
		{"nothing", Page{}, 4, image.Point{}},
		{"not a number", Page{W: math.NaN(), H: 10}, 4, image.Point{}},
		{"huge", Page{W: 1e9, H: 1e9}, 4, image.Point{}},
		{"negative", Page{W: 10, H: 10}, -1, image.Point{}},
		{"items far outside", Page{W: 10, H: 10, Items: []Item{
			Fill{Rect: Rect{-1e12, 5, 2e12, 1}},
			Path{Points: []Point{{-1e9, 0}, {1e9, 3}}, Pen: 1, Dashed: true},
			Text{X: math.Inf(1), Size: 3, Text: "x"},
			Text{Face: 99, Size: 3, Text: "x"},
		}}, 4, image.Pt(40, 40)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			img, err := Picture(c.page, c.perMM)
			if c.want == (image.Point{}) {
				if err == nil {
					t.Errorf("Picture of %g x %g mm gave no error", c.page.W, c.page.H)
				}
				return
			}
			if err != nil || img.Bounds().Size() != c.want {
				t.Errorf("picture is %v, error %v, want %v", img.Bounds().Size(), err, c.want)
			}
		})
	}
}

func TestDashes(t *testing.T) {
	p := Path{Points: []Point{{0, 0}, {4, 0}, {4, 2}}, Dashed: true}
	var drawn float64
	for _, s := range p.segments() {
		drawn += math.Hypot(s[1].X-s[0].X, s[1].Y-s[0].Y)
	}
	// Six millimetres of 1.0 drawn and 0.6 left out: three whole pairs, 1.0 and 0.2.
	if want := 4.0; math.Abs(drawn-want) > 1e-6 {
		t.Errorf("%.3f mm are drawn, want %.3f", drawn, want)
	}
	p.Dashed, p.Closed = false, true
	if n := len(p.segments()); n != 3 {
		t.Errorf("a closed path of three points has %d lines, want 3", n)
	}
}
