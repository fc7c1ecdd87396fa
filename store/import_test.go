package store_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// Whatever is wrong with a list, nothing of it is brought in.
func TestImportRefusals(t *testing.T) {
	t.Parallel()
	line := func(change func(l *store.NewLine)) []store.NewLine {
		l := smallList().Lines[:2:2]
		change(&l[1])
		return l
	}
	for _, row := range []struct {
		name     string
		lines    []store.NewLine
		sentence string
	}{
		{"no lines", nil, "list.csv has 0 lines, and a packing list has 1 to 100000: see that it is the right file."},
		{"a number twice", line(func(l *store.NewLine) { l.Number = 1 }), "Line number 1 of list.csv is not a number from 1 to 900000 that occurs once: correct the list."},
		{"number 0", line(func(l *store.NewLine) { l.Number = 0 }), "Line number 0 of list.csv is not a number from 1 to 900000 that occurs once: correct the list."},
		{"a number too large", line(func(l *store.NewLine) { l.Number = 900_001 }), "Line number 900001 of list.csv is not a number from 1 to 900000 that occurs once: correct the list."},
		{"no part number", line(func(l *store.NewLine) { l.Designation = " " }), "The part number of line 2 is empty: type it."},
		{"no crate", line(func(l *store.NewLine) { l.Crate = "" }), "The crate of line 2 is empty: type it."},
		{"a control character in the lot", line(func(l *store.NewLine) { l.Lot = "Q\x00X" }), "The lot of line 2 contains a control character: type it again."},
		{"bytes for a part number", line(func(l *store.NewLine) { l.Designation = "AN\xff" }), "The part number of line 2 contains bytes that are not text: type it again."},
		{"a description without end", line(func(l *store.NewLine) { l.Title = strings.Repeat("x", 1001) }), "The description of line 2 is longer than 1000 characters: shorten it."},
		{"less than nothing", line(func(l *store.NewLine) { l.Listed = measure.Pieces(-1) }), "Line 2 lists less than zero of AN3-6A: correct the list."},
		{"more than can be kept", line(func(l *store.NewLine) { l.Listed.Micro = 1 << 62 }), "Line 2 lists more of AN3-6A than can be kept: correct the list."},
		{"two units for one number", line(func(l *store.NewLine) {
			l.Designation, l.Listed = "AN3-5A", measure.Of(1, measure.Pound)
		}), "AN3-5A is kept by ea here, and this says lb: nothing is converted, so give it in ea."},
		{"no unit", line(func(l *store.NewLine) { l.Listed.Unit = "" }), "AN3-6A has no unit: say whether it is counted in ea, ft, lb or the like."},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop := storetest.Open(t, store.Options{})
			_, fresh, err := shop.Import(store.NewShipment{File: "list.csv", Fingerprint: "f", Lines: row.lines})
			wantRefusal(t, err, store.Invalid, row.sentence, store.Conflict)
			ships, _ := shop.Shipments()
			places, _ := shop.Places()
			items, _ := shop.Items()
			entries, _ := shop.Entries(0, 1)
			if fresh || len(ships)+len(places)+len(items)+len(entries) != 0 {
				t.Errorf("something was brought in: %v %d shipments, %d places, %d items, %d entries", fresh, len(ships), len(places), len(items), len(entries))
			}
		})
	}
}

func TestImportMakesPlacesAndItems(t *testing.T) {
	w := newWorld(t)
	ship, err := w.Shipment(w.ship)
	w.must(err)
	var got []string
	for _, c := range ship.Crates {
		bags, err := w.Children(c.Place)
		w.must(err)
		text := c.Name + ":"
		for _, b := range bags {
			text += " " + b.Name
			if b.Kind != store.Bag || b.Tag.Kind() != store.TagBag {
				t.Errorf("bag %+v", b)
			}
		}
		got = append(got, text)
	}
	if d := cmp.Diff([]string{"C1: H101 H103 H104 SK20 SK30", "C3: SK50"}, got); d != "" {
		t.Errorf("crates and bags (-want +got):\n%s", d)
	}
	item, err := w.Item("AN426AD3-3.5")
	w.must(err)
	if d := cmp.Diff(store.Item{Designation: "AN426AD3-3.5", Title: "Flush rivet", Unit: measure.Pound}, item); d != "" {
		t.Errorf("item (-want +got):\n%s", d)
	}
}

// The same list is known again by what it says, whatever its file is called; two
// lists that say nothing of themselves are not the same.
func TestImportTwice(t *testing.T) {
	w := newWorld(t)
	seq := newestSeq(w)
	list := smallList()
	list.File = "copy of list.xlsx"
	ship, fresh, err := w.Import(list)
	w.must(err)
	if fresh || ship.ID != w.ship || newestSeq(w) != seq {
		t.Errorf("the same list: fresh %v, shipment %s, entry %d", fresh, ship.ID, newestSeq(w))
	}
	for range 2 {
		list.Fingerprint = ""
		if _, fresh, err := w.Import(list); err != nil || !fresh {
			t.Errorf("a list without a fingerprint: fresh %v, %v", fresh, err)
		}
	}
}

// Two who bring the same list in at the same time get one shipment.
func TestImportAtOnce(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	const n = 8
	fresh := make([]bool, n)
	ids := make([]string, n)
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() {
			ship, f, err := shop.Import(smallList())
			if err != nil {
				t.Error(err)
			}
			fresh[i], ids[i] = f, ship.ID
		})
	}
	all.Wait()
	made := 0
	for i := range n {
		if fresh[i] {
			made++
		}
		if ids[i] != ids[0] {
			t.Errorf("shipments %v", ids)
		}
	}
	if made != 1 {
		t.Errorf("%d of %d made a shipment, want 1", made, n)
	}
}

// A crate of C3 comes later with claim days of its own; undo corrects a wrong day.
func TestArriveAndUndo(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.Arrive(w.ship, arrival("C3", 5, 30))))
	w.must(second(w.Undo()))
	d := arrival("C3", 7, 0)
	d.ShortageDays = nil
	e, err := w.Arrive(w.ship, d)
	w.must(err)
	if want := "C3 arrived on 2 April 2026"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	clocks, err := w.Clocks()
	w.must(err)
	var got []string
	for _, c := range clocks {
		got = append(got, fmt.Sprintf("%v %s %s", c.Crates, c.Due, c))
	}
	// C1 came without days on its papers, so nothing is assumed for it.
	if d := cmp.Diff([]string{"[C3] 9 April 2026 Damage claim: 26 days left"}, got); d != "" {
		t.Errorf("clocks (-want +got):\n%s", d)
	}
}

func TestClockWords(t *testing.T) {
	for _, row := range []struct {
		about store.ClaimFor
		left  int
		want  string
	}{
		{store.ForDamage, 5, "Damage claim: 5 days left"},
		{store.ForDamage, 1, "Damage claim: 1 day left"},
		{store.ForShortage, 0, "Shortages: last day today"},
		{store.ForShortage, -1, "Shortages: 1 day past"},
		{store.ForDamage, -2, "Damage claim: 2 days past"},
	} {
		if got := (store.Clock{For: row.about, DaysLeft: row.left}).String(); got != row.want {
			t.Errorf("%s, %d days: %q, want %q", row.about, row.left, got, row.want)
		}
	}
}
