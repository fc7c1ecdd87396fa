package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Panel is white paper on the ground: a rounded box with a thin edge around what it
// holds, with its own padding. A widget.Card has a fixed padding and does not ask
// wrapped text for its height.
type Panel struct {
	widget.BaseWidget
	content *fyne.Container
}

// NewPanel puts o on a panel with that padding (points at normal size).
func NewPanel(padding float32, o fyne.CanvasObject) *Panel {
	p := &Panel{content: Inset(padding, padding, o)}
	p.ExtendBaseWidget(p)
	return p
}

// HeightFor is how high the panel has to be at that width.
func (p *Panel) HeightFor(width float32) float32 { return heightFor(p.content, width) }

// CreateRenderer draws the panel.
func (p *Panel) CreateRenderer() fyne.WidgetRenderer {
	box := newBox()
	r := &drawn{objects: []fyne.CanvasObject{box, p.content}}
	r.min = func() fyne.Size { return p.content.MinSize() }
	r.layout = func(size fyne.Size) {
		place(box, 0, 0, size.Width, size.Height)
		place(p.content, 0, 0, size.Width, size.Height)
	}
	r.refresh = func() {
		setBox(box, ColorPanel, ColorLine, 1, radius)
		p.content.Refresh()
	}
	return r.ready(p)
}

// scrollBleed is how far a scroller reaches over its own edges, so that the thin
// edges of boxes in it are not cut, in points.
const scrollBleed = 2

// gutterLayout keeps room at the right of its object for a scroll bar.
type gutterLayout struct{ gutter float32 }

func (l *gutterLayout) heightFor(objects []fyne.CanvasObject, width float32) float32 {
	return leastFor(objects[0], width-l.gutter-2*scrollBleed) + 2*scrollBleed
}

func (l *gutterLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return objects[0].MinSize().AddWidthHeight(l.gutter+2*scrollBleed, 2*scrollBleed)
}

func (l *gutterLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	place(objects[0], scrollBleed, scrollBleed, size.Width-l.gutter-2*scrollBleed, size.Height-2*scrollBleed)
}

// Scroller scrolls what does not fit, top to bottom, and keeps wrapped text whole.
// Of a Fill the list gives way first. It is a container.Scroll that asks wrapped
// text for its height at the width that there is.
type Scroller struct {
	widget.BaseWidget
	scroll *container.Scroll
	gutter *gutterLayout
	object fyne.CanvasObject
}

// NewScroller makes o scroll.
func NewScroller(o fyne.CanvasObject) *Scroller {
	s := &Scroller{gutter: &gutterLayout{}, object: o}
	s.scroll = container.NewVScroll(container.New(s.gutter, o))
	s.ExtendBaseWidget(s)
	return s
}

// ToTop scrolls to the top.
func (s *Scroller) ToTop() { s.scroll.ScrollToTop() }

// Reveal scrolls so that what stands there in the content is in sight.
func (s *Scroller) Reveal(top, height float32) {
	view := s.scroll.Size().Height
	offset := min(max(s.scroll.Offset.Y, top+height+2*scrollBleed-view), top)
	if offset != s.scroll.Offset.Y {
		s.scroll.ScrollToOffset(fyne.NewPos(0, offset))
	}
}

// HeightFor is the whole height of the content at that width.
func (s *Scroller) HeightFor(width float32) float32 { return heightFor(s.object, width) }

func (s *Scroller) stretches() {}

// CreateRenderer draws the scroller.
func (s *Scroller) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{s.scroll}}
	r.min = func() fyne.Size { return fyne.NewSize(s.object.MinSize().Width, Px(rowHeight)) }
	r.layout = func(size fyne.Size) {
		had := s.gutter.gutter
		s.gutter.gutter = 0
		if leastFor(s.object, size.Width) > size.Height+0.5 {
			s.gutter.gutter = Px(11)
		}
		content := s.scroll.Content
		w, h := size.Width+2*scrollBleed, size.Height+2*scrollBleed
		content.Resize(fyne.NewSize(w, max(h, heightFor(content, w))))
		if had != s.gutter.gutter { // the same size, another width for the object
			s.gutter.Layout([]fyne.CanvasObject{s.object}, content.Size())
		}
		place(s.scroll, -scrollBleed, -scrollBleed, w, h)
		s.scroll.Refresh()
	}
	r.refresh = func() { s.object.Refresh() }
	return r.ready(s)
}

// drawn is the renderer of every widget here: three functions and the objects.
// refresh sets texts and colours; layout follows it, since a text that changed
// may need another place.
type drawn struct {
	objects []fyne.CanvasObject
	min     func() fyne.Size
	layout  func(fyne.Size)
	refresh func()
	owner   fyne.Widget
}

// ready fills the objects once and returns the renderer.
func (d *drawn) ready(owner fyne.Widget) *drawn {
	d.owner = owner
	d.refresh()
	return d
}

// Destroy has nothing to free.
func (d *drawn) Destroy() {}

// Objects are what is drawn, from back to front.
func (d *drawn) Objects() []fyne.CanvasObject { return d.objects }

// MinSize is the least size of the widget.
func (d *drawn) MinSize() fyne.Size { return d.min() }

// Layout puts the objects where they belong.
func (d *drawn) Layout(size fyne.Size) { d.layout(size) }

// Refresh draws the widget's state again.
func (d *drawn) Refresh() {
	d.refresh()
	d.layout(d.owner.Size())
	canvas.Refresh(d.owner)
}
