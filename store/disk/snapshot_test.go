package disk

import (
	"errors"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"stowright/store/fault"
)

// snapshot opens what is on the disk of a file that is in use.
func (y *toy) snapshot() *toy {
	y.t.Helper()
	o := toyOptions()
	o.Snapshot = true
	f, err := Open(y.path, o)
	if err != nil {
		y.t.Fatal(err)
	}
	y.t.Cleanup(func() { _ = f.Close() })
	return &toy{File: f, t: y.t}
}

// ends is the number of the last record of the journal.
func (y *toy) ends() uint64 {
	y.t.Helper()
	var end End
	err := y.View(func(tx *Tx) (err error) {
		end, err = tx.End()
		return err
	})
	if err != nil {
		y.t.Fatal(err)
	}
	return end.Seq
}

// beside are the names in the folder of a file.
func beside(t *testing.T, path string) (names []string) {
	t.Helper()
	list, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

// A snapshot of a file that is in use has all that was done, be it in the file or in the log
// alone; what is done later is not in it, it is not written, and it leaves nothing behind.
func TestSnapshot(t *testing.T) {
	for _, row := range []struct {
		name string
		puts int // after the first record; from the second one on there is a log
	}{
		{"without a log", 0}, {"a checkpoint", 1}, {"a record in the log", 2}, {"many of them", 40}, {"more than the log holds", 200},
	} {
		t.Run(row.name, func(t *testing.T) {
			y := newToy(t)
			y.put(row.puts)
			names, want := beside(t, y.path), y.ends()
			s := y.snapshot()
			y.put(3)
			if got := s.ends(); got != want {
				t.Errorf("the snapshot ends with record %d, want %d", got, want)
			}
			if s.Path() != y.path || !s.ReadOnly() {
				t.Errorf("the snapshot is of %s, read only %t", s.Path(), s.ReadOnly())
			}
			if err := s.putOne(); fault.KindOf(err) != fault.Busy {
				t.Errorf("writing to it: %v, want busy", err)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			if got := beside(t, y.path); row.puts > 0 && len(got) != len(names) {
				t.Errorf("beside the file are %v, want %v", got, names)
			}
			if got := y.ends(); got != want+3 {
				t.Errorf("the file ends with record %d, want %d", got, want+3)
			}
		})
	}
}

// While somebody writes as fast as can be, a snapshot has all that was acknowledged before it
// was asked for, is whole, or says that the file is busy.
func TestSnapshotsWhileSomebodyWrites(t *testing.T) {
	y := newToy(t)
	var done atomic.Uint64
	stop, stopped := make(chan struct{}), make(chan error)
	go func() {
		for {
			select {
			case <-stop:
				stopped <- nil
				return
			default:
			}
			if err := y.putOne(); err != nil {
				stopped <- err
				return
			}
			done.Add(1)
		}
	}()
	taken := 0
	for range 30 {
		atLeast := done.Load()
		f, err := openSnapshot(y.path, toyOptions())
		if fault.KindOf(err) == fault.Busy {
			continue
		}
		if err != nil {
			t.Error(err)
			break
		}
		taken++
		s := &toy{File: f, t: t}
		if got := s.ends(); got < atLeast+1 {
			t.Errorf("a snapshot ends with record %d, and %d were done before it", got, atLeast+1)
		}
		ends := s.ends()
		if err := s.View(func(tx *Tx) error { return whole(tx, ends) }); err != nil {
			t.Errorf("the snapshot is not whole with %d records: %v", ends, err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	close(stop)
	if err := <-stopped; err != nil {
		t.Fatal(err)
	}
	t.Logf("%d of 30 taken while %d records were written", taken, done.Load())
	if taken == 0 {
		t.Error("so nothing is proven")
	}
}

// What changes under the copying is copied again, and is busy where it goes on changing.
func TestInOneMoment(t *testing.T) {
	for _, row := range []struct {
		name   string
		looks  []uint64 // the checkpoints that are seen, one after the other
		copies int
		want   string
	}{
		{"nothing changes", []uint64{1, 1}, 1, ""},
		{"it changes once", []uint64{1, 2, 2, 2}, 2, ""},
		{"twice", []uint64{1, 2, 2, 3, 3, 3}, 3, ""},
		{"all the time", []uint64{1, 2, 2, 3, 3, 4}, 3, "busy: Another program has the shop file FILE open: close it there, then try again."},
	} {
		t.Run(row.name, func(t *testing.T) {
			looks, copies := row.looks, 0
			look := func() (moment, error) {
				m := moment{checkpoint: looks[0]}
				looks = looks[1:]
				return m, nil
			}
			err := inOneMoment("/a/toy.stow", look, func() error { copies++; return nil })
			if got := said(err, "/a/toy.stow"); got != row.want || copies != row.copies || len(looks) > 0 {
				t.Errorf("%d copies, %q, %d looks left; want %d, %q", copies, got, len(looks), row.copies, row.want)
			}
		})
	}
}

// A moment ends with another checkpoint, or with another transaction where there is no log.
func TestMoments(t *testing.T) {
	y := newToy(t)
	moment := func() moment {
		t.Helper()
		m, err := momentOf(y.path)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	first := moment()
	if first.checkpoint != 0 || first.transaction == 0 {
		t.Errorf("without a log: %+v", first)
	}
	y.put(2)
	logged := moment()
	if logged.checkpoint == 0 || logged.transaction != 0 {
		t.Errorf("with a log: %+v", logged)
	}
	y.put(1)
	if got := moment(); got != logged {
		t.Errorf("a record in the log makes it another moment: %+v, %+v", got, logged)
	}
	y.put(200)
	if got := moment(); got.checkpoint <= logged.checkpoint {
		t.Errorf("another checkpoint does not: %+v, %+v", got, logged)
	}
}

// It is refused as Open refuses it, in the name of the file itself.
func TestSnapshotRefuses(t *testing.T) {
	whole, err := oneRecord()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name string
		data []byte // nil: there is no file
		want string
	}{
		{"not there", nil, "not found: There is no shop file FILE: name another with --shop, or bring a packing list in to make it."},
		{"empty", []byte{}, "corrupt: FILE is empty, and what was in it is lost: keep it, and open a copy made earlier."},
		{"no shop", make([]byte, 1<<16), "corrupt: FILE is damaged, or is not a shop file: keep it, and open a copy made earlier."},
		{"cut short", whole[:3<<12], "corrupt: FILE was cut short: keep it, and open a copy made earlier."},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "toy.stow")
			if row.data != nil {
				if err := os.WriteFile(path, row.data, FilePerm); err != nil {
					t.Fatal(err)
				}
			}
			before := beside(t, path)
			if _, err := openSnapshot(path, toyOptions()); said(err, path) != row.want {
				t.Errorf("got %q, want %q", said(err, path), row.want)
			}
			if got := beside(t, path); len(got) != len(before) {
				t.Errorf("beside the file are %v", got)
			}
		})
	}
}

// A log that is spoiled is not taken for a shorter one.
func TestSnapshotOfASpoiledLog(t *testing.T) {
	y := newToy(t)
	y.put(5)
	path := y.crash()
	log, err := os.OpenFile(LogPath(path), os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = log.WriteAt([]byte("noise"), logRecords+logPage+100)
	if err := errors.Join(err, log.Close()); err != nil {
		t.Fatal(err)
	}
	if _, err = openSnapshot(path, toyOptions()); fault.KindOf(err) != fault.Corrupt {
		t.Errorf("got %v, want damaged", err)
	}
}
