package session_test

import (
	"errors"
	"testing"

	"stowright/app/demo"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/session/sessiontest"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// Before the index is there a shop can be asked by whole numbers and tags; then by all.
func TestFindWhileIndexing(t *testing.T) {
	shop := storetest.Open(t, store.Options{Clock: demo.NewClock(demo.Today, true).Now})
	if err := demo.Fill(shop, demo.NewClock(demo.Today, true), demo.Furnished); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.PutItem(store.Item{Designation: "AN3-5A", Unit: measure.Each}); err != nil {
		t.Fatal(err)
	}
	places, err := shop.Places()
	if err != nil {
		t.Fatal(err)
	}
	q := &loop.Queue{}
	s := session.Start(t.Context(), shop, q.Loop())
	told := errors.New("not told")
	s.WhenIndexed(func(err error) { told = err })
	ask := func(row, query string, want int) {
		t.Helper()
		found, _, err := s.Find(query, 10)
		if err != nil || len(found) != want {
			t.Errorf("%s: %q finds %d, %v; want %d", row, query, len(found), err, want)
		}
	}
	if _, _, running := s.Indexing(); !running || session.IndexWords(s.Indexing()) == "" {
		t.Error("the index is not being built")
	}
	ask("before", "an3-5a", 1)
	ask("before", "AN3 5A", 1)
	ask("before", string(places[3].Tag), 1)
	ask("before", "n3-5a", 0)
	ask("before", "", 0)
	if _, err := shop.PutItem(store.Item{Designation: "AN3-6A", Unit: measure.Each}); err != nil {
		t.Fatal(err)
	}
	q.Drain()
	if told != nil || session.IndexWords(s.Indexing()) != "" {
		t.Errorf("told %v, %q", told, session.IndexWords(s.Indexing()))
	}
	ask("after", "n3-5a", 1)
	ask("after", "n3-6a", 1)
	if done, total, _ := s.Indexing(); done != total || total == 0 {
		t.Errorf("%d of %d are in the index", done, total)
	}
	late := errors.New("not told")
	s.WhenIndexed(func(err error) { late = err })
	if q.Drain(); late != nil {
		t.Errorf("told late: %v", late)
	}
}

// Closing does not wait for an index that nobody needs any more.
func TestCloseWhileIndexing(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	s := session.Start(t.Context(), b.Shop, loop.Loop{Run: func(f func()) { go f() }, Post: func(func()) {}})
	if err := s.Close(); err != nil {
		t.Error(err)
	}
	select {
	case <-s.Indexed():
	default:
		t.Error("the index is still being built after Close")
	}
}

// What is in the shop comes in the natural order, whatever the order of the file.
func TestInShopOrder(t *testing.T) {
	b := sessiontest.Open(t, demo.Unpacked)
	all, more, err := b.InShop(1000)
	if err != nil || more || len(all) < 20 {
		t.Fatalf("%d things in the shop, more: %v, %v", len(all), more, err)
	}
	for i, f := range all[1:] {
		if store.CompareNames(all[i].Item, f.Item) >= 0 {
			t.Errorf("%s comes before %s", all[i].Item, f.Item)
		}
	}
	few, more, err := b.InShop(7)
	if err != nil || !more || len(few) != 7 {
		t.Fatalf("%d of seven, more: %v, %v", len(few), more, err)
	}
	for i, f := range few {
		if f.Item != all[i].Item {
			t.Errorf("number %d of seven is %s, want %s", i, f.Item, all[i].Item)
		}
	}
}
