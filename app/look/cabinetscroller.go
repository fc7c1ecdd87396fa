package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// The least size of a front of a large picture, in points at normal size: its number and
// what lies in it are read, unbroken where a prefix allows it.
const (
	leastFront     = 88
	leastFrontHigh = 88
)

// CabinetScroller shows a large picture of a cabinet whose fronts are wide and high enough
// to be read: what does not fit scrolls, both ways, and the drawer that the keyboard is at,
// or the lit one, is in sight. It is a container.Scroll that asks the cabinet for its size.
type CabinetScroller struct {
	widget.BaseWidget
	view   *CabinetView
	scroll *container.Scroll
}

// NewCabinetScroller shows that picture.
func NewCabinetScroller(view *CabinetView) *CabinetScroller {
	s := &CabinetScroller{view: view}
	s.scroll = container.NewScroll(container.New(&readableLayout{view}, view))
	view.onCursor = s.reveal
	s.ExtendBaseWidget(s)
	return s
}

// readableLayout asks for so much room for a picture that its fronts can be read.
type readableLayout struct{ view *CabinetView }

func (l *readableLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	_, gap := l.view.frontHeight()
	cols, rows := float32(max(1, l.view.cabinet.Cols)), float32(max(1, l.view.rows()))
	return fyne.NewSize(cols*(Px(leastFront)+gap)+gap, rows*(Px(leastFrontHigh)+gap)+gap)
}

func (l *readableLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) { l.view.Resize(size) }

// reveal scrolls so that the drawer at the cursor, and half of one beside it, is in sight.
func (s *CabinetScroller) reveal() {
	if s.view.cursor < 0 || s.view.cursor >= len(s.view.cabinet.Drawers) {
		return
	}
	at, size := s.view.cell(s.view.cursor, s.view.Size())
	room := s.scroll.Size()
	along := func(offset, at, size, room, whole float32) float32 {
		beside := min(size/2, (room-size)/2)
		return max(0, min(max(offset, at+size+beside-room), at-beside, whole-room))
	}
	s.scroll.ScrollToOffset(fyne.NewPos(
		along(s.scroll.Offset.X, at.X, size.Width, room.Width, s.view.Size().Width),
		along(s.scroll.Offset.Y, at.Y, size.Height, room.Height, s.view.Size().Height),
	))
}

// HeightFor is how high the picture wants to be.
func (s *CabinetScroller) HeightFor(width float32) float32 { return s.view.HeightFor(width) }

func (s *CabinetScroller) stretches() {}

// CreateRenderer draws the picture.
func (s *CabinetScroller) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{s.scroll}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(2*leastFront), Px(2*leastFrontHigh)) }
	r.layout = func(size fyne.Size) {
		place(s.scroll, 0, 0, size.Width, size.Height)
		s.scroll.Refresh()
		s.reveal()
	}
	r.refresh = func() { s.scroll.Refresh() }
	return r.ready(s)
}
