package disk

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"go.etcd.io/bbolt"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

// toy is a file of things by name, with an index of them by what they say. Its journal
// says what was put; what it puts otherwise is in no record.
type toy struct {
	*File
	t testing.TB
}

// toyEntry is one record of the journal of a toy.
type toyEntry struct {
	Seq  uint64            `json:"seq"`
	Prev string            `json:"prev"`
	Of   string            `json:"of"` // which toy it was first in
	Put  map[string]string `json:"put"`
	Hash string            `json:"prev_sha256,omitempty"`
}

const (
	toyThings  = "things"
	toyByValue = "by_value"
)

var toyLayout = Layout{Format: KeysSealed, Buckets: []BucketSpec{
	{toyThings, Table, 1}, {toyByValue, Index, 1}, {bucketBlobs, Blobs, 3},
}}

func toyReplay(tx *Tx, r Record) error {
	var e toyEntry
	if err := json.Unmarshal(r.Body, &e); err != nil {
		return err
	}
	things, err := tx.ReplayedBucket(toyThings)
	if err != nil {
		return err
	}
	byValue, err := tx.ReplayedBucket(toyByValue)
	if err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(e.Put)) {
		body, err := json.Marshal(e.Put[name])
		if err != nil {
			return err
		}
		if err := things.Put([]byte(name), body); err != nil {
			return err
		}
		if err := byValue.Put([]byte(e.Put[name]+"\x00"+name), nil); err != nil {
			return err
		}
	}
	return nil
}

func toyOptions() Options {
	return Options{Layout: toyLayout, Replay: toyReplay, Create: true}
}

// newToy is a toy with one record, as the session that put it has it: the next change makes
// the log.
func newToy(t testing.TB) *toy {
	t.Helper()
	data, err := oneRecord()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "toy.stow")
	overwriteAll(t, path, data)
	y := &toy{t: t}
	y.open(path)
	y.appended = true
	return y
}

func (y *toy) open(path string) {
	y.t.Helper()
	var err error
	if y.File, err = Open(path, toyOptions()); err != nil {
		y.t.Fatal(err)
	}
	y.t.Cleanup(func() { _ = y.Close() })
}

// put puts n things, each with a record: P-1, P-2 and so on by the number of the record.
func (y *toy) put(n int) {
	y.t.Helper()
	for range n {
		if err := y.putOne(); err != nil {
			y.t.Fatal(err)
		}
	}
}

func (y *toy) putOne() error {
	return y.Update(func(tx *Tx) error {
		end, err := tx.End()
		if err != nil {
			return err
		}
		return putting(tx, map[string]string{fmt.Sprint("P-", end.Seq+1): "some"})
	})
}

// putting puts things in a transaction, with a record.
func putting(tx *Tx, put map[string]string) error {
	var body []byte
	err := tx.Append(func(after Head) (_ []byte, err error) {
		body, err = json.Marshal(toyEntry{after.Seq + 1, after.Sum, tx.file.path, put, after.Hash})
		return body, err
	})
	if err != nil {
		return err
	}
	return toyReplay(tx, Record{Body: body})
}

// putAs puts one thing, with a record.
func (y *toy) putAs(name, value string) {
	y.t.Helper()
	if err := y.Update(func(tx *Tx) error { return putting(tx, map[string]string{name: value}) }); err != nil {
		y.t.Fatal(err)
	}
}

// crash leaves the files as a program does that is killed, under another name.
func (y *toy) crash() (path string) {
	y.t.Helper()
	path = filepath.Join(y.t.TempDir(), "toy.stow")
	disktest.Copy(y.t, y.path, path)
	disktest.Copy(y.t, LogPath(y.path), LogPath(path))
	return path
}

// copyTo makes a copy of the file as it stands.
func (y *toy) copyTo(name string) (path string) {
	y.t.Helper()
	path = filepath.Join(y.t.TempDir(), name)
	if err := y.db.View(func(tx *bbolt.Tx) error { return tx.CopyFile(path, FilePerm) }); err != nil {
		y.t.Fatal(err)
	}
	return path
}

// wantWhole opens a file, which must be whole, with so many records and as many things.
func wantWhole(t testing.TB, path string, records uint64) {
	t.Helper()
	f, err := Open(path, toyOptions())
	if err != nil {
		t.Fatalf("opening: %v", err)
	}
	defer f.Close()
	if err := f.View(func(tx *Tx) error { return whole(tx, records) }); err != nil {
		t.Errorf("the file is not whole with %d records: %v", records, err)
	}
	if disktest.There(LogPath(path)) {
		t.Error("the log is still there")
	}
}

// whole says what is wrong with a toy that has so many records.
func whole(tx *Tx, records uint64) error {
	if err := tx.CheckPages(); err != nil {
		return err
	}
	if err := tx.ProveAll(context.Background().Err); err != nil {
		return err
	}
	seq, prev := uint64(0), ""
	err := tx.Records(func(r Record, damage error) error {
		if damage == nil && (r.Seq != seq+1 || r.Prev() != prev) {
			damage = fmt.Errorf("record %d does not follow record %d", r.Seq, seq)
		}
		seq, prev = r.Seq, r.Sum
		return damage
	})
	if err == nil && seq != records {
		err = fmt.Errorf("%d records", seq)
	}
	for _, name := range []string{toyThings, toyByValue} {
		if err != nil {
			return err
		}
		n := uint64(0)
		b, bucketErr := tx.Bucket(name)
		if bucketErr != nil {
			return bucketErr
		}
		if err = b.Scan(nil, func(_, _ []byte) error { n++; return nil }); err == nil && n != records {
			err = fmt.Errorf("%d keys in %s", n, name)
		}
	}
	return err
}

// wantRefused refuses to open a file as damaged, and changes nothing.
func wantRefused(t testing.TB, path string) error {
	t.Helper()
	was, _ := os.ReadFile(path)
	log, _ := os.ReadFile(LogPath(path))
	f, err := Open(path, toyOptions())
	if err == nil {
		_ = f.Close()
	}
	if err == nil || fault.KindOf(err) != fault.Corrupt {
		t.Errorf("opening: %v; want it refused as damaged", err)
	}
	if now, _ := os.ReadFile(path); string(was) != string(now) {
		t.Error("the file has changed")
	}
	if now, _ := os.ReadFile(LogPath(path)); string(log) != string(now) {
		t.Error("the log has changed")
	}
	return err
}

// said is an error as a person is told it: its kind and its sentence, with FILE for the name
// of a file and FOLDER for its folder; "" for none.
func said(err error, path string) string {
	var e *fault.Error
	switch {
	case err == nil:
		return ""
	case !errors.As(err, &e):
		return err.Error()
	}
	return string(e.Kind) + ": " + strings.NewReplacer(path, "FILE", filepath.Base(path), "NAME", filepath.Dir(path)+"/", "FOLDER/", filepath.Dir(path)+" ", "FOLDER ").Replace(e.Message)
}

// oneRecord is a closed toy with one record, which is made once.
var oneRecord = sync.OnceValues(func() ([]byte, error) {
	folder, err := os.MkdirTemp("", "toy")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	y := &toy{}
	if y.File, err = Open(filepath.Join(folder, "toy.stow"), toyOptions()); err != nil {
		return nil, err
	}
	if err := errors.Join(y.putOne(), y.Close()); err != nil {
		return nil, err
	}
	return os.ReadFile(y.path)
})

// quietToy is a toy with one record whose changes are not waited for.
func quietToy(t testing.TB) *toy {
	t.Helper()
	y := newToy(t)
	y.SetUnsynced(true)
	return y
}

// closed closes a toy and says where it lies.
func (y *toy) closed() string {
	y.t.Helper()
	if err := y.Close(); err != nil {
		y.t.Fatal(err)
	}
	return y.path
}

// reopened opens a file that must be whole.
func reopened(t testing.TB, path string) *File {
	t.Helper()
	f, err := Open(path, toyOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	f.SetUnsynced(true)
	return f
}

// view does something in a reading transaction, which must not fail.
func view(t testing.TB, f *File, do func(tx *Tx) error) {
	t.Helper()
	if err := f.View(do); err != nil {
		t.Fatal(err)
	}
}

// update does something in a writing transaction, which must not fail.
func update(t testing.TB, f *File, do func(tx *Tx) error) {
	t.Helper()
	if err := f.Update(do); err != nil {
		t.Fatal(err)
	}
}
