package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

func on(t *testing.T, text string) store.Date {
	t.Helper()
	d, err := store.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The last day on which a lot may be used, as BUILD.md 1.4 has it: printed expiry wins; else
// made and the life that the container says; else unknown.
func TestExpires(t *testing.T) {
	nine := &store.Life{Months: 9, Source: "the can"}
	for _, row := range []struct {
		name  string
		facts store.LotFacts
		want  string
	}{
		{"printed", store.LotFacts{Expiry: &store.Expiry{Day: on(t, "2026-07-10"), Source: "the can"}}, "10 July 2026"},
		{"made, and nine months", store.LotFacts{Made: on(t, "2026-04-02"), Life: nine}, "2 January 2027"},
		{"printed wins", store.LotFacts{Made: on(t, "2026-04-02"), Life: nine, Expiry: &store.Expiry{Day: on(t, "2026-07-10"), Source: "the can"}}, "10 July 2026"},
		{"made alone", store.LotFacts{Made: on(t, "2026-04-02")}, "no date"},
		{"a life alone", store.LotFacts{Life: nine}, "no date"},
		{"nothing", store.LotFacts{}, "no date"},
		{"a day that the month lacks", store.LotFacts{Made: on(t, "2026-05-31"), Life: nine}, "28 February 2027"},
		{"over the end of years", store.LotFacts{Made: on(t, "2026-12-31"), Life: &store.Life{Months: 25, Source: "the can"}}, "31 January 2029"},
	} {
		if got := row.facts.Expires().String(); got != row.want {
			t.Errorf("%s: %s, want %s", row.name, got, row.want)
		}
	}
}

// What is recorded of a lot is refused where it cannot be, in one sentence.
func TestDescribeLotRefuses(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	for _, row := range []struct {
		name  string
		lot   uint64
		facts store.LotFacts
		kind  store.Kind
		want  string
	}{
		{"no such lot", 9, store.LotFacts{}, store.NotFound, "There is no lot L-9 in this shop: see the lots of its item."},
		{"no origin", 1, store.LotFacts{Origin: "good"}, store.Invalid, "“good” is no origin: it is one of approved production, standard part, commercial part on a listed CPL, owner-produced, kit maker, made here, bought outside aviation, removed from an aircraft, military surplus."},
		{"a life without a source", 1, store.LotFacts{Life: &store.Life{Months: 9}}, store.Invalid, "Say where its life is said: on the container, or in which paper."},
		{"no life", 1, store.LotFacts{Life: &store.Life{Source: "the can"}}, store.Invalid, "A life of 0 months is none: give 1 to 1200, as the container says."},
		{"an expiry without a source", 1, store.LotFacts{Expiry: &store.Expiry{Day: on(t, "2026-07-10")}}, store.Invalid, "Say the day of its expiry and where it is printed: on the container, or in which paper."},
		{"expired before it was made", 1, store.LotFacts{Made: on(t, "2026-07-11"), Expiry: &store.Expiry{Day: on(t, "2026-07-10"), Source: "the can"}}, store.Invalid, "It would expire on 10 July 2026, before it was made: see which day is which."},
		{"no day", 1, store.LotFacts{Shipped: store.Date{Year: 2026, Month: 2, Day: 30}}, store.Invalid, "The day on which it was shipped is none: write it like 2026-03-14."},
		{"no such paper", 1, store.LotFacts{Papers: []string{"PA-1"}}, store.NotFound, "There is no paper “PA-1” in this shop: add it first, or see how its number is written."},
		{"from an aircraft it was not on", 1, store.LotFacts{From: "Q at 12.0 h"}, store.Invalid, "Only what was removed from an aircraft says from which: correct its origin."},
	} {
		t.Run(row.name, func(t *testing.T) {
			before := newestSeq(w)
			wantRefusal(t, second(w.DescribeLot(row.lot, row.facts)), row.kind, row.want)
			if newestSeq(w) != before {
				t.Error("a refusal was written")
			}
		})
	}
}

// What is printed on a lot is corrected in the lot and in the finding that made it, so that
// correcting how many came keeps it; an alert by that number finds it from then on.
func TestMarkLot(t *testing.T) {
	w, lot := nuts(t)
	w.alert(0, store.Issue{Item: "MS21042-3", Printed: []string{"Q7741"}})
	before := newestSeq(w)
	w.must(second(w.MarkLot(lot, " Q7741 ", store.LotFacts{Maker: "Nut works"})))
	if newestSeq(w) != before+1 {
		t.Errorf("it took %d entries", newestSeq(w)-before)
	}
	w.wantFound(1, "named: 14 quarantined (A-1)", "named: 6 SA-20")
	l, err := w.LotNumbered(lot)
	w.must(err)
	line, err := w.LineNumbered(l.Receipt.Shipment, 7)
	w.must(err)
	if l.Printed != "Q7741" || l.Facts.Maker != "Nut works" || line.Finding.Lot != "Q7741" || line.Finding.LotName != l.Name() {
		t.Errorf("the lot is %+v, and the finding %+v", l, line.Finding)
	}
	wantRefusal(t, second(w.MarkLot(lot, "", store.LotFacts{})), store.Conflict, "Line 7 of the packing list says that it is lot Q7714: type what is printed on it.")
	w.undoAll(before)
	w.wantStock("MS21042-3 lot Q7714 in Garage, Cabinet A, A-01: 14 ea")

	w, kit, later := twoLots(t)
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	wantRefusal(t, second(w.MarkLot(3, "B7", store.LotFacts{})), store.Invalid, "L-3 was made of other lots, which have what is printed: mark those.")
	for _, name := range []string{kit, later} {
		number, _ := store.LotNumber(name)
		w.must(second(w.MarkLot(number, "B"+name, store.LotFacts{})))
		w.must(second(w.MarkLot(number, "", store.LotFacts{})))
	}
}

// What comes out of an aircraft is of a lot of its own, of which an alert on the lot that it
// was knows, and which expires like that one.
func TestRemovedLot(t *testing.T) {
	w, lot := nuts(t)
	w.must(second(w.DescribeLot(lot, store.LotFacts{Expiry: &store.Expiry{Day: on(t, "2027-01-02"), Source: "the bag"}})))
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-20", Name: "Rudder", Aircraft: "Q"})))
	fit := store.Fitted{SubAssembly: "SA-20", Item: "MS21042-3"}
	w.must(second(w.Remove(store.Removal{Fitted: fit, Quantity: measure.Pieces(2), To: w.place["A-02"]})))
	w.alert(0, store.Issue{Item: "MS21042-3", Printed: []string{"Q7714"}})
	w.wantFound(1, "named: 14 quarantined (A-1)", "named: 2 removed", "named: 4 SA-20")
	states, err := w.LotStates("MS21042-3")
	w.must(err)
	out := states["L-2"]
	if out.Lot.Words() != "L-2, removed from Q, hours not known" || out.Origin != build.FromAircraft || out.Expires != on(t, "2027-01-02") {
		t.Errorf("what came out is %+v", out)
	}
	w.learnPlaces()
	removed := store.StockKey{Item: "MS21042-3", Place: w.place["A-02"], Lot: "L-2", Condition: store.Removed}
	w.must(second(w.Release(store.Transfer{StockKey: removed}, "Partner")))
	w.wantFound(1, "named: 14 quarantined (A-1)", "named: 2 quarantined (A-1)", "named: 4 SA-20")
}

func TestPapers(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	wantRefusal(t, third(w.AddPaper(store.Paper{Kind: store.LetterPaper})), store.Invalid, "Say where the paper is: a file, or on paper, in which binder.")
	wantRefusal(t, third(w.AddPaper(store.Paper{Kind: store.LetterPaper, File: &store.PaperFile{Name: "a.pdf", Bytes: 3, SHA256: "00"}})), store.Invalid, "The checksum of the file of the paper is none: choose the file again.")
	p, e, err := w.AddPaper(store.Paper{Kind: store.ReleasePaper, Title: "8130-3/77", Issuer: "Bolt works", Date: on(t, "2026-03-10"), Kept: "binder 2"})
	w.must(err)
	if want := "paper PA-1: release form 8130-3/77 of Bolt works, 10 March 2026 (binder 2)"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.must(second(w.DescribeLot(1, store.LotFacts{Papers: []string{"pa-1", p.Name()}})))
	lot, err := w.LotNumbered(1)
	w.must(err)
	if len(lot.Facts.Papers) != 1 || lot.Facts.Papers[0] != "PA-1" {
		t.Errorf("papers of the lot %q", lot.Facts.Papers)
	}
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	next, _, err := w.AddPaper(store.Paper{Kind: store.LetterPaper, Kept: "binder 2"})
	w.must(err)
	if next.Name() != "PA-2" {
		t.Errorf("after PA-1 was undone the next paper is %s", next.Name())
	}
}

// What is poured together may be used until the earliest of it expires, and is of an
// origin only where all of it is.
func TestStateOfAMix(t *testing.T) {
	w, kit, later := twoLots(t)
	number := func(name string) uint64 { n, _ := store.LotNumber(name); return n }
	w.must(second(w.DescribeLot(number(kit), store.LotFacts{Origin: build.FromKitMaker, Expiry: &store.Expiry{Day: on(t, "2026-07-10"), Source: "the bag"}})))
	w.must(second(w.DescribeLot(number(later), store.LotFacts{Origin: build.FromKitMaker, Expiry: &store.Expiry{Day: on(t, "2027-01-02"), Source: "the bag"}})))
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	mixed := func() store.LotState {
		t.Helper()
		states, err := w.LotStates("AN3-5A")
		w.must(err)
		return states["L-3"]
	}
	if s := mixed(); s.Expires.String() != "10 July 2026" || s.Origin != build.FromKitMaker || !s.Perishable {
		t.Errorf("the mix: %+v", s)
	}
	w.must(second(w.DescribeLot(number(later), store.LotFacts{Origin: build.OutsideAviation})))
	if s := mixed(); s.Expires.String() != "10 July 2026" || s.Origin != build.UnknownOrigin {
		t.Errorf("the mix of two origins: %+v", s)
	}
}
