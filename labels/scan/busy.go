package scan

import (
	"math"
	"slices"
)

// blockShift is the binary logarithm of a block's side: blocks are 16 x 16 pixels.
const blockShift = 4

// busy is the contrast of the blocks of one pyramid level, row by row: 0 where nothing
// stands out from the noise, so that the block need not be scanned.
type busy struct {
	level      int
	wide, high int
	contrast   []byte
}

// find measures the blocks on the next smaller level, which has less noise; swing is
// the least change of brightness that is not noise.
func (b *busy) find(from *pyramid, level int, swing float32) {
	smaller := min(level+1, from.n-1)
	p := &from.levels[smaller]
	side := 1 << (blockShift - (smaller - level))
	b.level, b.wide, b.high = level, (p.w+side-1)/side, (p.h+side-1)/side
	b.contrast = slices.Grow(b.contrast[:0], b.wide*b.high)[:b.wide*b.high]
	for y := range b.high {
		for x := range b.wide {
			c := p.contrast(x*side, y*side, side)
			if float32(c) < 1.4*swing {
				c = 0
			}
			b.contrast[y*b.wide+x] = c
		}
	}
}

// row are the blocks that a row of pixels goes through.
func (b *busy) row(y int) []byte {
	first := min(y>>blockShift, b.high-1) * b.wide
	return b.contrast[first : first+b.wide]
}

// ignore clears the blocks that are wholly on symbols that were read already.
func (b *busy) ignore(known []Code) {
	side := float64(int(1) << (blockShift + b.level))
	for i := range known {
		corners := &known[i].Corners
		x0, y0, x1, y1 := math.Inf(1), math.Inf(1), 0.0, 0.0
		for _, c := range corners {
			x0, y0, x1, y1 = math.Min(x0, c.X), math.Min(y0, c.Y), math.Max(x1, c.X), math.Max(y1, c.Y)
		}
		for row := max(0, int(y0/side)); row < min(b.high, int(y1/side)+1); row++ {
			for col := max(0, int(x0/side)); col < min(b.wide, int(x1/side)+1); col++ {
				x, y := float64(col)*side, float64(row)*side
				if inside(corners, Point{x, y}) && inside(corners, Point{x + side, y}) &&
					inside(corners, Point{x, y + side}) && inside(corners, Point{x + side, y + side}) {
					b.contrast[row*b.wide+col] = 0
				}
			}
		}
	}
}

// contrast is the difference between the lightest and the darkest pixel of a
// block and of the pixels right and below that touch it.
func (p *plane) contrast(x0, y0, side int) byte {
	low, high := byte(255), byte(0)
	for y := y0; y < min(y0+side+1, p.h); y++ {
		for _, v := range p.pix[y*p.w+x0 : y*p.w+min(x0+side+1, p.w)] {
			low, high = min(low, v), max(high, v)
		}
	}
	return high - low
}
