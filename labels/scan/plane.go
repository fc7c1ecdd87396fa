package scan

import (
	"image"
	"image/color"
)

// plane is a picture in grey, row by row, 0 black to 255 white.
type plane struct {
	w, h int
	pix  []byte
}

// resize sets the size and makes room; the values are not cleared.
func (p *plane) resize(w, h int) {
	p.w, p.h = w, h
	if cap(p.pix) < w*h {
		p.pix = make([]byte, w*h)
	}
	p.pix = p.pix[:w*h]
}

// fill sets the plane to the brightness of a picture. Transparent parts count as white
// paper. There are fast paths for the kinds of picture that cameras and decoders give.
func (p *plane) fill(picture image.Image) {
	b := picture.Bounds()
	p.resize(b.Dx(), b.Dy())
	for y := range p.h {
		row := p.pix[y*p.w : (y+1)*p.w]
		switch m := picture.(type) {
		case *image.Gray:
			copy(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		case *image.YCbCr:
			copy(row, m.Y[m.YOffset(b.Min.X, b.Min.Y+y):])
		case *image.RGBA:
			fillRGBA(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		case *image.NRGBA:
			fillNRGBA(row, m.Pix[m.PixOffset(b.Min.X, b.Min.Y+y):])
		default:
			for x := range row {
				row[x] = brightness(picture.At(b.Min.X+x, b.Min.Y+y))
			}
		}
	}
}

// The weights of red, green and blue in brightness, in 1/256.
// Source: ITU-R BT.601 (0.299, 0.587, 0.114).
const (
	redWeight   = 77
	greenWeight = 150
	blueWeight  = 29
)

func luma(r, g, b uint32) uint32 { return (redWeight*r + greenWeight*g + blueWeight*b + 128) >> 8 }

// fillRGBA reads premultiplied pixels, which over white are pixel + 255 - alpha.
func fillRGBA(row, pix []byte) {
	for x := range row {
		q := pix[4*x : 4*x+4 : 4*x+4]
		row[x] = byte(min(255, luma(uint32(q[0]), uint32(q[1]), uint32(q[2]))+255-uint32(q[3])))
	}
}

func fillNRGBA(row, pix []byte) {
	for x := range row {
		q := pix[4*x : 4*x+4 : 4*x+4]
		v, a := luma(uint32(q[0]), uint32(q[1]), uint32(q[2])), uint32(q[3])
		row[x] = byte((v*a + 255*(255-a) + 127) / 255)
	}
}

func brightness(c color.Color) byte {
	r, g, b, a := c.RGBA()
	return byte(min(255, luma(r>>8, g>>8, b>>8)+255-a>>8))
}

// halve makes p half of q a side, each pixel the mean of four.
func (p *plane) halve(q *plane) {
	p.resize(q.w/2, q.h/2)
	for y := range p.h {
		top := q.pix[2*y*q.w : (2*y+1)*q.w]
		low := q.pix[(2*y+1)*q.w : (2*y+2)*q.w]
		row := p.pix[y*p.w : (y+1)*p.w]
		for x := range row {
			a, b := top[2*x:2*x+2:2*x+2], low[2*x:2*x+2:2*x+2]
			row[x] = byte((int(a[0]) + int(a[1]) + int(b[0]) + int(b[1]) + 2) >> 2)
		}
	}
}

// at is the interpolated brightness at a place in this plane's pixels (the middle of the
// first pixel is 0.5). Outside, the edge is extended.
func (p *plane) at(x, y float64) float64 {
	v, _, _ := p.slope(x, y)
	return v
}

// slope is the brightness at a place and how it changes along x and along y.
func (p *plane) slope(x, y float64) (v, dx, dy float64) {
	x, y = x-0.5, y-0.5
	if !(x >= 0 && y >= 0 && x < float64(p.w-1) && y < float64(p.h-1)) {
		x, y = within(x, p.w), within(y, p.h)
	}
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	q := p.pix[iy*p.w+ix:]
	a, b := float64(q[0]), float64(q[1])
	c, d := float64(q[p.w]), float64(q[p.w+1])
	top, low := a+(b-a)*fx, c+(d-c)*fx
	return top + (low-top)*fy, (b-a)*(1-fy) + (d-c)*fy, low - top
}

// within clamps a coordinate, even NaN, to between the middles of the first and the last
// of n pixels; n is at least 2.
func within(x float64, n int) float64 {
	last := float64(n-1) - 1e-6
	switch {
	case x > last:
		return last
	case x > 0:
		return x
	}
	return 0
}

// view is one level of a pyramid: scale pixels of the full size make one of its.
type view struct {
	*plane
	scale float64
}

// minSide is the least side of a plane that is worth searching: a whole symbol at a
// pixel a module.
const minSide = symbolSize + 2

// pyramid is an image pyramid: a picture at full size, half, quarter and so on.
type pyramid struct {
	levels [8]plane
	made   int // levels computed so far
	n      int // levels in all
}

// fill sets the picture. Its smaller levels are computed by build.
func (p *pyramid) fill(picture image.Image) {
	p.levels[0].fill(picture)
	p.made, p.n = 1, 1
	for side := min(p.levels[0].w, p.levels[0].h); p.n < len(p.levels) && side >= 2*minSide; side /= 2 {
		p.n++
	}
}

// build computes the levels up to last.
func (p *pyramid) build(last int) {
	for ; p.made <= last; p.made++ {
		p.levels[p.made].halve(&p.levels[p.made-1])
	}
}

// noise estimates the standard deviation of the noise as the median of a second
// difference that flat and evenly sloping parts leave at zero.
func (p *plane) noise() float64 {
	if p.w < 3 || p.h < 3 {
		return 0
	}
	var count [1021]int
	total := 0
	for y := 1; y < p.h-1; y += 1 + p.h/120 {
		up, mid, low := p.pix[(y-1)*p.w:], p.pix[y*p.w:], p.pix[(y+1)*p.w:]
		for x := 1; x < p.w-1; x += 1 + p.w/160 {
			d := int(up[x-1]) - 2*int(up[x]) + int(up[x+1]) - 2*(int(mid[x-1])-2*int(mid[x])+int(mid[x+1])) +
				int(low[x-1]) - 2*int(low[x]) + int(low[x+1])
			count[min(len(count)-1, max(d, -d))]++
			total++
		}
	}
	median, seen := 0, 0
	for seen += count[0]; 2*seen < total; seen += count[median] {
		median++
	}
	// The weights' root sum of squares is 6; a median is 0.6745 of a normal
	// standard deviation.
	return float64(median) / 6 / 0.6745
}
