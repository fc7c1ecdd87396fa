package scan

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestGridPlaces(t *testing.T) {
	g := gridOf(Point{35, 35}, Point{175, 35}, Point{35, 175}) // ten pixels a module
	for _, row := range []struct {
		u, v float64
		want Point
	}{{0, 0, Point{0, 0}}, {21, 0, Point{210, 0}}, {21, 21, Point{210, 210}}, {0, 21, Point{0, 210}}, {3.5, 17.5, Point{35, 175}}} {
		if got := g.at(row.u, row.v); math.Hypot(got.X-row.want.X, got.Y-row.want.Y) > 1e-9 {
			t.Errorf("at(%v, %v) = %v, want %v", row.u, row.v, got, row.want)
		}
	}
	if got := g.module(); math.Abs(got-10) > 1e-9 {
		t.Errorf("module: %v, want 10", got)
	}
}

func TestGridSane(t *testing.T) {
	good := grid{3, 0, 100, 0, 3, 100, 0, 0}
	for _, row := range []struct {
		name   string
		change func(g *grid)
		want   bool
	}{
		{"square", func(*grid) {}, true},
		{"mirrored", func(g *grid) { g[0] = -3 }, false},
		{"flat", func(g *grid) { g[4] = 0.1 }, false},
		{"too small", func(g *grid) { g[0], g[4] = 0.5, 0.5 }, false},
		{"through the horizon", func(g *grid) { g[6] = 0.1 }, false},
		{"not a number", func(g *grid) { g[2] = math.NaN() }, false},
		{"not a number in the shape", func(g *grid) { g[0] = math.NaN() }, false},
	} {
		g := good
		row.change(&g)
		if got := g.plausible(); got != row.want {
			t.Errorf("%s: sane %v, want %v", row.name, got, row.want)
		}
	}
}

// From finders up to a third of a module off, the fit on a webcam's picture finds
// the corners to a third, and on average to a tenth.
func TestRefine(t *testing.T) {
	frame := wallOf(t, false)
	r := New()
	r.pyramid.fill(frame.Picture)
	r.pyramid.build(r.pyramid.n - 1)
	random := rand.New(rand.NewPCG(1, 2))
	mean := 0.0
	for _, l := range frame.Labels {
		// Without perspective, which is small on one label.
		place := func(u, v float64) Point {
			at := func(i int) float64 {
				p, q, s := l.Corners[0][i], l.Corners[1][i], l.Corners[3][i]
				return p + (q-p)*u/symbolSize + (s-p)*v/symbolSize + 0.3*l.Module*(2*random.Float64()-1)
			}
			return Point{at(0), at(1)}
		}
		g := gridOf(place(3.5, 3.5), place(17.5, 3.5), place(3.5, 17.5))
		f := g.refine(r.pyramid.level(g.module()), r.samples.fixed, effort{steps: 8, tolerance: settledStep})
		if f.match < 0.85 {
			t.Errorf("%q: match %.2f, want 0.85", l.Text, f.match)
		}
		for i, c := range g.corners() {
			off := math.Hypot(c.X-l.Corners[i][0], c.Y-l.Corners[i][1]) / l.Module
			mean += off / float64(4*len(frame.Labels))
			if off > 0.6 {
				t.Errorf("%q: corner %d is %.2f modules off, want 0.6 at most", l.Text, i, off)
			}
		}
	}
	if mean > 0.2 {
		t.Errorf("corners are %.2f modules off on average, want 0.2 at most", mean)
	}
}

func TestCholesky(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	var a [8][8]float64
	var x, b [8]float64
	for range 20 {
		var row [8]float64
		for i := range row {
			row[i] = random.NormFloat64()
		}
		for i := range 8 {
			for j := range 8 {
				a[i][j] += row[i] * row[j]
			}
		}
	}
	for i := range x {
		x[i] = float64(i) - 3
	}
	for i := range 8 {
		for j := range 8 {
			b[i] += a[i][j] * x[j]
		}
	}
	got, ok := cholesky(&a, b)
	for i := range x {
		if !ok || math.Abs(got[i]-x[i]) > 1e-9 {
			t.Errorf("unknown %d: %v, want %v", i, got[i], x[i])
		}
	}
	if _, ok := cholesky(&[8][8]float64{}, b); ok {
		t.Error("eight equations of nothing: solved")
	}
	if _, ok := solve4(&[4][5]float64{}); ok {
		t.Error("four equations of nothing: solved")
	}
}

// Blur mixes each module with its neighbours; sharpening takes it out again.
func TestSharpen(t *testing.T) {
	tables := theTables()
	s := readAs(tables, madeTag('P', 3), 2)
	var blurred, back soft
	for row := range s {
		for col := range s[row] {
			x := s.around(row, col)
			blurred[row][col] = 0.5*x[0] + 0.09*x[1] + 0.09*x[2] + 0.035*x[3]
		}
	}
	rest := sharpen(&blurred, &back, tables.fixed)
	before, after := 0.0, 0.0
	for _, c := range tables.data {
		before += math.Abs(blurred.of(c) - s.of(c))
		after += math.Abs(back.of(c) - s.of(c))
	}
	if after > before/2 || rest > 0.1 {
		t.Errorf("mean error of a module %.3f, before %.3f; of the known ones %.3f squared", after/symbolBits, before/symbolBits, rest)
	}
}

func TestBestMasks(t *testing.T) {
	tables := theTables()
	for mask := range maskCount {
		s := readAs(tables, madeTag('P', 3), mask)
		order, match := tables.bestMasks(&s)
		if order[0] != mask || match[mask] < 0.999 || match[order[1]] > 0.7 {
			t.Errorf("mask %d: best %v of %v", mask, order, match)
		}
	}
}
