package scan

import (
	"cmp"
	"math"
	"slices"
)

// triple is three finders that may be the corners of one symbol: top left, top
// right, bottom left. score is how badly they fit, 0 being best.
type triple struct {
	corner, right, down int
	score               float64
}

// finderSpan is how far apart the middles of neighbouring finders are, modules.
const finderSpan = symbolSize - 2*finderInset

// Limits of grouping.
const (
	flattest   = 0.3 // the sine between the sides times their ratio: tilt to 70 degrees
	worstScore = 0.30
	maxTriples = 600
	maxFinders = 400
)

// group combines finders by three into symbols of 21 modules, the best first.
func (r *Reader) group(clock *clock) {
	r.triples = r.triples[:0]
	for i := range r.found {
		r.found[i].used = r.covered(r.found[i].at)
	}
	if len(r.found) > maxFinders {
		// The many finders of a noisy picture are mostly false: keep those that
		// several rows confirmed.
		slices.SortStableFunc(r.found, func(a, b finder) int { return cmp.Compare(b.hits, a.hits) })
		r.found = r.found[:maxFinders]
	}
	for i := range r.found {
		if !r.found[i].used && !clock.expired() {
			r.groupAt(i)
		}
	}
	slices.SortFunc(r.triples, func(a, b triple) int { return cmp.Compare(a.score, b.score) })
	if len(r.triples) > maxTriples {
		r.triples = r.triples[:maxTriples]
	}
}

// groupAt adds the symbols whose top left corner is finder i.
func (r *Reader) groupAt(i int) {
	c := &r.found[i]
	r.near = r.near[:0]
	for j := range r.found {
		f := &r.found[j]
		if j == i || f.used || f.inverse != c.inverse || f.size > 2*c.size || c.size > 2*f.size {
			continue
		}
		d := math.Hypot(f.at.X-c.at.X, f.at.Y-c.at.Y)
		// A side is between the smallest and the largest length of a module that
		// the two may have in its direction.
		if size := (f.size + c.size) / 2; d < 0.45*finderSpan*size || d > 2*finderSpan*size {
			continue
		}
		r.near = append(r.near, j)
	}
	for _, right := range r.near {
		for _, down := range r.near {
			if right == down {
				continue
			}
			if score, ok := r.fitTriple(i, right, down); ok {
				r.triples = append(r.triples, triple{i, right, down, score})
			}
		}
	}
}

// fitTriple compares the lengths of a module that the three finders showed in
// four directions with those of the parallelogram they span.
func (r *Reader) fitTriple(corner, right, down int) (float64, bool) {
	c, a, b := &r.found[corner], &r.found[right], &r.found[down]
	ax, ay := (a.at.X-c.at.X)/finderSpan, (a.at.Y-c.at.Y)/finderSpan
	bx, by := (b.at.X-c.at.X)/finderSpan, (b.at.Y-c.at.Y)/finderSpan
	det := ax*by - ay*bx
	if la, lb := math.Hypot(ax, ay), math.Hypot(bx, by); det < flattest*math.Max(la, lb)*math.Max(la, lb) {
		return 0, false
	}
	sum, n := 0.0, 0.0
	for i, d := range directions() {
		want := chord(ax, ay, bx, by, d)
		for _, f := range [3]*finder{c, a, b} {
			if f.module[i] > 0 {
				sum += math.Abs(math.Log(f.module[i] / want))
				n++
			}
		}
	}
	return sum / n, sum < worstScore*n
}
