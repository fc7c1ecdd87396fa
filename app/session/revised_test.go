package session

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// TestARevisedListIsCompared has each kind of change once; hands are not revisions.
func TestARevisedListIsCompared(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	line := func(number int, designation, title string, n int64) store.NewLine {
		return store.NewLine{Number: number, Crate: "C1", Designation: designation, Title: title, Listed: measure.Pieces(n)}
	}
	first := store.NewShipment{Order: "OK-20731", File: "list.csv", Fingerprint: strings.Repeat("a", 64), Lines: []store.NewLine{
		line(1, "OQ-1", "Rib", 2), line(2, "OQ-20-040-A", "Horn", 1), line(3, "OQ-31-L", "Hinge left", 3), line(4, "OQ-4", "Spar", 1), line(5, "OQ-5", "Skin", 1), line(6, "OQ-6", "Cap", 4),
	}}
	if _, _, err := shop.Import(first); err != nil {
		t.Fatal(err)
	}
	second := first
	second.Order, second.Fingerprint = "ok-20731", strings.Repeat("b", 64)
	second.Lines = []store.NewLine{
		line(1, "OQ-1", "Rib", 3), line(2, "OQ-20-040-B", "Horn", 1), line(3, "OQ-31-R", "Hinge right", 3), line(4, "OQ-44", "Spar", 1), line(5, "OQ-5", "Skin", 1), line(7, "OQ-7", "Tie", 2),
	}
	r, found, err := FindRevised(shop, second)
	if err != nil || !found || r.Of.File != "list.csv" {
		t.Fatalf("got %+v, %v, %v; want the first list", r, found, err)
	}
	want := "OQ-1: 3 ea, was 2 ea; OQ-20-040-B: 1 ea, was OQ-20-040-A, 1 ea; OQ-31-R: added, 3 ea; OQ-44: 1 ea, was OQ-4, 1 ea; OQ-7: added, 2 ea; " +
		"OQ-31-L: not on this list, was 3 ea; OQ-6: not on this list, was 4 ea"
	var got []string
	for _, c := range r.Changes {
		got = append(got, fmt.Sprint(c))
	}
	if strings.Join(got, "; ") != want {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "; "), want)
	}
	for name, ship := range map[string]store.NewShipment{
		"the very list":   first,
		"no order number": {Fingerprint: "c", Lines: second.Lines},
		"another order":   {Order: "OK-1", Fingerprint: "c", Lines: second.Lines},
	} {
		if r, found, err := FindRevised(shop, ship); err != nil || found {
			t.Errorf("%s: got %+v, %v; want none", name, r, err)
		}
	}
}
