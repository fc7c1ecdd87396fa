package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
)

// side is the card at the right, or what a screen shows in its place.
type side struct {
	object *fyne.Container
	view   *look.CardView
	over   bool // lies over the work: the window is narrow
}

func newSide() *side {
	s := &side{view: look.NewCardView(card.Card{})}
	s.object = container.New(&sideLayout{side: s})
	s.object.Hide()
	return s
}

func (s *side) visible() bool { return s.object.Visible() }

func (s *side) card() card.Card {
	if !s.visible() || len(s.object.Objects) == 0 || s.object.Objects[len(s.object.Objects)-1] != fyne.CanvasObject(s.view) {
		return card.Card{}
	}
	return s.view.Card()
}

func (s *side) show(c card.Card, act func(string)) {
	s.view.OnAction = act
	s.view.SetCard(c)
	s.set(s.view)
}

func (s *side) showObject(o fyne.CanvasObject) { s.set(look.NewPanel(edge, o)) }

func (s *side) set(o fyne.CanvasObject) {
	s.object.Objects = []fyne.CanvasObject{look.NewShade(), o}
	s.object.Show()
	s.object.Refresh()
}

func (s *side) hide() {
	s.object.Objects = nil
	s.object.Hide()
}

// sideLayout keeps space around the card and, where it lies over the work, sets a
// ground behind it.
type sideLayout struct{ side *side }

func (l *sideLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(200), look.Px(200))
}

func (l *sideLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	if len(objects) < 2 {
		return
	}
	pad := look.Px(edge)
	shade, content := objects[0], objects[1]
	if l.side.over {
		shade.Show()
		put(shade, 0, 0, size.Width, size.Height)
	} else {
		shade.Hide()
	}
	x := float32(0)
	if l.side.over {
		x = pad
	}
	put(content, x, pad, size.Width-x-pad, size.Height-2*pad)
}
