package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

// Any bit of the pages of the buckets themselves that is flipped while the file is open, of
// a branch, of a leaf and of the buckets that lie within one: each bucket is read as it is,
// or refused. The free pages beside them hold the same buckets with less in them.
func TestFlippedBucketsAreNotReadWrongly(t *testing.T) {
	t.Parallel()
	f := newManyBuckets(t)
	refused, harmless := 0, 0
	for _, page := range f.pages {
		for bit := range 8 * page.Length {
			inHead := bit < 8*pageHeader || page.Branch && bit < 8*(pageHeader+elementSize*len(page.Keys))
			if most := 61; !inHead && (testing.Short() && bit%(most*4) != 0 || bit%most != 0) {
				continue
			}
			f.flip(page, bit)
			switch wrong, no := f.ask(); {
			case wrong != nil:
				t.Errorf("%s: %v", f.name(page, bit), wrong)
			case no:
				refused++
			default:
				harmless++
			}
			f.flip(page, bit)
			if f.broken.Load() {
				f.again()
			}
		}
	}
	t.Logf("%d bits refused, %d did no harm", refused, harmless)
	if refused < harmless || harmless == 0 {
		t.Error("so nothing is proven")
	}
}

// manyBuckets is a file with so many buckets that a branch leads to them, each small enough
// to lie within a leaf of theirs.
type manyBuckets struct {
	*branches
	options Options
	want    []string // what each bucket holds
}

const smallBuckets = 80

func smallBucket(i int) string { return fmt.Sprintf("bucket-%02d-%s", i, strings.Repeat("b", 60)) }

func inSmallBucket(i int) func(*Tx) (*Bucket, error) {
	return func(tx *Tx) (*Bucket, error) { return tx.Bucket(smallBucket(i)) }
}

func newManyBuckets(t *testing.T) *manyBuckets {
	t.Helper()
	layout := Layout{Format: KeysSealed, Buckets: slices.Clone(toyLayout.Buckets)}
	for i := range smallBuckets {
		layout.Buckets = append(layout.Buckets, BucketSpec{smallBucket(i), Table, 1})
	}
	path := filepath.Join(t.TempDir(), "many.stow")
	options := Options{Layout: layout, Replay: toyReplay, Create: true}
	file, err := Open(path, options)
	if err != nil {
		t.Fatal(err)
	}
	f := &manyBuckets{&branches{toy: &toy{File: file, t: t}, t: t, isOpen: true}, options, make([]string, smallBuckets)}
	for round := range 3 {
		for i := range smallBuckets {
			key, body := fmt.Sprintf("%d-%d", round, i), fmt.Sprintf("body %d of %d", round, i)
			err := f.Update(writing(inSmallBucket(i), func(b *Bucket) error { return b.Put([]byte(key), []byte(body)) }))
			if err != nil {
				t.Fatal(err)
			}
			f.want[i] += key + "=" + body + ";"
		}
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if f.good, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	f.again()
	all, err := disktest.Pages(f.good)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		if p.Bucket == "" {
			f.pages = append(f.pages, p)
		}
	}
	if len(f.pages) < 4 || !f.pages[0].Branch {
		t.Fatalf("%d pages of buckets: nothing is proven", len(f.pages))
	}
	return f
}

func (f *manyBuckets) again() {
	f.t.Helper()
	path := f.path
	_ = f.Close()
	file, err := Open(path, f.options)
	if err != nil {
		f.t.Fatal(err)
	}
	f.File = file
	f.t.Cleanup(func() { _ = file.Close() })
	if f.raw == nil {
		if f.raw, err = os.OpenFile(path, os.O_RDWR, 0); err != nil {
			f.t.Fatal(err)
		}
		f.t.Cleanup(func() { _ = f.raw.Close() })
	}
}

// ask asks each bucket for all that it holds. It says what is wrong, and whether something
// was refused.
func (f *manyBuckets) ask() (wrong error, refused bool) {
	for i, want := range f.want {
		var got strings.Builder
		err := f.View(func(tx *Tx) error {
			b, err := tx.Bucket(smallBucket(i))
			if err != nil {
				return err
			}
			return b.Scan(nil, func(k, body []byte) error {
				fmt.Fprintf(&got, "%s=%s;", k, body)
				return nil
			})
		})
		switch {
		case err != nil && fault.KindOf(err) == fault.Corrupt:
			refused = true
		case err != nil:
			wrong = errors.Join(wrong, err)
		case got.String() != want:
			wrong = errors.Join(wrong, fmt.Errorf("bucket %d holds %.100q, not %q", i, got.String(), want))
		}
	}
	return wrong, refused
}
