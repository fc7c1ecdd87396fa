package session

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/oklog/ulid/v2"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func onApril(d int) store.Date { return store.Date{Year: 2026, Month: 4, Day: d} }

// shipmentOn is a packing list that was brought in on a day of April, with one line of AN3-5A.
func shipmentOn(t *testing.T, d int, supplier string, n int64) (store.Shipment, store.Line) {
	t.Helper()
	made := time.Date(2026, 4, d, 12, 0, 0, 0, time.Local)
	id := ulid.MustNew(ulid.Timestamp(made), strings.NewReader(strings.Repeat("x", 16))).String()
	ship := store.Shipment{ID: id, Supplier: supplier}
	return ship, store.Line{Shipment: id, ID: 1, Crate: "parcel", Designation: "AN3-5A", Listed: measure.Pieces(n), Status: store.Shipped}
}

// What may be an order's is not counted a second time while nobody was asked; what came
// before it, from somebody else, or was said to be no order's, is another debt.
func TestOrderedIsNotCountedTwice(t *testing.T) {
	order := store.Order{Number: 1, Supplier: "Bolt shop", Ordered: onApril(20)}
	lines := []store.OrderLine{{Order: 1, Number: 1, Item: "AN3-5A", Quantity: measure.Pieces(10), Promised: onApril(28)}}
	deny := func(_ *store.Shipment, l *store.Line) { l.Match = &store.OrderMatch{} }
	for _, row := range []struct {
		name     string
		day      int
		supplier string
		n        int64
		change   func(*store.Shipment, *store.Line)
		owed     int64
	}{
		{"another supplier's", 27, "Nut shop", 10, nil, 10},
		{"listed, not asked", 27, "bolt shop", 10, nil, 0},
		{"listed by nobody, not asked", 27, "", 4, nil, 6},
		{"listed before it was ordered", 19, "Bolt shop", 10, nil, 10},
		{"came before it was ordered", 20, "Bolt shop", 10, func(s *store.Shipment, _ *store.Line) {
			s.Deliveries = []store.Delivery{{Crates: []string{"parcel"}, Arrived: onApril(19)}}
		}, 10},
		{"came on the day that it was ordered", 20, "Bolt shop", 10, func(s *store.Shipment, _ *store.Line) {
			s.Deliveries = []store.Delivery{{Crates: []string{"parcel"}, Arrived: onApril(20)}}
		}, 0},
		{"denied", 27, "Bolt shop", 10, deny, 10},
		{"matched", 27, "Bolt shop", 4, func(_ *store.Shipment, l *store.Line) {
			l.Match = &store.OrderMatch{Lines: []store.OrderRef{{Order: 1, Line: 1}}}
		}, 6},
		{"found, not asked", 27, "Bolt shop", 10, func(_ *store.Shipment, l *store.Line) {
			l.Finding = &store.Finding{Found: measure.Pieces(3), Counted: true}
		}, 7},
	} {
		ship, line := shipmentOn(t, row.day, row.supplier, row.n)
		if row.change != nil {
			row.change(&ship, &line)
		}
		ships, lists := []store.Shipment{ship}, [][]store.Line{{line}}
		got := ordered(store.OwingOf([]store.Order{order}, lines, ships, lists), ships, lists)
		if row.owed == 0 && len(got) > 0 || row.owed > 0 && (len(got) != 1 || got[0].Quantity != measure.Pieces(row.owed)) {
			t.Errorf("%s: %+v, want %d owed", row.name, got, row.owed)
			continue
		}
		if row.owed == 0 {
			continue
		}
		want := build.Expected{By: build.Ordered, Quantity: measure.Pieces(row.owed), Line: 1, List: "O-1", Supplier: "Bolt shop", Since: onApril(20), Until: onApril(28)}
		if d := cmp.Diff(want, got[0].Expected); d != "" {
			t.Errorf("%s (-want +got):\n%s", row.name, d)
		}
	}
}

// What came once is not taken off two orders.
func TestUnaskedServesOnce(t *testing.T) {
	orders := []store.Order{{Number: 1, Supplier: "Bolt shop", Ordered: onApril(20)}, {Number: 2, Supplier: "Bolt shop", Ordered: onApril(21)}}
	lines := []store.OrderLine{{Order: 1, Number: 1, Item: "AN3-5A", Quantity: measure.Pieces(10)}, {Order: 2, Number: 1, Item: "AN3-5A", Quantity: measure.Pieces(10)}}
	ship, line := shipmentOn(t, 27, "Bolt shop", 12)
	ships, lists := []store.Shipment{ship}, [][]store.Line{{line}}
	got := ordered(store.OwingOf(orders, lines, ships, lists), ships, lists)
	if len(got) != 1 || got[0].List != "O-2" || got[0].Quantity != measure.Pieces(8) {
		t.Errorf("of two orders of 10, with 12 that may be theirs: %+v", got)
	}
}

// Two lines that came in one delivery of an order took it one lead time.
func TestLeadTimes(t *testing.T) {
	owing := []store.Owing{
		{OrderLine: store.OrderLine{Order: 1, Number: 1}, Supplier: "Bolt shop", Days: []int{7}},
		{OrderLine: store.OrderLine{Order: 1, Number: 2}, Supplier: "Bolt shop", Days: []int{7, 12}},
		{OrderLine: store.OrderLine{Order: 2, Number: 1}, Supplier: "Bolt shop", Days: []int{7}},
		{OrderLine: store.OrderLine{Order: 3, Number: 1}, Supplier: "Nut shop"},
	}
	if d := cmp.Diff(build.LeadTimes{"Bolt shop": {7, 12, 7}}, leadTimes(owing)); d != "" {
		t.Errorf("lead times (-want +got):\n%s", d)
	}
}

// Only what was spoiled teaches how much is spoiled; what is undone teaches nothing, and
// what is new is read alone.
func TestUsesOfTheJournal(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin"})
	if err != nil {
		t.Fatal(err)
	}
	heap := store.StockKey{Item: "AN470AD4-5", Place: bin.ID}
	must := func(_ store.Entry, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	s := &Session{Shop: shop}
	scrap := func(n int64, reason string) {
		t.Helper()
		must(shop.Scrap(store.Transfer{StockKey: heap, Quantity: measure.Pieces(n)}, reason))
	}
	want := func(good, spoiled int64) {
		t.Helper()
		got, err := Answer(s, func(r *Reader) (map[string]build.Uses, error) { return r.uses(true) })
		if err != nil || got[heap.Item] != (build.Uses{Good: good, Spoiled: spoiled}) {
			t.Errorf("the uses are %+v, %v; want %d and %d", got, err, good, spoiled)
		}
	}
	must(shop.Count(heap, measure.Pieces(300)))
	must(shop.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"}))
	must(shop.Fit("SA-10", store.Fitting{Transfer: store.Transfer{StockKey: heap, Quantity: measure.Pieces(212)}}))
	scrap(19, "drilled out")
	want(212, 19)
	scrap(5, "Lost under the bench")
	want(212, 19)
	scrap(2, "stripped")
	want(212, 21)
	must(shop.Undo())
	want(212, 19)
	must(shop.Redo())
	want(212, 21)
	s.waste = waste{}
	want(212, 21)
	if got, err := Answer(s, func(r *Reader) (map[string]build.Uses, error) { return r.uses(false) }); err != nil || got != nil {
		t.Errorf("nobody wants to know, and it is %v, %v", got, err)
	}
}

// What was given up is no claim that somebody waits for, and nothing of it is to be withdrawn.
func TestGivenUpIsNotClaimed(t *testing.T) {
	short := store.Claimed{Line: 7, Kind: store.ClaimShort, Words: "1 short"}
	sent := store.SentClaim{Sent: onApril(3), Lines: []store.Claimed{short}}
	given := store.SentClaim{Sent: onApril(2), GivenUp: "too little", Lines: []store.Claimed{short}}
	for _, row := range []struct {
		name   string
		claims []store.SentClaim
		since  store.Date
	}{
		{"none", nil, store.Date{}},
		{"sent", []store.SentClaim{sent}, onApril(3)},
		{"given up", []store.SentClaim{given}, store.Date{}},
		{"given up, and found otherwise and sent", []store.SentClaim{given, sent}, onApril(3)},
	} {
		ship := store.Shipment{Claims: row.claims}
		is, since := claimed(ship, store.Line{ID: 7})
		if is != !row.since.IsZero() || since != row.since {
			t.Errorf("%s: claimed %v since %s, want %s", row.name, is, since, row.since)
		}
		if n := len(sentOf(ship, []store.Claimed{short})); n != 0 != !row.since.IsZero() {
			t.Errorf("%s: %d lines to withdraw", row.name, n)
		}
	}
}

// Of a line that is never going to be checked nothing is waited for.
func TestNeverCheckedIsNotExpected(t *testing.T) {
	ship := store.Shipment{Deliveries: []store.Delivery{{Crates: []string{"C1"}}}}
	line := store.Line{ID: 7, Crate: "C1", Listed: measure.Pieces(4), Status: store.Shipped}
	if of := expected(ship, line); len(of) != 1 || of[0].By != build.NotChecked {
		t.Fatalf("to be checked, it is expected as %+v", of)
	}
	if line.Unchecked = "given away"; len(expected(ship, line)) != 0 {
		t.Errorf("never checked, it is expected as %+v", expected(ship, line))
	}
}
