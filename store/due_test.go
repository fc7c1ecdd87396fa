package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// What is owed of a line is what the list says comes later, and what was promised in
// answer to a claim; nothing else. What came in its place is counted off, and the claim
// stays as it was sent.
func TestDue(t *testing.T) {
	pieces := func(n int64) measure.Quantity { return measure.Pieces(n) }
	counted := func(found, damaged, replaced int64) *store.Finding {
		f := &store.Finding{Found: pieces(found), Counted: true}
		if damaged > 0 {
			f.Damaged = pieces(damaged)
		}
		if replaced > 0 {
			f.Replaced = pieces(replaced)
		}
		return f
	}
	stray := counted(0, 0, 0)
	stray.Came = &store.Came{Designation: "AN3-11A", Quantity: pieces(4)}
	old := counted(0, 0, 0)
	old.Came = &store.Came{Designation: "OQ-A", Quantity: pieces(4), Revision: true}
	oldReplaced := *old
	oldReplaced.Found, oldReplaced.Replaced = pieces(4), pieces(4)
	for _, row := range []struct {
		name    string
		status  store.ListStatus
		finding *store.Finding
		kind    store.ClaimKind // that was answered; "" for none
		answer  store.Reply
		due     int64
		state   store.State
		claims  int
	}{
		{"back-ordered", store.BackOrdered, nil, "", "", 4, store.BackOrder, 0},
		{"back-ordered, some came", store.BackOrdered, counted(3, 0, 0), "", "", 1, store.Short, 0},
		{"back-ordered, all came", store.BackOrdered, counted(4, 0, 0), "", "", 0, store.AllHere, 0},
		{"short, not answered", store.Shipped, counted(1, 0, 0), "", "", 0, store.Short, 1},
		{"short, credited", store.Shipped, counted(1, 0, 0), store.ClaimShort, store.Credit, 0, store.Short, 1},
		{"short, promised", store.Shipped, counted(1, 0, 0), store.ClaimShort, store.Replacement, 3, store.Short, 1},
		{"short, some came", store.Shipped, counted(3, 0, 2), store.ClaimShort, store.Replacement, 1, store.Short, 1},
		{"short, all came", store.Shipped, counted(4, 0, 3), store.ClaimShort, store.Replacement, 0, store.AllHere, 1},
		{"damaged, promised", store.Shipped, counted(4, 1, 0), store.ClaimDamaged, store.Replacement, 1, store.DamagedState, 1},
		{"damaged, came", store.Shipped, counted(5, 1, 1), store.ClaimDamaged, store.Replacement, 0, store.AllHere, 1},
		{"short and damaged, only the damage promised", store.Shipped, counted(3, 1, 0), store.ClaimDamaged, store.Replacement, 1, store.DamagedState, 2},
		{"short and damaged, one came", store.Shipped, counted(4, 1, 1), store.ClaimShort, store.Replacement, 0, store.DamagedState, 2},
		{"more than damaged came", store.Shipped, counted(6, 1, 2), store.ClaimDamaged, store.Replacement, 0, store.Over, 1},
		{"another number, promised", store.Shipped, stray, store.ClaimShort, store.Replacement, 4, store.Short, 1},
		{"another revision, promised", store.Shipped, old, store.ClaimWrong, store.Replacement, 4, store.WrongRevision, 1},
		{"another revision, came", store.Shipped, &oldReplaced, store.ClaimWrong, store.Replacement, 0, store.AllHere, 1},
	} {
		l := store.Line{ID: 7, Crate: "C1", Designation: "AN3-11", Listed: pieces(4), Status: row.status, Finding: row.finding}
		ship := store.Shipment{ID: "s", Claims: []store.SentClaim{{Lines: []store.Claimed{{Line: 7, Kind: row.kind, Answer: row.answer}}}}}
		due, _ := ship.Due(l)
		if due != pieces(row.due) || l.State(true) != row.state || len(l.Claims()) != row.claims {
			t.Errorf("%s: %s owed, %s, claims %+v; want %d, %s, %d claims", row.name, due, l.State(true), l.Claims(), row.due, row.state, row.claims)
		}
	}
}

// A claim keeps its words when what it asked for comes, so that it is not new again.
func TestReplacementKeepsTheClaim(t *testing.T) {
	before := store.Line{ID: 1, Designation: "AN3-11", Listed: measure.Pieces(4), Finding: &store.Finding{
		Found: measure.Pieces(0), Counted: true, Came: &store.Came{Designation: "AN3-11A", Quantity: measure.Pieces(4)}, Note: "no cotter-pin hole",
	}}
	after := before
	f := *before.Finding
	f.Found, f.Replaced = measure.Pieces(4), measure.Pieces(4)
	after.Finding = &f
	want := "listed 4, found 0: 4 short; 4 AN3-11A came in its place: wrong item, no cotter-pin hole"
	for _, l := range []store.Line{before, after} {
		c := l.Claims()
		if len(c) != 1 || c[0].Kind != store.ClaimShort || c[0].Words != want {
			t.Errorf("%+v claims %+v, want one line: %q", l.Finding, c, want)
		}
	}
	if after.Finding.Found != measure.Pieces(4) {
		t.Error("asking for the claims changes the finding")
	}
}

// The claims that wait for an answer, and since when; surplus waits for none.
func TestWaits(t *testing.T) {
	day := func(n int) store.Date { return store.Date{Year: 2026, Month: 3, Day: n} }
	ship := store.Shipment{Claims: []store.SentClaim{
		{Sent: day(20), Lines: []store.Claimed{{Line: 1, Kind: store.ClaimShort}, {Line: 2, Kind: store.ClaimSurplus}}},
		{Sent: day(18), Lines: []store.Claimed{{Line: 3, Kind: store.ClaimWrong, Answer: store.Credit}, {Line: 4, Kind: store.ClaimDamaged}}},
	}}
	if n, since := ship.Waits(); n != 2 || since != day(18) {
		t.Errorf("%d lines since %s, want 2 since 18 March", n, since)
	}
	if n, since := (store.Shipment{}).Waits(); n != 0 || !since.IsZero() {
		t.Errorf("no claim: %d since %s", n, since)
	}
}

// Replacements are checked like all that is found.
func TestReplacedIsChecked(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	for _, n := range []int64{-1, 3} {
		_, err := w.Receive(w.ship, 7, store.Finding{Found: measure.Pieces(2), Replaced: measure.Pieces(n), Counted: true})
		wantRefusal(t, err, store.Invalid, "Of line 7, 2 ea were found: that many at most can be replacements.")
	}
	w.receive(7, store.Finding{Found: measure.Pieces(2), Replaced: measure.Pieces(1), Counted: true})
}
