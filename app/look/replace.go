package look

import (
	"path/filepath"

	"fyne.io/fyne/v2"
)

// AskReplace asks through the window's Ask whether a file that is there already is to be
// written over: Enter does it, Esc goes back.
func AskReplace(file string, ask func(d *Dialog, first fyne.Focusable), replace func()) {
	var d *Dialog
	d = NewDialog("Write over "+filepath.Base(file)+"?", NewText("There is already "+file+". What it holds now is lost when it is written over."),
		NewKeyButton("Go back", "Esc", func() { d.Close() }),
		NewPrimary("Replace", "Enter", func() {
			d.Close()
			replace()
		}))
	ask(d, nil)
}
