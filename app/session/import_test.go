package session_test

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/packinglist"
	"stowright/store/storetest"
)

// A list comes into the shop with its numbers in one spelling, so that the same
// bolt is the same item; the same list comes in once.
func TestImport(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	s, err := session.Open(t.Context(), shop, session.Inline(), nil)
	if err != nil {
		t.Fatal(err)
	}
	list := packinglist.List{Order: "OK-1", File: "list.csv", Lines: []packinglist.Line{
		{Number: 1, Crate: "C1", Group: "H1", Designation: "an3-5a", Description: "Bolt", Listed: measure.Pieces(24), Status: packinglist.Shipped},
		{Number: 2, Group: "H1", Designation: "OQ-10-001", Description: "Spar", Listed: measure.Pieces(1), Status: packinglist.BackOrdered},
		{Number: 3, Crate: "C2", Designation: "SEAL-B2", Description: "Sealant", Listed: measure.Pieces(2), Status: packinglist.NotArrived, Lot: "7"},
	}}
	ship, fresh, err := session.BringIn(context.Background(), s.Shop, s.Copies, session.NewShipment(s.Catalog(), list, "the kit maker"))
	if err != nil || !fresh {
		t.Fatalf("Import: fresh %v, %v", fresh, err)
	}
	lines, err := shop.Lines(ship.ID)
	if err != nil {
		t.Fatal(err)
	}
	type line struct {
		item, crate, lot string
		status           store.ListStatus
	}
	var got []line
	for _, l := range lines {
		got = append(got, line{l.Designation, l.Crate, l.Lot, l.Status})
	}
	want := []line{{"AN3-5A", "C1", "", store.Shipped}, {"OQ-10-001", "Crate 1", "", store.BackOrdered}, {"SEAL-B2", "C2", "7", store.NotShipped}}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(line{})); d != "" {
		t.Errorf("lines (-want +got):\n%s", d)
	}
	again, fresh, err := session.BringIn(context.Background(), s.Shop, s.Copies, session.NewShipment(s.Catalog(), list, "the kit maker"))
	if err != nil || fresh || again.ID != ship.ID {
		t.Errorf("the same list again: %s, fresh %v, %v; want %s", again.ID, fresh, err, ship.ID)
	}
	if found, _, err := s.Find("an3 5", 1); err != nil || len(found) != 1 || found[0].Item != "AN3-5A" {
		t.Errorf("after the import Find answers %v, %v", found, err)
	}
}

func TestCanonical(t *testing.T) {
	for _, row := range []struct{ typed, want string }{
		{"an3-5a", "AN3-5A"}, {"AN3-5A", "AN3-5A"}, {"ms24665-132", "MS24665-132"}, {"an3-8a", "AN3-8A"}, {"OQ-10-001", "OQ-10-001"}, {"brass knob", "brass knob"}, {"", ""},
	} {
		if got := session.Canonical(hardware.Standard(), row.typed); got != row.want {
			t.Errorf("Canonical(%q): got %q, want %q", row.typed, got, row.want)
		}
	}
}
