package scan

import (
	"context"
	"errors"
	"image"
	"image/color"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/detector"
)

// codeAt is a code whose symbol is a square.
func codeAt(text string, x, y, side float64) Code {
	return Code{Text: text, Corners: [4]Point{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}}
}

// Two codes are one symbol where they say the same and the middle of one is within a
// quarter of the other's diagonal.
func TestSameSymbol(t *testing.T) {
	a := codeAt("A", 100, 100, 40) // a quarter of its diagonal is 14.1
	for _, row := range []struct {
		name string
		b    Code
		want bool
	}{
		{"itself", a, true},
		{"another text", codeAt("B", 100, 100, 40), false},
		{"a little aside", codeAt("A", 110, 110, 40), true},
		{"just near enough", codeAt("A", 114.1, 100, 40), true},
		{"just too far", codeAt("A", 114.2, 100, 40), false},
		{"as far the other way", codeAt("A", 100, 85.9, 40), true},
		{"and farther", codeAt("A", 100, 85.8, 40), false},
	} {
		if got := sameSymbol(a, row.b); got != row.want {
			t.Errorf("%s: the same %v, want %v", row.name, got, row.want)
		}
	}
	if got := a.middle(); got != (Point{120, 120}) {
		t.Errorf("the middle is %v, want 120, 120", got)
	}
}

// Codes come from top to bottom, and those of a row from left to right.
func TestCollectOrder(t *testing.T) {
	r := New()
	r.codes = []Code{codeAt("d", 10, 90, 20), codeAt("c", 200, 10, 20), codeAt("a", 10, 10, 20), codeAt("b", 90, 10, 20)}
	got := ""
	for _, c := range r.collect(image.Point{}, false) {
		got += c.Text
	}
	if got != "abcd" {
		t.Errorf("in the order %q, want abcd", got)
	}
	if len(r.collect(image.Point{}, true)) != 0 {
		t.Error("codes that are no tags are given with tags only")
	}
}

func TestStagesTotal(t *testing.T) {
	if got := (Stages{1, 2, 4, 8, 16, 32}).Total(); got != 63 {
		t.Errorf("the sum of all stages is %d, want 63", got)
	}
}

// A clock that was late stays late.
func TestClock(t *testing.T) {
	c := newClock(context.Background(), time.Hour)
	if c.expired() || c.timedOut {
		t.Error("an hour is over at once")
	}
	c.end = time.Now().Add(-time.Nanosecond)
	if !c.expired() || !c.timedOut {
		t.Error("the end is not noticed")
	}
	c.end = time.Now().Add(time.Hour)
	if !c.expired() {
		t.Error("late, and then not any more")
	}
	ctx, cancel := context.WithCancel(context.Background())
	c = newClock(ctx, time.Hour)
	cancel()
	if !c.expired() {
		t.Error("the end of its context is not noticed")
	}
	var stage time.Duration
	c.begun = time.Now().Add(-time.Second)
	if c.stop(&stage); stage < time.Second || stage > time.Minute {
		t.Errorf("a stage of a second took %v", stage)
	}
	if c.start(); time.Since(c.begun) > time.Minute {
		t.Error("a stage begins before it was started")
	}
}

// The size of a picture is checked before anything else is done.
func TestCheckSize(t *testing.T) {
	sized := func(w, h int) image.Image { return sizedPicture{image.Rect(0, 0, w, h)} }
	for _, row := range []struct {
		picture image.Image
		want    string
	}{
		{sized(1, 1), ""},
		{sized(MaxPixels, 1), ""},
		{sized(5000, 5000), ""},
		{sized(MaxPixels+1, 1), "over the limit of 25 million"},
		{sized(5001, 5000), "5001 x 5000 pixels is over the limit"},
		{sized(1<<40, 1<<40), "over the limit"},
		{sized(0, 5), "is empty (0 x 5 pixels)"},
		{sized(5, 0), "is empty (5 x 0 pixels)"},
		{nil, "no picture given"},
	} {
		err := checkSize(row.picture)
		if row.want == "" != (err == nil) || err != nil && !strings.Contains(err.Error(), row.want) {
			t.Errorf("%v: %v, want %q", row.picture, err, row.want)
		}
	}
}

// sizedPicture has a size and no memory.
type sizedPicture struct{ size image.Rectangle }

func (s sizedPicture) Bounds() image.Rectangle { return s.size }
func (s sizedPicture) ColorModel() color.Model { return color.GrayModel }
func (s sizedPicture) At(int, int) color.Color { return color.Gray{} }

// Why a file cannot be opened is said in words of what to do.
func TestOpenReason(t *testing.T) {
	for _, row := range []struct {
		err  error
		want string
	}{
		{fs.ErrNotExist, "there is no such file"},
		{&os.PathError{Op: "open", Path: "x", Err: fs.ErrPermission}, "you are not allowed to read it"},
		{io.ErrUnexpectedEOF, "cannot be opened"},
	} {
		if got := openReason(row.err); got != row.want {
			t.Errorf("%v: %q, want %q", row.err, got, row.want)
		}
	}
	missing := filepath.Join(t.TempDir(), "none.png")
	if _, err := Open(missing); err == nil || err.Error() != `picture "`+missing+`": there is no such file` {
		t.Errorf("a missing file: %v", err)
	}
	cause := errors.New("cause")
	if err := (&PictureError{Reason: "is torn", Err: cause}); err.Error() != "picture: is torn" || !errors.Is(err, cause) {
		t.Errorf("without a file: %q, of %v", err.Error(), errors.Unwrap(err))
	}
}

// A reader that fails, and one that goes on for ever, are refused.
func TestDecodeReaders(t *testing.T) {
	broken := errors.New("the cable was pulled")
	if _, err := Decode(failingReader{broken}); !errors.Is(err, broken) || !strings.Contains(err.Error(), "cannot be read to its end") {
		t.Errorf("a reader that fails: %v", err)
	}
	if _, err := Decode(endless{}); err == nil || !strings.Contains(err.Error(), "is larger than 64 MB; save it smaller") {
		t.Errorf("an endless reader: %v", err)
	}
}

type failingReader struct{ err error }

func (f failingReader) Read([]byte) (int, error) { return 0, f.err }

type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

// Parts of a length that together cover the whole, by hand.
func TestDivideExact(t *testing.T) {
	for _, row := range []struct {
		n, length, overlap int
		want               []int
	}{
		{100, 100, 40, []int{0}},
		{99, 100, 40, []int{0}},
		{101, 100, 40, []int{0, 1}},
		{160, 100, 40, []int{0, 60}},
		{161, 100, 40, []int{0, 30, 61}},
		{220, 100, 40, []int{0, 60, 120}},
	} {
		got := divide(row.n, row.length, row.overlap)
		if len(got) != len(row.want) {
			t.Errorf("%d in parts of %d sharing %d: %v, want %v", row.n, row.length, row.overlap, got, row.want)
			continue
		}
		for i := range got {
			if got[i] != row.want[i] {
				t.Errorf("%d in parts of %d sharing %d: %v, want %v", row.n, row.length, row.overlap, got, row.want)
			}
		}
	}
}

// A large picture is looked at in parts that cover it, those first that hold the most
// finders of no tag; a small one whole.
func TestPartsOf(t *testing.T) {
	r := New()
	small := &plane{w: 2000, h: 1500}
	if got := r.partsOf(small, 1); len(got) != 1 || got[0] != image.Rect(0, 0, 2000, 1500) {
		t.Errorf("a picture of three million pixels is looked at in %v, want whole", got)
	}
	large := &plane{w: 4000, h: 1600}
	// At scale 2, finders in pixels of the full size: two in the last part, one used.
	r.found = []finder{
		{at: Point{7900, 100}},
		{at: Point{7800, 3000}},
		{at: Point{4000, 100}},
		{at: Point{10, 10}, used: true},
		{at: Point{20, 10}, used: true},
		{at: Point{30, 10}, used: true},
	}
	parts := r.partsOf(large, 2)
	if len(parts) != 3 {
		t.Fatalf("%d parts %v, want 3 beside each other", len(parts), parts)
	}
	if !image.Pt(3950, 50).In(parts[0]) || !image.Pt(2000, 50).In(parts[1]) || !image.Pt(5, 5).In(parts[2]) {
		t.Errorf("in the order %v, want that with two finders, that with one, that with none", parts)
	}
	covered := image.Rectangle{}
	for _, p := range parts {
		covered = covered.Union(p)
		if p.Dy() != 1600 || p.Dx() > 1733 {
			t.Errorf("part %v is not as high as the picture, or too wide", p)
		}
	}
	if covered != image.Rect(0, 0, 4000, 1600) {
		t.Errorf("the parts cover %v", covered)
	}
}

// A symbol is painted over to its edges with the brightness of its paper, and nothing
// beside it is.
func TestPaintOver(t *testing.T) {
	var p plane
	p.fill(painted(100, 100, func(x, y int) byte {
		if x >= 40 && x < 60 && y >= 30 && y < 50 {
			return 10 // ink
		}
		return 180
	}))
	before := append([]byte(nil), p.pix...)
	corners := [4]Point{{80, 60}, {120, 60}, {120, 100}, {80, 100}} // at twice the size
	p.paintOver(&corners, 2)
	for i, v := range p.pix {
		x, y := i%100, i/100
		inside := x >= 40 && x < 60 && y >= 30 && y < 50
		if inside && v != 180 {
			t.Fatalf("pixel %d, %d is %d, want paper", x, y, v)
		}
		if (x < 38 || x > 62 || y < 28 || y > 52) && v != before[i] {
			t.Fatalf("pixel %d, %d beside the symbol is %d, was %d", x, y, v, before[i])
		}
	}
	// A symbol that leaves the picture is painted as far as there is picture.
	corners = [4]Point{{180, 180}, {260, 180}, {260, 260}, {180, 260}}
	p.paintOver(&corners, 2)
	corners = [4]Point{{-60, -60}, {-20, -60}, {-20, -20}, {-60, -20}}
	p.paintOver(&corners, 2)
}

// Corners from the middles of three finders: 3.5 modules further out, the fourth by a
// parallelogram.
func TestGeneralCorners(t *testing.T) {
	const module = 4.0
	pattern := func(x, y float64) gozxing.ResultPoint { return detector.NewFinderPattern1(x, y, module) }
	points := []gozxing.ResultPoint{pattern(14, 70), pattern(14, 14), pattern(70, 14)}
	near(t, generalCorners(points), [4]Point{{0, 0}, {84, 0}, {84, 84}, {0, 84}}, 1e-9)
	// Turned by a quarter.
	points = []gozxing.ResultPoint{pattern(14, 14), pattern(70, 14), pattern(70, 70)}
	near(t, generalCorners(points), [4]Point{{84, 0}, {84, 84}, {0, 84}, {0, 0}}, 1e-9)
	// Without a size of its modules, or with all in one place, the middles are all there is.
	plain := []gozxing.ResultPoint{gozxing.NewResultPoint(14, 70), gozxing.NewResultPoint(14, 14), gozxing.NewResultPoint(70, 14)}
	near(t, generalCorners(plain), [4]Point{{14, 14}, {70, 14}, {70, 70}, {14, 70}}, 1e-9)
	same := []gozxing.ResultPoint{pattern(5, 5), pattern(5, 5), pattern(5, 5)}
	for _, c := range generalCorners(same) {
		if math.IsNaN(c.X) || math.IsNaN(c.Y) {
			t.Errorf("three finders in one place give the corner %v", c)
		}
	}
	if got := generalCorners(points[:2]); got != ([4]Point{}) {
		t.Errorf("two finders give %v", got)
	}
}

// Too little to hold a code, and a picture of one brightness, hold none.
func TestGeneralNothing(t *testing.T) {
	for _, p := range []*plane{{w: 1, h: 1, pix: []byte{9}}, {w: 0, h: 0}, {w: 200, h: 200, pix: make([]byte, 40000)}} {
		g := generalReader{clock: newClock(t.Context(), time.Minute)}
		g.read(p, 1, Point{})
		if len(g.codes) != 0 || g.clock.timedOut {
			t.Errorf("%d x %d of one brightness: %d codes, late %v", p.w, p.h, len(g.codes), g.clock.timedOut)
		}
	}
}

// A crowd in a picture too small to be divided is given up, and that is said.
func TestReadPartsGivesUp(t *testing.T) {
	for _, row := range []struct {
		w, h int
		late bool
	}{{239, 400, true}, {400, 239, true}, {240, 240, false}} {
		g := generalReader{clock: newClock(t.Context(), time.Minute)}
		p := &plane{w: row.w, h: row.h, pix: make([]byte, row.w*row.h)}
		if g.readParts(p, 1, Point{}); g.clock.timedOut != row.late {
			t.Errorf("%d x %d: given up %v, want %v", row.w, row.h, g.clock.timedOut, row.late)
		}
	}
}
