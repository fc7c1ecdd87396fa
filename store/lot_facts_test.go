package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/build"
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
