package desktop

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
)

// The left edges of the grid in the normal size: of the page, and of what stands on the card, in
// points. Within near of an edge everything stands on it.
const (
	pageEdge = 112
	cardEdge = 952
	near     = 5

	frameTop, frameFoot = 64, 770 // the page is between them
)

// drawnAt calls with every text and every box that is drawn, and where it is.
func drawnAt(o fyne.CanvasObject, at fyne.Position, with func(o fyne.CanvasObject, at fyne.Position)) {
	if o == nil || !o.Visible() {
		return
	}
	at = at.Add(o.Position())
	var inner []fyne.CanvasObject
	switch c := o.(type) {
	case *canvas.Text, *canvas.Rectangle, *look.Entry, *look.RowList, *look.CabinetView: // what is within these has a grid of its own
		with(o, at)
	case *fyne.Container:
		inner = c.Objects
	case *container.Scroll:
		inner = []fyne.CanvasObject{c.Content}
	case fyne.Widget:
		inner = test.WidgetRenderer(c).Objects()
	}
	for _, i := range inner {
		drawnAt(i, at, with)
	}
}

// Page, fields, panels, captions and links stand on one grid, on every page and every card.
func TestOneGrid(t *testing.T) {
	b := sit(t, demo.Unpacked)
	shots, err := Shots(b.Session)
	if err != nil {
		t.Fatal(err)
	}
	for _, shot := range shots {
		b.d.Go(shot.Route)
		b.Elapse()
		b.d.Rest()
		off, on := map[string]bool{}, 0
		drawnAt(b.d.Object(), fyne.Position{}, func(o fyne.CanvasObject, at fyne.Position) {
			for _, edge := range []float32{pageEdge, cardEdge} {
				by := at.X - edge
				switch {
				case by < -near || by > near || o.Size().Width < 2 || at.Y < frameTop || at.Y > frameFoot:
				case by < 0.5 && by > -0.5:
					on++
				default:
					what := fmt.Sprintf("a box of %.0f x %.0f", o.Size().Width, o.Size().Height)
					if text, ok := o.(*canvas.Text); ok {
						what = text.Text
					}
					off[fmt.Sprintf("%s at %.1f, %.0f", what, at.X, at.Y)] = true
				}
			}
		})
		for what := range off {
			t.Errorf("%s: %s", shot.Name, what)
		}
		if on < 2 {
			t.Errorf("%s: only %d things stand on the grid", shot.Name, on)
		}
	}
}
