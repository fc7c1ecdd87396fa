package search_test

import (
	"testing"

	"stowright/store/search"
	"stowright/store/search/searchtest"
)

// TestGeneratedShop compares the index with looking at every document, in a
// shop large enough for all of its short cuts, before and after changes.
func TestGeneratedShop(t *testing.T) {
	shop := searchtest.New(2500, 5)
	x := built(t, shop.Docs)
	compareKinds := func(seed uint64) {
		for _, kind := range searchtest.Kinds() {
			t.Run(string(kind), func(t *testing.T) {
				search.CompareWithScan(t, x, shop.Docs, shop.Queries(kind, 8, seed))
			})
		}
	}
	common := []string{"1 q", "0 o 1", "rib lot", "bolt lot", "bolt olt", "ivet ome", "ivet lus", "skin rib", "n a 1 s", "bolt 1-1/2", "rivet rivt", "rib spra", "1 olt"}
	compareKinds(1)
	search.CompareWithScan(t, x, shop.Docs, common)
	for i := 0; i < len(shop.Docs); i += 9 {
		d := &shop.Docs[i]
		d.InShop, d.Name = !d.InShop, d.Name+"X"
		x.Put(*d)
	}
	compareKinds(2)
	search.CompareWithScan(t, x, shop.Docs, common)
}

func TestGeneratedShopIsTheSame(t *testing.T) {
	a, b := searchtest.New(300, 2), searchtest.New(300, 2)
	seen := map[string]bool{}
	for i := range a.Docs {
		if a.Docs[i].Name != b.Docs[i].Name || a.Docs[i].Words != b.Docs[i].Words {
			t.Fatalf("document %d differs: %+v, %+v", i, a.Docs[i], b.Docs[i])
		}
		if seen[a.Docs[i].Name] {
			t.Fatalf("%s comes twice", a.Docs[i].Name)
		}
		seen[a.Docs[i].Name] = true
	}
	for _, kind := range searchtest.Kinds() {
		if q := a.Queries(kind, 3, 1); len(q) != 3 || q[0] != b.Queries(kind, 3, 1)[0] {
			t.Errorf("queries of kind %s: %q", kind, q)
		}
	}
}
