package scan

import (
	"cmp"
	"math"
	"slices"
)

// hypothesis is a grid guessed from one or two finders.
type hypothesis struct {
	grid    grid
	finder  int
	other   int // the second finder, or -1
	score   float64
	inverse bool
}

// Limits for symbols with one or two finder patterns hidden.
const (
	leastFinderMatch = 0.6
	leastGuessMatch  = 0.3
	maxGuesses       = 100
	guessesEach      = 4
	nearFinder       = 3.5 // modules between where a finder should be and is
)

// readPartial reads symbols with one or two finder patterns missing. A single finder
// pattern gives the symbol's size and slant, which leaves twelve hypotheses: four
// rotations, and any of the three corners.
func (r *Reader) readPartial(clock *clock, stages *Stages) {
	clock.start()
	r.guesses = r.guesses[:0]
	for i := range r.found {
		if f := &r.found[i]; !f.used && !clock.expired() && !r.covered(f.at) {
			r.shapeFinder(f)
		}
	}
	for i := range r.found {
		if f := &r.found[i]; !f.used && f.match >= leastFinderMatch && !clock.expired() && !r.covered(f.at) {
			r.guessAt(i)
		}
	}
	slices.SortFunc(r.guesses, func(a, b hypothesis) int { return cmp.Compare(b.score, a.score) })
	clock.stop(&stages.Fit)
	for i := range r.guesses[:min(len(r.guesses), maxGuesses)] {
		h := &r.guesses[i]
		if r.found[h.finder].used || h.other >= 0 && r.found[h.other].used {
			continue
		}
		if clock.expired() {
			return
		}
		if r.readTag(h.grid, h.inverse, clock, stages) {
			r.found[h.finder].used = true
			if h.other >= 0 {
				r.found[h.other].used = true
			}
		}
	}
}

// covered reports whether a place is on a symbol that was read already.
func (r *Reader) covered(p Point) bool {
	return slices.ContainsFunc(r.codes, func(c Code) bool { return inside(&c.Corners, p) })
}

// inside reports whether p is in a convex quadrilateral whose corners go clockwise in
// the picture.
func inside(corners *[4]Point, p Point) bool {
	for i := range corners {
		a, b := corners[i], corners[(i+1)%4]
		if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) < 0 {
			return false
		}
	}
	return true
}

// guessAt adds the twelve symbols that finder i may belong to, as far as the
// picture does not speak against them.
func (r *Reader) guessAt(i int) {
	f := &r.found[i]
	s := &f.shape
	first := len(r.guesses)
	right, down := Point{s[0], s[3]}, Point{s[1], s[4]}
	for range 4 {
		right, down = down, Point{-right.X, -right.Y}
		for corner := range 3 {
			other, a, b := r.snap(i, corner, right, down)
			// The symbol's middle from this finder's, in modules.
			const in = finderSpan / 2
			u, v := in, in
			switch corner {
			case 1:
				u = -in
			case 2:
				v = -in
			}
			g := grid{a.X, b.X, s[2] + u*a.X + v*b.X, a.Y, b.Y, s[5] + u*a.Y + v*b.Y}
			if !g.plausible() {
				continue
			}
			fitted := g.gather(r.pyramid.level(g.module()), r.samples.fixed, nil)
			match := fitted.match
			if f.inverse {
				match = -match
			}
			if match < leastGuessMatch {
				continue
			}
			h := hypothesis{grid: g, finder: i, other: other, score: match, inverse: f.inverse}
			r.guesses = keepBest(r.guesses, first, h)
		}
	}
}

// keepBest inserts a hypothesis into those from index first on, which are sorted and
// limited to the best guessesEach.
func keepBest(all []hypothesis, first int, h hypothesis) []hypothesis {
	if len(all)-first < guessesEach {
		all = append(all, h)
	} else if h.score > all[len(all)-1].score {
		all[len(all)-1] = h
	}
	for i := len(all) - 1; i > first && all[i].score > all[i-1].score; i-- {
		all[i], all[i-1] = all[i-1], all[i]
	}
	return all
}

// snap looks for a second finder about where the symbol should have one, and
// turns and stretches the sides so that it lies there. corner says which of top
// left, top right and bottom left the first one is.
func (r *Reader) snap(i, corner int, right, down Point) (other int, a, b Point) {
	f := &r.found[i]
	other = -1
	least := math.Inf(1)
	var to Point // the second finder from the first, in modules
	for j := range r.found {
		g := &r.found[j]
		if j == i || g.used || g.inverse != f.inverse || g.size > 1.7*f.size || f.size > 1.7*g.size {
			continue
		}
		dx, dy := g.at.X-f.at.X, g.at.Y-f.at.Y
		for c, at := range finderPlaces() {
			if c == corner {
				continue
			}
			from := finderPlaces()[corner]
			u, v := at.X-from.X, at.Y-from.Y
			x, y := dx-(u*right.X+v*down.X), dy-(u*right.Y+v*down.Y)
			if off := math.Hypot(x, y) / f.size; off < nearFinder && off < least {
				least, other, to = off, j, Point{u, v}
			}
		}
	}
	if other < 0 {
		return other, right, down
	}
	// The turn and stretch, as a complex number, that brings the second finder to
	// its place.
	g := &r.found[other]
	x, y := to.X*right.X+to.Y*down.X, to.X*right.Y+to.Y*down.Y
	dx, dy := g.at.X-f.at.X, g.at.Y-f.at.Y
	n := x*x + y*y
	re, im := (dx*x+dy*y)/n, (dy*x-dx*y)/n
	turn := func(p Point) Point { return Point{re*p.X - im*p.Y, re*p.Y + im*p.X} }
	return other, turn(right), turn(down)
}

// finderPlaces are the middles of the finders, in modules from the first.
func finderPlaces() [3]Point {
	return [3]Point{{0, 0}, {finderSpan, 0}, {0, finderSpan}}
}
