package disk

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/disk/disktest"
)

// someBytes are as many bytes that are like no others.
func someBytes(n int, seed uint64) []byte {
	r := rand.NewChaCha8([32]byte{byte(seed)})
	out := make([]byte, n)
	_, _ = r.Read(out)
	return out
}

// putBlobs puts blobs by number, each in a transaction of its own.
func putBlobs(t testing.TB, f *File, blobs map[uint64][]byte) {
	t.Helper()
	for number, blob := range blobs {
		update(t, f, func(tx *Tx) error { return tx.PutBlob(number, blob) })
	}
}

// A blob comes back as it was put, whatever its length is to that of a part, in the
// transaction that put it and after the file was closed.
func TestBlobsComeBack(t *testing.T) {
	y := quietToy(t)
	lengths := map[int]int{ // bytes, and how many parts they are
		0: 1, 1: 1, partSize - 1: 1, partSize: 1, partSize + 1: 2, 2 * partSize: 2, MaxBlob - 1: maxParts, MaxBlob: maxParts,
	}
	same := func(tx *Tx, number uint64, want []byte) {
		t.Helper()
		got, err := tx.Blob(number)
		if err != nil || got == nil || !bytes.Equal(got, want) {
			t.Errorf("of %d bytes %d come back, %v", len(want), len(got), err)
		}
		var shown []byte
		parts, err := tx.BlobParts(number, func(raw []byte) {
			if len(raw) > partSize {
				t.Errorf("a part has %d bytes", len(raw))
			}
			shown = append(shown, raw...)
		})
		if err != nil || parts != lengths[len(want)] || !bytes.Equal(shown, want) {
			t.Errorf("%d bytes are %d in %d parts, %v; want %d parts", len(want), len(shown), parts, err, lengths[len(want)])
		}
	}
	for length := range lengths {
		update(t, y.File, func(tx *Tx) error {
			number, blob := uint64(length+1), someBytes(length, 1)
			err := tx.PutBlob(number, blob)
			same(tx, number, blob)
			clear(blob) // a copy was put
			return err
		})
	}
	view(t, reopened(t, y.closed()), func(tx *Tx) error {
		for length := range lengths {
			same(tx, uint64(length+1), someBytes(length, 1))
		}
		return nil
	})
}

// What is asked of blobs by number is answered as by a list of them.
func TestBlobNumbers(t *testing.T) {
	type listed struct {
		Number uint64
		Parts  int
	}
	for name, numbers := range map[string][]uint64{
		"none":            nil,
		"the first":       {1},
		"one behind":      {7},
		"a gap":           {1, 2, 5},
		"the highest one": {3, 1<<64 - 2},
	} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			blobs, want := map[uint64][]byte{}, []listed{}
			for i, n := range numbers {
				blobs[n] = make([]byte, i*partSize+1)
				want = append(want, listed{n, i + 1})
			}
			putBlobs(t, y.File, blobs)
			view(t, y.File, func(tx *Tx) error {
				got := []listed{}
				err := tx.BlobNumbers(func(number uint64, parts int) error {
					got = append(got, listed{number, parts})
					return nil
				})
				if d := cmp.Diff(want, got); d != "" || err != nil {
					t.Errorf("the numbers, %v (-want +got):\n%s", err, d)
				}
				last, err := tx.LastBlob(^uint64(0))
				if wanted := slices.Max(append([]uint64{0}, numbers...)); err != nil || last != wanted {
					t.Errorf("the last is %d, %v; want %d", last, err, wanted)
				}
				for after := range uint64(9) {
					at := slices.IndexFunc(numbers, func(n uint64) bool { return n > after })
					wanted := uint64(0)
					if at >= 0 {
						wanted = numbers[at]
					}
					if next, err := tx.NextBlob(after); err != nil || next != wanted {
						t.Errorf("after %d comes %d, %v; want %d", after, next, err, wanted)
					}
					got, err := tx.Blob(after)
					if _, there := blobs[after]; err != nil || (got != nil) != there {
						t.Errorf("blob %d is there: %t, %v", after, got != nil, err)
					}
				}
				return nil
			})
		})
	}
}

// BlobNumbers ends with the error of what it calls, at whichever blob.
func TestBlobNumbersEnd(t *testing.T) {
	y := quietToy(t)
	putBlobs(t, y.File, map[uint64][]byte{1: {1}, 2: {2}, 3: {3}})
	for stop := uint64(1); stop <= 3; stop++ {
		var heard []uint64
		err := y.View(func(tx *Tx) error {
			return tx.BlobNumbers(func(number uint64, _ int) error {
				if heard = append(heard, number); number == stop {
					return fmt.Errorf("at %d", number)
				}
				return nil
			})
		})
		if err == nil || err.Error() != fmt.Sprint("at ", stop) || len(heard) != int(stop) {
			t.Errorf("asked to end at %d: %v after %v", stop, err, heard)
		}
	}
}

// One that is too large is refused before anything of it is written.
func TestBlobTooLarge(t *testing.T) {
	y := quietToy(t)
	update(t, y.File, func(tx *Tx) error {
		if err := tx.PutBlob(1, make([]byte, MaxBlob+1)); err == nil {
			t.Error("more than the most bytes are taken")
		}
		if got, err := tx.Blob(1); got != nil || err != nil {
			t.Errorf("%d bytes of it are there, %v", len(got), err)
		}
		return nil
	})
}

// Whatever happened to the parts of a blob, its bytes are right or it is refused.
func TestDamagedBlobs(t *testing.T) {
	const parts = 3
	one, two := someBytes(parts*partSize-5, 1), someBytes(parts*partSize-5, 2)
	part := func(blob uint64, index, of int) []byte {
		from := one
		if blob == 2 {
			from = two
		}
		return sealPart(blob, index, of, from[index*partSize:min(len(from), (index+1)*partSize)])
	}
	for _, row := range []struct {
		name   string
		change func(raw disktest.Raw) error
		want   string // what is said of blob 1; empty: it is there
		none   bool   // it is taken for one that was never there
	}{
		{"nothing", func(disktest.Raw) error { return nil }, "", false},
		{"the first part is gone", func(r disktest.Raw) error { return r.Delete(bucketBlobs, partKey(1, 0)) }, "part 1 of blob 1 is filed under 00000000000000010001", false},
		{"one between is gone", func(r disktest.Raw) error { return r.Delete(bucketBlobs, partKey(1, 1)) }, "part 2 of blob 1 is filed under 00000000000000010002", false},
		{"the last part is gone", func(r disktest.Raw) error { return r.Delete(bucketBlobs, partKey(1, 2)) }, "blob 1 ends after part 2", false},
		{"part 1 twice", func(r disktest.Raw) error { return r.Put(bucketBlobs, partKey(1, 1), part(1, 0, parts)) }, "part 0 of blob 1 is filed under 00000000000000010001", false},
		{"a part of another blob", func(r disktest.Raw) error { return r.Put(bucketBlobs, partKey(1, 1), part(2, 1, parts)) }, "part 1 of blob 2 is filed under 00000000000000010001", false},
		{"a longer key", func(r disktest.Raw) error {
			return r.Put(bucketBlobs, append(partKey(1, 0), 0), part(1, 0, parts))
		}, "part 0 of blob 1 is filed under 0000000000000001000000", false},
		{"no envelope", func(r disktest.Raw) error { return r.Put(bucketBlobs, partKey(1, 1), []byte("JPEG")) }, "a part of 4 bytes has a damaged envelope", false},
		{"a byte too many", func(r disktest.Raw) error {
			return r.Put(bucketBlobs, partKey(1, 1), append(part(1, 1, parts), '}'))
		}, fmt.Sprintf("a part of %d bytes has a damaged envelope", len(part(1, 1, parts))+1), false},
		{"a bit", func(r disktest.Raw) error {
			bad := part(1, 1, parts)
			bad[len(bad)/2] ^= 4
			return r.Put(bucketBlobs, partKey(1, 1), bad)
		}, "", false},
		{"all of it", func(r disktest.Raw) error {
			for i := range parts {
				if err := r.Delete(bucketBlobs, partKey(1, i)); err != nil {
					return err
				}
			}
			return nil
		}, "", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			y := quietToy(t)
			putBlobs(t, y.File, map[uint64][]byte{1: one, 2: two})
			path := y.closed()
			disktest.Change(t, path, row.change)
			view(t, reopened(t, path), func(tx *Tx) error {
				got, err := tx.Blob(1)
				switch {
				case row.name == "a bit": // the sum that it has is not ours to say
					if err == nil || got != nil {
						t.Errorf("%d bytes are read of it", len(got))
					}
				case row.want != "":
					if err == nil || err.Error() != row.want || got != nil {
						t.Errorf("it is refused by %v, want %q", err, row.want)
					}
				case err != nil || row.none != (got == nil) || got != nil && !bytes.Equal(got, one):
					t.Errorf("%d bytes, %v", len(got), err)
				}
				if got, err := tx.Blob(2); err != nil || !bytes.Equal(got, two) {
					t.Errorf("the other one has %d bytes, %v", len(got), err)
				}
				return nil
			})
		})
	}
}

// A key that no part has is said to be damage by all that goes by keys.
func TestStrangeKeyAmongBlobs(t *testing.T) {
	for name, key := range map[string][]byte{"a short one": SeqKey(3), "a long one": append(partKey(3, 0), 1)} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			putBlobs(t, y.File, map[uint64][]byte{1: {1}})
			path := y.closed()
			disktest.Change(t, path, func(raw disktest.Raw) error { return raw.Put(bucketBlobs, key, sealPart(3, 0, 1, nil)) })
			view(t, reopened(t, path), func(tx *Tx) error {
				const want = "corrupt: FILE is damaged: keep it, and open a copy made earlier."
				if err := tx.BlobNumbers(func(uint64, int) error { return nil }); said(err, path) != want {
					t.Errorf("the numbers: %v", err)
				}
				if next, err := tx.NextBlob(1); said(err, path) != want || next != 0 {
					t.Errorf("the next is %d, %v", next, err)
				}
				if last, err := tx.LastBlob(^uint64(0)); err == nil || last != 0 {
					t.Errorf("the last is %d, %v", last, err)
				}
				return nil
			})
		})
	}
}

// Where parts of a blob that was not asked for are damaged, what was asked for is not proven.
func TestNextBlobProvesItsNeighbours(t *testing.T) {
	for name, row := range map[string]struct {
		spoilt uint64
		after  uint64
	}{"the one before": {1, 1}, "the one that is next": {2, 1}, "the only one before the end": {2, 2}} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			putBlobs(t, y.File, map[uint64][]byte{1: {1}, 2: {2}})
			path := y.closed()
			disktest.Change(t, path, func(raw disktest.Raw) error {
				bad := raw.Get(bucketBlobs, partKey(row.spoilt, 0))
				bad[len(bad)-2] ^= 1
				return raw.Put(bucketBlobs, partKey(row.spoilt, 0), bad)
			})
			err := reopened(t, path).View(func(tx *Tx) error {
				_, err := tx.NextBlob(row.after)
				return err
			})
			if got := said(err, path); got != `corrupt: A record of the table "pictures" is damaged: keep the file, and open a copy made earlier.` {
				t.Errorf("got %q", got)
			}
		})
	}
}

// FuzzPart opens anything as a part: what opens is what would be sealed.
func FuzzPart(f *testing.F) {
	f.Add(sealPart(1, 0, 1, nil))
	f.Add(sealPart(1<<64-1, 31, 32, []byte("JPEG")))
	f.Add([]byte(envelopePrefix + `00000000","picture":1,"part":0,"parts":1,"bytes":2,"jpeg":ab}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, raw, err := openPart(data)
		if err == nil && !bytes.Equal(sealPart(p.blob, p.index, p.parts, raw), data) {
			t.Fatalf("%q is read as %+v with %q, which is sealed otherwise", data, p, raw)
		}
	})
}
