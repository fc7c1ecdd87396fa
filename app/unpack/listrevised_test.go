package unpack

import (
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/store"
)

// revise brings the demo's list in once more, as its supplier would have corrected it.
func (b *bench) revise(change func([]store.NewLine) []store.NewLine) {
	b.t.Helper()
	ships, err := b.s.Shop.Shipments()
	if err != nil {
		b.t.Fatal(err)
	}
	lines, err := b.s.Shop.Lines(ships[0].ID)
	if err != nil {
		b.t.Fatal(err)
	}
	list := store.NewShipment{Order: ships[0].Order, File: "second.csv", Fingerprint: "second", Revises: ships[0].ID}
	for _, l := range lines {
		list.Lines = append(list.Lines, store.NewLine{
			Number: l.Number(), Crate: l.Crate, Group: l.Group, Designation: l.Designation, Title: l.Title, Listed: l.Listed, Status: l.Status, Lot: l.Lot, Price: l.Price,
		})
	}
	list.Lines = change(list.Lines)
	if _, _, err := b.s.Shop.Import(list); err != nil {
		b.t.Fatal(err)
	}
	b.queue.Drain()
}

// A line that a revised list does not have any more is neither to check nor to claim, and
// is no part of what a whole bag holds; what came of it all the same is entered as ever.
func TestALineOffTheList(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(38)
	before := b.m.State().Progress.Words
	b.revise(func(lines []store.NewLine) []store.NewLine {
		return slices.DeleteFunc(lines, func(l store.NewLine) bool { return l.Number == 38 })
	})
	b.to(38)
	s := b.m.State()
	if b.word(38) != "off the list" || s.Current.Listed != "on no list" || !strings.Contains(s.Current.Hint, "does not have it any more") {
		t.Errorf("line 38 is %q, %q: %s", b.word(38), s.Current.Listed, s.Current.Hint)
	}
	if last := s.Side.Tallies[len(s.Side.Tallies)-1]; last.Words != "off the list" || last.Figure != "1" {
		t.Errorf("the totals end with %+v", last)
	}
	if before != "0 of 55 lines" || s.Progress.Words != "0 of 54 lines" {
		t.Errorf("the lines due were %q and are %q", before, s.Progress.Words)
	}
	b.to(39)
	b.keys("B")
	if p := b.m.State().Prompt; p == nil || strings.Contains(p.Hint, "AN3-4A") || b.option() != "All 5 lines are here" {
		t.Fatalf("the whole bag: %+v", p)
	}
	b.keys("Enter")
	if got := b.word(38); got != "off the list" {
		t.Errorf("booked with its bag: %q", got)
	}
	b.to(38)
	b.keys("7", "Enter")
	if got := b.word(38); got != "not on the list" {
		t.Errorf("7 came all the same: %q", got)
	}
	if claims := b.m.data.line(38).Claims(); len(claims) != 1 || claims[0].Words != "7 came that the list does not have" {
		t.Errorf("the claim says %+v", claims)
	}
}
