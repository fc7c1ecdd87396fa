package app

import (
	"fyne.io/fyne/v2"

	"stowright/app/routes"
)

// Page is what a screen shows in the work area. The frame asks a page for further
// abilities through the small interfaces below; a page has only those it needs.
// Screens need not import this package: having the methods is enough.
type Page interface {
	// Object is the page's one canvas object. Asked once a visit.
	Object() fyne.CanvasObject
}

// Titled is a page with a title for the window's own title bar.
type Titled interface{ Title() string }

// KeyHandler is a page with keys of its own besides its KeyButtons, which work by
// themselves. A key is named as on a KeyButton: "A", "+", "F6", "Enter", "Esc",
// "Down". HandleKey is asked when nothing has the focus or the focused widget has
// no use for the key, and reports whether it dealt with it.
type KeyHandler interface{ HandleKey(key string) bool }

// Querier is a page that follows the command bar as it is typed into, as Find
// does. Query reports whether the page took the text.
type Querier interface{ Query(text string) bool }

// AnswersTyping is a page whose field is the command bar: it has the focus when the page is
// gone to, so that what is typed is its question.
type AnswersTyping interface{ AnswersTyping() bool }

// Results is a page with a list that the down arrow goes to from the command bar.
type Results interface{ Results() fyne.Focusable }

// FirstFocus is a page of which one part is worked with first: a list, a field. First is
// asked when the page has read what it shows; nil for nothing.
type FirstFocus interface{ First() fyne.Focusable }

// Saver is a page that keeps its state when it is left. Saved is handed to
// Restore of the page that the same route makes when Back returns to it.
type Saver interface {
	Saved() any
	Restore(saved any)
}

// Leaver is a page that has something to stop when it is left: a camera, a search.
type Leaver interface{ Leave() }

// GivesWay is a page that makes do with less width, or reports whether it does as it
// stands: in a window as narrow as one in the larger size it has its card beside it,
// where other pages are covered by theirs.
type GivesWay interface{ GivesWay() bool }

func givesWay(p Page) bool {
	g, ok := p.(GivesWay)
	return ok && g.GivesWay()
}

// Seeker is a page on which an item is chosen that the camera can look for.
type Seeker interface {
	// Seeks is its part number; empty while none is chosen.
	Seeks() string
}

// Screen is what the window knows of a screen before it makes its page.
type Screen struct {
	Name  string // as in routes.Route
	Title string // its word: under its icon on the rail, and in the list of F1
	// Icon is its icon of assets/icons on the rail; empty for a screen that is not on
	// the rail. Those that are get Ctrl and their number as a key.
	Icon string
	// Key goes there from everywhere: "F2". Empty on the rail, and for a page that only
	// other pages lead to.
	Key  string
	Help string // what a person does there, in one sentence
}

// Factory makes the page for a route. An error is shown to the person in place of
// the page, as a sentence with what to do next.
type Factory func(routes.Route) (Page, error)
