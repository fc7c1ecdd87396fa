package scan

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// finderSeen is a finder as the scan finds it, of a symbol turned by an angle.
func finderSeen(at Point, module, turn float64) finder {
	f := finder{at: at, size: module, hits: 3}
	sin, cos := math.Sincos(turn)
	for i, d := range directions() {
		f.module[i] = module * chord(cos, sin, -sin, cos, d)
	}
	return f
}

// Three finders make a symbol when they stand as its corners do; not when they are too
// far apart for their size, in a row, of different sizes or colours, or used already.
func TestGroup(t *testing.T) {
	const module, turn = 3.0, 0.3
	sin, cos := math.Sincos(turn)
	side := func(u, v float64) Point {
		u, v = u*module, v*module
		return Point{200 + cos*u - sin*v, 200 + sin*u + cos*v}
	}
	corners := func() []finder {
		return []finder{
			finderSeen(side(finderSpan, 0), module, turn), finderSeen(side(0, 0), module, turn), finderSeen(side(0, finderSpan), module, turn),
		}
	}
	for _, row := range []struct {
		name   string
		change func(f []finder)
		want   int
	}{
		{"as printed", func([]finder) {}, 1},
		{"one far away", func(f []finder) { f[0].at = side(4*finderSpan, 0) }, 0},
		{"in a row", func(f []finder) { f[2].at = side(-finderSpan, 0) }, 0},
		{"one three times as large", func(f []finder) { f[2] = finderSeen(f[2].at, 3*module, turn) }, 0},
		{"one light on dark", func(f []finder) { f[2].inverse = true }, 0},
		{"all light on dark", func(f []finder) { f[0].inverse, f[1].inverse, f[2].inverse = true, true, true }, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := New()
			r.found = corners()
			row.change(r.found)
			r.group(newClock(t.Context(), time.Minute))
			if (len(r.triples) > 0) != (row.want > 0) {
				t.Fatalf("%d symbols, want %d", len(r.triples), row.want)
			}
			// A worse guess may follow.
			if row.want == 1 && (r.triples[0].corner != 1 || r.triples[0].right != 0 || r.triples[0].down != 2) {
				t.Errorf("%+v: the corner is finder 1, to the right of it 0, below it 2", r.triples[0])
			}
		})
	}
	r := New()
	r.found = corners()
	g := gridOf(side(0, 0), side(finderSpan, 0), side(0, finderSpan))
	r.codes = []Code{{Corners: g.corners()}}
	if r.group(newClock(t.Context(), time.Minute)); len(r.triples) != 0 {
		t.Errorf("%d symbols where one is read already, want none", len(r.triples))
	}
}

func TestInside(t *testing.T) {
	g := gridOf(Point{100, 100}, Point{140, 110}, Point{90, 140})
	corners := g.corners()
	for _, row := range []struct {
		u, v float64
		want bool
	}{{10, 10, true}, {0.1, 0.1, true}, {20.9, 20.9, true}, {-0.1, 10, false}, {10, 21.1, false}, {30, 30, false}} {
		if got := inside(&corners, g.at(row.u, row.v)); got != row.want {
			t.Errorf("module %v, %v: inside %v, want %v", row.u, row.v, got, row.want)
		}
	}
}

// Each symbol is given once, in reading order, and in the picture's own coordinates.
func TestCollect(t *testing.T) {
	square := func(text string, x, y float64) Code {
		return Code{Text: text, Tag: IsTag(text), Corners: [4]Point{{x, y}, {x + 40, y}, {x + 40, y + 40}, {x, y + 40}}}
	}
	tag := madeTag('P', 1)
	r := New()
	r.codes = []Code{square(tag, 100, 80), square("below", 10, 200), square(tag, 103, 82), square("first", 10, 20), square(tag, 300, 80)}
	var got []string
	for _, c := range r.collect(image.Pt(5, 7), false) {
		got = append(got, c.Text)
	}
	if want := []string{"first", tag, tag, "below"}; !slices.Equal(got, want) {
		t.Errorf("codes %q, want %q", got, want)
	}
	tags := r.collect(image.Pt(5, 7), true)
	if len(tags) != 2 || tags[0].Corners[0] != (Point{105, 87}) {
		t.Errorf("tags only: %+v, want two, the first at 105, 87", tags)
	}
}

// The light and the match that come out of sums are those that come out of the samples
// one by one.
func TestFitLight(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	samples := New().samples.fixed
	read := make([]reading, len(samples))
	const middle, right, down, depth = 120.0, 1.5, -0.8, 40.0
	for i, s := range samples {
		read[i].value = middle + right*s.u + down*s.v - depth*s.want + 6*random.NormFloat64()
	}
	f := fitLight(read, samples)
	if math.Abs(f.light[0]-middle) > 2 || math.Abs(f.light[1]-right) > 0.2 || math.Abs(f.light[2]-down) > 0.2 || math.Abs(f.depth-depth) > 2 {
		t.Errorf("light %.2f, depth %.2f, want %v %v %v and %v", f.light, f.depth, middle, right, down, depth)
	}
	var n, x, y, xx, xy, yy float64
	for i, s := range samples {
		a, b, w := -s.want, read[i].value-f.light[0]-f.light[1]*s.u-f.light[2]*s.v, s.weight
		n, x, y, xx, xy, yy = n+w, x+w*a, y+w*b, xx+w*a*a, xy+w*a*b, yy+w*b*b
	}
	if want := (xy - x*y/n) / math.Sqrt((xx-x*x/n)*(yy-y*y/n)); math.Abs(f.match-want) > 1e-9 {
		t.Errorf("match %.12f, want %.12f", f.match, want)
	}
	if f := fitLight(make([]reading, len(samples)), samples); f.match != 0 {
		t.Errorf("a black picture matches by %v, want 0", f.match)
	}
}

// Sharpening leaves a flat part and its edge pixels alone, and deepens a step.
func TestSharpened(t *testing.T) {
	var p plane
	p.fill(painted(9, 5, func(x, _ int) byte {
		if x < 4 {
			return 100
		}
		return 120
	}))
	out := p.sharpened()
	for x, want := range []byte{100, 100, 100, 95, 125, 120, 120, 120, 120} {
		if got := out.pix[2*out.w+x]; got != want {
			t.Errorf("pixel %d is %d, want %d", x, got, want)
		}
	}
	if p.pix[2*p.w+3] != 100 {
		t.Error("the picture itself was sharpened")
	}
}

func TestHowSays(t *testing.T) {
	if Read.String() != "read" || Recognised.String() != "recognised" {
		t.Errorf("%v and %v", Read, Recognised)
	}
}
