package demo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"

	"stowright/store"
)

// photographs are the pictures that the demo's builder took on the day of arrival, of
// what is damaged. They are drawn here: the demo shop shows nobody's own things.
var photographs = []struct {
	line    store.LineID // of a list that was just brought in: its number
	caption string
	shade   func(x, y float64) (r, g, b float64) // x to the right and y down in picture heights, colours 0 to 1
}{
	{5, "Dent 1 1/2 in across, as it lay in the crate", dentedSkin},
	{24, "The first three turns of one rod-end are crushed", badThread},
}

// AddPhotos brings the pictures of what is damaged in, and returns how many.
func AddPhotos(shop *store.Shop, shipment string) (n int, err error) {
	for _, p := range photographs {
		picture, err := drawPhoto(p.shade)
		if err != nil {
			return n, err
		}
		if _, _, err := shop.AddPhoto(store.OfLine(shipment, p.line), p.caption, picture); err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

// Size of the drawn pictures in pixels.
const drawnWidth, drawnHeight = 960, 720

func drawPhoto(shade func(x, y float64) (r, g, b float64)) ([]byte, error) {
	p := image.NewRGBA(image.Rect(0, 0, drawnWidth, drawnHeight))
	for y := range drawnHeight {
		for x := range drawnWidth {
			r, g, b := shade(float64(x)/drawnHeight, float64(y)/drawnHeight)
			p.SetRGBA(x, y, color.RGBA{level(r), level(g), level(b), 0xff})
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p, &jpeg.Options{Quality: 85}); err != nil {
		return nil, fmt.Errorf("drawing a photograph of the demo: %w", err)
	}
	return out.Bytes(), nil
}

func level(v float64) uint8 { return uint8(255 * min(max(v, 0), 1)) }

// dentedSkin is bare sheet with a row of rivet holes and a dent, lit from the upper
// left, on a bench with a rule beside it.
func dentedSkin(x, y float64) (r, g, b float64) {
	if y > .86 { // the rule, marked every twentieth
		mark := math.Mod(x, .05) < .004 && y < .91 || math.Mod(x, .25) < .006 && y < .94
		if mark {
			return .1, .1, .1
		}
		return .93, .86, .55
	}
	brushed := .015 * math.Sin(900*y+3*math.Sin(40*x))
	light := .72 - .12*x + brushed
	// The dent is a bowl: its walls are lit by how they lean.
	dx, dy := (x-.74)/.19, (y-.45)/.14
	if d := math.Hypot(dx, dy); d < 1.6 {
		lean := d * math.Exp(-2*d*d) * 2.2
		light += lean * (dx + dy) / (math.Hypot(dx, dy) + .001) * .35
	}
	for i := range 13 { // holes along the edge
		hole := math.Hypot(x-.06-float64(i)*.1, y-.1)
		switch {
		case hole < .012:
			return .12, .12, .13
		case hole < .016:
			light -= .2
		}
	}
	return light, light + .01, light + .03
}

// badThread is a rod-end lying on a cloth: a shank with turns of thread, of which the
// first ones are crushed, and its eye.
func badThread(x, y float64) (r, g, b float64) {
	weave := .02 * (math.Sin(260*x) + math.Sin(260*y))
	r, g, b = .34+weave, .40+weave, .37+weave
	if eye := math.Hypot(x-1.02, y-.48); eye < .21 {
		steel := .62 + .25*math.Cos(5*(y-.36))
		if eye < .085 {
			return r * .45, g * .45, b * .45
		}
		if eye < .12 {
			steel += .15
		}
		return steel, steel, steel + .02
	}
	if x < .16 || x > .9 {
		return r, g, b
	}
	half := .068
	turn := math.Sin(2 * math.Pi * x / .022)
	if x < .24 { // crushed flat on one side
		turn = .4 * math.Sin(2*math.Pi*x/.03+20*y)
		if y < .48 {
			half = .055 + .006*math.Sin(90*x)
		}
	}
	from := y - .48
	if math.Abs(from) > half+.006*turn {
		return r, g, b
	}
	round := math.Sqrt(max(0, 1-from*from/(half*half*1.2)))
	steel := .22 + .5*round + .13*turn
	if x < .24 && y < .48 {
		steel += .2 // bright where the metal was scraped
	}
	return steel, steel, steel + .02
}
