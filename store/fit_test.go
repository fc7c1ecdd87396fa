package store_test

import (
	"errors"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// fitted is what is fitted, in words.
func (w world) fitted(code string) []string {
	w.t.Helper()
	list, err := w.Fitted(code)
	w.must(err)
	lines := []string{}
	for _, f := range list {
		line := f.SubAssembly
		if f.Requirement != "" {
			line += " " + f.Requirement
		}
		lines = append(lines, fmt.Sprintf("%s %s %s %s", line, f.Item, f.Lot, f.Amount))
	}
	return lines
}

// benchStep is one thing done at the bench, with what the entry says and what is so then.
type benchStep struct {
	name   string
	do     func() (store.Entry, error)
	text   string
	fitted []string
	stock  []string
}

// Pulled, fitted, one out again and looked at, one scrapped, and all of it undone.
func TestFitRemoveReleaseScrap(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"}, store.Requirement{Called: "MS21042-3", Needed: measure.Pieces(8), Position: "Fin/top"})))
	w.receive(7, found(20))
	nuts := w.in("MS21042-3", "H104")
	nuts.Lot = "Q7714"
	w.must(second(w.Pull("SA-10", store.Transfer{StockKey: nuts, Quantity: measure.Pieces(8)})))
	pulled := nuts
	pulled.Place = w.place["SA-10"]
	fit := store.Fitted{SubAssembly: "SA-10", Requirement: "R-2", Item: "MS21042-3", Lot: "Q7714"}
	before, twelve := w.stock(), "MS21042-3 lot Q7714 in C1, H104: 12 ea"
	steps := []benchStep{
		{
			"fit six", func() (store.Entry, error) {
				return w.Fit("SA-10", fitting(store.Transfer{StockKey: pulled, Quantity: measure.Pieces(6)}))
			}, "MS21042-3: 6 ea fitted in SA-10 Fin",
			[]string{"SA-10 R-2 MS21042-3 L-1 6 ea"},
			[]string{twelve, "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"one out", func() (store.Entry, error) {
				return w.Remove(store.Removal{Fitted: fit, Quantity: measure.Pieces(1), To: w.place["A-01"], Reason: "cross-threaded"})
			}, "MS21042-3: 1 ea removed from SA-10 Fin, to A-01, because: cross-threaded",
			[]string{"SA-10 R-2 MS21042-3 L-1 5 ea"},
			[]string{twelve, "MS21042-3 lot Q7714 (removed) in Garage, Cabinet A, A-01: 1 ea", "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"look at it", func() (store.Entry, error) {
				k := nuts
				k.Place, k.Condition = w.place["A-01"], store.Removed
				return w.Release(store.Transfer{StockKey: k, To: w.place["A-02"]}, " Partner ")
			}, "MS21042-3: 1 ea looked at by Partner, good, in A-02",
			[]string{"SA-10 R-2 MS21042-3 L-1 5 ea"},
			[]string{twelve, "MS21042-3 lot Q7714 in Garage, Cabinet A, A-02: 1 ea", "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"scrap it", func() (store.Entry, error) {
				k := nuts
				k.Place = w.place["A-02"]
				return w.Scrap(store.Transfer{StockKey: k}, " worn  thread ")
			}, "MS21042-3: 1 ea scrapped, worn thread",
			[]string{"SA-10 R-2 MS21042-3 L-1 5 ea"},
			[]string{twelve, "MS21042-3 lot Q7714 in SA-10: 2 ea"},
		},
		{
			"put the rest back", func() (store.Entry, error) {
				return w.PutBack("SA-10", store.Transfer{StockKey: pulled, To: w.place["H104"]})
			}, "MS21042-3: 2 ea put back from SA-10 to H104",
			[]string{"SA-10 R-2 MS21042-3 L-1 5 ea"},
			[]string{"MS21042-3 lot Q7714 in C1, H104: 14 ea"},
		},
		{
			"all out", func() (store.Entry, error) { return w.Remove(store.Removal{Fitted: fit}) },
			"MS21042-3: 5 ea removed from SA-10 Fin, to SA-10",
			[]string{},
			[]string{"MS21042-3 lot Q7714 (removed) in SA-10: 5 ea", "MS21042-3 lot Q7714 in C1, H104: 14 ea"},
		},
	}
	for _, step := range steps {
		w.atBench(step, []string{"MS21042-3"})
	}
	events, err := w.Fits("SA-10")
	w.must(err)
	if len(events) != 3 || events[0].Position != "Fin / top" || events[1].Reason != "cross-threaded" || events[1].Amount.Micro != -1_000_000 {
		t.Errorf("events %+v", events)
	}
	for range steps {
		w.must(second(w.Undo()))
	}
	w.wantStock(before...)
	if got := w.fitted(""); len(got) != 0 {
		t.Errorf("after the undo there is fitted %v", got)
	}
	if events, err := w.Fits(""); err != nil || len(events) != 0 {
		t.Errorf("after the undo there are events %+v, %v", events, err)
	}
}

func (w world) atBench(step benchStep, items []string) {
	w.t.Helper()
	e, err := step.do()
	w.must(err)
	if e.Text != step.text {
		w.t.Errorf("%s: the entry says %q, want %q", step.name, e.Text, step.text)
	}
	if d := cmp.Diff(items, e.Items()); d != "" {
		w.t.Errorf("%s touched (-want +got):\n%s", step.name, d)
	}
	if d := cmp.Diff(step.fitted, w.fitted("SA-10")); d != "" {
		w.t.Errorf("%s: fitted (-want +got):\n%s", step.name, d)
	}
	w.wantStock(step.stock...)
}

func TestFitRefusals(t *testing.T) {
	w := newWorld(t)
	w.receive(1, store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(1)})
	w.receive(2, found(16))
	bad := w.to("AN3-5A", "H103", 1, "H103")
	bad.Condition = store.Damaged
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 6, "H103")))))
	six := store.Fitted{SubAssembly: "SA-10", Requirement: "R-1", Item: "AN3-5A"}
	stock, fitted := w.stock(), w.fitted("")
	for _, row := range []struct {
		name     string
		do       func() (store.Entry, error)
		kind     store.Kind
		sentence string
		reason   bool // it goes with a reason
	}{
		{"nothing", func() (store.Entry, error) { return w.Fit("SA-10") }, store.Invalid, "Nothing is chosen: say what was fitted.", false},
		{"damaged", func() (store.Entry, error) { return w.Fit("SA-10", because(bad)) }, store.Conflict, "AN3-5A there is damaged: it is not fitted.", false},
		{
			"more than is there", func() (store.Entry, error) { return w.Fit("SA-10", because(w.to("AN3-5A", "H103", 18, "H103"))) }, store.Conflict,
			"There is 17 ea of AN3-5A there, and 18 ea cannot be taken: count it, or take less.", false,
		},
		{
			"more than is called", func() (store.Entry, error) { return w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 2, "H103"))) }, store.Conflict,
			"6 of AN3-5A called in SA-10, 6 fitted: say why 2 more.", true,
		},
		{
			"what is not called", func() (store.Entry, error) { return w.Fit("SA-10", fitting(w.to("AN3-6A", "H103", 1, "H103"))) }, store.Conflict,
			"AN3-6A is not called in SA-10: say why it goes in.", true,
		},
		{
			"for another line", func() (store.Entry, error) {
				f := because(w.to("AN3-6A", "H103", 1, "H103"))
				f.Requirement = "R-1"
				return w.Fit("SA-10", f)
			}, store.Conflict, "R-1 of SA-10 does not ask for AN3-6A: leave it out, or have a decision say so.", false,
		},
		{
			"in no sub-assembly", func() (store.Entry, error) { return w.Fit("SA-99", fitting(w.to("AN3-5A", "H103", 1, "H103"))) }, store.NotFound,
			"There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled.", false,
		},
		{
			"more out than fitted", func() (store.Entry, error) {
				return w.Remove(store.Removal{Fitted: six, Quantity: measure.Pieces(7)})
			}, store.Conflict, "6 ea of AN3-5A is fitted in SA-10, and 7 ea cannot come out: correct the figure.", false,
		},
		{
			"out of what was never fitted", func() (store.Entry, error) {
				return w.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Item: "AN3-6A"}})
			}, store.Conflict, "0 of AN3-6A is fitted in SA-10, and 0 cannot come out: correct the figure.", false,
		},
		{"scrap for no reason", func() (store.Entry, error) { return w.Scrap(w.to("AN3-5A", "H103", 1, "H103"), " ") }, store.Invalid, "The reason is empty: type it.", false},
		{"looked at by nobody", func() (store.Entry, error) { return w.Release(w.to("AN3-5A", "H103", 1, "H103"), " ") }, store.Invalid, "Who looked at it is empty: type it.", false},
		{"found what was not lost", func() (store.Entry, error) {
			return w.Found("X-1", measure.Quantity{}, w.place["A-01"], store.AskMeeting)
		}, store.NotFound, "Nothing is looked for under X-1: see what is.", false},
		{"another unit while fitted", func() (store.Entry, error) {
			return w.Weigh(w.in("AN3-5A", "H103"), store.Exact(measure.Of(1, measure.Pound)))
		}, store.Conflict, "AN3-5A is kept by ea and some of it is fitted: give it in ea.", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := row.do()
			wantRefusal(t, err, row.kind, row.sentence)
			if got := errors.Is(err, store.ErrReason); got != row.reason {
				t.Errorf("a reason would do: %v, want %v", got, row.reason)
			}
			w.wantStock(stock...)
			if d := cmp.Diff(fitted, w.fitted("")); d != "" {
				t.Errorf("fitted (-before +after):\n%s", d)
			}
		})
	}
}

// What goes against the list goes with a reason, which the entry and the event keep.
func TestFitWithReason(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	w.receive(2, found(16))
	for _, item := range []string{"AN3-5A", "AN3-6A"} {
		e, err := w.Fit("SA-10", because(w.to(item, "H103", 7, "H103")))
		w.must(err)
		if want := item + ": 7 ea fitted in SA-10 Fin, because: by bulletin 4"; e.Text != want || e.Reason != "by bulletin 4" {
			t.Errorf("the entry says %q, reason %q", e.Text, e.Reason)
		}
	}
	if d := cmp.Diff([]string{"SA-10 AN3-6A L-2 7 ea", "SA-10 R-1 AN3-5A L-1 7 ea"}, w.fitted("SA-10")); d != "" {
		t.Errorf("fitted (-want +got):\n%s", d)
	}
	events, err := w.Fits("")
	w.must(err)
	if len(events) != 2 || events[0].Reason != "by bulletin 4" || events[0].Requirement != "R-1" {
		t.Errorf("events %+v", events)
	}
}

// Lines of one item get what they need one after the other; what was fitted for a line
// counts for the one that took its place.
func TestFitSharesLinesOut(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	bolt := func(n int64, kind store.RequirementKind) store.Requirement {
		return store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(n), Kind: kind}
	}
	_, _, err := w.PutNeeds("", store.Needs{SubAssembly: store.SubAssembly{Code: "SA-30"}, Requirements: []store.Requirement{
		bolt(9, store.Temporary), bolt(4, store.ExactNeed), bolt(3, store.ExactNeed),
	}})
	w.must(err)
	fit := func(n int64) error { return second(w.Fit("SA-30", fitting(w.to("AN3-5A", "H103", n, "H103")))) }
	want := func(lines ...string) {
		t.Helper()
		if d := cmp.Diff(lines, w.fitted("SA-30")); d != "" {
			t.Errorf("fitted (-want +got):\n%s", d)
		}
	}
	w.must(fit(6))
	want("SA-30 R-3 AN3-5A L-1 4 ea", "SA-30 R-4 AN3-5A L-1 2 ea")
	wantRefusal(t, fit(2), store.Conflict, "7 of AN3-5A called in SA-30, 6 fitted: say why 1 more.")
	_, _, err = w.ReplaceRequirement("R-3", bolt(6, store.ExactNeed)) // 4 of them are in
	w.must(err)
	w.must(fit(3))
	want("SA-30 R-3 AN3-5A L-1 4 ea", "SA-30 R-4 AN3-5A L-1 3 ea", "SA-30 R-5 AN3-5A L-1 2 ea")
	wantRefusal(t, fit(1), store.Conflict, "9 of AN3-5A called in SA-30, 9 fitted: say why 1 more.")
	if list := w.needs("SA-30"); list[1] != "R-3 AN3-5A: 4 ea, now R-5" { // it has fits, and is there still
		t.Errorf("needs %q", list)
	}
}

// A closed sub-assembly changes only after it was reopened.
func TestClosedStaysAsItIs(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	w.must(second(w.Pull("SA-10", w.to("AN3-5A", "H103", 2, "SA-10"))))
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 6, "H103")))))
	w.must(second(w.CloseSubAssembly("SA-10", w.answers("SA-10", "  seen by  two "))))
	subs, err := w.SubAssemblies()
	w.must(err)
	if c := subs[0].Closed; c == nil || c.On.String() != "14 March 2026" || c.Hand != "Builder" || c.Answers["no photograph//"] != "seen by two" {
		t.Errorf("closed %+v", c)
	}
	tray := w.to("AN3-5A", "SA-10", 1, "A-01")
	const sentence = "SA-10 was closed on 14 March 2026: reopen it first."
	for name, err := range map[string]error{
		"fit":     second(w.Fit("SA-10", because(tray))),
		"remove":  second(w.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Requirement: "R-1", Item: "AN3-5A"}})),
		"pull":    second(w.Pull("SA-10", w.to("AN3-5A", "H103", 1, "SA-10"))),
		"move in": second(w.Move(w.to("AN3-5A", "H103", 1, "SA-10"))),
		"borrow":  second(w.Borrow("SA-10", "SA-10", tray)),
		"close":   second(w.CloseSubAssembly("SA-10", nil)),
		"end":     second(w.EndRequirement("R-1", "bulletin")),
		"list":    second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10"})),
		"let go":  second(w.LetGo("SA-10", true)),
	} {
		if store.KindOf(err) != store.Conflict || err.Error() != sentence {
			t.Errorf("%s in a closed sub-assembly: %v", name, err)
		}
	}
	w.must(second(w.PutBack("SA-10", tray))) // its tray is no part of the aircraft
	e, err := w.ReopenSubAssembly("SA-10", "the rib is bent")
	w.must(err)
	if e.Text != "SA-10 Fin reopened: the rib is bent" || e.Reason != "the rib is bent" {
		t.Errorf("reopened: %q, %q", e.Text, e.Reason)
	}
	w.must(second(w.Fit("SA-10", because(w.to("AN3-5A", "SA-10", 1, "A-01")))))
}

// A decision lets another item in for the requirements that it names, and for no others.
func TestDecisionIsForItsRequirements(t *testing.T) {
	w := newWorld(t)
	w.receive(2, found(16))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-20"}, store.Requirement{Called: "AN3-5A", Needed: measure.Pieces(6)})))
	_, _, err := w.Decide(store.Decision{Kind: store.OtherItem, Requirements: []string{"R-1"}, Item: "AN3-6A", Who: "kit maker"})
	w.must(err)
	_, err = w.Fit("SA-20", fitting(w.to("AN3-6A", "H103", 2, "H103")))
	wantRefusal(t, err, store.Conflict, "AN3-6A is not called in SA-20: say why it goes in.")
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-6A", "H103", 2, "H103")))))
	if events, err := w.Fits("SA-10"); err != nil || len(events) != 1 || events[0].Decision != "D-1" || events[0].Requirement != "R-1" {
		t.Errorf("events %+v, %v", events, err)
	}
}
