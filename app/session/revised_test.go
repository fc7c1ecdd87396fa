package session_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// lineOf is a line of crate C1 as a list has it.
func lineOf(number int, part string, n int64) store.NewLine {
	return store.NewLine{Number: number, Crate: "C1", Designation: part, Title: part, Listed: measure.Pieces(n), Status: store.Shipped}
}

func listOf(order, fingerprint string, lines ...store.NewLine) store.NewShipment {
	return store.NewShipment{Order: order, File: fingerprint + ".csv", Fingerprint: fingerprint, Lines: lines}
}

// Which list another one is compared with: one of its order, of several the one with the
// most numbers in common.
func TestFindRevised(t *testing.T) {
	b := sessiontest.Empty(t)
	for _, list := range []store.NewShipment{
		listOf("OK-1", "first", lineOf(1, "OQ-1", 2), lineOf(2, "OQ-2", 1)), listOf("OK-1", "second", lineOf(1, "OQ-7", 2)), listOf("OK-2", "third", lineOf(1, "OQ-1", 2)),
	} {
		if _, _, err := b.Shop.Import(list); err != nil {
			t.Fatal(err)
		}
	}
	for _, row := range []struct {
		name string
		list store.NewShipment
		file string // empty: none
		says string
	}{
		{"most in common", listOf("ok-1", "new", lineOf(1, "OQ-1", 3), lineOf(2, "OQ-7", 2), lineOf(3, "OQ-2", 1)), "first.csv", "OQ-1: 3 ea, was 2 ea; OQ-7: added, 2 ea; line 3 was 2: OQ-2"},
		{"nothing in common: the newest", listOf("OK-1", "new", lineOf(1, "OQ-9", 3)), "second.csv", "OQ-9: added, 3 ea; OQ-7: not on this list, was 2 ea; it is line 2 now, and was 1"},
		{"only the numbers of lines", listOf("OK-2", "new", lineOf(7, "OQ-1", 2)), "third.csv", "line 7 was 1: OQ-1"},
		{"the very list", listOf("OK-1", "first", lineOf(1, "OQ-1", 2)), "", ""},
		{"no order number", listOf("", "new", lineOf(1, "OQ-1", 2)), "", ""},
		{"another order", listOf("OK-3", "new", lineOf(1, "OQ-1", 2)), "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			r, found, err := b.FindRevised(row.list)
			if err != nil || found != (row.file != "") || r.Of.File != row.file {
				t.Fatalf("got %q, %v, %v; want %q", r.Of.File, found, err, row.file)
			}
			if found {
				if got := strings.Join(r.Changed(9), "; "); got != row.says {
					t.Errorf("got %s\nwant %s", got, row.says)
				}
			}
		})
	}
}

// What the demo shop loses and gains by a revised list: a claim that was sent, and what
// sub-assemblies wait for. The shop is read in one transaction.
func TestWhatARevisedListChanges(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacking)
	ships, err := b.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	ship := ships[0]
	if _, err := b.Shop.ClaimSent(ship.ID, b.Shop.Today(), "by mail"); err != nil {
		t.Fatal(err)
	}
	lines, err := b.Shop.Lines(ship.ID)
	if err != nil {
		t.Fatal(err)
	}
	list := listOf(ship.Order, "new")
	for _, l := range lines {
		n := store.NewLine{Number: l.Number(), Crate: l.Crate, Group: l.Group, Designation: l.Designation, Title: l.Title, Listed: l.Listed, Status: l.Status, Lot: l.Lot}
		switch n.Designation {
		case "OQ-10-031-R":
			n.Listed = measure.Pieces(2) // as many as came
		case "OQ-30-033":
			continue // needed for SA-30, back-ordered
		case "SEAL-B2":
			n.Listed.Micro *= 2
		}
		list.Lines = append(list.Lines, n)
	}
	var r session.Revised
	b.OneReading("comparing", func() {
		var found bool
		if r, found, err = b.FindRevised(list); err != nil || !found {
			t.Fatalf("found %v, %v", found, err)
		}
	})
	want := []string{
		"The claim loses: line 7, short: listed 3, found 2: 1 short.",
		"Sent already, tell the supplier that it is withdrawn: line 7, short: listed 3, found 2: 1 short.",
	}
	if diff := cmp.Diff(want, r.Claim(4)); diff != "" {
		t.Errorf("the claim:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"OQ-30-033: 2 ea less to come; 2 ea needed for SA-30", "SEAL-B2: 2 qt more to come; 2 qt needed for SA-50"}, r.Needs); diff != "" {
		t.Errorf("the needs:\n%s", diff)
	}
	list.Revises = ship.ID
	if _, _, err := b.Shop.Import(list); err != nil {
		t.Fatal(err)
	}
	if after, err := b.Shop.Lines(ship.ID); err != nil || cmp.Diff(r.After, after) != "" {
		t.Errorf("what was said is not what came of it, %v:\n%s", err, cmp.Diff(r.After, after))
	}
}
