package store_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// follower keeps a reading of a shop by what its entries say they changed.
type follower struct {
	*store.Following
	shop    *store.Shop
	changed map[store.Concern]bool // since
}

func follow(t *testing.T, shop *store.Shop) *follower {
	t.Helper()
	f := &follower{shop: shop, changed: map[store.Concern]bool{}}
	var err error
	if f.Following, err = anew(shop); err != nil {
		t.Fatal(err)
	}
	shop.Listen(func(e store.Entry) {
		for _, c := range e.Concerns() {
			f.changed[c] = true
		}
	})
	return f
}

func anew(shop *store.Shop) (of *store.Following, err error) {
	err = shop.Read(func(r *store.Reader) error {
		of, err = r.Following()
		return err
	})
	return of, err
}

// catchUp has it follow, and holds it against a reading of everything: that, and what it says
// of which parts became others.
func (f *follower) catchUp(t *testing.T, after string) {
	t.Helper()
	before := *f.Of
	stood := maps.Clone(f.Of.Stock)
	var done store.Followed
	err := f.shop.Read(func(r *store.Reader) (err error) {
		done, err = r.Follow(f.Following, slices.Collect(maps.Keys(f.changed)))
		return err
	})
	clear(f.changed)
	if err != nil {
		t.Fatal(err)
	}
	want, err := anew(f.shop)
	if err != nil {
		t.Fatal(err)
	}
	got := *f.Of
	got.Stock = map[string][]build.Heap{} // it may have more items, which are right too
	for item := range want.Of.Stock {
		got.Stock[item] = f.Of.Stock[item]
	}
	if d := cmp.Diff(*want.Of, got); d != "" || !maps.Equal(want.Trays, f.Trays) {
		t.Fatalf("after %s (-anew +followed):\n%s", after, d)
	}
	for item, heaps := range f.Of.Stock {
		if d := cmp.Diff(stood[item], heaps); d != "" && !done.Whole && !slices.Contains(done.Items, item) {
			t.Fatalf("after %s the stock of %s is another, and that is not said: %s", after, item, d)
		}
	}
	if done.Whole {
		return
	}
	before.Stock, got.Stock = nil, nil
	if d := cmp.Diff(unfitted(before, done.Codes), unfitted(got, done.Codes)); d != "" {
		t.Fatalf("after %s more is another than is said (-before +after):\n%s", after, d)
	}
}

// unfitted is a reading without what is fitted in some sub-assemblies.
func unfitted(r build.Reading, codes []string) build.Reading {
	r.SubAssemblies = slices.Clone(r.SubAssemblies)
	for i := range r.SubAssemblies {
		sub := &r.SubAssemblies[i]
		if !slices.Contains(codes, sub.Code) {
			continue
		}
		sub.Requirements = slices.Clone(sub.Requirements)
		for j := range sub.Requirements {
			sub.Requirements[j].Fitted = nil
		}
	}
	return r
}

// A reading that is brought up to date by what entries say they changed is what a reading of
// everything is, after every verb and whatever went before it.
func TestFollowEveryVerb(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 6, 1, 9, 0, 0, 0, time.UTC)
	shop := storetest.Open(t, store.Options{Clock: func() time.Time { return now }})
	w := toiler{shop: shop, r: rand.New(rand.NewPCG(3, 1)), folder: t.TempDir()}
	if _, _, err := shop.Import(smallList()); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.PutNeeds("", store.Needs{
		SubAssembly:  store.SubAssembly{Code: "SA-10"},
		Requirements: []store.Requirement{{Called: "AN3-5A", Needed: measure.Pieces(6)}, {Called: "AN960-10", Needed: measure.Pieces(12)}},
	}); err != nil {
		t.Fatal(err)
	}
	f := follow(t, shop)
	did := map[string]int{}
	rounds, most := 3, 300
	if testing.Short() {
		rounds, most = 2, 10
	}
	for range rounds {
		for _, v := range verbs() {
			tries := most
			if did[v.name] > 0 {
				tries = 10
			}
			for range tries {
				s, err := w.scene()
				if err != nil {
					t.Fatal(err)
				}
				before := newestEntry(t, shop)
				_ = v.do(s) // refused or not: it may have done something before
				if newestEntry(t, shop) == before {
					continue
				}
				did[v.name]++
				if w.r.IntN(4) > 0 { // else together with the next one
					f.catchUp(t, v.name)
				}
				break
			}
		}
	}
	f.catchUp(t, "all")
	for _, v := range verbs() {
		if did[v.name] == 0 && !testing.Short() {
			t.Errorf("%s was refused every time: so nothing is proven of it", v.name)
		}
	}
}
