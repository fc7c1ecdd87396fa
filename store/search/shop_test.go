package search_test

import (
	"fmt"
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
				search.CompareWithScan(t, x, shop.Docs, shop.Queries(kind, 8, seed), 20)
			})
		}
	}
	common := []string{"1 q", "0 o 1", "rib lot", "bolt lot", "bolt olt", "ivet ome", "ivet lus", "skin rib", "n a 1 s", "bolt 1-1/2", "rivet rivt", "rib spra", "1 olt"}
	compareKinds(1)
	search.CompareWithScan(t, x, shop.Docs, common, 20)
	for i := 0; i < len(shop.Docs); i += 9 {
		d := &shop.Docs[i]
		d.InShop, d.Name = !d.InShop, d.Name+"X"
		x.Put(*d)
	}
	compareKinds(2)
	search.CompareWithScan(t, x, shop.Docs, common, 20)
}

// TestCommonWords asks for words that very many documents have, in ways that
// the generated shop seldom does.
func TestCommonWords(t *testing.T) {
	docs := make([]search.Doc, 0, 2000)
	for i := range 2000 {
		d := search.Doc{ID: fmt.Sprint(i), Name: fmt.Sprintf("KX-%d", i), Words: "alpha"}
		if i%4 == 0 {
			d.Name = fmt.Sprintf("BM10-%d", i)
		}
		if i%5 == 0 {
			d.Words += " zebra"
		}
		if i%100 == 15 {
			d.Words += " 10b"
		}
		if i%3 == 0 {
			d.Words += " xbeta"
		} else {
			d.Words += " beta"
		}
		docs = append(docs, d)
	}
	queries := []string{"zebra 10 kx", "10 kx zebra", "zebra 10 lpha kx", "zebra m10", "zebra 10", "10 zebra bm", "alpha beta", "beta alpha", "lpha eta", "lpha xbeta zebra", "alpha bm", "zebra 10b", "alpha zebar", "alpha z", "x z"}
	search.CompareWithScan(t, built(t, docs), docs, queries, 20)
	search.CompareWithScan(t, built(t, docs), docs, append(queries, "kx", "1", "bm10", "alpah", "lpha"), 1200)
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
