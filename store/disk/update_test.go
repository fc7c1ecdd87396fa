package disk

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/disk/disktest"
)

// What a transaction did that ended with an error, or with a panic that is not the file's,
// is undone, and the next one goes on.
func TestUpdateIsUndone(t *testing.T) {
	no := errors.New("no")
	for name, end := range map[string]func() error{
		"an error": func() error { return no },
		"a panic":  func() error { panic(no) },
	} {
		t.Run(name, func(t *testing.T) {
			y := newToy(t)
			y.put(3)
			before := contents(t, y.File)
			func() {
				defer func() {
					if p := recover(); (p != nil) != (name == "a panic") {
						t.Errorf("panic %v", p)
					}
				}()
				err := y.Update(func(tx *Tx) error {
					if err := errors.Join(putting(tx, map[string]string{"P-9": "none"}), tx.PutBlob(4, []byte{1}), tx.CreateBucket("more"), tx.SetFormat(2)); err != nil {
						t.Error(err)
					}
					return end()
				})
				if !errors.Is(err, no) {
					t.Errorf("it says %v", err)
				}
			}()
			if d := cmp.Diff(before, contents(t, y.File)); d != "" || y.Format() != KeysSealed {
				t.Errorf("format %d (-before +after):\n%s", y.Format(), d)
			}
			y.put(1)
			view(t, y.File, func(tx *Tx) error { return whole(tx, 5) })
			wantWhole(t, y.crash(), 5)
		})
	}
}

// A file that was deleted or replaced is not written any more; what was read of it still is.
func TestFileIsGone(t *testing.T) {
	for name, away := range map[string]func(path string) error{
		"deleted": os.Remove,
		"renamed": func(path string) error { return os.Rename(path, path+".old") },
		"replaced": func(path string) error {
			return errors.Join(os.Rename(path, path+".old"), os.WriteFile(path, []byte("new"), FilePerm))
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := newToy(t)
			if err := away(y.path); err != nil {
				t.Fatal(err)
			}
			called := false
			err := y.Update(func(*Tx) error { called = true; return nil })
			if said(err, y.path) != "corrupt: The shop file FILE is gone or was replaced, and nothing was written: make a backup now, then open the shop again." || called {
				t.Errorf("writing: %v, called %t", err, called)
			}
			view(t, y.File, func(tx *Tx) error { return whole(tx, 1) })
		})
	}
}

// A copy by WriteTo is the file as the transaction sees it, of the length that it says,
// whatever is written meanwhile.
func TestWriteTo(t *testing.T) {
	y := quietToy(t)
	y.put(20)
	var out bytes.Buffer
	view(t, y.File, func(tx *Tx) error {
		y.put(5)
		n, err := tx.WriteTo(&out)
		if n != int64(out.Len()) || n != tx.Size() {
			t.Errorf("it says %d bytes, of %d, and wrote %d", n, tx.Size(), out.Len())
		}
		return err
	})
	wantWhole(t, bare(t, out.Bytes()), 21)
}

// Changes of a file that are not waited for make no log; afterwards they do again.
func TestUnsynced(t *testing.T) {
	y := newToy(t)
	y.SetUnsynced(true)
	y.put(5)
	if disktest.There(LogPath(y.path)) || !y.db.NoSync {
		t.Errorf("a log is there: %t; changes are waited for: %t", disktest.There(LogPath(y.path)), !y.db.NoSync)
	}
	if err := y.Sync(); err != nil {
		t.Fatal(err)
	}
	y.SetUnsynced(false)
	if y.db.NoSync {
		t.Error("changes are not waited for")
	}
	y.put(2)
	if !disktest.There(LogPath(y.path)) {
		t.Error("no log is there")
	}
	wantWhole(t, y.crash(), 8)
}

// Records that are replayed on a copy make of it what they made of the file, however many
// there are to a transaction.
func TestReplay(t *testing.T) {
	y := quietToy(t)
	early := y.copyTo("early.stow")
	update(t, y.File, func(tx *Tx) error {
		for i := range 2*ReplayBatch + 1 {
			if err := putting(tx, map[string]string{fmt.Sprint("P-", i+2): "some"}); err != nil {
				return err
			}
		}
		return nil
	})
	want := contents(t, y.File)
	run := carved(t, y.closed(), 0).Follow(End{})
	stop := errors.New("enough")
	for _, row := range []struct {
		name    string
		records []Record
		asked   int // how often goOn is asked before it says no; 0 for never
		calls   int
		want    string
		end     uint64
	}{
		{"none", nil, 0, 0, "", 1},
		{"one", run[1:2], 0, 1, "", 2},
		{"a batch", run[1 : 1+ReplayBatch], 0, 1, "", 1 + ReplayBatch},
		{"all", run[1:], 0, 3, "", 2*ReplayBatch + 2},
		{"stopped at once", run[1:], 1, 1, "enough", 1},
		{"stopped after a batch", run[1:], 2, 2, "enough", 1 + ReplayBatch},
		{"one is left out", append(slices.Clone(run[1:5]), run[6]), 0, 1, "entry 7 does not follow entry 5", 1},
		{"one again", run[:1], 0, 1, "entry 1 does not follow entry 1", 1},
		{"the second batch has a gap", append(slices.Clone(run[1:1+ReplayBatch]), run[ReplayBatch+2]), 0, 2, "entry 1003 does not follow entry 1001", 1 + ReplayBatch},
		{"its body says another number", []Record{{Seq: 2, Body: run[2].Body}}, 0, 1, "the body of record 2 does not start with its number", 1},
		{"what it did cannot be read", []Record{{Seq: 2, Body: []byte(`{"seq":2,`)}}, 0, 1, "unexpected end of JSON input", 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "toy.stow")
			disktest.Copy(t, early, path)
			f := reopened(t, path)
			calls := 0
			err := f.Replay(row.records, func() error {
				if calls++; calls == row.asked {
					return stop
				}
				return nil
			})
			if said(err, path) != row.want || calls != row.calls {
				t.Errorf("%v after %d calls; want %q after %d", err, calls, row.want, row.calls)
			}
			view(t, f, func(tx *Tx) error { return whole(tx, row.end) })
			if row.name == "all" && contents(t, f) != want {
				t.Error("it is not what the file was")
			}
		})
	}
}
