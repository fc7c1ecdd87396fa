package build

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/bojanz/currency"

	"stowright/store/measure"
)

func dollars(t testing.TB, n string) currency.Amount {
	t.Helper()
	a, err := currency.NewAmount(n, "USD")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// april20 is the demo on 20 April 2026: C3 is in, nothing is pulled, the claim for line
// 42 was answered, and the rules of story 20 are made.
func april20(t testing.TB) *Reading {
	r := weighedDemo(t)
	r.Today = day(2026, 4, 20)
	r.SubAssemblies[6].Planned = day(2026, 8, 1)
	r.Stock["OQ-30-033"], r.Expected["OQ-30-033"] = []Heap{heap("S3", 2)}, nil
	r.Stock["SEAL-B2"], r.Expected["SEAL-B2"] = sealant()[:1], nil
	r.Expected["AN3-11"] = []Expected{{By: Promised, Quantity: measure.Pieces(4), Line: 42, Claimed: true}}
	r.Supply = map[string]Supply{
		"AN3-5A":      {Supplier: "fastener shop", Pack: 10, Price: dollars(t, ".45"), Spare: SpareRule{Percent: 10}},
		"MS24665-132": {Supplier: "fastener shop", Pack: 25, Price: dollars(t, ".06"), Minimum: measure.Pieces(20)},
		"AN3-11":      {Supplier: "fastener shop", Pack: 5, Price: dollars(t, ".90"), Spare: SpareRule{Count: measure.Pieces(1)}},
		"SEAL-B2":     {Supplier: "sealant shop", Price: dollars(t, "48.00")},
	}
	r.Suppliers = map[string]Supplier{"fastener shop": {MinimumOrder: dollars(t, "20.00")}}
	return r
}

func orderOf(t testing.TB, r *Reading) OrderList {
	t.Helper()
	list, err := NewBoard(r).Order()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// orderWords is a list as a person reads it, a line for every line and sum.
func orderWords(list OrderList) []string {
	var out []string
	for _, s := range list.Suppliers {
		for _, l := range s.Lines {
			out = append(out, fmt.Sprintf("%s: need %s + %s, have %s, owed %s, buy %s: %d of %d, %s; unblocks %s; %s",
				l.Item, l.Needed.Number(), l.Spare.Number(), l.Have.Number(), l.Owed.Number(), l.Buy.Number(), l.Packs, l.Pack, l.Price.Number(), strings.Join(l.Unblocks, ","), l.Note))
		}
		words := s.Name + " " + s.Total.Number()
		if s.UnderMinimum.CurrencyCode() != "" {
			words += ", " + s.UnderMinimum.Number() + " under"
		}
		out = append(out, words)
	}
	for _, a := range list.Totals {
		out = append(out, "together "+a.String())
	}
	return out
}

// Story 20, its four lines and its sums.
func TestStory20Order(t *testing.T) {
	r := april20(t)
	want := []string{
		"AN3-5A: need 34 + 4, have 28, owed 0, buy 10: 1 of 10, 4.50; unblocks SA-41; ",
		"AN3-11: need 4 + 1, have 0, owed 4, buy 1: 1 of 5, 4.50; unblocks ; 4 are owed on line 42: nothing is unblocked by their being owed",
		"MS24665-132: need 4 + 0, have 16, owed 0, buy 8: 1 of 25, 1.50; unblocks ; 8 under the minimum of 20",
		"fastener shop 10.50, 9.50 under",
		"SEAL-B2: need 2 + 0, have 0, owed 0, buy 2: 2 of 1, 96.00; unblocks SA-50; 2 here expire 22 days before the job",
		"sealant shop 96.00",
		"together 106.50 USD",
	}
	list := orderOf(t, r)
	if got := orderWords(list); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if l := list.Suppliers[1].Lines[0]; l.NeededBy != day(2026, 8, 1) || l.Order != measure.Of(2, measure.Quart) {
		t.Errorf("the sealant is needed by %s, and %s are ordered", l.NeededBy, l.Order)
	}

	// Marked as ordered: 10, 25, 5 and 2 are owed, and nothing is to be bought.
	for _, s := range list.Suppliers {
		for _, l := range s.Lines {
			r.Expected[l.Item] = append(r.Expected[l.Item], Expected{By: Ordered, Quantity: l.Order, Supplier: s.Name})
		}
	}
	if got := orderWords(orderOf(t, r)); len(got) > 0 {
		t.Errorf("after ordering %q are left", got)
	}
	// Ten AN3-5A arrive: the others stay owed, and nothing comes onto the list.
	r.Stock["AN3-5A"] = append(r.Stock["AN3-5A"], heap("A-13", 10))
	r.Expected["AN3-5A"] = nil
	if got := orderWords(orderOf(t, r)); len(got) > 0 {
		t.Errorf("after ten came %q are left", got)
	}
	if s, _ := NewBoard(r).Status("SA-41"); s.State != Ready {
		t.Errorf("SA-41 then: %s", s.Sentence)
	}
}

// Unanswered, the four of line 42 are not owed, and five are to buy for the same price.
func TestStory20Unanswered(t *testing.T) {
	r := april20(t)
	r.Expected["AN3-11"][0].By = Missing
	l := orderOf(t, r).Suppliers[0].Lines[1]
	if l.Item != "AN3-11" || l.Owed.Sign() != 0 || l.Buy != measure.Pieces(5) || l.Packs != 1 || l.Price.Number() != "4.50" || !slices.Equal(l.Unblocks, []string{"SA-40"}) {
		t.Errorf("the line is %+v", l)
	}
}

// What counting may find is not bought; what has no price or supplier is said.
func TestOrderAsksAndMarks(t *testing.T) {
	r := april20(t)
	r.Stock["AN426AD3-3.5"][0].Amount = hundredths(30, measure.Pound)
	delete(r.Supply, "SEAL-B2")
	// SA-40 waits for castle nuts as well: buying bolts helps, and does not unblock it.
	r.Stock["AN310-3"] = nil
	r.Expected["AN3-11"] = nil
	list := orderOf(t, r)
	if len(list.Ask) != 1 || list.Ask[0].Sentence != "AN426AD3-3.5: weigh A-03 before it is ordered" {
		t.Errorf("asked is %+v", list.Ask)
	}
	last := list.Suppliers[len(list.Suppliers)-1]
	if last.Name != "" || last.Unpriced != 2 || last.Total.CurrencyCode() != "" || list.Unpriced != 2 {
		t.Errorf("without a supplier: %+v, unpriced %d", last, list.Unpriced)
	}
	for _, l := range list.Suppliers[0].Lines {
		if l.Item == "AN3-11" && (len(l.Unblocks) > 0 || !slices.Equal(l.Helps, []string{"SA-40"})) {
			t.Errorf("AN3-11 unblocks %v and helps %v", l.Unblocks, l.Helps)
		}
	}
	r.Supply["AN3-11"] = Supply{Supplier: "fastener shop", Price: func() currency.Amount { a, _ := currency.NewAmount("1", "EUR"); return a }()}
	if _, err := NewBoard(r).Order(); err == nil {
		t.Error("dollars and euros of one supplier are added up")
	}
}

// A hold that was let go is bought for all the same, and counted once; temporary
// fasteners go from one job to the next; a late promise is said.
func TestOrderCountsOnce(t *testing.T) {
	r := april20(t)
	r.SubAssemblies[4].LetGo = true
	if got := orderWords(orderOf(t, r))[2]; got != "MS24665-132: need 4 + 0, have 16, owed 0, buy 8: 1 of 25, 1.50; unblocks ; 8 under the minimum of 20" {
		t.Errorf("with SA-40's hold let go: %s", got)
	}
	for i := range 2 {
		s := &r.SubAssemblies[i]
		s.Requirements = append(s.Requirements, Requirement{ID: fmt.Sprint("C", i), Called: "CLECO", Item: "CLECO", Needed: measure.Pieces(20), Kind: Temporary})
	}
	r.SubAssemblies[0].Planned = day(2026, 5, 1)
	r.Expected["CLECO"] = []Expected{{By: Ordered, Quantity: measure.Pieces(1), Line: 3, Until: day(2026, 5, 2)}}
	list := orderOf(t, r)
	cleco := list.Suppliers[len(list.Suppliers)-1].Lines[0]
	if cleco.Item != "CLECO" || cleco.Needed != measure.Pieces(20) || cleco.Buy != measure.Pieces(19) || cleco.Note != "1 is owed on line 3, promised for 2 May 2026: after the job on 1 May 2026" {
		t.Errorf("clecos: %+v", cleco)
	}
}

// No fewer are bought than are sold, in whole packs; what is missing is said as it is.
func TestOrderLeast(t *testing.T) {
	r := april20(t)
	supply := r.Supply["AN3-5A"]
	supply.Least = measure.Pieces(25)
	r.Supply["AN3-5A"] = supply
	l := orderOf(t, r).Suppliers[0].Lines[0]
	if l.Item != "AN3-5A" || l.Buy != measure.Pieces(10) || l.Packs != 3 || l.Order != measure.Pieces(30) || l.Price.Number() != "13.50" {
		t.Errorf("of which 25 are sold at least: %+v", l)
	}
	supply.Least = measure.Of(25, measure.Pound)
	r.Supply["AN3-5A"] = supply
	if l := orderOf(t, r).Suppliers[0].Lines[0]; l.Packs != 1 {
		t.Errorf("a least in another unit: %d packs", l.Packs)
	}
}
