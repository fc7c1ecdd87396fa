package session

import (
	"testing"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// What was fitted of an item goes to the lines that ask for it, in their order.
func TestFittedIsSharedOverLines(t *testing.T) {
	sub := store.SubAssembly{Code: "SA-1"}
	listed := []store.Requirement{
		{Number: 1, Item: "AN3-5A", Needed: measure.Pieces(4)}, {Number: 2, Item: "AN3-7A", Needed: measure.Pieces(1)}, {Number: 3, Item: "AN3-5A", Needed: measure.Pieces(3)},
	}
	for _, row := range []struct {
		fitted      []int64
		first, last int64
	}{
		{[]int64{3}, 3, 0},
		{[]int64{6}, 4, 2},
		{[]int64{3, 2}, 4, 1},
		{[]int64{9}, 4, 5}, // more than is called stays on the last line
	} {
		var all []store.Fitted
		for _, n := range row.fitted {
			all = append(all, store.Fitted{SubAssembly: "SA-1", Item: "AN3-5A", Amount: store.Exact(measure.Pieces(n))})
		}
		all = append(all, store.Fitted{SubAssembly: "SA-2", Item: "AN3-5A", Amount: store.Exact(measure.Pieces(50))})
		got := subAssembly(sub, listed, all)
		first, last := fittedOf(&got.Requirements[0]), fittedOf(&got.Requirements[2])
		if first != measure.Pieces(row.first).Micro || last != measure.Pieces(row.last).Micro || len(got.Requirements[1].Fitted) > 0 {
			t.Errorf("%v fitted: %d and %d, want %d and %d", row.fitted, first, last, row.first, row.last)
		}
	}
}

// Rooms and what stands in them count in their order, and a drawer knows its row.
func TestWalkingOrder(t *testing.T) {
	places := inWalkingOrder([]store.Place{
		{ID: "g", Kind: store.Room, Name: "Garage"},
		{ID: "h", Kind: store.Room, Name: "Hangar"},
		{ID: "a", Parent: "g", Kind: store.Cabinet, Name: "Cabinet A"},
		{ID: "a9", Parent: "a", Kind: store.Drawer, Name: "A-09", Row: 2, Column: 1},
		{ID: "s", Parent: "g", Kind: store.Rack, Name: "Shelf"},
		{ID: "s1", Parent: "s", Kind: store.Shelf, Name: "S1"},
		{ID: "s2", Parent: "s", Kind: store.Shelf, Name: "S2"},
		{ID: "b", Parent: "h", Kind: store.Cabinet, Name: "Cabinet B"},
	})
	want := map[string]build.Place{
		"a9": {ID: "a9", Name: "A-09", Row: 2, Column: 1},
		"s1": {ID: "s1", Name: "S1", Furniture: 1, Row: 1},
		"s2": {ID: "s2", Name: "S2", Furniture: 1, Row: 2},
		"b":  {ID: "b", Name: "Cabinet B", Room: 1},
	}
	for _, p := range places {
		if w, ok := want[p.ID]; ok && p != w {
			t.Errorf("%s is %+v, want %+v", p.ID, p, w)
		}
	}
}

// What a line of a packing list says of an item that is not here.
func TestExpectedOfLines(t *testing.T) {
	ship := store.Shipment{ID: "s", Order: "OK-1", Deliveries: []store.Delivery{{Crates: []string{"C1"}}}}
	line := func(crate string, change func(l *store.Line)) store.Line {
		l := store.Line{Number: 7, Crate: crate, Designation: "AN3-11", Listed: measure.Pieces(4), Status: store.Shipped}
		if change != nil {
			change(&l)
		}
		return l
	}
	short := func(l *store.Line) { l.Finding = &store.Finding{Found: measure.Pieces(1), Counted: true} }
	answered := ship
	answered.Claims = []store.SentClaim{{Sent: store.Date{Year: 2026, Month: 3, Day: 20}, Lines: []store.Claimed{{Line: 7, Kind: store.ClaimShort, Words: "listed 4, found 1: 3 short", Answer: store.Replacement}}}}
	replaced := ship
	replaced.Claims = []store.SentClaim{{Sent: store.Date{Year: 2026, Month: 3, Day: 20}, Lines: []store.Claimed{{Line: 7, Kind: store.ClaimDamaged, Words: "1 damaged", Answer: store.Replacement}}}}
	for _, row := range []struct {
		name string
		ship store.Shipment
		line store.Line
		by   build.Source
		n    int64
	}{
		{"to check", ship, line("C1", nil), build.NotChecked, 4},
		{"not come", ship, line("C3", nil), build.NotCome, 4},
		{"back-ordered", ship, line("C1", func(l *store.Line) { l.Status = store.BackOrdered }), build.BackOrdered, 4},
		{"short", ship, line("C1", short), build.Missing, 3},
		{"short, and promised", answered, line("C1", short), build.Promised, 3},
		{"damaged", ship, line("C1", func(l *store.Line) { l.Finding = &store.Finding{Found: measure.Pieces(4), Damaged: measure.Pieces(1)} }), build.Unusable, 1},
		{"damaged, and promised", replaced, line("C1", func(l *store.Line) {
			l.Finding = &store.Finding{Found: measure.Pieces(4), Counted: true, Damaged: measure.Pieces(1)}
		}), build.Promised, 1},
		{"short of an order", answered, line("C1", func(l *store.Line) {
			short(l)
			l.Match = &store.OrderMatch{Lines: []store.OrderRef{{Order: 1, Line: 1}}}
		}), build.Missing, 3},
		{"wrong revision", ship, line("C1", func(l *store.Line) {
			l.Finding = &store.Finding{Counted: true, Found: measure.Pieces(0), Came: &store.Came{Designation: "AN3-11-A", Quantity: measure.Pieces(4), Revision: true}}
		}), build.Unusable, 4},
		{"back-ordered, and some came", ship, line("C1", func(l *store.Line) {
			short(l)
			l.Status = store.BackOrdered
		}), build.BackOrdered, 3},
	} {
		all := expected(row.ship, row.line)
		if len(all) != 1 {
			t.Fatalf("%s: %+v", row.name, all)
		}
		if e := all[0]; e.By != row.by || e.Quantity != measure.Pieces(row.n) || e.Line != 7 || e.List != "OK-1" {
			t.Errorf("%s: %+v", row.name, e)
		}
	}
	if all := expected(ship, line("C1", func(l *store.Line) { l.Finding = &store.Finding{Found: measure.Pieces(4)} })); len(all) > 0 {
		t.Errorf("all here: %+v", all)
	}
	both := expected(answered, line("C1", func(l *store.Line) {
		l.Finding = &store.Finding{Found: measure.Pieces(1), Damaged: measure.Pieces(1), Counted: true}
	}))
	if len(both) != 2 || both[0].By != build.Promised || both[0].Quantity != measure.Pieces(3) || both[1].By != build.Unusable || both[1].Quantity != measure.Pieces(1) {
		t.Errorf("damaged, and short as promised: %+v", both)
	}
}
