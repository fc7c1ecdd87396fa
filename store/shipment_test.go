package store_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func days(n int) *int { return &n }

// twoLines is a shop with a delivery of crate C1, in which two kinds of bolts lie in bag H103.
func twoLines(t *testing.T, o store.Options) (*store.Shop, store.Shipment) {
	t.Helper()
	shop := storetest.Open(t, o)
	ship, fresh, err := shop.Import(store.NewShipment{
		Order: "OK-20731", File: "list.csv", Fingerprint: "f1",
		Lines: []store.NewLine{
			{Number: 1, Crate: "C1", Group: "H103", Designation: "AN3-5A", Listed: measure.Pieces(24), Status: store.Shipped},
			{Number: 2, Crate: "C1", Group: "H103", Designation: "AN3-6A", Listed: measure.Pieces(16), Status: store.Shipped},
			{Number: 3, Crate: "C3", Designation: "OQ-50-010-L", Listed: measure.Pieces(1), Status: store.NotShipped},
		},
	})
	if err != nil || !fresh {
		t.Fatalf("Import: fresh %v, %v", fresh, err)
	}
	if _, err := shop.Arrive(ship.ID, store.Delivery{Crates: []string{"C1"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 14}, DamageDays: days(5), ShortageDays: days(30)}); err != nil {
		t.Fatalf("Arrive: %v", err)
	}
	ship, err = shop.Shipment(ship.ID)
	if err != nil {
		t.Fatal(err)
	}
	return shop, ship
}

func TestClocksRunPerDelivery(t *testing.T) {
	clock := storetest.NewClock(t, "2026-03-18")
	shop, ship := twoLines(t, store.Options{Clock: clock.Now})
	want := []string{"19 March 2026 Damage claim: 1 day left", "13 April 2026 Shortages: 26 days left"}
	check := func() {
		t.Helper()
		clocks, err := shop.Clocks()
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, c := range clocks {
			got = append(got, fmt.Sprintf("%s %s", c.Due, c))
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("clocks (-want +got):\n%s", d)
		}
	}
	check()
	clock.Set(t, "2026-03-19") // the last day of the first: it still runs, and is the nearest
	want = []string{"19 March 2026 Damage claim: last day today", "13 April 2026 Shortages: 25 days left"}
	check()
	clock.Set(t, "2026-03-20") // past it
	want = []string{"13 April 2026 Shortages: 24 days left", "19 March 2026 Damage claim: 1 day past"}
	check()
	clock.Set(t, "2026-04-02")
	if _, err := shop.Arrive(ship.ID, store.Delivery{Crates: []string{"C3"}, Arrived: store.Date{Year: 2026, Month: 4, Day: 2}, DamageDays: days(5), ShortageDays: days(30)}); err != nil {
		t.Fatal(err)
	}
	want = []string{
		"7 April 2026 Damage claim: 5 days left", "13 April 2026 Shortages: 11 days left",
		"2 May 2026 Shortages: 30 days left", "19 March 2026 Damage claim: 14 days past",
	}
	check()
}

// The arrival day is day 0: with five days the fifth day after it is the last one.
func TestClocksCountFromTheArrival(t *testing.T) {
	ship := store.Shipment{Deliveries: []store.Delivery{{Crates: []string{"C1"}, Arrived: store.Date{Year: 2026, Month: 3, Day: 14}, DamageDays: days(5), ShortageDays: days(0)}}}
	for day, left := range map[int]int{14: 5, 18: 1, 19: 0, 20: -1} {
		clocks := ship.Clocks(store.Date{Year: 2026, Month: 3, Day: day})
		if len(clocks) != 2 || clocks[0].DaysLeft != left || clocks[1].DaysLeft != left-5 {
			t.Errorf("on %d March: %+v; want %d and %d days left", day, clocks, left, left-5)
		}
	}
}

func TestReceiveUndoRedo(t *testing.T) {
	shop, ship := twoLines(t, store.Options{})
	state := func(number int) string {
		t.Helper()
		l, err := shop.Line(ship.ID, store.LineID(number))
		if err != nil {
			t.Fatal(err)
		}
		return l.Describe(true)
	}
	if got := state(1); got != "to check" {
		t.Errorf("before: %q", got)
	}
	if _, err := shop.Receive(ship.ID, 1, store.Finding{Found: measure.Pieces(28), Counted: true}); err != nil {
		t.Fatal(err)
	}
	if got := state(1); got != "+4 over" {
		t.Errorf("28 of 24: %q", got)
	}
	if _, err := shop.Undo(); err != nil {
		t.Fatal(err)
	}
	if got := state(1); got != "to check" {
		t.Errorf("after undo: %q", got)
	}
	if _, err := shop.Redo(); err != nil {
		t.Fatal(err)
	}
	if got := state(1); got != "+4 over" {
		t.Errorf("after redo: %q", got)
	}
	holdings, err := shop.Holdings("AN3-5A")
	if err != nil || len(holdings) != 1 || holdings[0].Amount != store.Exact(measure.Pieces(28)) {
		t.Errorf("stock after redo: %v, %v", holdings, err)
	}
}
