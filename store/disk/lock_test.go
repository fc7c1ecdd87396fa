//go:build windows || (unix && !solaris && !illumos && !aix)

package disk

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

const busy = "busy: Another program has the shop file FILE open: close it there, then try again."

// The lock of a file and having it open keep each other out within a second, and are let
// go of. A file that is damaged is busy as long as another program has it, which may be
// writing it just now.
func TestLock(t *testing.T) {
	t.Parallel()
	y := newToy(t)
	path := newToy(t).closed()
	bad := bare(t, toyBytes(t)[:5*os.Getpagesize()])
	logged := newStages(t).write(t, 4, 4)
	var unlocks []func()
	for _, path := range []string{path, bad, logged} {
		unlock, err := Lock(path)
		if err != nil {
			t.Fatal(err)
		}
		unlocks = append(unlocks, unlock)
	}
	alone := toyOptions()
	alone.Alone = true
	var waits sync.WaitGroup
	for _, row := range []struct {
		name, path string
		try        func(path string) error
	}{
		{"locking what is open", y.path, func(path string) error { _, err := Lock(path); return err }},
		{"locking it again", path, func(path string) error { _, err := Lock(path); return err }},
		{"opening it", path, func(path string) error { _, err := Open(path, toyOptions()); return err }},
		{"opening it to read", path, func(path string) error { _, err := Open(path, alone); return err }},
		{"putting back what is in its log", logged, restoreCheckpoint},
		{"opening a damaged one", bad, func(path string) error { _, err := Open(path, toyOptions()); return err }},
	} {
		waits.Go(func() { // all at once, since each takes half a second
			began := time.Now()
			if err := row.try(row.path); said(err, row.path) != busy {
				t.Errorf("%s: it says %v", row.name, err)
			}
			if took := time.Since(began); took < lockWait/2 {
				t.Errorf("%s: refused after %v already", row.name, took)
			}
		})
	}
	waits.Wait()
	for _, unlock := range unlocks {
		unlock()
	}
	wantWhole(t, path, 1)
	wantWhole(t, logged, 4)
	if _, err := Open(bad, toyOptions()); said(err, bad) != "corrupt: FILE was cut short: keep it, and open a copy made earlier." {
		t.Errorf("the damaged one then: %v", err)
	}
}

// One that waits gets the lock once the other program lets go of it.
func TestLockIsWaitedFor(t *testing.T) {
	t.Parallel()
	path := newToy(t).closed()
	first, err := Lock(path)
	if err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(lockWait/4, first)
	defer timer.Stop()
	second, err := Lock(path)
	if err != nil {
		t.Fatal(err)
	}
	second()
}

// What is not there needs no lock, and has none.
func TestLockOfNothing(t *testing.T) {
	gone := filepath.Join(t.TempDir(), "gone.stow")
	unlock, err := Lock(gone)
	if err != nil {
		t.Fatal(err)
	}
	unlock()
	if _, err := os.Lstat(gone); err == nil {
		t.Error("the file was made")
	}
	under := filepath.Join(toyFile(t), "kit.stow")
	if _, err := Lock(under); said(err, under) != "internal: The shop file FILE cannot be read: see that its disk is there." {
		t.Errorf("under a file: %v", err)
	}
}

// toyFile is a file that is no folder.
func toyFile(t testing.TB) string {
	t.Helper()
	return bare(t, []byte("text"))
}
