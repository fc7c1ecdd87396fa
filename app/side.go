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
	close  *look.KeyButton // seen where the card lies over the work
	over   bool            // lies over the work: the window is narrow
}

func newSide(hide func()) *side {
	s := &side{view: look.NewCardView(card.Card{}), close: look.NewFootLink("Close", "Esc", hide)}
	s.object = container.New(&sideLayout{side: s})
	s.object.Hide()
	return s
}

func (s *side) visible() bool { return s.object.Visible() }

func (s *side) card() card.Card {
	shown := s.object.Objects
	if !s.visible() || len(shown) == 0 || shown[len(shown)-1] != fyne.CanvasObject(s.view) {
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
	s.object.Objects = []fyne.CanvasObject{look.NewShade(), s.close, o}
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
	if len(objects) < 3 {
		return
	}
	pad := look.Px(edge)
	shade, closing, content := objects[0], objects[1], objects[2]
	if !l.side.over {
		shade.Hide()
		closing.Hide()
		put(content, 0, pad, size.Width-pad, size.Height-2*pad)
		return
	}
	shade.Show()
	closing.Show()
	put(shade, 0, 0, size.Width, size.Height)
	w, h := closing.MinSize().Width, closing.MinSize().Height
	put(closing, size.Width-pad-w, look.Px(4), w, h)
	top := look.Px(8) + h
	put(content, pad, top, size.Width-2*pad, size.Height-top-pad)
}
