package unpack

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"stowright/app/demo"
	"stowright/store"
)

// Another hand counts a line that was checked, by keys alone, and sees no figure. Where it
// does not agree a third count settles what was found, and what is claimed with it.
func TestRecountByKeys(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	m := k.check().model
	line := func() store.Line {
		t.Helper()
		l, err := k.s.Shop.Line(ships[0].ID, 50)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	show := func() Current {
		k.settle()
		m.ChooseBag(0)
		k.settle()
		m.ChooseLine(49)
		k.settle()
		return m.State().Current
	}
	if show().offers("F10") {
		t.Error("a line that nobody counted is offered for a second count")
	}
	m.Key("A")
	if c := show(); !c.offers("F10") {
		t.Fatalf("150 of line 50 are here, and the second count is not offered: %+v", c)
	}
	count := func(hand, number string) {
		k.text(hand)
		k.press(fyne.KeyReturn)
		k.text(number)
		k.press(fyne.KeyReturn)
		k.settle()
	}
	k.press(fyne.KeyF10)
	k.settle()
	count("Youngster", "148")
	if l := line(); l.Finding.Found.Number() != "150" || l.State(true) != store.AllHere {
		t.Errorf("one that differs changed the line: %+v", l.Finding)
	}
	count("Partner", "148")
	if l := line(); l.Finding.Found.Number() != "148" || l.Describe(true) != "2 short" {
		t.Errorf("two hands agree on 148, and the line is %+v, %s", l.Finding, l.Describe(true))
	}
	entries, err := k.s.Shop.Entries(0, 2)
	if err != nil {
		t.Fatal(err)
	}
	if text := entries[0].Text; !strings.Contains(text, "150 by Builder") || !strings.Contains(text, "148 by Youngster") || !strings.Contains(text, "148 by Partner") {
		t.Errorf("the entry names %q", text)
	}
	if text := entries[1].Text; strings.Contains(text, "150") || strings.Contains(text, "148") {
		t.Errorf("the entry before has a figure: %q", text)
	}
}
