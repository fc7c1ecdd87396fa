package desktop

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
)

// focused is what has the focus, in a word.
func (b *bench) focused() string {
	switch w := b.w.Canvas().Focused().(type) {
	case nil:
		return "nothing"
	case *look.CommandEntry:
		return "command bar"
	case *look.RowList:
		row, _ := w.Chosen()
		return "list at " + row.Cells[0].Text
	case *look.CabinetView:
		return "drawers"
	default:
		return "something else"
	}
}

// A screen that is gone to has the focus where its work begins, and nothing that was typed
// before stands in the command bar.
func TestFocusOfAScreen(t *testing.T) {
	b := sit(t, demo.Unpacked)
	for _, row := range []struct{ key, want string }{
		{"Ctrl+3", "command bar"},
		{"Ctrl+4", "list at Cabinet A"},
		{"Ctrl+5", "list at Cabinet A"},
		{"Ctrl+2", "list at 1"},
		{"Ctrl+1", "nothing"}, // its sections are one list, which its page moves through
	} {
		b.press("Ctrl+K", `"x1"`, row.key)
		if got := b.focused(); !strings.HasPrefix(got, row.want) || b.d.CommandText() != "" {
			t.Errorf("after %s the focus is on the %s with %q in the command bar, want the %s", row.key, got, b.d.CommandText(), row.want)
		}
	}
}

// What is typed on Find is a question. Letters act on stock once a row was taken in hand, and
// the card shows them only then.
func TestTypingOnFindAsks(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+3", `"car"`)
	if b.d.CommandText() != "car" || b.w.Canvas().Overlays().Top() != nil {
		t.Fatalf("the command bar has %q, and asked is %v", b.d.CommandText(), b.w.Canvas().Overlays().Top())
	}
	b.press("Ctrl+3")
	keys := func() (letters string) {
		for _, a := range b.d.Card().Actions {
			if len(a.Key) == 1 {
				letters += a.Key
			}
		}
		return letters
	}
	before := keys()
	b.press("Down")
	if after := keys(); before != "" || after != "TMCLD" {
		t.Errorf("the card shows the letters %q, and %q with a row in hand; want none, and TMCLD", before, after)
	}
	b.press("C")
	b.asks("Count AN3-4A")
	b.press("Esc", "Ctrl+K", `"an3-6"`)
	if got := keys(); got != "" {
		t.Errorf("with another question the card shows the letters %q", got)
	}
}

// The first key on Unpack, Build and the bench records nothing, nor asks anything about stock; the
// same key again does, and after an arrow the first.
func TestFirstKeyRecordsNothing(t *testing.T) {
	for _, row := range []struct {
		name  string
		scene demo.Scene
		keys  []string
		want  int // entries
		asks  string
	}{
		{"a letter", demo.Unpacking, []string{"Ctrl+2", "N"}, 0, ""},
		{"another letter", demo.Unpacking, []string{"Ctrl+2", "Z", "B", "N"}, 0, ""},
		{"the letter again", demo.Unpacking, []string{"Ctrl+2", "N", "N"}, 1, ""},
		{"after an arrow", demo.Unpacking, []string{"Ctrl+2", "Down", "N"}, 1, ""},
		{"another order of building", demo.Unpacked, []string{"Ctrl+6", "+"}, 0, ""},
		{"what is kept", demo.Unpacked, []string{"Ctrl+6", "G"}, 0, ""},
		{"what nothing is kept for", demo.Unpacked, []string{"Ctrl+6", "G", "G"}, 0, ""},
		{"advice", demo.Unpacked, []string{"Ctrl+6", "1", "2", "3"}, 0, ""},
		{"another order once more", demo.Unpacked, []string{"Ctrl+6", "+", "+"}, 1, ""},
		{"another order of the chosen one", demo.Unpacked, []string{"Ctrl+6", "Right", "-"}, 1, ""},
		{"words at the bench", demo.Unpacked, []string{"Ctrl+6", "Enter", "F", "S", "C"}, 0, ""},
		{"a letter at the bench again", demo.Unpacked, []string{"Ctrl+6", "Enter", "F", "F"}, 0, "Fit everything in the tray of SA-20?"},
		{"a line at the bench", demo.Unpacked, []string{"Ctrl+6", "Enter", "Down", "S"}, 0, "How many MS21042-3 were fitted?"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, row.scene)
			before := b.Journal()
			b.press(row.keys...)
			if got := b.Journal() - before; got != row.want {
				t.Errorf("%d entries, want %d; said %q", got, row.want, b.d.Said())
			}
			switch over := b.w.Canvas().Overlays().Top(); {
			case row.asks != "":
				b.asks(row.asks)
			case over != nil:
				t.Errorf("it is asked %q", b.texts())
			}
		})
	}
}

// A whole story typed faster than the shop answers: nothing is lost, and nothing reaches another
// page than it was meant for.
func TestStoriesTypedAhead(t *testing.T) {
	for _, row := range []struct {
		name  string
		scene demo.Scene
		keys  []string
		entry string // of the journal, the last
	}{
		{"check off and stow", demo.Unpacking, []string{"Ctrl+2", "S", `"12"`, "Enter", "Enter"}, "AN3-6A: 12 ea stowed in"},
		{"count what was found", demo.Unpacked, []string{"Ctrl+K", `"an3-5a"`, "Enter", "C", `"27"`, "Enter"}, "counted AN3-5A in A-12: 27 ea"},
		{"take out of what was found", demo.Unpacked, []string{"Ctrl+K", `"an3-5a"`, "Enter", "T", `"4"`, "Enter"}, "AN3-5A: 4 ea pulled"},
		{"rename a place", demo.Unpacked, []string{"Ctrl+4", "Down", "R", `"R2"`, "Enter"}, "R2"},
		{"a room, and a cabinet in it", demo.Unpacked, []string{"Ctrl+4", "U", "N", `"Attic"`, "Enter", "Home", "Enter", "K", "Enter"}, "Cabinet B"},
		{"two counts", demo.Unpacked, []string{"Ctrl+3", "Down", "C", `"11"`, "Enter", "Down", "C", `"27"`, "Enter"}, "counted AN3-5A"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, row.scene)
			for _, key := range row.keys {
				b.one(key)
			}
			b.Elapse()
			entries, err := b.Shop.Entries(0, 1)
			if err != nil || len(entries) == 0 || !strings.Contains(entries[0].Text, row.entry) {
				t.Errorf("the last entry is not %q, %v\n%s", row.entry, err, b.texts())
			}
		})
	}
}

// Tab goes through the page first, then its card, the last entry, the command bar and the rail,
// and reaches every one of them.
func TestTabFollowsTheWork(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+4")
	c := b.w.Canvas()
	c.Unfocus()
	driver := fyne.CurrentApp().Driver()
	work, _ := edges(b.d.Page().Object())
	card, _ := edges(rightOf[*look.CardView](t, b.d.Object()))
	const bar, foot = 64, 40 // heights at the top and at the bottom
	var parts []string
	seen := map[fyne.Focusable]bool{}
	for c.FocusNext(); !seen[c.Focused()]; c.FocusNext() {
		seen[c.Focused()] = true
		o := c.Focused().(fyne.CanvasObject)
		at, part := driver.AbsolutePositionForObject(o), "page"
		switch {
		case at.Y < bar:
			part = "top"
		case at.X < work:
			part = "rail"
		case at.Y > Size.Height-foot:
			part = "footer"
		case at.X >= card:
			part = "card"
		}
		parts = append(parts, part)
	}
	want := []string{"page", "card", "footer", "top", "rail"}
	if got := slices.Compact(slices.Clone(parts)); !slices.Equal(got, want) {
		t.Errorf("Tab goes through %v, want %v", got, want)
	}
	rail := 0
	for _, part := range parts {
		if part == "rail" {
			rail++
		}
	}
	if rail != len(railEntries()) {
		t.Errorf("%d of %d screens on the rail are reached", rail, len(railEntries()))
	}
}

// A key of the rail works with the focus on it, as a tap does.
func TestRailByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+4")
	c := b.w.Canvas()
	c.Unfocus()
	c.FocusPrevious() // the last screen of the rail
	b.press("Enter")
	if got := b.d.Route().Screen; got != routes.Alerts {
		t.Errorf("Enter on the last screen of the rail leads to %q", got)
	}
}
