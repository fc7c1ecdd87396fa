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
