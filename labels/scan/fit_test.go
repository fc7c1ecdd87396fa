package scan

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// A grid is accepted up to a tilt, a perspective and a smallness, and not beyond.
func TestGridSaneLimits(t *testing.T) {
	for _, row := range []struct {
		name string
		g    grid
		want bool
	}{
		{"a quarter as high as wide", grid{4, 0, 0, 0, 1, 0, 0, 0}, true},
		{"less than 0.24 as high as wide", grid{4, 0, 0, 0, 0.95, 0, 0, 0}, false},
		{"a quarter as wide as high", grid{1, 0, 0, 0, 4, 0, 0, 0}, true},
		{"narrower", grid{0.95, 0, 0, 0, 4, 0, 0, 0}, false},
		{"sheared", grid{3, 3, 0, 0, 3, 0, 0, 0}, true},
		{"sheared far", grid{3, 12, 0, 0, 3, 0, 0, 0}, false},
		{"turned by half", grid{-3, 0, 0, 0, -3, 0, 0, 0}, true},
		{"mirrored down", grid{3, 0, 0, 0, -3, 0, 0, 0}, false},
		{"0.8 pixels a module", grid{0.8, 0, 0, 0, 0.8, 0, 0, 0}, true},
		{"0.77 pixels a module", grid{0.77, 0, 0, 0, 0.77, 0, 0, 0}, false},
		{"perspective across", grid{3, 0, 0, 0, 3, 0, 0.056, 0}, true},
		{"more perspective across", grid{3, 0, 0, 0, 3, 0, 0.058, 0}, false},
		{"perspective down", grid{3, 0, 0, 0, 3, 0, 0, -0.056}, true},
		{"more perspective down", grid{3, 0, 0, 0, 3, 0, 0, -0.058}, false},
		{"perspective both ways", grid{3, 0, 0, 0, 3, 0, 0.03, -0.03}, false},
		{"no place", grid{3, 0, 0, 0, 3, math.NaN(), 0, 0}, false},
		{"nothing", grid{}, false},
	} {
		if got := row.g.plausible(); got != row.want {
			t.Errorf("%s: sane %v, want %v", row.name, got, row.want)
		}
	}
}

// Where modules lie under perspective, by the formula on paper.
func TestGridPerspective(t *testing.T) {
	g := grid{4, 1, 100, -1, 5, 200, 0.01, -0.02}
	for _, row := range []struct{ u, v float64 }{{10.5, 10.5}, {0, 0}, {21, 0}, {0, 21}, {3.5, 17.5}} {
		u, v := row.u-10.5, row.v-10.5
		d := 1 + 0.01*u - 0.02*v
		want := Point{100 + (4*u+1*v)/d, 200 + (-1*u+5*v)/d}
		if got := g.at(row.u, row.v); math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
			t.Errorf("module %v, %v lies at %v, want %v", row.u, row.v, got, want)
		}
	}
	if got, want := g.module(), math.Sqrt(21); math.Abs(got-want) > 1e-12 {
		t.Errorf("a module is %v pixels, want %v", got, want)
	}
	corners := g.corners()
	for i, at := range [4]Point{{0, 0}, {21, 0}, {21, 21}, {0, 21}} {
		if want := g.at(at.X, at.Y); corners[i] != want {
			t.Errorf("corner %d is %v, want %v", i, corners[i], want)
		}
	}
}

// The parallelogram of three finder middles, slanted and turned.
func TestGridOf(t *testing.T) {
	corner, right, down := Point{30, 40}, Point{72, 54}, Point{23, 89}
	g := gridOf(corner, right, down)
	for _, row := range []struct {
		u, v float64
		want Point
	}{{3.5, 3.5, corner}, {17.5, 3.5, right}, {3.5, 17.5, down}, {17.5, 17.5, Point{65, 103}}, {10.5, 10.5, Point{47.5, 71.5}}} {
		if got := g.at(row.u, row.v); math.Hypot(got.X-row.want.X, got.Y-row.want.Y) > 1e-9 {
			t.Errorf("module %v, %v lies at %v, want %v", row.u, row.v, got, row.want)
		}
	}
	if g[6] != 0 || g[7] != 0 {
		t.Errorf("three points give a perspective of %v, %v", g[6], g[7])
	}
}

// How a place lies from the middle of a symbol is the other way round of where a module is.
func TestOffset(t *testing.T) {
	g := grid{4, 1, 100, -1, 5, 200, 0, 0}
	for _, row := range []struct{ u, v float64 }{{0, 0}, {3, 0}, {0, -7}, {40, 25}} {
		p := Point{100 + 4*row.u + row.v, 200 - row.u + 5*row.v}
		if u, v := g.offset(p); math.Abs(u-row.u) > 1e-9 || math.Abs(v-row.v) > 1e-9 {
			t.Errorf("%v lies %v, %v modules off, want %v, %v", p, u, v, row.u, row.v)
		}
	}
}

// Least squares over few samples, or on a picture of one brightness, gives no step.
func TestSolveRefuses(t *testing.T) {
	filled := func(samples int) *normal {
		random := rand.New(rand.NewPCG(1, 2))
		var n normal
		n.add0(&grid{}, perspectivePrior)
		for range samples {
			var j [8]float64
			for i := range j {
				j[i] = random.NormFloat64()
			}
			n.add(j, random.NormFloat64(), 1)
		}
		return &n
	}
	for _, row := range []struct {
		name    string
		samples int
		depth   float64
		want    bool
	}{{"enough", 20, 10, true}, {"one too few", 19, 10, false}, {"no contrast", 50, 0, false}, {"light on dark", 50, -10, true}} {
		if _, ok := filled(row.samples).solve(row.depth); ok != row.want {
			t.Errorf("%s: solved %v, want %v", row.name, ok, row.want)
		}
	}
}

// The step of least squares takes the residuals away, by their weights: samples that
// follow a known step exactly give that step.
func TestSolve(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	want := [8]float64{0.5, -0.25, 3, 0.1, 0.7, -2, 0, 0}
	var n normal
	n.add0(&grid{}, 1e6) // hardly any wish for no perspective
	for range 400 {
		var j [8]float64
		sum := 0.0
		for i := range j {
			j[i] = random.NormFloat64()
			sum += j[i] * want[i]
		}
		n.add(j, -sum, 1+random.Float64()) // too bright by what the step takes away
	}
	got, ok := n.solve(1)
	for i := range want {
		if !ok || math.Abs(got[i]-want[i]) > 0.01*math.Max(1, math.Abs(want[i])) {
			t.Errorf("step %d is %.4f, want %.4f", i, got[i], want[i])
		}
	}
}

// A symbol is expected to have little perspective: what there is is drawn back.
func TestPerspectivePrior(t *testing.T) {
	g := grid{3, 0, 0, 0, 3, 0, 0.02, -0.01}
	random := rand.New(rand.NewPCG(5, 6))
	var n normal
	n.add0(&g, perspectivePrior)
	for range 100 {
		var j [8]float64
		for i := range 6 { // nothing speaks about the perspective
			j[i] = random.NormFloat64()
		}
		n.add(j, random.NormFloat64(), 1)
	}
	step, ok := n.solve(10)
	if !ok || math.Abs(step[6]+0.02) > 1e-3 || math.Abs(step[7]-0.01) > 1e-3 {
		t.Errorf("the step in perspective is %.4f, %.4f, want it taken back: -0.02, 0.01", step[6], step[7])
	}
}

// Equations whose first has a zero in the corner are solved by changing rows.
func TestSolve4Pivots(t *testing.T) {
	want := [4]float64{1, -2, 3, 0.5}
	rows := [4][4]float64{{0, 1, 0, 2}, {3, 0, 1, 0}, {0, 0, 0, 4}, {1, 2, -1, 1}}
	var a [4][5]float64
	for i, row := range rows {
		for j, v := range row {
			a[i][j] = v
			a[i][4] += v * want[j]
		}
	}
	got, ok := solve4(&a)
	for i := range want {
		if !ok || math.Abs(got[i]-want[i]) > 1e-9 {
			t.Errorf("unknown %d is %v, want %v", i, got[i], want[i])
		}
	}
	same := [4][5]float64{{1, 2, 3, 4, 1}, {2, 4, 6, 8, 2}, {0, 1, 0, 0, 1}, {0, 0, 1, 0, 1}}
	if _, ok := solve4(&same); ok {
		t.Error("two equations that say the same are solved")
	}
}

// How long a module is along the directions in which a finder is measured: through a
// square, along its diagonal, and through one twice as wide as high.
func TestChord(t *testing.T) {
	d := directions()
	for i, n := range [4]float64{1, 1, 1, 1} {
		if l := math.Hypot(d[i][0], d[i][1]); math.Abs(l-n) > 1e-12 {
			t.Errorf("direction %d is %v long", i, l)
		}
	}
	for _, row := range []struct {
		name           string
		ax, ay, bx, by float64
		want           [4]float64
	}{
		{"square", 3, 0, 0, 3, [4]float64{3, 3, 3 * math.Sqrt2, 3 * math.Sqrt2}},
		{"twice as wide", 4, 0, 0, 2, [4]float64{4, 2, 2 * math.Sqrt2, 2 * math.Sqrt2}},
		{"turned by 45 degrees", 1, 1, -1, 1, [4]float64{2, 2, math.Sqrt2, math.Sqrt2}},
		{"mirrored", 3, 0, 0, -3, [4]float64{3, 3, 3 * math.Sqrt2, 3 * math.Sqrt2}},
	} {
		for i := range d {
			if got := chord(row.ax, row.ay, row.bx, row.by, d[i]); math.Abs(got-row.want[i]) > 1e-9 {
				t.Errorf("%s, direction %d: %v, want %v", row.name, i, got, row.want[i])
			}
		}
	}
}

// Three finders fit by the mean difference of their modules from those of the
// parallelogram that they span, as logarithms; 0.3 is too much, and so is too flat.
func TestFitTriple(t *testing.T) {
	const module = 3.0
	at := func(x, y float64) Point { return Point{200 + finderSpan*module*x, 200 + finderSpan*module*y} }
	for _, row := range []struct {
		name  string
		down  Point
		grown float64 // modules as measured, against those that the places say
		want  bool
		score float64
	}{
		{"exact", at(0, 1), 1, true, 0},
		{"a quarter larger", at(0, 1), 1.25, true, math.Log(1.25)},
		{"a quarter smaller", at(0, 1), 0.8, true, math.Log(1.25)},
		{"by 0.29", at(0, 1), math.Exp(0.29), true, 0.29},
		{"by 0.31", at(0, 1), math.Exp(0.31), false, 0.31},
		{"flat", at(0.99, 0.25), 1, false, 0},
		{"the other way round", at(0, -1), 1, false, 0},
	} {
		r := New()
		r.found = []finder{finderSeen(at(0, 0), row.grown*module, 0), finderSeen(at(1, 0), row.grown*module, 0), finderSeen(row.down, row.grown*module, 0)}
		score, ok := r.fitTriple(0, 1, 2)
		if ok != row.want || row.score > 0 && math.Abs(score-row.score) > 1e-9 {
			t.Errorf("%s: fits %v with %.4f, want %v with %.4f", row.name, ok, score, row.want, row.score)
		}
	}
	r := New()
	r.found = []finder{finderSeen(at(0, 0), module, 0), finderSeen(at(1, 0), module, 0), finderSeen(at(0, 1), module, 0)}
	for i := range r.found {
		r.found[i].module[2], r.found[i].module[3] = 0, 0 // not measured
	}
	if score, ok := r.fitTriple(0, 1, 2); !ok || score > 1e-9 {
		t.Errorf("with two directions only: fits %v with %.4f", ok, score)
	}
}

// How near the finders of a symbol must be for their size: from 0.45 to 2 times the
// distance that they have seen straight on.
func TestGroupDistance(t *testing.T) {
	const module = 3.0
	for _, row := range []struct {
		far  float64 // in spans
		near bool
	}{{1, true}, {0.46, true}, {0.44, false}, {1.99, true}, {2.01, false}} {
		r := New()
		r.found = []finder{finderSeen(Point{500, 500}, module, 0), finderSeen(Point{500 + row.far*finderSpan*module, 500}, module, 0)}
		r.groupAt(0)
		if got := len(r.near) == 1; got != row.near {
			t.Errorf("%.2f spans away: near %v, want %v", row.far, got, row.near)
		}
	}
	for _, row := range []struct {
		size float64
		near bool
	}{{2.01 * module, false}, {1.99 * module, true}, {module / 1.99, true}, {module / 2.01, false}} {
		r := New()
		r.found = []finder{finderSeen(Point{500, 500}, module, 0), finderSeen(Point{500 + finderSpan*module, 500}, row.size, 0)}
		r.groupAt(0)
		if got := len(r.near) == 1; got != row.near {
			t.Errorf("%.2f times as large: near %v, want %v", row.size/module, got, row.near)
		}
	}
}

// Of very many finders, those that several rows confirmed are kept.
func TestGroupManyFinders(t *testing.T) {
	r := New()
	for i := range maxFinders + 100 {
		f := finderSeen(Point{float64(i%50) * 1000, float64(i/50) * 1000}, 3, 0)
		f.hits = 1 + i/maxFinders // the last hundred were seen twice
		r.found = append(r.found, f)
	}
	r.group(newClock(t.Context(), time.Minute))
	if len(r.found) != maxFinders {
		t.Fatalf("%d finders are kept, want %d", len(r.found), maxFinders)
	}
	for i, f := range r.found {
		if want := 1 + (maxFinders-1-i)/(maxFinders-100); i < 100 && f.hits != 2 || i >= 100 && f.hits != 1 {
			t.Errorf("finder %d was seen %d times, want %d", i, f.hits, want)
		}
	}
}

// The best guesses of a finder are kept in order, and no more than four of them.
func TestKeepBest(t *testing.T) {
	kept := []hypothesis{{score: 99}} // of another finder
	for _, score := range []float64{0.5, 0.7, 0.4, 0.6, 0.1, 0.9, 0.45} {
		kept = keepBest(kept, 1, hypothesis{score: score})
	}
	want := []float64{99, 0.9, 0.7, 0.6, 0.5}
	if len(kept) != len(want) {
		t.Fatalf("%d guesses, want %d", len(kept), len(want))
	}
	for i := range want {
		if kept[i].score != want[i] {
			t.Errorf("guess %d has score %v, want %v", i, kept[i].score, want[i])
		}
	}
}

// The motion of two far tags is the similarity that brings both where they went; that of
// tags close together is a shift.
func TestMotionExact(t *testing.T) {
	var m motion
	if re, im := m.turn(); re != 1 || im != 0 {
		t.Errorf("of nothing: turn %v, %v, want 1, 0", re, im)
	}
	m.add(Point{0, 0}, Point{10, 20})
	m.add(Point{100, 0}, Point{110, 40}) // turned, by tags 100 pixels apart
	re, im := m.turn()
	// The spread is 5000, and 10000 more count for no turn: a third of it is left.
	const spread = 5000.0
	if wantRe, wantIm := 1.0, 1000/(spread+fewTags); math.Abs(re-wantRe) > 1e-12 || math.Abs(im-wantIm) > 1e-12 {
		t.Errorf("turn %v, %v, want %v, %v", re, im, wantRe, wantIm)
	}
	if got, want := m.of(Point{50, 0}), (Point{60, 30}); math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
		t.Errorf("the middle goes to %v, want %v", got, want)
	}
	if got, want := m.of(Point{50, 60}), (Point{60 - 60*1000/1.5e4, 90}); math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
		t.Errorf("a place beside goes to %v, want %v", got, want)
	}
	g := grid{3, 0.5, 50, -0.5, 3, 0, 0.001, 0.002}
	moved := m.grid(&g)
	want := grid{3 + 0.5*im, 0.5 - 3*im, 60, -0.5 + 3*im, 3 + 0.5*im, 30, 0.001, 0.002}
	for i := range want {
		if math.Abs(moved[i]-want[i]) > 1e-9 {
			t.Errorf("parameter %d of a grid is %v, want %v", i, moved[i], want[i])
		}
	}
}

// The mean over a square reaches two modules to each side, and less at the border.
func TestAlong(t *testing.T) {
	var s, across, down soft
	s[10][10] = 25
	s[0][0] = 12
	s.along(&across, 0, 1)
	s.along(&down, 1, 0)
	for i := range softSide {
		want := 0.0
		if i >= 8 && i <= 12 {
			want = 5
		}
		if across[10][i] != want || down[i][10] != want {
			t.Errorf("module %d: %v across and %v down, want %v", i, across[10][i], down[i][10], want)
		}
	}
	for i, want := range []float64{4, 3, 2.4, 0} {
		if got := across[0][i]; math.Abs(got-want) > 1e-12 {
			t.Errorf("at the border, module %d: %v, want %v", i, got, want)
		}
	}
}
