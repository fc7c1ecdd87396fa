package store_test

import (
	"context"
	"os"
	"testing"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/disk"
	"stowright/store/disk/disktest"
)

// restoreAll restores a copy of so many entries, puts so many back, and finds the log kept
// with the file as it was.
func restoreAll(t *testing.T, path, from string, entries, back int) {
	t.Helper()
	plan, err := copies.PlanRestoreFrom(context.Background(), path, from)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Missing) != back {
		t.Errorf("%d entries can be put back, want %d", len(plan.Missing), back)
	}
	aside, err := copies.Restore(context.Background(), plan, true)
	if err != nil {
		t.Fatal(err)
	}
	if !disktest.There(disk.LogPath(aside)) {
		t.Errorf("there is no log beside %s", aside)
	}
	store.WantWhole(t, path, uint64(entries+back))
}

// Entries in the log of a damaged file are put back like those that it still has.
func TestRestoreWithTheLog(t *testing.T) {
	c := store.NewCounting(t)
	c.CountMore(6)
	early := c.Copied()
	c.CountMore(4)
	path := c.Crash()
	if err := os.WriteFile(path, []byte("nothing of it is left"), disk.FilePerm); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(path, store.Options{Create: true}); store.KindOf(err) != store.Corrupt {
		t.Errorf("opening: %v", err)
	}
	restoreAll(t, path, early, 7, 4)
}

// An earlier copy in the file's place, which does not go on to the log, can be restored.
func TestRestoreOfAnEarlierCopyWithALaterLog(t *testing.T) {
	t.Parallel()
	c := store.NewCounting(t)
	c.CountMore(6)
	early := c.Copied()
	if _, _, err := c.AddPhoto(store.OfPlace(c.Bin().ID), "", store.KeptPicture(0)); err != nil {
		t.Fatal(err)
	}
	c.CountMore(4)
	path := c.Crash()
	disktest.Copy(t, early, path)
	if _, err := store.Open(path, store.Options{}); store.KindOf(err) != store.Corrupt {
		t.Errorf("opening: %v", err)
	}
	restoreAll(t, path, early, 7, 0)
}
