package labels

import (
	"image"
	"image/color"
	"math"
	"testing"

	"stowright/assets/fonts"
)

// drawn is a page of 20 x 10 mm with items, at ten pixels to the millimetre.
func drawn(t *testing.T, items ...Item) *image.RGBA {
	t.Helper()
	img, err := Picture(Page{W: 20, H: 10, Items: items}, 10)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// wantDark fails unless exactly the pixels of some rectangles are dark.
func wantDark(t *testing.T, img *image.RGBA, rects ...image.Rectangle) {
	t.Helper()
	want := map[image.Point]bool{}
	for _, r := range rects {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				want[image.Pt(x, y)] = true
			}
		}
	}
	got := dark(img)
	for _, p := range got {
		if !want[p] {
			t.Fatalf("pixel %v is dark, and should not be (%d are, want %d)", p, len(got), len(want))
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d pixels are dark, want %d", len(got), len(want))
	}
}

// Shapes whose edges lie on pixels are drawn to the pixel.
func TestPictureShapes(t *testing.T) {
	line := func(pen float64, points ...Point) Path { return Path{Points: points, Pen: pen} }
	for _, row := range []struct {
		name string
		item Item
		want []image.Rectangle
	}{
		{"a filled rectangle", Fill{Rect: Rect{2, 3, 4, 1}}, []image.Rectangle{image.Rect(20, 30, 60, 40)}},
		{"white on white", Fill{Rect: Rect{2, 3, 4, 1}, Ink: White}, nil},
		{"cut off by the page", Fill{Rect: Rect{18, 9, 4, 4}}, []image.Rectangle{image.Rect(180, 90, 200, 100)}},
		{"outside the page", Fill{Rect: Rect{22, 3, 4, 1}}, nil},
		{"a line, half a pen longer at both ends", line(1, Point{5, 5}, Point{9, 5}), []image.Rectangle{image.Rect(45, 45, 95, 55)}},
		{"a line down", line(1, Point{5, 2}, Point{5, 6}), []image.Rectangle{image.Rect(45, 15, 55, 65)}},
		{"a point of ink", line(1, Point{5, 5}, Point{5, 5}), []image.Rectangle{image.Rect(45, 45, 55, 55)}},
		{"one point makes no line", line(1, Point{5, 5}), nil},
		{"an elbow", line(1, Point{5, 2}, Point{5, 6}, Point{9, 6}), []image.Rectangle{image.Rect(45, 15, 55, 65), image.Rect(45, 55, 95, 65)}},
		{
			"a closed line",
			Path{Points: []Point{{5, 2}, {9, 2}, {9, 6}, {5, 6}}, Closed: true, Pen: 1},
			[]image.Rectangle{image.Rect(45, 15, 95, 25), image.Rect(45, 55, 95, 65), image.Rect(45, 15, 55, 65), image.Rect(85, 15, 95, 65)},
		},
		{"a filled path", Path{Points: []Point{{5, 2}, {9, 2}, {9, 6}, {5, 6}}, Filled: true, Pen: 1}, []image.Rectangle{image.Rect(50, 20, 90, 60)}},
		{
			"a square box, its pen along the edge",
			Box{Rect: Rect{5, 2, 4, 4}, Pen: 1},
			[]image.Rectangle{image.Rect(45, 15, 95, 25), image.Rect(45, 55, 95, 65), image.Rect(45, 15, 55, 65), image.Rect(85, 15, 95, 65)},
		},
		{
			"dashes of 1.0 with gaps of 0.6, and half a pen at their ends",
			Path{Points: []Point{{2, 5}, {4.6, 5}}, Pen: 0.2, Dashed: true},
			[]image.Rectangle{image.Rect(19, 49, 31, 51), image.Rect(35, 49, 47, 51)},
		},
		{
			"the modules of a code",
			Code{X: 5, Y: 2, Module: 0.5, Size: 3, Runs: []Run{{0, 0, 3}, {1, 0, 1}, {2, 1, 2}}},
			[]image.Rectangle{image.Rect(50, 20, 65, 25), image.Rect(50, 25, 55, 30), image.Rect(55, 30, 65, 35)},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			img := drawn(t, row.item)
			if box, ok := row.item.(Box); ok && box.Radius == 0 {
				// The outer corners of a square box are round by half the pen.
				for _, p := range []image.Point{{45, 15}, {94, 15}, {45, 64}, {94, 64}} {
					if img.RGBAAt(p.X, p.Y).R < 128 {
						t.Errorf("the outer corner %v is not rounded", p)
					}
				}
				for _, p := range []image.Point{{49, 19}, {70, 15}, {70, 24}, {45, 40}, {54, 40}, {94, 40}, {70, 64}} {
					if img.RGBAAt(p.X, p.Y).R >= 128 {
						t.Errorf("the edge is not drawn at %v", p)
					}
				}
				for _, p := range []image.Point{{55, 25}, {84, 54}, {70, 40}, {44, 40}, {95, 40}} {
					if img.RGBAAt(p.X, p.Y).R < 128 {
						t.Errorf("drawn beside the edge at %v", p)
					}
				}
				return
			}
			wantDark(t, img, row.want...)
		})
	}
}

// Later items lie over earlier ones, in their own greys.
func TestPictureInks(t *testing.T) {
	img := drawn(t, Fill{Rect: Rect{1, 1, 9, 8}}, Fill{Rect: Rect{2, 2, 7, 6}, Ink: Quiet}, Fill{Rect: Rect{3, 3, 5, 4}, Ink: White})
	for p, want := range map[image.Point]uint8{{5, 5}: 255, {15, 15}: 0, {25, 25}: 95, {35, 35}: 255} {
		if got := img.RGBAAt(p.X, p.Y); got != (color.RGBA{want, want, want, 255}) {
			t.Errorf("pixel %v is %v, want grey %d", p, got, want)
		}
	}
}

// An edge within a pixel darkens it by its share.
func TestPictureSmooths(t *testing.T) {
	img := drawn(t, Fill{Rect: Rect{2, 2, 1.05, 1.025}})
	for p, want := range map[image.Point]float64{{20, 20}: 0, {30, 20}: 127.5, {20, 30}: 191.25, {31, 20}: 255, {20, 31}: 255} {
		if got := float64(img.RGBAAt(p.X, p.Y).R); math.Abs(got-want) > 2 {
			t.Errorf("pixel %v has grey %.0f, want %.1f", p, got, want)
		}
	}
}

// A rounded corner is a quarter of a circle: the ring is that far from its centre.
func TestRoundedRing(t *testing.T) {
	r := Rect{10, 20, 8, 6}
	ring := roundedRing(r, 2)
	if len(ring) != 36 {
		t.Fatalf("%d points, want 9 to each of four corners", len(ring))
	}
	centres := []Point{{16, 22}, {16, 24}, {12, 24}, {12, 22}}
	for i, p := range ring {
		c := centres[i/9]
		if d := math.Hypot(p.X-c.X, p.Y-c.Y); math.Abs(d-2) > 1e-9 {
			t.Errorf("point %d, %v, is %.4f from its centre %v, want 2", i, p, d, c)
		}
	}
	// Clockwise from the top, and through the middle of each edge's ends.
	for i, want := range map[int]Point{0: {16, 20}, 8: {18, 22}, 9: {18, 24}, 17: {16, 26}, 18: {12, 26}, 26: {10, 24}, 27: {10, 22}, 35: {12, 20}} {
		if p := ring[i]; math.Hypot(p.X-want.X, p.Y-want.Y) > 1e-9 {
			t.Errorf("point %d is %v, want %v", i, p, want)
		}
	}
	for _, row := range []struct {
		name   string
		radius float64
		want   Rect
	}{{"none", 0, r}, {"more than half the height", 99, r}} {
		if got := boundsOf(roundedRing(r, row.radius)); math.Abs(got.W-row.want.W) > 1e-9 || math.Abs(got.H-row.want.H) > 1e-9 {
			t.Errorf("radius %s: the ring is within %+v, want %+v", row.name, got, row.want)
		}
	}
}

// Letters stand on their baseline, begin at their X and go on by their advance.
func TestPictureText(t *testing.T) {
	const size = 5.0
	set := testSetter(t)
	line := func(text string) Text {
		return Text{X: 4, Y: 8, Size: size, Width: set.width(fonts.MonoBold, size, text), Face: fonts.MonoBold, Text: text}
	}
	for _, row := range []struct {
		name string
		text string
		top  float64 // of the ink above the baseline, in parts of the em
	}{
		{"a capital", "H", capHeight},
		{"two of them", "HH", capHeight},
		{"a dash is lower", "-", 0.45},
	} {
		t.Run(row.name, func(t *testing.T) {
			img := drawn(t, line(row.text))
			pixels := dark(img)
			if len(pixels) == 0 {
				t.Fatal("nothing is drawn")
			}
			box := image.Rectangle{Min: pixels[0], Max: pixels[0]}
			for _, p := range pixels {
				box = box.Union(image.Rectangle{Min: p, Max: p.Add(image.Pt(1, 1))})
			}
			width := set.width(fonts.MonoBold, size, row.text)
			if box.Min.X < 40 || float64(box.Max.X) > (4+width)*10 {
				t.Errorf("ink from %d to %d pixels, want within 40 to %.0f", box.Min.X, box.Max.X, (4+width)*10)
			}
			if row.top == capHeight && math.Abs(float64(80-box.Min.Y)-10*size*row.top) > 1 {
				t.Errorf("ink is %d pixels high over the baseline, want %.1f", 80-box.Min.Y, 10*size*row.top)
			}
			if row.top == capHeight && box.Max.Y != 80 || box.Max.Y > 80 {
				t.Errorf("ink ends at %d, want on the baseline at 80", box.Max.Y)
			}
			if row.top < capHeight && 80-box.Min.Y > int(10*size*row.top) {
				t.Errorf("a dash reaches %d pixels over the baseline", 80-box.Min.Y)
			}
		})
	}
	one, two := drawn(t, line("H")), drawn(t, line("HH"))
	if a, b := len(dark(one)), len(dark(two)); math.Abs(float64(b)/float64(a)-2) > 0.15 {
		t.Errorf("two letters have %d dark pixels, one has %d", b, a)
	}
	if got := dark(drawn(t, Text{X: 4, Y: 8, Size: size, Width: 9, Face: 99, Text: "H"})); len(got) != 0 {
		t.Error("a face that there is not draws something")
	}
}

// The smallest picture, and the largest.
func TestPictureSizes(t *testing.T) {
	for _, row := range []struct {
		name string
		w, h float64
		per  float64
		ok   bool
	}{
		{"one pixel", 0.1, 0.1, 10, true},
		{"a part of a pixel counts as one", 0.01, 0.01, 10, true},
		{"one row too many", 800, 800.1, 10, false},
		{"no height", 10, 0, 10, false},
		{"endless", math.Inf(1), 1, 10, false},
		{"no scale", 10, 10, 0, false},
		{"a scale that is not a number", 10, 10, math.NaN(), false},
	} {
		if _, err := Picture(Page{W: row.w, H: row.h}, row.per); (err == nil) != row.ok {
			t.Errorf("%s: %v", row.name, err)
		}
	}
}
