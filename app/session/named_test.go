package session_test

import (
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

func TestPlaceNamed(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	garage, err := b.PlaceNamed("Garage")
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := b.Shop.AddPlace(store.Place{Parent: garage.ID, Kind: store.Bin, Name: "A-12"}); err != nil {
		t.Fatal(err)
	}
	drawer, err := b.PlaceNamed("cabinet a, A-12")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, text, want, problem string }{
		{"tag", string(drawer.Tag), "Garage, Cabinet A, A-12", ""},
		{"tag as it is printed", strings.ToLower(drawer.Tag.Spaced()), "Garage, Cabinet A, A-12", ""},
		{"name in any case", " a-13 ", "Garage, Cabinet A, A-13", ""},
		{"one between left out", "Garage, A-13", "Garage, Cabinet A, A-13", ""},
		{"two of a name", "A-12", "", `2 places are called "A-12": say which, as in "Garage, A-12".`},
		{"around it is another", "Hangar, A-13", "", "No place of this shop is called"},
		{"nothing", "", "", "No place of this shop is called"},
	} {
		t.Run(c.name, func(t *testing.T) {
			place, err := b.PlaceNamed(c.text)
			if c.problem != "" {
				if err == nil || !strings.Contains(err.Error(), c.problem) {
					t.Fatalf("%q: got %v, %v, want a problem with %q", c.text, place.Name, err, c.problem)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			path, err := b.Shop.Path(place.ID)
			if got := store.PathText(path); err != nil || got != c.want {
				t.Errorf("%q: got %q, %v, want %q", c.text, got, err, c.want)
			}
		})
	}
}

func TestHeapNamed(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	there, err := b.PlaceNamed("A-13")
	if err != nil {
		t.Fatal(err)
	}
	first, err := b.HeapNamed("an3-5 a", session.Which{})
	if err != nil {
		t.Fatal(err)
	}
	some := store.Transfer{StockKey: first.StockKey, To: there.ID, Quantity: measure.Pieces(8)}
	if _, err := b.Shop.Move(some); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, item string
		which      session.Which
		want       string
		problem    string
	}{
		{"several", "AN3-5A", session.Which{}, "", "AN3-5A is in 2 heaps: say which, by place or lot; the first is 20 ea in Garage, Cabinet A, A-12."},
		{"by place", "AN3-5A", session.Which{From: "a-13"}, "8 ea", ""},
		{"lot in any case", "MS21042-3", session.Which{Lot: "q7714"}, "20 ea", ""},
		{"another lot", "MS21042-3", session.Which{Lot: "Q7741"}, "", "There is no MS21042-3 there"},
		{"not in bags", "MS21042-3", session.Which{InBags: true}, "", "There is no MS21042-3 there"},
		{"damaged", "OQ-90-005", session.Which{Damaged: true}, "1 ea", ""},
		{"unknown item", "AN3-8", session.Which{}, "", "AN3-8"},
		{"unknown place", "AN3-5A", session.Which{From: "Attic"}, "", `"Attic"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			heap, err := b.HeapNamed(c.item, c.which)
			if c.problem != "" {
				if err == nil || !strings.Contains(err.Error(), c.problem) {
					t.Fatalf("got %v, %v, want a problem with %q", heap.Amount, err, c.problem)
				}
				return
			}
			if err != nil || heap.Amount.String() != c.want {
				t.Errorf("got %v, %v, want %s", heap.Amount, err, c.want)
			}
		})
	}
}
