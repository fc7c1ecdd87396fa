package store

import (
	"fmt"
	"testing"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/measure"
)

// A change writes the pages of what changed and no others: counting a heap that
// stands leaves the index of what lies where as it is on disk.
func TestChangeWritesOnlyWhatChanged(t *testing.T) {
	shop, bin, heap := smallShop(t)
	err := shop.Together(func(group *Shop) error {
		for i := range 200 { // so that the buckets have pages of their own
			if _, err := group.Count(StockKey{Item: fmt.Sprintf("AN%d", i), Place: bin.ID}, measure.Pieces(1)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	root := func(bucket string) (page uint64) {
		t.Helper()
		shop.behindBack(t, func(raw disktest.Raw) error { page = raw.Root(bucket); return nil })
		if page == 0 {
			t.Fatalf("%s has no pages of its own", bucket)
		}
		return page
	}
	byPlace, stock := root(indexByPlace), root(tableStock)
	if _, err := shop.Count(heap, measure.Pieces(7)); err != nil {
		t.Fatal(err)
	}
	if got := root(indexByPlace); got != byPlace {
		t.Errorf("by_place was written anew: from page %d to %d", byPlace, got)
	}
	if got := root(tableStock); got == stock {
		t.Errorf("stock was not written: it is still on page %d", got)
	}
}

// Nothing is written behind an entry that is damaged: it would be chained to it.
func TestNoChangeBehindADamagedEntry(t *testing.T) {
	t.Parallel()
	shop, _, heap := smallShop(t)
	shop.behindBack(t, overwrite("journal", disk.SeqKey(7), func(sealed []byte) { sealed[len(sealed)-5] ^= 2 }))
	if _, err := shop.Count(heap, measure.Pieces(7)); KindOf(err) != Corrupt {
		t.Errorf("a count behind a damaged entry: %v", err)
	}
	other, _, heap := smallShop(t)
	other.behindBack(t, func(raw disktest.Raw) error { return raw.Put("journal", []byte("~~~"), disk.Seal([]byte("{}"))) })
	if _, err := other.Count(heap, measure.Pieces(7)); KindOf(err) != Corrupt {
		t.Errorf("a count behind an entry of no number: %v", err)
	}
}
