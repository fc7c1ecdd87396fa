package unpack

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/store"
	"stowright/store/measure"
)

// option is the name of the option that Enter takes now.
func (b *bench) option() string {
	b.t.Helper()
	p := b.m.State().Prompt
	if p == nil {
		b.t.Fatal("no question is open")
	}
	if p.Option < 0 {
		return ""
	}
	return p.Options[p.Option].Cells[0].Text
}

// Down goes round the options, Up stays at the first one.
func TestOptionsByArrows(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A", "E", `"a2"`)
	all := b.m.State().Prompt.Options
	if len(all) < 3 || len(all) > maxOptions {
		t.Fatalf("%d options for a2: %+v", len(all), all)
	}
	name := func(i int) string { return all[i].Cells[0].Text }
	if got := b.option(); got != name(0) {
		t.Errorf("at first %s, want %s", got, name(0))
	}
	for _, row := range []struct{ key, want string }{{"Up", name(0)}, {"Down", name(1)}, {"Down", name(2)}, {"Up", name(1)}} {
		if b.keys(row.key); b.option() != row.want {
			t.Errorf("after %s: %s, want %s", row.key, b.option(), row.want)
		}
	}
	for range len(all) - 1 {
		b.keys("Down")
	}
	if got := b.option(); got != name(0) {
		t.Errorf("once round: %s, want %s", got, name(0))
	}
	b.keys(`"nowhere"`, "Down", "Up")
	if got := b.option(); got != "" {
		t.Errorf("with no option: %s", got)
	}
}

// An option that is tapped is the answer; one that is not there is none.
func TestAnOptionIsTapped(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.m.ChooseOption(0) // nothing is asked
	b.keys("A", "E", `"a1"`)
	serial, n := b.m.State().Prompt.Serial, len(b.m.State().Prompt.Options)
	for _, index := range []int{-1, n} {
		b.m.ChooseOption(index)
		b.queue.Drain()
		if p := b.m.State().Prompt; p == nil || p.Serial != serial {
			t.Fatalf("option %d of %d was taken", index, n)
		}
	}
	b.m.ChooseOption(2)
	b.queue.Drain()
	if got := b.where("AN3-4A"); got != "A-12: 12 ea" {
		t.Errorf("AN3-4A lies in %s, want the third option, A-12", got)
	}
}

// A question takes every single key for itself, and what is typed takes a refusal away.
func TestAnOpenQuestionTakesTheKeys(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("S", `"x"`, "Enter")
	p := b.m.State().Prompt
	if p == nil || p.Error == "" || p.Text != "x" {
		t.Fatalf("a wrong answer: %+v", p)
	}
	for _, key := range []string{"A", "N", "3"} {
		if !b.m.Key(key) {
			t.Errorf("%s goes past the question", key)
		}
	}
	for _, key := range []string{"F7", "Left", "Right"} {
		if b.m.Key(key) {
			t.Errorf("%s is taken by the question", key)
		}
	}
	b.queue.Drain()
	if got := b.word(38); got != "to check" {
		t.Errorf("line 38 is %q while it is asked about", got)
	}
	b.m.ChooseLine(0)
	b.m.ChooseBag(0)
	b.queue.Drain()
	if s := b.m.State(); s.Current.Number != 38 || s.Prompt == nil {
		t.Errorf("a tap beside the question: line %d, %+v", s.Current.Number, s.Prompt)
	}
	b.m.Type("12")
	if p := b.m.State().Prompt; p.Error != "" || p.Text != "12" || p.Serial != b.m.serial {
		t.Errorf("typed anew: %+v", p)
	}
	b.keys("Esc")
	b.m.Type("lost")
	if b.m.State().Prompt != nil {
		t.Error("typing opens a question")
	}
}

// A digit begins a count; a proposal is to be typed over. Only what can be weighed says
// so.
func TestCountingQuestions(t *testing.T) {
	b := newBench(t, demo.Arrived)
	for _, row := range []struct {
		line         int
		key, text    string
		begun, weigh bool
	}{{38, "7", "7", true, true}, {38, "S", "", false, true}, {28, "S", "", false, false}, {38, "D", "1", false, false}} {
		b.to(row.line)
		b.keys(row.key)
		if p := b.m.State().Prompt; p == nil || p.Text != row.text || p.Begun != row.begun || p.Weigh != row.weigh {
			t.Errorf("line %d, %s: %+v, want %q, begun %v, weigh %v", row.line, row.key, p, row.text, row.begun, row.weigh)
		}
		if _, ok := b.m.Weighable(); ok != row.weigh {
			t.Errorf("line %d while %s asks: weighable %v, want %v", row.line, row.key, ok, row.weigh)
		}
		b.keys("Esc")
	}
	b.to(57)
	if l, ok := b.m.Weighable(); ok {
		t.Errorf("line %d has not come and can be weighed", l.Number())
	}
}

// What came in place of a line is said with whether it is another revision, which is
// proposed only where the numbers differ by a last letter.
func TestWrongItems(t *testing.T) {
	for _, row := range []struct {
		name     string
		line     int
		keys     []string
		word     string
		found    string
		revision bool
	}{
		{"the proposal: another revision", 12, []string{"W", `"OQ-20-040-A"`, "Enter", "Enter", "Enter"}, "wrong revision", "0", true},
		{"said to be another part", 12, []string{"W", `"OQ-20-040-A"`, "Enter", "Enter", "Down", "Enter"}, "1 short", "0", false},
		{"said to be a revision", 42, []string{"W", `"AN3-11A"`, "Enter", "Enter", "Down", "Enter"}, "wrong revision", "0", true},
		{"more than listed", 42, []string{"W", `"AN3-11A"`, "Enter", `"9"`, "Enter", "Enter"}, "4 short", "0", false},
		{"some right ones besides", 42, []string{"W", `"AN3-11A"`, "Enter", `"1"`, "Enter", "Enter", "Enter"}, "1 short", "3", false},
		{"fewer right ones besides", 42, []string{"W", `"AN3-11A"`, "Enter", `"1"`, "Enter", "Enter", `"2"`, "Enter"}, "2 short", "2", false},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := newBench(t, demo.Arrived)
			b.to(row.line)
			b.keys(row.keys...)
			f := b.m.data.line(store.LineID(row.line)).Finding
			if f == nil || f.Came == nil {
				t.Fatalf("nothing is recorded: %+v", b.m.State().Prompt)
			}
			if got := b.word(row.line); got != row.word || f.Found.Number() != row.found || f.Came.Revision != row.revision || !f.Counted || !f.Looked {
				t.Errorf("%q, found %s, %+v; want %q, %s, revision %v", got, f.Found.Number(), f, row.word, row.found, row.revision)
			}
		})
	}
	b := newBench(t, demo.Arrived)
	b.to(42)
	b.keys("W", `"AN3-11A"`, "Enter", `"1"`, "Enter", "Enter", `"some"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Error, `"some"`) || b.m.data.line(42).Finding != nil {
		t.Errorf("words for a count: %+v", p)
	}
}

// Damage is asked about of what was counted, all of which stays found.
func TestDamageOfWhatWasCounted(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("9", "Enter")
	b.to(38)
	b.keys("D", `"10"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Error, "9 are here") {
		t.Fatalf("more damaged than were counted: %+v", p)
	}
	b.keys(`"9"`, "Enter", `"  bent "`, "Enter")
	f := b.m.data.line(38).Finding
	if f == nil || f.Found.Number() != "9" || f.Damaged.Number() != "9" || f.Note != "bent" || !f.Counted || !f.Looked {
		t.Errorf("all of nine damaged: %+v", f)
	}
}

// A bag of which some are gone is not split: its count would be wrong.
func TestSplitAfterStowing(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	b.keys("A", "Enter")
	b.to(38)
	b.m.Key("X")
	b.queue.Drain()
	if s := b.m.State(); s.Prompt != nil || !strings.Contains(s.Error, "line 38") {
		t.Fatalf("a bag that was emptied is split: %+v, %q", s.Prompt, s.Error)
	}
	b.m.ChooseLine(0)
	b.queue.Drain()
	if got := b.m.State().Error; got != "" {
		t.Errorf("on another line still: %q", got)
	}
	b.to(39)
	b.keys("A")
	b.to(39)
	b.keys("X")
	if p := b.m.State().Prompt; p == nil || p.Text != "24" {
		t.Errorf("a bag that was counted and is whole: %+v, want it split", p)
	}
}

// A bag may hold several other numbers; the rest is what is left.
func TestSplitInSeveral(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", `"20"`, "Enter", `"AN3-5A"`, "Enter", `"3"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Question, "3 AN3-5A") || !strings.Contains(p.Hint, "17 left") {
		t.Fatalf("after the first: %+v", p)
	}
	b.keys(`"AN3-4A"`, "Enter", `"1"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Question, "3 AN3-5A, 1 AN3-4A") || !strings.Contains(p.Hint, "16 left") {
		t.Fatalf("after the second: %+v", p)
	}
	b.keys("Enter")
	for line, want := range map[int]string{38: "to check, 1 here", 39: "to check, 3 here", 40: "all here"} {
		if got := b.word(line); got != want {
			t.Errorf("line %d: %q, want %q", line, got, want)
		}
	}
	if f := b.m.data.line(40).Finding; f == nil || !strings.Contains(f.Note, "3 AN3-5A, 1 AN3-4A") {
		t.Errorf("line 40: %+v, want what else was in the bag", f)
	}
}

// What a piece may be: lines of the same bag first, then those that came; the number as
// it was typed last, unless a line has just that number.
func TestWhatAPieceMightBe(t *testing.T) {
	d := small()
	from := *d.line(1)
	names := func(text string) string {
		var all []string
		for _, o := range d.mightBe(text, from) {
			all = append(all, o.id+" "+o.name)
		}
		return strings.Join(all, ", ")
	}
	for text, want := range map[string]string{
		"an35a": "line 2 AN3-5A",
		"an3":   "line 2 AN3-5A, typed AN3",
		"oq":    "line 3 OQ-1, line 5 OQ-3, typed OQ",
		"zz-1":  "typed ZZ-1",
	} {
		if got := names(text); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	for designation, want := range map[string]string{"OQ-99": "not in the tables", "AN3-8": "does not exist", "AN3-7A": "not on the list: "} {
		if got := d.unlisted(designation); !strings.HasPrefix(got, "not on the list") || !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", designation, got, want)
		}
	}
	for i := range 9 {
		d.lines = append(d.lines, store.Line{ID: store.LineID(30 + i), Crate: "C1", Place: "p1", Designation: "OQ-3" + string(rune('0'+i)), Listed: measure.Pieces(1)})
	}
	d.workOut()
	if got := d.mightBe("oq", from); len(got) != maxOptions || got[maxOptions-1].id != "typed" {
		t.Errorf("of many: %+v, want %d, the typed one last", got, maxOptions)
	}
	d.lines = append(d.lines, store.Line{ID: 50, Crate: "C1", Place: "p1", Designation: "oq-small", Listed: measure.Pieces(1)})
	if got := d.number("zz-small"); got != "zz-small" {
		t.Errorf("on a list with small letters: %q, want it as typed", got)
	}
	if got := d.number("OQ SMALL"); got != "oq-small" {
		t.Errorf("as the list has it: %q", got)
	}
}

// The number of the line itself is no other number, however it is typed: neither in its
// bag nor in its place.
func TestTheLinesOwnNumberIsNoOther(t *testing.T) {
	for _, row := range []struct {
		key, typed string
		line       int
	}{{"W", "an34a", 38}, {"W", "AN3 4A", 38}, {"W", "an311", 42}, {"X", "an36a", 40}, {"X", "AN3-6A", 40}} {
		b := newBench(t, demo.Arrived)
		b.to(row.line)
		b.keys(row.key)
		if row.key == "X" {
			b.keys("Enter")
		}
		b.keys(`"` + row.typed + `"`)
		if row.key == "X" { // past what else begins so
			b.m.prompt.Option = len(b.m.prompt.Options) - 1
		}
		b.keys("Enter")
		if p := b.m.State().Prompt; p == nil || p.Error == "" {
			t.Errorf("line %d, %s %s: %+v, want it refused", row.line, row.key, row.typed, p)
		}
	}
}

// F3 leads to the crate of the bag in hand, whichever crate that is, and no key leads
// away from a question.
func TestPartsOfABag(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	ship := b.m.data.ship
	for i, row := range b.m.State().Bags {
		if !strings.HasPrefix(row.ID, "C2/") || row.Dim {
			continue
		}
		b.m.ChooseBag(i)
		b.queue.Drain()
		want := routes.Route{Screen: routes.Photos, About: photos.About(store.OfPlace(ship.Crates[1].Place))}
		if to, ok := b.m.Part("F3"); !ok || to != want {
			t.Errorf("%s: F3 leads to %+v, %v; want %+v", row.ID, to, ok, want)
		}
	}
	b.to(40)
	b.keys("S")
	for _, key := range []string{"F3", "P", "C", "I", "R"} {
		if to, ok := b.m.Part(key); ok {
			t.Errorf("%s leads away from a question, to %+v", key, to)
		}
	}
}

// Left and Right go through the bags and stop at the first and the last.
func TestBagsByArrows(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	b.m.ChooseBag(0)
	b.queue.Drain()
	b.keys("Left")
	if got := b.m.State().Bag; got != 0 {
		t.Errorf("Left of the first: %d", got)
	}
	b.keys("Right", "Right", "Left")
	if got := b.m.State().Bag; got != 1 {
		t.Errorf("two right, one left: bag %d, want 1", got)
	}
	last := len(b.m.State().Bags) - 1
	b.m.ChooseBag(last)
	b.queue.Drain()
	b.keys("Right")
	if s := b.m.State(); s.Bag != last || s.Line != 0 {
		t.Errorf("Right of the last: bag %d, line %d; want %d and its first line", s.Bag, s.Line, last)
	}
	b.keys("Up")
	if got := b.m.State().Line; got != 0 {
		t.Errorf("Up from the first line: %d", got)
	}
}

// O goes on to the next delivery, going round.
func TestOtherDelivery(t *testing.T) {
	b := newBench(t, demo.Unpacking)
	i := b.importer()
	i.read("second.csv", "Part,Qty\nOQ-1,2\n")
	i.Confirm("OK-2", "")
	b.queue.Drain()
	first := b.m.data.ship.ID
	b.m.about = first
	b.m.Load()
	b.queue.Drain()
	if s := b.m.State(); s.Shipment != first || !s.Side.Others {
		t.Fatalf("at first: %s, others %v", s.Shipment, s.Side.Others)
	}
	b.keys("O")
	if got := b.m.State().Shipment; got != i.ship.ID {
		t.Errorf("O leads to %s, want %s", got, i.ship.ID)
	}
	if b.m.data.next != first {
		t.Errorf("after the last one comes %s, want %s", b.m.data.next, first)
	}
}
