package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
)

// side is the card at the right, or what a screen shows in its place. In a narrow
// window it lies over the work: a card opens there by itself, since it was asked
// for; a screen's own pane stays closed until it is, or until it waits for Enter.
type side struct {
	object  *fyne.Container
	view    *look.CardView
	closing *look.KeyButton // seen where the card lies over the work
	over    bool            // lies over the work: the window is narrow
	open    bool            // whether it is seen there
	asks    bool            // a pane of a screen's own that waits for Enter
	before  bool            // whether it was open before it did
}

func newSide(closed func()) *side {
	s := &side{view: look.NewCardView(card.Card{}), closing: look.NewFootLink("Close", "Esc", closed)}
	s.object = container.New(&sideLayout{side: s})
	s.object.Hide()
	return s
}

// has reports whether there is anything to show.
func (s *side) has() bool { return len(s.object.Objects) > 0 }

// visible reports whether it is seen.
func (s *side) visible() bool { return s.has() && (s.open || !s.over) }

// waits reports whether there is something to open.
func (s *side) waits() bool { return s.has() && s.over && !s.open }

// own reports whether a screen's own pane is shown in place of the card.
func (s *side) own() bool {
	shown := s.object.Objects
	return len(shown) > 0 && shown[len(shown)-1] != fyne.CanvasObject(s.view)
}

func (s *side) card() card.Card {
	if !s.visible() || s.own() {
		return card.Card{}
	}
	return s.view.Card()
}

// press takes the action of the shown card with that key that has no button, and
// reports whether there is one.
func (s *side) press(key string) bool {
	for _, a := range s.card().More() {
		if a.Key != "" && a.Key == key && !a.Off {
			s.view.OnAction(a.ID)
			return true
		}
	}
	return false
}

func (s *side) show(c card.Card, act func(string)) {
	s.view.OnAction = act
	s.view.SetCard(c)
	s.open, s.asks = true, false
	s.set(s.view)
}

// offer shows a card that was not asked for: in a narrow window it stays closed
// until it is, so that it does not cover what is being typed.
func (s *side) offer(c card.Card, act func(string)) {
	open := s.open && s.has() && !s.own()
	s.show(c, act)
	s.open = open
}

func (s *side) showObject(o fyne.CanvasObject) {
	asks, open := look.HasKey(o, "Enter"), s.open && s.own()
	switch {
	case asks && !s.asks:
		s.before, s.open = open, true
	case s.asks && !asks:
		s.open = s.before
	default:
		s.open = open
	}
	s.asks = asks
	s.set(look.NewPanel(edge, o))
}

func (s *side) set(o fyne.CanvasObject) {
	s.object.Objects = []fyne.CanvasObject{look.NewShade(), s.closing, o}
	s.object.Refresh()
}

func (s *side) hide() {
	s.object.Objects = nil
	s.open, s.asks = false, false
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
