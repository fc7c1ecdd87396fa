package app

import (
	"fyne.io/fyne/v2"

	"stowright/app/look"
)

// Ask opens a question over the window and gives the focus to first, when there is
// something to type in. Its keys work, and Esc closes it.
func (f *Frame) Ask(d *look.Dialog, first fyne.Focusable) {
	if c := f.canvas(); c != nil {
		d.Open(c, first)
		return
	}
	f.asked = d
}

// Asked is the question that a frame without a window would open, as one that is drawn alone; nil
// for none.
func (f *Frame) Asked() *look.Dialog { return f.asked }

// Press does what a key does, for pictures.
func (f *Frame) Press(key string) { f.key(key) }

// Question is asked before something that is not easily taken back.
type Question struct {
	Title string // "Forget the import?"
	Text  string // what happens, in a sentence or two
	Yes   string // the button that does it, with Enter
	No    string // the button that does not, with Esc; "Cancel" when empty
}

// Confirm asks, and calls yes when the answer is yes.
func (f *Frame) Confirm(q Question, yes func()) {
	if q.No == "" {
		q.No = "Cancel"
	}
	var d *look.Dialog
	no := look.NewKeyButton(q.No, "Esc", func() { d.Close() })
	ok := look.NewPrimary(q.Yes, "Enter", func() {
		d.Close()
		yes()
	})
	d = look.NewDialog(q.Title, look.NewText(q.Text), no, ok)
	f.Ask(d, nil)
}
