package store_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

func april(d int) store.Date { return store.Date{Year: 2026, Month: 4, Day: d} }

func money(t *testing.T, text string) store.Money {
	t.Helper()
	m, err := store.ParseMoney(text, "USD")
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// bolts is an order of the bolt shop: so many AN3-5A, and so many of others after them.
func bolts(n int64, more ...store.OrderLine) store.NewOrder {
	lines := append([]store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(n), Pack: 10}}, more...)
	return store.NewOrder{Order: store.Order{Supplier: "Bolt shop"}, Lines: lines}
}

func (w world) order(orders ...store.NewOrder) []store.Order {
	w.t.Helper()
	made, _, err := w.Order(orders...)
	w.must(err)
	return made
}

// owing is how every line of an order stands, in words.
func (w world) owing() []string {
	w.t.Helper()
	list, err := w.Owing()
	w.must(err)
	out := []string{}
	for _, o := range list {
		out = append(out, fmt.Sprintf("%s %s of %s: came %s, coming %s, owed %s", o.Ref(), o.Item, o.Supplier, o.Came.Number(), o.Coming.Number(), o.Owed.Number()))
	}
	return out
}

func (w world) wantOwing(want ...string) {
	w.t.Helper()
	if d := cmp.Diff(append([]string{}, want...), w.owing()); d != "" {
		w.t.Errorf("owing (-want +got):\n%s", d)
	}
}

// An order of two suppliers is one entry; what Undo takes back leaves its number behind,
// and Redo brings it back under it.
func TestOrderNumbersAreForLife(t *testing.T) {
	w := newWorld(t)
	w.SetHand("Partner")
	sealant := store.NewOrder{Order: store.Order{Supplier: "Sealant shop", Reference: "77-A"}, Lines: []store.OrderLine{{Item: "SEAL-B2", Quantity: measure.Of(2, measure.Quart), Price: money(t, "96.00")}}}
	before := newestSeq(w)
	made := w.order(bolts(10), sealant)
	if len(made) != 2 || made[0].Name() != "O-1" || made[1].Name() != "O-2" || made[0].Hand != "Partner" || made[0].Ordered != w.Today() || newestSeq(w) != before+1 {
		t.Errorf("made are %+v, by %d entries", made, newestSeq(w)-before)
	}
	all := []string{"O-1 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10", "O-2 line 1 SEAL-B2 of Sealant shop: came 0, coming 0, owed 2"}
	w.wantOwing(all...)
	w.must(second(w.Undo()))
	w.wantOwing()
	if orders, err := w.Orders(); err != nil || len(orders) != 0 {
		t.Errorf("undone, there are %v, %v", orders, err)
	}
	_, err := w.Promise(1, nil, april(2))
	wantRefusal(t, err, store.NotFound, "There is no order O-1 in this shop: see how it is numbered.")
	w.must(second(w.Redo()))
	w.wantOwing(all...)
	w.must(second(w.Undo()))
	if made := w.order(bolts(5)); made[0].Name() != "O-3" {
		t.Errorf("after O-1 and O-2 were undone, the next is %s", made[0].Name())
	}
	w.wantOwing("O-3 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 5")
}

// What came is matched by a person; what is found of it is owed no more, the oldest order
// first and nothing twice, and a later finding counts anew.
func TestMatchClearsWhatIsOwed(t *testing.T) {
	w := newWorld(t)
	w.order(bolts(10, store.OrderLine{Item: "MS21042-3", Quantity: measure.Pieces(25)}))
	w.order(bolts(10))
	first, second5 := store.OrderRef{Order: 1, Line: 1}, store.OrderRef{Order: 2, Line: 1}
	nuts := "O-1 line 2 MS21042-3 of Bolt shop: came 0, coming 0, owed 25"

	// Coming by number, it is not assumed to be what was ordered.
	w.receive(1, found(15))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10", nuts, "O-2 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10")
	e, err := w.Match(w.ship, 1, second5, first, second5)
	w.must(err)
	if e.Text != "line 1, AN3-5A: it is O-1 line 1 and O-2 line 1" || e.Verb != store.VerbOrder {
		t.Errorf("the entry is %s %q", e.Verb, e.Text)
	}
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 10, coming 0, owed 0", nuts, "O-2 line 1 AN3-5A of Bolt shop: came 5, coming 0, owed 5")
	w.receive(1, found(8))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 8, coming 0, owed 2", nuts, "O-2 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10")
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10", nuts, "O-2 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10")

	// Matched before it is counted, it is coming.
	w.must(second(w.Match(w.ship, 7, store.OrderRef{Order: 1, Line: 2})))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10", "O-1 line 2 MS21042-3 of Bolt shop: came 0, coming 20, owed 5", "O-2 line 1 AN3-5A of Bolt shop: came 0, coming 0, owed 10")
	w.must(second(w.Match(w.ship, 7)))
	l, err := w.Line(w.ship, 7)
	w.must(err)
	if l.Match == nil || len(l.Match.Lines) > 0 {
		t.Errorf("denied, the line says %+v", l.Match)
	}

	_, err = w.Match(w.ship, 2, first)
	wantRefusal(t, err, store.Conflict, "O-1 line 1 is AN3-5A, and line 2 is AN3-6A: only the same number is what was ordered.")
	_, err = w.Match(w.ship, 1, store.OrderRef{Order: 1, Line: 3})
	wantRefusal(t, err, store.NotFound, "O-1 has no line 3: see its lines.")
	w.order(store.NewOrder{Lines: []store.OrderLine{{Item: "AN426AD3-3.5", Quantity: measure.Of(1, measure.Pound)}}})
	w.receive(3, store.Finding{Found: pounds(300_000), Counted: true})
	w.must(second(w.Match(w.ship, 3, store.OrderRef{Order: 3, Line: 1})))
	if list := w.owing(); list[3] != "O-3 line 1 AN426AD3-3.5 of : came 0.3, coming 0, owed 0.7" {
		t.Errorf("of the pound: %s", list[3])
	}
	w.must(second(w.Weigh(w.in("AN426AD3-3.5", "H101"), rivets(1680, 1668, 1692))))
	w.order(store.NewOrder{Lines: []store.OrderLine{{Item: "AN426AD3-3.5", Quantity: measure.Pieces(100)}}})
	_, err = w.Match(w.ship, 3, store.OrderRef{Order: 4, Line: 1})
	wantRefusal(t, err, store.Conflict, "O-4 line 1 is in ea, and line 3 is in lb: nothing is converted, so cancel what is owed once it is counted.")
}

// An arrival is known to have taken so many days from the order to its delivery.
func TestLeadDays(t *testing.T) {
	w := newWorld(t)
	n := bolts(10)
	n.Ordered = store.Date{Year: 2026, Month: 3, Day: 2}
	w.order(n)
	w.must(second(w.Match(w.ship, 1, store.OrderRef{Order: 1, Line: 1})))
	days := func() []int {
		list, err := w.Owing()
		w.must(err)
		return list[0].Days
	}
	if got := days(); len(got) != 0 {
		t.Errorf("not counted yet, it took %v days", got)
	}
	w.receive(1, found(10))
	if got := days(); len(got) != 1 || got[0] != 12 {
		t.Errorf("ordered on 2 March and here on 14 March, it took %v days", got)
	}
}

// A day can be promised and taken back; what is canceled is owed no more, with its reason.
func TestPromiseAndCancel(t *testing.T) {
	w := newWorld(t)
	w.order(bolts(10, store.OrderLine{Item: "MS21042-3", Quantity: measure.Pieces(25)}))
	e, err := w.Promise(1, []int{2}, april(9))
	w.must(err)
	if e.Text != "O-1: MS21042-3 promised for 9 April 2026" {
		t.Errorf("the entry says %q", e.Text)
	}
	lines, err := w.OrderLines(1)
	w.must(err)
	if !lines[0].Promised.IsZero() || lines[1].Promised != april(9) {
		t.Errorf("promised are %s and %s", lines[0].Promised, lines[1].Promised)
	}
	_, err = w.Promise(1, nil, store.Date{Year: 2026, Month: 3, Day: 1})
	wantRefusal(t, err, store.Invalid, "What was ordered on 14 March 2026 cannot be promised for 1 March 2026: give that day or a later one.")

	w.receive(1, found(4))
	w.must(second(w.Match(w.ship, 1, store.OrderRef{Order: 1, Line: 1})))
	_, err = w.Cancel(1, []int{1}, " ")
	wantRefusal(t, err, store.Invalid, "The reason is empty: type it.")
	w.must(second(w.Cancel(1, []int{1}, "sold out")))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 4, coming 0, owed 0", "O-1 line 2 MS21042-3 of Bolt shop: came 0, coming 0, owed 25")
	_, err = w.Cancel(1, []int{1}, "again")
	wantRefusal(t, err, store.Conflict, "O-1 line 1 was canceled on 14 March 2026 already: there is nothing left to cancel.")
	w.must(second(w.Cancel(1, nil, "shop closed")))
	_, err = w.Cancel(1, nil, "again")
	wantRefusal(t, err, store.Conflict, "Every line of O-1 was canceled already: there is nothing left to cancel.")
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	w.wantOwing("O-1 line 1 AN3-5A of Bolt shop: came 4, coming 0, owed 6", "O-1 line 2 MS21042-3 of Bolt shop: came 0, coming 0, owed 25")
}

func TestOrderRefuses(t *testing.T) {
	w := newWorld(t)
	for _, c := range []struct {
		change   func(n *store.NewOrder)
		kind     store.Kind
		sentence string
	}{
		{func(n *store.NewOrder) { n.Lines = nil }, store.Invalid, "An order has 1 to 10000 lines, not 0: choose what is ordered."},
		{func(n *store.NewOrder) { n.Ordered = april(1) }, store.Invalid, "It cannot have been ordered on 1 April 2026: give a day of the calendar that is not still to come."},
		{func(n *store.NewOrder) { n.Lines[0].Quantity = measure.Pieces(0) }, store.Invalid, "0 ea of AN3-5A cannot be ordered: give how many, more than none."},
		{func(n *store.NewOrder) { n.Lines[0].Quantity = measure.Quantity{Micro: 500_000, Unit: measure.Each} }, store.Invalid, "0.5 ea of AN3-5A cannot be ordered: give how many, more than none."},
		{func(n *store.NewOrder) { n.Lines[0].Quantity.Unit = measure.Pound }, store.Conflict, "AN3-5A is kept by ea here, and this says lb: nothing is converted, so give it in ea."},
		{func(n *store.NewOrder) { n.Lines[0].Promised = store.Date{Year: 2025, Month: 1, Day: 1} }, store.Invalid, "What was ordered on 14 March 2026 cannot be promised for 1 January 2025: give that day or a later one."},
		{func(n *store.NewOrder) { n.Supplier = "bolt SHOP" }, store.Conflict, `“bolt SHOP” is here as “Bolt shop” already: write it as it is here.`},
	} {
		w.must(second(w.PutSupplier(store.Supplier{Name: "Bolt shop"})))
		n := bolts(10)
		c.change(&n)
		_, _, err := w.Order(n)
		wantRefusal(t, err, c.kind, c.sentence)
		w.wantOwing()
	}
	_, _, err := w.Order()
	wantRefusal(t, err, store.Invalid, "Nothing is to be ordered: choose at least one line.")
}

// A way to buy keeps the day of its price, makes its supplier, and keeps the unit.
func TestPutSupply(t *testing.T) {
	w := newWorld(t)
	supply := store.Supply{Item: "AN3-5A", Supplier: "Bolt shop", Pack: 10, Price: money(t, ".45"), Percent: 10}
	e, err := w.PutSupply(supply, measure.Pieces(20))
	w.must(err)
	if want := "AN3-5A: from Bolt shop, packs of 10, 0.45 USD each, spare 10 %, never below 20 ea"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	item, err := w.Item("AN3-5A")
	w.must(err)
	suppliers, err := w.Suppliers()
	w.must(err)
	if item.Minimum != measure.Pieces(20) || item.Title != "Bolt" || len(suppliers) != 1 || suppliers[0].Currency != "USD" {
		t.Errorf("the item is %+v, the suppliers %+v", item, suppliers)
	}
	w.clock.Set(t, "2026-03-20")
	supply.Pack = 25
	w.must(second(w.PutSupply(supply, measure.Quantity{})))
	is, err := w.SupplyOf("AN3-5A")
	w.must(err)
	if is.Priced != (store.Date{Year: 2026, Month: 3, Day: 14}) || is.Pack != 25 {
		t.Errorf("the same price is of %s, packs of %d", is.Priced, is.Pack)
	}
	if item, err = w.Item("AN3-5A"); err != nil || !item.Minimum.IsZero() {
		t.Errorf("the minimum is %s, %v", item.Minimum, err)
	}
	supply.Price = money(t, "0.50")
	w.must(second(w.PutSupply(supply, measure.Quantity{})))
	if is, err = w.SupplyOf("AN3-5A"); err != nil || is.Priced != w.Today() {
		t.Errorf("another price is of %s, %v", is.Priced, err)
	}
	_, err = w.PutSupply(store.Supply{Item: "AN3-5A", Spare: measure.Of(1, measure.Pound)}, measure.Quantity{})
	wantRefusal(t, err, store.Conflict, "AN3-5A is counted in ea, and 1 lb is not: nothing is converted, so give it in ea.")
	_, err = w.PutSupply(store.Supply{Item: "AN3-5A", Priced: april(1), Price: supply.Price}, measure.Quantity{})
	wantRefusal(t, err, store.Invalid, "The price of AN3-5A cannot be of 1 April 2026: that day is still to come.")
	euros, err := store.ParseMoney("1", "EUR")
	w.must(err)
	_, err = w.PutSupply(store.Supply{Item: "AN3-6A", Supplier: "Bolt shop", Price: euros}, measure.Quantity{})
	wantRefusal(t, err, store.Conflict, "Bolt shop sells in USD, and the price of AN3-6A is in EUR: give it in USD, which nothing here converts.")
	_, err = w.PutSupplier(store.Supplier{Name: "Bolt shop", Currency: "EUR"})
	wantRefusal(t, err, store.Conflict, "Bolt shop sells in EUR, and the price of AN3-5A is in USD: give it in EUR, which nothing here converts.")
	_, err = w.PutSupplier(store.Supplier{Name: "Nut shop", Currency: "EUR", Minimum: money(t, "20")})
	wantRefusal(t, err, store.Invalid, "Nut shop sells in EUR, and its minimum order is in USD: give both in one currency.")
}

func TestParseMoney(t *testing.T) {
	for text, want := range map[string]string{"4.50 USD": "4.50 USD", ".45": "0.45 USD", "48": "48.00 USD", "0.0625 usd": "0.0625 USD", "3eur": "3.00 EUR", "0": "0.00 USD", "1000 JPY": "1000 JPY", " ": ""} {
		if got, err := store.ParseMoney(text, "USD"); err != nil || got.String() != want || got.Known() != (want != "") {
			t.Errorf("%q is %q, %v; want %q", text, got, err, want)
		}
	}
	for _, text := range []string{"1e9", "-4", "4,50", "4.50 XXQ", "$4", "1.2345678", strings.Repeat("9", 13), "."} {
		if got, err := store.ParseMoney(text, "USD"); err == nil {
			t.Errorf("%q is taken for %s", text, got)
		}
	}
	_, err := store.ParseMoney("4.50", "")
	wantRefusal(t, err, store.Invalid, `“4.50” says no currency: write it like 4.50 USD.`)
}

// What was scrapped is told with its reason, undone less than nothing, and nothing else is.
func TestEntryScrapped(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	scrapped := func(e store.Entry, err error) string {
		w.must(err)
		taken, reason := e.Scrapped()
		words := reason
		for _, h := range taken {
			words += fmt.Sprintf(" %s %s", h.Item, h.Amount.Number())
		}
		return words
	}
	if got := scrapped(w.Scrap(w.to("AN3-5A", "H103", 3, "H103"), "stripped")); got != "stripped AN3-5A 3" {
		t.Errorf("scrapped is %q", got)
	}
	if got := scrapped(w.Undo()); got != "stripped AN3-5A -3" {
		t.Errorf("undone is %q", got)
	}
	if got := scrapped(w.Redo()); got != "stripped AN3-5A 3" {
		t.Errorf("redone is %q", got)
	}
	if got := scrapped(w.Count(w.in("AN3-5A", "H103"), measure.Pieces(7))); got != "" {
		t.Errorf("counted is %q", got)
	}
}
