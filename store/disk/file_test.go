package disk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

// What cannot be opened is refused by a sentence of its own, and stays as it is.
func TestOpenRefuses(t *testing.T) {
	const keep = ": keep it, and open a copy made earlier."
	meta := func(format string) func(t *testing.T, path string) {
		return func(t *testing.T, path string) {
			disktest.Change(t, path, func(raw disktest.Raw) error { return raw.Put(bucketMeta, []byte(keyFormat), []byte(format)) })
		}
	}
	lost := func(bucket string) func(t *testing.T, path string) {
		return func(t *testing.T, path string) {
			disktest.Change(t, path, func(raw disktest.Raw) error { return raw.DeleteBucket(bucket) })
		}
	}
	for _, row := range []struct {
		name  string
		spoil func(t *testing.T, path string)
		want  string
	}{
		{"empty", func(t *testing.T, path string) { overwriteAll(t, path, nil) }, "corrupt: FILE is empty, and what was in it is lost" + keep},
		{"text", func(t *testing.T, path string) { overwriteAll(t, path, []byte("AN3-5A 20")) }, "corrupt: FILE is damaged, or is not a shop file" + keep},
		{"a folder", func(t *testing.T, path string) {
			if err := errors.Join(os.Remove(path), os.Mkdir(path, FolderPerm)); err != nil {
				t.Fatal(err)
			}
		}, "invalid: FILE is not a file: name the shop file with --shop."},
		{"of another program", func(t *testing.T, path string) {
			for _, name := range append(toyLayout.names(KeysSealed), "theirs") {
				disktest.Change(t, path, func(raw disktest.Raw) error {
					if name == "theirs" {
						return raw.Put(name, []byte("k"), []byte("v"))
					}
					return raw.DeleteBucket(name)
				})
			}
		}, "corrupt: FILE is a data file of another program, not a shop: name another with --shop."},
		{"of nothing", func(t *testing.T, path string) {
			for _, name := range toyLayout.names(KeysSealed) {
				disktest.Change(t, path, func(raw disktest.Raw) error { return raw.DeleteBucket(name) })
			}
		}, "corrupt: FILE is damaged, or is not a shop file" + keep},
		{"of a newer program", meta(strconv.Itoa(KeysSealed + 1)), "invalid: FILE was made by a newer Stowright (format 6, this program knows 5): update the program."},
		{"of format 0", meta("0"), "corrupt: FILE does not say which version of the program made it" + keep},
		{"of format -1", meta("-1"), "corrupt: FILE does not say which version of the program made it" + keep},
		{"of no format", meta(""), "corrupt: FILE does not say which version of the program made it" + keep},
		{"of format five", meta("five"), "corrupt: FILE does not say which version of the program made it" + keep},
		{"a table is lost", lost(toyThings), `corrupt: FILE is damaged, it has lost its table "things"` + keep},
		{"an index is lost", lost(toyByValue), `corrupt: FILE is damaged, it has lost its table "by_value"` + keep},
		{"the journal is lost", lost(bucketJournal), `corrupt: FILE is damaged, it has lost its table "journal"` + keep},
		{"the blobs are lost", lost(bucketBlobs), `corrupt: FILE is damaged, it has lost its table "pictures"` + keep},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := quietToy(t).closed()
			row.spoil(t, path)
			was, _ := os.ReadFile(path) // of a folder there is nothing to read
			for _, alone := range []bool{false, true} {
				o := toyOptions()
				if o.Alone = alone; alone && row.name == "a folder" {
					continue // which is looked at before
				}
				f, err := Open(path, o)
				if said(err, path) != row.want || f != nil {
					t.Errorf("alone %t: %v; want %q", alone, err, row.want)
				}
			}
			if now, _ := os.ReadFile(path); !bytes.Equal(was, now) {
				t.Error("the file has changed")
			}
			if names := listed(t, filepath.Dir(path)); len(names) != 1 {
				t.Errorf("beside it is now %v", names)
			}
		})
	}
}

// overwriteAll gives a file other contents.
func overwriteAll(t testing.TB, path string, data []byte) {
	t.Helper()
	if err := os.WriteFile(path, data, FilePerm); err != nil {
		t.Fatal(err)
	}
}

// A file of an older format needs only the buckets of that.
func TestOpenOlderFormat(t *testing.T) {
	for format, want := range map[int]string{
		1: "", 2: "", 3: `corrupt: FILE is damaged, it has lost its table "pictures": keep it, and open a copy made earlier.`,
	} {
		path := quietToy(t).closed()
		disktest.Change(t, path, func(raw disktest.Raw) error {
			return errors.Join(raw.DeleteBucket(bucketBlobs), raw.Put(bucketMeta, []byte(keyFormat), strconv.AppendInt(nil, int64(format), 10)))
		})
		f, err := Open(path, toyOptions())
		if said(err, path) != want {
			t.Errorf("format %d: %v, want %q", format, err, want)
		}
		if err == nil {
			if f.Format() != format {
				t.Errorf("format %d is read as %d", format, f.Format())
			}
			view(t, f, func(tx *Tx) error {
				if _, err := tx.Blob(1); said(err, path) != `corrupt: The shop file has no table "pictures": keep it, and open a copy made earlier.` {
					t.Errorf("a blob of it: %v", err)
				}
				return nil
			})
			_ = f.Close()
		}
	}
}

// A file is made where it was asked for, whole and for its owner alone.
func TestOpenMakes(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "garage", "left", "kit.stow")
	o := toyOptions()
	o.Create = false
	if _, err := Open(path, o); said(err, path) != "not found: There is no shop file FILE: name another with --shop, or bring a packing list in to make it." {
		t.Errorf("unasked: %v", err)
	}
	if names := listed(t, folder); len(names) != 0 {
		t.Errorf("unasked, %v was made", names)
	}
	f, err := Open(path, toyOptions())
	if err != nil {
		t.Fatal(err)
	}
	if f.Path() != path || f.Format() != KeysSealed || f.ReadOnly() || f.Closed() {
		t.Errorf("it is %s of format %d, to read only: %t, closed: %t", f.Path(), f.Format(), f.ReadOnly(), f.Closed())
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]os.FileMode{path: FilePerm, filepath.Dir(path): FolderPerm, filepath.Join(folder, "garage"): FolderPerm} {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; want %v", name, info.Mode().Perm(), err, want)
		}
	}
	if names := listed(t, filepath.Dir(path)); !slices.Equal(names, []string{"kit.stow"}) {
		t.Errorf("beside it is %v", names)
	}
	wantWhole(t, path, 0)

	under := filepath.Join(path, "more", "kit.stow")
	if _, err := Open(under, toyOptions()); fault.KindOf(err) != fault.Invalid {
		t.Errorf("under a file: %v", err)
	}
	if err := MakeFolder(under); said(err, under) != "invalid: The folder FOLDER cannot be made: name another shop file with --shop." {
		t.Errorf("a folder under a file: %v", err)
	}
}

// Where another program has made the file meanwhile, that one stays.
func TestMakeFileBesideAnother(t *testing.T) {
	y := quietToy(t)
	y.put(3)
	path := y.closed()
	if err := makeFile(path, toyOptions()); err != nil {
		t.Fatal(err)
	}
	if names := listed(t, filepath.Dir(path)); len(names) != 1 {
		t.Errorf("what stays is %v", names)
	}
	wantWhole(t, path, 4)
	gone := filepath.Join(t.TempDir(), "gone", "kit.stow")
	if err := makeFile(gone, toyOptions()); said(err, gone) != "internal: The shop file FILE cannot be opened: see that its disk is there and has room." {
		t.Errorf("in a folder that is not there: %v", err)
	}
}

// A file that other people could read is closed to them when it is opened.
func TestOpenClosesToOthers(t *testing.T) {
	for mode, want := range map[os.FileMode]os.FileMode{0o644: 0o600, 0o640: 0o600, 0o620: 0o600, 0o666: 0o600, 0o755: 0o700, 0o600: 0o600, 0o604: 0o600} {
		path := quietToy(t).closed()
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		_ = reopened(t, path).Close()
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("%v is then %v, %v; want %v", mode, info.Mode().Perm(), err, want)
		}
	}
}

// A file that may only be read is read, by any number of programs, and nothing of it is written.
func TestReadOnly(t *testing.T) {
	y := quietToy(t)
	y.put(9)
	path := y.closed()
	was, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	alone := toyOptions()
	alone.Alone = true
	var files []*File
	for name, open := range map[string]func() (*File, error){
		"asked for": func() (*File, error) { return Open(path, alone) },
		"not allowed": func() (*File, error) {
			return openToRead(path, toyOptions(), fmt.Errorf("opening: %w", os.ErrPermission))
		},
		"disk says so": func() (*File, error) { return openToRead(path, toyOptions(), syscall.EROFS) },
	} {
		f, err := open()
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
		if !f.ReadOnly() {
			t.Errorf("%s: it may be written", name)
		}
		view(t, f, func(tx *Tx) error { return whole(tx, 10) })
		called := false
		err = f.Update(func(*Tx) error { called = true; return nil })
		if said(err, path) != "invalid: The shop file FILE may only be read, and nothing was changed: change its permissions, then open the shop again." || called {
			t.Errorf("%s: writing: %v", name, err)
		}
	}
	for _, f := range files {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	}
	if now, err := os.ReadFile(path); err != nil || !bytes.Equal(was, now) {
		t.Errorf("the file has changed, %v", err)
	}
	for _, why := range []error{errors.New("another reason"), errBusy(path)} {
		if f, err := openToRead(path, toyOptions(), why); !errors.Is(err, why) || f != nil {
			t.Errorf("for %v it is opened: %v", why, err)
		}
	}
}

// After Close nothing is done any more, and closing does not fail the second time.
func TestClosed(t *testing.T) {
	y := newToy(t)
	y.closed()
	called := false
	do := func(*Tx) error { called = true; return nil }
	if err := errors.Join(y.View(do)); !errors.Is(err, ErrClosed) {
		t.Errorf("reading: %v", err)
	}
	if err := y.Update(do); !errors.Is(err, ErrClosed) {
		t.Errorf("writing: %v", err)
	}
	if called || !y.Closed() {
		t.Errorf("something was done: %t; closed: %t", called, y.Closed())
	}
}

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

// Remove removes a file with its log, and says which of them it cannot.
func TestRemove(t *testing.T) {
	y := newToy(t)
	y.put(3)
	path := y.crash()
	for range 2 { // the second time there is nothing
		if err := Remove(path); err != nil {
			t.Fatal(err)
		}
		if names := listed(t, filepath.Dir(path)); len(names) != 0 {
			t.Errorf("what stays is %v", names)
		}
	}
	if err := os.MkdirAll(filepath.Join(LogPath(path), "full"), FolderPerm); err != nil {
		t.Fatal(err)
	}
	if err := Remove(path); said(err, LogPath(path)) != "invalid: FILE cannot be removed: see that its folder may be written." {
		t.Errorf("a log that is a folder: %v", err)
	}
}

// What bbolt says of a file is told in our words, and what has its words keeps them.
func TestOpenError(t *testing.T) {
	const path = "/garage/kit.stow"
	notShop := "corrupt: FILE is damaged, or is not a shop file: keep it, and open a copy made earlier."
	mayNot := "invalid: You may not write the shop file FILE: change its permissions or name another with --shop."
	for _, row := range []struct {
		err  error
		want string
	}{
		{bolterrors.ErrTimeout, "busy: Another program has the shop file FILE open: close it there, then try again."},
		{bolterrors.ErrInvalid, notShop},
		{bolterrors.ErrVersionMismatch, notShop},
		{bolterrors.ErrChecksum, notShop},
		{os.ErrPermission, mayNot},
		{&os.PathError{Op: "open", Path: path, Err: syscall.EROFS}, mayNot},
		{syscall.ENOSPC, "internal: The shop file FILE cannot be opened: see that its disk is there and has room."},
		{errEmpty(path), "corrupt: FILE is empty, and what was in it is lost: keep it, and open a copy made earlier."},
	} {
		got := openError(path, row.err)
		if said(got, path) != row.want || !errors.Is(got, row.err) && row.err != bolterrors.ErrTimeout {
			t.Errorf("%v: %v, want %q", row.err, got, row.want)
		}
	}
}

// Reading and writing go on beside each other, and each reading sees one state.
func TestViewsBesideUpdates(t *testing.T) {
	y := quietToy(t)
	done := make(chan error, 3)
	ctx, cancel := context.WithCancel(context.Background())
	for range cap(done) {
		go func() {
			var err error
			for ctx.Err() == nil && err == nil {
				err = y.View(func(tx *Tx) error {
					end, err := tx.End()
					return errors.Join(err, whole(tx, end.Seq))
				})
			}
			done <- err
		}()
	}
	y.put(60)
	cancel()
	for range cap(done) {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	if err := y.db.View(func(tx *bbolt.Tx) error { return nil }); err != nil {
		t.Error(err)
	}
}
