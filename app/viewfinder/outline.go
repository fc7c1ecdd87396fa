package viewfinder

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

	"stowright/app/session"
	"stowright/labels/scan"
	"stowright/store"
)

// Colours of the outlines: the highlight colour for a tag of the shop, the warning colour
// for any other code. The list says the same in words.
var (
	foundColour = color.RGBA{0xF2, 0xB7, 0x05, 0xFF}
	otherColour = color.RGBA{0x96, 0x28, 0x1B, 0xFF}
)

// outline returns a copy of a picture with the edges of its codes and their names drawn
// on it, and where what is looked for is: its code stands out from the others, which
// have thin edges and no names then.
func outline(picture image.Image, readings []session.Reading, h hint) *image.RGBA {
	b := picture.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Bounds(), picture, b.Min, draw.Src)
	pen := max(2, b.Dx()/320)
	named := readings
	if h.heading != "" {
		named = slices.DeleteFunc(slices.Clone(readings), func(r session.Reading) bool { return !slices.Contains(h.found, r.Code.Text) })
	}
	for _, r := range readings {
		c, wide := otherColour, pen
		if r.Answer == store.TagFound {
			c = foundColour
		}
		if len(named) < len(readings) {
			wide = max(1, pen/2)
		}
		edges(out, r.Code.Corners, b.Min, wide, c)
	}
	if h.heading != "" {
		for _, r := range named {
			edges(out, grown(r.Code.Corners), b.Min, 2*pen, foundColour)
		}
	}
	point(out, h, b.Min, pen)
	name(out, named, h, b.Min)
	return out
}

func edges(on *image.RGBA, corners [4]scan.Point, origin image.Point, pen int, c color.RGBA) {
	for i := range corners {
		line(on, shift(corners[i], origin), shift(corners[(i+1)%len(corners)], origin), pen, c)
	}
}

// grown are the corners of a frame around a code, with room for its quiet zone.
func grown(corners [4]scan.Point) [4]scan.Point {
	middle := scan.Point{}
	for _, c := range corners {
		middle.X, middle.Y = middle.X+c.X/4, middle.Y+c.Y/4
	}
	for i, c := range corners {
		corners[i] = scan.Point{X: c.X + (c.X-middle.X)*0.4, Y: c.Y + (c.Y-middle.Y)*0.4}
	}
	return corners
}

// point draws where a place is whose label was not read: a broken frame, or an arrow.
func point(on *image.RGBA, h hint, origin image.Point, pen int) {
	if h.outline != nil {
		for i := range h.outline {
			dashed(on, shift(h.outline[i], origin), shift(h.outline[(i+1)%len(h.outline)], origin), pen)
		}
	}
	if h.arrow != nil {
		tail, head := shift(h.arrow[0], origin), shift(h.arrow[1], origin)
		line(on, tail, head, 3*pen, foundColour)
		for _, side := range []float64{-1, 1} {
			dx, dy := tail.X-head.X, tail.Y-head.Y
			barb := scan.Point{X: head.X + 0.35*(dx+side*dy), Y: head.Y + 0.35*(dy-side*dx)}
			line(on, head, barb, 3*pen, foundColour)
		}
	}
}

// dashes is how many dashes the edge of a broken frame has.
const dashes = 6

func dashed(on *image.RGBA, a, b scan.Point, pen int) {
	at := func(t float64) scan.Point { return scan.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t} }
	for i := range dashes {
		line(on, at(float64(i)/dashes), at((float64(i)+0.6)/dashes), 2*pen, foundColour)
	}
}

func shift(p scan.Point, origin image.Point) scan.Point {
	return scan.Point{X: p.X - float64(origin.X), Y: p.Y - float64(origin.Y)}
}

// line draws a line as a row of squares of pen pixels.
func line(on *image.RGBA, a, b scan.Point, pen int, c color.RGBA) {
	steps := int(math.Ceil(math.Max(math.Abs(b.X-a.X), math.Abs(b.Y-a.Y)))) + 1
	for i := range steps + 1 {
		t := float64(i) / float64(steps)
		x, y := int(a.X+(b.X-a.X)*t), int(a.Y+(b.Y-a.Y)*t)
		draw.Draw(on, image.Rect(x-pen/2, y-pen/2, x-pen/2+pen, y-pen/2+pen), image.NewUniform(c), image.Point{}, draw.Src)
	}
}
