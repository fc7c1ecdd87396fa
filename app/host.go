package app

import (
	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
)

// Host is the window as a page is given it: all that a page may ask of the window, in
// one place. The window binds it to one visit of the page: what a page still asks for
// when the person has gone on is not shown. All of it is called on the window's
// goroutine. What needs only a part of it, such as a question, takes that part.
type Host interface {
	Navigator
	Asker
	Side
	CommandBar
}

// Navigator goes from page to page.
type Navigator interface {
	// Go leaves the page and shows that of a route. Going to the route that is shown
	// makes its page again.
	Go(to routes.Route)
	// Back returns to the page before, with its state, and reports whether there was one.
	Back() bool
}

// Asker speaks with the person.
type Asker interface {
	// Ask opens a question over the window; first, if not nil, gets the focus.
	Ask(d *look.Dialog, first fyne.Focusable)
	// Say shows one boxed sentence at the foot of the page until the next one, Esc, or
	// another page.
	Say(n notice.Notice)
	// Hush takes away what was said, and reports whether there was anything.
	Hush() bool
}

// Side is the right edge of the window: a card, or an object of the page's own.
type Side interface {
	// ShowCard shows a card and calls act with the ID of each action that is taken.
	ShowCard(c card.Card, act func(id string))
	// OfferCard is ShowCard for a card that follows typing: in a narrow window it does
	// not open over the page by itself.
	OfferCard(c card.Card, act func(id string))
	// ShowSide shows an object of the page's own in place of the card.
	ShowSide(o fyne.CanvasObject)
	// SideOver reports whether what is at the right lies over the page.
	SideOver() bool
	// HideCard takes away what is at the right; the page gets its room.
	HideCard()
}

// CommandBar is the field at the top of the window, and the keyboard.
type CommandBar interface {
	// SetCommand puts text into the command bar; nobody is asked about it.
	SetCommand(text string)
	// Command does what Enter does in the command bar with that text.
	Command(text string)
	// Rest takes the focus out of whatever has it, so that single keys work.
	Rest()
}

var _ Host = (*Frame)(nil)
