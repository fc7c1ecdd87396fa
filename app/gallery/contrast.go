package gallery

import (
	"fmt"
	"image/color"

	"fyne.io/fyne/v2"
	fynecanvas "fyne.io/fyne/v2/canvas"

	"stowright/app/look"
)

// Least contrasts of writing, of WCAG 2.1: 1.4.3 and 1.4.6.
const (
	enoughContrast   = 4.5
	enoughInShopMode = 7
)

// paint is an area of one opaque colour.
type paint struct {
	box
	color color.NRGBA
}

func (w *walker) paint(r *fynecanvas.Rectangle, at fyne.Position) {
	c := color.NRGBAModel.Convert(r.FillColor).(color.NRGBA)
	if c.A == 0xFF {
		w.painted = append(w.painted, paint{box{at.X, at.Y, r.Size().Width, r.Size().Height}, c})
	}
}

// contrast looks at a text and at what lies behind its middle.
func (w *walker) contrast(t *fynecanvas.Text, at fyne.Position) {
	ink := color.NRGBAModel.Convert(t.Color).(color.NRGBA)
	if t.Text == "" || ink.A != 0xFF {
		return
	}
	size := t.MinSize()
	x, y := at.X+size.Width/2, at.Y+size.Height/2
	for i := len(w.painted) - 1; i >= 0; i-- {
		p := w.painted[i]
		if x < p.x || x >= p.x+p.w || y < p.y || y >= p.y+p.h {
			continue
		}
		if got := look.Contrast(ink, p.color); got < w.least-0.005 {
			w.found = append(w.found, fmt.Sprintf("%q has a contrast of %.2f, less than %.1f", t.Text, got, w.least))
		}
		return
	}
}
