package store_test

import (
	"testing"
	"time"

	"stowright/store"
)

// nextOf is by when something is due next: "31 May 2029", "at 600 h", "".
func (w world) nextOf(name string) string {
	w.t.Helper()
	all, err := w.Dues()
	w.must(err)
	for _, d := range all {
		if d.Name() != name {
			continue
		}
		day, at := d.Next()
		text := ""
		if !day.IsZero() {
			text = day.String()
		}
		if at != nil {
			text += " at " + at.String()
		}
		return text
	}
	return "none"
}

// Story 21: a condition inspection that was entered for a day is due again on the last day
// of the month, twelve calendar months later.
func TestStory21Due(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	d, e, err := w.PutDue(store.Due{What: "Condition inspection", Aircraft: "Q", Rule: "12 calendar months", Source: "limitations, item 22", Months: 12, Job: "SA-10"})
	w.must(err)
	if d.Name() != "DU-1" || e.Text != "Condition inspection of Q, 12 calendar months" || w.nextOf("DU-1") != "" {
		t.Errorf("%s: %q, due %q", d.Name(), e.Text, w.nextOf("DU-1"))
	}
	e, err = w.EnterDue("du-1", store.DueDone{Day: store.Date{Year: 2028, Month: 5, Day: 14}, By: "Partner", Hours: hoursOf(1657)})
	w.must(err)
	if want := "Condition inspection of Q entered for 14 May 2028, by Partner: due by 31 May 2029"; e.Text != want {
		t.Errorf("entered: %q, want %q", e.Text, want)
	}
	day, _ := mustDue(t, w, "DU-1").Next()
	if left := (store.Date{Year: 2029, Month: 5, Day: 1}).DaysUntil(day); left != 30 {
		t.Errorf("on 1 May %d days are left", left)
	}
	w.must(second(w.Undo()))
	if got := w.nextOf("DU-1"); got != "" {
		t.Errorf("with the entry undone it is due %q", got)
	}
	w.must(second(w.EndDue("DU-1", "sold")))
	wantRefusal(t, second(w.EnterDue("DU-1", store.DueDone{By: "Partner"})), store.Conflict, "Condition inspection of Q ended on 14 March 2026: record a new one.")
}

func mustDue(t *testing.T, w world, name string) store.Due {
	t.Helper()
	all, err := w.Dues()
	w.must(err)
	for _, d := range all {
		if d.Name() == name {
			return d
		}
	}
	t.Fatalf("nothing is due under %s", name)
	return store.Due{}
}

// By when something is due, by each kind of rule.
func TestDueNext(t *testing.T) {
	on := func(y, m, d int) store.Date { return store.Date{Year: y, Month: time.Month(m), Day: d} }
	done := func(d store.Date, tenths int) []store.DueDone {
		return []store.DueDone{{Day: on(2020, 1, 1)}, {Day: d, Hours: hoursOf(tenths)}}
	}
	for _, row := range []struct {
		name string
		due  store.Due
		day  store.Date
		at   int // tenths; -1 none
	}{
		{"by a day", store.Due{Day: on(2027, 6, 3)}, on(2027, 6, 3), -1},
		{"at hours", store.Due{At: hoursOf(5000)}, store.Date{}, 5000},
		{"before it was done the first time", store.Due{Months: 12, Day: on(2027, 6, 3)}, on(2027, 6, 3), -1},
		{"done, and not due again", store.Due{Day: on(2027, 6, 3), At: hoursOf(9), Done: done(on(2027, 6, 1), 8)}, store.Date{}, -1},
		{"to the end of the month", store.Due{Months: 1, Done: done(on(2027, 1, 31), 0)}, on(2027, 2, 28), -1},
		{"of a leap year", store.Due{Months: 12, Done: done(on(2027, 2, 10), 0)}, on(2028, 2, 29), -1},
		{"over the end of the year", store.Due{Months: 24, Done: done(on(2027, 12, 1), 0)}, on(2029, 12, 31), -1},
		{"by hours again", store.Due{Every: 500, Done: done(on(2027, 6, 1), 1657)}, store.Date{}, 2157},
		{"by hours that nobody said when it was done", store.Due{Every: 500, Done: []store.DueDone{{Day: on(2027, 6, 1)}}}, store.Date{}, -1},
		{"by both", store.Due{Months: 12, Every: 1000, Done: done(on(2027, 6, 1), 1657)}, on(2028, 6, 30), 2657},
		{"ended", store.Due{Day: on(2027, 6, 3), At: hoursOf(9), Ended: &store.Ended{}}, store.Date{}, -1},
	} {
		day, at := row.due.Next()
		if day != row.day || (at == nil) != (row.at < 0) || at != nil && int(*at) != row.at {
			t.Errorf("%s: due by %v at %v, want %v at %d", row.name, day, at, row.day, row.at)
		}
	}
}

// What does not say when, or of what, is refused.
func TestDuesRefuse(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	w.must(third(w.PutComponent(store.Component{Item: "OQ-MAG", Serial: "7"})))
	june := store.Date{Year: 2027, Month: 6, Day: 3}
	put := func(d store.Due) func() error {
		return func() error {
			if d.What == "" {
				d.What = "Check"
			}
			if d.Rule == "" {
				d.Rule = "by its paper"
			}
			return third(w.PutDue(d))
		}
	}
	enter := func(name string, done store.DueDone) func() error {
		return func() error { return second(w.EnterDue(name, done)) }
	}
	for _, row := range []struct {
		do   func() error
		kind store.Kind
		want string // "": it goes
	}{
		{put(store.Due{Aircraft: "Q"}), store.Invalid, "Say when it is due: a day, calendar months, or hours."},
		{put(store.Due{Day: june}), store.Invalid, "Say of what it is: of one aircraft, one component or one tool."},
		{put(store.Due{Day: june, Aircraft: "Q", Tool: "wrench"}), store.Invalid, "Say of what it is: of one aircraft, one component or one tool."},
		{put(store.Due{Every: 500, Tool: "wrench"}), store.Invalid, "The hours of a tool are not kept: give it a day or months."},
		{put(store.Due{Day: june, Aircraft: "R"}), store.NotFound, "There is no aircraft “R” in this shop: make it first."},
		{put(store.Due{Day: june, Component: "CO-9"}), store.NotFound, "There is no component “CO-9” in this shop: see the list of them."},
		{put(store.Due{Day: june, Aircraft: "Q", Job: "SA-99"}), store.NotFound, "There is no sub-assembly “SA-99” in this shop: make it first, or see how its code is spelled."},
		{put(store.Due{Months: -1, Aircraft: "Q"}), store.Invalid, "That is no interval and no time: correct it."},
		{put(store.Due{Day: store.Date{Year: 2027, Month: 2, Day: 30}, Aircraft: "Q"}), store.Invalid, "The day is none: write it like 2029-05-31."},
		{put(store.Due{Number: 9, Day: june, Aircraft: "Q"}), store.NotFound, "Nothing is due under “DU-9” in this shop: see the list."},
		{put(store.Due{Every: 500, Component: "co-1"}), store.Internal, ""},
		{enter("DU-1", store.DueDone{By: "Partner"}), store.Invalid, "It is due by hours: say how many CO-1 had."},
		{enter("DU-1", store.DueDone{Hours: hoursOf(10)}), store.Invalid, "Who did it is empty: type it."},
		{enter("DU-1", store.DueDone{By: "Partner", Hours: hoursOf(10), Day: june}), store.Internal, ""},
		{enter("DU-1", store.DueDone{By: "Partner", Hours: hoursOf(20), Day: june.AddDays(-1)}), store.Conflict, "It was entered for 3 June 2027 already: correct the day."},
		{enter("DU-9", store.DueDone{By: "Partner"}), store.NotFound, "Nothing is due under “DU-9” in this shop: see the list."},
	} {
		err := row.do()
		if row.want == "" {
			w.must(err)
			continue
		}
		wantRefusal(t, err, row.kind, row.want)
	}
	d := mustDue(t, w, "DU-1")
	d.What = "Overhaul"
	w.must(third(w.PutDue(d)))
	if got := mustDue(t, w, "DU-1"); got.What != "Overhaul" || len(got.Done) != 1 || w.nextOf("DU-1") != " at 51 h" {
		t.Errorf("changed: %+v, due %s", got, w.nextOf("DU-1"))
	}
}
