package store_test

import (
	"errors"
	"maps"
	"testing"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// bookable is a world with things to pull and to refuse: bolts that SA-10 calls six of,
// longer ones that it does not call, a sealant whose lot expires on 20 March, and a
// regulator of unknown origin that T-10 of a type-certificated aircraft calls.
func bookable(t *testing.T) world {
	t.Helper()
	w := newWorld(t)
	w.receive(1, found(24))
	w.receive(2, found(16))
	put := func(item string, n int64) uint64 {
		w.must(second(w.PutIn(w.in(item, "S1"), store.Exact(measure.Pieces(n)), store.AskMeeting)))
		lots, err := w.Lots(item)
		w.must(err)
		return lots[0].Number
	}
	sealant := put("SEAL-B2", 2)
	w.must(second(w.DescribeLot(sealant, store.LotFacts{Expiry: &store.Expiry{Day: store.Date{Year: 2026, Month: 3, Day: 20}, Source: "can"}})))
	put("PRIMER", 1)
	w.must(second(w.DescribeLot(sealant+1, store.LotFacts{Perishable: true})))
	put("REG-14", 1)
	w.must(second(w.PutAircraft(store.Aircraft{Name: "T", Certificate: store.StandardCategory})))
	one := measure.Pieces(1)
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "T-10", Aircraft: "T"}, store.Requirement{Called: "REG-14", Needed: one})))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-50"}, store.Requirement{Called: "SEAL-B2", Needed: measure.Pieces(2)}, store.Requirement{Called: "PRIMER", Needed: one})))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-60"})))
	w.learnPlaces()
	return w
}

// What is put into a tray is held against what is called, by whichever verb; what a reason
// opens goes with one, and all else does not.
func TestTrayTakesWhatIsCalled(t *testing.T) {
	t.Parallel()
	april := store.Date{Year: 2026, Month: 4, Day: 1}
	after := func(w world) { w.clock.Set(w.t, "2026-04-01") }
	pull := func(code, item, from string, n int64) func(w world, reason string) error {
		return func(w world, reason string) error {
			t := w.to(item, from, n, from)
			t.Reason = reason
			return second(w.Pull(code, t))
		}
	}
	const goes = " With a reason it goes all the same."
	for _, row := range []struct {
		name   string
		before func(w world)
		do     func(w world, reason string) error
		want   string // "": it goes
		opens  bool   // a reason opens it
	}{
		{"what is called", nil, pull("SA-10", "AN3-5A", "H103", 6), "", false},
		{"a stranger", nil, pull("SA-10", "AN3-6A", "H103", 2), "AN3-6A for SA-10: not called here." + goes, true},
		{"an excess", nil, pull("SA-10", "AN3-5A", "H103", 7), "AN3-5A for SA-10: 6 called, 0 pulled: 6 to go." + goes, true},
		{"an excess in two parts", nil, func(w world, reason string) error {
			four := w.to("AN3-5A", "H103", 4, "H103")
			four.Reason = reason
			return second(w.Pull("SA-10", four, four))
		}, "AN3-5A for SA-10: 6 called, 4 pulled: 2 to go." + goes, true},
		{"after some were fitted", func(w world) { w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 5, "H103"))))) }, pull("SA-10", "AN3-5A", "H103", 2), "AN3-5A for SA-10: 6 called, 5 pulled: 1 to go." + goes, true},
		{"where nothing is listed", nil, pull("SA-60", "AN3-6A", "H103", 2), "", false},
		{"on its last day", func(w world) { w.clock.Set(w.t, "2026-03-20") }, pull("SA-50", "SEAL-B2", "S1", 2), "", false},
		{"expired", after, pull("SA-50", "SEAL-B2", "S1", 2), "SEAL-B2 for SA-50: 2 expired 12 days ago: a retest with its paper is a decision.", false},
		{"expired where nothing is listed", after, pull("SA-60", "SEAL-B2", "S1", 2), "SEAL-B2 for SA-60: 2 expired 12 days ago: a retest with its paper is a decision.", false},
		{"tested again", func(w world) {
			after(w)
			lots, err := w.Lots("SEAL-B2")
			w.must(err)
			w.must(third(w.Decide(store.Decision{Kind: store.Retest, Lots: []string{lots[0].Name()}, Until: april, Who: "maker"})))
		}, pull("SA-50", "SEAL-B2", "S1", 2), "", false},
		{"of no known date", nil, pull("SA-50", "PRIMER", "S1", 1), "PRIMER for SA-50: expiry of PRIMER unknown: see what its container says, and give a reason." + goes, true},
		{"of no known origin", nil, pull("T-10", "REG-14", "S1", 1), `REG-14 for T-10: the origin of REG-14 is "unknown": who installs it has to establish more (AC 20-62E par. 6; 14 CFR 43.13(b)); it takes a decision.`, false},
		{"locked by an alert", func(w world) {
			w.must(third(w.Alert(0, "Bulletin 9", store.Issue{Item: "AN3-5A"})))
		}, func(w world, reason string) error {
			heaps, err := w.Holdings("AN3-5A")
			w.must(err)
			return second(w.Pull("SA-10", store.Transfer{StockKey: heaps[0].StockKey, Quantity: measure.Pieces(1), Reason: reason}))
		}, "AN3-5A there is quarantined (A-1): it is not pulled for building.", false},
		{"out of another tray", func(w world) { w.must(pull("SA-60", "AN3-5A", "H103", 6)(w, "")) }, pull("SA-10", "AN3-5A", "SA-60", 6), "AN3-5A for SA-10: it is in the tray of SA-60: borrow it from there.", false},
		{"borrowed, a stranger", func(w world) { w.must(pull("SA-60", "AN3-6A", "H103", 6)(w, "")) }, func(w world, reason string) error {
			t := w.to("AN3-6A", "SA-60", 6, "SA-10")
			t.Reason = reason
			return second(w.Borrow("SA-60", "SA-10", t))
		}, "AN3-6A for SA-10: not called here." + goes, true},
		{"moved in", nil, func(w world, reason string) error {
			t := w.to("AN3-5A", "H103", 1, "SA-10")
			t.Reason = reason
			return second(w.Move(t))
		}, "SA-10 is the tray of a sub-assembly: pull AN3-5A for it, so that it is seen whether it is called there.", false},
		{"put back into another tray", func(w world) { w.must(pull("SA-60", "AN3-5A", "H103", 1)(w, "")) }, func(w world, reason string) error {
			t := w.to("AN3-5A", "SA-60", 1, "SA-10")
			t.Reason = reason
			return second(w.PutBack("SA-60", t))
		}, "SA-10 is the tray of a sub-assembly: pull AN3-5A for it, so that it is seen whether it is called there.", false},
		{"released into a tray", func(w world) {
			w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 1, "H103")))))
			w.must(second(w.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Item: "AN3-5A"}, To: w.place["A-02"]})))
		}, func(w world, reason string) error {
			t := w.to("AN3-5A", "A-02", 1, "SA-10")
			t.Condition, t.Reason = store.Removed, reason
			return second(w.Release(t, "Partner"))
		}, "SA-10 is the tray of a sub-assembly: pull AN3-5A for it, so that it is seen whether it is called there.", false},
		{"fitted past its date", after, func(w world, reason string) error {
			return second(w.Fit("SA-50", store.Fitting{Transfer: withReason(w.to("SEAL-B2", "S1", 1, "S1"), reason)}))
		}, "SEAL-B2 for SA-50: 2 expired 12 days ago: a retest with its paper is a decision.", false},
		{"fitted out of the tray past its date", func(w world) {
			w.must(pull("SA-50", "SEAL-B2", "S1", 2)(w, ""))
			after(w)
		}, func(w world, reason string) error {
			return second(w.Fit("SA-50", store.Fitting{Transfer: withReason(w.to("SEAL-B2", "SA-50", 1, "S1"), reason)}))
		}, "SEAL-B2 for SA-50: 2 expired 12 days ago: say when it was used." + goes, true},
		{"fitted out of another tray", func(w world) { w.must(pull("SA-60", "AN3-5A", "H103", 1)(w, "")) }, func(w world, reason string) error {
			return second(w.Fit("SA-10", store.Fitting{Transfer: withReason(w.to("AN3-5A", "SA-60", 1, "S1"), reason)}))
		}, "AN3-5A for SA-10: it is in the tray of SA-60: borrow it from there.", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := bookable(t)
			if row.before != nil {
				row.before(w)
			}
			err := row.do(w, "")
			if row.want == "" {
				w.must(err)
				return
			}
			wantRefusal(t, err, store.Conflict, row.want)
			if errors.Is(err, store.ErrReason) != row.opens {
				t.Errorf("a reason is asked for: %v, want %v", !row.opens, row.opens)
			}
			if err = row.do(w, "told to"); (err == nil) != row.opens {
				t.Errorf("with a reason: %v", err)
			}
		})
	}
}

func withReason(t store.Transfer, reason string) store.Transfer {
	t.Reason = reason
	return t
}

// Nothing closes a sub-assembly while something is open that nobody answered, and an answer
// to what is not open is not kept.
func TestCloseIsRefusedWhileSomethingIsOpen(t *testing.T) {
	t.Parallel()
	w := bookable(t)
	w.must(second(w.Pull("SA-10", w.to("AN3-5A", "H103", 6, "H103"))))
	answers := w.answers("SA-10", "as it is")
	left := string(build.LeftInTray) + "/AN3-5A/"
	looked := string(build.NoSecondLook) + "//"
	if len(answers) != 5 || answers[left] == "" {
		t.Fatalf("open: %v", answers)
	}
	for key := range answers {
		all := w.answers("SA-10", "as it is")
		delete(all, key)
		if err := second(w.CloseSubAssembly("SA-10", all)); store.KindOf(err) != store.Conflict {
			t.Errorf("closed without an answer to %s: %v", key, err)
		}
	}
	err := second(w.CloseSubAssembly("SA-10", nil))
	wantRefusal(t, err, store.Conflict, "SA-10 is not closed: 6 of 6 AN3-5A not fitted; 6 AN3-5A left in the tray: put back or fit them; no photograph: it cannot be made once it is closed up; no torque note for AN3-5A; no second person has looked at it.")

	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "SA-10", 5, "SA-10")))))
	w.must(second(w.Scrap(w.to("AN3-5A", "SA-10", 1, "SA-10"), "lost")))
	w.must(third(w.Note(store.Note{Kind: store.TorqueNote, Requirement: "R-1", Text: "25 in-lb"})))
	w.must(third(w.AddPhoto(store.OfPlace(w.place["SA-10"]), "", pictureOf(1))))
	wantRefusal(t, second(w.CloseSubAssembly("SA-10", nil)), store.Conflict, "SA-10 is not closed: 1 of 6 AN3-5A not fitted; 1 bolt not found in SA-10; no second person has looked at it.")
	w.must(second(w.Found("X-1", measure.Quantity{}, w.place["A-02"], store.AskMeeting)))
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "A-02", 1, "A-02")))))
	w.must(second(w.CloseSubAssembly("SA-10", map[string]string{left: "none are", looked: "seen at the hangar"})))
	subs, err := w.SubAssemblies()
	w.must(err)
	if c := subs[0].Closed; c == nil || !maps.Equal(c.Answers, map[string]string{looked: "seen at the hangar"}) {
		t.Errorf("closed: %+v", c)
	}
	if err := third(w.Closing("SA-99", nil)); store.KindOf(err) != store.NotFound {
		t.Errorf("closing what is not there: %v", err)
	}
}
