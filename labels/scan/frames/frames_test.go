package frames

import (
	"bytes"
	"math"
	"slices"
	"testing"
)

func tags() []string { return []string{"SP0000001A", "SB0000002B", "SC0000003C"} }

// The same seed gives the same picture, byte for byte; another gives another.
func TestFramesAreFixed(t *testing.T) {
	make1 := func(seed uint64, n int) Frame {
		f, err := Single(seed, n, 320, 240, tags())
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	for n := range len(Buckets()) {
		a, b, c := make1(1, n), make1(1, n), make1(2, n)
		if !bytes.Equal(a.Picture.Pix, b.Picture.Pix) || a.Labels[0].Text != b.Labels[0].Text {
			t.Errorf("frame %d (%s): not the same twice", n, a.Bucket)
		}
		if bytes.Equal(a.Picture.Pix, c.Picture.Pix) {
			t.Errorf("frame %d (%s): the same with another seed", n, a.Bucket)
		}
	}
}

// The true corners lie where the picture has them: inside the corner module it
// is dark, outside it is light.
func TestCornersAreTrue(t *testing.T) {
	for n := range 40 {
		f, err := Single(3, n*len(Buckets()), 640, 360, tags()) // the plain ones
		if err != nil {
			t.Fatal(err)
		}
		l := f.Labels[0]
		var m [2]float64
		for _, c := range l.Corners {
			m[0], m[1] = m[0]+c[0]/4, m[1]+c[1]/4
		}
		at := func(c [2]float64, modules float64) int {
			d := math.Hypot(c[0]-m[0], c[1]-m[1])
			k := 1 + modules*l.Module*math.Sqrt2/d
			return int(f.Picture.GrayAt(int(m[0]+(c[0]-m[0])*k), int(m[1]+(c[1]-m[1])*k)).Y)
		}
		for i, c := range l.Corners {
			if i == 2 {
				continue // no finder there
			}
			if dark, light := at(c, -0.5), at(c, 1.5); light-dark < 40 {
				t.Errorf("frame %d, module %.2f: corner %d: %d inside, %d outside, want 40 lighter outside", n, l.Module, i, dark, light)
			}
		}
	}
}

// The size asked for is the size that a module has, before tilt.
func TestModuleSize(t *testing.T) {
	sizes := PixelsPerModule()
	for i, want := range sizes {
		f, err := Single(4, i*len(Buckets()), 640, 360, tags())
		if err != nil {
			t.Fatal(err)
		}
		if got := f.Labels[0].Module; got > want*1.05 || got < want*0.9 {
			t.Errorf("size %v: module %.3f", want, got)
		}
	}
}

func TestWallsAndEmpty(t *testing.T) {
	small, err := Wall(1, 2, false, 640, 360, tags())
	if err != nil {
		t.Fatal(err)
	}
	large, err := Wall(1, 2, false, 960, 540, tags())
	if err != nil {
		t.Fatal(err)
	}
	if n := len(small.Labels); n < 12 || n > 40 || n != len(large.Labels) {
		t.Errorf("walls of %d and %d labels, want the same number from 12 to 40", n, len(large.Labels))
	}
	for i, l := range small.Labels {
		if got := large.Labels[i].Module / l.Module; math.Abs(got-1.5) > 0.01 {
			t.Errorf("label %d is %.3f times as large in a picture 1.5 times as large", i, got)
		}
	}
	kinds := map[string]bool{}
	for n := range 5 {
		f, err := Empty(1, n, 320, 240)
		if err != nil {
			t.Fatal(err)
		}
		kinds[f.Bucket] = true
		if len(f.Labels) != 0 {
			t.Errorf("empty frame %d holds %d tags", n, len(f.Labels))
		}
		if f.Bucket == "foreign" && len(f.Foreign) == 0 {
			t.Error("a frame of foreign codes without one")
		}
	}
	if len(kinds) != 5 {
		t.Errorf("kinds of empty frames: %v, want five", kinds)
	}
}

func TestHomography(t *testing.T) {
	c := newCamera(1280, 720)
	m := c.project(pose{module: 3, at: [2]float64{400, 300}, rotation: 0.3, tilt: 0.7, axis: 1}, 10.5, 10.5)
	if x, y := m.at(10.5, 10.5); math.Abs(x-400) > 1e-9 || math.Abs(y-300) > 1e-9 {
		t.Errorf("the origin appears at %v, %v, want 400, 300", x, y)
	}
	x, y := m.at(3, 17)
	if u, v := m.inverse().at(x, y); math.Abs(u-3) > 1e-9 || math.Abs(v-17) > 1e-9 {
		t.Errorf("there and back: %v, %v, want 3, 17", u, v)
	}
}

// A film's labels are where it says, and those that were changed or taken off say so.
func TestFilm(t *testing.T) {
	film := NewFilm(1, 320, 200, 2, append(tags(), tags()[0]))
	film.Label(1, "")
	film.Label(2, "SS0000004D")
	f, err := film.Frame(0, View{Module: 1.5, Shift: [2]float64{40, 0}})
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, l := range f.Labels {
		texts = append(texts, l.Text)
	}
	if want := []string{"SP0000001A", "SS0000004D", "SP0000001A"}; !slices.Equal(texts, want) {
		t.Fatalf("labels %q, want %q", texts, want)
	}
	still, err := film.Frame(0, View{Module: 1.5})
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range f.Labels {
		if dx := l.Corners[0][0] - still.Labels[i].Corners[0][0]; math.Abs(dx-40) > 0.01 {
			t.Errorf("label %d is %.2f pixels aside, want 40", i, dx)
		}
	}
	if out, err := film.Frame(0, View{Module: 1.5, Shift: [2]float64{-90, 0}}); err != nil || len(out.Labels) >= 3 {
		t.Errorf("%d labels while half the cabinet is outside, %v", len(out.Labels), err)
	}
}
