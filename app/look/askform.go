package look

import (
	"fyne.io/fyne/v2"

	"stowright/app/notice"
)

// FormField is one answer of a form.
type FormField struct {
	Label string
	Ghost string // seen while nothing is typed
	Text  string // proposed
}

// Form is a question for several texts.
type Form struct {
	Title  string
	Note   string // under the fields
	Yes    string // the button
	Fields []FormField
	// Send is told what was typed. It calls back with what is wrong, which is shown in the
	// form, or with "", which closes it.
	Send func(typed []string, back func(problem string))
}

// formWidth is how wide a form is, points at normal size: two fields beside each other; one
// of more than formFields has three, so that all of it is in sight in the larger size too.
const (
	formWidth  = 640
	wideForm   = 820
	formFields = 6
)

// AskForm asks: Enter goes from field to field, and in the last one sends.
func AskForm(f Form, ask func(d *Dialog, first fyne.Focusable)) {
	var dialog *Dialog
	var entries []*Entry
	problem := NewNotice(notice.Notice{Tone: notice.Stop})
	problem.Hide()
	send := func() {
		typed := make([]string, len(entries))
		for i, e := range entries {
			typed[i] = e.Text
		}
		f.Send(typed, func(wrong string) { dialog.Answered(problem, wrong) })
	}
	body := Rows(10, problem)
	width, across := float32(formWidth), 2
	if len(f.Fields) > formFields {
		width, across = wideForm, 3
	}
	var line []fyne.CanvasObject
	for i, x := range f.Fields {
		entry := NewEntry(x.Ghost)
		entry.SetText(x.Text)
		entries = append(entries, entry)
		entry.OnSubmitted = func(string) {
			if i+1 < len(entries) {
				FocusOn(entries[i+1])
				entries[i+1].SelectAll() // so that what is typed takes the place of what is proposed
				return
			}
			send()
		}
		if line = append(line, NewField(x.Label, entry, "")); len(line) == across || i == len(f.Fields)-1 {
			body.Add(Line(line...))
			line = nil
		}
	}
	body.Add(NewFoot(f.Note))
	dialog = NewDialog(f.Title, body, NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), NewPrimary(f.Yes, "Enter", send))
	dialog.SetWidth(width)
	ask(dialog, entries[0])
	entries[0].SelectAll()
}
