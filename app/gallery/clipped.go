package gallery

import (
	"fmt"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	fynecanvas "fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"stowright/app/look"
)

// slack is how far a text may stick out: letters do not fill their boxes.
const slack = 1.5

// box is the area that a text must stay within, in points of the picture.
type box struct{ x, y, w, h float32 }

func (b box) String() string {
	return fmt.Sprintf("%.0f,%.0f %.0fx%.0f", b.x, b.y, b.w, b.h)
}

// Clipped lays a state out in a mode and says of every text that sticks out of
// the picture, or out of a widget that holds it, where that is. What scrolls may
// be below the edge.
func Clipped(s State, m Mode, renderer func(fyne.Widget) fyne.WidgetRenderer) []string {
	return ClippedIn(canvas(s, m), renderer)
}

// ClippedIn says the same of what a canvas shows, questions over it included.
func ClippedIn(c fyne.Canvas, renderer func(fyne.Widget) fyne.WidgetRenderer) []string {
	layers := append([]fyne.CanvasObject{c.Content()}, c.Overlays().List()...)
	for _, layer := range layers {
		for _, o := range shown(layer, renderer) {
			o.MinSize() // a window asks before every frame, which must change nothing
		}
	}
	size := c.Size()
	w := walker{renderer: renderer}
	for _, o := range layers {
		w.walk(o, fyne.NewPos(0, 0), box{w: size.Width, h: size.Height})
	}
	return w.found
}

// shown are all objects that a window would draw, from the outermost inwards.
func shown(o fyne.CanvasObject, renderer func(fyne.Widget) fyne.WidgetRenderer) []fyne.CanvasObject {
	if o == nil || !o.Visible() {
		return nil
	}
	all := []fyne.CanvasObject{o}
	var inner []fyne.CanvasObject
	switch c := o.(type) {
	case *fyne.Container:
		inner = c.Objects
	case fyne.Widget:
		inner = renderer(c).Objects()
	}
	for _, i := range inner {
		all = append(all, shown(i, renderer)...)
	}
	return all
}

// walker collects what sticks out.
type walker struct {
	renderer func(fyne.Widget) fyne.WidgetRenderer
	found    []string
}

func (w *walker) walk(o fyne.CanvasObject, at fyne.Position, within box) {
	if o == nil || !o.Visible() {
		return
	}
	at = at.Add(o.Position())
	switch c := o.(type) {
	case *fynecanvas.Text:
		w.text(c, at, within)
	case *container.Scroll:
		inside := box{at.X, at.Y - 1e6, c.Size().Width, 2e6}
		w.walk(c.Content, at, inside)
	case *fyne.Container:
		for _, child := range c.Objects {
			w.walk(child, at, within)
		}
	case fyne.Widget:
		if typed(c) {
			return // what is typed into a field scrolls within it
		}
		inside := within.cut(box{at.X, at.Y, c.Size().Width, c.Size().Height})
		for _, child := range w.renderer(c).Objects() {
			w.walk(child, at, inside)
		}
	}
}

// cut is the part of inner that lies within b; what scrolls keeps its own height.
func (b box) cut(inner box) box {
	if b.h > 1e5 {
		return box{max(b.x, inner.x), inner.y, min(b.x+b.w, inner.x+inner.w) - max(b.x, inner.x), inner.h}
	}
	x, y := max(b.x, inner.x), max(b.y, inner.y)
	return box{x, y, min(b.x+b.w, inner.x+inner.w) - x, min(b.y+b.h, inner.y+inner.h) - y}
}

func (w *walker) text(t *fynecanvas.Text, at fyne.Position, within box) {
	if t.Text == "" {
		return
	}
	if halved(t.Text) {
		w.found = append(w.found, fmt.Sprintf("%q is cut within a number", t.Text))
	}
	size := t.MinSize()
	is := box{at.X, at.Y, size.Width, size.Height}
	out := is.x < within.x-slack || is.y < within.y-slack ||
		is.x+is.w > within.x+within.w+slack || is.y+is.h > within.y+within.h+slack
	if out {
		w.found = append(w.found, fmt.Sprintf("%q at %v sticks out of %v", t.Text, is, within))
	}
}

// dots are what stands for the part of a text that was cut off.
const dots = "…"

// halved reports whether a text was cut within a word that has a figure in it: half a number
// is a wrong number.
func halved(text string) bool {
	for before, rest, cut := strings.Cut(text, dots); cut; before, rest, cut = strings.Cut(rest, dots) {
		word := before[strings.LastIndexFunc(before, unicode.IsSpace)+1:]
		if strings.ContainsFunc(word, unicode.IsDigit) {
			return true
		}
	}
	return false
}

// typed reports whether a widget is a field with something in it.
func typed(w fyne.Widget) bool {
	switch e := w.(type) {
	case *look.Entry:
		return e.Text != ""
	case *look.CommandEntry:
		return e.Text != ""
	}
	return false
}
