package store_test

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// Notes are of a sub-assembly, one of its requirements or a position, and say what their
// kind has to; they are taken after it was closed too.
func TestNotes(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.CloseSubAssembly("SA-10", w.answers("SA-10", "as it is"))))
	n, e, err := w.Note(store.Note{Kind: store.TorqueNote, Requirement: "r1", Text: " 25  in-lb ", Tool: "wrench 2", Position: "Fin/top"})
	w.must(err)
	if n.Name() != "N-1" || n.SubAssembly != "SA-10" || n.Requirement != "R-1" || e.Text != "torque of SA-10 Fin noted: R-1, Fin / top, 25 in-lb" {
		t.Errorf("%+v: %q", n, e.Text)
	}
	_, e, err = w.Note(store.Note{Kind: store.HoursNote, SubAssembly: "SA-10", Hours: 35})
	w.must(err)
	if e.Text != "hours of SA-10 Fin noted: 3.5 h" {
		t.Errorf("hours: %q", e.Text)
	}
	for _, row := range []struct {
		note     store.Note
		kind     store.Kind
		sentence string
	}{
		{store.Note{Kind: "hunch", SubAssembly: "SA-10"}, store.Invalid, "“hunch” is no kind of note: say torque, paint, inspection, look, hours or other."},
		{store.Note{Kind: store.LookNote, SubAssembly: "SA-10"}, store.Invalid, "The note (look) does not say who looked: add the name."},
		{store.Note{Kind: store.TorqueNote, SubAssembly: "SA-10"}, store.Invalid, "The note (torque) is empty: type it."},
		{store.Note{Kind: store.HoursNote, SubAssembly: "SA-10"}, store.Invalid, "A note of hours says how many were worked, and no other does: correct it."},
		{store.Note{Kind: store.PaintNote, SubAssembly: "SA-99"}, store.NotFound, "There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled."},
		{store.Note{Kind: store.PaintNote, Requirement: "R-1", SubAssembly: "SA-99"}, store.Invalid, "R-1 is of SA-10, and not of SA-99: correct one of them."},
	} {
		_, _, err := w.Note(row.note)
		wantRefusal(t, err, row.kind, row.sentence)
	}
	w.must(second(w.Undo()))
	list, err := w.Notes("SA-10")
	w.must(err)
	if len(list) != 1 || list[0].Number != 1 {
		t.Errorf("notes %+v", list)
	}
}

// Hours of an aircraft only grow, and are corrected by an entry of their own; what comes
// out of it keeps its lot and says out of which aircraft it came, and at what hours.
func TestAircraftHours(t *testing.T) {
	w := newWorld(t)
	day := func(n int) store.Date { return store.Date{Year: 2026, Month: 3, Day: n} }
	_, err := w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin", Aircraft: "Q"})
	wantRefusal(t, err, store.NotFound, "There is no aircraft “Q” in this shop: make it first.")
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q", Certificate: store.Experimental, Inspectors: []store.Inspector{{Who: "Partner", Paper: "certificate 7"}}})))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin", Aircraft: "Q"})))
	for d, hours := range map[int]build.Hours{10: 100, 12: 120, 20: 150} {
		w.must(second(w.LogHours("Q", day(d), hours)))
	}
	_, err = w.LogHours("Q", day(15), 119)
	wantRefusal(t, err, store.Conflict, "Q had 12 h on 12 March 2026: hours only grow, correct one of the two.")
	e, err := w.LogHours("Q", day(12), 118)
	w.must(err)
	if e.Text != "Q had 11.8 h on 12 March 2026, corrected from 12 h" {
		t.Errorf("corrected: %q", e.Text)
	}
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q", Certificate: store.Experimental}))) // keeps its hours
	w.receive(1, found(24))
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 6, "H103")))))
	w.must(second(w.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Item: "AN3-5A"}})))
	events, err := w.Fits("SA-10")
	w.must(err)
	if out := events[1]; out.Aircraft != "Q" || out.Hours == nil || out.Hours.String() != "11.8 h" || out.Lot != events[0].Lot || out.Lot == "" { // on 14 March
		t.Errorf("removed: %+v", out)
	}
}

// A bulletin is shown before it is applied: what it adds, drops and replaces, and what of
// that is fitted already, which it leaves as it is.
func TestPlanChange(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	w.must(second(w.PutSubAssembly(store.SubAssembly{Code: "SA-10", Name: "Fin"}, store.Requirement{Called: "AN960-10", Needed: measure.Pieces(12)})))
	w.must(second(w.Fit("SA-10", fitting(w.to("AN3-5A", "H103", 4, "H103")))))
	edit := store.PlanEdit{
		Add:     []store.Requirement{{SubAssembly: "SA-10", Called: "MS21042-3", Needed: measure.Pieces(6)}},
		End:     []string{"R-2"},
		Replace: map[string]store.Requirement{"R-1": {Called: "AN3-6A", Needed: measure.Pieces(6)}},
	}
	steps, err := w.PreviewPlans(edit)
	w.must(err)
	var got []string
	for _, s := range steps {
		got = append(got, fmt.Sprintf("%s %s %q %q in %s, %s fitted", s.Does, s.Requirement, s.Old, s.New, s.SubAssembly, s.Fitted.Number()))
	}
	want := []string{`replaces R-1 "AN3-5A" "AN3-6A" in SA-10, 4 fitted`, `drops R-2 "AN960-10" "" in SA-10, 0 fitted`, `adds  "" "MS21042-3" in SA-10, 0 fitted`}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("shown (-want +got):\n%s", d)
	}
	fitted := w.fitted("SA-10")
	c, e, err := w.ChangePlans(store.PlanChange{Title: "Bulletin 4", Paper: "of 2 March"}, edit)
	w.must(err)
	if e.Text != "C-1, Bulletin 4: 1 added, 1 dropped, 1 replaced" || c.Replaced[0] != (store.Replaced{Old: "R-1", New: "R-3"}) {
		t.Errorf("%q: %+v", e.Text, c)
	}
	if len(c.Left) != 0 {
		t.Errorf("it left %v, and touched every line", c.Left)
	}
	if d := cmp.Diff(fitted, w.fitted("SA-10")); d != "" {
		t.Errorf("what is fitted (-before +after):\n%s", d)
	}
	needs := []string{"R-1 AN3-5A: 6 ea, now R-3", "R-2 AN960-10: 12 ea, ended: Bulletin 4", "R-3 AN3-6A: 6 ea", "R-4 MS21042-3: 6 ea"}
	if d := cmp.Diff(needs, w.needs("SA-10")); d != "" {
		t.Errorf("needs (-want +got):\n%s", d)
	}
	c, _, err = w.ChangePlans(store.PlanChange{Title: "Bulletin 4a"}, store.PlanEdit{End: []string{"R-4"}})
	w.must(err)
	if d := cmp.Diff([]string{"R-3"}, c.Left); d != "" {
		t.Errorf("a bulletin on one line leaves the others that stand (-want +got):\n%s", d)
	}
	w.must(second(w.Undo()))
	_, _, err = w.ChangePlans(store.PlanChange{Title: "Bulletin 5"}, edit)
	wantRefusal(t, err, store.Conflict, "R-1 is in force no more: see what took its place.")
	w.must(second(w.Undo()))
	if d := cmp.Diff([]string{"R-1 AN3-5A: 6 ea", "R-2 AN960-10: 12 ea"}, w.needs("SA-10")); d != "" {
		t.Errorf("needs, undone (-want +got):\n%s", d)
	}
}
