package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// What is claimed is worth so much as is claimed of it, at the price of one unit; what came
// and was not listed is worth nothing, and without a price nothing is known.
func TestWorthOfAClaim(t *testing.T) {
	line := func(listed measure.Quantity, f store.Finding) store.Line {
		f.Counted = true
		return store.Line{ID: 1, Designation: "OQ-1-B", Listed: listed, Finding: &f}
	}
	pieces := measure.Pieces
	inches := func(n int64) measure.Quantity { return measure.Of(n, measure.InchUnit) }
	for _, row := range []struct {
		name  string
		line  store.Line
		price string
		want  []string
	}{
		{"short", line(pieces(16), store.Finding{Found: pieces(12)}), "0.45 USD", []string{"short 1.80 USD"}},
		{"damaged of what came", line(pieces(4), store.Finding{Found: pieces(4), Damaged: pieces(1)}), "3 USD", []string{"damaged 3.00 USD"}},
		{"short and damaged", line(pieces(4), store.Finding{Found: pieces(3), Damaged: pieces(2)}), "3 USD", []string{"short 3.00 USD", "damaged 6.00 USD"}},
		{"of another revision", line(pieces(2), store.Finding{Found: pieces(0), Came: &store.Came{Designation: "OQ-1-A", Quantity: pieces(2), Revision: true}}), "7.50 EUR", []string{"wrong 15.00 EUR"}},
		{"another in its place", line(pieces(4), store.Finding{Found: pieces(0), Came: &store.Came{Designation: "OQ-9", Quantity: pieces(3)}}), "2 USD", []string{"short 8.00 USD"}},
		{"by length, rounded", line(inches(64), store.Finding{Found: inches(60)}), "0.333 USD", []string{"short 1.33 USD"}},
		{"over", line(pieces(4), store.Finding{Found: pieces(6)}), "2 USD", []string{"surplus "}},
		{"no price", line(pieces(4), store.Finding{Found: pieces(3)}), "", []string{"short "}},
	} {
		t.Run(row.name, func(t *testing.T) {
			var got []string
			for _, c := range row.line.Claims() {
				sum, err := c.Worth(money(t, row.price))
				if err != nil {
					t.Fatal(err)
				}
				got = append(got, string(c.Kind)+" "+sum.String())
			}
			if len(got) != len(row.want) {
				t.Fatalf("got %q, want %q", got, row.want)
			}
			for i := range got {
				if got[i] != row.want[i] {
					t.Errorf("got %q, want %q", got, row.want)
				}
			}
		})
	}
}

// A sum is credited for one line, and stands on it once, though two kinds of claim do.
func TestCredited(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.receive(5, store.Finding{Found: measure.Pieces(1), Damaged: measure.Pieces(1), Counted: true})
	w.receive(10, store.Finding{Found: measure.Pieces(10), Damaged: measure.Pieces(1), Counted: true})
	w.must(second(w.ClaimSent(w.ship, w.Today(), "by mail")))
	nine := money(t, "9 USD")
	for name, row := range map[string]struct {
		lines  []store.LineID
		answer store.ClaimAnswer
	}{
		"for two lines":     {[]store.LineID{5, 10}, store.ClaimAnswer{Reply: store.Credit, Credited: nine}},
		"for all":           {nil, store.ClaimAnswer{Reply: store.Credit, Credited: nine}},
		"for a replacement": {[]store.LineID{5}, store.ClaimAnswer{Reply: store.Replacement, Credited: nine}},
	} {
		_, err := w.ClaimAnswered(w.ship, row.lines, row.answer)
		if store.KindOf(err) != store.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	e, err := w.ClaimAnswered(w.ship, []store.LineID{10}, store.ClaimAnswer{Reply: store.Credit, Credited: nine, Note: "on account"})
	w.must(err)
	if want := "claim answered: 2 lines, credit of 9.00 USD, on account"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	credited := func() (sums int, sum string) {
		for _, l := range w.shipment().Claims[0].Lines {
			if l.Credited.Known() {
				sums++
				sum = l.Credited.String()
			}
		}
		return sums, sum
	}
	if n, sum := credited(); n != 1 || sum != "9.00 USD" {
		t.Errorf("%d sums, %s", n, sum)
	}
	w.must(second(w.ClaimAnswered(w.ship, []store.LineID{10}, store.ClaimAnswer{Reply: store.Refused})))
	if n, _ := credited(); n != 0 {
		t.Errorf("answered otherwise, and %d sums are credited", n)
	}
}

// A price is noted where the list says none, with where it is from, and may be noted anew;
// that of the list stays, and a revised list that says one takes its place.
func TestPriceLine(t *testing.T) {
	w := newWorld(t)
	e, err := w.PriceLine(w.ship, 2, money(t, "0.45 USD"), "as typed by Builder")
	w.must(err)
	if want := "line 2, AN3-6A: 0.45 USD for 1 ea, as typed by Builder"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.must(second(w.PriceLine(w.ship, 2, money(t, "0.48 USD"), "the last price known")))
	if l, err := w.Line(w.ship, 2); err != nil || l.Price.String() != "0.48 USD" || l.Priced != "the last price known" {
		t.Errorf("noted anew: %s, %q, %v", l.Price, l.Priced, err)
	}
	for _, row := range []struct {
		line      int
		price, of string
		kind      store.Kind
		sentence  string
	}{
		{99, "1 USD", "as typed", store.NotFound, "The packing list has no line 99: see its lines."},
		{1, "", "as typed", store.Invalid, "Nobody said what one unit of line 1 costs: give it with its currency, as in 4.50 USD."},
		{1, "1 USD", " ", store.Invalid, "Say where the price of line 1 is from: the claim says it."},
	} {
		_, err := w.PriceLine(w.ship, store.LineID(row.line), money(t, row.price), row.of)
		wantRefusal(t, err, row.kind, row.sentence)
	}
	list := revisedList()
	list.Revises = w.ship
	list.Lines[1].Price = money(t, "0.50 USD")
	w.must(third(w.Import(list)))
	if l, err := w.Line(w.ship, 2); err != nil || l.Price.String() != "0.50 USD" || l.Priced != "" {
		t.Errorf("by the revised list: %s, %q, %v", l.Price, l.Priced, err)
	}
	_, err = w.PriceLine(w.ship, 2, money(t, "9 USD"), "as typed")
	wantRefusal(t, err, store.Conflict, "The packing list says 0.50 USD for line 2: that is what its claim is worth.")
}
