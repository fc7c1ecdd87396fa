package scan

import "math"

// shapeGuess is a parallelogram that a finder pattern may appear as: its two
// sides, and the length of a module along the four directions that a finder is
// measured in, as logarithms for sides of about one pixel a module.
type shapeGuess struct {
	side [4]float64 // right: x, y; down: x, y
	log  [4]float64
}

// directions are those that a finder is measured in, in the order of
// finder.module.
func directions() [4][2]float64 {
	const half = math.Sqrt2 / 2
	return [4][2]float64{{1, 0}, {0, 1}, {half, half}, {half, -half}}
}

// newShapes lists parallelograms of every turn within 90 degrees, and every
// tilt up to 65 in four directions.
func newShapes() []shapeGuess {
	var shapes []shapeGuess
	for turn := range 6 {
		sin, cos := math.Sincos(float64(turn) * 15 * math.Pi / 180)
		shapes = append(shapes, newShape(cos, sin, -sin, cos))
		for axis := range 4 {
			sa, ca := math.Sincos(float64(axis) * 45 * math.Pi / 180)
			for _, squeeze := range []float64{0.8, 0.62, 0.45} {
				tilt := func(x, y float64) (float64, float64) {
					along, across := ca*x+sa*y, (ca*y-sa*x)*squeeze
					return ca*along - sa*across, sa*along + ca*across
				}
				ax, ay := tilt(cos, sin)
				bx, by := tilt(-sin, cos)
				shapes = append(shapes, newShape(ax, ay, bx, by))
			}
		}
	}
	return shapes
}

func newShape(ax, ay, bx, by float64) shapeGuess {
	s := shapeGuess{side: [4]float64{ax, ay, bx, by}}
	for i, d := range directions() {
		s.log[i] = math.Log(chord(ax, ay, bx, by, d))
	}
	return s
}

// chord is how long a module is along direction d through the middle of a square
// whose sides are a and b: the line ends where its larger coordinate does.
func chord(ax, ay, bx, by float64, d [2]float64) float64 {
	det := ax*by - ay*bx
	u, v := (by*d[0]-bx*d[1])/det, (ax*d[1]-ay*d[0])/det
	return 1 / math.Max(math.Abs(u), math.Abs(v))
}

// finderSamples are a finder pattern and the light ring around it, about its
// middle.
func finderSamples() []sample {
	var samples []sample
	for row := -1; row < 8; row++ {
		for col := -1; col < 8; col++ {
			dark := row >= 0 && row < 7 && col >= 0 && col < 7 && finderDark(row, col)
			want := -1.0
			if dark {
				want = 1
			}
			samples = append(samples, sample{u: float64(col) - 3, v: float64(row) - 3, want: want, weight: 1})
		}
	}
	return samples
}

// shapeTries is how many of the nearest parallelograms are tried.
const shapeTries = 2

// shapeFinder finds the parallelogram that a finder appears as, and how well it
// matches.
func (r *Reader) shapeFinder(f *finder) {
	var best [shapeTries]struct {
		off, scale float64
		side       [4]float64
	}
	for i := range best {
		best[i].off = math.Inf(1)
	}
	var logs [4]float64
	for i, m := range f.module {
		if m > 0 {
			logs[i] = math.Log(m)
		}
	}
	for i := range r.shapes {
		s := &r.shapes[i]
		mean, n := 0.0, 0.0
		for j, m := range f.module {
			if m > 0 {
				mean += logs[j] - s.log[j]
				n++
			}
		}
		mean /= n
		off := 0.0
		for j, m := range f.module {
			if m > 0 {
				off += math.Abs(logs[j] - s.log[j] - mean)
			}
		}
		at := shapeTries - 1
		if off >= best[at].off {
			continue
		}
		for at > 0 && off < best[at-1].off {
			best[at] = best[at-1]
			at--
		}
		best[at].off, best[at].scale, best[at].side = off, math.Exp(mean), s.side
	}
	for _, b := range best {
		if math.IsInf(b.off, 1) {
			continue
		}
		g := grid{b.side[0] * b.scale, b.side[2] * b.scale, f.at.X, b.side[1] * b.scale, b.side[3] * b.scale, f.at.Y}
		fitted := g.refine(r.pyramid.level(g.module()), r.samples.finder, effort{5, 0.5 * leastFinderMatch, settledStep})
		match := fitted.match
		if f.inverse {
			match = -match
		}
		if g.plausible() && match > f.match {
			f.match, f.shape = match, g
		}
	}
}
