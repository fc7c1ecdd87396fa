package ordering

import (
	"fmt"
	"strings"
	"testing"

	"github.com/bojanz/currency"

	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

func sum(t *testing.T, text string) currency.Amount {
	t.Helper()
	m, err := store.ParseMoney(text, "USD")
	if err != nil {
		t.Fatal(err)
	}
	return m.Amount
}

func june(day int) store.Date { return store.Date{Year: 2026, Month: 6, Day: day} }

// How late a line of an order is: by the day that was promised, else by that of the order.
func TestOwedMark(t *testing.T) {
	d := reading{today: june(10)}
	owed := func(ordered, promised store.Date) store.Owing {
		return store.Owing{OrderLine: store.OrderLine{Promised: promised}, Ordered: ordered, Owed: measure.Pieces(10)}
	}
	came := owed(june(1), june(5))
	came.Owed, came.Coming = measure.Pieces(0), measure.Pieces(4)
	for name, row := range map[string]struct {
		line store.Owing
		want notice.Mark
	}{
		"ordered today":         {owed(june(10), store.Date{}), notice.Mark{Word: "ordered today"}},
		"ordered yesterday":     {owed(june(9), store.Date{}), notice.Mark{Word: "1 day ago"}},
		"ordered long ago":      {owed(june(1), store.Date{}), notice.Mark{Word: "9 days ago"}},
		"promised for tomorrow": {owed(june(10), june(11)), notice.Mark{Word: "in 1 day", Tone: notice.OK}},
		"promised for today":    {owed(june(1), june(10)), notice.Mark{Word: "due today", Tone: notice.OK}},
		"a day late":            {owed(june(1), june(9)), notice.Mark{Word: "1 day late", Tone: notice.Stop}},
		"in a parcel":           {came, notice.Mark{Word: "4 to check", Tone: notice.Warn}},
	} {
		if got := d.owedMark(row.line); got != row.want {
			t.Errorf("%s: got %+v, want %+v", name, got, row.want)
		}
	}
}

// What a line is for, in packs of how many, and for how much; nothing that is not known is
// put into figures.
func TestLineWords(t *testing.T) {
	for name, row := range map[string]struct {
		line                            build.OrderLine
		packs, cell, price, fors, inRow string
	}{
		"a pack":       {build.OrderLine{Order: measure.Pieces(10), Pack: 10, Packs: 1, Price: sum(t, "4.50"), Unblocks: []string{"SA-41", "SA-50"}}, "1 pack of 10", "1 × 10", "4.50 USD", "unblocks SA-41, SA-50", "SA-41, SA-50"},
		"several":      {build.OrderLine{Order: measure.Pieces(40), Pack: 20, Packs: 2, Helps: []string{"SA-40"}}, "2 packs of 20", "2 × 20", "price unknown", "for SA-40, not enough alone", "SA-40 in part"},
		"singly":       {build.OrderLine{Order: measure.Pieces(3), Pack: 1, Packs: 3}, "singly", "ea", "price unknown", "unblocks nothing", "nothing"},
		"both of them": {build.OrderLine{Order: measure.Pieces(3), Unblocks: []string{"SA-41"}, Helps: []string{"SA-40"}}, "singly", "ea", "price unknown", "unblocks SA-41; for SA-40, not enough alone", "SA-41; SA-40 in part"},
		"two in part":  {build.OrderLine{Order: measure.Pieces(10), Helps: []string{"SA-21", "SA-41"}}, "singly", "ea", "price unknown", "for SA-21, SA-41, not enough alone", "2 in part; SA-21, SA-41"},
	} {
		got := []string{packs(row.line), packCell(row.line), priceWords(row.line), unblocks(row.line), wording.Joined("; ", unblocksCell(row.line).Text, unblocksCell(row.line).Sub)}
		if want := []string{row.packs, row.cell, row.price, row.fors, row.inRow}; strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("%s: got %q, want %q", name, got, want)
		}
	}
}

// What the lines of a supplier come to, with those that have no price, and what is missing
// to its minimum.
func TestTotals(t *testing.T) {
	for name, row := range map[string]struct {
		order       build.SupplierOrder
		total, less string
	}{
		"nothing known":   {build.SupplierOrder{}, "total unknown", ""},
		"all of it":       {build.SupplierOrder{Total: sum(t, "96")}, "96.00 USD", ""},
		"one unpriced":    {build.SupplierOrder{Total: sum(t, "10.50"), Unpriced: 1}, "10.50 USD and 1 line without a price", ""},
		"under the least": {build.SupplierOrder{Total: sum(t, "10.50"), Unpriced: 2, UnderMinimum: sum(t, "9.5")}, "10.50 USD and 2 lines without a price", "9.50 USD under the minimum order"},
	} {
		if got, less := totalWords(row.order), underWords(row.order); got != row.total || less != row.less {
			t.Errorf("%s: got %q and %q", name, got, less)
		}
	}
	euros, err := store.ParseMoney("3 EUR", "")
	if err != nil {
		t.Fatal(err)
	}
	if got := Sums([]currency.Amount{sum(t, "106.5"), euros.Amount}); got != "106.50 USD + 3.00 EUR" {
		t.Errorf("of two currencies: %q", got)
	}
	if got := moneyCell(currency.Amount{}); got.Text != "?" || got.Sub != "" {
		t.Errorf("an unknown price is %+v", got)
	}
}

// When a sub-assembly can start is said as a day or a span, with what it rests on, and
// unknown stays unknown.
func TestForecastWords(t *testing.T) {
	for want, f := range map[string]build.Forecast{
		"SA-41 as things stand: unknown (AN3-5A: nobody owes 6 of them).":               {Code: "SA-41", Unknown: true, Reasons: []string{"AN3-5A: nobody owes 6 of them"}},
		"SA-41 can start on 12 June 2026 (AN3-5A by promise).":                          {Code: "SA-41", From: june(12), To: june(12), Reasons: []string{"AN3-5A by promise"}},
		"SA-41 can start between 12 June 2026 and 20 June 2026 (AN3-5A; 5 deliveries).": {Code: "SA-41", From: june(12), To: june(20), Reasons: []string{"AN3-5A", "5 deliveries"}},
	} {
		if got := forecastWords(f); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A line that came is asked about with how many were found of it, and every order that it
// may be of; a list without an order is known by its file.
func TestOfferWords(t *testing.T) {
	owing := func(order, line int, n int64) store.Owing {
		return store.Owing{OrderLine: store.OrderLine{Order: order, Number: line}, Owed: measure.Pieces(n)}
	}
	o := session.Offer{
		Ship: store.Shipment{File: "f1.csv"}, Line: store.Line{ID: 3, Designation: "AN3-5A", Listed: measure.Pieces(12)},
		Orders: []store.Owing{owing(1, 1, 10), owing(2, 4, 2)},
	}
	const which = "is it O-1 line 1, of which 10 are owed, or O-2 line 4, of which 2 are owed?"
	if got, want := OfferWords(o), "line 3 of f1.csv, 12 AN3-5A: "+which; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	o.Ship.Order, o.Line.Finding = "F-1", &store.Finding{Found: measure.Pieces(9)}
	if got, want := OfferWords(o), "line 3 of F-1, 9 AN3-5A: "+which; got != want {
		t.Errorf("counted: got %q, want %q", got, want)
	}
}

// Over the list stand the first questions, and how many more there are.
func TestQuestionsOverTheList(t *testing.T) {
	d := reading{}
	for i := range 5 {
		d.List.Ask = append(d.List.Ask, build.Question{Sentence: fmt.Sprintf("weigh A-%02d", i+1)})
	}
	if got := d.ask(); got != "Weigh A-01; weigh A-02; weigh A-03; and 2 more." {
		t.Errorf("five questions: %q", got)
	}
	d.Offers = []session.Offer{{}}
	if got := d.ask(); !strings.HasSuffix(got, "and 2 more. 1 line that came may be what was ordered: press O, and say.") {
		t.Errorf("and an offer: %q", got)
	}
}

// Each field of how a thing is bought has a question of its own.
func TestQuestionsOfFields(t *testing.T) {
	seen := map[string]bool{}
	for f := SupplierField; f <= MinimumField; f++ {
		label, hint := f.Question()
		if !strings.HasSuffix(label, "?") || hint == "" || seen[label] {
			t.Errorf("field %d asks %q (%s)", f, label, hint)
		}
		seen[label] = true
	}
}
