package unpack

import (
	"strings"
	"testing"

	"stowright/app/demo"
)

// Columns that a person chose are taken over, and said, when a list with the same headings
// comes again; another list, or one that nobody chose for, is read by itself.
func TestColumnsAreRemembered(t *testing.T) {
	b := newBench(t, demo.Furnished)
	i := b.importer()
	first := "Alpha,Beta,Part,Qty\nOQ-1,x,ZZ-1,2\nOQ-2,y,ZZ-2,3\n"
	i.read("one.csv", first)
	if s := i.State(); strings.Contains(s.Note, "as you chose them") || s.Lines[0].Cells[2].Text != "ZZ-1" {
		t.Fatalf("the first list: %q, %+v", s.Note, s.Lines[0])
	}
	columns := i.columns()
	i.choose(columns.With(3, 1)) // the part number stands in the first column
	b.queue.Drain()
	if got := i.State().Lines[0].Cells[2].Text; got != "OQ-1" {
		t.Fatalf("chosen: %q", got)
	}
	i.Confirm("OK-1", "Kitworks")
	b.queue.Drain()
	next := b.importer()
	s := next.read("two.csv", strings.ReplaceAll(first, "OQ-", "OQ-9"))
	if !strings.Contains(s.Note, "columns as you chose them for Kitworks") || s.Lines[0].Cells[2].Text != "OQ-91" {
		t.Errorf("the same headings again: %q, %+v", s.Note, s.Lines[0])
	}
	if s := b.importer().read("three.csv", "Alpha,Gamma,Part,Qty\nOQ-1,x,ZZ-1,2\n"); strings.Contains(s.Note, "as you chose") || s.Lines[0].Cells[2].Text != "ZZ-1" {
		t.Errorf("other headings: %q, %+v", s.Note, s.Lines[0])
	}
	next.Confirm("OK-2", "")
	b.queue.Drain()
	if ships, err := b.s.Shop.Shipments(); err != nil || len(ships) != 2 || ships[1].Shape == nil || ships[1].Shape.Columns["part number"] != 1 {
		t.Errorf("kept: %+v, %v", ships, err)
	}
}
