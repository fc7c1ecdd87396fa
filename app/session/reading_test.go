package session

import (
	"testing"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// What a line of a packing list says of an item that is not here.
func TestExpectedOfLines(t *testing.T) {
	ship := store.Shipment{ID: "s", Order: "OK-1", Deliveries: []store.Delivery{{Crates: []string{"C1"}}}}
	line := func(crate string, change func(l *store.Line)) store.Line {
		l := store.Line{ID: 7, Crate: crate, Designation: "AN3-11", Listed: measure.Pieces(4), Status: store.Shipped}
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
