package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store/measure"
)

// counting is a shop whose places are counted: entry 1 made the bin, each other one is a
// count of the items and so on.
type counting struct {
	*Shop
	t   *testing.T
	bin Place
}

func newCounting(t *testing.T) *counting {
	t.Helper()
	c := &counting{t: t}
	c.open(filepath.Join(t.TempDir(), "shop.stow"))
	var err error
	if c.bin, _, err = c.AddPlace(Place{Kind: Bin, Name: "Bin 1"}); err != nil {
		t.Fatal(err)
	}
	return c
}

func (c *counting) open(path string) {
	c.t.Helper()
	var err error
	if c.Shop, err = Open(path, Options{Create: true}); err != nil {
		c.t.Fatal(err)
	}
	c.t.Cleanup(func() { _ = c.Close() })
}

func (c *counting) count(n int) {
	c.t.Helper()
	for range n {
		if err := c.countOne(); err != nil {
			c.t.Fatal(err)
		}
	}
}

func (c *counting) countOne() error {
	last, err := c.Entries(0, 1)
	if err != nil {
		return err
	}
	_, err = c.Count(StockKey{Item: fmt.Sprint("R-", last[0].Seq), Place: c.bin.ID}, measure.Pieces(3))
	return err
}

// crash leaves the files as a program does that is killed, under another name.
func (c *counting) crash() (path string) {
	c.t.Helper()
	path = filepath.Join(c.t.TempDir(), "shop.stow")
	copyFile(c.t, c.path, path)
	copyFile(c.t, recentPath(c.path), recentPath(path))
	return path
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, filePerm)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func there(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// wantWhole opens a file, which must have so many entries and stocks that add up to them.
func wantWhole(t *testing.T, path string, entries uint64) {
	t.Helper()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatalf("opening: %v", err)
	}
	defer s.Close()
	report, err := s.Check(context.Background(), nil)
	if err != nil || !report.OK || report.Entries != entries {
		t.Errorf("check: %+v, %v; want %d entries", report, err, entries)
	}
	if stock, err := s.Stock(); err != nil || uint64(len(stock)) != entries-1 {
		t.Errorf("%d heaps, %v; want %d", len(stock), err, entries-1)
	}
	if there(recentPath(path)) {
		t.Error("the file beside is still there")
	}
}

func TestBesideOnlyWhileWorking(t *testing.T) {
	c := newCounting(t)
	if there(recentPath(c.path)) {
		t.Error("there is a file beside after one change")
	}
	c.count(2)
	info, err := os.Stat(recentPath(c.path))
	if err != nil || info.Mode().Perm() != filePerm || info.Size() != recentLength {
		t.Errorf("after more: %v, %v; want a file of %d bytes for its owner", info, err, recentLength)
	}
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, c.path, 3)
}

// More entries than there is room for, and one that is too large for it, move the base.
func TestBesideGetsFull(t *testing.T) {
	c := newCounting(t)
	c.count(2*recentLength/recentPage + 7)
	if c.recent.generation < 3 {
		t.Errorf("the base was moved %d times", c.recent.generation-1)
	}
	wantWhole(t, c.crash(), 2*recentLength/recentPage+8)
	before := c.recent.generation
	if _, _, err := c.AddCabinet(CabinetSpec{Name: "Large", Prefix: "L", Rows: 40, Columns: 40}); err != nil {
		t.Fatal(err)
	}
	if c.recent.generation != before+1 {
		t.Errorf("a large entry moved the base %d times, want once", c.recent.generation-before)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	path := c.crash()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if report, err := s.Check(context.Background(), nil); err != nil || !report.OK || report.Entries != 2*recentLength/recentPage+10 {
		t.Errorf("%+v, %v", report, err)
	}
}

// A small shop stays a small file, however many changes it has seen.
func TestBesideKeepsTheFileSmall(t *testing.T) {
	c := newCounting(t)
	c.count(300)
	size := func() (size int64) {
		if err := c.view(func(tx *bbolt.Tx) error { size = tx.Size(); return nil }); err != nil {
			t.Fatal(err)
		}
		return size
	}
	if got := size(); got > 4*mostHeld {
		t.Errorf("after 300 counts %d bytes", got)
	}
	before := size()
	for range 150 {
		for range 2 {
			if _, err := c.Count(StockKey{Item: "R-1", Place: c.bin.ID}, measure.Pieces(3)); err != nil {
				t.Fatal(err)
			}
		}
	}
	if grown := size() - before; grown > 2*mostHeld {
		t.Errorf("300 more of the same add %d bytes", grown)
	}
}

// Where no more of the file may be mapped while the base is held, the base is let go of.
func TestBesideWhenTheMapEnds(t *testing.T) {
	c := newCounting(t)
	c.count(2)
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	c.open(c.path)
	// As on a machine that maps no further than it has to.
	for !c.forgetting.CompareAndSwap(false, true) { // nobody else looks at the file
		time.Sleep(time.Millisecond)
	}
	if err := c.db.Close(); err != nil {
		t.Fatal(err)
	}
	var err error
	if c.db, err = bbolt.Open(c.path, filePerm, nil); err != nil {
		t.Fatal(err)
	}
	c.mapped = 0
	done := make(chan error, 1)
	go func() {
		var err error
		for i := 0; i < 300 && err == nil; i++ {
			err = c.countOne()
		}
		done <- err
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("a change waits for ever")
	}
	wantWhole(t, c.crash(), 303)
}

func TestBesideTakenAway(t *testing.T) {
	c := newCounting(t)
	c.count(5)
	if err := os.Remove(recentPath(c.path)); err != nil {
		t.Fatal(err)
	}
	c.count(5)
	wantWhole(t, c.crash(), 11)
	// And where another one cannot be made, it goes without.
	if err := os.Remove(recentPath(c.path)); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(recentPath(c.path), folderPerm); err != nil {
		t.Fatal(err)
	}
	c.count(5)
	if c.recent != nil || c.db.NoSync {
		t.Error("changes are not waited for, and are nowhere else")
	}
	if err := os.Remove(recentPath(c.path)); err != nil {
		t.Fatal(err)
	}
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, c.path, 16)
}

// When it is not known what is on the disk, nothing more is written, and what was said
// to be done is there when the shop is opened again.
func TestBesideCannotBeWritten(t *testing.T) {
	c := newCounting(t)
	c.count(5)
	if err := c.recent.file.Close(); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := c.countOne(); KindOf(err) != Internal {
			t.Errorf("a change that is not kept: %v", err)
		}
	}
	if err := c.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, c.path, 6)
}

func TestBesideOfAnotherFile(t *testing.T) {
	one, other := newCounting(t), newCounting(t)
	one.count(6)
	early := filepath.Join(t.TempDir(), "early.stow")
	if err := one.db.View(func(tx *bbolt.Tx) error { return tx.CopyFile(early, filePerm) }); err != nil {
		t.Fatal(err)
	}
	// A base that the early one does not have.
	if _, _, err := one.AddPhoto(OfPlace(one.bin.ID), "", keptPicture(0)); err != nil {
		t.Fatal(err)
	}
	one.count(4)
	other.count(20)
	late := filepath.Join(t.TempDir(), "late.stow")
	if err := one.db.View(func(tx *bbolt.Tx) error { return tx.CopyFile(late, filePerm) }); err != nil {
		t.Fatal(err)
	}

	t.Run("of another shop", func(t *testing.T) {
		path := one.crash()
		copyFile(t, other.path, path)
		wantBeside(t, path, "are of another file")
	})
	t.Run("of a file that is gone", func(t *testing.T) {
		path := one.crash()
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		wantBeside(t, path, "is gone")
	})
	t.Run("of an earlier copy", func(t *testing.T) {
		path := one.crash()
		copyFile(t, early, path)
		wantBeside(t, path, "are of another file")
		restoreAll(t, path, early, 7, 0)
	})
	t.Run("of a copy with all of it", func(t *testing.T) {
		path := one.crash()
		copyFile(t, late, path)
		s, err := Open(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if report, err := s.Check(context.Background(), nil); err != nil || report.Entries != 12 {
			t.Errorf("%+v, %v; want the twelve entries of the copy", report, err)
		}
	})
	t.Run("of a file that lost its pages", func(t *testing.T) {
		path := one.crash()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		clear(data[2*one.db.Info().PageSize:])
		if err := os.WriteFile(path, data, filePerm); err != nil {
			t.Fatal(err)
		}
		wantBeside(t, path, "is damaged")
	})
	t.Run("that was just begun", func(t *testing.T) {
		path := other.crash()
		if err := os.WriteFile(recentPath(path), make([]byte, 5000), filePerm); err != nil {
			t.Fatal(err)
		}
		wantWhole(t, path, 21)
	})
}

// wantBeside refuses to open a file, and changes nothing.
func wantBeside(t *testing.T, path, says string) {
	t.Helper()
	was, _ := os.ReadFile(path)
	beside, _ := os.ReadFile(recentPath(path))
	_, err := Open(path, Options{Create: true})
	if KindOf(err) != Corrupt || !strings.Contains(err.Error(), says) {
		t.Errorf("opening: %v; want it refused as damaged, as it %s", err, says)
	}
	if now, _ := os.ReadFile(path); !bytes.Equal(was, now) {
		t.Error("the shop file has changed")
	}
	if now, _ := os.ReadFile(recentPath(path)); !bytes.Equal(beside, now) {
		t.Error("the file beside has changed")
	}
}

// restoreAll restores a copy of so many entries, puts so many back, and finds the file
// beside kept with the file as it was.
func restoreAll(t *testing.T, path, from string, entries, back int) {
	t.Helper()
	plan, err := PlanRestoreFrom(context.Background(), path, from)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Missing) != back {
		t.Errorf("%d entries can be put back, want %d", len(plan.Missing), back)
	}
	aside, err := Restore(context.Background(), plan, true)
	if err != nil {
		t.Fatal(err)
	}
	if !there(recentPath(aside)) {
		t.Errorf("beside %s are no newest entries", aside)
	}
	wantWhole(t, path, uint64(entries+back))
}

// Entries that lie beside a damaged file are put back like those that it still has.
func TestRestoreWithWhatLiesBeside(t *testing.T) {
	c := newCounting(t)
	c.count(6)
	early := filepath.Join(t.TempDir(), "early.stow")
	if err := c.db.View(func(tx *bbolt.Tx) error { return tx.CopyFile(early, filePerm) }); err != nil {
		t.Fatal(err)
	}
	c.count(4)
	path := c.crash()
	if err := os.WriteFile(path, []byte("nothing of it is left"), filePerm); err != nil {
		t.Fatal(err)
	}
	wantBeside(t, path, "is damaged")
	restoreAll(t, path, early, 7, 4)
}

// Whatever happens to the file beside a shop that was killed: what opens is the shop as
// it was, or as it was before its last change, which nobody may have been told of.
func TestBesideDamaged(t *testing.T) {
	c := newCounting(t)
	c.count(12)
	path := c.crash()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	beside, err := os.ReadFile(recentPath(path))
	if err != nil {
		t.Fatal(err)
	}
	used := firstRecent + 12*recentPage
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	refused, opened := 0, 0
	for range 300 {
		bad := bytes.Clone(beside)
		switch r.IntN(4) {
		case 0: // cut short
			bad = bad[:r.IntN(used)]
		case 1: // a page is gone
			page := r.IntN(used / recentPage)
			clear(bad[page*recentPage : (page+1)*recentPage])
		default: // a byte has changed
			page := r.IntN(used / recentPage)
			bad[page*recentPage+r.IntN(400)] ^= byte(1 + r.IntN(255))
		}
		if err := errors.Join(os.WriteFile(path, file, filePerm), os.WriteFile(recentPath(path), bad, filePerm)); err != nil {
			t.Fatal(err)
		}
		s, err := Open(path, Options{})
		if KindOf(err) == Corrupt && err != nil {
			refused++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		opened++
		report, err := s.Check(context.Background(), nil)
		if err != nil || !report.OK || report.Entries != 13 && report.Entries != 12 {
			t.Errorf("%+v, %v; want 13 entries, or 12", report, err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if refused == 0 || opened == 0 {
		t.Errorf("%d refused, %d opened: nothing is proven", refused, opened)
	}
}

// Of whatever bytes lie beside a shop, what is read follows the base without a gap.
func FuzzBeside(f *testing.F) {
	f.Add([]byte{})
	f.Add(make([]byte, recentLength))
	page := func(v any) []byte {
		body, err := encode(v)
		if err != nil {
			f.Fatal(err)
		}
		sealed := seal(body)
		return append(sealed, make([]byte, recentPages(len(sealed))-int64(len(sealed)))...)
	}
	first := Entry{Seq: 5, Text: "one", Prev: "00000000"}
	body, err := encode(first)
	if err != nil {
		f.Fatal(err)
	}
	begin := append(page(base{Generation: 1, Seq: 4, Sum: "00000000"}), page(base{Generation: 2, Seq: 4, Sum: "00000000"})...)
	f.Add(append(append(begin, page(first)...), page(Entry{Seq: 6, Text: "two", Prev: checksum(body)})...))
	path := filepath.Join(f.TempDir(), "shop.stow.recent")
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := os.WriteFile(path, data, filePerm); err != nil {
			t.Fatal(err)
		}
		b, entries, err := readRecent(path)
		if err != nil {
			return
		}
		end := journalEnd{b.Seq, b.Sum}
		for _, e := range entries {
			if e.Seq != end.seq+1 || e.Prev != end.sum || checksum(e.body) != e.sum {
				t.Errorf("entry %d with %q follows %v", e.Seq, e.Prev, end)
			}
			end = journalEnd{e.Seq, e.sum}
		}
	})
}
