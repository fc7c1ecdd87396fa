package store_test

import (
	"context"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/measure"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// smallDisk is a folder on a disk of that many bytes. Where no disk may be mounted,
// the test is skipped.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("######## NOT TESTED: a full disk, since none may be mounted here: %v ########", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Errorf("unmounting: %v", err)
		}
	})
	return dir
}

// On a full disk a change is refused with one sentence and nothing half of it
// stays; when there is room again, the same shop goes on.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	t.Run("from the first change on", func(t *testing.T) { fullDisk(t, 0) })
	t.Run("with the newest entries beside the file", func(t *testing.T) { fullDisk(t, 5) })
}

// fullDisk fills the disk after so many counts.
func fullDisk(t *testing.T, before int64) {
	dir := smallDisk(t, "4m")
	shop, err := store.Open(filepath.Join(dir, "shop.stow"), store.Options{Create: true, Clock: storetest.NewClock(t, storetest.Day).Now})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		t.Fatal(err)
	}
	done := uint64(1)
	for i := range before {
		if _, err := shop.Count(store.StockKey{Item: "AN4-6A", Place: bin.ID}, measure.Pieces(1+i)); err != nil {
			t.Fatal(err)
		}
		done++
	}
	if _, err := os.Stat(shop.File() + ".recent"); (err == nil) != (before > 0) {
		t.Fatalf("the file beside after %d changes: %v", before, err)
	}
	filler := filepath.Join(dir, "filler")
	if err := os.WriteFile(filler, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(filler, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	for err == nil {
		_, err = f.Write(make([]byte, 4096))
	}
	_ = f.Close()
	refused := 0
	for i := range int64(400) {
		var e store.Entry
		var err error
		if i%8 == 7 {
			_, e, err = shop.AddPhoto(store.OfPlace(bin.ID), "", phototest.JPEG(200, 150, uint64(i)))
		} else {
			e, err = shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(i))
		}
		if err == nil {
			if e.Seq != done+1 {
				t.Fatalf("entry %d follows entry %d", e.Seq, done)
			}
			done = e.Seq
			continue
		}
		refused++
		wantRefusal(t, err, store.Internal, "The shop file could not be written: see that the disk has room, then try again.")
		if heaps, err := shop.Stock(); err != nil || len(heaps) > 2 {
			t.Fatalf("reading on a full disk: %v, %v", heaps, err)
		}
		if refused == 1 {
			folder := filepath.Join(dir, "copies")
			if _, err := copies.NewKeeper(shop, "").Make(context.Background(), folder, copies.ByHand); store.KindOf(err) != store.Internal {
				t.Errorf("a copy on a full disk: %v", err)
			}
			if left := names(t, folder); len(left) != 0 {
				t.Errorf("a copy that found no room leaves %v", left)
			}
		}
	}
	if refused == 0 {
		t.Fatal("the disk never filled: the test tests nothing")
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if e, err := shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(7)); err != nil || e.Seq != done+1 {
		t.Errorf("with room again: entry %d after %d, %v", e.Seq, done, err)
	}
	if report, err := shop.Check(context.Background(), nil); err != nil || !report.OK || report.Entries != done+1 {
		t.Errorf("check: %+v, %v", report, err)
	}
	t.Logf("%d changes fitted, %d were refused", done, refused)
}
