package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"go.etcd.io/bbolt"
)

// A program that ended without closing its shop leaves a file beside it with the newest
// entries (recent.go). The shop file may then be in any state between its base and the
// last of them, and after a power failure have some of the pages of each. What is of the
// base is there in any case: so the base comes back, and then the entries.

// errMoved says that another program had the shop in between.
var errMoved = errors.New("the shop has another base now")

// restoreBase makes a shop file say again what it said at its base, when it was not
// closed. It is refused as damaged when there are entries beside it which it neither
// has nor can go on to: then it is not the file that they belong to, or its pages are lost.
func restoreBase(path string) error {
	beside := recentPath(path)
	if _, err := os.Lstat(beside); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	unlock, err := lockFile(path)
	if err != nil {
		return err
	}
	defer unlock()
	b, entries, err := readRecent(beside)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil // another program has closed the shop meanwhile
	case err != nil:
		return errBeside(path, err)
	case b.Generation == 0:
		return os.Remove(beside)
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return fail(Corrupt, path, "%s is gone, and its newest entries are still in %s: open a copy made earlier, or remove that file too.", path, filepath.Base(beside))
	case err != nil:
		return nil // opening says what is wrong
	}
	defer f.Close()
	if b.isOf(f, len(entries)) {
		return b.restore(f)
	}
	if has(path, f, b.end(entries)) {
		return os.Remove(beside)
	}
	return errBeside(path, nil)
}

func errBeside(path string, cause error) error {
	return &Error{Kind: Corrupt, Where: path, Message: fmt.Sprintf("%s is damaged, or the newest entries in %s are, or are of another file: keep both, and open a copy made earlier.", path, filepath.Base(recentPath(path))), Err: cause}
}

// end is where the journal ends with the entries that follow the base.
func (b base) end(entries []carved) journalEnd {
	if len(entries) == 0 {
		return journalEnd{b.Seq, b.Sum}
	}
	last := entries[len(entries)-1]
	return journalEnd{last.Seq, last.sum}
}

// isOf says whether a shop file still has the base in whole, and went on from it by as
// many entries at most as are beside it, and one of which nobody was told.
func (b base) isOf(f *os.File, entries int) bool {
	state, ok := b.state()
	info, err := f.Stat()
	if !ok || err != nil || info.Size()/int64(state.pageSize) < int64(state.pages) {
		return false
	}
	if newest, both, _ := readMetas(f); both && (newest.tx < state.tx || newest.tx > state.tx+uint64(entries)+1) {
		return false
	}
	if checkPages(f, state, info.Size() > quickAbove) != nil {
		return false
	}
	end, err := state.journal(f, nil)
	return err == nil && end == b.end(nil)
}

// restore writes both metas of a shop file: that of the base, and for the other page the
// same with the number of the transaction before, as bbolt's own copies have it.
func (b base) restore(f *os.File) error {
	state, _ := b.state()
	for _, tx := range []uint64{state.tx, state.tx - 1} {
		page := make([]byte, state.pageSize)
		slot := tx % 2
		binary.NativeEndian.PutUint64(page, slot)
		binary.NativeEndian.PutUint16(page[8:], metaPage)
		copy(page[pageHeader:], state.withTx(tx))
		if _, err := f.WriteAt(page, int64(slot)*int64(state.pageSize)); err != nil {
			return errUnwritten(f.Name(), err)
		}
	}
	if err := f.Sync(); err != nil {
		return errUnwritten(f.Name(), err)
	}
	return nil
}

func errUnwritten(path string, cause error) error {
	return &Error{Kind: Internal, Where: path, Message: fmt.Sprintf("%s was not closed, and what was done last cannot be put back: see that its disk has room and may be written.", path), Err: cause}
}

// has says whether a shop file is whole and its journal goes that far.
func has(path string, f *os.File, end journalEnd) bool {
	if inspect(path) != nil {
		return false
	}
	newest, _, ok := readMetas(f)
	if !ok || end.seq == 0 {
		return ok
	}
	there, err := newest.journal(f, seqKey(end.seq))
	return err == nil && there == end
}

// takeRecent does the entries again that are beside a shop whose base was restored, and
// takes the file beside away.
func (s *Shop) takeRecent() error {
	f, err := os.OpenFile(recentPath(s.path), os.O_RDWR, 0)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return errUnreadable(recentPath(s.path), err)
	}
	defer f.Close()
	b, entries, err := readRecent(f.Name())
	if err != nil {
		return errBeside(s.path, err)
	}
	if state, ok := b.state(); ok {
		if err := s.doAgain(state, entries); err != nil {
			return err
		}
	}
	return endFile(f)
}

// doAgain does entries again on the state that they follow, as one transaction, so that
// nothing of that state is written over before they are done.
func (s *Shop) doAgain(state fileMeta, entries []carved) error {
	err := s.update(func(tx *bbolt.Tx) error {
		if uint64(tx.ID()) != state.tx+1 {
			return errMoved
		}
		for _, e := range entries {
			if err := putEntry(tx, e); err != nil {
				return errBeside(s.path, err)
			}
		}
		return nil
	})
	var ours *Error
	if err == nil || errors.Is(err, errMoved) || errors.As(err, &ours) {
		return err
	}
	return errUnwritten(s.path, err)
}
