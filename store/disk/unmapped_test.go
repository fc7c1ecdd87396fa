package disk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/fault"
)

func outsideThings(tx *Tx) (*Bucket, error) { return tx.Bucket(toyThings) }

// ScanUnmapped gives what bbolt's cursor gives, for every prefix, whether the records lie
// within the page of their bucket, on many pages, or on pages that go on over others.
func TestPassIsLikeACursor(t *testing.T) {
	y := newToy(t)
	// Room for all that follows: bbolt cannot map more while it is read.
	if err := y.Update(writing(outsideThings, func(b *Bucket) error { return b.Put([]byte("room"), make([]byte, 32<<20)) })); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(r *rapid.T) {
		keys := rapid.SliceOfN(rapid.StringMatching(`[ab]{1,9}`), 0, 300).Draw(r, "keys")
		long := rapid.SampledFrom([]int{1, 40, 400, 9000}).Draw(r, "longest value")
		prefix := rapid.StringMatching(`[abc]{0,3}`).Draw(r, "prefix")
		err := y.Update(func(tx *Tx) error {
			if err := errors.Join(tx.bolt.DeleteBucket([]byte(toyThings)), tx.CreateBucket(toyThings)); err != nil {
				return err
			}
			b, err := tx.Bucket(toyThings)
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
		err = y.View(func(tx *Tx) error {
			want := byCursor(tx, prefix)
			// What is written meanwhile is not seen.
			if err := y.Update(writing(outsideThings, func(b *Bucket) error { return b.Put([]byte(prefix+"b"), nil) })); err != nil {
				return err
			}
			for _, by := range []string{"unmapped", "scan"} {
				b, err := tx.Bucket(toyThings)
				if err != nil {
					return err
				}
				way := b.ScanUnmapped
				if by == "scan" {
					way = b.Scan
				}
				var got []string
				err = way([]byte(prefix), func(k, v []byte) error {
					got = append(got, fmt.Sprintf("%s=%s", k, v))
					return nil
				})
				if d := cmp.Diff(want, got); d != "" || err != nil {
					r.Errorf("the %s over %q, %v (-cursor +%s):\n%s", by, prefix, err, by, d)
				}
			}
			return nil
		})
		if err != nil {
			r.Fatal(err)
		}
	})
}

// byCursor are the records with a prefix by bbolt's cursor.
func byCursor(tx *Tx, prefix string) (list []string) {
	c := tx.bolt.Bucket([]byte(toyThings)).Cursor()
	for k, v := c.Seek([]byte(prefix)); k != nil && bytes.HasPrefix(k, []byte(prefix)); k, v = c.Next() {
		body := bytes.TrimSuffix(v[envelopeHead:], []byte("}"))
		list = append(list, fmt.Sprintf("%s=%s", k, body))
	}
	return list
}

// A transaction that writes sees by ScanUnmapped what it has written itself.
func TestPassSeesItsOwnTransaction(t *testing.T) {
	y := newToy(t)
	err := y.Update(writing(outsideThings, func(b *Bucket) error {
		if err := b.Put([]byte("mine"), []byte("1")); err != nil {
			return err
		}
		var got []string
		err := b.ScanUnmapped(nil, func(k, _ []byte) error { got = append(got, string(k)); return nil })
		if d := cmp.Diff([]string{"P-1", "mine"}, got); d != "" {
			t.Errorf("keys (-want +got):\n%s", d)
		}
		return err
	}))
	if err != nil {
		t.Fatal(err)
	}
}

// ScanUnmapped ends with the error of what it calls, and without one where that says enough.
func TestPassEnds(t *testing.T) {
	y := newToy(t)
	y.put(2)
	for end, want := range map[error]error{io.ErrNoProgress: io.ErrNoProgress, ErrStop: nil} {
		called := 0
		for name, way := range map[string]func(*Bucket) error{
			"unmapped": func(b *Bucket) error { return b.ScanUnmapped(nil, func(_, _ []byte) error { called++; return end }) },
			"scan":     func(b *Bucket) error { return b.Scan(nil, func(_, _ []byte) error { called++; return end }) },
		} {
			if err := y.View(writing(outsideThings, way)); !errors.Is(err, want) {
				t.Errorf("%s: error %v, want %v", name, err, want)
			}
		}
		if called != 2 {
			t.Errorf("called %d times, want once each", called)
		}
	}
}

// Pages that are not what they must be are reported by ScanUnmapped, not followed.
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
			y := newToy(t)
			err := y.Update(writing(outsideThings, func(b *Bucket) error {
				for i := range 500 {
					if err := b.Put(fmt.Appendf(nil, "%04d", i), make([]byte, 50)); err != nil {
						return err
					}
				}
				return nil
			}))
			if err != nil {
				t.Fatal(err)
			}
			err = y.View(func(tx *Tx) error {
				b, err := tx.Bucket(toyThings)
				if err != nil {
					return err
				}
				root, size := uint64(b.bolt.Root()), y.db.Info().PageSize
				overwrite(t, y.path, int64(root)*int64(size), size, func(page []byte) { spoil(page, root) })
				return b.ScanUnmapped(nil, func(_, _ []byte) error { return nil })
			})
			if fault.KindOf(err) != fault.Corrupt {
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
