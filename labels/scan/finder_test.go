package scan

import (
	"context"
	"image"
	"math"
	"slices"
	"testing"
	"time"
)

func TestRuns(t *testing.T) {
	for _, row := range []struct {
		name string
		line []float32
		want []float32
		fall []bool
	}{
		{"empty", nil, nil, nil},
		{"flat", []float32{9, 9, 9}, nil, nil},
		{"small changes", []float32{100, 103, 99, 101}, nil, nil},
		{"one edge", []float32{200, 200, 100, 100}, []float32{1.5}, []bool{true}},
		{"slanting edge", []float32{0, 0, 30, 60, 90, 90}, []float32{2.5}, []bool{false}},
		{"bar", []float32{200, 200, 0, 0, 200, 200}, []float32{1.5, 3.5}, []bool{true, false}},
		{"narrow blurred bar", []float32{200, 200, 120, 200, 200}, []float32{1.5, 2.5}, []bool{true, false}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := runs{swing: 10}
			r.scan(row.line)
			if !slices.Equal(r.edge, row.want) || !slices.Equal(r.fall, row.fall) {
				t.Errorf("scan(%v): edges %v falling %v, want %v %v", row.line, r.edge, r.fall, row.want, row.fall)
			}
		})
	}
}

// look runs the finder scan on a picture.
func look(picture image.Image) *Reader {
	r := New()
	r.pyramid.fill(picture)
	r.pyramid.build(r.pyramid.n - 1)
	clock := newClock(context.Background(), time.Minute)
	r.findFinders(clock)
	r.group(clock)
	return r
}

// From two to forty pixels a module, dark on light and light on dark, all three
// finders are found where they are, and grouped.
func TestFindFinders(t *testing.T) {
	for _, module := range []int{2, 3, 5, 8, 13, 24, 40} {
		symbol := printedSymbol(t, madeTag('P', 99), 1, module)
		for _, inverse := range []bool{false, true} {
			paper := onWhite(symbol.Rect.Dx()+40, symbol.Rect.Dy()+40, map[image.Point]image.Image{{20, 20}: symbol})
			if inverse {
				for i := range paper.Pix {
					if i%4 != 3 {
						paper.Pix[i] = 255 - paper.Pix[i]
					}
				}
			}
			r := look(paper)
			if len(r.triples) == 0 {
				t.Errorf("module %d, inverse %v: no group among %d finders", module, inverse, len(r.found))
				continue
			}
			best := r.triples[0]
			for i, want := range [3]Point{{3.5, 3.5}, {17.5, 3.5}, {3.5, 17.5}} {
				f := r.found[[3]int{best.corner, best.right, best.down}[i]]
				x, y := 20+float64(module)*(4+want.X), 20+float64(module)*(4+want.Y)
				if d := math.Hypot(f.at.X-x, f.at.Y-y); d > 0.3*float64(module) || f.inverse != inverse {
					t.Errorf("module %d, inverse %v: finder %d at %.1f, %.2f pixels off", module, inverse, i, f.at, d)
				}
			}
		}
	}
}

func TestNoise(t *testing.T) {
	for _, sigma := range []float64{0, 4, 20} {
		var p plane
		p.resize(640, 480)
		random := newNoise(sigma)
		for i := range p.pix {
			p.pix[i] = byte(math.Max(0, math.Min(255, 128+random())))
		}
		if got := p.noise(); math.Abs(got-sigma) > 0.1*sigma+0.1 {
			t.Errorf("noise of %v: %.2f", sigma, got)
		}
	}
	var tiny plane
	tiny.resize(2, 2)
	if got := tiny.noise(); got != 0 {
		t.Errorf("noise of 2 x 2 pixels: %v, want 0", got)
	}
}

func TestHalve(t *testing.T) {
	p := plane{w: 5, h: 3, pix: []byte{0, 4, 8, 8, 99, 0, 4, 8, 8, 99, 77, 77, 77, 77, 77}}
	var q plane
	q.halve(&p)
	if q.w != 2 || q.h != 1 || !slices.Equal(q.pix, []byte{2, 8}) {
		t.Errorf("halve: %+v, want 2 x 1 of 2 and 8", q)
	}
}

// The brightness between pixels, and outside the picture.
func TestSlope(t *testing.T) {
	p := plane{w: 3, h: 2, pix: []byte{0, 10, 20, 100, 110, 120}}
	for _, row := range []struct{ x, y, want float64 }{
		{0.5, 0.5, 0}, {1, 0.5, 5}, {0.5, 1, 50}, {1, 1, 55}, {2.5, 1.5, 120}, {-9, -9, 0}, {99, 99, 120}, {math.NaN(), 0, 0},
	} {
		got, dx, dy := p.slope(row.x, row.y)
		if math.Abs(got-row.want) > 0.01 || math.Abs(dx-10) > 0.01 || math.Abs(dy-100) > 0.01 {
			t.Errorf("slope(%v, %v) = %v, %v, %v, want %v, 10, 100", row.x, row.y, got, dx, dy, row.want)
		}
	}
}

// A finder alone shows the slant of the symbol it belongs to.
func TestShapeFinder(t *testing.T) {
	r := look(onWhite(200, 200, map[image.Point]image.Image{{20, 30}: printedSymbol(t, madeTag('P', 99), 1, 4)}))
	if len(r.found) < 3 {
		t.Fatalf("%d finders, want 3", len(r.found))
	}
	for i := range r.found[:3] {
		f := &r.found[i]
		r.shapeFinder(f)
		if f.match < 0.95 || math.Abs(f.shape.module()-4) > 0.1 {
			t.Errorf("finder at %.1f: match %.2f, module %.2f, want 0.95 and 4", f.at, f.match, f.shape.module())
		}
	}
}

// Blocks in which nothing stands out are left out, and those on known symbols.
func TestBusy(t *testing.T) {
	r := New()
	r.pyramid.fill(onWhite(320, 160, map[image.Point]image.Image{{160, 32}: printedSymbol(t, madeTag('P', 1), 1, 3)}))
	r.pyramid.build(r.pyramid.n - 1)
	count := func() (n int) {
		for y := 0; y < 160; y += 1 << blockShift {
			for x, c := range r.busy.row(y) {
				if c > 0 {
					n++
					if x < 10 {
						t.Errorf("block %d at row %d is busy, and there is nothing", x, y)
					}
				}
			}
		}
		return n
	}
	r.busy.find(&r.pyramid, 0, 4)
	before := count()
	r.busy.ignore([]Code{{Corners: [4]Point{{172, 44}, {235, 44}, {235, 107}, {172, 107}}}})
	if after := count(); before < 16 || after > before-9 {
		t.Errorf("%d busy blocks, %d beside the symbol, want 16 or more and at least 9 fewer", before, after)
	}
}
