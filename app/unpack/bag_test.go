package unpack

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"stowright/app/card"
	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/store"
)

// All of a bag that is still to check is booked at once, as one entry; what another bag
// gave to is left to be counted, and what was counted stays.
func TestWholeBag(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("X", "Enter", `"AN3-5A"`, "Enter", `"4"`, "Enter", "Enter")
	b.to(41)
	b.keys("7", "Enter")
	b.to(42)
	b.keys("L", "B")
	p := b.m.State().Prompt
	if p == nil || p.Question != "Is all of bag H103 here as listed?" || b.option() != "All 3 lines are here" {
		t.Fatalf("B asks %+v", p)
	}
	for _, want := range []string{"12 AN3-4A", "4 AN3-11", "6 AN4-12A", "Line 39 is asked apart"} {
		if !strings.Contains(p.Hint, want) {
			t.Errorf("the hint lacks %q: %s", want, p.Hint)
		}
	}
	b.keys(`"no"`, "Enter")
	if p := b.m.State().Prompt; p == nil || p.Error == "" {
		t.Fatalf("a wrong answer: %+v", p)
	}
	b.keys(`""`, "Enter")
	for line, want := range map[int]string{38: "all here", 39: "to check, 4 here", 40: "4 short", 41: "1 short", 42: "all here", 43: "all here"} {
		if got := b.word(line); got != want {
			t.Errorf("line %d: %q, want %q", line, got, want)
		}
	}
	if f, g := b.m.data.line(42).Finding, b.m.data.line(43).Finding; !f.Looked || g.Looked || !g.Counted {
		t.Errorf("looked at: %+v, %+v", f, g)
	}
	if got := b.m.State().Current.Number; got != 39 {
		t.Errorf("then line %d, want 39 that is left of the bag", got)
	}
	if b.m.State().Current.offers("B") {
		t.Error("one line that is left is offered as a whole bag")
	}
	if _, err := b.s.Shop.Undo(); err != nil {
		t.Fatal(err)
	}
	b.queue.Drain()
	if b.word(38) != "to check" || b.word(43) != "to check" || b.word(41) != "1 short" {
		t.Errorf("undone: %s, %s, %s", b.word(38), b.word(43), b.word(41))
	}
	if _, err := (operation.WholeBag{Line: 39}).Do(t.Context(), b.s); err != nil {
		t.Fatal(err)
	}
	if _, err := (operation.WholeBag{Line: 39}).Do(t.Context(), b.s); err == nil || !strings.Contains(err.Error(), "Line 39") {
		t.Errorf("a bag of which only 39 is left: %v", err)
	}
}

// What was short and lay inside another part is added with where it lay.
func TestFoundInside(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(17)
	b.m.Key("F")
	b.queue.Drain()
	if s := b.m.State(); s.Prompt != nil || !strings.Contains(s.Error, "not short") {
		t.Fatalf("a line that is not counted: %+v", s)
	}
	b.to(17)
	b.keys("6", "Enter")
	b.to(17)
	if !b.m.State().Current.offers("F") {
		t.Error("found inside is not offered for a line that is short")
	}
	b.keys("F", `"1"`, "Enter")
	if got := b.option(); got != "OQ-30-020" {
		t.Errorf("first offered: %s, want the skin of the same bag", got)
	}
	b.keys("Enter")
	f := b.m.data.line(17).Finding
	if f.Found.Number() != "7" || f.Note != "1 found inside OQ-30-020, line 18" || b.word(17) != "1 short" {
		t.Errorf("one of two: %+v, %s", f, b.word(17))
	}
	b.keys("F", "Enter", `"the lid of C1"`, "Enter")
	if f := b.m.data.line(17).Finding; f.Found.Number() != "8" || !strings.HasSuffix(f.Note, "; 1 found inside the lid of C1") || b.word(17) != "all here" {
		t.Errorf("the other one: %+v, %s", f, b.word(17))
	}
	for _, o := range []operation.Inside{{Line: 17, In: "18"}, {Line: 16, In: "18"}} {
		if _, err := o.Do(t.Context(), b.s); err == nil {
			t.Errorf("%+v: taken, and the line is not short", o)
		}
	}
	b.to(7)
	b.keys("2", "Enter")
	for _, o := range []operation.Inside{{Line: 7}, {Line: 7, In: "999"}, {Line: 7, Found: "0", In: "5"}, {Line: 7, Found: "-1", In: "5"}, {Line: 7, Found: "x", In: "5"}} {
		if _, err := o.Do(t.Context(), b.s); err == nil {
			t.Errorf("%+v: taken", o)
		}
	}
}

// What is on no list gets a line, stock in the bag in hand, and its entry on the claim.
func TestUnlistedFind(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(40)
	b.keys("U", `"an3-5a"`, "Enter")
	if p := b.m.State().Prompt; p == nil || !strings.Contains(p.Error, "Line 39 lists AN3-5A") {
		t.Fatalf("a listed number: %+v", p)
	}
	b.keys(`"an3-10a"`, "Enter", `"3"`, "Enter")
	extra := b.m.data.lines[len(b.m.data.lines)-1]
	if !extra.Extra || extra.Designation != "AN3-10A" || extra.Place != b.m.data.line(40).Place || extra.Finding.Found.Number() != "3" {
		t.Fatalf("the line: %+v", extra)
	}
	if s := b.m.State(); s.Current.Number != 40 || s.Side.Stow == nil || s.Side.Stow.What != "3 AN3-10A" {
		t.Errorf("then line %d, asked %+v", s.Current.Number, s.Side.Stow)
	}
	if text := b.m.data.claim().Text(); !strings.Contains(text, "3 came that the list does not have") {
		t.Errorf("the claim lacks it:\n%s", text)
	}
}

// The builder's own words say where to look, before a line is claimed too.
func TestWhereToLook(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(57) // not come
	b.keys("H", `"in the wing crate"`, "Enter")
	if got := b.m.State().Current.Hint; !strings.Contains(got, "Noted where to look: in the wing crate.") {
		t.Errorf("before it came: %q", got)
	}
	b.to(7)
	b.keys("H", `"inside the fin skin"`, "Enter", "2", "Enter")
	b.to(7)
	if got := b.m.State().Current.Hint; got != "1 short so far. Look first: inside the fin skin." {
		t.Errorf("the hint: %q", got)
	}
	b.to(28)
	b.keys("S", `"60"`, "Enter")
	if got := b.m.data.claimNote(); !strings.Contains(got, "Look once more before it is sent: line 7, inside the fin skin; line 28, inside other parts of C2") {
		t.Errorf("before the claim: %q", got)
	}
	if _, err := (operation.SendClaim{On: "18 March 2026", How: "by mail"}).Do(t.Context(), b.s); err != nil {
		t.Fatal(err)
	}
	b.m.Load()
	b.queue.Drain()
	if got := b.m.data.claimNote(); strings.Contains(got, "Look once more") {
		t.Errorf("after it was sent: %q", got)
	}
	b.to(7)
	b.keys("H", `""`, "Enter")
	if l := b.m.data.line(7); l.LookIn != "" || l.Finding.Found.Number() != "2" {
		t.Errorf("taken away: %+v", l)
	}
	if _, err := b.s.Shop.LookIn(b.m.data.ship.ID, 999, "here"); err == nil || store.KindOf(err) != store.NotFound {
		t.Errorf("a line that is not there: %v", err)
	}
}

// offers reports whether an action is among those that are done more seldom.
func (c Current) offers(id string) bool {
	return slices.ContainsFunc(c.More, func(a card.Action) bool { return a.ID == id && !a.Off })
}

// What is done more seldom with the line in hand stands behind one key, which names it; what
// is chosen there is done at once, also as the first thing on the page.
func TestMoreOfTheLine(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	v := k.part("", "").shown.(*checkView)
	k.key("M")
	listed := test.RenderObjectToMarkup(k.window.Canvas().Overlays().Top())
	for _, text := range []string{"All of its bag is here", "Something that is on no list", "It is never going to be checked"} {
		if !strings.Contains(listed, text) {
			t.Errorf("%q is not listed", text)
		}
	}
	k.key("B")
	if p := v.model.State().Prompt; p == nil || !strings.HasPrefix(p.Question, "Is all of bag ") {
		t.Errorf("the whole bag was chosen, and asked is %+v", p)
	}
	k.key("M")
	if k.window.Canvas().Overlays().Top() != nil {
		t.Error("more is listed over a question")
	}
	empty := newTypist(t, demo.Furnished)
	empty.part("", "").HandleKey("M")
	if empty.window.Canvas().Overlays().Top() != nil {
		t.Error("more is listed where no list was brought in")
	}
}
