package disk

import (
	"errors"
	"io"
	"os"
)

// While one program has a file, another one can read what is on the disk of it: a copy of
// the file and its log is what the power failing would leave, and opening recovers that.
// No lock is taken for it, so the copy counts only where the pages of the state that it
// recovers to were not written over meanwhile: they are not before the log has another
// checkpoint, or, where there is no log, the file another newest transaction.

// openSnapshot is Open for Options.Snapshot. It fails with Busy, too, where the file changed
// too fast to be copied.
func openSnapshot(path string, o Options) (*File, error) {
	if _, err := lookFirst(path, false); err != nil {
		return nil, err
	}
	temp, err := NewTemp(path, BaseName(path))
	if err != nil {
		return nil, openError(path, err)
	}
	f, err := snapshotIn(temp, path, o)
	if err != nil {
		temp.Discard()
		return nil, temp.Named(err)
	}
	f.path, f.snapshot = path, temp
	return f, nil
}

func snapshotIn(temp *Temp, path string, o Options) (*File, error) {
	if err := copyState(path, temp.Path()); err != nil {
		return nil, err
	}
	o.Create, o.Snapshot = false, false
	f, err := Open(temp.Path(), o) // which recovers it
	if err != nil {
		return nil, err
	}
	if err := f.Close(); err != nil {
		return nil, err
	}
	o.Alone = true
	return Open(temp.Path(), o)
}

// copyState copies a file and its log as they are at one moment.
func copyState(path, to string) error {
	return inOneMoment(path, func() (moment, error) { return momentOf(path) }, func() error {
		// The log comes second: it may say more than the file, and not less.
		return errors.Join(Remove(to), copyFile(path, to), copyLog(LogPath(path), LogPath(to)))
	})
}

// inOneMoment does something again until it is still the same moment afterwards.
func inOneMoment(path string, look func() (moment, error), do func() error) error {
	for range mostOpenings {
		before, err := look()
		if err != nil {
			return err
		}
		if err := do(); err != nil {
			return err
		}
		after, err := look()
		if err != nil || after == before {
			return err
		}
	}
	return errBusy(path)
}

// moment tells two states of a file apart of which the later one may write over the pages
// of the earlier.
type moment struct {
	checkpoint  uint64 // the generation of the log's; 0 without a log
	transaction uint64 // the newest of the file, where there is no log
}

func momentOf(path string) (moment, error) {
	log, err := os.Open(LogPath(path))
	if err == nil {
		defer log.Close()
		var c checkpoint
		if c, err = readCheckpoint(log); err == nil && c.Generation > 0 {
			return moment{checkpoint: c.Generation}, nil
		}
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return moment{}, ErrUnreadable(LogPath(path), err)
	}
	f, err := os.Open(path)
	if err != nil {
		return moment{}, ErrUnreadable(path, err)
	}
	defer f.Close()
	newest, _, _ := readMetas(f) // where none is whole, opening the copy refuses it
	return moment{transaction: newest.tx}, nil
}

// copyLog copies a log; where there is none, there is nothing to copy.
func copyLog(from, to string) error {
	if err := copyFile(from, to); !errors.Is(err, os.ErrNotExist) {
		return err
	}
	return nil
}

func copyFile(from, to string) (err error) {
	source, err := os.Open(from)
	if err != nil {
		return ErrUnreadable(from, err)
	}
	defer source.Close()
	target, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, FilePerm)
	if err != nil {
		return openError(to, err)
	}
	defer func() { err = errors.Join(err, target.Close()) }()
	if _, err := io.Copy(target, source); err != nil {
		return openError(to, err)
	}
	return nil
}
