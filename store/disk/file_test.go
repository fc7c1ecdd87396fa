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
			noBlobs(t, f)
			_ = f.Close()
		}
	}
}

// noBlobs asks a file that has no bucket of blobs for them in every way, and puts one.
func noBlobs(t *testing.T, f *File) {
	t.Helper()
	for name, use := range map[string]func(tx *Tx) error{
		"Blob":        func(tx *Tx) error { _, err := tx.Blob(1); return err },
		"BlobParts":   func(tx *Tx) error { _, err := tx.BlobParts(1, func([]byte) {}); return err },
		"LastBlob":    func(tx *Tx) error { _, err := tx.LastBlob(^uint64(0)); return err },
		"NextBlob":    func(tx *Tx) error { _, err := tx.NextBlob(0); return err },
		"BlobNumbers": func(tx *Tx) error { return tx.BlobNumbers(func(uint64, int) error { return nil }) },
		"PutBlob":     func(tx *Tx) error { return tx.PutBlob(1, []byte{1}) },
	} {
		if err := f.Update(use); said(err, f.path) != `corrupt: The shop file has no table "pictures": keep it, and open a copy made earlier.` {
			t.Errorf("%s: %v", name, err)
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
