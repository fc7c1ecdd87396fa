package table_test

import (
	"testing"

	"stowright/app/table"
)

func TestArrow(t *testing.T) {
	for _, row := range []struct {
		key        string
		chosen, to int
		ok         bool
	}{
		{"Down", -1, 0, true},
		{"Down", 3, 4, true},
		{"Up", 3, 2, true},
		{"Up", 1, 0, true},
		{"Up", 0, 0, false},
		{"Up", -1, -1, false},
		{"Enter", 2, 2, false},
	} {
		if to, ok := table.Arrow(row.key, row.chosen); to != row.to || ok != row.ok {
			t.Errorf("%s from %d: got %d, %v; want %d, %v", row.key, row.chosen, to, ok, row.to, row.ok)
		}
	}
}

// A row stays in hand wherever it stands when the list is read again; where it is gone, the
// first is.
func TestInHand(t *testing.T) {
	rows := func(ids ...string) (list []table.Row) {
		for _, id := range ids {
			list = append(list, table.Row{ID: id})
		}
		return list
	}
	var h table.InHand
	for _, row := range []struct {
		list  []table.Row
		index int
	}{{nil, -1}, {rows("a", "b", "c"), 0}, {rows("b", "a"), 1}, {rows("b", "c"), 0}, {rows("c", "b"), 1}} {
		if got := h.In(row.list); got != row.index {
			t.Errorf("in %v: %d, want %d", row.list, got, row.index)
		}
	}
	for _, row := range []struct {
		index   int
		another bool
	}{{1, false}, {0, true}, {0, false}, {-1, false}, {2, false}} {
		if got := h.Take(rows("c", "b"), row.index); got != row.another {
			t.Errorf("row %d is another: %v", row.index, got)
		}
	}
	if h.ID != "c" {
		t.Errorf("%q is in hand", h.ID)
	}
}
