package app

import (
	"strings"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/table"
)

// askMore lists the actions of a card that have no button. One is taken by arrows and
// Enter, or by its own key; those that are off are not listed.
func (f *Frame) askMore(c card.Card, act func(id string)) {
	var rows []table.Row
	for _, a := range c.More() {
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
	d = look.NewDialog(strings.TrimSpace("More for "+c.Designation), list,
		look.NewKeyButton("Leave it", "Esc", func() { d.Close() }), look.NewPrimary("Do it", "Enter", chosen))
	d.OnKey = func(key string) bool {
		for _, a := range c.More() {
			if a.Key != "" && a.Key == key && !a.Off {
				take(a.ID)
				return true
			}
		}
		return false
	}
	f.Ask(d, list)
}
