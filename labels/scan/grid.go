package scan

import "math"

// grid maps modules to pixels of the full size: (u, v) modules right and down of
// the symbol's middle lie at g2 + (g0 u + g1 v) / (1 + g6 u + g7 v) across and
// g5 + (g3 u + g4 v) / (1 + g6 u + g7 v) down. That is any homography, with the
// place, the shape and the perspective apart from each other.
type grid [8]float64

// near is the pixel of (u, v), which are relative to the symbol's middle, and the
// inverse of the perspective divisor.
func (g *grid) near(u, v float64) (x, y, d float64) {
	d = 1 / (g[6]*u + g[7]*v + 1)
	return g[2] + (g[0]*u+g[1]*v)*d, g[5] + (g[3]*u+g[4]*v)*d, d
}

// at is where a place on the symbol, in modules from its top left corner, lies.
func (g *grid) at(u, v float64) Point {
	x, y, _ := g.near(u-symbolSize/2.0, v-symbolSize/2.0)
	return Point{x, y}
}

// module is the length of a module in pixels: the root of its area, at the middle.
func (g *grid) module() float64 { return math.Sqrt(math.Abs(g[0]*g[4] - g[1]*g[3])) }

func (g *grid) corners() [4]Point {
	return [4]Point{g.at(0, 0), g.at(symbolSize, 0), g.at(symbolSize, symbolSize), g.at(0, symbolSize)}
}

// plausible reports whether the grid can be a symbol seen by a camera.
func (g *grid) plausible() bool {
	const most = 0.6 / symbolSize // change of scale from the middle to an edge
	det := g[0]*g[4] - g[1]*g[3]
	long := math.Max(g[0]*g[0]+g[3]*g[3], g[1]*g[1]+g[4]*g[4])
	return det > 0.8*flattest*long && math.Abs(g[6])+math.Abs(g[7]) < 2*most && det > 0.6 && !math.IsNaN(g[2]+g[5])
}

// gridOf is the parallelogram that three finder middles span.
func gridOf(corner, right, down Point) grid {
	ax, ay := (right.X-corner.X)/finderSpan, (right.Y-corner.Y)/finderSpan
	bx, by := (down.X-corner.X)/finderSpan, (down.Y-corner.Y)/finderSpan
	// The middles lie 3.5 modules in, the symbol's middle 7 further.
	const in = finderSpan / 2
	return grid{ax, bx, corner.X + in*(ax+bx), ay, by, corner.Y + in*(ay+by)}
}

// sample is a module that a grid is fitted to: where it is, relative to the symbol's
// middle, its expected value (1 dark, -1 light), and its weight.
type sample struct {
	u, v, want, weight float64
	row, col           int8
}

// fit is how well a grid lies on a picture.
type fit struct {
	light     [3]float64 // brightness between dark and light: at the middle, and its slope a module along u and v
	depth     float64    // half the difference between light and dark, negative for light on dark
	match     float64    // correlation of the samples with what they should be, at most 1
	converged bool       // refine ended because the step was below its tolerance
}

// Bounds of the refinement.
const (
	perspectivePrior = 0.004 // usual change of scale a module
	settledStep      = 0.03  // modules; a smaller step does not matter
)

// effort is how long a grid is refined.
type effort struct {
	steps     int
	floor     float64 // give up when after two steps the match, as a magnitude, is not above it
	tolerance float64 // modules; a smaller step ends the fit
}

// refine fits the grid to the picture: Gauss-Newton on the brightness of the samples,
// with outliers (glare, a finger) weighted down. It returns how well the result fits.
func (g *grid) refine(v view, samples []sample, e effort) fit {
	for i := range e.steps {
		var n normal
		f := g.gather(v, samples, &n)
		if i == 2 && math.Abs(f.match) < e.floor {
			return f
		}
		step, ok := n.solve(f.depth)
		if !ok {
			return f
		}
		module := g.module()
		for i := range g {
			g[i] += step[i]
		}
		if !g.plausible() {
			return fit{}
		}
		// The step at the middle and, roughly, at the far corners.
		move := math.Hypot(step[2], step[5]) + symbolSize/2*(math.Abs(step[0])+math.Abs(step[1])+math.Abs(step[3])+math.Abs(step[4]))
		if move < e.tolerance*module {
			f.converged = true
			return f
		}
	}
	return g.gather(v, samples, nil)
}

// reading is the brightness of a sample and how it changes with the grid.
type reading struct {
	value, dx, dy float64
}

// maxSamples is the number of modules of a symbol with its quiet ring.
const maxSamples = (symbolSize + 2) * (symbolSize + 2)

// gather reads the samples, fits the illumination, and adds up the normal equations of
// the next step if n is not nil.
func (g *grid) gather(v view, samples []sample, n *normal) fit {
	var read [maxSamples]reading
	inverse := 1 / v.scale
	for i := range samples {
		s := &samples[i]
		x, y, _ := g.near(s.u, s.v)
		value, dx, dy := v.slope(x*inverse, y*inverse)
		read[i] = reading{value, dx * inverse, dy * inverse}
	}
	f := fitLight(read[:len(samples)], samples)
	if n == nil {
		return f
	}
	limit := 0.7 * f.depth
	limit *= limit
	n.add0(g, perspectivePrior)
	for i := range samples {
		s, q := &samples[i], &read[i]
		off := q.value - (f.light[0] + f.light[1]*s.u + f.light[2]*s.v - f.depth*s.want)
		w := s.weight * limit / (limit + off*off)
		x, y, d := g.near(s.u, s.v)
		turn := -(q.dx*(x-g[2]) + q.dy*(y-g[5])) * d
		n.add([8]float64{q.dx * d * s.u, q.dx * d * s.v, q.dx, q.dy * d * s.u, q.dy * d * s.v, q.dy, turn * s.u, turn * s.v}, off, w)
	}
	return f
}

// fitLight fits the illumination (a plane) and the contrast by least squares, and
// computes how well the samples match.
func fitLight(read []reading, samples []sample) fit {
	// The sums of the products of 1, u, v, what it should be, and the brightness.
	var a [5][5]float64
	for i := range samples {
		s := &samples[i]
		w, t, y := s.weight, -s.want, read[i].value
		wu, wv, wt := w*s.u, w*s.v, w*t
		a[0][0] += w
		a[0][1] += wu
		a[0][2] += wv
		a[0][3] += wt
		a[0][4] += w * y
		a[1][1] += wu * s.u
		a[1][2] += wu * s.v
		a[1][3] += wu * t
		a[1][4] += wu * y
		a[2][2] += wv * s.v
		a[2][3] += wv * t
		a[2][4] += wv * y
		a[3][3] += wt * t
		a[3][4] += wt * y
		a[4][4] += w * y * y
	}
	for j := range a {
		for l := range j {
			a[j][l] = a[l][j]
		}
	}
	x, ok := solve4(&[4][5]float64{a[0], a[1], a[2], a[3]})
	if !ok {
		return fit{}
	}
	f := fit{light: [3]float64{x[0], x[1], x[2]}, depth: x[3]}
	// Correlation of what is left without the light's plane, from the same sums.
	sy, sty, syy := a[0][4], a[3][4], a[4][4]
	for j, l := range f.light {
		sy -= l * a[0][j]
		sty -= l * a[3][j]
		syy -= 2 * l * a[j][4]
		for k, m := range f.light {
			syy += l * m * a[j][k]
		}
	}
	sw, st, stt := a[0][0], a[0][3], a[3][3]
	vy, vt := syy-sy*sy/sw, stt-st*st/sw
	if vy > 1e-9 && vt > 1e-9 {
		f.match = (sty - st*sy/sw) / math.Sqrt(vy*vt)
	}
	return f
}
