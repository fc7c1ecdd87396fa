package app

import (
	"strings"

	"stowright/app/card"
	"stowright/app/look"
)

// askMore lists the actions of a card that have no button. One is taken by arrows and
// Enter, or by its own key; those that are off are not listed.
func (f *Frame) askMore(c card.Card, act func(id string)) {
	var rows []card.Row
	for _, a := range c.More() {
		if !a.Off {
			rows = append(rows, card.Row{ID: a.ID, Cells: []card.Cell{card.T(a.Label), card.T(a.Key)}})
		}
	}
	list := look.NewRowList(card.Column{Title: "what can be done", Kind: card.Words}, card.Column{Title: "key", Kind: card.Words, Width: 90})
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
	list.OnOpened = func(int, card.Row) { chosen() }
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
