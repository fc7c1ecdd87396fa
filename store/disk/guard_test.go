package disk

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store/disk/disktest"
)

// A panic over the file is an error, after which nothing is done with the file any more; it
// closes all the same, whatever locks were lost.
func TestPanicOverTheFile(t *testing.T) {
	t.Parallel() // it waits for a lock that nobody lets go of
	const damaged = "corrupt: FILE is damaged: keep it, and open a copy made earlier."
	for name, spoil := range map[string]func(y *toy) error{
		"in a reading": func(y *toy) error {
			return y.View(func(tx *Tx) error { return tx.bolt.Bucket([]byte(toyThings)).ForEach(nil) }) // calls nothing within bbolt
		},
		"in a writing": func(y *toy) error {
			return y.Update(func(tx *Tx) error { return tx.bolt.Bucket([]byte(toyThings)).ForEach(nil) })
		},
		"with a lock that is lost": func(y *toy) error {
			return y.guard(func() error {
				if _, err := y.db.Begin(true); err != nil {
					return err
				}
				return y.db.View(func(tx *bbolt.Tx) error { return tx.Bucket([]byte(toyThings)).ForEach(nil) })
			})
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := newToy(t)
			y.put(3)
			if err := spoil(y); said(err, y.path) != damaged || !errors.Is(err, errPanicked) {
				t.Fatalf("it says %v", err)
			}
			called := false
			do := func(*Tx) error { called = true; return nil }
			if err := y.View(do); said(err, y.path) != damaged {
				t.Errorf("reading then: %v", err)
			}
			if err := y.Update(do); said(err, y.path) != damaged || called {
				t.Errorf("writing then: %v", err)
			}
			path, began := y.crash(), time.Now()
			_ = y.Close()
			if took := time.Since(began); took > closeWait+2*time.Second {
				t.Errorf("closing took %v", took)
			}
			if !disktest.There(LogPath(y.path)) {
				t.Error("the log is gone, and what is in it")
			}
			wantWhole(t, path, 4)
		})
	}
}

// A fault that is none of the file's is not told from where it came, so it goes on, and the
// file is used on.
func TestPanicOfOurs(t *testing.T) {
	y := newToy(t)
	func() {
		defer func() {
			if recover() == nil {
				t.Error("it was hidden")
			}
		}()
		_ = y.View(func(*Tx) error { panic("ours") })
	}()
	if y.broken.Load() {
		t.Error("the file is taken for damaged")
	}
	y.put(1)
	view(t, y.File, func(tx *Tx) error { return whole(tx, 2) })
}

// A name is that of an open file as long as it leads to it.
func TestNamed(t *testing.T) {
	path := bare(t, []byte("text"))
	f := openedRaw(t, path)
	is := func(want bool, what string) {
		t.Helper()
		if got := named(f, path); got != want {
			t.Errorf("%s: it is named %t", what, got)
		}
	}
	is(true, "as it is")
	if err := os.Rename(path, path+".old"); err != nil {
		t.Fatal(err)
	}
	is(false, "renamed")
	if err := os.WriteFile(path, []byte("text"), FilePerm); err != nil {
		t.Fatal(err)
	}
	is(false, "another has the name")
	if err := errors.Join(os.Remove(path), os.Symlink(filepath.Base(path)+".old", path)); err != nil {
		t.Fatal(err)
	}
	is(true, "by a link")
	_ = f.Close()
	is(false, "closed")
}
