package app

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/look"
	"stowright/app/routes"
)

// typedAt types characters, Enter ("\n"), Tab and a key without a name ("\v"), one every gap, as the window hands them on: a key,
// then its character.
func (r *rig) typedAt(gap time.Duration, text string) {
	for _, c := range text {
		switch c {
		case '\n':
			r.press(fyne.KeyReturn)
		case '\t':
			r.press(fyne.KeyTab)
		case '\v':
			r.press(fyne.KeyUnknown)
		default:
			r.press(fyne.KeyName(strings.ToUpper(string(c))))
			r.typed(string(c))
		}
		r.queue.Pass(gap)
		if gap > scanGap { // the timer of a window at rest
			r.queue.Elapse()
		}
	}
}

// What a hand scanner types goes whole to the command bar wherever the focus is, and presses
// no key; what fingers type is never taken for it, and is never lost.
func TestScanner(t *testing.T) {
	const scanner, fingers = 5 * time.Millisecond, 80 * time.Millisecond
	list := func(r *rig) { r.ToResults() }
	bar := func(r *rig) { r.FocusCommand() }
	for _, row := range []struct {
		name  string
		at    func(r *rig) // where the focus is; nil for nowhere
		gap   time.Duration
		typed string
		want  []string
	}{
		{"a code", nil, scanner, "sp7k\n", []string{"command SP7K"}},
		{"a code with the focus in a list", list, scanner, "SP7K\n", []string{"command SP7K"}},
		{"a code with the focus in the bar", bar, scanner, "SP7K\n", []string{"command SP7K"}},
		{"two codes", nil, scanner, "SP7K\nSP7K\n", []string{"command SP7K", "command SP7K"}},
		{"a code without Enter", list, scanner, "sp7k", []string{"command SP7K"}},
		{"a code and a line feed", list, scanner, "sp7k\v", []string{"command SP7K"}},
		{"a code and Tab", list, scanner, "sp7k\tsp7k\t", []string{"command SP7K", "command SP7K"}},
		{"fingers", nil, fingers, "sp7k\n", []string{"page S", "page P", "page 7", "page K", "page Enter"}},
		{"fingers in the bar", bar, fingers, "sp\n", []string{"query s", "query sp", "command sp"}},
		{"a fast walk", nil, 20 * time.Millisecond, "sa", []string{"page S", "page A", "all here"}},
		{"not a whole code", nil, scanner, "SP7\n", []string{"page S", "page P", "page 7", "page Enter"}},
		{"no code", nil, scanner, "a7", []string{"page A", "all here", "page 7"}},
		{"a code that begins anew", nil, scanner, "ssp7k\n", []string{"page S", "command SP7K"}},
		{"more than a code", nil, scanner, "sp7ka", []string{"page S", "page P", "page 7", "page K", "page A", "all here"}},
		{"S alone", nil, fingers, "s", []string{"page S"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			if row.at != nil {
				row.at(r)
			}
			r.took()
			r.typedAt(row.gap, row.typed)
			r.queue.Elapse()
			want(t, "got", r.took(), row.want...)
		})
	}
}

// The window was drawing when a key was due: what had been typed by then comes first. A whole
// code is not broken by a pause of the machine that plays the scanner.
func TestScannerOnABusyWindow(t *testing.T) {
	r := newRig(t, 1280)
	r.Go(routes.Route{Screen: routes.Find})
	r.took()
	r.typed("s")
	r.queue.Tick() // the gap is over, and the grace begins
	r.typed("p7k")
	r.queue.Pass(scanPause)
	r.press(fyne.KeyReturn)
	r.queue.Elapse()
	want(t, "got", r.took(), "command SP7K")
}

// While a question is open, a code goes to a field that takes codes, and nowhere else.
func TestScannerWhileAsked(t *testing.T) {
	for _, row := range []struct {
		name  string
		takes bool
		want  []string
		said  string
	}{
		{"a field that takes codes", true, []string{"took SP7K"}, ""},
		{"a field of a number", false, nil, "A label was scanned while a question was open. Scan it again when it is answered."},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			field := look.NewEntry("")
			field.TakesCodes = row.takes
			field.OnSubmitted = func(text string) { r.say("took " + text) }
			r.Ask(look.NewDialog("Where to?", field), field)
			r.took()
			r.typedAt(5*time.Millisecond, "sp7k\n")
			want(t, "got", r.took(), row.want...)
			if r.Said() != row.said {
				t.Errorf("said %q, want %q", r.Said(), row.said)
			}
		})
	}
}

// What is typed while a question is being made is its answer, and what is typed while that is
// written is for what comes then. Nothing reaches the page that was left.
func TestTypedAhead(t *testing.T) {
	for _, row := range []struct {
		name string
		do   func(r *rig)
		want []string
	}{
		{"an answer", func(r *rig) { r.typed("q12"); r.press(fyne.KeyReturn) }, []string{"page Q", "answered 12"}},
		{"the next key behind it", func(r *rig) { r.typed("q3"); r.press(fyne.KeyReturn); r.typed("a") }, []string{"page Q", "answered 3", "page A", "all here"}},
		{"two questions", func(r *rig) { r.typed("q3"); r.press(fyne.KeyReturn); r.typed("q4"); r.press(fyne.KeyReturn) }, []string{"page Q", "answered 3", "page Q", "answered 4"}},
		{"Esc leaves the question", func(r *rig) { r.typed("q3"); r.press(fyne.KeyEscape); r.typed("a") }, []string{"page Q", "page A", "all here"}},
		{"a shortcut in its turn", func(r *rig) { r.typed("q3"); r.press(fyne.KeyReturn); r.ctrl(fyne.Key4); r.typed("a") }, []string{"page Q", "answered 3", "leave find", "page A", "all here"}},
		{"Tab in its turn", func(r *rig) {
			r.typed("q3")
			r.press(fyne.KeyReturn, fyne.KeyTab, fyne.KeyTab)
			r.typed(" ")
		}, []string{"page Q", "answered 3", "all here"}},
		{"Tab while a question is made", func(r *rig) {
			r.typed("q")
			if r.press(fyne.KeyTab); r.canvas.Focused() != nil {
				r.say("the focus moved")
			}
			r.typed("7")
			r.press(fyne.KeyReturn)
		}, []string{"page Q", "answered 7"}},
		{"Tab back", func(r *rig) {
			r.typed("q3")
			r.press(fyne.KeyReturn, fyne.KeyTab, fyne.KeyTab, look.BackTab, fyne.KeyReturn)
		}, []string{"page Q", "answered 3", "page Enter"}},
		{"all of it replaced", func(r *rig) {
			r.typed("q34")
			r.shortcut(&fyne.ShortcutSelectAll{})
			r.typed("5")
			r.press(fyne.KeyReturn)
		}, []string{"page Q", "answered 5"}},
		{"Backspace", func(r *rig) { r.typed("q34"); r.press(fyne.KeyBackspace, fyne.KeyReturn) }, []string{"page Q", "answered 3"}},
		{"a scanned code in its turn", func(r *rig) {
			r.typed("q3")
			r.press(fyne.KeyReturn)
			r.typedAt(5*time.Millisecond, "sp7k\n")
		}, []string{"page Q", "answered 3", "command SP7K"}},
		{"a tap asks as a key does", func(r *rig) {
			test.Tap(r.Page().Object().(*fyne.Container).Objects[2].(*look.KeyButton))
			r.typed("5")
			r.press(fyne.KeyReturn)
		}, []string{"answered 5"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			r.took()
			row.do(r)
			r.queue.Drain()
			want(t, "got", r.took(), row.want...)
		})
	}
}

// Nobody waits for ever: Esc leaves what takes long, and what waited too long is dropped and
// said, since it would reach what it was not meant for.
func TestWaitingEnds(t *testing.T) {
	for _, row := range []struct {
		name string
		end  func(r *rig)
		want []string
		said string
	}{
		{"Esc at once waits too", func(r *rig) { r.press(fyne.KeyEscape) }, []string{"page Q"}, ""},
		{"Esc after a while", func(r *rig) { r.queue.Pass(impatience); r.press(fyne.KeyEscape) }, []string{"page Q", "page Esc"}, ""},
		{"too long", func(r *rig) { r.queue.Pass(longestWait); r.queue.Tick() }, []string{"page Q"}, "This takes longer than it should. What was typed meanwhile was not used."},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := newRig(t, 1280)
			r.Go(routes.Route{Screen: routes.Find})
			r.took()
			r.typed("q1")
			row.end(r)
			if got := r.took(); !slices.Equal(got, row.want) || r.Said() != row.said {
				t.Errorf("got %q and said %q, want %q and %q", got, r.Said(), row.want, row.said)
			}
		})
	}
}
