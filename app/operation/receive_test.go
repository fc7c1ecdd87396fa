package operation_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// What is written at a line of a check-off sheet: all, none, how many, or nothing.
func TestTickedAmount(t *testing.T) {
	l := store.Line{ID: 38, Listed: measure.Pieces(12)}
	for text, want := range map[string]string{
		"": "nothing", " ": "nothing", "a": "12 ea", "A": "12 ea", ".": "12 ea", "n": "0 ea", "N": "0 ea", " 7 ": "7 ea", "0": "0 ea", "-1": "refused", "1.5": "refused", "some": "refused",
	} {
		amount, found, err := operation.TickedAmount(&session.Session{}, l, text)
		got := amount.String()
		switch {
		case err != nil:
			got = "refused"
		case !found:
			got = "nothing"
		}
		if got != want {
			t.Errorf("%q is read as %s, want %s", text, got, want)
		}
	}
}

// A column of a sheet is one entry; a line that was checked since is refused, and then
// nothing is entered.
func TestColumn(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	of := func(found ...operation.Ticked) operation.Column { return operation.Column{Found: found} }
	each(t, b, []row{
		{"of no list", operation.Column{List: "OK-1"}, "", `No packing list is called "OK-1"`},
		{"nothing", of(operation.Ticked{Line: 38}, operation.Ticked{Line: 39, Found: " "}), "", "Nothing is written at any line: type a number, a for all, or n for none."},
		{"words", of(operation.Ticked{Line: 38, Found: "a"}, operation.Ticked{Line: 39, Found: "some"}), "", `"some" is not an amount`},
		{"no such line", of(operation.Ticked{Line: 999, Found: "a"}), "", "999"},
		{"three lines", of(operation.Ticked{Line: 38, Found: "a"}, operation.Ticked{Line: 39, Found: "20"}, operation.Ticked{Line: 40, Found: "n"}, operation.Ticked{Line: 41}), "", ""},
		{"one of them again", of(operation.Ticked{Line: 41, Found: "a"}, operation.Ticked{Line: 40, Found: "3"}), "", "Line 40 is checked already: leave it empty, or correct it at the line."},
	})
	for number, want := range map[int]string{38: "12 ea", 39: "20 ea", 40: "0 ea"} {
		if f := line(t, b, number).Finding; f == nil || f.Found.String() != want || !f.Counted {
			t.Errorf("line %d is found as %+v, want %s", number, f, want)
		}
	}
	if f := line(t, b, 41).Finding; f != nil {
		t.Errorf("line 41 is found as %+v", f)
	}
	check(t, b, operation.Undo{}, "", "")
	if f := line(t, b, 38).Finding; f != nil {
		t.Errorf("undone, line 38 is found as %+v", f)
	}
}

// A bag is here as listed but for the lines that were checked before.
func TestWholeBag(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	each(t, b, []row{
		{"one of it", operation.Receive{Line: 39, Found: "20"}, "20 ea", ""},
		{"of no list", operation.WholeBag{List: "OK-1", Line: 38}, "", `No packing list is called "OK-1"`},
		{"the rest", operation.WholeBag{Line: 38, Looked: []int{40}}, "", ""},
		{"once more", operation.WholeBag{Line: 38}, "", "Every line of the bag of line 38 is checked already."},
		{"of no line", operation.WholeBag{Line: 999}, "", "Every line of the bag of line 999 is checked already."},
	})
	var got []string
	for n := 38; n <= 44; n++ {
		f := line(t, b, n).Finding
		if f == nil {
			got = append(got, fmt.Sprintf("%d none", n))
			continue
		}
		got = append(got, fmt.Sprintf("%d %s %v", n, f.Found.Number(), f.Looked))
	}
	if want := "38 12 false, 39 20 false, 40 16 true, 41 8 false, 42 4 false, 43 6 false, 44 none"; strings.Join(got, ", ") != want {
		t.Errorf("found are %s, want %s", strings.Join(got, ", "), want)
	}
}

// What was short of a line lay inside another part, which the line says.
func TestInside(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	each(t, b, []row{
		{"before it is counted", operation.Inside{Line: 38, In: "40"}, "", "Line 38 is not counted short: count it first."},
		{"count it short", operation.Receive{Line: 38, Found: "7"}, "7 ea", ""},
		{"none", operation.Inside{Line: 38, Found: "0", In: "40"}, "", "Say how many more of line 38 were found."},
		{"nowhere", operation.Inside{Line: 38, Found: "2"}, "", "Say inside what they were found"},
		{"in no line", operation.Inside{Line: 38, Found: "2", In: "999"}, "", "999"},
		{"words", operation.Inside{Line: 38, Found: "some", In: "40"}, "", `"some" is not an amount`},
		{"two in a line", operation.Inside{Line: 38, Found: "2", In: " 40 "}, "line 38, AN3-4A: found 9 ea", ""},
		{"the rest in the packing", operation.Inside{Line: 38, In: "the packing of C1"}, "line 38, AN3-4A: found 12 ea", ""},
		{"no more", operation.Inside{Line: 38, In: "40"}, "", "Line 38 is not counted short"},
	})
	if f := line(t, b, 38).Finding; f.Note != "2 found inside AN3-6A, line 40; 3 found inside the packing of C1" {
		t.Errorf("the line says %q", f.Note)
	}
}

// What is owed of a line comes in parts, and never more than is owed.
func TestOwed(t *testing.T) {
	b := sessiontest.Open(t, demo.Arrived)
	each(t, b, []row{
		{"of no list", operation.Owed{List: "OK-1", Line: 19}, "", `No packing list is called "OK-1"`},
		{"nothing is owed", operation.Owed{Line: 38}, "", "Nothing of line 38 is owed"},
		{"too many", operation.Owed{Line: 19, Found: "3"}, "", "2 ea of line 19 are owed"},
		{"none", operation.Owed{Line: 19, Found: "0"}, "", "2 ea of line 19 are owed"},
		{"words", operation.Owed{Line: 19, Found: "some"}, "", `"some" is not an amount`},
		{"one", operation.Owed{Line: 19, Found: "1"}, "found 1 ea", ""},
		{"the other", operation.Owed{Line: 19}, "found 2 ea", ""},
		{"no more", operation.Owed{Line: 19}, "", "Nothing of line 19 is owed"},
		{"never checked", operation.LeaveUnchecked{Line: 41, Why: "given away"}, "never going to be checked, given away", ""},
		{"that without a reason", operation.LeaveUnchecked{Line: 43}, "", "Say why line 43"},
		{"its bag, without it", operation.WholeBag{Line: 41}, "line 38", ""},
		{"where to look", operation.LookIn{Line: 40, Words: "in the spar"}, "in the spar", ""},
		{"of no line", operation.LookIn{Line: 999, Words: "x"}, "", "999"},
	})
}

// Two hands that agree settle a count; the hand that works stays who it is.
func TestCountBlind(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	works := b.Shop.Hand()
	of := func(text, by string) operation.CountBlind {
		return operation.CountBlind{Heap: item("AN3-5A"), Counted: text, By: by}
	}
	each(t, b, []row{
		{"nothing", of(" ", ""), "", "Type how many there are."},
		{"words", of("many", ""), "", `"many" is not an amount`},
		{"one hand", of("27", " Partner "), "", ""},
		{"another", of("27", ""), "", ""},
	})
	if got := b.Heap("A-12").Amount.Figure(); got != "27" || b.Shop.Hand() != works {
		t.Errorf("settled at %s, and %s works", got, b.Shop.Hand())
	}
	heavy := measure.Weighing{Gross: measure.Of(1, measure.Gram)}
	check(t, b, operation.CountBlind{Heap: item("AN3-5A"), Weighing: &heavy}, "", "step")
}

// A note is on a line, by its number or by what it calls, on a position or on the whole.
func TestNote(t *testing.T) {
	b := hinges(t)
	each(t, b, []row{
		{"of nothing there is", operation.Note{For: "SA-99", Kind: "look"}, "", `There is no sub-assembly "SA-99"`},
		{"on no day", operation.Note{For: "SA-21", Kind: "look", On: "soon"}, "", "soon"},
		{"hours in words", operation.Note{For: "SA-21", Kind: "hours", Hours: "many"}, "", `"many" is no number of hours`},
		{"named twice", operation.Note{For: "SA-21", Kind: "torque", Requirement: "R-14", Called: "AN365-1032A"}, "", "Name the line of the list by its number or by what it calls, and not by both."},
		{"called twice", operation.Note{For: "SA-21", Kind: "torque", Called: "an3-5a"}, "", "SA-21 calls AN3-5A in R-12 and R-13: say which of them."},
		{"not called", operation.Note{For: "SA-21", Kind: "torque", Called: "AN4-12A"}, "", "SA-21 does not call AN4-12A: see its list."},
		{"of no kind", operation.Note{For: "SA-21", Kind: "song", Text: "la"}, "", "song"},
		{"torque", operation.Note{For: "sa-21", Kind: " Torque ", Called: "an365-1032a", Text: "25 in-lb", Tool: "wrench 2", On: "2026-03-16"}, "torque of SA-21 Rudder hinges noted: R-14, 25 in-lb", ""},
		{"hours", operation.Note{For: "SA-21", Kind: "hours", Hours: "3.5"}, "3.5 h", ""},
	})
	notes, err := b.Shop.Notes("SA-21")
	if err != nil || len(notes) != 2 {
		t.Fatalf("%+v, %v", notes, err)
	}
	if n := notes[0]; n.Requirement != "R-14" || n.Day.String() != "16 March 2026" || n.Kind != store.TorqueNote || n.Tool != "wrench 2" {
		t.Errorf("kept as %+v", n)
	}
	if n := notes[1]; n.Hours != 35 || n.Day != b.Shop.Today() {
		t.Errorf("kept as %+v", n)
	}
}

// An item is marked as used once, unless a published rule says it already.
func TestMarkSingleUse(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	each(t, b, []row{
		{"one that nobody knows", operation.MarkSingleUse{Item: "AN3-8"}, "", "AN3-8"},
		{"a pin, whatever is said", operation.MarkSingleUse{Item: "ms24665-132", Not: true}, "", "MS24665-132 is used once by "},
		{"not marked", operation.MarkSingleUse{Item: "AN3-5A", Not: true}, "", "AN3-5A is marked so already."},
		{"mark", operation.MarkSingleUse{Item: "an365-1032a"}, "AN365-1032A", ""},
		{"mark again", operation.MarkSingleUse{Item: "AN365-1032A"}, "", "AN365-1032A is marked so already."},
		{"take it back", operation.MarkSingleUse{Item: "AN365-1032A", Not: true}, "AN365-1032A", ""},
	})
}

// What is fitted of several lots, or for several lines, is asked about when some comes out.
func TestRemoveWhich(t *testing.T) {
	b := hinges(t)
	each(t, b, []row{
		{"take", operation.Take{Heap: item("AN3-5A"), Amount: "6", For: "SA-21"}, "6 ea", ""},
		{"fit for the other line", operation.Fit{Heap: item("AN3-5A"), Amount: "4", For: "SA-21", Requirement: "R-13"}, "4 ea fitted", ""},
		{"which", operation.Remove{Item: "AN3-5A", Amount: "1", From: "SA-21"}, "", "for R-12, of lot "},
		{"of that line", operation.Remove{Item: "AN3-5A", Amount: "1", From: "SA-21", Requirement: "r-13"}, "AN3-5A: 1 ea removed", ""},
		{"of a line that has none", operation.Remove{Item: "AN3-5A", Amount: "1", From: "SA-21", Requirement: "R-14"}, "", "No AN3-5A is fitted in SA-21."},
	})
}
