package frames

import (
	"image"
	"math"
	"slices"
	"testing"
)

// A camera of 65 degrees sees a plane as wide as its picture at the distance of its focal
// length: half the width is the tangent of half the angle.
func TestNewCamera(t *testing.T) {
	for _, w := range []int{320, 640, 1280} {
		c := newCamera(w, 100)
		if got := 2 * math.Atan(float64(w)/2/c.focal) / degree; math.Abs(got-65) > 1e-9 || c.w != w || c.h != 100 {
			t.Errorf("%d pixels wide: an angle of %v, want 65 degrees", w, got)
		}
	}
}

// A plane straight before the camera appears in true proportion, so many pixels a module.
func TestProjectStraight(t *testing.T) {
	c := newCamera(640, 480)
	m := c.project(pose{module: 3, at: [2]float64{200, 150}}, 10.5, 10.5)
	for _, row := range []struct{ u, v, x, y float64 }{
		{10.5, 10.5, 200, 150}, {11.5, 10.5, 203, 150}, {10.5, 11.5, 200, 153}, {0, 0, 168.5, 118.5}, {21, 21, 231.5, 181.5},
	} {
		if x, y := m.at(row.u, row.v); math.Abs(x-row.x) > 1e-9 || math.Abs(y-row.y) > 1e-9 {
			t.Errorf("module %v, %v appears at %.3f, %.3f, want %v, %v", row.u, row.v, x, y, row.x, row.y)
		}
	}
}

// A turn in the plane is a turn in the picture, and a tilt foreshortens across its axis,
// nearer parts appearing larger.
func TestProjectTurned(t *testing.T) {
	c := newCamera(640, 480)
	middle := [2]float64{320, 240} // of the picture, where nothing is askew
	m := c.project(pose{module: 4, at: middle, rotation: 90 * degree}, 0, 0)
	if x, y := m.at(10, 0); math.Abs(x-320) > 1e-9 || math.Abs(y-280) > 1e-9 {
		t.Errorf("turned by a quarter, right appears at %.3f, %.3f, want below", x, y)
	}
	m = c.project(pose{module: 4, at: middle, tilt: 60 * degree}, 0, 0) // about the horizontal axis
	if x, y := m.at(10, 0); math.Abs(x-360) > 1e-9 || math.Abs(y-240) > 1e-9 {
		t.Errorf("along the axis of the tilt: %.3f, %.3f, want as before", x, y)
	}
	_, far := m.at(0, 10)
	_, near := m.at(0, -10)
	// Half as high, give or take what is nearer or farther.
	if down, up := far-240, 240-near; math.Abs(down-20) > 3 || math.Abs(up-20) > 3 || down >= up {
		t.Errorf("across the axis: %.3f down and %.3f up, want about 20, and the nearer more", down, up)
	}
	// By similar triangles: depth 4*focal/module... of a point 10 modules up the plane.
	z := c.focal / 4
	sin, cos := math.Sincos(60 * degree)
	if want := 240 + c.focal*10*cos/(z+10*sin); math.Abs(far-want) > 1e-9 {
		t.Errorf("the far point appears at %.6f, want %.6f", far, want)
	}
}

// A homography and its inverse cancel out, whatever they are.
func TestHomographyInverse(t *testing.T) {
	for _, m := range []homography{
		{1, 0, 0, 0, 1, 0, 0, 0, 1},
		{3, 1, 40, -2, 5, 70, 0.01, -0.02, 1},
		{-1, 4, 9, 2, 2, -30, 0.001, 0.002, 2},
	} {
		back := m.inverse()
		for _, p := range [][2]float64{{0, 0}, {1, 0}, {0, 1}, {10.5, -3}} {
			x, y := m.at(p[0], p[1])
			if u, v := back.at(x, y); math.Abs(u-p[0]) > 1e-9 || math.Abs(v-p[1]) > 1e-9 {
				t.Errorf("%v there and back by %v: %v, %v", p, m, u, v)
			}
		}
	}
}

// Moving the origin of a plane is what adding to its coordinates is.
func TestShift(t *testing.T) {
	m := homography{3, 1, 40, -2, 5, 70, 0.01, -0.02, 1}
	s := m.shift(7, -4)
	for _, p := range [][2]float64{{0, 0}, {5, 6}} {
		x, y := s.at(p[0], p[1])
		if wantX, wantY := m.at(p[0]+7, p[1]-4); math.Abs(x-wantX) > 1e-9 || math.Abs(y-wantY) > 1e-9 {
			t.Errorf("%v appears at %v, %v, want %v, %v", p, x, y, wantX, wantY)
		}
	}
	if m != (homography{3, 1, 40, -2, 5, 70, 0.01, -0.02, 1}) {
		t.Error("the plane itself has moved")
	}
}

// The truth about a symbol: its corners in order and the root of its area.
func TestSymbolLabel(t *testing.T) {
	l := symbolLabel("SP7K3M9QXY", straight(4, 30, 20), 2, 3)
	want := [4][2]float64{{38, 32}, {122, 32}, {122, 116}, {38, 116}}
	if l.Corners != want || math.Abs(l.Module-4) > 1e-9 || l.Text != "SP7K3M9QXY" {
		t.Errorf("corners %v, module %v of %q; want %v, 4", l.Corners, l.Module, l.Text, want)
	}
	for name, row := range map[string]struct {
		corners [4][2]float64
		area    float64
	}{
		"square":             {[4][2]float64{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 100},
		"the other way":      {[4][2]float64{{0, 0}, {0, 10}, {10, 10}, {10, 0}}, 100},
		"a trapezium":        {[4][2]float64{{0, 0}, {10, 0}, {8, 5}, {2, 5}}, 40},
		"far from the place": {[4][2]float64{{1000, 1000}, {1010, 1000}, {1010, 1010}, {1000, 1010}}, 100},
	} {
		if got := (&Label{Corners: row.corners}).area(); math.Abs(got-row.area) > 1e-6 {
			t.Errorf("%s: area %v, want %v", name, got, row.area)
		}
	}
}

// A label counts as in the picture when it has eight pixels around it on each side.
func TestInside(t *testing.T) {
	at := func(x, y float64) *Label {
		return &Label{Corners: [4][2]float64{{x, y}, {x + 20, y}, {x + 20, y + 20}, {x, y + 20}}}
	}
	for _, row := range []struct {
		x, y float64
		want bool
	}{{8, 8, true}, {7.9, 8, false}, {8, 7.9, false}, {72, 52, true}, {72.1, 52, false}, {72, 52.1, false}, {-30, 8, false}} {
		if got := at(row.x, row.y).inside(100, 80); got != row.want {
			t.Errorf("a label of 20 at %v, %v in 100 x 80 is inside: %v, want %v", row.x, row.y, got, row.want)
		}
	}
}

// What is where on a label: symbol, border, what covers it, and nothing beside it.
func TestInk(t *testing.T) {
	label := &texture{
		size: 2, bits: [][]bool{{true, false}, {false, true}},
		box: [4]float64{-4, -4, 6, 6}, border: 0.5,
	}
	check := func(name string, u, v, want float64, there bool) {
		t.Helper()
		if ink, ok := label.ink(u, v); ink != want || ok != there {
			t.Errorf("%s, at %v, %v: %v, %v; want %v, %v", name, u, v, ink, ok, want, there)
		}
	}
	check("first module", 0.5, 0.5, 1, true)
	check("its edge", 0.999, 0, 1, true)
	check("second module", 1, 0.5, 0, true)
	check("the one below", 0.5, 1.5, 0, true)
	check("last module", 1.5, 1.999, 1, true)
	check("quiet zone", 2, 2, 0, true)
	check("left border", -3.6, 1, 1, true)
	check("inside the left border", -3.5, 1, 0, true)
	check("top border", 1, -3.9, 1, true)
	check("right border", 5.6, 1, 1, true)
	check("bottom border", 1, 5.9, 1, true)
	check("beside the paper", -4.1, 1, 0, false)
	check("below the paper", 1, 6, 0, false)
	label.invert = true
	check("light on dark", 0.5, 0.5, 0, true)
	check("its quiet zone", 3, 3, 1, true)
	label.cover, label.covers = [4]float64{0, 0, 1, 1}, true
	check("covered", 0.5, 0.5, 0.6, true)
	check("beside what covers it", 1.5, 0.5, 1, true)
}

// A sheet before the camera: its codes appear as large as is asked for, those that are
// wholly in view are in the truth, and the picture shows them there.
func TestPhotograph(t *testing.T) {
	sheet := Printed{Picture: image.NewGray(image.Rect(0, 0, 600, 400)), Dots: 4}
	for i := range sheet.Picture.Pix {
		sheet.Picture.Pix[i] = 255
	}
	for i := range 6 {
		code := SheetTag{Text: tags()[i%3], X: 10 + 48*float64(i%3), Y: 10 + 48*float64(i/3), Side: 21}
		sheet.Codes = append(sheet.Codes, code)
		for y := range 84 { // a black square where the code is
			for x := range 84 {
				sheet.Picture.Pix[sheet.Picture.PixOffset(int(4*code.X)+x, int(4*code.Y)+y)] = 0
			}
		}
	}
	seen := 0
	for n := range 4 {
		f := Photograph(3, n, sheet, 2, 640, 480)
		if f.Bucket != "sheet" || f.Picture.Rect != image.Rect(0, 0, 640, 480) {
			t.Fatalf("frame %d: %q, %v", n, f.Bucket, f.Picture.Rect)
		}
		for i := range f.Labels {
			l := &f.Labels[i]
			seen++
			if !l.inside(640, 480) {
				t.Errorf("frame %d: %s is not wholly in view", n, l.Text)
			}
			if l.Module < 1.2 || l.Module > 2.8 {
				t.Errorf("frame %d: a module of %.2f pixels, want about 2", n, l.Module)
			}
			x, y := 0.0, 0.0
			for _, c := range l.Corners {
				x, y = x+c[0]/4, y+c[1]/4
			}
			if v := f.Picture.GrayAt(int(x), int(y)).Y; v > 110 {
				t.Errorf("frame %d: the middle of %s is %d, want ink", n, l.Text, v)
			}
		}
		again := Photograph(3, n, sheet, 2, 640, 480)
		if !slices.Equal(f.Picture.Pix, again.Picture.Pix) {
			t.Errorf("frame %d is not the same twice", n)
		}
	}
	if seen < 12 {
		t.Errorf("%d codes in four frames, want 12", seen)
	}
	if near, far := Photograph(3, 0, sheet, 3, 640, 480), Photograph(3, 0, sheet, 1.5, 640, 480); len(near.Labels) > len(far.Labels) {
		t.Errorf("%d codes in view from near and %d from far", len(near.Labels), len(far.Labels))
	}
}

// A film's drawers keep their labels: one that is taken off is gone, and the others stay
// where they are.
func TestFilmLabels(t *testing.T) {
	view := View{Module: 1.5}
	film := NewFilm(2, 640, 400, 2, append(tags(), tags()[1]))
	before, err := film.Frame(0, view)
	if err != nil {
		t.Fatal(err)
	}
	if len(before.Labels) != 4 {
		t.Fatalf("%d labels, want 4", len(before.Labels))
	}
	film.Label(0, "")
	after, err := film.Frame(0, view)
	if err != nil {
		t.Fatal(err)
	}
	if len(after.Labels) != 3 || after.Labels[0] != before.Labels[1] || after.Labels[2] != before.Labels[3] {
		t.Errorf("after the first was taken off: %+v", after.Labels)
	}
	// Rows and columns: the second is right of the first, the third below it.
	a, b, c := before.Labels[0].Corners[0], before.Labels[1].Corners[0], before.Labels[2].Corners[0]
	if right := b[0] - a[0]; math.Abs(right-72*1.5) > 6.1 || math.Abs(b[1]-a[1]) > 6.1 {
		t.Errorf("the second label is %.1f right and %.1f below", right, b[1]-a[1])
	}
	if down := c[1] - a[1]; math.Abs(down-55*1.5) > 6.1 || math.Abs(c[0]-a[0]) > 6.1 {
		t.Errorf("the third label is %.1f below and %.1f right", down, c[0]-a[0])
	}
	moved, err := film.Frame(1, view)
	if err != nil || slices.Equal(moved.Picture.Pix, after.Picture.Pix) {
		t.Errorf("two pictures have the same noise: %v", err)
	}
	blurred, err := film.Frame(0, View{Module: 1.5, Motion: 8})
	if err != nil || slices.Equal(blurred.Picture.Pix, after.Picture.Pix) {
		t.Errorf("a moving camera takes the same picture: %v", err)
	}
	given := tags()
	NewFilm(1, 320, 200, 1, given).Label(0, "SS0000004D")
	if given[0] != tags()[0] {
		t.Error("the tags of the caller were changed")
	}
}
