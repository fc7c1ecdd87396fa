package disk

import (
	"bytes"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

func TestLogOnlyWhileWorking(t *testing.T) {
	y := &toy{t: t}
	y.open(filepath.Join(t.TempDir(), "toy.stow"))
	y.put(1)
	if disktest.There(LogPath(y.path)) {
		t.Error("there is a log after one change")
	}
	y.put(2)
	info, err := os.Stat(LogPath(y.path))
	if err != nil || info.Mode().Perm() != FilePerm || info.Size() != logLength {
		t.Errorf("after more: %v, %v; want a file of %d bytes for its owner", info, err, logLength)
	}
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, y.path, 3)
}

// More records than there is room for, and one that is too large, make a checkpoint.
func TestLogGetsFull(t *testing.T) {
	y := newToy(t)
	fillings := 2
	if testing.Short() {
		fillings = 1
	}
	changes := fillings*logLength/logPage + 7
	y.put(changes)
	if y.log.generation < uint64(fillings+1) {
		t.Errorf("%d checkpoints", y.log.generation)
	}
	wantWhole(t, y.crash(), uint64(changes+1))
	before := y.log.generation
	y.putAs("large", strings.Repeat("x", 30<<10)) // a key has 32 KiB at most
	y.putAs("larger", strings.Repeat("y", 30<<10))
	if y.log.generation != before {
		t.Errorf("records of 30 KiB made %d checkpoints, want none", y.log.generation-before)
	}
	err := y.Update(func(tx *Tx) error {
		return putting(tx, map[string]string{"one": strings.Repeat("x", 30<<10), "two": strings.Repeat("x", 30<<10), "three": strings.Repeat("x", 10<<10)})
	})
	if err != nil {
		t.Fatal(err)
	}
	if y.log.generation != before+1 {
		t.Errorf("a large record made %d checkpoints, want one", y.log.generation-before)
	}
	y.put(1)
	f, err := Open(y.crash(), toyOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.View(func(tx *Tx) error {
		end, err := tx.End()
		if end.Seq != uint64(changes+5) {
			t.Errorf("%d records", end.Seq)
		}
		return errors.Join(err, tx.CheckPages(), tx.ProveAll(func() error { return nil }))
	}); err != nil {
		t.Error(err)
	}
}

// A small file stays small, however many changes it has seen.
func TestLogKeepsTheFileSmall(t *testing.T) {
	y := newToy(t)
	changes := 300
	if testing.Short() {
		changes = 100
	}
	y.put(changes)
	size := func() (size int64) {
		if err := y.View(func(tx *Tx) error { size = tx.Size(); return nil }); err != nil {
			t.Fatal(err)
		}
		return size
	}
	if got := size(); got > 4*maxPinned {
		t.Errorf("after %d changes %d bytes", changes, got)
	}
	before := size()
	for range changes {
		y.putAs("P-1", "some")
	}
	if grown := size() - before; grown > 2*maxPinned {
		t.Errorf("%d more of the same add %d bytes", changes, grown)
	}
}

// Where no more of the file may be mapped while the checkpoint is pinned, another one is made.
func TestLogWhenTheMapEnds(t *testing.T) {
	y := newToy(t)
	y.put(2)
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	y.open(y.path)
	// As on a machine that maps no further than it has to.
	for !y.forgetting.CompareAndSwap(false, true) { // nobody else looks at the file
		time.Sleep(time.Millisecond)
	}
	if err := y.db.Close(); err != nil {
		t.Fatal(err)
	}
	var err error
	if y.db, err = bbolt.Open(y.path, FilePerm, nil); err != nil {
		t.Fatal(err)
	}
	y.mapped = 0
	changes := 300
	if testing.Short() {
		changes = 60
	}
	done := make(chan error, 1)
	go func() {
		var err error
		for i := 0; i < changes && err == nil; i++ {
			err = y.putOne()
		}
		done <- err
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("a change waits for ever")
	}
	wantWhole(t, y.crash(), uint64(changes+3))
}

func TestLogTakenAway(t *testing.T) {
	y := newToy(t)
	y.put(5)
	if err := os.Remove(LogPath(y.path)); err != nil {
		t.Fatal(err)
	}
	y.put(5)
	wantWhole(t, y.crash(), 11)
	// And where another one cannot be made, it goes without.
	if err := os.Remove(LogPath(y.path)); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(LogPath(y.path), FolderPerm); err != nil {
		t.Fatal(err)
	}
	y.put(5)
	if y.log != nil || y.db.NoSync {
		t.Error("changes are not waited for, and are nowhere else")
	}
	if err := os.Remove(LogPath(y.path)); err != nil {
		t.Fatal(err)
	}
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, y.path, 16)
}

// When it is not known what is on the disk, nothing more is written, and what was said
// to be done is there when the file is opened again.
func TestLogCannotBeWritten(t *testing.T) {
	y := newToy(t)
	y.put(5)
	if err := y.log.file.Close(); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := y.putOne(); fault.KindOf(err) != fault.Internal {
			t.Errorf("a change that is not kept: %v", err)
		}
	}
	if err := y.Close(); err != nil {
		t.Fatal(err)
	}
	wantWhole(t, y.path, 6)
}

// What is written outside of what the record repeats is waited for in the file itself:
// after a crash it is there. A program that says so falsely loses it, so the test can fail.
func TestWrittenOutsideTheRecord(t *testing.T) {
	outside := func(tx *Tx) (*Bucket, error) { return tx.Bucket(toyThings) }
	falsely := func(tx *Tx) (*Bucket, error) { return tx.ReplayedBucket(toyThings) }
	for name, row := range map[string]struct {
		do   func(tx *Tx) error
		lost bool
	}{
		"a put":          {writing(outside, func(b *Bucket) error { return b.Put([]byte("Q"), []byte("1")) }), false},
		"a delete":       {writing(outside, func(b *Bucket) error { return b.Delete([]byte("P-2")) }), false},
		"a blob":         {func(tx *Tx) error { return tx.PutBlob(1, []byte("picture")) }, false},
		"the format":     {func(tx *Tx) error { return tx.SetFormat(2) }, false},
		"a bucket":       {func(tx *Tx) error { return tx.CreateBucket("more") }, false},
		"a second entry": {func(tx *Tx) error { return putting(tx, map[string]string{"P-3": "other"}) }, false},
		"a false put":    {writing(falsely, func(b *Bucket) error { return b.Put([]byte("Q"), []byte("1")) }), true},
		"a false delete": {writing(falsely, func(b *Bucket) error { return b.Delete([]byte("P-2")) }), true},
	} {
		t.Run(name, func(t *testing.T) {
			y := newToy(t)
			y.put(5)
			before := y.log.generation
			err := y.Update(func(tx *Tx) error { return errors.Join(putting(tx, map[string]string{"P-4": "other"}), row.do(tx)) })
			if err != nil {
				t.Fatal(err)
			}
			if made := y.log.generation - before; (made == 0) != row.lost {
				t.Errorf("%d checkpoints were made", made)
			}
			want := contents(t, y.File)
			f, err := Open(y.crash(), toyOptions())
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if lost := contents(t, f) != want; lost != row.lost {
				t.Errorf("after a crash something is lost: %t, want %t", lost, row.lost)
			}
		})
	}
}

func writing(in func(*Tx) (*Bucket, error), do func(*Bucket) error) func(*Tx) error {
	return func(tx *Tx) error {
		b, err := in(tx)
		if err != nil {
			return err
		}
		return do(b)
	}
}

// contents is all that lies in the buckets of a file.
func contents(t *testing.T, f *File) string {
	t.Helper()
	var out strings.Builder
	err := f.viewBolt(func(tx *bbolt.Tx) error {
		return tx.ForEach(func(name []byte, b *bbolt.Bucket) error {
			return b.ForEach(func(k, v []byte) error {
				out.WriteString(string(name) + " " + string(k) + " " + string(v) + "\n")
				return nil
			})
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestLogOfAnotherFile(t *testing.T) {
	one, other := newToy(t), newToy(t)
	one.put(6)
	early := one.copyTo("early.stow")
	// A checkpoint that the early one does not have.
	if err := one.Update(func(tx *Tx) error { return tx.PutBlob(1, []byte("picture")) }); err != nil {
		t.Fatal(err)
	}
	one.put(4)
	other.put(20)
	late := one.copyTo("late.stow")

	refused := func(t *testing.T, path, says string) {
		t.Helper()
		if err := wantRefused(t, path); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("it is refused by %v, want %q", err, says)
		}
	}
	t.Run("of another file", func(t *testing.T) {
		path := one.crash()
		disktest.Copy(t, other.path, path)
		refused(t, path, "are of another file")
	})
	t.Run("of a file that is gone", func(t *testing.T) {
		path := one.crash()
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		refused(t, path, "is gone")
	})
	t.Run("of an earlier copy", func(t *testing.T) {
		path := one.crash()
		disktest.Copy(t, early, path)
		refused(t, path, "are of another file")
	})
	t.Run("of a copy with all of it", func(t *testing.T) {
		path := one.crash()
		disktest.Copy(t, late, path)
		wantWhole(t, path, 11)
	})
	t.Run("of a file that lost its pages", func(t *testing.T) {
		path := one.crash()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		clear(data[2*one.db.Info().PageSize:])
		if err := os.WriteFile(path, data, FilePerm); err != nil {
			t.Fatal(err)
		}
		refused(t, path, "is damaged")
	})
	t.Run("that was just begun", func(t *testing.T) {
		path := other.crash()
		if err := os.WriteFile(LogPath(path), make([]byte, 5000), FilePerm); err != nil {
			t.Fatal(err)
		}
		wantWhole(t, path, 21)
	})
}

// Whatever happens to the log of a file that was not closed: what opens is the file as it
// was, or as it was before its last change, which nobody may have been told of.
func TestLogDamaged(t *testing.T) {
	t.Parallel()
	y := newToy(t)
	y.put(12)
	path := y.crash()
	file, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(LogPath(path))
	if err != nil {
		t.Fatal(err)
	}
	used := logRecords + 12*logPage
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 0))
	times := 300
	if testing.Short() {
		times = 30
	}
	refused, opened := 0, 0
	for range times {
		bad := bytes.Clone(log)
		switch r.IntN(4) {
		case 0: // cut short
			bad = bad[:r.IntN(used)]
		case 1: // a page is gone
			page := r.IntN(used / logPage)
			clear(bad[page*logPage : (page+1)*logPage])
		default: // a byte has changed
			page := r.IntN(used / logPage)
			bad[page*logPage+r.IntN(200)] ^= byte(1 + r.IntN(255))
		}
		if err := errors.Join(os.WriteFile(path, file, FilePerm), os.WriteFile(LogPath(path), bad, FilePerm)); err != nil {
			t.Fatal(err)
		}
		f, err := Open(path, toyOptions())
		if fault.KindOf(err) == fault.Corrupt && err != nil {
			refused++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		opened++
		err = f.View(func(tx *Tx) error {
			if whole(tx, 13) == nil {
				return nil
			}
			return whole(tx, 12)
		})
		if err := errors.Join(err, f.Close()); err != nil {
			t.Errorf("%v; want 13 records, or 12", err)
		}
	}
	if refused == 0 || opened == 0 {
		t.Errorf("%d refused, %d opened: nothing is proven", refused, opened)
	}
}

// Of whatever bytes a log has, what is read follows the checkpoint without a gap.
func FuzzLog(f *testing.F) {
	f.Add([]byte{})
	f.Add(make([]byte, logLength))
	page := func(v any) []byte {
		body, err := json.Marshal(v)
		if err != nil {
			f.Fatal(err)
		}
		sealed := Seal(body)
		return append(sealed, make([]byte, logPages(len(sealed))-int64(len(sealed)))...)
	}
	first := toyEntry{Seq: 5, Prev: "00000000"}
	body, err := json.Marshal(first)
	if err != nil {
		f.Fatal(err)
	}
	begin := append(page(checkpoint{Generation: 1, Seq: 4, Sum: "00000000"}), page(checkpoint{Generation: 2, Seq: 4, Sum: "00000000"})...)
	f.Add(append(append(begin, page(first)...), page(toyEntry{Seq: 6, Prev: Checksum(body)})...))
	path := filepath.Join(f.TempDir(), "toy.stow.recent")
	f.Fuzz(func(t *testing.T, data []byte) {
		if err := os.WriteFile(path, data, FilePerm); err != nil {
			t.Fatal(err)
		}
		c, records, err := readLog(path)
		if err != nil {
			return
		}
		end := c.end(nil)
		for _, r := range records {
			if r.Seq != end.Seq+1 || r.Prev() != end.Sum || Checksum(r.Body) != r.Sum {
				t.Errorf("record %d with %q follows %v", r.Seq, r.Prev(), end)
			}
			end = r.end()
		}
	})
}
