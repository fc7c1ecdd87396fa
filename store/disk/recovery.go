package disk

import (
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"

	"stowright/store/fault"
)

// A program that ended without closing its file leaves the write-ahead log beside it
// (wal.go). The file may then be in any state between the checkpoint and the last record
// of the log, and after a power failure have some of the pages of each. The pages of the
// checkpoint are there in any case: so the checkpoint is restored, and then the records
// are replayed.

// errMoved says that another program had the file in between.
var errMoved = errors.New("the file has another checkpoint now")

// restoreCheckpoint gives a file that was not closed the state of its checkpoint. It is
// refused as damaged when its log has records that it neither has nor can go on to: then
// it is not the file that they belong to, or its pages are lost.
func restoreCheckpoint(path string) error {
	beside := LogPath(path)
	if _, err := os.Lstat(beside); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	unlock, err := Lock(path)
	if err != nil {
		return err
	}
	defer unlock()
	c, records, err := readLog(beside)
	switch {
	case errors.Is(err, os.ErrNotExist), errors.Is(err, os.ErrPermission):
		return nil // another program has closed the file meanwhile, or opening refuses it
	case err != nil:
		return errLog(path, err)
	case c.Generation == 0:
		_ = os.Remove(beside) // where it may not be, it says nothing the next time either
		return nil
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fault.New(fault.Corrupt, path, "%s is gone, and its newest entries are still in %s: open a copy made earlier, or remove that file too.", path, filepath.Base(beside))
	case err != nil:
		return nil // opening says what is wrong
	}
	defer f.Close()
	if c.isOf(f, len(records)) {
		return c.restore(f)
	}
	if has(path, f, c.end(records)) {
		_ = os.Remove(beside) // where it may not be, it says the same the next time
		return nil
	}
	return errLog(path, nil)
}

// logIsDone refuses a file that may not be written and has a log with records that are not
// in it.
func logIsDone(path string) error {
	c, records, err := readLog(LogPath(path))
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil
	case err != nil:
		return fault.Wrap(err, fault.Invalid, path, "%s was not closed, and its newest entries in %s cannot be read: change the permissions of both.", path, filepath.Base(LogPath(path)))
	case c.Generation == 0:
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return ErrUnreadable(path, err)
	}
	defer f.Close()
	if !has(path, f, c.end(records)) {
		return fault.New(fault.Invalid, path, "%s was not closed, and may only be read: its newest entries in %s can be put back only where it may be written, so change its permissions.", path, filepath.Base(LogPath(path)))
	}
	return nil
}

// isOf reports whether a file still has the checkpoint in whole, and went on from it by as
// many records at most as are in the log, and one that was never said to be done.
func (c checkpoint) isOf(f *os.File, records int) bool {
	meta, ok := c.meta()
	info, err := f.Stat()
	if !ok || err != nil || info.Size()/int64(meta.pageSize) < int64(meta.pages) {
		return false
	}
	if newest, both, _ := readMetas(f); both && (newest.tx < meta.tx || newest.tx > meta.tx+uint64(records)+1) {
		return false
	}
	if checkPages(f, meta, info.Size() > quickAbove) != nil {
		return false
	}
	end, err := meta.journal(f, nil)
	return err == nil && end == c.end(nil)
}

// restore writes both meta pages of a file: that of the checkpoint, and for the other one
// the same with the number of the transaction before, as bbolt's own copies have it.
func (c checkpoint) restore(f *os.File) error {
	meta, _ := c.meta()
	for _, tx := range []uint64{meta.tx, meta.tx - 1} {
		page := make([]byte, meta.pageSize)
		slot := tx % 2
		binary.NativeEndian.PutUint64(page, slot)
		binary.NativeEndian.PutUint16(page[8:], metaPage)
		copy(page[pageHeader:], meta.withTx(tx))
		if _, err := f.WriteAt(page, int64(slot)*int64(meta.pageSize)); err != nil {
			return errUnwritten(f.Name(), err)
		}
	}
	if err := f.Sync(); err != nil {
		return errUnwritten(f.Name(), err)
	}
	return nil
}

// has reports whether a file is whole and its journal goes that far.
func has(path string, f *os.File, end End) bool {
	if inspect(path) != nil {
		return false
	}
	newest, _, ok := readMetas(f)
	if !ok || end.Seq == 0 {
		return ok
	}
	there, err := newest.journal(f, SeqKey(end.Seq))
	return err == nil && there == end
}

// replayLog replays the records that the log of a file has whose checkpoint was restored,
// and removes the log.
func (f *File) replayLog() error {
	log, err := os.OpenFile(LogPath(f.path), os.O_RDWR, 0)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return ErrUnreadable(LogPath(f.path), err)
	}
	defer log.Close()
	c, records, err := readLog(log.Name())
	if err != nil {
		return errLog(f.path, err)
	}
	if meta, ok := c.meta(); ok {
		if err := f.replayOn(meta, records); err != nil {
			return err
		}
	}
	return removeLog(log)
}

// replayOn replays records on the state that they follow, as one transaction, so that
// nothing of that state is written over before they are all there.
func (f *File) replayOn(meta fileMeta, records []Record) error {
	err := f.Update(func(tx *Tx) error {
		if uint64(tx.bolt.ID()) != meta.tx+1 {
			return errMoved
		}
		for _, r := range records {
			if err := tx.replay(r); err != nil {
				return errLog(f.path, err)
			}
		}
		return nil
	})
	if err == nil || errors.Is(err, errMoved) || fault.Known(err) {
		return err
	}
	return errUnwritten(f.path, err)
}
