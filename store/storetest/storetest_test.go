package storetest_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store"
	"stowright/store/storetest"
)

// recorder is a test that keeps what it is told instead of failing.
type recorder struct {
	testing.TB
	said    []string
	cleanup []func()
}

func (r *recorder) Errorf(format string, args ...any) {
	r.said = append(r.said, fmt.Sprintf(format, args...))
}
func (r *recorder) Cleanup(f func()) { r.cleanup = append(r.cleanup, f) }

// A shop that is not whole at the end of a test fails that test; one that was
// closed, or is whole, does not.
func TestShopIsCheckedAtTheEnd(t *testing.T) {
	for _, row := range []struct {
		name   string
		damage bool
		closed bool
		want   string
	}{
		{"whole", false, false, ""},
		{"closed", false, true, ""},
		{"damaged", true, false, "the shop is not whole: items AN9-9: the file has it, the journal does not"},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.stow")
			if row.damage {
				damage(t, path)
			}
			r := &recorder{TB: t}
			shop := storetest.OpenFile(r, path, store.Options{})
			if row.closed {
				if err := shop.Close(); err != nil {
					t.Fatal(err)
				}
			}
			for _, f := range r.cleanup {
				f()
			}
			if got := strings.Join(r.said, "; "); got != row.want {
				t.Errorf("the test is told %q, want %q", got, row.want)
			}
			if !shop.Closed() {
				t.Error("the shop is still open")
			}
		})
	}
}

// damage makes a shop with an item that its journal does not know.
func damage(t *testing.T, path string) {
	t.Helper()
	shop, err := store.Open(path, store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := bbolt.Open(path, 0o600, &bbolt.Options{Timeout: time.Second})
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		return tx.Bucket([]byte("items")).Put([]byte("AN9-9"), []byte(`{"v":2,"crc32c":"48fa5ed9","d":{}}`))
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// Ids and tags are the same in every run, and the clock stands still until it is set.
func TestSameInEveryRun(t *testing.T) {
	var first store.Place
	for range 2 {
		clock := storetest.NewClock(t, "2026-03-14")
		shop := storetest.Open(t, store.Options{Clock: clock.Now})
		p, e, err := shop.AddPlace(store.Place{Kind: store.Room, Name: "Garage"})
		if err != nil {
			t.Fatal(err)
		}
		if first.ID == "" {
			first = p
		}
		if p != first || !e.At.Equal(time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)) {
			t.Errorf("place %+v at %s, want %+v", p, e.At, first)
		}
	}
}

// The folder of a test is its own, may be written, and goes with the test.
func TestFolder(t *testing.T) {
	var dirs []string
	for range 2 {
		t.Run("one", func(t *testing.T) {
			dir := storetest.Folder(t)
			if err := os.WriteFile(filepath.Join(dir, "shop.stow"), []byte("shop"), 0o600); err != nil {
				t.Fatal(err)
			}
			dirs = append(dirs, dir)
		})
	}
	if dirs[0] == dirs[1] {
		t.Errorf("two tests have the one folder %s", dirs[0])
	}
	for _, dir := range dirs {
		if _, err := os.Stat(dir); !os.IsNotExist(err) {
			t.Errorf("after its test %s is still there: %v", dir, err)
		}
	}
}
