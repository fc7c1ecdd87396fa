package session_test

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// Where something is to go: with its own kind, else hardware into an empty drawer
// away from what looks like it, and parts to where parts of their group lie.
func TestSuggestPlace(t *testing.T) {
	s := open(t, demo.Unpacked)
	for _, row := range []struct {
		name, item, group string
		place, why        string
	}{
		{"more of what there is", "AN3-5A", "H103", "A-12", "28 ea of them are there already"},
		{"parts of a group", "OQ-10-099", "SK10", "S1", "other parts of SK10 are there"},
		{"parts of no group", "OQ-99-001", "", "", "the first shelf of the shop"},
		{"hardware of which there is none", "AN310-6", "H104", "", "empty, and"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, found, err := s.SuggestPlace(row.item, row.group)
			if err != nil || !found {
				t.Fatalf("SuggestPlace(%q, %q): found %v, %v", row.item, row.group, found, err)
			}
			if (row.place != "" && got.Place.Name != row.place) || !strings.HasPrefix(got.Why, row.why) {
				t.Errorf("SuggestPlace(%q, %q): %s, %q; want %s, %q", row.item, row.group, got.Place.Name, got.Why, row.place, row.why)
			}
			if last := got.Path[len(got.Path)-1]; last.ID != got.Place.ID {
				t.Errorf("the path leads to %s, not to %s", last.Name, got.Place.Name)
			}
		})
	}
}

// In a small cabinet the drawer farthest from the look-alike is taken, and where
// none is far the reason says so. A shop without places has none to suggest.
func TestSuggestPlaceInASmallCabinet(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	s, err := session.Open(t.Context(), shop, session.Inline(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, found, err := s.SuggestPlace("AN3-6A", "H103"); found || err != nil {
		t.Errorf("in a shop without places: found %v, %v", found, err)
	}
	cabinet, _, err := shop.AddCabinet(store.CabinetSpec{Name: "Cabinet A", Prefix: "A", Rows: 1, Columns: 4})
	if err != nil {
		t.Fatal(err)
	}
	drawers, err := shop.Children(cabinet.ID)
	if err != nil {
		t.Fatal(err)
	}
	put := func(item string, drawer int) {
		t.Helper()
		if _, err := shop.Count(store.StockKey{Item: item, Place: drawers[drawer].ID}, measure.Pieces(5)); err != nil {
			t.Fatal(err)
		}
	}
	put("AN3-5A", 0)
	suggest := func(place, why string) {
		t.Helper()
		got, found, err := s.SuggestPlace("AN3-6A", "")
		if err != nil || !found || got.Place.Name != place || got.Why != why {
			t.Errorf("SuggestPlace: %s, %q, %v, %v; want %s, %q", got.Place.Name, got.Why, found, err, place, why)
		}
	}
	suggest("A-03", "empty, and not beside AN3-5A, which looks the same")
	put("MS24665-132", 2)
	put("AN310-3", 3)
	suggest("A-02", "empty, but beside AN3-5A, which looks the same: no better drawer is free")
	put("AN365-1032A", 1)
	if got, found, err := s.SuggestPlace("AN3-6A", ""); found || err != nil {
		t.Errorf("in a full cabinet: %s, %v, %v", got.Place.Name, found, err)
	}
}
