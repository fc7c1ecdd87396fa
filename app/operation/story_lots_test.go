package operation_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// status is how a sub-assembly stands, in its sentence, with what is promised to its first
// need by lot, and what is worth knowing of that.
func status(t *testing.T, b *sessiontest.Bench, code string) (sentence, promised, hints string) {
	t.Helper()
	err := b.Read(func(r *session.Reader) error {
		return r.Board(func(board *build.Board) error {
			s, _ := board.Status(code)
			sentence = s.Sentence
			if len(s.Needs) > 0 {
				for _, p := range s.Needs[0].Promised {
					promised += p.Quantity.Number() + " of " + p.Heap.LotName
				}
				hints = strings.Join(s.Needs[0].Hints, "; ")
			}
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return sentence, promised, hints
}

func wantStatus(t *testing.T, b *sessiontest.Bench, code, sentence, promised, hints string) {
	t.Helper()
	gotSentence, gotPromised, gotHints := status(t, b, code)
	if d := cmp.Diff([]string{sentence, promised, hints}, []string{gotSentence, gotPromised, gotHints}); d != "" {
		t.Errorf("%s (-want +got):\n%s", code, d)
	}
}

// lotsOf are the names of the lots of an item, in the order in which they came.
func lotsOf(t *testing.T, b *sessiontest.Bench, item string) (names []string) {
	t.Helper()
	lots, err := b.Shop.Lots(item)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lots {
		names = append(names, l.Name())
	}
	return names
}

// found is an alert in words: its lists, each place with its bounds.
func found(t *testing.T, b *sessiontest.Bench, number uint64) (lines []string) {
	t.Helper()
	f, err := b.Shop.AlertFound(number)
	if err != nil {
		t.Fatal(err)
	}
	for _, list := range []struct {
		name string
		of   []store.Whereabouts
	}{{"named", f.Named}, {"cannot tell", f.CannotTell}, {"near", f.Near}} {
		for _, w := range list.of {
			lines = append(lines, fmt.Sprintf("%s: %s together", list.name, w.Together))
			for _, at := range w.At {
				where := at.SubAssembly + at.Gone
				if at.Place != "" {
					p, err := b.Shop.Place(at.Place)
					if err != nil {
						t.Fatal(err)
					}
					where = p.Name + " " + string(at.Condition)
				}
				lines = append(lines, fmt.Sprintf("%s of the %s in %s", at.Bounds, at.All.Number(), where))
			}
		}
	}
	return lines
}

func wantFound(t *testing.T, b *sessiontest.Bench, number uint64, want ...string) {
	t.Helper()
	if d := cmp.Diff(want, found(t, b, number)); d != "" {
		t.Errorf("A-%d (-want +got):\n%s", number, d)
	}
}

// laterBolts is the shop of story 14 when ten bolts of order F-1 have come, which the list
// says are of lot B7.
func laterBolts(t *testing.T) *sessiontest.Bench {
	t.Helper()
	clock := morning()
	b := weighed(t, clock)
	check(t, b, operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-10"}, "6 ea pulled", "")
	check(t, b, operation.Fit{Heap: item("AN3-5A"), For: "SA-10"}, "6 ea fitted", "")
	clock.Set(time.Date(2026, 4, 27, 9, 0, 0, 0, time.UTC))
	list, _, err := b.Shop.Import(store.NewShipment{Order: "F-1", File: "f-1.csv", Fingerprint: "f-1", Lines: []store.NewLine{
		{Number: 1, Crate: "F1", Designation: "AN3-5A", Listed: measure.Pieces(10), Status: store.Shipped, Lot: "B7"},
	}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Shop.Arrive(list.ID, store.Delivery{Crates: []string{"F1"}, Arrived: b.Shop.Today()}); err != nil {
		t.Fatal(err)
	}
	check(t, b, operation.Receive{List: "F-1", Line: 1, Found: "10"}, "line 1, AN3-5A: found 10 ea", "")
	check(t, b, operation.Alert{Title: "Bolts that crack", Item: "AN3-5A", Lots: []string{"B7"}}, "A-1 Bolts that crack", "")
	return b
}

// Story 14: two lots in a drawer. What an alert names of a mix is said with its bounds, and
// all of the mix is set apart; of what was kept apart it is exact, and nothing else is.
func TestStory14AlertOnAMix(t *testing.T) {
	b := laterBolts(t)
	check(t, b, operation.Undo{}, "", "") // the alert comes after the bolts are used
	check(t, b, operation.StowLine{List: "F-1", Line: 1, To: "A-12"}, "", "A-12 has another lot of AN3-5A")
	check(t, b, operation.StowLine{List: "F-1", Line: 1, To: "A-12", Meeting: store.PourLots}, "10 ea stowed in A-12", "")
	check(t, b, operation.Take{Heap: item("AN3-5A"), Amount: "20", For: "SA-21"}, "20 ea pulled", "")
	check(t, b, operation.Fit{Heap: item("AN3-5A"), For: "SA-21"}, "20 ea fitted", "")
	before := b.Journal()
	check(t, b, operation.Alert{Title: "Bolts that crack", Item: "AN3-5A", Lots: []string{"B7"}}, "A-2 Bolts that crack", "")
	if b.Journal() != before+1 {
		t.Errorf("the alert took %d entries", b.Journal()-before)
	}
	wantFound(t, b, 2,
		"named: 10 together", "0 to 10 of the 12 in A-12 quarantined (A-2)", "0 to 10 of the 20 in SA-21",
		"cannot tell: 28 together", "2 to 12 of the 12 in A-12 quarantined (A-2)", "6 of the 6 in SA-10", "10 to 20 of the 20 in SA-21")
	holds(t, b, "AN3-5A", "A-12", "")
	check(t, b, operation.Undo{}, "", "")
	holds(t, b, "AN3-5A", "A-12", "12 ea")
	whole(t, b)
}

func TestStory14KeptApart(t *testing.T) {
	b := laterBolts(t)
	check(t, b, operation.Undo{}, "", "")
	check(t, b, operation.StowLine{List: "F-1", Line: 1, To: "A-13"}, "10 ea", "")
	check(t, b, operation.Take{Heap: operation.Heap{Item: "AN3-5A", From: "A-12"}, Amount: "20", For: "SA-21"}, "20 ea pulled", "")
	check(t, b, operation.Fit{Heap: item("AN3-5A"), For: "SA-21"}, "20 ea fitted", "")
	check(t, b, operation.Alert{Title: "Bolts that crack", Item: "AN3-5A", Lots: []string{"B7"}}, "A-2", "")
	wantFound(t, b, 2,
		"named: 10 together", "10 of the 10 in A-13 quarantined (A-2)",
		"cannot tell: 28 together", "2 of the 2 in A-12 ", "6 of the 6 in SA-10", "20 of the 20 in SA-21")
	holds(t, b, "AN3-5A", "A-12", "2 ea")
	whole(t, b)
}

// Story 17: a retest is a decision with its paper; what has no date is asked about.
func TestStory17Retest(t *testing.T) {
	clock := morning()
	b := weighed(t, clock)
	clock.Set(time.Date(2026, 4, 20, 9, 0, 0, 0, time.UTC))
	seal := func(amount string) operation.PutIn {
		return operation.PutIn{Item: "SEAL-B2", Amount: amount, Place: "S6", Meeting: store.LotsApart}
	}
	check(t, b, seal("2"), "2 qt put in S6", "")
	check(t, b, seal("1"), "1 qt put in S6", "")
	lots := lotsOf(t, b, "SEAL-B2")
	check(t, b, operation.DescribeLot{Lot: lots[0], Printed: "1", Expires: "2026-07-10", ExpiresSource: "the can"}, "", "")
	check(t, b, operation.DescribeLot{Lot: lots[1], Printed: "2", Made: "2026-04-02", Life: "9 months", LifeSource: "the can"}, "", "")
	list, err := session.Answer(b.Session, func(r *session.Reader) (build.PullList, error) { return r.PullList("SA-50") })
	if err != nil || !slices.ContainsFunc(list.Stops, func(s build.Stop) bool { return s.Lot == lots[0] && s.Quantity.String() == "2 qt" }) {
		t.Errorf("the pull list takes %+v, %v", list.Stops, err)
	}
	clock.Set(time.Date(2026, 7, 10, 9, 0, 0, 0, time.UTC))
	wantStatus(t, b, "SA-50", "ready", "2 of lot 1", "lot 1 expires on 10 July 2026: last day")
	clock.Set(time.Date(2026, 7, 11, 9, 0, 0, 0, time.UTC))
	of := func(printed string) operation.Heap { return operation.Heap{Item: "SEAL-B2", Lot: printed} }
	check(t, b, operation.Take{Heap: of("1"), Amount: "2", For: "SA-50"}, "", "2 of lot 1 expired 1 day ago: a retest with its paper is a decision")
	clock.Set(time.Date(2026, 8, 1, 9, 0, 0, 0, time.UTC))
	wantStatus(t, b, "SA-50", "not ready: SEAL-B2: need 2, usable 1 (lot 2); 2 of lot 1 expired 22 days ago; crate C3 has not come", "1 of lot 2", "")
	retest := store.Decision{Kind: store.Retest, Who: "Lab", Lots: []string{"1"}, Until: store.Date{Year: 2026, Month: 10, Day: 10}, Paper: "report 4"}
	check(t, b, operation.Decide{Decision: store.Decision{Kind: store.Retest, Who: "Lab", Lots: []string{"L-99"}, Until: retest.Until}}, "", `There is no lot "L-99" in this shop`)
	check(t, b, operation.Decide{Decision: retest}, "D-1: expiry after retest for "+lots[0], "")
	wantStatus(t, b, "SA-50", "ready, by D-1", "2 of lot 1", "")
	check(t, b, operation.DescribeLot{Lot: lots[1], Made: "none"}, "", "")
	check(t, b, operation.Take{Heap: of("2"), Amount: "1", For: "SA-50"}, "", "expiry of SEAL-B2 unknown: see what its container says, and give a reason")
	whole(t, b)
}

// Story 19: two aircraft, two lots of one number.
func TestStory19TwoAircraft(t *testing.T) {
	clock := demo.NewClock(demo.Today, true)
	b := weighed(t, clock)
	const part = "REG-14"
	each(t, b, []row{
		{"T", operation.PutAircraft{Name: "T", Certificate: "standard"}, "T", ""},
		{"Q", operation.PutAircraft{Name: "Q", Certificate: operation.None}, "Q", ""},
		{"hours of Q", operation.LogHours{Aircraft: "Q", Hours: "12.0"}, "12", ""},
	})
	for _, sub := range []store.SubAssembly{{Code: "SA-60", Name: "Regulator", Aircraft: "Q"}, {Code: "T-10", Name: "Regulator of T", Aircraft: "T"}} {
		if _, err := b.Shop.PutSubAssembly(sub, store.Requirement{Item: part, Called: part, Needed: measure.Pieces(1)}); err != nil {
			t.Fatal(err)
		}
	}
	put := operation.PutIn{Item: part, Amount: "1", Place: "S1", Meeting: store.LotsApart}
	check(t, b, put, "REG-14: 1 ea put in S1", "")
	check(t, b, put, "REG-14: 1 ea put in S1", "")
	lots := lotsOf(t, b, part)
	check(t, b, operation.AddPaper{Kind: "release form", Title: "8130-3/77", Kept: "binder 2"}, "PA-1", "")
	check(t, b, operation.DescribeLot{Lot: lots[0], Printed: "One", Origin: "approved production", Papers: []string{"PA-1"}}, "", "")
	check(t, b, operation.DescribeLot{Lot: lots[1], Printed: "Two", Origin: "bought outside aviation"}, "", "")
	wantStatus(t, b, "T-10", "ready", "1 of lot One", "")
	wantStatus(t, b, "SA-60", "ready", "1 of lot Two", "lot One is the only one for T")

	of := func(lot string) operation.Heap { return operation.Heap{Item: part, Lot: lot, From: "S1"} }
	check(t, b, operation.Take{Heap: of("One"), Amount: "1", For: "SA-60", Reason: "the other one is ugly"}, "1 ea pulled for SA-60", "")
	wantStatus(t, b, "T-10", "not ready: REG-14: need 1, usable 0; 1 in the tray of SA-60; 1 here needs a decision on origin", "", "")
	const cites = `the origin of REG-14 is "bought outside aviation": who installs it has to establish more (AC 20-62E par. 6; 14 CFR 43.13(b)); it takes a decision`
	check(t, b, operation.Take{Heap: of("Two"), Amount: "1", For: "T-10", Reason: "it fits"}, "", cites)
	check(t, b, operation.Decide{Decision: store.Decision{Kind: store.AnyOrigin, Who: "A. Mechanic", Lots: []string{"two"}, Note: "looked at, tested on the bench"}, For: "T-10", Called: part}, "D-1: origin for R-", "")
	check(t, b, operation.Take{Heap: of("Two"), Amount: "1", For: "T-10"}, "1 ea pulled for T-10", "")
	check(t, b, operation.Fit{Heap: operation.Heap{Item: part, From: "T-10"}, For: "T-10"}, "1 ea fitted in T-10", "")
	fits, err := b.Shop.Fits("T-10")
	if err != nil || len(fits) != 1 || fits[0].Decision != "D-1" {
		t.Errorf("the event in T-10 is %+v, %v", fits, err)
	}
	check(t, b, operation.Remove{Item: part, From: "T-10"}, "1 ea removed from T-10", "")
	check(t, b, operation.Fit{Heap: operation.Heap{Item: part, From: "SA-60"}, For: "SA-60"}, "1 ea fitted in SA-60", "")

	check(t, b, operation.Remove{Item: part, From: "SA-60", To: "S1"}, "1 ea removed from SA-60 Regulator, to S1", "")
	check(t, b, operation.Release{Item: part, From: "S1", By: "Partner", To: "S1"}, "1 ea looked at by Partner, good, in S1", "")
	all, err := b.Shop.Lots(part)
	if err != nil {
		t.Fatal(err)
	}
	out := all[len(all)-1]
	if out.Facts.From != "Q at 12.0 h" || out.Facts.Origin != build.FromAircraft || out.Words() != out.Name()+", removed from Q at 12.0 h" {
		t.Errorf("what came out of Q is %+v, %s", out, out.Words())
	}
	check(t, b, operation.Take{Heap: of(out.Name()), Amount: "1", For: "T-10"}, "", `the origin of REG-14 is "removed from an aircraft"`)
	where, err := b.Shop.Whereabouts(part, lots[0])
	if err != nil || len(where.At) != 1 || where.At[0].Bounds.String() != "1" || where.At[0].In != out.Name() || where.Together.String() != "1" {
		t.Errorf("lot One is %+v, %v", where, err)
	}
	whole(t, b)
}

// Story 19: hardware of the kit for an aircraft with a standard certificate.
func TestStory19KitHardware(t *testing.T) {
	b := weighed(t, morning())
	check(t, b, operation.PutAircraft{Name: "T", Certificate: "standard"}, "T", "")
	if _, err := b.Shop.PutSubAssembly(store.SubAssembly{Code: "T-11", Name: "Cowl of T", Aircraft: "T"}, store.Requirement{Item: "AN3-5A", Called: "AN3-5A", Needed: measure.Pieces(1)}); err != nil {
		t.Fatal(err)
	}
	lot := lotsOf(t, b, "AN3-5A")[0]
	check(t, b, operation.DescribeLot{Lot: lot, Origin: "kit maker"}, "", "")
	take := operation.Take{Heap: item("AN3-5A"), Amount: "1", For: "T-11"}
	check(t, b, take, "", "it takes a decision; no paper ties it to the specification (AC 43.13-1B par. 7-34)")
	check(t, b, operation.AddPaper{Kind: "conformance statement", Title: "77", Kept: "binder 2"}, "PA-1", "")
	check(t, b, operation.DescribeLot{Lot: lot, Papers: []string{"PA-1"}}, "", "")
	check(t, b, take, "", "it takes a decision.")
}
