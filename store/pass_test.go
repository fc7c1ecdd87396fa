package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

// emptyShop is a shop with nothing in it.
func emptyShop(t *testing.T) *Shop {
	t.Helper()
	shop, err := Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = shop.Close() })
	return shop
}

// A pass gives what bbolt's cursor gives, for every prefix, whether the records lie
// within the page of their bucket, on many pages, or on pages that go on over others.
func TestPassIsLikeACursor(t *testing.T) {
	shop := emptyShop(t)
	// Room for all that follows: bbolt cannot map more while it is read.
	err := shop.db.Update(func(tx *bbolt.Tx) error {
		return tx.Bucket([]byte(tableItems)).Put([]byte("room"), make([]byte, 32<<20))
	})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		keys := rapid.SliceOfN(rapid.StringMatching(`[ab]{1,9}`), 0, 300).Draw(r, "keys")
		long := rapid.SampledFrom([]int{1, 40, 400, 9000}).Draw(r, "longest value")
		prefix := rapid.StringMatching(`[abc]{0,3}`).Draw(r, "prefix")
		err = shop.db.Update(func(tx *bbolt.Tx) error {
			if err := tx.DeleteBucket([]byte(tableItems)); err != nil {
				return err
			}
			b, err := tx.CreateBucket([]byte(tableItems))
			for i, k := range keys {
				if err == nil {
					err = b.Put([]byte(k), []byte(strings.Repeat(k, i*long/len(keys)/len(k)+1)))
				}
			}
			return err
		})
		if err != nil {
			r.Fatal(err)
		}
		err = shop.db.View(func(tx *bbolt.Tx) error {
			want := records(t, tx, prefix)
			// What is written meanwhile is not seen.
			if err := shop.db.Update(func(tx *bbolt.Tx) error { return tx.Bucket([]byte(tableItems)).Put([]byte(prefix+"b"), nil) }); err != nil {
				return err
			}
			var got []string
			err := shop.pass(tx, tableItems, prefix, func(k, v []byte) error {
				got = append(got, fmt.Sprintf("%s=%s", k, v))
				return nil
			})
			if d := cmp.Diff(want, got); d != "" {
				r.Errorf("the pass over %q (-cursor +pass):\n%s", prefix, d)
			}
			return err
		})
		if err != nil {
			r.Fatal(err)
		}
	})
}

// records are those with a prefix by bbolt's cursor.
func records(t *testing.T, tx *bbolt.Tx, prefix string) (list []string) {
	t.Helper()
	c := tx.Bucket([]byte(tableItems)).Cursor()
	for k, v := c.Seek([]byte(prefix)); k != nil && strings.HasPrefix(string(k), prefix); k, v = c.Next() {
		list = append(list, fmt.Sprintf("%s=%s", k, v))
	}
	return list
}

// A transaction that writes sees by a pass what it has written itself.
func TestPassSeesItsOwnTransaction(t *testing.T) {
	shop, bin, heap := smallShop(t)
	err := shop.Together(func(group *Shop) error {
		if _, err := group.PutItem(Item{Designation: "AN3-7A", Unit: "ea"}); err != nil {
			return err
		}
		items, err := group.Items()
		if len(items) != 3 {
			t.Errorf("%d items, want %s, AN3-6A and AN3-7A (bin %s)", len(items), heap.Item, bin.Name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A pass ends with the error of what it calls.
func TestPassEnds(t *testing.T) {
	shop, _, _ := smallShop(t)
	err := shop.view(func(tx *bbolt.Tx) error {
		return shop.pass(tx, string(bucketJournal), "", func([]byte, []byte) error { return io.ErrNoProgress })
	})
	if !errors.Is(err, io.ErrNoProgress) {
		t.Errorf("error %v", err)
	}
}

// Pages that are not what they must be are told by a pass, not followed.
func TestPassOverDamage(t *testing.T) {
	const id, overflow, flags, child = 0, 12, 8, pageHeader + 8
	for name, spoil := range map[string]func(page []byte, root uint64){
		"a page of another number": func(page []byte, _ uint64) { page[id] ^= 1 },
		"a page of another kind":   func(page []byte, _ uint64) { page[flags] = 0x40 },
		"a page that never ends":   func(page []byte, _ uint64) { binary.NativeEndian.PutUint32(page[overflow:], 1<<31) },
		"a branch under itself":    func(page []byte, root uint64) { binary.NativeEndian.PutUint64(page[child:], root) },
		"a branch that leads out":  func(page []byte, _ uint64) { binary.NativeEndian.PutUint64(page[child:], 1<<40) },
	} {
		t.Run(name, func(t *testing.T) {
			shop := emptyShop(t)
			err := shop.db.Update(func(tx *bbolt.Tx) error {
				for i := range 500 {
					if err := tx.Bucket([]byte(tableItems)).Put(fmt.Appendf(nil, "%04d", i), make([]byte, 50)); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			err = shop.view(func(tx *bbolt.Tx) error {
				root, size := uint64(tx.Bucket([]byte(tableItems)).Root()), tx.DB().Info().PageSize
				overwrite(t, shop.path, int64(root)*int64(size), size, func(page []byte) { spoil(page, root) })
				return shop.pass(tx, tableItems, "", func([]byte, []byte) error { return nil })
			})
			if KindOf(err) != Corrupt {
				t.Errorf("error %v", err)
			}
		})
	}
}

// overwrite changes a stretch of a file.
func overwrite(t *testing.T, path string, at int64, length int, change func(stretch []byte)) {
	t.Helper()
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	stretch := make([]byte, length)
	if _, err := f.ReadAt(stretch, at); err != nil {
		t.Fatal(err)
	}
	change(stretch)
	if _, err := f.WriteAt(stretch, at); err != nil {
		t.Fatal(err)
	}
}
