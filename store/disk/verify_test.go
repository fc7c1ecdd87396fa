package disk

import (
	"errors"
	"fmt"
	"testing"

	"stowright/store/disk/disktest"
)

func goOn() error { return nil }

// A state that is not the newest one any more is not taken for damaged, however much
// longer the file has become since.
func TestCheckPagesOfAnOlderState(t *testing.T) {
	y := quietToy(t)
	y.put(20)
	view(t, y.File, func(tx *Tx) error {
		size := tx.Size()
		for range 3 {
			update(t, y.File, func(tx *Tx) error { return tx.PutBlob(1, make([]byte, MaxBlob)) })
			if err := tx.CheckPages(); err != nil {
				t.Errorf("of %d bytes: %v", size, err)
			}
		}
		return nil
	})
	view(t, y.File, (*Tx).CheckPages)
}

// A page that is wrong is named, by its number and by what is wrong with it.
func TestCheckPagesNamesThePage(t *testing.T) {
	y := quietToy(t)
	y.put(200)
	view(t, y.File, func(tx *Tx) error {
		root := uint64(tx.bolt.Bucket([]byte(toyThings)).Root())
		size := y.db.Info().PageSize
		overwrite(t, y.path, int64(root)*int64(size), size, func(page []byte) { page[8] = 0x40 })
		var problem *PageError
		if err := tx.CheckPages(); !errors.As(err, &problem) || err.Error() != fmt.Sprintf("page %d is of kind 0x40, neither branch nor leaf", root) {
			t.Errorf("it says %v", err)
		}
		return nil
	})
	if err := y.plain.Close(); err != nil {
		t.Fatal(err)
	}
	err := y.View((*Tx).CheckPages)
	if said(err, y.path) != "corrupt: FILE is damaged, or is not a shop file: keep it, and open a copy made earlier." {
		t.Errorf("of a file that cannot be read: %v", err)
	}
}

// A meta that is lost while the file is open is said to be, whichever of the two it is.
func TestCheckPagesWithoutAMeta(t *testing.T) {
	for slot := range int64(2) {
		y := quietToy(t)
		y.put(5)
		size := y.db.Info().PageSize
		view(t, y.File, func(tx *Tx) error {
			overwrite(t, y.path, slot*int64(size), size, func(page []byte) { clear(page) })
			if err := tx.CheckPages(); said(err, y.path) != "corrupt: FILE is damaged where it says what its last change was: keep it, and open a copy made earlier." {
				t.Errorf("without meta %d: %v", slot, err)
			}
			return nil
		})
	}
}

// ProveAll calls for every record of every bucket, and ends with the error of what it calls.
func TestProveAllGoesOverAll(t *testing.T) {
	y := quietToy(t)
	y.put(10)
	putBlobs(t, y.File, map[uint64][]byte{1: make([]byte, partSize+1), 2: nil})
	const all = 11 + 11 + 11 + 3 // the journal, the things, their index, the parts
	stop := errors.New("enough")
	for _, last := range []int{1, 12, all - 1, all, 0} {
		calls := 0
		err := y.View(func(tx *Tx) error {
			return tx.ProveAll(func() error {
				if calls++; calls == last {
					return stop
				}
				return nil
			})
		})
		want, wantCalls := stop, last
		if last == 0 {
			want, wantCalls = nil, all
		}
		if !errors.Is(err, want) || err == nil && want != nil || calls != wantCalls {
			t.Errorf("stopped at %d: %v after %d calls, want %d", last, err, calls, wantCalls)
		}
	}
}

// One bit anywhere in what a bucket holds, or one record under a key that is not its own, is
// seen by ProveAll, and Examine names the record and goes on.
func TestProveAllSeesAll(t *testing.T) {
	keys := map[string][]byte{
		toyThings: []byte("P-5"), toyByValue: []byte("some\x00P-5"), bucketJournal: SeqKey(5), bucketBlobs: partKey(1, 0),
	}
	for bucket, key := range keys {
		for name, spoil := range map[string]func(raw disktest.Raw) error{
			"a bit": func(raw disktest.Raw) error {
				bad := raw.Get(bucket, key)
				bad[len(bad)-1] ^= 8
				return raw.Put(bucket, key, bad)
			},
			"another key": func(raw disktest.Raw) error {
				moved := raw.Get(bucket, key)
				return errors.Join(raw.Delete(bucket, key), raw.Put(bucket, append(key[:len(key):len(key)], 'x'), moved))
			},
			"cut short": func(raw disktest.Raw) error {
				bad := raw.Get(bucket, key)
				return raw.Put(bucket, key, bad[:len(bad)-1])
			},
		} {
			t.Run(bucket+", "+name, func(t *testing.T) {
				y := quietToy(t)
				y.put(9)
				putBlobs(t, y.File, map[uint64][]byte{1: {1}})
				path := y.closed()
				disktest.Change(t, path, spoil)
				f := reopened(t, path)
				err := f.View(func(tx *Tx) error { return tx.ProveAll(goOn) })
				if said(err, path) != "corrupt: FILE is damaged: keep it, and open a copy made earlier." {
					t.Errorf("ProveAll says %v", err)
				}
				damaged, right := 0, 0
				view(t, f, func(tx *Tx) error {
					b, err := tx.open(bucket)
					if err != nil {
						return err
					}
					return b.plain.Examine(func(_, body []byte, damage error) error {
						if damage == nil {
							right++
						} else {
							damaged++
						}
						return nil
					})
				})
				if want := map[bool]int{true: 0, false: 9}[bucket == bucketBlobs]; damaged != 1 || right != want {
					t.Errorf("%d are damaged and %d right, want 1 and %d", damaged, right, want)
				}
			})
		}
	}
}

// Examine ends with the error of what it calls, and without one where that says enough.
func TestExamineEnds(t *testing.T) {
	y := quietToy(t)
	y.put(3)
	no := errors.New("no")
	for end, want := range map[error]error{no: no, ErrStop: nil} {
		called := 0
		err := y.View(writing(outsideThings, func(b *Bucket) error {
			return b.Examine(func(_, _ []byte, _ error) error { called++; return end })
		}))
		if !errors.Is(err, want) || called != 1 {
			t.Errorf("%v after %d calls, want %v after one", err, called, want)
		}
	}
}
