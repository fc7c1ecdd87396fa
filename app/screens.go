package app

import (
	"fmt"

	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/table"
)

// askScreen lists the screens with what each one is for and the key that goes there,
// and goes to the one that is chosen.
func (f *Frame) askScreen() {
	reachable := f.reachable()
	if len(reachable) == 0 {
		return
	}
	list := look.NewRowList(table.Column{Title: "screen", Kind: table.Names, Width: 170}, table.Column{Title: "what you do there", Kind: table.Words}, table.Column{Title: "key", Kind: table.Words, Width: 90})
	rows := make([]table.Row, 0, len(reachable))
	at := 0
	for i, s := range reachable {
		rows = append(rows, table.Row{ID: s.Name, Cells: []table.Cell{table.Name(s.Title, ""), table.T(s.Help), table.T(s.Key)}})
		if s.Name == f.Route().Screen {
			at = i
		}
	}
	list.SetRows(rows)
	list.Mark(at)
	var d *look.Dialog
	visit := func() {
		chosen, ok := list.Chosen()
		d.Close()
		if ok {
			f.Go(routes.Route{Screen: chosen.ID})
		}
	}
	list.OnOpened = func(int, table.Row) { visit() }
	d = look.NewDialog("Where to?", list, look.NewKeyButton("Stay here", "Esc", func() { d.Close() }), look.NewPrimary("Go there", "Enter", visit))
	d.SetWidth(960)
	f.Ask(d, list)
}

// reachable are the screens that a key goes to from everywhere, each with that key:
// those of the rail first, by their number.
func (f *Frame) reachable() []Screen {
	rail := f.onRail()
	for i := range rail {
		if i < mostNumbered {
			rail[i].Key = fmt.Sprintf("Ctrl+%d", i+1)
		}
	}
	for _, s := range f.options.Screens {
		if s.Icon == "" && s.Key != "" {
			rail = append(rail, s)
		}
	}
	return rail
}
