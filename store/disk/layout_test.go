package disk

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/disk/disktest"
)

// Which buckets a file has follows from its format, and how one is sealed from its name.
func TestLayout(t *testing.T) {
	l := Layout{Format: 5, Buckets: []BucketSpec{{"items", Table, 1}, {"by_tag", Index, 2}, {"pictures", Blobs, 3}, {"lots", Table, 5}}}
	for format, want := range map[int]string{
		0: "meta journal", 1: "meta journal items", 2: "meta journal items by_tag", 4: "meta journal items by_tag pictures",
		5: "meta journal items by_tag pictures lots", 9: "meta journal items by_tag pictures lots",
	} {
		if got := strings.Join(l.names(format), " "); got != want {
			t.Errorf("format %d has %s, want %s", format, got, want)
		}
	}
	for name, want := range map[string]Kind{"items": Table, "by_tag": Index, "pictures": Blobs, "journal": Journal, "lots": Table} {
		if got, ok := l.kind(name); got != want || !ok {
			t.Errorf("%s is of kind %d, %t; want %d", name, got, ok, want)
		}
	}
	for _, name := range []string{"meta", "", "Items", "none"} {
		if got, ok := l.kind(name); ok {
			t.Errorf("%s is of kind %d", name, got)
		}
	}
}

// What is asked for and is in no layout, or in no file, is refused by its name.
func TestBucketsThatAreNotThere(t *testing.T) {
	y := quietToy(t)
	err := y.Update(func(tx *Tx) error { return tx.CreateBucket("more") })
	if err != nil {
		t.Fatal(err)
	}
	view(t, y.File, func(tx *Tx) error {
		for _, name := range []string{"more", "none", bucketMeta} {
			if _, err := tx.Bucket(name); said(err, y.path) != fmt.Sprintf("corrupt: The shop file has no table %q: keep it, and open a copy made earlier.", name) {
				t.Errorf("%s: %v", name, err)
			}
			if _, err := tx.ReplayedBucket(name); err == nil {
				t.Errorf("%s is there to be replayed", name)
			}
		}
		one, err := tx.Bucket(toyThings)
		if two, _ := tx.Bucket(toyThings); one != two {
			t.Error("the same bucket is opened twice")
		}
		if replayed, _ := tx.ReplayedBucket(toyThings); replayed == one || replayed.tree != one.tree {
			t.Error("what is replayed is not told from what is not, or goes by itself")
		}
		return err
	})
	if err := y.Update(func(tx *Tx) error { return tx.CreateBucket(toyThings) }); err == nil {
		t.Error("a bucket that is there is made")
	}
}

// The format that a transaction sets is that of the file from then on, and none of an
// earlier one.
func TestSetFormat(t *testing.T) {
	y := quietToy(t)
	before, after := 0, 0
	update(t, y.File, func(tx *Tx) error {
		before = y.Format()
		err := tx.SetFormat(3)
		after = y.Format()
		return err
	})
	if before != KeysSealed || after != KeysSealed || y.Format() != 3 {
		t.Errorf("before %d, within %d, then %d", before, after, y.Format())
	}
	path := y.closed()
	if format, ok := FormatOf(path); format != 3 || !ok {
		t.Errorf("on the disk it is %d, %t", format, ok)
	}
}

// older is a closed file of format 4, whose tables and indexes have things under keys.
func older(t *testing.T, things map[string]string) (path string) {
	t.Helper()
	y := quietToy(t)
	path = y.closed()
	table, index := newSealer(toyThings, Table, false), newSealer(toyByValue, Index, false)
	disktest.Change(t, path, func(raw disktest.Raw) error {
		err := errors.Join(
			raw.DeleteBucket(toyThings), raw.DeleteBucket(toyByValue), raw.Put(bucketMeta, []byte(keyFormat), []byte("4")),
			raw.Put(toyThings, []byte("x"), nil), raw.Delete(toyThings, []byte("x")), raw.Put(toyByValue, []byte("x"), nil), raw.Delete(toyByValue, []byte("x")))
		for k, v := range things {
			if err == nil {
				err = errors.Join(raw.Put(toyThings, []byte(k), table.seal([]byte(k), []byte(v))), raw.Put(toyByValue, []byte(v+k), index.seal([]byte(v+k), nil)))
			}
		}
		return err
	})
	return path
}

// all is everything in a bucket.
func all(t *testing.T, f *File, name string) map[string]string {
	t.Helper()
	got := map[string]string{}
	view(t, f, func(tx *Tx) error {
		b, err := tx.Bucket(name)
		if err != nil {
			return err
		}
		return b.Scan(nil, func(k, v []byte) error {
			got[string(k)] = string(v)
			return nil
		})
	})
	return got
}

// Sealing the keys of an older file leaves all of it there, however many batches it takes,
// and a key that changes afterwards is seen.
func TestSealKeys(t *testing.T) {
	for _, n := range []int{0, 1, sealBatch - 1, sealBatch, sealBatch + 1, 2*sealBatch + 1} {
		if testing.Short() && n > sealBatch+1 {
			continue
		}
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			things, index := map[string]string{}, map[string]string{}
			for i := range n {
				k := fmt.Sprintf("P-%05d", i)
				things[k], index[`"some"`+k] = `"some"`, ""
			}
			path := older(t, things)
			f := reopened(t, path)
			if f.Format() != 4 {
				t.Fatalf("format %d", f.Format())
			}
			if d := cmp.Diff(things, all(t, f, toyThings)); d != "" {
				t.Fatalf("before (-want +got):\n%s", d)
			}
			update(t, f, func(tx *Tx) error {
				if err := tx.PutBlob(1, []byte("picture")); err != nil {
					return err
				}
				return tx.SealKeys()
			})
			if f.Format() != KeysSealed {
				t.Errorf("format %d", f.Format())
			}
			for name, want := range map[string]map[string]string{toyThings: things, toyByValue: index} {
				if got := all(t, f, name); !maps.Equal(got, want) {
					t.Errorf("%d of %d are the same in %s", len(got), len(want), name)
				}
			}
			view(t, f, func(tx *Tx) error {
				blob, err := tx.Blob(1)
				if string(blob) != "picture" {
					t.Errorf("the blob is %q", blob)
				}
				return errors.Join(err, tx.CheckPages(), tx.ProveAll(goOn))
			})
			if n == 0 {
				return
			}
			_ = f.Close()
			disktest.Change(t, path, func(raw disktest.Raw) error {
				return raw.Put(toyByValue, []byte("other"), raw.Get(toyByValue, []byte(`"some"P-00000`)))
			})
			if err := reopened(t, path).View(func(tx *Tx) error { return tx.ProveAll(goOn) }); err == nil {
				t.Error("another key passes for it")
			}
		})
	}
}

// A record that is damaged ends the sealing, which then did nothing.
func TestSealKeysOfDamaged(t *testing.T) {
	path := older(t, map[string]string{"P-1": `"a"`, "P-2": `"b"`, "P-3": `"c"`})
	disktest.Change(t, path, func(raw disktest.Raw) error {
		bad := raw.Get(toyThings, []byte("P-2"))
		bad[len(bad)-3] ^= 1
		return raw.Put(toyThings, []byte("P-2"), bad)
	})
	f := reopened(t, path)
	before := contents(t, f)
	if err := f.Update((*Tx).SealKeys); said(err, path) != `corrupt: A record of the table "things" is damaged: keep the file, and open a copy made earlier.` {
		t.Errorf("it says %v", err)
	}
	if f.Format() != 4 || contents(t, f) != before {
		t.Errorf("the file is changed, of format %d", f.Format())
	}
}

// In one transaction the sealing is followed by what is written as the new format has it.
func TestSealKeysThenWrite(t *testing.T) {
	f := reopened(t, older(t, map[string]string{"P-1": `"a"`}))
	update(t, f, func(tx *Tx) error {
		b, err := tx.Bucket(toyThings) // opened before: it must not be used on
		if err != nil {
			return err
		}
		if body, err := b.Get([]byte("P-1")); err != nil || string(body) != `"a"` {
			t.Errorf("before: %q, %v", body, err)
		}
		if err := tx.SealKeys(); err != nil {
			return err
		}
		if b, err = tx.Bucket(toyThings); err != nil {
			return err
		}
		if body, err := b.Get([]byte("P-1")); err != nil || string(body) != `"a"` {
			t.Errorf("after: %q, %v", body, err)
		}
		return b.Put([]byte("P-2"), []byte(`"b"`))
	})
	got := all(t, f, toyThings)
	if keys := slices.Sorted(maps.Keys(got)); !slices.Equal(keys, []string{"P-1", "P-2"}) || got["P-2"] != `"b"` {
		t.Errorf("there is %v", got)
	}
}
