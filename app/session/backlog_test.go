package session_test

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/session/sessiontest"
	"stowright/store"
)

// A room with hundreds of drawers in it gets its new name at once; where they are is
// known to Find when the index has caught up, with all that was done meanwhile.
func TestBigRoomDoesNotHoldUp(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	garage := b.Place("Garage")
	for _, name := range []string{"P", "Q"} {
		if _, _, err := b.Shop.AddCabinet(store.CabinetSpec{Parent: garage.ID, Name: "Cabinet " + name, Prefix: name, Rows: 12, Columns: 10}); err != nil {
			t.Fatal(err)
		}
	}
	b.Drain()
	told := 0
	b.Listen(func(store.Entry) { told++ })
	find := func(query string) (first string, n int) {
		t.Helper()
		found, _, err := b.Find(query, 300)
		if err != nil {
			t.Fatal(err)
		}
		if len(found) > 0 {
			first = found[0].Name
		}
		return first, len(found)
	}
	if _, err := b.Shop.RenamePlace(garage.ID, "Workshop"); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Shop.RenamePlace(b.Place("A-13").ID, "Odds"); err != nil {
		t.Fatal(err)
	}
	if _, n := find("workshop"); n != 0 {
		t.Errorf("%d found in the workshop before the index has caught up: the verb has waited for it", n)
	}
	b.Drain()
	if first, n := find("workshop"); first != "Workshop" || n < 240 {
		t.Errorf("found %q and %d in all, want the workshop with its 240 drawers and more", first, n)
	}
	if first, _ := find("odds"); first != "Odds" {
		t.Errorf("found %q, want what was renamed meanwhile", first)
	}
	if told != 4 {
		t.Errorf("told %d times, want each of two entries when it was made and when the index knows it", told)
	}
	// What follows goes in at once again.
	if _, err := b.Shop.RenamePlace(b.Place("A-14").ID, "Ends"); err != nil {
		t.Fatal(err)
	}
	if first, _ := find("ends"); first != "Ends" {
		t.Errorf("found %q, want Ends at once", first)
	}
}
