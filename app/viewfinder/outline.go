package viewfinder

import (
	"image"
	"image/color"
	"image/draw"
	"math"

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
// on it.
func outline(picture image.Image, readings []session.Reading) *image.RGBA {
	b := picture.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx(), b.Dy()))
	draw.Draw(out, out.Bounds(), picture, b.Min, draw.Src)
	pen := max(2, b.Dx()/320)
	for _, r := range readings {
		c := otherColour
		if r.Answer == store.TagFound {
			c = foundColour
		}
		for i := range r.Code.Corners {
			line(out, shift(r.Code.Corners[i], b.Min), shift(r.Code.Corners[(i+1)%len(r.Code.Corners)], b.Min), pen, c)
		}
	}
	name(out, readings, b.Min)
	return out
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
