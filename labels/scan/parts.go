package scan

import (
	"cmp"
	"image"
	"math"
	"slices"
)

// partsOf divides a plane into overlapping parts, sorted by how many finders they hold
// that belong to no tag, most first.
func (r *Reader) partsOf(p *plane, scale float64) []image.Rectangle {
	whole := image.Rect(0, 0, p.w, p.h)
	if p.w*p.h <= generalPixels {
		return []image.Rectangle{whole}
	}
	finders := func(box image.Rectangle) (n int) {
		for i := range r.found {
			f := &r.found[i]
			if !f.used && image.Pt(int(f.at.X/scale), int(f.at.Y/scale)).In(box) {
				n++
			}
		}
		return n
	}
	side := int(math.Sqrt(generalPixels))
	columns, rows := divide(p.w, side, partOverlap), divide(p.h, side, partOverlap)
	var parts []image.Rectangle
	for _, y := range rows {
		for _, x := range columns {
			parts = append(parts, image.Rect(x, y, x+side, y+side).Intersect(whole))
		}
	}
	slices.SortStableFunc(parts, func(a, b image.Rectangle) int { return cmp.Compare(finders(b), finders(a)) })
	return parts
}

// divide returns the starts of parts of a length that together cover n, neighbours
// overlapping by at least overlap.
func divide(n, length, overlap int) []int {
	count := 1
	if n > length {
		count = 1 + (n-overlap-1)/(length-overlap)
	}
	starts := make([]int, count)
	for i := 1; i < count; i++ {
		starts[i] = i * (n - length) / (count - 1)
	}
	return starts
}

// cut copies a part.
func (p *plane) cut(box image.Rectangle) *plane {
	part := &plane{}
	part.resize(box.Dx(), box.Dy())
	for y := range part.h {
		copy(part.pix[y*part.w:(y+1)*part.w], p.pix[(box.Min.Y+y)*p.w+box.Min.X:])
	}
	return part
}

// sharpened is a copy in which the difference of each pixel from its neighbours is
// doubled.
func (p *plane) sharpened() *plane {
	out := &plane{}
	out.resize(p.w, p.h)
	copy(out.pix, p.pix)
	for y := 1; y < p.h-1; y++ {
		up, mid, low := p.pix[(y-1)*p.w:y*p.w], p.pix[y*p.w:(y+1)*p.w], p.pix[(y+1)*p.w:(y+2)*p.w]
		row := out.pix[y*p.w : (y+1)*p.w]
		for x := 1; x < p.w-1; x++ {
			around := int(mid[x-1]) + int(mid[x+1]) + int(up[x]) + int(low[x])
			row[x] = byte(min(255, max(0, (8*int(mid[x])-around)/4)))
		}
	}
	return out
}
