package scan

import (
	"math"
	"slices"
)

// finder is a candidate for a finder pattern.
type finder struct {
	at      Point      // pixels of the full size
	module  [4]float64 // length of a module along x, y and the two diagonals, pixels; 0 unknown
	size    float64    // mean of those
	inverse bool       // light on dark
	hits    int
	used    bool
	shape   grid    // about the finder's own middle
	match   float64 // how well the picture matches it
}

// Limits of the finder scan, in pixels of the level that is looked at.
const (
	leastModule = 1.1
	mostModule  = 3.2 // larger ones are found a level down
	looseRow    = 0.75
	looseCross  = 0.85
	swingPart   = 0.08 // of the contrast around: less is the trace of a JPEG file
	rowStep     = 2    // rows: the middle of the smallest finder is three high
	maxFound    = 2000 // more occur in contrived pictures only
)

// findFinders looks for finder patterns at every size.
func (r *Reader) findFinders(clock *clock) {
	r.found = r.found[:0]
	full := r.pyramid.levels[0].noise()
	for level := range r.pyramid.n {
		p := &r.pyramid.levels[level]
		// Averaging three rows leaves 0.61 of the noise.
		noise := 0.61 * full / float64(int(1)<<level)
		r.swing = float32(math.Max(4, 2.6*noise))
		r.busy.find(&r.pyramid, level, r.swing)
		r.busy.ignore(r.codes)
		for y := 1; y < p.h-1; y += rowStep {
			if y&31 == 1 && clock.expired() || len(r.found) > maxFound {
				return
			}
			r.scanRow(p, level, y)
		}
	}
}

// scanRow looks along the busy parts of one row.
func (r *Reader) scanRow(p *plane, level, y int) {
	row := r.busy.row(y)
	for b := 0; b < len(row); b++ {
		if row[b] == 0 {
			continue
		}
		from, most := b, byte(0)
		for b < len(row) && row[b] > 0 {
			most = max(most, row[b])
			b++
		}
		r.runs.swing = max(r.swing, swingPart*float32(most))
		// A finder's light surroundings may be in the next block.
		r.scanPart(p, level, y, max(0, (from-1)<<blockShift), min(p.w, (b+1)<<blockShift))
	}
}

// scanPart looks along part of a row, averaged with its neighbours.
func (r *Reader) scanPart(p *plane, level, y, x0, x1 int) {
	up, mid, low := p.pix[(y-1)*p.w+x0:(y-1)*p.w+x1], p.pix[y*p.w+x0:y*p.w+x1], p.pix[(y+1)*p.w+x0:(y+1)*p.w+x1]
	r.line = slices.Grow(r.line[:0], p.w)[:x1-x0]
	for x := range r.line {
		r.line[x] = float32(int(up[x])+2*int(mid[x])+int(low[x])) * 0.25
	}
	r.runs.scan(r.line)
	for k := 5; k < len(r.runs.edge); k++ {
		width := r.runs.edge[k] - r.runs.edge[k-5]
		if width < 7*leastModule || width > 7*mostModule*1.5 {
			continue
		}
		middle, module, ok := r.runs.finderRun(k, looseRow)
		if !ok {
			continue
		}
		r.confirm(p, level, Point{float64(middle) + 0.5 + float64(x0), float64(y) + 0.5}, float64(module), !r.runs.fall[k-5])
	}
}

// confirm checks a candidate in the other directions, and keeps it if they agree.
func (r *Reader) confirm(p *plane, level int, at Point, module float64, inverse bool) {
	scale := float64(int(1) << level)
	for i := range r.found {
		f := &r.found[i]
		dy := f.at.Y - at.Y*scale
		if reach := f.size; dy > reach || -dy > reach || f.inverse != inverse {
			continue
		}
		dx := f.at.X - at.X*scale
		if reach := 0.7 * math.Max(f.size, module*scale); dx*dx+dy*dy < reach*reach {
			f.hits++
			return
		}
	}
	dy, tall, ok := r.across(p, at, 0, 1, 2.2*module, inverse)
	if !ok {
		return
	}
	at.Y += dy
	dx, wide, ok := r.across(p, at, 1, 0, 1.3*module, inverse)
	if !ok {
		return
	}
	at.X += dx
	if dy, t, ok := r.across(p, at, 0, 1, 1.3*tall, inverse); ok {
		at.Y += dy
		tall = t
	}
	f := finder{module: [4]float64{wide, tall}, inverse: inverse, hits: 1}
	reach := 1.6 * math.Max(wide, tall)
	const half = math.Sqrt2 / 2
	if _, m, ok := r.across(p, at, half, half, reach, inverse); ok {
		f.module[2] = m
	}
	if _, m, ok := r.across(p, at, half, -half, reach, inverse); ok {
		f.module[3] = m
	}
	if f.module[2] == 0 && f.module[3] == 0 {
		return
	}
	r.keepFinder(f, at, scale)
}

// keepFinder adds a finder, in pixels of the full size, unless it was found already.
func (r *Reader) keepFinder(f finder, at Point, scale float64) {
	f.at = Point{at.X * scale, at.Y * scale}
	n := 0.0
	for i := range f.module {
		f.module[i] *= scale
		if f.module[i] > 0 {
			f.size += f.module[i]
			n++
		}
	}
	f.size /= n
	for i := range r.found {
		g := &r.found[i]
		dx, dy := f.at.X-g.at.X, f.at.Y-g.at.Y
		if reach := 1.2 * math.Min(f.size, g.size); f.inverse == g.inverse && dx*dx+dy*dy < reach*reach {
			g.hits++
			return
		}
	}
	r.found = append(r.found, f)
}

// across scans a line through at in the direction (dx, dy), whose modules are at
// most longest pixels, and finds the finder pattern's five runs around at. It
// gives how far along their middle lies and the length of a module.
func (r *Reader) across(p *plane, from Point, dx, dy, longest float64, inverse bool) (shift, module float64, ok bool) {
	n, at := min(int(6*longest)+2, maxReach), from
	line := r.crossLine[:2*n+1]
	switch {
	case dx == 0:
		at.Y = p.column(line, at, n)
	case dy == 0:
		at.X = p.row(line, at, n)
	default:
		for i := range line {
			t := float64(i - n)
			x, y := at.X+t*dx, at.Y+t*dy
			// Two rays beside each other take half the noise's power away.
			line[i] = float32(p.at(x-0.4*dy, y+0.4*dx)+p.at(x+0.4*dy, y-0.4*dx)) / 2
		}
	}
	r.cross.swing = r.runs.swing * 1.1
	r.cross.scan(line)
	// Where the line's middle value lies from the place asked for.
	aside := float32((at.X-from.X)*dx + (at.Y-from.Y)*dy)
	best := float32(math.Inf(1))
	for k := 5; k < len(r.cross.edge); k++ {
		if r.cross.fall[k-5] == inverse {
			continue
		}
		e := r.cross.edge
		if e[k-3] > float32(n)+1 || e[k-2] < float32(n)-1 {
			continue
		}
		middle, m, fits := r.cross.finderRun(k, looseCross)
		off := middle - float32(n) + aside
		if !fits || off*off >= best || float64(m) > longest*1.1 {
			continue
		}
		best = off * off
		shift, module, ok = float64(off), float64(m), true
	}
	return shift, module, ok
}

// column reads n pixels up and down of a place, averaged over the width of
// three, and gives the height of the middle one.
func (p *plane) column(line []float32, at Point, n int) float64 {
	x, weights := taps(at.X, p.w)
	y := min(max(int(at.Y), 0), p.h-1)
	for i := range line {
		q := p.pix[min(max(y+i-n, 0), p.h-1)*p.w+x:]
		line[i] = weights[0]*float32(q[0]) + weights[1]*float32(q[1]) + weights[2]*float32(q[2]) + weights[3]*float32(q[3])
	}
	return float64(y) + 0.5
}

// row reads n pixels left and right of a place, averaged over the height of
// three, and gives how far right the middle one lies.
func (p *plane) row(line []float32, at Point, n int) float64 {
	y, weights := taps(at.Y, p.h)
	x := min(max(int(at.X), 0), p.w-1)
	q := p.pix[y*p.w:]
	for i := range line {
		c := min(max(x+i-n, 0), p.w-1)
		line[i] = weights[0]*float32(q[c]) + weights[1]*float32(q[p.w+c]) + weights[2]*float32(q[2*p.w+c]) + weights[3]*float32(q[3*p.w+c])
	}
	return float64(x) + 0.5
}

// taps are the four pixels of a line of n around a place, and the weights of a
// mean over three that lies between them.
func taps(at float64, n int) (first int, weights [4]float32) {
	at -= 0.5
	first = min(max(int(at)-1, 0), n-4)
	f := float32(math.Max(0, math.Min(1, at-float64(first+1))))
	g := 1 - f
	return first, [4]float32{0.25 * g, 0.5*g + 0.25*f, 0.25*g + 0.5*f, 0.25 * f}
}

// maxReach bounds how far across looks to each side, in pixels.
const maxReach = 96
