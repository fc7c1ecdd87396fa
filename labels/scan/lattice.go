package scan

import (
	"math"
	"slices"
)

// Limits of searching for the neighbours of tags.
const (
	leastWall    = 4    // tags in a picture that may be a wall of them
	leastPitch   = 24.0 // modules between the middles of neighbours
	aside        = 0.25 // of the pitch that a neighbour in the same row may be off it
	neighbourOff = 5.0  // modules that one may be from where it should be
	neighbourTry = 2    // neighbours from which the same place is looked at
	neighbourFit = 0.35 // correlation of its finders
	neighbourInk = 0.3  // of the contrast of the tag beside it
)

// readNeighbours searches where labels should be that were not found: drawers, and so
// their labels, are in rows and columns. The grid of a tag predicts that of its
// neighbour, and the three finder patterns together can be detected where each alone is
// lost in the noise.
func (r *Reader) readNeighbours(clock *clock, stages *Stages) {
	if len(r.detections) < leastWall {
		return
	}
	clock.start()
	right, down := r.pitch(false), r.pitch(true)
	clock.stop(&stages.Find)
	r.tried = r.tried[:0]
	// Those that are found here have neighbours too.
	for i := 0; i < len(r.detections); i++ {
		for _, to := range [4]Point{{right, 0}, {-right, 0}, {0, down}, {0, -down}} {
			if to == (Point{}) {
				continue
			}
			if clock.expired() {
				return
			}
			r.readNeighbour(&r.detections[i], to, clock, stages)
		}
	}
}

// pitch is how many modules tags of a row, or of a column, are apart; 0 when there
// are none beside each other.
func (r *Reader) pitch(column bool) float64 {
	r.line = r.line[:0]
	for i := range r.detections {
		g := &r.detections[i].grid
		nearest := math.Inf(1)
		for j := range r.detections {
			u, v := g.offset(Point{r.detections[j].grid[2], r.detections[j].grid[5]})
			if column {
				u, v = v, u
			}
			if u > leastPitch && math.Abs(v) < aside*u {
				nearest = math.Min(nearest, u)
			}
		}
		if !math.IsInf(nearest, 1) {
			r.line = append(r.line, float32(nearest))
		}
	}
	if len(r.line) == 0 {
		return 0
	}
	// Where the next one was not found the distance is a multiple.
	slices.Sort(r.line)
	return float64(r.line[len(r.line)/4])
}

// offset is where a place lies from the middle of a symbol, in modules along its
// sides, perspective left aside.
func (g *grid) offset(p Point) (u, v float64) {
	x, y, det := p.X-g[2], p.Y-g[5], g[0]*g[4]-g[1]*g[3]
	return (g[4]*x - g[1]*y) / det, (g[0]*y - g[3]*x) / det
}

// readNeighbour reads the tag that should be a number of modules away from another.
func (r *Reader) readNeighbour(beside *detection, to Point, clock *clock, stages *Stages) {
	clock.start()
	g := beside.grid
	g[2], g[5] = g[2]+to.X*g[0]+to.Y*g[1], g[5]+to.X*g[3]+to.Y*g[4]
	at := Point{g[2], g[5]}
	ok := r.mayBeAt(&g, beside)
	if ok {
		r.tried = append(r.tried, at)
		best := 0.0
		g, best = r.searchFinders(g, beside.symbol.inverse)
		ok = best > neighbourFit && !r.covered(Point{g[2], g[5]})
	}
	clock.stop(&stages.Find)
	if ok {
		r.readTag(g, beside.symbol.inverse, clock, stages)
	}
}

// mayBeAt reports whether a tag may be at a place: it is inside the picture, not
// occupied, not searched already, and not blank.
func (r *Reader) mayBeAt(g *grid, beside *detection) bool {
	p := &r.pyramid.levels[0]
	for _, c := range g.corners() {
		if !(c.X >= 0 && c.Y >= 0 && c.X < float64(p.w) && c.Y < float64(p.h)) {
			return false
		}
	}
	tried := 0
	for _, q := range r.tried {
		if u, v := g.offset(q); math.Hypot(u, v) < symbolSize/2 {
			tried++
		}
	}
	if tried >= neighbourTry {
		return false
	}
	for i := range r.detections {
		q := &r.detections[i].grid
		if u, v := g.offset(Point{q[2], q[5]}); math.Max(math.Abs(u), math.Abs(v)) < symbolSize {
			return false
		}
	}
	return r.unevenness(g) > neighbourInk*r.unevenness(&beside.grid)
}

// unevenness is the standard deviation of the brightness under a grid.
func (r *Reader) unevenness(g *grid) float64 {
	v := r.pyramid.level(2 * g.module()) // of less noise
	sum, square, n := 0.0, 0.0, 0.0
	for i := range r.samples.finder {
		s := &r.samples.finder[i]
		x, y, _ := g.near(2.4*s.u, 2.4*s.v)
		b := v.at(x/v.scale, y/v.scale)
		sum, square, n = sum+b, square+b*b, n+1
	}
	return math.Sqrt(math.Max(0, square/n-sum*sum/(n*n)))
}

// searchFinders moves a grid to where the three finder patterns match best around it,
// and returns the match.
func (r *Reader) searchFinders(g grid, inverse bool) (grid, float64) {
	const steps = 7
	step := neighbourOff / steps
	v := r.pyramid.level(g.module())
	best, at := 0.0, g
	for y := -steps; y <= steps; y++ {
		for x := -steps; x <= steps; x++ {
			h := g
			u, w := float64(x)*step, float64(y)*step
			h[2], h[5] = h[2]+u*g[0]+w*g[1], h[5]+u*g[3]+w*g[4]
			m := h.gather(v, r.samples.coarse, nil).match
			if inverse {
				m = -m
			}
			if m > best {
				best, at = m, h
			}
		}
	}
	return at, best
}
