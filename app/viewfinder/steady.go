package viewfinder

import (
	"image"
	"slices"

	"stowright/app/session"
	"stowright/labels/scan"
)

// steady keeps codes outlined that one or two pictures of a camera miss, because the hand
// shook or a reflection passed over them, so that the outlines do not flicker. They are
// moved as the other codes have moved.
type steady struct {
	held    []held
	picture [sketchSize]uint8 // thumbnail of the last picture
}

// held is a code that is outlined.
type held struct {
	session.Reading
	missed int // pictures since it was read
}

// Limits of holding.
const (
	mostMissed = 2  // pictures
	sameScene  = 14 // of 255: least mean difference of brightness between two scenes
)

// take returns the codes to be outlined in a picture: those read now, and those held.
func (s *steady) take(picture image.Image, now []session.Reading) []session.Reading {
	before := s.picture
	s.picture = sketch(picture)
	shift, common := s.shift(now)
	still := common || unlike(&before, &s.picture) < sameScene
	list := make([]held, 0, len(now)+len(s.held))
	for _, r := range now {
		list = append(list, held{Reading: r})
	}
	for _, h := range s.held {
		h.missed++
		for i := range h.Code.Corners {
			h.Code.Corners[i].X += shift.X
			h.Code.Corners[i].Y += shift.Y
		}
		if still && h.missed <= mostMissed && !slices.ContainsFunc(now, func(r session.Reading) bool {
			return r.Code.Text == h.Code.Text || overlap(&r.Code.Corners, &h.Code.Corners)
		}) {
			list = append(list, h)
		}
	}
	s.held = list
	all := make([]session.Reading, 0, len(list))
	for _, h := range list {
		all = append(all, h.Reading)
	}
	return all
}

// shift is the median motion of the held codes that were read again; ok reports whether
// there are any.
func (s *steady) shift(now []session.Reading) (by scan.Point, ok bool) {
	var x, y []float64
	for _, r := range now {
		for _, h := range s.held {
			if h.Code.Text == r.Code.Text {
				a, b := middle(&h.Code.Corners), middle(&r.Code.Corners)
				x, y = append(x, b.X-a.X), append(y, b.Y-a.Y)
			}
		}
	}
	if len(x) == 0 {
		return by, false
	}
	slices.Sort(x)
	slices.Sort(y)
	return scan.Point{X: x[len(x)/2], Y: y[len(y)/2]}, true
}

func middle(corners *[4]scan.Point) (m scan.Point) {
	for _, c := range corners {
		m.X, m.Y = m.X+c.X/4, m.Y+c.Y/4
	}
	return m
}

// overlap reports whether one code covers the middle of another, as a label does that was
// put in its place.
func overlap(a, b *[4]scan.Point) bool {
	p, q := middle(a), middle(b)
	dx, dy := p.X-q.X, p.Y-q.Y
	w, h := a[2].X-a[0].X, a[2].Y-a[0].Y
	return 4*(dx*dx+dy*dy) < w*w+h*h
}

// The size of a thumbnail in pixels.
const (
	sketchWide = 16
	sketchHigh = 9
	sketchSize = sketchWide * sketchHigh
)

func sketch(picture image.Image) (s [sketchSize]uint8) {
	b := picture.Bounds()
	for i := range s {
		x, y := b.Min.X+(2*(i%sketchWide)+1)*b.Dx()/(2*sketchWide), b.Min.Y+(2*(i/sketchWide)+1)*b.Dy()/(2*sketchHigh)
		r, g, bl, _ := picture.At(x, y).RGBA()
		s[i] = uint8((r + 2*g + bl) >> 10)
	}
	return s
}

// unlike is the mean difference of brightness of two thumbnails.
func unlike(a, b *[sketchSize]uint8) int {
	sum := 0
	for i := range a {
		sum += max(int(a[i])-int(b[i]), int(b[i])-int(a[i]))
	}
	return sum / sketchSize
}
