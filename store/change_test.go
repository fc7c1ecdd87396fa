package store

import (
	"bytes"
	"fmt"
	"testing"

	"go.etcd.io/bbolt"

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
		if err := shop.view(func(tx *bbolt.Tx) error { page = uint64(tx.Bucket([]byte(bucket)).Root()); return nil }); err != nil || page == 0 {
			t.Fatalf("the root of %s is page %d, %v", bucket, page, err)
		}
		return page
	}
	byPlace, stock := root(string(bucketByPlace)), root(tableStock)
	if _, err := shop.Count(heap, measure.Pieces(7)); err != nil {
		t.Fatal(err)
	}
	if got := root(string(bucketByPlace)); got != byPlace {
		t.Errorf("by_place was written anew: from page %d to %d", byPlace, got)
	}
	if got := root(tableStock); got == stock {
		t.Errorf("stock was not written: it is still on page %d", got)
	}
}

// Nothing is written behind an entry that is damaged: it would be chained to it.
func TestNoChangeBehindADamagedEntry(t *testing.T) {
	shop, _, heap := smallShop(t)
	shop.damage(t, func(tx *bbolt.Tx) error {
		journal := tx.Bucket(bucketJournal)
		last, sealed := journal.Cursor().Last()
		sealed = bytes.Clone(sealed)
		sealed[len(sealed)-5] ^= 2
		return journal.Put(bytes.Clone(last), sealed)
	})
	if _, err := shop.Count(heap, measure.Pieces(7)); KindOf(err) != Corrupt {
		t.Errorf("a count behind a damaged entry: %v", err)
	}
	other, _, heap := smallShop(t)
	other.damage(t, func(tx *bbolt.Tx) error {
		return tx.Bucket(bucketJournal).Put([]byte("~~~"), seal([]byte("{}")))
	})
	if _, err := other.Count(heap, measure.Pieces(7)); KindOf(err) != Corrupt {
		t.Errorf("a count behind an entry of no number: %v", err)
	}
}
