package app

import (
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/table"
)

// askMore lists the actions of a card that have no button.
func (f *Frame) askMore(c card.Card, act func(id string)) {
	AskAction(f, strings.TrimSpace("More for "+c.Designation), c.More(), act)
}

// The actions of every card, beside its own.
const (
	copyNameID = "copy name"
	copyAllID  = "copy all"
)

// askAll lists all that can be done with what the card shows: its actions, its photographs,
// and copying its text.
func (f *Frame) askAll() {
	c := f.Card()
	var actions []card.Action
	if !c.Empty() {
		actions = append(actions, c.Actions...)
		if c.Photographed != "" {
			actions = append(actions, card.Action{ID: look.PhotosID, Label: "Photograph it, or see its photographs", Key: "F3"})
		}
	}
	if c.Designation != "" {
		actions = append(actions, card.Action{ID: copyNameID, Label: "Copy " + c.Designation})
	}
	text := f.chosenText()
	if text != "" {
		actions = append(actions, card.Action{ID: copyAllID, Label: "Copy all that is said of it", Key: "Ctrl+C"})
	}
	if len(actions) == 0 {
		return
	}
	AskAction(f, strings.TrimSpace("What to do with "+c.Designation), actions, func(id string) {
		switch id {
		case copyNameID:
			f.copyText(c.Designation)
		case copyAllID:
			f.copyText(text)
		default:
			f.side.view.OnAction(id)
		}
	})
}

// AskAction lists actions. One is taken by arrows and Enter, by a tap, or by its own key, and act
// is called with its ID; those that are off are not listed.
func AskAction(asker Asker, title string, actions []card.Action, act func(id string)) {
	var rows []table.Row
	for _, a := range actions {
		if !a.Off {
			rows = append(rows, table.Row{ID: a.ID, Cells: []table.Cell{table.T(a.Label), table.T(a.Key)}})
		}
	}
	list := look.NewRowList(table.Column{Title: "what can be done", Kind: table.Words}, table.Column{Title: "key", Kind: table.Words, Width: 90})
	list.SetRows(rows)
	list.Mark(0)
	var d *look.Dialog
	take := func(id string) {
		d.Close()
		if act != nil {
			act(id)
		}
	}
	chosen := func() {
		if row, ok := list.Chosen(); ok {
			take(row.ID)
		}
	}
	list.OnOpened = func(int, table.Row) { chosen() }
	list.OnTapped = func(_ int, row table.Row) { take(row.ID) }
	d = look.NewDialog(title, list,
		look.NewKeyButton("Leave it", "Esc", func() { d.Close() }), look.NewPrimary("Do it", "Enter", chosen))
	d.OnKey = func(key string) bool {
		for _, a := range actions {
			if a.Key != "" && a.Key == key && !a.Off {
				take(a.ID)
				return true
			}
		}
		return false
	}
	asker.Ask(d, list)
}

// chosenText is what is chosen as text: the card, or else the row of the list that has the
// focus; "" for nothing.
func (f *Frame) chosenText() string {
	if text := f.Card().Text(); text != "" {
		return text
	}
	if c := f.canvas(); c != nil {
		if list, ok := c.Focused().(*look.RowList); ok {
			row, _ := list.Chosen()
			return strings.Join(row.Texts(), "\t")
		}
	}
	return ""
}

// copyChosen puts what is chosen on the clipboard, or else what was said last.
func (f *Frame) copyChosen() {
	if text := f.chosenText(); text != "" {
		f.copyText(text)
	} else if said := f.Said(); said != "" {
		f.copyText(said)
	}
}

func (f *Frame) copyText(text string) {
	fyne.CurrentApp().Clipboard().SetContent(text)
	first, _, _ := strings.Cut(text, "\n")
	f.Say(notice.Notice{Tone: notice.Quiet, Lead: "Copied:", Text: first})
}
