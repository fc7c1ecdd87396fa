package packinglist_test

import (
	"testing"

	"stowright/assets/demo"
	"stowright/store/packinglist"
)

// readAll opens data, guesses its columns and reads it.
func readAll(t *testing.T, name string, data []byte) packinglist.List {
	t.Helper()
	table, err := openTable(name, data)
	if err != nil {
		t.Fatalf("Open(%s): %v", name, err)
	}
	list, problems := readTable(table, packinglist.Guess(table))
	for _, p := range problems {
		t.Errorf("Read(%s): %v", name, &p)
	}
	return list
}

func TestDemoListIsReadWhole(t *testing.T) {
	list := readAll(t, "osterhollow-tail-kit.csv", demo.PackingList(demo.PackingListCSV))
	if len(list.Lines) != 60 {
		t.Fatalf("lines: got %d, want 60", len(list.Lines))
	}
	crates, statuses := map[string]int{}, map[packinglist.Status]int{}
	for i, l := range list.Lines {
		if l.Number != i+1 || l.Row != i+2 {
			t.Errorf("line %d: got number %d, row %d", i+1, l.Number, l.Row)
		}
		crates[l.Crate]++
		statuses[l.Status]++
	}
	if crates["C1"] != 52 || crates["C2"] != 4 || crates["C3"] != 4 {
		t.Errorf("lines by crate: got %v, want C1 52, C2 4, C3 4", crates)
	}
	if statuses[packinglist.Shipped] != 55 || statuses[packinglist.BackOrdered] != 1 || statuses[packinglist.NotArrived] != 4 {
		t.Errorf("lines by status: got %v, want 55 shipped, 1 back-ordered, 4 not arrived", statuses)
	}
	if got := list.Lines[29]; got.Designation != "AN426AD3-3.5" || got.Listed.String() != "0.3 lb" {
		t.Errorf("line 30: got %q %v, want AN426AD3-3.5, 0.3 lb", got.Designation, got.Listed)
	}
}
