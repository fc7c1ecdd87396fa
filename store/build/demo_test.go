package build

import (
	"slices"
	"testing"
	"time"

	"stowright/store/measure"
)

// The demo data of the trade's Osterhollow Type Q with the extension for building:
// sub-assemblies, needs and stock as on 18 March 2026, nothing pulled.

func day(y, m, d int) measure.Date { return measure.Date{Year: y, Month: time.Month(m), Day: d} }

var march18 = day(2026, 3, 18)

// grams is a weight in tenths of a gram.
func grams(tenths int64) measure.Quantity {
	return measure.Quantity{Micro: tenths * 100_000, Unit: measure.Gram}
}

// weighed is what a weighing of the stories comes to, on a scale with steps of 0.1 g;
// all figures are in tenths of a gram.
func weighed(t testing.TB, tare, gross, sample100 int64) measure.Amount {
	t.Helper()
	w, err := measure.Weighing{
		Step: grams(1), Tare: grams(tare), Gross: grams(gross),
		Sample: measure.Sample{Pieces: 100, Net: grams(sample100), Step: grams(1)},
	}.Count()
	if err != nil {
		t.Fatal(err)
	}
	return w.Amount()
}

func pieces(n int64) measure.Amount { return measure.Exact(measure.Pieces(n)) }

func heap(place string, n int64) Heap { return Heap{Place: place, Amount: pieces(n)} }

// hundredths is so many hundredths of a unit.
func hundredths(n int64, u measure.Unit) measure.Amount {
	return measure.Exact(measure.Quantity{Micro: n * 10_000, Unit: u})
}

type need struct {
	item   string
	called string
	n      int64
}

func sub(code, name string, hours int, needs ...need) SubAssembly {
	s := SubAssembly{Code: code, Name: name, Aircraft: "Q", Hours: Hours(10 * hours)}
	for _, n := range needs {
		called := n.called
		if called == "" {
			called = n.item
		}
		s.Requirements = append(s.Requirements, Requirement{ID: code + " " + n.item, Called: called, Item: n.item, Needed: measure.Pieces(n.n)})
	}
	return s
}

const washer, thinWasher = "NAS1149F0363P", "NAS1149F0332P"

// demoReading is the demo before are weighed.
func demoReading() *Reading {
	r := &Reading{
		Today: march18,
		SubAssemblies: []SubAssembly{
			sub("SA-10", "Fin", 20, need{"AN426AD3-3.5", "", 212}, need{"AN470AD4-5", "", 46}, need{"AN3-5A", "", 6}, need{washer, "AN960-10", 12}, need{"AN365-1032A", "", 6}),
			sub("SA-20", "Rudder", 6, need{"MS21042-3", "", 6}),
			sub("SA-21", "Rudder hinges", 8, need{"AN3-5A", "", 20}, need{washer, "AN960-10", 40}, need{"AN365-1032A", "", 20}),
			sub("SA-30", "Tailplane", 35, need{"OQ-30-033", "", 2}),
			sub("SA-40", "Elevator", 15, need{"AN3-11", "", 4}, need{"AN310-3", "", 4}, need{"MS24665-132", "", 4}),
			sub("SA-41", "Elevator hinges", 5, need{"AN3-5A", "", 8}, need{washer, "AN960-10", 16}, need{"AN365-1032A", "", 8}),
			sub("SA-50", "Tank", 40, need{"SEAL-B2", "", 2}),
		},
		Stock: map[string][]Heap{
			"AN426AD3-3.5": {{Place: "A-03", Amount: hundredths(30, measure.Pound)}},
			"AN470AD4-5":   {{Place: "A-21", Amount: hundredths(25, measure.Pound)}},
			"AN3-5A":       {heap("A-12", 28)},
			"AN3-6A":       {heap("A-38", 12)},
			washer:         {heap("A-30", 150)},
			thinWasher:     {heap("A-31", 40)},
			"AN365-1032A":  {heap("A-17", 70)},
			"MS21042-3":    {{Place: "A-22", Lot: "L-48", LotName: "Q7714", Amount: pieces(20)}},
			"AN3-11A":      {{Place: "S6", Condition: SetApart, Amount: pieces(4)}},
			"AN310-3":      {heap("A-19", 4)},
			"MS24665-132":  {heap("A-23", 16)},
		},
		Expected: map[string][]Expected{
			"OQ-30-033": {{By: BackOrdered, Quantity: measure.Pieces(2), Line: 19, Crate: "C1"}},
			"AN3-11":    {{By: Missing, Quantity: measure.Pieces(4), Line: 42, Crate: "C1"}},
			"SEAL-B2":   {{By: NotCome, Quantity: measure.Of(2, measure.Quart), Line: 59, Crate: "C3"}},
		},
		Equivalents: []Equivalent{
			{Old: "AN960-10", New: washer, Source: "Osterhollow cover letter", Date: day(2026, 3, 10)},
			{Old: "AN960-10L", New: thinWasher, Source: "Osterhollow cover letter", Date: day(2026, 3, 10)},
		},
		Places:   map[string]Place{"S6": {ID: "S6", Name: "S6", Furniture: 1}},
		Aircraft: map[string]Aircraft{"Q": {Name: "Q"}, "T": {Name: "T", Certificate: StandardCategory}},
	}
	tank := &r.SubAssemblies[6].Requirements[0]
	tank.Needed = measure.Of(2, measure.Quart)
	for i := range 40 {
		p := drawer("A", i+1, 8)
		r.Places[p.ID] = p
	}
	return r
}

// drawer is the n-th drawer of a cabinet whose rows have so many.
func drawer(cabinet string, n, columns int) Place {
	name := cabinet + "-" + string(rune('0'+n/10)) + string(rune('0'+n%10))
	return Place{ID: name, Name: name, Row: (n-1)/columns + 1, Column: (n-1)%columns + 1}
}

// weighedDemo is the demo after are weighed.
func weighedDemo(t testing.TB) *Reading {
	r := demoReading()
	r.Stock["AN426AD3-3.5"][0].Amount = weighed(t, 243, 1604, 81)
	r.Stock["AN470AD4-5"][0].Amount = weighed(t, 243, 1377, 243)
	return r
}

// startable are the codes that can be started.
func startable(b *Board) []string {
	var codes []string
	for _, s := range b.Statuses() {
		if s.State.Startable() {
			codes = append(codes, s.Code)
		}
	}
	return codes
}

// needOf is how a sub-assembly stands with an item.
func needOf(t testing.TB, b *Board, code, item string) Need {
	t.Helper()
	s, ok := b.Status(code)
	i := slices.IndexFunc(s.Needs, func(n Need) bool { return n.Item == item })
	if !ok || i < 0 {
		t.Fatalf("%s does not ask for %s", code, item)
	}
	return s.Needs[i]
}

func sentence(t testing.TB, b *Board, code string) string {
	t.Helper()
	s, ok := b.Status(code)
	if !ok {
		t.Fatalf("there is no %s", code)
	}
	return s.Sentence
}
