package viewfinder

import (
	"image"
	"slices"

	"stowright/app/session"
	"stowright/labels/scan"
)

// steady keeps codes lit that a picture or two of a camera miss, because the hand
// shook or a reflection went over them: what flickers cannot be looked at. They go
// where the others in the picture went.
type steady struct {
	lit     []held
	picture [sketchSize]uint8 // the last one, roughly
}

// held is a code that is lit.
type held struct {
	session.Reading
	missed int // pictures since it was seen
}

// Limits of holding.
const (
	mostMissed = 2  // pictures
	sameScene  = 14 // of 255, the mean difference of brightness of pictures that show the same
)

// take gives the codes to be lit in a picture in which some were seen.
func (s *steady) take(picture image.Image, now []session.Reading) []session.Reading {
	before := s.picture
	s.picture = sketch(picture)
	shift, common := s.shift(now)
	still := common || unlike(&before, &s.picture) < sameScene
	lit := make([]held, 0, len(now)+len(s.lit))
	for _, r := range now {
		lit = append(lit, held{Reading: r})
	}
	for _, h := range s.lit {
		h.missed++
		for i := range h.Code.Corners {
			h.Code.Corners[i].X += shift.X
			h.Code.Corners[i].Y += shift.Y
		}
		if still && h.missed <= mostMissed && !slices.ContainsFunc(now, func(r session.Reading) bool {
			return r.Code.Text == h.Code.Text || overlap(&r.Code.Corners, &h.Code.Corners)
		}) {
			lit = append(lit, h)
		}
	}
	s.lit = lit
	all := make([]session.Reading, 0, len(lit))
	for _, h := range lit {
		all = append(all, h.Reading)
	}
	return all
}

// shift is how far the codes went that were lit and are seen again, and whether there
// are any.
func (s *steady) shift(now []session.Reading) (by scan.Point, ok bool) {
	var x, y []float64
	for _, r := range now {
		for _, h := range s.lit {
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

// overlap says whether one code lies over the middle of another, as a label does that
// was put in its place.
func overlap(a, b *[4]scan.Point) bool {
	p, q := middle(a), middle(b)
	dx, dy := p.X-q.X, p.Y-q.Y
	w, h := a[2].X-a[0].X, a[2].Y-a[0].Y
	return 4*(dx*dx+dy*dy) < w*w+h*h
}

// A picture's sketch is so many brightnesses across and down.
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

// unlike is the mean difference of two sketches.
func unlike(a, b *[sketchSize]uint8) int {
	sum := 0
	for i := range a {
		sum += max(int(a[i])-int(b[i]), int(b[i])-int(a[i]))
	}
	return sum / sketchSize
}
