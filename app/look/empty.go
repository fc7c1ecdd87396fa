package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// EmptyState says on a page or in a list that has nothing to show what to do next,
// with the buttons that do it. Fyne has nothing like it; it is made of the widgets
// here.
type EmptyState struct {
	widget.BaseWidget
	body *fyne.Container
}

// NewEmptyState is a heading, a sentence, and buttons.
func NewEmptyState(title, next string, buttons ...*KeyButton) *EmptyState {
	e := &EmptyState{body: Rows(12, NewTitle(title), NewQuiet(next))}
	if len(buttons) > 0 {
		line := Line()
		for _, b := range buttons {
			line.Add(b)
		}
		e.body.Add(line)
	}
	e.ExtendBaseWidget(e)
	return e
}

func (e *EmptyState) held() []fyne.CanvasObject { return []fyne.CanvasObject{e.body} }

func (e *EmptyState) stretches() {}

// HeightFor is how high it has to be at that width.
func (e *EmptyState) HeightFor(width float32) float32 {
	return heightFor(e.body, e.width(width)) + 2*Px(20)
}

// width is the measure of the text: lines longer than this are hard to read.
func (e *EmptyState) width(all float32) float32 { return max(Px(100), min(all, Px(560))) }

// CreateRenderer draws it a third down its room.
func (e *EmptyState) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{e.body}}
	r.min = func() fyne.Size { return e.body.MinSize().AddWidthHeight(0, 2*Px(20)) }
	r.layout = func(size fyne.Size) {
		w := e.width(size.Width)
		h := heightFor(e.body, w)
		place(e.body, 0, max(Px(20), (size.Height-h)/4), w, h)
	}
	r.refresh = func() { e.body.Refresh() }
	return r.ready(e)
}
