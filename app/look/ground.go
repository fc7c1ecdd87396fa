package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// Edge is the side of a strip that carries a thin line.
type Edge int

// The edges.
const (
	Bottom Edge = iota // of the strip above the line: the top bar
	Right              // the rail
	Top                // the footer
	Left               // a card that lies over the work
)

// plain is a widget that is only painted. A bare canvas.Rectangle keeps its colour
// when the theme changes.
type plain struct {
	widget.BaseWidget
	fill, line fyne.ThemeColorName
	edge       Edge
}

// NewGround is the ground of the window.
func NewGround() fyne.CanvasObject { return newPlain(ColorGround, "", Bottom) }

// OnGround sets an object on the ground of the window.
func OnGround(o fyne.CanvasObject) fyne.CanvasObject { return Over(NewGround(), o) }

// Over sets objects over one another, the last one in front.
func Over(objects ...fyne.CanvasObject) fyne.CanvasObject {
	return container.NewStack(objects...)
}

// strip is a plain that keeps taps, and the pointer, from what lies behind it: the toolkit
// finds what is clipped away by a scroller around a scroller.
type strip struct{ plain }

// NewStrip is a white strip of the frame with a thin line along one of its edges.
func NewStrip(e Edge) fyne.CanvasObject {
	s := &strip{plain{fill: ColorPanel, line: ColorLine, edge: e}}
	s.ExtendBaseWidget(s)
	return s
}

// Tapped does nothing.
func (s *strip) Tapped(*fyne.PointEvent) {}

// TappedSecondary does nothing.
func (s *strip) TappedSecondary(*fyne.PointEvent) {}

// MouseIn does nothing.
func (s *strip) MouseIn(*desktop.MouseEvent) {}

// MouseMoved does nothing.
func (s *strip) MouseMoved(*desktop.MouseEvent) {}

// MouseOut does nothing.
func (s *strip) MouseOut() {}

// NewShade is the ground behind a card that lies over the work.
func NewShade() fyne.CanvasObject { return newPlain(ColorGround, ColorLine, Left) }

// NewRule is a thin line across.
func NewRule() fyne.CanvasObject { return newPlain("", ColorLine, Top) }

func newPlain(fill, line fyne.ThemeColorName, e Edge) *plain {
	p := &plain{fill: fill, line: line, edge: e}
	p.ExtendBaseWidget(p)
	return p
}

// CreateRenderer paints the area and its line.
func (p *plain) CreateRenderer() fyne.WidgetRenderer {
	area, line := newBox(), newBox()
	r := &drawn{objects: []fyne.CanvasObject{area, line}}
	r.min = func() fyne.Size { return fyne.NewSize(1, 1) }
	r.layout = func(size fyne.Size) {
		place(area, 0, 0, size.Width, size.Height)
		switch p.edge {
		case Bottom:
			place(line, 0, size.Height-1, size.Width, 1)
		case Right:
			place(line, size.Width-1, 0, 1, size.Height)
		case Left:
			place(line, 0, 0, 1, size.Height)
		default:
			place(line, 0, 0, size.Width, 1)
		}
	}
	r.refresh = func() {
		setBox(area, p.fill, "", 0, 0)
		setBox(line, p.line, "", 0, 0)
	}
	return r.ready(p)
}

// wordmark is the name of the program on the top bar. A bare canvas.Text keeps its
// colour and size when the theme changes.
type wordmark struct {
	widget.BaseWidget
	name string
}

// NewWordmark is the name of the program.
func NewWordmark(name string) fyne.CanvasObject {
	w := &wordmark{name: name}
	w.ExtendBaseWidget(w)
	return w
}

// CreateRenderer writes the name.
func (w *wordmark) CreateRenderer() fyne.WidgetRenderer {
	text := canvas.NewText("", nil)
	r := &drawn{objects: []fyne.CanvasObject{text}}
	r.min = func() fyne.Size { return roleFigure().measure(w.name) }
	r.layout = func(size fyne.Size) { placeText(text, 0, 0, size.Height) }
	r.refresh = func() { roleFigure().set(text, w.name, ColorInk) }
	return r.ready(w)
}
