package disk

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/disk/disktest"
)

// fill puts things into a toy, in a transaction.
func fill(t testing.TB, y *toy, things map[string]string) {
	t.Helper()
	update(t, y.File, writing(outsideThings, func(b *Bucket) error {
		for _, k := range slices.Sorted(maps.Keys(things)) {
			if err := b.Put([]byte(k), []byte(things[k])); err != nil {
				return err
			}
		}
		return nil
	}))
}

// A bucket is asked in every way in the transaction that writes it, in the one after, and in
// one that began before: each sees what a map has.
func TestBucketIsLikeAMap(t *testing.T) {
	someKey := rapid.Custom(func(t *rapid.T) string {
		return rapid.StringMatching(`[ab]{1,3}(\x00[c\x80])?`).Draw(t, "key")
	})
	rapid.Check(t, func(r *rapid.T) {
		y := quietToy(t)
		model := map[string]string{"P-1": `"some"`}
		for range rapid.IntRange(1, 4).Draw(r, "transactions") {
			before := maps.Clone(model)
			view(t, y.File, func(old *Tx) error {
				update(t, y.File, writing(outsideThings, func(b *Bucket) error {
					for range rapid.IntRange(1, 12).Draw(r, "changes") {
						key := someKey.Draw(r, "key")
						if rapid.Bool().Draw(r, "put") {
							model[key] = rapid.SampledFrom([]string{"", "1", strings.Repeat("long", 300)}).Draw(r, "body")
							if err := b.Put([]byte(key), []byte(model[key])); err != nil {
								return err
							}
						} else {
							delete(model, key)
							if err := b.Delete([]byte(key)); err != nil {
								return err
							}
						}
						likeMap(r, b, model, someKey.Draw(r, "asked"))
					}
					return nil
				}))
				b, err := old.Bucket(toyThings)
				likeMap(r, b, before, someKey.Draw(r, "asked of the past"))
				return err
			})
			view(t, y.File, func(tx *Tx) error {
				b, err := tx.Bucket(toyThings)
				likeMap(r, b, model, someKey.Draw(r, "asked afterwards"))
				return err
			})
		}
		if err := y.Close(); err != nil {
			r.Fatal(err)
		}
	})
}

// likeMap holds every way to ask a bucket against a map.
func likeMap(t *rapid.T, b *Bucket, model map[string]string, key string) {
	t.Helper()
	keys := slices.Sorted(maps.Keys(model))
	want, there := model[key]
	got, err := b.Get([]byte(key))
	has, hasErr := b.Has([]byte(key))
	if err != nil || hasErr != nil || string(got) != want || (got != nil) != there || has != there {
		t.Fatalf("%q is %q, %t, %v, %v; want %q, %t", key, got, has, err, hasErr, want, there)
	}
	last, err := b.Last()
	if wanted := append([]string{""}, keys...)[len(keys)]; err != nil || string(last) != wanted {
		t.Fatalf("the last is %q, %v; want %q", last, err, wanted)
	}
	for end := range len(key) + 1 {
		prefix := key[:end]
		starts := func(k string) bool { return strings.HasPrefix(k, prefix) }
		var listed []string
		err := b.Scan([]byte(prefix), func(k, body []byte) error {
			if string(body) != model[string(k)] {
				t.Fatalf("under %q is %q, want %q", k, body, model[string(k)])
			}
			listed = append(listed, string(k))
			return nil
		})
		wanted := slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return !starts(k) })
		if err != nil || !slices.Equal(listed, wanted) {
			t.Fatalf("with %q start %q, %v; want %q", prefix, listed, err, wanted)
		}
		first, body, err := b.First(func(k []byte) bool { return starts(string(k)) })
		if err != nil || (first != nil) != (len(wanted) > 0) || first != nil && (string(first) != wanted[0] || string(body) != model[wanted[0]]) {
			t.Fatalf("the first with %q is %q, %v; want %q", prefix, first, err, wanted)
		}
	}
}

// What Get and Last return is the caller's, and what was put is the bucket's.
func TestBucketCopies(t *testing.T) {
	y := quietToy(t)
	key, body := []byte("Q"), []byte(`"body"`)
	update(t, y.File, writing(outsideThings, func(b *Bucket) error {
		err := b.Put(key, body)
		clear(body)
		for range 2 { // the second is from what was looked up last
			got, getErr := b.Get([]byte("Q"))
			if string(got) != `"body"` {
				t.Errorf("it is %q", got)
			}
			clear(got)
			last, lastErr := b.Last()
			if string(last) != "Q" {
				t.Errorf("the last is %q", last)
			}
			clear(last)
			err = errors.Join(err, getErr, lastErr)
		}
		return err
	}))
	if got := all(t, y.File, toyThings); got["Q"] != `"body"` {
		t.Errorf("afterwards there is %q", got)
	}
}

// A transaction that may not write does not, and says which kind it is.
func TestWritable(t *testing.T) {
	y := quietToy(t)
	update(t, y.File, func(tx *Tx) error {
		if !tx.Writable() {
			t.Error("an update may not write")
		}
		return nil
	})
	view(t, y.File, func(tx *Tx) error {
		b, err := tx.Bucket(toyThings)
		if tx.Writable() || b.Put([]byte("Q"), nil) == nil || b.Delete([]byte("P-1")) == nil {
			t.Error("a view may write")
		}
		return err
	})
}

// Where nothing is found, what stands beside the gap is proven: a wrong key there may be the
// one that was looked for. What is not beside it need not be whole.
func TestGapsAreProven(t *testing.T) {
	things := map[string]string{"a": "1", "c": "2", "e": "3", "g": "4"}
	for _, row := range []struct {
		spoilt  string // the record under this key is damaged
		refused string // that these are not there cannot be proven
		proven  string
	}{
		{"a", "ab", "0dfh"}, // what is before all is beside a, too
		{"c", "bcd", "fh0"},
		{"e", "def", "bh0"},
		{"g", "fgh", "bd0"},
	} {
		t.Run(row.spoilt, func(t *testing.T) {
			y := quietToy(t)
			update(t, y.File, writing(outsideThings, func(b *Bucket) error { return b.Delete([]byte("P-1")) }))
			fill(t, y, things)
			path := y.closed()
			disktest.Change(t, path, func(raw disktest.Raw) error {
				bad := raw.Get(toyThings, []byte(row.spoilt))
				bad[len(bad)-2] ^= 1
				return raw.Put(toyThings, []byte(row.spoilt), bad)
			})
			view(t, reopened(t, path), func(tx *Tx) error {
				b, err := tx.Bucket(toyThings)
				for _, key := range strings.Split(row.refused, "") {
					if got, err := b.Get([]byte(key)); said(err, path) != `corrupt: A record of the table "things" is damaged: keep the file, and open a copy made earlier.` {
						t.Errorf("%s is %q, %v", key, got, err)
					}
				}
				for _, key := range strings.Split(row.proven, "") {
					if key == "0" && row.spoilt == "a" {
						continue
					}
					if got, err := b.Get([]byte(key)); err != nil || got != nil {
						t.Errorf("%s is %q, %v", key, got, err)
					}
				}
				return err
			})
		})
	}
}

// A scan proves what stands before and after those with the prefix, each way.
func TestEndsOfScansAreProven(t *testing.T) {
	things := map[string]string{"a1": "1", "b1": "2", "b2": "3", "c1": "4", "d1": "5"}
	for _, row := range []struct {
		spoilt, prefix string
		refused        bool
	}{
		{"a1", "b", true},
		{"b1", "b", true},
		{"b2", "b", true},
		{"c1", "b", true},
		{"d1", "b", false},
		{"a1", "c", false},
		{"a1", "", true},
		{"d1", "", true},
		{"d1", "e", true},
		{"c1", "e", false},
		{"b1", "a0", false},
		{"d1", "d", true},
	} {
		t.Run(row.spoilt+", "+row.prefix, func(t *testing.T) {
			y := quietToy(t)
			update(t, y.File, writing(outsideThings, func(b *Bucket) error { return b.Delete([]byte("P-1")) }))
			fill(t, y, things)
			// On pages of its own, so that it is read plainly.
			fill(t, y, map[string]string{"z": strings.Repeat("z", 3000), "zz": strings.Repeat("z", 3000)})
			path := y.closed()
			disktest.Change(t, path, func(raw disktest.Raw) error {
				bad := raw.Get(toyThings, []byte(row.spoilt))
				bad[len(bad)-2] ^= 1
				return raw.Put(toyThings, []byte(row.spoilt), bad)
			})
			f := reopened(t, path)
			ways := func(name string, tx *Tx) {
				b, err := tx.Bucket(toyThings)
				if err != nil {
					t.Fatal(err)
				}
				nothing := func(_, _ []byte) error { return nil }
				if err := b.Scan([]byte(row.prefix), nothing); (err != nil) != row.refused {
					t.Errorf("%s, a scan of %q: %v", name, row.prefix, err)
				}
				if err := b.ScanUnmapped([]byte(row.prefix), nothing); (err != nil) != row.refused {
					t.Errorf("%s, plainly, a scan of %q: %v", name, row.prefix, err)
				}
			}
			view(t, f, func(tx *Tx) error { ways("reading", tx); return nil })
			update(t, f, func(tx *Tx) error { ways("writing", tx); return nil })
		})
	}
}

// First opens the one that is wanted, and not those before it; that there is none is proven
// of all.
func TestFirst(t *testing.T) {
	y := quietToy(t)
	fill(t, y, map[string]string{"a": "1", "b": "2", "c": "3"})
	path := y.closed()
	disktest.Change(t, path, func(raw disktest.Raw) error { return raw.Put(toyThings, []byte("b"), []byte("bad")) })
	view(t, reopened(t, path), writing(outsideThings, func(b *Bucket) error {
		for _, row := range []struct {
			wanted  string
			body    string
			refused bool
		}{{"a", "1", false}, {"c", "3", false}, {"b", "", true}, {"x", "", true}} {
			key, body, err := b.First(func(k []byte) bool { return string(k) == row.wanted })
			if (err != nil) != row.refused || string(body) != row.body || !row.refused && string(key) != row.wanted {
				t.Errorf("%s: %q is %q, %v", row.wanted, key, body, err)
			}
		}
		return nil
	}))
}

// Has and Get tell a body of nothing from none at all.
func TestEmptyBody(t *testing.T) {
	y := quietToy(t)
	view(t, y.File, func(tx *Tx) error {
		b, err := tx.Bucket(toyByValue)
		for key, want := range map[string]bool{"some\x00P-1": true, "some\x00P-2": false} {
			body, getErr := b.Get([]byte(key))
			has, hasErr := b.Has([]byte(key))
			if has != want || (body != nil) != want || len(body) != 0 {
				t.Errorf("%q is %q, there: %t", key, body, has)
			}
			err = errors.Join(err, getErr, hasErr)
		}
		return err
	})
}

// A prefix of bytes that none is above has an end, too.
func TestScanOfTheHighestPrefix(t *testing.T) {
	y := quietToy(t)
	want := []string{"\xff", "\xff\x00", "\xff\xff", "\xff\xff\xff"}
	things := map[string]string{"\xfe\xff": "0"}
	for i, k := range want {
		things[k] = fmt.Sprint(i)
	}
	fill(t, y, things)
	view(t, y.File, writing(outsideThings, func(b *Bucket) error {
		for name, way := range map[string]func([]byte, func(k, v []byte) error) error{"scan": b.Scan, "unmapped": b.ScanUnmapped} {
			got := []string{}
			err := way([]byte("\xff"), func(k, _ []byte) error { got = append(got, string(k)); return nil })
			if d := cmp.Diff(want, got); d != "" || err != nil {
				t.Errorf("%s, %v (-want +got):\n%s", name, err, d)
			}
		}
		return nil
	}))
}

func ExampleOpen() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	f, err := Open(filepath.Join(folder, "kit.stow"), Options{
		Create: true, Layout: Layout{Format: KeysSealed, Buckets: []BucketSpec{{Name: "stock", Kind: Table, Since: 1}}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	err = f.Update(func(tx *Tx) error {
		b, err := tx.Bucket("stock")
		if err != nil {
			return err
		}
		return errors.Join(b.Put([]byte("AN3-5A\x00A-12"), []byte(`{"q":"24 ea"}`)), b.Put([]byte("AN3-6A\x00A-13"), []byte(`{"q":"8 ea"}`)))
	})
	fmt.Println(err)
	err = f.View(func(tx *Tx) error {
		b, err := tx.Bucket("stock")
		if err != nil {
			return err
		}
		return b.Scan([]byte("AN3-5A\x00"), func(key, body []byte) error {
			fmt.Printf("%q holds %s\n", key, body)
			return nil
		})
	})
	fmt.Println(err, f.Close())
	// Output:
	// <nil>
	// "AN3-5A\x00A-12" holds {"q":"24 ea"}
	// <nil> <nil>
}
