package evidence

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowright/app/operation"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

func money(t testing.TB, text string) store.Money {
	t.Helper()
	m, err := store.ParseMoney(text, "")
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// priced gives lots of an item their prices, by their order.
func priced(t testing.TB, b *sessiontest.Bench, item string, prices ...string) {
	t.Helper()
	lots, err := b.Shop.Lots(item)
	if err != nil || len(lots) < len(prices) {
		t.Fatalf("%d lots, %v", len(lots), err)
	}
	for i, p := range prices {
		facts := lots[i].Facts
		facts.Price = money(t, p)
		if _, err := b.Shop.DescribeLot(lots[i].Number, facts); err != nil {
			t.Fatal(err)
		}
	}
}

// sums are those of a shop, in words.
func sums(t testing.TB, b *sessiontest.Bench) string {
	t.Helper()
	v, err := ValueOf(&b.Shop.Reader)
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, s := range v.Sums {
		words = append(words, s.Where+" "+s.String())
	}
	return strings.Join(words, "; ")
}

// A heap of two lots that were poured together costs what they cost together as long as it is
// whole; a part of it lies between what it may cost at least and at most.
func TestValueOfWhatWasPouredTogether(t *testing.T) {
	b, _ := bench(t)
	a12 := b.Heap("A-12").StockKey
	a12.Lot = ""
	if _, err := b.Shop.PutIn(a12, store.Exact(measure.Pieces(10)), store.PourLots); err != nil {
		t.Fatal(err)
	}
	priced(t, b, "AN3-5A", "0.45 USD", "0.60 USD")
	if got := sums(t, b); got != "in stock 18.60 USD" { // 28 x .45 + 10 x .60
		t.Errorf("whole: %s", got)
	}
	do(t, b, operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-10"})
	// In the tray all 6 may be of either; of the 32 that are left at least 22 are of the first.
	if got := sums(t, b); got != "in stock 15.00 to 15.90 USD; in trays 2.70 to 3.60 USD" {
		t.Errorf("in two places: %s", got)
	}
	v, err := ValueOf(&b.Shop.Reader)
	if err != nil || len(v.Received) != 2 || v.Received[0].Paid.String() != "12.60 USD" {
		t.Errorf("received %+v, %v", v.Received, err)
	}
}

func TestValueIsNeverGuessed(t *testing.T) {
	b, _ := bench(t)
	a12 := b.Heap("A-12").StockKey
	a12.Lot = ""
	if _, err := b.Shop.PutIn(a12, store.Exact(measure.Pieces(10)), store.PourLots); err != nil {
		t.Fatal(err)
	}
	priced(t, b, "AN3-5A", "0.45 USD")
	why := func() string {
		v, err := ValueOf(&b.Shop.Reader)
		if err != nil {
			t.Fatal(err)
		}
		for _, u := range v.Unpriced {
			if u.Item == "AN3-5A" {
				return fmt.Sprintf("%s, %s: %s", u.Amount, u.Where, u.Why)
			}
		}
		return ""
	}
	if got := why() + sums(t, b); got != "38 ea, in stock: no price is recorded" {
		t.Errorf("one has a price: %q", got)
	}
	priced(t, b, "AN3-5A", "0.45 USD", "0.60 EUR")
	if got := why() + sums(t, b); got != "38 ea, in stock: lots of two currencies were poured together" {
		t.Errorf("two currencies: %q", got)
	}
}

// The price of the packing list is that of one of its unit, and what was counted by another
// has none; one that was only noted for a claim is none that was paid.
func TestValueByThePackingList(t *testing.T) {
	b := sessiontest.Empty(t)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	line := func(n int, item string, listed measure.Quantity, price string) store.NewLine {
		l := store.NewLine{Number: n, Crate: "C1", Designation: item, Listed: listed, Status: store.Shipped}
		if price != "" {
			l.Price = money(t, price)
		}
		return l
	}
	pound := measure.Of(1, measure.Pound)
	list, _, err := b.Shop.Import(store.NewShipment{Order: "F-1", File: "f.csv", Fingerprint: "f", Lines: []store.NewLine{
		line(1, "AN3-5A", measure.Pieces(28), "0.50 USD"), line(2, "AN426AD3-3", pound, "9.00 USD"), line(3, "AN3-6A", measure.Pieces(2), ""),
	}})
	must(err)
	_, err = b.Shop.Arrive(list.ID, store.Delivery{Crates: []string{"C1"}, Arrived: b.Shop.Today()})
	must(err)
	for id, f := range []store.Finding{{Found: measure.Pieces(27)}, {Found: pound}, {Found: measure.Pieces(2)}} {
		_, err := b.Shop.Receive(list.ID, store.LineID(id+1), f)
		must(err)
	}
	_, err = b.Shop.PriceLine(list.ID, 3, money(t, "7 USD"), "the last price known")
	must(err)
	if got := sums(t, b); got != "in stock 22.50 USD" { // 27 bolts, and a pound of rivets
		t.Errorf("%s", got)
	}
	v, err := ValueOf(&b.Shop.Reader)
	must(err)
	if len(v.Unpriced) != 1 || v.Unpriced[0].Why != "a price was only noted for a claim: the last price known" {
		t.Errorf("without a price: %+v", v.Unpriced)
	}
}

// What is shared out is all there is, within what each lot may have, and cheap is never more
// than dear.
func TestShareOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parts []portion
		var low, high int64
		for range rapid.IntRange(1, 5).Draw(t, "parts") {
			p := portion{low: rapid.Int64Range(0, 50).Draw(t, "low")}
			p.high = p.low + rapid.Int64Range(0, 50).Draw(t, "more")
			m, err := store.ParseMoney(fmt.Sprint(rapid.IntRange(0, 9).Draw(t, "price"))+" USD", "")
			if err != nil {
				t.Fatal(err)
			}
			p.price = m
			parts, low, high = append(parts, p), low+p.low, high+p.high
		}
		all := rapid.Int64Range(low, high).Draw(t, "all")
		cost := map[bool]int64{}
		for _, dear := range []bool{false, true} {
			sum := int64(0)
			for i, n := range shareOut(parts, all, dear) {
				if n < parts[i].low || n > parts[i].high {
					t.Fatalf("part %d gets %d of %+v", i, n, parts[i])
				}
				sum += n
				price, err := parts[i].price.Int64()
				if err != nil {
					t.Fatal(err)
				}
				cost[dear] += n * price
			}
			if sum != all {
				t.Fatalf("%d of %d are shared out", sum, all)
			}
		}
		if cost[false] > cost[true] {
			t.Fatalf("cheap %d, dear %d", cost[false], cost[true])
		}
	})
}
