package unpack

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/store"
)

// The bag and the crate in hand are finished before another is begun: no key books a line
// of a crate that is not open.
func TestACrateIsFinishedFirst(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(23)
	b.m.ChooseBag(0)
	b.to(23)
	b.keys("A")
	if got := b.m.State().Current.Number; got != 24 {
		t.Fatalf("after 23: line %d, want 24", got)
	}
	b.keys("A") // back to the lines of the bag that were passed over
	if got := b.m.State().Current.Number; got != 20 {
		t.Fatalf("after 24: line %d, want 20, of the same bag", got)
	}
	b.keys("A", "A", "A")
	s := b.m.State()
	if s.Current.Number != 29 {
		t.Fatalf("after the bag: line %d, want 29 of the same crate, and not 25 of C2", s.Current.Number)
	}
	if s.Before == nil || !strings.Contains(s.Before.Text, "All of bag SK40 is checked. Next is bag H101.") {
		t.Errorf("leaving the bag is not said: %+v", s.Before)
	}
	for len(b.m.course.finished) == 0 {
		b.keys("A")
	}
	s = b.m.State()
	if s.Before == nil || s.Before.Lead != "Crate C1 is checked off." || s.Before.Text != "G opens crate C2: 4 lines to check." {
		t.Errorf("the finished crate: %+v", s.Before)
	}
	if l := b.m.data.line(store.LineID(s.Current.Number)); l.Crate != "C1" || b.m.data.open(*b.m.data.line(25)) == false {
		t.Errorf("line %d of %s in hand, line 25 %s", l.Number(), l.Crate, b.word(25))
	}
	before := b.m.data.newest
	for _, key := range []string{"A", "N", "S", "D", "W", "X", "7"} {
		b.m.Key(key)
		b.queue.Drain()
		if got := b.m.State(); got.Prompt != nil || !strings.Contains(got.Error, "G opens crate C2") {
			t.Errorf("%s on a finished crate: %+v, %q", key, got.Prompt, got.Error)
		}
	}
	if b.m.data.newest != before {
		t.Error("a key booked a line of a finished crate")
	}
	b.keys("G")
	if s := b.m.State(); s.Current.Number != 25 || s.Title != "Crate C2 · bag LONG" && b.m.scope != (scope{}) {
		t.Errorf("G leads to line %d, %q", s.Current.Number, s.Title)
	}
	b.keys("A", "A", "A", "A")
	if s := b.m.State(); s.Before == nil || s.Before.Lead != "Crate C2 is checked off." || s.Before.Text != "" {
		t.Errorf("at the end: %+v", s.Before)
	}
	if b.m.Key("G") {
		t.Error("G leads on, and no crate waits")
	}
	b.m.ChooseLine(0)
	b.queue.Drain()
	b.keys("S", "Esc") // a line that is chosen can be corrected
}

// Undo of a split leads back to the bag that was split, and so does Redo.
func TestUndoOfASplit(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", "Enter", `"AN3-5A"`, "Enter", `"3"`, "Enter", `"AN3-11A"`, "Enter", `"1"`, "Enter", "Enter")
	for _, row := range []struct {
		name string
		do   func() error
	}{
		{"undo", func() error { _, err := b.s.Shop.Undo(); return err }},
		{"redo", func() error { _, err := b.s.Shop.Redo(); return err }},
		{"undo again", func() error { _, err := b.s.Shop.Undo(); return err }},
	} {
		b.to(50)
		if err := row.do(); err != nil {
			t.Fatal(err)
		}
		b.queue.Drain()
		if got := b.m.State().Current.Number; got != 40 {
			t.Errorf("after %s: line %d, want 40", row.name, got)
		}
	}
	b.to(50) // another change does not lead there once more
	if _, err := (operation.Look{Line: 50}).Do(t.Context(), b.s); err == nil {
		t.Fatal("a line that is not counted is looked at")
	}
	b.m.Load()
	b.queue.Drain()
	if got := b.m.State().Current.Number; got != 50 {
		t.Errorf("read again: line %d, want 50", got)
	}
}

// What is typed at a question with few answers leaves those that begin so; what is none
// of them is no answer.
func TestTypedAtAChoice(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(12)
	b.keys("W", `"OQ-20-040-A"`, "Enter", "Enter")
	for text, want := range map[string]string{"": "Another revision", "rev": "Another revision", "PART": "Another part", "a": "Another revision", "oq-20": "", "vision": ""} {
		b.m.Type(text)
		if got := b.option(); got != want {
			t.Errorf("%q takes %q, want %q", text, got, want)
		}
	}
	b.keys(`"oq-20-040-a"`, "Enter")
	p := b.m.State().Prompt
	if p == nil || !strings.Contains(p.Error, "Another revision or Another part") || b.m.data.line(12).Finding != nil {
		t.Fatalf("a number for an answer: %+v, %+v", p, b.m.data.line(12).Finding)
	}
	b.keys(`"part"`, "Enter")
	if f := b.m.data.line(12).Finding; f == nil || f.Came == nil || f.Came.Revision {
		t.Errorf("typed as another part: %+v", f)
	}
}

// A number that no standard has is doubted before it is booked, in place of a line and in
// a mixed bag; it is kept where it is marked so.
func TestDoubtedNumbers(t *testing.T) {
	for _, row := range []struct {
		line int
		keys []string
	}{{41, []string{"W", `"AN3-8"`, "Enter"}}, {40, []string{"X", "Enter", `"AN3-8"`, "Enter"}}} {
		b := newBench(t, demo.Arrived)
		b.to(row.line)
		b.keys(row.keys...)
		p := b.m.State().Prompt
		if p == nil || !strings.Contains(p.Question, "AN3-8") || !strings.Contains(p.Question, "does not exist") || b.option() != "Read it again" {
			t.Fatalf("line %d: %+v, want the doubt, and reading it again first", row.line, p)
		}
		b.keys("Enter")
		if p := b.m.State().Prompt; p == nil || !strings.HasPrefix(p.Question, "Which ") {
			t.Errorf("line %d, read again: %+v", row.line, p)
		}
		b.keys(`"AN3-8"`, "Enter", `"marked"`, "Enter")
		if p := b.m.State().Prompt; p == nil || !strings.HasPrefix(p.Question, "How many AN3-8") {
			t.Errorf("line %d, marked so: %+v", row.line, p)
		}
	}
}

// In a mixed bag, a number that only a crate lists which has not come, or another unit, is
// offered as a find of its own, with why.
func TestExactNumberOfAnotherCrate(t *testing.T) {
	d := small()
	d.lines[3].Designation = "AN3-7A"
	d.workOut()
	got := d.mightBe("an3-7a", *d.line(1))
	if len(got) != 1 || got[0].id != "typed" || got[0].name != "AN3-7A" || !strings.Contains(got[0].more, "line 4 lists it, in crate C2 that has not come") {
		t.Errorf("a line of a crate that has not come: %+v", got)
	}
	b := newBench(t, demo.Arrived)
	if got := b.m.data.mightBe("AN470AD4-7", *b.m.data.line(40)); len(got) != 1 || !strings.Contains(got[0].more, "line 37 lists it by oz") {
		t.Errorf("a line by weight: %+v", got)
	}
}

// A count typed while the store works is taken whole: 12 is not 1, and 2.5 not 25. So is one
// typed while the page reads what was undone elsewhere.
func TestTypedAhead(t *testing.T) {
	for _, row := range []struct {
		typed       string
		first, line int
		changed     bool
	}{
		{"a12\n", 38, 39, false},
		{"a2.5\n", 26, 27, false},
		{"12\n", 39, 39, true},
		{"s12\n", 39, 39, true},
	} {
		k := newTypist(t, demo.Arrived)
		m := k.check().model
		k.m = m
		k.to(row.first)
		k.check().hasty.Taken()
		if row.changed {
			k.check().changed()
		}
		k.ahead(row.typed)
		k.settle()
		want := strings.Trim(row.typed, "as\n")
		if f := m.data.line(store.LineID(row.line)).Finding; f == nil || f.Found.Number() != want {
			t.Errorf("%q typed ahead on line %d: %+v, %q", row.typed, row.line, f, m.State().Error)
		}
	}
}

// O leads away from a delivery of which nothing has come.
func TestOtherDeliveryBeforeAnythingCame(t *testing.T) {
	k := newTypist(t, demo.Unpacking)
	i := k.importer()
	i.read("second.csv", "Part,Qty\nOQ-1,2\n")
	i.Confirm("OK-2", "")
	k.queue.Drain()
	k.frame.Go(routes.Route{Screen: routes.Unpack, About: i.ship.ID})
	k.settle()
	if s := k.check().model.State(); s.Nothing == "" || s.Shipment != i.ship.ID {
		t.Fatalf("the second list: %+v", s)
	}
	k.text("o")
	if s := k.check().model.State(); s.Nothing != "" || s.Shipment == i.ship.ID {
		t.Errorf("O stays on %s, %q", s.Shipment, s.Nothing)
	}
	k.text("o")
	k.press(fyne.KeyRight)
	if s := k.check().model.State(); s.Shipment != i.ship.ID {
		t.Errorf("O once more: %s", s.Shipment)
	}
}
