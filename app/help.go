package app

import (
	"strings"

	"stowright/app/help"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/table"
)

// askHelp says what the page is for, which keys it has, and what to be careful with.
func (f *Frame) askHelp() {
	screen := f.screen()
	list := look.NewRowList(table.Column{Title: "key", Kind: table.Names, Width: 210}, table.Column{Title: "what it does", Kind: table.Words})
	list.SetRowHeight(helpRow)
	list.SetRows(f.helpRows(screen.Name))
	var d *look.Dialog
	then := func(do func()) func() { return func() { d.Close(); do() } }
	var buttons []*look.KeyButton
	if len(f.reachable()) > 0 {
		buttons = append(buttons, look.NewKeyButton("All screens", "F1", then(f.askScreen)))
	}
	if f.options.KeyCard != nil {
		buttons = append(buttons, look.NewKeyButton("Key card to print", "P", then(f.options.KeyCard)))
	}
	buttons = append(buttons, look.NewPrimary("Close", "Esc", func() { d.Close() }))
	caution := look.NewNotice(notice.Notice{Tone: notice.Warn, Text: strings.Join(help.Cautions(screen.Name), " ")})
	d = look.NewDialog(strings.TrimSpace("Help: "+screen.Title), look.Fill(12, look.NewText(screen.Help), list, caution), buttons...)
	d.SetWidth(helpWidth)
	f.Ask(d, list)
}

// Measures of the help, points at normal size.
const (
	helpRow   = 36
	helpWidth = 820
)

// screen is the screen that is shown; the zero value without one.
func (f *Frame) screen() Screen {
	for _, s := range f.options.Screens {
		if s.Name == f.Route().Screen {
			return s
		}
	}
	return Screen{}
}

// helpRows are the keys: those that the page and its card show now, the others of the screen, and
// those that work everywhere.
func (f *Frame) helpRows(screen string) []table.Row {
	var rows []table.Row
	part := func(title string, keys []help.Key) {
		if len(keys) > 0 {
			rows = append(rows, table.Row{ID: title, Cells: []table.Cell{{}, table.T(title)}, Dim: true})
		}
		for _, k := range keys {
			rows = append(rows, table.Row{ID: title + k.Key + k.Does, Cells: []table.Cell{table.Name(k.Key, ""), table.T(k.Does)}})
		}
	}
	part("on this page now", f.shownKeys())
	part("on this screen", help.Of(screen))
	part("everywhere", help.Everywhere())
	return rows
}

// shownKeys are the keys of the buttons that are seen, and of the card's further actions.
func (f *Frame) shownKeys() []help.Key {
	var keys []help.Key
	buttons := look.Keyed(f.work)
	if f.side.visible() {
		buttons = append(buttons, look.Keyed(f.side.object)...)
	}
	for _, b := range buttons {
		keys = append(keys, help.Key{Key: b.Key(), Does: b.Label()})
	}
	for _, a := range f.side.card().More() {
		if a.Key != "" && !a.Off {
			keys = append(keys, help.Key{Key: a.Key, Does: a.Label})
		}
	}
	return keys
}
