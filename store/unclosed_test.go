package store

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
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
	var err error
	if c.Shop, err = Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = c.Close() })
	if c.bin, _, err = c.AddPlace(Place{Kind: Bin, Name: "Bin 1"}); err != nil {
		t.Fatal(err)
	}
	return c
}

func (c *counting) count(n int) {
	c.t.Helper()
	for range n {
		last, err := c.Entries(0, 1)
		if err == nil {
			_, err = c.Count(StockKey{Item: fmt.Sprint("R-", last[0].Seq), Place: c.bin.ID}, measure.Pieces(3))
		}
		if err != nil {
			c.t.Fatal(err)
		}
	}
}

// crash leaves the files as a program does that is killed, under another name.
func (c *counting) crash() (path string) {
	c.t.Helper()
	path = filepath.Join(c.t.TempDir(), "shop.stow")
	disktest.Copy(c.t, c.File(), path)
	disktest.Copy(c.t, disk.LogPath(c.File()), disk.LogPath(path))
	return path
}

// copied is a copy of the file as it stands.
func (c *counting) copied() (path string) {
	c.t.Helper()
	path = filepath.Join(c.t.TempDir(), "copy.stow")
	f, err := os.Create(path)
	if err == nil {
		err = c.view(func(tx *disk.Tx) error { _, err := tx.WriteTo(f); return err })
	}
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		c.t.Fatal(err)
	}
	return path
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
	if disktest.There(disk.LogPath(path)) {
		t.Error("the log is still there")
	}
}

// A shop that was not closed is opened with all that was done in it: small entries, one
// that is too large for the log, and one that was undone.
func TestUnclosed(t *testing.T) {
	t.Parallel()
	c := newCounting(t)
	c.count(150)
	wantWhole(t, c.crash(), 151)
	if _, _, err := c.AddCabinet(CabinetSpec{Name: "Large", Prefix: "L", Rows: 40, Columns: 40}); err != nil {
		t.Fatal(err)
	}
	if _, err := c.Undo(); err != nil {
		t.Fatal(err)
	}
	c.count(1)
	path := c.crash()
	s, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if report, err := s.Check(context.Background(), nil); err != nil || !report.OK || report.Entries != 154 {
		t.Errorf("%+v, %v", report, err)
	}
}
