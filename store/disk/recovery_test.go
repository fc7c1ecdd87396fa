package disk

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"testing"

	"stowright/store/disk/disktest"
)

// stages are a file and its log as they were when there were so many records, from 2 on:
// the log has a checkpoint at record 1, and another one at secondCheckpoint.
type stages struct{ files, logs [lastStage + 1][]byte }

const (
	lastStage        = 7
	secondCheckpoint = 5
)

func newStages(t *testing.T) (s stages) {
	t.Helper()
	y := newToy(t)
	for n := 1; n <= lastStage; n++ {
		switch n {
		case 1:
		case secondCheckpoint: // a blob, which no record repeats
			update(t, y.File, func(tx *Tx) error {
				return errors.Join(tx.PutBlob(1, []byte("picture")), putting(tx, map[string]string{fmt.Sprint("P-", n): "some"}))
			})
		default:
			y.put(1)
		}
		var err error
		if s.files[n], err = os.ReadFile(y.path); err != nil {
			t.Fatal(err)
		}
		if n > 1 {
			if s.logs[n], err = os.ReadFile(LogPath(y.path)); err != nil {
				t.Fatal(err)
			}
		}
	}
	return s
}

// write writes the file of one stage beside the log of another.
func (s stages) write(t *testing.T, file, log int) (path string) {
	t.Helper()
	path = bare(t, s.files[file])
	if err := os.WriteFile(LogPath(path), s.logs[log], FilePerm); err != nil {
		t.Fatal(err)
	}
	return path
}

// opens are how many records there are when a file of one stage is opened beside a log of
// another; 0 where it is refused. What was said to be done is in the log, or in a file that
// went on from there.
func opens(file, log int) (records []int) {
	checkpoint := 1
	if log >= secondCheckpoint {
		checkpoint = secondCheckpoint
	}
	switch {
	case file < checkpoint:
		return []int{0} // the pages of the checkpoint are not there
	case file > log+1:
		return []int{file} // which has all that the log has
	case file == secondCheckpoint && log == secondCheckpoint-1:
		return []int{file, log} // the pages of the first checkpoint may be used again by now
	}
	return []int{log}
}

// Whatever state of the file meets whatever state of its log: all that was said to be done
// is there, or it is refused, and nothing is made up.
func TestEveryFileWithEveryLog(t *testing.T) {
	s := newStages(t)
	for file := 1; file <= lastStage; file++ {
		for log := 2; log <= lastStage; log++ {
			path, want := s.write(t, file, log), opens(file, log)
			if want[0] == 0 {
				if err := wantRefused(t, path); said(err, path) != "corrupt: FILE is damaged, or the newest entries in NAME.recent are, or are of another file: keep both, and open a copy made earlier." {
					t.Errorf("file of %d, log of %d: %v", file, log, err)
				}
				continue
			}
			f, err := Open(path, toyOptions())
			if err != nil {
				t.Errorf("file of %d, log of %d: %v", file, log, err)
				continue
			}
			err = f.View(func(tx *Tx) error {
				err := whole(tx, uint64(want[0]))
				if err != nil && len(want) > 1 {
					err = whole(tx, uint64(want[1]))
				}
				return err
			})
			if err := errors.Join(err, f.Close()); err != nil || disktest.There(LogPath(path)) {
				t.Errorf("file of %d, log of %d: %v, want %d records and no log", file, log, err, want)
			}
		}
	}
}

// A file that may not be written is opened as it is where it has what its log has, and
// refused where it lacks some.
func TestEveryFileWithEveryLogToRead(t *testing.T) {
	s := newStages(t)
	for file := 1; file <= lastStage; file++ {
		for log := 2; log <= lastStage; log++ {
			path := s.write(t, file, log)
			f, err := openToRead(path, toyOptions(), os.ErrPermission)
			if file < log {
				if said(err, path) != "invalid: FILE was not closed, and may only be read: its newest entries in NAME.recent can be put back only where it may be written, so change its permissions." {
					t.Errorf("file of %d, log of %d: %v", file, log, err)
				}
			} else if err != nil {
				t.Errorf("file of %d, log of %d: %v", file, log, err)
			} else if err := errors.Join(f.View(func(tx *Tx) error { return whole(tx, uint64(file)) }), f.Close()); err != nil {
				t.Errorf("file of %d, log of %d: %v", file, log, err)
			}
			if now, err := os.ReadFile(LogPath(path)); err != nil || string(now) != string(s.logs[log]) {
				t.Errorf("file of %d, log of %d: the log is changed, %v", file, log, err)
			}
		}
	}
}

// The log of a file that may not be written is judged before the file is.
func TestLogIsDone(t *testing.T) {
	s := newStages(t)
	for _, row := range []struct {
		name string
		make func(t *testing.T, path string) error
		want string
	}{
		{"no log", func(_ *testing.T, path string) error { return os.Remove(LogPath(path)) }, ""},
		{"nothing in it", func(_ *testing.T, path string) error {
			return os.WriteFile(LogPath(path), make([]byte, logLength), FilePerm)
		}, ""},
		{"no file", func(_ *testing.T, path string) error { return os.Remove(path) }, "internal: The shop file FILE cannot be read: see that its disk is there."},
		{"a log that is a folder", func(_ *testing.T, path string) error {
			return errors.Join(os.Remove(LogPath(path)), os.Mkdir(LogPath(path), FolderPerm))
		}, "invalid: FILE was not closed, and its newest entries in NAME.recent cannot be read: change the permissions of both."},
		{"a log with a gap", func(_ *testing.T, path string) error {
			log := append([]byte{}, s.logs[4]...)
			clear(log[logRecords:][:logPage])
			return os.WriteFile(LogPath(path), log, FilePerm)
		}, "invalid: FILE was not closed, and its newest entries in NAME.recent cannot be read: change the permissions of both."},
		{"a damaged file", func(t *testing.T, path string) error {
			metas := 2 * os.Getpagesize()
			overwrite(t, path, int64(metas), len(s.files[4])-metas, func(pages []byte) { clear(pages) })
			return nil
		}, "invalid: FILE was not closed, and may only be read: its newest entries in NAME.recent can be put back only where it may be written, so change its permissions."},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := s.write(t, 4, 4)
			if err := row.make(t, path); err != nil {
				t.Fatal(err)
			}
			if err := logIsDone(path); said(err, path) != row.want {
				t.Errorf("it says %v, want %q", err, row.want)
			}
		})
	}
}

// Restoring gives a file both metas of its checkpoint, in their places, and nothing else.
func TestRestoreCheckpoint(t *testing.T) {
	s := newStages(t)
	for _, log := range []int{2, 4, 6} {
		path := s.write(t, log, log)
		c, _, err := readLog(LogPath(path))
		if err != nil {
			t.Fatal(err)
		}
		if err := restoreCheckpoint(path); err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := c.meta()
		size := int(want.pageSize)
		for slot := range uint64(2) {
			got, ok := parseMeta(data[int(slot)*size:][:size])
			if !ok || got.tx%2 != slot || got.tx != want.tx && got.tx != want.tx-1 || got.pages != want.pages {
				t.Errorf("log of %d: meta %d is of transaction %d, %t; want %d or the one before", log, slot, got.tx, ok, want.tx)
			}
		}
		if newest, both, ok := readMetas(openedRaw(t, path)); !ok || !both || newest.tx != want.tx {
			t.Errorf("log of %d: the newest is of transaction %d, %t, %t", log, newest.tx, both, ok)
		}
		if string(data[2*size:]) != string(s.files[log][2*size:]) {
			t.Errorf("log of %d: more than the metas has changed", log)
		}
		if err := inspect(path); err != nil {
			t.Errorf("log of %d: %v", log, err)
		}
	}
}

func openedRaw(t *testing.T, path string) *os.File {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

// What restoring needs may not be what it should: nothing is changed then.
func TestRestoreRefuses(t *testing.T) {
	s := newStages(t)
	t.Run("a log that cannot be read", func(t *testing.T) {
		path := s.write(t, 4, 4)
		if err := errors.Join(os.Remove(LogPath(path)), os.Mkdir(LogPath(path), FolderPerm)); err != nil {
			t.Fatal(err)
		}
		_ = wantRefused(t, path)
	})
	t.Run("a checkpoint that is no meta", func(t *testing.T) {
		path := s.write(t, 4, 4)
		c, records, err := readLog(LogPath(path))
		if err != nil {
			t.Fatal(err)
		}
		c.Meta[metaPages] ^= 1
		log := append(slotOf(t, checkpoint{}), slotOf(t, c)...)
		for _, r := range records {
			log = append(log, pagesOf(Seal(r.Body))...)
		}
		if err := os.WriteFile(LogPath(path), log, FilePerm); err != nil {
			t.Fatal(err)
		}
		// The file has all of it, so nothing has to be put back.
		wantWhole(t, path, 4)
	})
}

// Where replaying fails, the log stays, and a later program puts back what is in it.
func TestReplayFails(t *testing.T) {
	path := newStages(t).write(t, 4, 4)
	o := toyOptions()
	calls := 0
	o.Replay = func(tx *Tx, r Record) error {
		if calls++; calls == 2 {
			return errors.New("this program cannot")
		}
		return toyReplay(tx, r)
	}
	f, err := Open(path, o)
	if said(err, path) != "corrupt: FILE is damaged, or the newest entries in NAME.recent are, or are of another file: keep both, and open a copy made earlier." || f != nil || calls != 2 {
		t.Errorf("after %d calls: %v", calls, err)
	}
	if !disktest.There(LogPath(path)) {
		t.Error("the log is gone")
	}
	wantWhole(t, path, 4)
}

// A meta of another transaction is whole, and otherwise the same.
func TestMetaWithTx(t *testing.T) {
	data := toyBytes(t)
	m, both, ok := readMetas(openedRaw(t, bare(t, data)))
	if !both || !ok {
		t.Fatal("the file has no metas")
	}
	for _, tx := range []uint64{0, 1, m.tx - 1, m.tx + 1, 1<<64 - 1} {
		got, ok := parseMeta(append(make([]byte, pageHeader), m.withTx(tx)...))
		if !ok || got.tx != tx || got.pages != m.pages || got.pageSize != m.pageSize || string(got.raw[:metaTx]) != string(m.raw[:metaTx]) {
			t.Errorf("of transaction %d it is %+v, %t", tx, got, ok)
		}
	}
}

// Both metas are found whatever the size of a page is, and whichever of them is whole.
func TestReadMetas(t *testing.T) {
	raw := make([]byte, metaLength)
	meta := func(size, tx uint64) []byte {
		m := fileMeta{raw: append([]byte{}, raw...)}
		binary.NativeEndian.PutUint32(m.raw, metaMagic)
		binary.NativeEndian.PutUint32(m.raw[4:], metaVersion)
		binary.NativeEndian.PutUint32(m.raw[metaPageSize:], uint32(size))
		page := append(make([]byte, pageHeader), m.withTx(tx)...)
		return append(page, make([]byte, int(size)-len(page))...)
	}
	for size := uint64(smallestPage); size <= largestPage; size *= 2 {
		none := make([]byte, size)
		for _, row := range []struct {
			name          string
			first, second []byte
			tx            uint64
			both, ok      bool
		}{
			{"both, the first newer", meta(size, 8), meta(size, 7), 8, true, true},
			{"both, the second newer", meta(size, 8), meta(size, 9), 9, true, true},
			{"the first alone", meta(size, 8), none, 8, false, true},
			{"the second alone", none, meta(size, 9), 9, false, true},
			{"none", none, none, 0, false, false},
			{"the second of another size", meta(size, 8), append(meta(size*2, 9), none...), 8, false, true},
		} {
			got, both, ok := readMetas(openedRaw(t, bare(t, row.first, row.second)))
			if got.tx != row.tx || both != row.both || ok != row.ok {
				t.Errorf("pages of %d, %s: transaction %d, both %t, %t", size, row.name, got.tx, both, ok)
			}
		}
	}
	for _, size := range []uint64{smallestPage / 2, largestPage * 2} {
		if _, ok := parseMeta(meta(size, 1)); ok {
			t.Errorf("pages of %d bytes are taken", size)
		}
	}
	good := meta(smallestPage, 1)
	for at, what := range map[int]string{0: "another magic number", 4: "another version", metaChecksum: "another checksum", metaPages: "another length"} {
		bad := append([]byte{}, good...)
		bad[pageHeader+at] ^= 1
		if _, ok := parseMeta(bad); ok {
			t.Errorf("%s is taken", what)
		}
	}
	if _, ok := parseMeta(good[:pageHeader+metaLength-1]); ok {
		t.Error("one that is cut short is taken")
	}
}

// Where another program had the file in between, its checkpoint is another one, and nothing
// is replayed on it.
func TestReplayOnAnotherState(t *testing.T) {
	y := quietToy(t)
	next := chainFrom(End{1, ""}, 1, -1)
	view(t, y.File, func(tx *Tx) error {
		end, err := tx.End()
		next = chainFrom(end, 1, -1)
		return err
	})
	state := y.state.Load().tx
	for _, tx := range []uint64{state - 1, state + 1, 0} {
		if err := y.replayOn(fileMeta{tx: tx}, next); !errors.Is(err, errMoved) {
			t.Errorf("on the state of transaction %d, which is not %d: %v", tx, state, err)
		}
	}
	if err := y.replayOn(fileMeta{tx: state}, next); err != nil {
		t.Fatal(err)
	}
	if end, err := EndOf(y.path); err != nil || end != next[0].end() {
		t.Errorf("the journal ends at %v, %v", end, err)
	}
}
