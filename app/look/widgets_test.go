package look

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
)

func TestKeyButton(t *testing.T) {
	start(t, Theme{})
	pressed := 0
	b := NewPrimary("Take out", "T", func() { pressed++ })
	test.Tap(b)
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	b.TypedRune(' ')
	if pressed != 3 {
		t.Errorf("tap, Enter, space: pressed %d times, want 3", pressed)
	}
	b.SetOff(true)
	test.Tap(b)
	b.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if pressed != 3 {
		t.Errorf("off: pressed %d times, want 3 still", pressed)
	}
}

// A key presses the button that shows it, however deep it lies, but not one that
// is hidden or cannot be used.
func TestPressKey(t *testing.T) {
	start(t, Theme{})
	var got []string
	button := func(label, key string) *KeyButton {
		return NewKeyButton(label, key, func() { got = append(got, label) })
	}
	hidden, off := button("hidden", "A"), button("off", "A")
	hidden.Hide()
	off.SetOff(true)
	page := Fill(8, NewScroller(Rows(4, hidden, off, NewPanel(8, Line(button("panel", "A"))))),
		NewEmptyState("title", "next", button("six", "F6")), Inset(4, 4, button("enter", "Enter")))
	for _, row := range []struct {
		key  string
		want bool
	}{{"A", true}, {"a", true}, {"F6", true}, {"Enter", true}, {"Z", false}, {"", false}} {
		if ok := PressKey(page, row.key); ok != row.want {
			t.Errorf("PressKey(%q): got %v, want %v", row.key, ok, row.want)
		}
	}
	if want := []string{"panel", "panel", "six", "enter"}; !slices.Equal(got, want) {
		t.Errorf("pressed: got %q, want %q", got, want)
	}
}

func TestCardActions(t *testing.T) {
	start(t, Theme{})
	var got []string
	c := card.Card{Designation: "AN3-5A", Actions: []card.Action{
		{ID: "take", Label: "Take out", Key: "T", Primary: true},
		{ID: "put", Label: "Put in", Key: "P", Off: true},
		{ID: "3", Key: "3"},
		{ID: "4", Key: "4"},
		{ID: "5", Key: "5"},
	}}
	v := NewCardView(c)
	v.OnAction = func(id string) { got = append(got, id) }
	for _, key := range []string{"t", "P", "4", "5"} {
		PressKey(v, key)
	}
	if want := []string{"take"}; !slices.Equal(got, want) {
		t.Errorf("actions: got %q, want %q (off, and those that have no button, do nothing)", got, want)
	}
	v.SetCard(card.Card{Designation: "AN3-6A"})
	if PressKey(v, "T") {
		t.Error("another card: the action of the old one is still there")
	}
}

func demoCabinet() drawing.Cabinet {
	c := drawing.Blank("A", 2, 3)
	c.Drawers[1].Lit = true
	return c
}

func TestCabinetPicture(t *testing.T) {
	start(t, Theme{Mode: Light})
	p := NewCabinetView(demoCabinet())
	var got []string
	p.OnChosen = func(_ int, d drawing.Drawer) { got = append(got, d.Name) }
	p.OnOpened = func(_ int, d drawing.Drawer) { got = append(got, "open "+d.Name) }
	c := window(t, p, 600, 200)
	test.TapCanvas(c, fyne.NewPos(500, 150))
	if c.Focused() != fyne.Focusable(p) {
		t.Fatal("tap: the cabinet has no focus")
	}
	press(c, fyne.KeyUp, fyne.KeyUp, fyne.KeyLeft, fyne.KeyRight, fyne.KeyDown, fyne.KeyReturn)
	if want := []string{"A-06", "A-03", "A-02", "A-03", "A-06", "open A-06"}; !slices.Equal(got, want) {
		t.Errorf("tap and arrows: got %q, want %q", got, want)
	}
	p.SetCabinet(drawing.Blank("B", 1, 1))
	press(c, fyne.KeyReturn, fyne.KeyDown) // the cursor was on a drawer that is gone
	test.TapCanvas(c, fyne.NewPos(1, 1))   // on the frame
	p.SetCabinet(drawing.Cabinet{})
	press(c, fyne.KeyDown)
}

// An empty drawer that is lit says so in the ink that can be read on its light.
func TestLitEmptyDrawer(t *testing.T) {
	start(t, Theme{Mode: Dark})
	c := drawing.Blank("A", 1, 1)
	c.Drawers[0].Lit = true
	p := NewCabinetView(c)
	p.Resize(fyne.NewSize(200, 120))
	said := 0
	for _, text := range inked(p) {
		if text.Text == "" {
			continue
		}
		said++
		if text.Color != theme.Color(ColorLitInk) {
			t.Errorf("%q is written in %v, want %v", text.Text, text.Color, theme.Color(ColorLitInk))
		}
	}
	if said != 2 {
		t.Errorf("the drawer says %d words, want its name and that it is empty", said)
	}
}

// inked are the texts of a widget with their colours.
func inked(o fyne.CanvasObject) []*canvas.Text {
	switch c := o.(type) {
	case *canvas.Text:
		return []*canvas.Text{c}
	case *fyne.Container:
		var all []*canvas.Text
		for _, child := range c.Objects {
			all = append(all, inked(child)...)
		}
		return all
	case fyne.Widget:
		var all []*canvas.Text
		for _, child := range test.WidgetRenderer(c).Objects() {
			all = append(all, inked(child)...)
		}
		return all
	}
	return nil
}

func TestCommandEntry(t *testing.T) {
	start(t, Theme{Mode: Light})
	var got []string
	e := NewCommandEntry(nil)
	e.OnChanged = func(s string) { got = append(got, s) }
	e.OnSubmitted = func(s string) { got = append(got, "enter "+s) }
	e.OnDown = func() { got = append(got, "down") }
	c := window(t, e, 600, 60)
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { got = append(got, string(k.Name)) })
	c.Focus(e)
	test.Type(e, "an")
	press(c, fyne.KeyDown, fyne.KeyReturn, fyne.KeyF9, fyne.KeyEscape)
	if want := []string{"a", "an", "down", "enter an", "F9", ""}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	press(c, fyne.KeyEscape)
	if c.Focused() != nil || got[len(got)-1] != "Escape" {
		t.Errorf("Esc in an empty bar: focus %v, last %q; want none, and Esc passed on", c.Focused(), got[len(got)-1])
	}
}

func TestDialogKeys(t *testing.T) {
	start(t, Theme{Mode: Light})
	c := window(t, NewGround(), 800, 600)
	var got []string
	say := func(s string) func() { return func() { got = append(got, s) } }
	entry := NewEntry("")
	d := NewDialog("Count", entry, NewKeyButton("Cancel", "Esc", say("cancel")), NewPrimary("Count", "Enter", say("count")))
	d.OnClosed = say("closed")
	d.Open(c, entry)
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { d.Key(KeyName(k.Name)) })
	press(c, fyne.KeyReturn)
	d.Key("Esc")
	d.Close()
	d.Close()
	if want := []string{"count", "cancel", "closed"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
	plain := NewDialog("Told", NewText("done"))
	plain.Open(c, nil)
	plain.Key("Esc")
	if c.Overlays().Top() != nil {
		t.Error("Esc: the dialog is still open")
	}
}

func TestChoices(t *testing.T) {
	start(t, Theme{Mode: Light})
	var got []int
	ch := NewChoices(-1, "Builder", "Partner", "Youngster")
	ch.OnChosen = func(i int) { got = append(got, i) }
	c := window(t, ch, 500, 40)
	test.TapCanvas(c, fyne.NewPos(20, 20))
	press(c, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyLeft)
	if want := []int{0, 1, 2, 1}; !slices.Equal(got, want) || ch.Chosen() != 1 {
		t.Errorf("got %v chosen %d, want %v and 1", got, ch.Chosen(), want)
	}
}

func TestFieldProblem(t *testing.T) {
	start(t, Theme{})
	f := NewField("Pieces", NewEntry(""), "whole pieces")
	f.SetProblem("type a whole number")
	if f.help.text != "type a whole number" || f.help.color != ColorStop {
		t.Errorf("problem: got %q in %q", f.help.text, f.help.color)
	}
	f.SetProblem("")
	if f.help.text != "whole pieces" || f.help.color != ColorQuiet {
		t.Errorf("no problem: got %q in %q, want the hint", f.help.text, f.help.color)
	}
}

func TestPillsAndMarksHide(t *testing.T) {
	start(t, Theme{})
	p := NewPill("Damage claim: 1 day left", "", notice.Warn, nil)
	if p.Set("", notice.Quiet); p.Visible() {
		t.Error("an empty pill is seen")
	}
	if p.Set("2 days left", notice.Warn); !p.Visible() || p.Text() != "2 days left" {
		t.Errorf("pill: got %q seen %v", p.Text(), p.Visible())
	}
	if size := NewStateMark(notice.Mark{}).MinSize(); !size.IsZero() {
		t.Errorf("a mark without a word: got %v, want no size", size)
	}
}
