package look

import (
	"slices"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/table"
)

// What a focused widget has no use for goes on to the window.
func TestWidgetsPassKeysOn(t *testing.T) {
	start(t, Theme{})
	for _, row := range []struct {
		name string
		make func() fyne.CanvasObject
	}{
		{"button", func() fyne.CanvasObject { return NewKeyButton("Stow", "S", nil) }},
		{"choices", func() fyne.CanvasObject { return NewChoices(0, "one", "two") }},
		{"cabinet", func() fyne.CanvasObject { return NewCabinetView(drawing.Blank("A", 1, 2)) }},
		{"list", func() fyne.CanvasObject { l := NewRowList(nameColumn()); l.SetSource(2, blankRow); return l }},
	} {
		t.Run(row.name, func(t *testing.T) {
			o := row.make()
			c := window(t, o, 400, 200)
			var got []string
			c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
			c.SetOnTypedRune(func(r rune) { got = append(got, string(r)) })
			c.Focus(o.(fyne.Focusable))
			c.Focused().TypedRune('a')
			press(c, fyne.KeyF9, fyne.KeyEscape)
			if want := []string{"a", "F9", "Escape"}; !slices.Equal(got, want) {
				t.Errorf("passed on %q, want %q", got, want)
			}
		})
	}
}

// gate is a window that keeps all that is typed, and whose clock stands still.
type gate struct {
	kept    []Typed
	offered int
	now     time.Time
	rests   bool // nothing would be kept
}

func (g *gate) Took(t Typed) bool      { g.kept = append(g.kept, t); return true }
func (g *gate) Waits() bool            { return !g.rests }
func (g *gate) Shortcut(fyne.Shortcut) {}
func (g *gate) Asked(do func())        { do() }
func (g *gate) Offer()                 { g.offered++ }
func (g *gate) Now() time.Time         { return g.now }

// Every widget that can have the focus asks the window before it uses or passes on what is
// typed: what the window keeps does nothing.
func TestWidgetsAskTheGate(t *testing.T) {
	start(t, Theme{})
	did := 0
	do := func() { did++ }
	list := NewRowList(nameColumn())
	list.SetSource(2, blankRow)
	list.Mark(0)
	list.OnChosen = func(int, table.Row) { do() }
	cabinet := NewCabinetView(drawing.Blank("A", 2, 2))
	cabinet.OnChosen = func(int, drawing.Drawer) { do() }
	entry := NewEntry("")
	entry.OnChanged = func(string) { do() }
	entry.OnSubmitted = func(string) { do() }
	choices := NewChoices(0, "one", "two")
	choices.OnChosen = func(int) { do() }
	for _, row := range []struct {
		name string
		o    fyne.CanvasObject
	}{
		{"button", NewKeyButton("Stow", "S", do)},
		{"pill", NewPill("Builder", "F9", notice.Quiet, do)},
		{"choices", choices},
		{"cabinet", cabinet},
		{"list", list},
		{"field", entry},
		{"command bar", NewCommandEntry(nil)},
	} {
		t.Run(row.name, func(t *testing.T) {
			did = 0
			g := &gate{}
			c := window(t, NewGated(row.o, g), 400, 200)
			c.SetOnTypedRune(func(rune) { do() })
			c.SetOnTypedKey(func(*fyne.KeyEvent) { do() })
			c.Focus(row.o.(fyne.Focusable))
			did = 0 // a cabinet chooses its first drawer
			c.Focused().TypedRune('a')
			c.Focused().TypedRune(' ')
			press(c, fyne.KeyDown, fyne.KeyRight, fyne.KeyReturn, fyne.KeyTab)
			if did != 0 || len(g.kept) != 6 {
				t.Errorf("%d times something was done, and %d of 6 things were kept", did, len(g.kept))
			}
			tab := c.Focused().(fyne.Tabbable)
			waits := tab.AcceptsTab()
			if g.rests = true; !waits || tab.AcceptsTab() {
				t.Errorf("Tab is kept from the toolkit: %v while the window keeps what is typed, %v else", waits, tab.AcceptsTab())
			}
		})
	}
}

// Where nothing has the focus, Tab that waits moves nothing: not on the page, and not within a
// question over it. At rest it goes from widget to widget.
func TestKeepTab(t *testing.T) {
	start(t, Theme{})
	for _, over := range []bool{false, true} {
		g, first, second := &gate{}, NewKeyButton("Stow", "S", nil), NewKeyButton("Leave", "L", nil)
		third := NewKeyButton("Look", "O", nil)
		page, question := Line(first, second, third), Line()
		if over {
			page, question = question, page
		}
		c := window(t, NewGated(page, g), 400, 200)
		if over {
			NewDialog("Stow it?", question).Open(c, nil)
		}
		KeepTab(c)
		press(c, fyne.KeyTab)
		if len(g.kept) != 1 || g.kept[0].Key.Name != fyne.KeyTab || c.Focused() != nil {
			t.Errorf("over the page %v: kept %v, and the focus is on %v", over, g.kept, c.Focused())
		}
		for _, want := range []*KeyButton{first, second, third, first} {
			if c.FocusNext(); c.Focused() != fyne.Focusable(want) {
				t.Errorf("over the page %v: Tab leads to %v, want %q", over, c.Focused(), want.label)
			}
		}
		if size := c.Content().(*Gated).keeper.Size(); !size.IsZero() { // a click would be taken by what can have the focus
			t.Errorf("over the page %v: what keeps Tab covers %v of the window", over, size)
		}
		if Onward(c, BackTab); c.Focused() != fyne.Focusable(third) {
			t.Errorf("over the page %v: Tab with Shift leads to %v", over, c.Focused())
		}
	}
}

// Of the keys with a modifier a field keeps those that edit; all others are the window's.
func TestEditingKeys(t *testing.T) {
	for key, want := range map[fyne.KeyName]bool{
		fyne.KeyLeft: true, fyne.KeyRight: true, fyne.KeyBackspace: true, fyne.KeyDelete: true,
		fyne.KeyK: false, fyne.KeyUp: false, fyne.KeyReturn: false, fyne.KeyF9: false,
	} {
		if got := editing(key); got != want {
			t.Errorf("%q: %v, want %v", key, got, want)
		}
	}
}

// A note is of several lines: Enter and the arrows stay in it.
func TestNote(t *testing.T) {
	start(t, Theme{})
	n := NewNote("what is wrong", 3)
	if one := NewEntry(""); n.MinSize().Height <= one.MinSize().Height || one.MinSize().Height < buttonHeight {
		t.Errorf("three lines %v high, one %v; want more, and no less than a button", n.MinSize().Height, one.MinSize().Height)
	}
	c := window(t, n, 300, 200)
	var got []string
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
	n.OnDown = func() { got = append(got, "down") }
	c.Focus(n)
	test.Type(n, "a")
	press(c, fyne.KeyReturn, fyne.KeyUp, fyne.KeyDown)
	test.Type(n, "b")
	if n.Text != "a\nb" || len(got) > 0 {
		t.Errorf("text %q, passed on %q; want two lines and nothing", n.Text, got)
	}
	press(c, fyne.KeyF2)
	if !slices.Equal(got, []string{"F2"}) {
		t.Errorf("F2: passed on %q", got)
	}
}

// Function keys are F1 to F12 and no other key that begins with F.
func TestFunctionKeys(t *testing.T) {
	for key, want := range map[fyne.KeyName]bool{fyne.KeyF1: true, fyne.KeyF9: true, fyne.KeyF12: true, fyne.KeyF: false, "F0": false, "FF": false, "Free": false, "1": false, "": false} {
		if got := functionKey(key); got != want {
			t.Errorf("%q: %v, want %v", key, got, want)
		}
	}
}

// Esc is for the field first where it has a use for it.
func TestEscapeOfAnEntry(t *testing.T) {
	start(t, Theme{})
	for _, taken := range []bool{true, false} {
		e := NewEntry("")
		c := window(t, e, 300, 50)
		var got []fyne.KeyName
		c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, k.Name) })
		asked := 0
		e.OnEscape = func() bool { asked++; return taken }
		c.Focus(e)
		press(c, fyne.KeyEscape)
		if asked != 1 || (c.Focused() != nil) != taken || len(got) == 1 == taken {
			t.Errorf("taken %v: asked %d times, focus %v, passed on %q", taken, asked, c.Focused(), got)
		}
	}
}

// The bar says in short what it takes where there is little room, and its hint opens
// the camera.
func TestCommandHint(t *testing.T) {
	start(t, Theme{})
	opened := 0
	e := NewCommandEntry(func() { opened++ })
	for width, words := range map[float32]bool{narrowBar - 1: false, narrowBar: true} {
		e.Resize(fyne.NewSize(width, 46))
		if got := written(e.hint, "camera") != nil; got != words {
			t.Errorf("%v wide: words %v, want %v", width, got, words)
		}
		if written(e.hint, "F2") == nil {
			t.Errorf("%v wide: the key is not shown", width)
		}
	}
	test.Tap(e.hint)
	NewCommandEntry(nil).hint.Tapped(nil)
	if opened != 1 {
		t.Errorf("tapped: opened %d times", opened)
	}
}
