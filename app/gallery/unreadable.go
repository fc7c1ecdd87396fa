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

// Least sizes of writing, in points at normal size: of all, and of a number that would else
// have to be cut.
const (
	LeastText   = 13
	leastNumber = 11.5
)

// box is the area that a text must stay within, in points of the picture.
type box struct{ x, y, w, h float32 }

func (b box) String() string {
	return fmt.Sprintf("%.0f,%.0f %.0fx%.0f", b.x, b.y, b.w, b.h)
}

// Unreadable lays a state out in a mode and says of every text that sticks out of the
// picture, or out of a widget that holds it, where that is, and of every text that is too
// small, or too faint on what lies behind it. What scrolls may be below the edge.
func Unreadable(s State, m Mode, renderer func(fyne.Widget) fyne.WidgetRenderer) []string {
	return UnreadableIn(canvas(s, m), LeastText, renderer)
}

// UnreadableIn says the same of what a canvas shows, questions over it included, and of what
// is smaller than least (points at normal size; 0 for any size).
func UnreadableIn(c fyne.Canvas, least float32, renderer func(fyne.Widget) fyne.WidgetRenderer) []string {
	layers := append([]fyne.CanvasObject{c.Content()}, c.Overlays().List()...)
	for _, layer := range layers {
		for _, o := range shown(layer, renderer) {
			o.MinSize() // a window asks before every frame, which must change nothing
		}
	}
	size := c.Size()
	w := walker{renderer: renderer, least: enoughContrast, smallest: look.Px(least)}
	if th, ok := fyne.CurrentApp().Settings().Theme().(look.Theme); ok && th.Shop {
		w.least = enoughInShopMode
	}
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

// walker collects what cannot be read.
type walker struct {
	renderer func(fyne.Widget) fyne.WidgetRenderer
	least    float64 // contrast
	smallest float32 // writing, in points as drawn; 0 for any
	painted  []paint // the areas painted so far, from back to front
	found    []string
}

func (w *walker) walk(o fyne.CanvasObject, at fyne.Position, within box) {
	if o == nil || !o.Visible() {
		return
	}
	at = at.Add(o.Position())
	switch c := o.(type) {
	case *fynecanvas.Rectangle:
		w.paint(c, at)
	case *fynecanvas.Text:
		w.text(c, at, within)
		w.contrast(c, at)
	case *container.Scroll:
		inside := box{at.X, at.Y - 1e6, c.Size().Width, 2e6}
		if c.Direction == container.ScrollBoth {
			inside.x, inside.w = at.X-1e6, 2e6
		}
		w.walk(c.Content, at, inside)
	case *fyne.Container:
		for _, child := range c.Objects {
			w.walk(child, at, within)
		}
	case fyne.Widget:
		if typed(c) {
			return // what is typed into a field scrolls within it
		}
		if _, ok := c.(*look.CabinetView); ok {
			defer func(before float32) { w.smallest = before }(w.smallest)
			w.smallest = 0 // numbers of drawers shrink with the picture
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
	least := w.smallest
	if strings.ContainsFunc(t.Text, unicode.IsDigit) {
		least *= leastNumber / LeastText
	}
	if t.TextSize < least-0.01 {
		w.found = append(w.found, fmt.Sprintf("%q is %.1f points high, less than %.1f", t.Text, t.TextSize, least))
	}
	if halved(t.Text) {
		w.found = append(w.found, fmt.Sprintf("%q is cut within a number", t.Text))
	}
	if before, cut := strings.CutSuffix(t.Text, dots); cut && before != "" && len([]rune(before)) < leastLeft {
		w.found = append(w.found, fmt.Sprintf("nothing that says anything is left in %q", t.Text))
	}
	size := t.MinSize()
	is := box{at.X, at.Y, size.Width, size.Height}
	out := is.x < within.x-slack || is.y < within.y-slack ||
		is.x+is.w > within.x+within.w+slack || is.y+is.h > within.y+within.h+slack
	if out {
		w.found = append(w.found, fmt.Sprintf("%q at %v sticks out of %v", t.Text, is, within))
	}
}

// leastLeft is how many signs of a text have to be left where it is cut off.
const leastLeft = 4

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
