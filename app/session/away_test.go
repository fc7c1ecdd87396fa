package session_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/app/demo"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
)

// What is not in stock is said all the same: listed in a crate, short, owed, kept, fitted.
func TestAway(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacking)
	heap := b.Heap("A-22") // lock nuts
	if _, err := b.Shop.Pull("SA-20", store.Transfer{StockKey: heap.StockKey, Quantity: measure.Pieces(6)}); err != nil {
		t.Fatal(err)
	}
	pulled := heap.StockKey
	subs, err := b.Shop.SubAssemblies()
	if err != nil {
		t.Fatal(err)
	}
	pulled.Place = subs[1].Place
	if _, err := b.Shop.Fit("SA-20", store.Fitting{Transfer: store.Transfer{StockKey: pulled, Quantity: measure.Pieces(4)}}); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		item string
		want []string
	}{
		{"AN3-7A", []string{"8 listed in crate C1, not checked off"}},
		{"SEAL-B2", []string{"2 qt listed in crate C3, not come yet"}},
		{"OQ-30-033", []string{"2 owed, back-ordered"}},
		{heap.Item, []string{"4 fitted in SA-20"}},
		{"AN3-4A", nil},
	} {
		found, _, err := b.Find(row.item, 1)
		if err != nil || len(found) != 1 {
			t.Fatalf("%s: %v, %v", row.item, found, err)
		}
		var got []string
		for _, a := range found[0].Away {
			got = append(got, a.String())
		}
		if d := cmp.Diff(row.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", row.item, d)
		}
		if want := row.item == "AN3-7A"; found[0].Uncounted() != want {
			t.Errorf("%s may be here uncounted: %v, want %v", row.item, !want, want)
		}
	}
}

// What is in the shop comes before what is not, however well that answers; what was typed stays
// before what is only close to it.
func TestInShopFirst(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacking)
	if _, err := b.Shop.PutItem(store.Item{Designation: "AN3-5", Title: "Bolt", Unit: measure.Each}); err != nil {
		t.Fatal(err)
	}
	for _, query := range []string{"an3-5", "an3", "oq-30", "an"} {
		found, _, err := b.Find(query, 50)
		if err != nil || len(found) < 2 {
			t.Fatalf("%s: %d found, %v", query, len(found), err)
		}
		here := func(f session.Found) bool { return f.Item == "" || len(f.Stock.Heaps) > 0 }
		for i := 1; i < len(found); i++ {
			if before, f := found[i-1], found[i]; f.Near == before.Near && here(f) && !here(before) || before.Near && !f.Near {
				t.Errorf("%s: %s (here %v, near %v) comes before %s (here %v, near %v)", query, before.Name, here(before), before.Near, f.Name, here(f), f.Near)
			}
		}
	}
}
