package store_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

func hoursOf(tenths int) *build.Hours {
	h := build.Hours(tenths)
	return &h
}

// ran is how long the component of a number ran, by the newest readings of the aircraft.
func (w world) ran(name string) string {
	w.t.Helper()
	all, err := w.Components()
	w.must(err)
	for _, c := range all {
		if c.Name() != name {
			continue
		}
		h, ok := c.Ran(w.hours)
		if !ok {
			return "not known"
		}
		return h.String()
	}
	return "none"
}

func (w world) hours(aircraft string) (build.Hours, bool) {
	all, err := w.Aircraft()
	w.must(err)
	for _, a := range all {
		if a.Name == aircraft {
			r, ok := a.HoursOn(store.Date{Year: 9999, Month: 1, Day: 1})
			return r.Hours, ok
		}
	}
	return 0, false
}

// Story 21: the propeller ran what the aircraft did while it was on it, and a correction is
// an entry of its own.
func TestStory21LifeOfAPropeller(t *testing.T) {
	w := newWorld(t)
	day := func(y, m, d int) store.Date { return store.Date{Year: y, Month: time.Month(m), Day: d} }
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	c, _, err := w.PutComponent(store.Component{Item: "OQ-PROP", Serial: " 0007 "})
	w.must(err)
	if c.Name() != "CO-1" || c.Words() != "OQ-PROP serial 0007" {
		t.Errorf("%s: %s", c.Name(), c.Words())
	}
	_, err = w.MountComponent("CO-1", store.Mounting{Aircraft: "Q", Day: day(2027, 5, 1)})
	wantRefusal(t, err, store.Invalid, "The hours of Q on 1 May 2027 are not known: say them.")
	w.must(second(w.MountComponent("CO-1", store.Mounting{Aircraft: "Q", Day: day(2027, 5, 1), Hours: hoursOf(0), Position: "Nose/hub"})))
	if got := w.ran("CO-1"); got != "not known" {
		t.Errorf("with no reading of Q: %s", got)
	}
	w.must(second(w.LogHours("Q", day(2028, 3, 1), 1124)))
	w.must(second(w.DismountComponent("CO-1", store.Mounting{Day: day(2028, 3, 1), Place: w.place["S1"]})))
	w.must(second(w.LogHours("Q", day(2028, 6, 1), 1300)))
	if got := w.ran("CO-1"); got != "112.4 h" {
		t.Errorf("in S1 it ran %s", got)
	}
	e, err := w.MountComponent("co-1", store.Mounting{Aircraft: "Q", Day: day(2028, 6, 1), Hours: hoursOf(1300)})
	w.must(err)
	if e.Text != "CO-1 OQ-PROP serial 0007 on Q at 130 h" {
		t.Errorf("mounted: %q", e.Text)
	}
	w.must(second(w.LogHours("Q", day(2028, 9, 1), 1657)))
	if got := w.ran("CO-1"); got != "148.1 h" {
		t.Errorf("at 165.7 it ran %s", got)
	}
	before := newestSeq(w)
	e, err = w.CorrectComponent("CO-1", 1, nil, hoursOf(1122))
	w.must(err)
	if e.Text != "CO-1 OQ-PROP serial 0007: off at 112.2 h, corrected from 112.4 h" || newestSeq(w) != before+1 {
		t.Errorf("corrected by %d entries: %q", newestSeq(w)-before, e.Text)
	}
	if got := w.ran("CO-1"); got != "147.9 h" {
		t.Errorf("corrected it ran %s", got)
	}
	w.must(second(w.Undo()))
	if got := w.ran("CO-1"); got != "148.1 h" {
		t.Errorf("the correction undone it ran %s", got)
	}
	w.must(second(w.DismountComponent("CO-1", store.Mounting{Day: day(2028, 10, 1), Hours: hoursOf(1700)})))
	if got := w.ran("CO-1"); got != "152.4 h" {
		t.Errorf("off at 170 it ran %s", got)
	}
	w.must(second(w.Undo()))
	all, err := w.Components()
	w.must(err)
	if s := all[0].Stretches; len(s) != 2 || s[0].Position != "Nose / hub" || s[0].Place != w.place["S1"] || s[1].Off != nil {
		t.Errorf("stretches %+v", s)
	}
}

// What cannot be of a component is refused with one sentence, and changes nothing.
func TestComponentsRefuse(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	day := store.Date{Year: 2026, Month: 3, Day: 1}
	for _, name := range []string{"Q", "T"} {
		w.must(second(w.PutAircraft(store.Aircraft{Name: name})))
	}
	w.must(second(w.LogHours("Q", day, 100)))
	w.must(third(w.PutComponent(store.Component{Item: "AN3-5A", Serial: "1", Lot: "l-1"})))
	if all, err := w.Components(); err != nil || all[0].Lot != "L-1" {
		t.Errorf("%+v, %v", all, err)
	}
	w.must(third(w.PutComponent(store.Component{Item: "OQ-MAG", Serial: "7"})))
	mount := func(name, aircraft string, d store.Date, tenths int) func() error {
		return func() error {
			return second(w.MountComponent(name, store.Mounting{Aircraft: aircraft, Day: d, Hours: hoursOf(tenths)}))
		}
	}
	off := func(d store.Date, tenths int) func() error {
		return func() error {
			return second(w.DismountComponent("CO-1", store.Mounting{Day: d, Hours: hoursOf(tenths)}))
		}
	}
	put := func(c store.Component) func() error {
		return func() error { return third(w.PutComponent(c)) }
	}
	for _, row := range []struct {
		do   func() error
		kind store.Kind
		want string // "": it goes
	}{
		{put(store.Component{Item: "OQ-MAG", Serial: "7"}), store.Conflict, "OQ-MAG serial 7 is CO-2 already: a serial number is that of one piece."},
		{put(store.Component{Item: "OQ-MAG"}), store.Invalid, "The serial number is empty: type it."},
		{put(store.Component{Item: "OQ-MAG", Serial: "8", SinceNew: hoursOf(12)}), store.Invalid, "Say by what its time is known: a log book, a tag, a letter."},
		{put(store.Component{Item: "OQ-MAG", Serial: "8", SinceNew: hoursOf(-1), Known: "tag"}), store.Invalid, "The time of the component is none that it can have: correct it."},
		{put(store.Component{Item: "OQ-MAG", Serial: "8", Lot: "L-1"}), store.NotFound, "There is no lot L-1 of OQ-MAG in this shop: see its lots."},
		{put(store.Component{Number: 9, Item: "OQ-MAG", Serial: "9"}), store.NotFound, "There is no component “CO-9” in this shop: see the list of them."},
		{mount("CO-9", "Q", day, 100), store.NotFound, "There is no component “CO-9” in this shop: see the list of them."},
		{mount("CO-1", "R", day, 0), store.NotFound, "There is no aircraft “R” in this shop: make it first."},
		{mount("CO-1", "Q", day.AddDays(1), 99), store.Conflict, "Q had 10 h on 1 March 2026: hours only grow, correct one of the two."},
		{mount("CO-1", "Q", day.AddDays(-1), 101), store.Conflict, "Q had 10 h on 1 March 2026: hours only grow, correct one of the two."},
		{off(day, 100), store.Conflict, "AN3-5A serial 1 is on no aircraft: it cannot come off."},
		{mount("CO-1", "Q", day, 100), store.Internal, ""},
		{mount("CO-1", "T", day, 0), store.Conflict, "AN3-5A serial 1 is on Q since 1 March 2026: it comes off there first."},
		{off(day.AddDays(-3), 90), store.Conflict, "AN3-5A serial 1: Q had 9 h when it had 10 h already: correct one of the two."},
		{off(day.AddDays(9), 150), store.Internal, ""},
		{mount("CO-1", "T", day.AddDays(8), 0), store.Conflict, "AN3-5A serial 1: 10 March 2026 comes after 9 March 2026: correct one of the two."},
		{mount("CO-1", "Q", day.AddDays(9), 140), store.Conflict, "AN3-5A serial 1: Q had 14 h when it had 15 h already: correct one of the two."},
		{mount("CO-1", "T", day.AddDays(9), 0), store.Internal, ""},
		{func() error { return second(w.CorrectComponent("CO-1", 1, hoursOf(151), nil)) }, store.Conflict, "AN3-5A serial 1: Q had 15 h when it had 15.1 h already: correct one of the two."},
		{func() error { return second(w.CorrectComponent("CO-1", 2, nil, hoursOf(9))) }, store.Conflict, "AN3-5A serial 1 is on T still: it has no reading of coming off."},
		{func() error { return second(w.CorrectComponent("CO-1", 3, nil, nil)) }, store.NotFound, "AN3-5A serial 1 has no stretch 3: it has 2."},
		{func() error { return second(w.CorrectComponent("CO-1", 1, hoursOf(100), nil)) }, store.Invalid, "Nothing is corrected: say the hours when it went on or came off."},
	} {
		before := newestSeq(w)
		err := row.do()
		if row.want == "" {
			w.must(err)
			continue
		}
		wantRefusal(t, err, row.kind, row.want)
		if newestSeq(w) != before {
			t.Errorf("refused with %q, and an entry was made", row.want)
		}
	}
}

// A number is for life, and what is described anew keeps its stretches.
func TestComponentKeepsItsNumberAndStretches(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.PutAircraft(store.Aircraft{Name: "Q"})))
	w.must(third(w.PutComponent(store.Component{Item: "OQ-MAG", Serial: "7"})))
	w.must(second(w.Undo()))
	c, _, err := w.PutComponent(store.Component{Item: "OQ-MAG", Serial: "7"})
	w.must(err)
	if c.Name() != "CO-2" {
		t.Errorf("after an undo it is %s", c.Name())
	}
	w.must(second(w.MountComponent("CO-2", store.Mounting{Aircraft: "Q", Hours: hoursOf(0)})))
	c.Note, c.SinceNew, c.Known = "rebuilt", hoursOf(120), "log book, page 3"
	w.must(third(w.PutComponent(c)))
	all, err := w.Components()
	w.must(err)
	if len(all) != 1 || len(all[0].Stretches) != 1 || all[0].Note != "rebuilt" || *all[0].SinceNew != 120 {
		t.Errorf("%+v", all)
	}
}

// What came out of an aircraft came out of the position that it was fitted in, where that
// is one; a position has what is part of it.
func TestPositions(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	w.must(second(w.PutAircraft(store.Aircraft{Name: "T"})))
	e, err := w.PutPosition(store.Position{Name: " Tailplane/left /hinge  2", Access: "panel 3"})
	w.must(err)
	if e.Text != "position Tailplane / left / hinge 2, by panel 3" || len(e.Changes) != 3 {
		t.Errorf("%q, %d changes", e.Text, len(e.Changes))
	}
	w.must(second(w.PutPosition(store.Position{Name: "Tailplane", Note: "closed"})))
	w.must(second(w.PutPosition(store.Position{Name: "Tailplane", Aircraft: "T"})))
	list, err := w.Positions()
	w.must(err)
	var names []string
	for _, p := range list {
		names = append(names, fmt.Sprintf("%s|%s|%s|%s", p.Aircraft, p.Name, p.Access, p.Note))
	}
	if d := cmp.Diff([]string{"|Tailplane||closed", "|Tailplane / left||", "|Tailplane / left / hinge 2|panel 3|", "T|Tailplane||"}, names); d != "" {
		t.Errorf("positions (-want +got):\n%s", d)
	}
	wantRefusal(t, second(w.PutPosition(store.Position{Name: " / "})), store.Invalid, "The position has no name: write it like Tailplane / left / hinge 2.")
	wantRefusal(t, second(w.PutPosition(store.Position{Name: "Wing", Aircraft: "R"})), store.NotFound, "There is no aircraft “R” in this shop: make it first.")

	fit := func(n int64, position string) {
		f := fitting(w.to("AN3-5A", "H103", n, "H103"))
		f.Position = position
		w.must(second(w.Fit("SA-10", f)))
	}
	remove := func(n int64) {
		w.must(second(w.Remove(store.Removal{Fitted: store.Fitted{SubAssembly: "SA-10", Item: "AN3-5A"}, Quantity: measure.Pieces(n)})))
	}
	fit(2, "Tailplane/left/hinge 2")
	remove(1)
	fit(1, "Tailplane right")
	remove(1) // from one of two, nobody knows which
	at := func(p store.Position) (lines []string) {
		events, err := w.At(p)
		w.must(err)
		for _, f := range events {
			lines = append(lines, f.Amount.String()+" "+f.Position)
		}
		return lines
	}
	want := []string{"2 ea Tailplane / left / hinge 2", "-1 ea Tailplane / left / hinge 2"}
	if d := cmp.Diff(want, at(store.Position{Name: "Tailplane"})); d != "" {
		t.Errorf("in the tailplane (-want +got):\n%s", d)
	}
	if got := at(store.Position{Name: "Tailplane", Aircraft: "T"}); len(got) > 0 {
		t.Errorf("in that of T: %q", got)
	}
	if got := at(store.Position{Name: "Tailplane / le"}); len(got) > 0 {
		t.Errorf("in what is spelled alike: %q", got)
	}
}
