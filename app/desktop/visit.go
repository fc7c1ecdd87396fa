package desktop

import (
	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/loop"
)

// visit is the window as one page sees it. What a page has asked for may come
// back when the person has gone on to another page: then it is not shown.
type visit struct {
	*Desktop
	visit loop.Request // current while the page is shown
}

func (v *visit) shown() bool { return v.visit.Current() }

// ShowCard shows a card while the page is shown.
func (v *visit) ShowCard(c card.Card, act func(id string)) {
	if v.shown() {
		v.Desktop.ShowCard(c, act)
	}
}

// OfferCard shows a card that follows typing while the page is shown.
func (v *visit) OfferCard(c card.Card, act func(id string)) {
	if v.shown() {
		v.Desktop.OfferCard(c, act)
	}
}

// ShowSide shows an object in place of the card while the page is shown.
func (v *visit) ShowSide(o fyne.CanvasObject) {
	if v.shown() {
		v.Desktop.ShowSide(o)
	}
}

// HideCard takes the card away while the page is shown.
func (v *visit) HideCard() {
	if v.shown() {
		v.Desktop.HideCard()
	}
}

// SetCommand puts text into the command bar while the page is shown.
func (v *visit) SetCommand(text string) {
	if v.shown() {
		v.Desktop.SetCommand(text)
	}
}

// Hush takes away what was said while the page is shown.
func (v *visit) Hush() bool { return v.shown() && v.Desktop.Hush() }

// Ask asks a question while the page is shown.
func (v *visit) Ask(d *look.Dialog, first fyne.Focusable) {
	if v.shown() {
		v.Desktop.Ask(d, first)
	}
}
