// Package apptest is the window as pages see it, for their tests: it keeps what
// it is asked. It draws nothing of its own; app.Frame is the window itself.
package apptest

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/store/output"
)

// Window keeps what a page asks of it, the last of each.
type Window struct {
	Canvas fyne.Canvas // on which questions are opened

	Route routes.Route
	Backs int // how often it was asked to go back

	Dialog *look.Dialog
	First  fyne.Focusable // what has the focus in it
	Said   notice.Notice

	Card   card.Card
	Act    func(id string)
	Side   fyne.CanvasObject
	Sides  int // how often a side was shown
	Hidden int // how often card or side was taken away

	Query  string // that was put into the command bar
	Typed  string // that was done as if it were typed there
	Rested int    // how often the keys were given to the page
}

var _ app.Host = (*Window)(nil)

// NewWindow is a window in the light theme, for one test.
func NewWindow(t testing.TB) *Window {
	t.Helper()
	look.Theme{Mode: look.Light}.Apply()
	return &Window{Canvas: test.NewTempWindow(t, look.NewText("")).Canvas()}
}

// Go notes the route.
func (w *Window) Go(to routes.Route) { w.Route = to }

// Back counts, and reports that there was a page before.
func (w *Window) Back() bool { w.Backs++; return true }

// Ask opens the question.
func (w *Window) Ask(d *look.Dialog, first fyne.Focusable) {
	w.Dialog, w.First = d, first
	d.Open(w.Canvas, first)
}

// Asking reports whether a question is open.
func (w *Window) Asking() bool { return w.Canvas.Overlays().Top() != nil }

// Answer types into the field of the question that is open, and presses a key in it.
func (w *Window) Answer(t testing.TB, text, key string) {
	t.Helper()
	entry, ok := w.First.(*look.Entry)
	if !ok {
		t.Fatalf("no field: %T has the focus", w.First)
	}
	entry.SetText(text)
	w.Dialog.Key(key)
}

// Say notes what is said.
func (w *Window) Say(n notice.Notice) { w.Said = n }

// Hush forgets what was said.
func (w *Window) Hush() bool {
	said := w.Said != notice.Notice{}
	w.Said = notice.Notice{}
	return said
}

// ShowCard notes the card.
func (w *Window) ShowCard(c card.Card, act func(id string)) { w.Card, w.Act = c, act }

// OfferCard notes the card.
func (w *Window) OfferCard(c card.Card, act func(id string)) { w.Card, w.Act = c, act }

// ShowSide notes the side.
func (w *Window) ShowSide(o fyne.CanvasObject) { w.Side = o; w.Sides++ }

// SideOver reports that nothing lies over the page.
func (w *Window) SideOver() bool { return false }

// HideCard takes card and side away.
func (w *Window) HideCard() {
	w.Card, w.Act, w.Side = card.Card{}, nil, nil
	w.Hidden++
}

// SetCommand notes the text.
func (w *Window) SetCommand(text string) { w.Query = text }

// Command notes the text.
func (w *Window) Command(text string) { w.Typed = text }

// Rest counts.
func (w *Window) Rest() { w.Rested++ }

// Pictured draws states in every mode: no text may be cut off. With a folder, such as
// that of STOWRIGHT_PICTURES, they are written there.
func Pictured(t *testing.T, folder string, states ...gallery.State) {
	t.Helper()
	for _, s := range states {
		t.Run(s.Name, func(t *testing.T) {
			for _, m := range gallery.Modes() {
				for _, text := range gallery.Unreadable(s, m, test.WidgetRenderer) {
					t.Errorf("%s: %s", m.Name, text)
				}
			}
			if folder == "" {
				return
			}
			if _, err := gallery.Write(folder, []gallery.State{s}, output.Options{Replace: true}); err != nil {
				t.Fatal(err)
			}
		})
	}
}
