package disk

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"

	"stowright/store/fault"
)

// What is known of a file after a change is what looking at all of it would say, whatever the
// change was: trees that grow, shrink, begin and end, and buckets that are made.
func TestStateIsKeptUpToDate(t *testing.T) {
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	y := quietToy(t)
	deep := 0
	for round := range 60 {
		err := y.Update(func(tx *Tx) error {
			b, err := tx.Bucket(toyThings)
			for i := 0; i < 60 && err == nil; i++ {
				key := fmt.Appendf(nil, "%c%03d%s", 'a'+r.IntN(3), r.IntN(200), strings.Repeat("k", 250))
				if round%20 > 12 || round%20 < 6 && r.IntN(3) == 0 {
					err = b.Delete(key)
				} else {
					err = b.Put(key, []byte(strings.Repeat("x", r.IntN(400))))
				}
			}
			switch r.IntN(6) {
			case 0:
				err = errors.Join(err, tx.PutBlob(uint64(round), make([]byte, r.IntN(3*partSize))))
			case 1:
				err = errors.Join(err, tx.CreateBucket(fmt.Sprint("more", round)))
			case 2:
				err = errors.Join(err, tx.SetFormat(KeysSealed))
			case 3:
				err = errors.Join(err, putting(tx, map[string]string{fmt.Sprint("P-", round): "some"}))
			}
			if err == nil && r.IntN(5) == 0 {
				return ErrStop // so it is undone
			}
			return err
		})
		if ended(err) != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		err = y.db.View(func(tx *bbolt.Tx) error {
			want, err := y.look(tx)
			if d := cmp.Diff(want, y.state.Load(), cmp.AllowUnexported(state{}, shape{})); d != "" {
				return fmt.Errorf("round %d (-is +known):\n%s", round, d)
			}
			deep = max(deep, want.tree(toyThings).depth)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if deep < 2 {
		t.Errorf("the deepest tree has %d branches over a leaf: nothing is proven", deep)
	}
}

// Of a state that is not the one that is known, only its list of free pages is told, and only
// where its meta is still there.
func TestStateOf(t *testing.T) {
	y := quietToy(t)
	y.put(3)
	known := y.state.Load()
	view(t, y.File, func(tx *Tx) error {
		if tx.state != known || known.tx != uint64(tx.bolt.ID()) {
			t.Errorf("of transaction %d that of %d is told", tx.bolt.ID(), tx.state.tx)
		}
		y.state.Store(nil)
		if got := y.stateOf(tx.bolt); got.tx != known.tx || got.freelist != known.freelist || len(got.trees) != 0 {
			t.Errorf("without one that is known it is %+v, want that of %+v", got, known)
		}
		return nil
	})
	y.state.Store(known)
	update(t, y.File, func(tx *Tx) error {
		if tx.state != known {
			t.Errorf("a change begins with %+v, want %+v", tx.state, known)
		}
		return nil
	})
	m := mappedPages{data: make([]byte, 4*laidPage), pageSize: laidPage}
	for slot, meta := range []struct{ tx, free uint64 }{{8, 33}, {7, 44}} {
		raw := m.data[slot*laidPage+pageHeader:]
		binary.NativeEndian.PutUint64(raw[metaTx:], meta.tx)
		binary.NativeEndian.PutUint64(raw[metaFree:], meta.free)
	}
	for tx, want := range map[uint64]uint64{8: 33, 7: 44, 6: 0, 9: 0, 10: 0} {
		if got := m.freelistOf(tx); got != want {
			t.Errorf("that of transaction %d is on page %d, want %d", tx, got, want)
		}
	}
}

// A file of which nothing is known but what its pages say is read and written as well.
func TestWithoutState(t *testing.T) {
	y := quietToy(t)
	y.put(200)
	y.state.Store(nil)
	view(t, y.File, func(tx *Tx) error { return whole(tx, 201) })
	y.state.Store(nil)
	y.put(1)
	view(t, y.File, func(tx *Tx) error { return whole(tx, 202) })
}

// Where the pages are not those of the state that is known, what is asked for is refused, and
// nothing is written.
func TestAnotherState(t *testing.T) {
	for name, spoil := range map[string]func(s *state){
		"another list of free pages": func(s *state) { s.freelist = s.tree(toyThings).root },
		"one past the end":           func(s *state) { s.freelist = 1 << 40 },
		"another root":               func(s *state) { s.tree(toyThings).root = s.tree(bucketJournal).root },
		"no root":                    func(s *state) { s.tree(toyThings).root = 0 },
		"deeper":                     func(s *state) { s.tree(toyThings).depth++ },
		"less deep":                  func(s *state) { s.tree(toyThings).depth-- },
	} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			y.put(200)
			err := y.db.View(func(tx *bbolt.Tx) error {
				other, err := y.look(tx)
				spoil(other)
				y.state.Store(other)
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			known := y.state.Load()
			get := func(b *Bucket) error { _, err := b.Get([]byte("P-1")); return err }
			for what, err := range map[string]error{
				"a look":  y.View(writing(outsideThings, get)),
				"a scan":  y.View(writing(outsideThings, func(b *Bucket) error { return b.Scan(nil, func(_, _ []byte) error { return nil }) })),
				"a pass":  y.View(writing(outsideThings, func(b *Bucket) error { return b.ScanUnmapped(nil, func(_, _ []byte) error { return nil }) })),
				"a write": y.Update(writing(outsideThings, func(b *Bucket) error { return b.Put([]byte("Q"), nil) })),
			} {
				if said(err, y.path) != "corrupt: FILE is damaged: keep it, and open a copy made earlier." {
					t.Errorf("%s says %v", what, err)
				}
			}
			if y.state.Load() != known || y.broken.Load() {
				t.Error("something was written")
			}
		})
	}
}

// The tree of the buckets themselves is proven before anything is written.
func TestBucketsAreProven(t *testing.T) {
	for name, spoil := range map[string]func(page []byte){
		"another number": func(p []byte) { p[0]++ },
		"no leaf":        func(p []byte) { p[8] = freePage },
		"one more entry": func(p []byte) { p[10]++ },
		"a longer page":  func(p []byte) { p[12]++ },
	} {
		t.Run(name, func(t *testing.T) {
			y := quietToy(t)
			y.put(5)
			root, size := uint64(0), y.db.Info().PageSize
			if err := y.db.View(func(tx *bbolt.Tx) error { root = uint64(tx.Cursor().Bucket().Root()); return nil }); err != nil {
				t.Fatal(err)
			}
			overwrite(t, y.path, int64(root)*int64(size), size, spoil)
			called := false
			err := y.Update(func(*Tx) error { called = true; return nil })
			if said(err, y.path) != "corrupt: FILE is damaged: keep it, and open a copy made earlier." || called {
				t.Errorf("called %t: %v", called, err)
			}
		})
	}
	// And where there are so many that they branch.
	y := quietToy(t)
	update(t, y.File, func(tx *Tx) error {
		for i := range 300 {
			if err := tx.CreateBucket(fmt.Sprintf("%03d%s", i, strings.Repeat("b", 40))); err != nil {
				return err
			}
		}
		return nil
	})
	root, size := uint64(0), y.db.Info().PageSize
	if err := y.db.View(func(tx *bbolt.Tx) error { root = uint64(tx.Cursor().Bucket().Root()); return nil }); err != nil {
		t.Fatal(err)
	}
	y.put(1)
	if err := y.db.View(func(tx *bbolt.Tx) error { root = uint64(tx.Cursor().Bucket().Root()); return nil }); err != nil {
		t.Fatal(err)
	}
	overwrite(t, y.path, int64(root)*int64(size), size, func(page []byte) {
		if p := mappedPage(page); p.flags() != branchPage {
			t.Fatal("the buckets do not branch: nothing is proven")
		} else {
			p.key(1)[0] ^= 1
		}
	})
	if err := y.putOne(); fault.KindOf(err) != fault.Corrupt || y.broken.Load() {
		t.Errorf("a key that is wrong in the branch: %v, after a panic: %t", err, y.broken.Load())
	}
}
