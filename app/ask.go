package app

import (
	"fyne.io/fyne/v2"

	"stowright/app/look"
)

// Ask opens a question over the window and gives the focus to first, when there is
// something to type in.
func (f *Frame) Ask(d *look.Dialog, first fyne.Focusable) {
	if c := f.canvas(); c != nil {
		d.Open(c, first)
	}
}
