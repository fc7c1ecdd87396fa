package look

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
)

// mostNamed is how many files a question names.
const mostNamed = 5

// AskReplace asks through the window's Ask whether files that are there already are to be
// written over: Enter does it, Esc goes back.
func AskReplace(files []string, ask func(d *Dialog, first fyne.Focusable), replace func()) {
	title, text := "Replace "+filepath.Base(files[0])+"?", "There is already "+files[0]+". Its contents now are lost when it is replaced."
	if len(files) > 1 {
		var names []string
		for _, file := range files[:min(len(files), mostNamed)] {
			names = append(names, filepath.Base(file))
		}
		if more := len(files) - len(names); more > 0 {
			names = append(names, fmt.Sprintf("%d more", more))
		}
		title = fmt.Sprintf("Replace %d files?", len(files))
		text = "There are already " + strings.Join(names, ", ") + " in " + filepath.Dir(files[0]) + ". Their contents now are lost when they are replaced."
	}
	var d *Dialog
	d = NewDialog(title, NewText(text),
		NewKeyButton("Go back", "Esc", func() { d.Close() }),
		NewPrimary("Replace", "Enter", func() {
			d.Close()
			replace()
		}))
	ask(d, nil)
}
