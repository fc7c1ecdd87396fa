package store

import (
	"errors"
	"testing"

	"stowright/store/measure"
)

// An older shop keeps what came in place of a line without a lot: only what lies in the bag
// of that line is surely of it. With a lot it is known wherever it lies.
func TestTakeCame(t *testing.T) {
	for _, row := range []struct {
		name string
		came bool
		lot  string // of what came
		want map[string]Condition
	}{
		{"of an older shop", true, "", map[string]Condition{"bag": Good, "drawer": SetApart, "lot": SetApart}},
		{"of a lot", true, "L-9", map[string]Condition{"bag": SetApart, "drawer": SetApart, "lot": Good}},
		{"of none that is there", true, "L-8", map[string]Condition{"bag": SetApart, "drawer": SetApart, "lot": SetApart}},
		{"of a line that nothing came in place of", false, "", map[string]Condition{"bag": SetApart, "drawer": SetApart, "lot": SetApart}},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop, bin, _ := smallShop(t)
			other, _, err := shop.AddPlace(Place{Parent: bin.Parent, Kind: Bin, Name: "A-13"})
			if err != nil {
				t.Fatal(err)
			}
			heaps := map[string]StockKey{
				"bag": {Item: "OQ-1-A", Place: bin.ID, Condition: SetApart}, "drawer": {Item: "OQ-1-A", Place: other.ID, Condition: SetApart},
				"lot": {Item: "OQ-1-A", Place: other.ID, Lot: "L-9", Condition: SetApart},
			}
			got := map[string]Condition{}
			stop := fail(Conflict, "", "Looked at: nothing is kept.")
			_, err = shop.commit(VerbImport, func(w *writer) (string, error) {
				for _, k := range heaps {
					if err := w.ensureItem(Item{Designation: k.Item, Unit: measure.Each}); err != nil {
						return "", err
					}
					if err := w.stock(k, Exact(measure.Pieces(2))); err != nil {
						return "", err
					}
				}
				was := Line{Place: bin.ID, Finding: &Finding{Came: &Came{Designation: "OQ-1-A", Quantity: measure.Pieces(2), LotName: row.lot}}}
				now := Line{Designation: "OQ-1-A", Listed: measure.Pieces(2)}
				if err := w.takeCame(LineChange{Was: was, Now: now, came: row.came}); err != nil {
					return "", err
				}
				for name, k := range heaps {
					for _, condition := range []Condition{Good, SetApart} {
						k.Condition = condition
						if a, err := w.amount(k); err != nil {
							return "", err
						} else if !a.IsZero() {
							got[name] = condition
						}
					}
				}
				return "", stop
			})
			if !errors.Is(err, stop) {
				t.Fatal(err)
			}
			for name, want := range row.want {
				if got[name] != want {
					t.Errorf("the heap %q is %q, want %q", name, got[name], want)
				}
			}
		})
	}
}
