package disk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store/fault"
)

// lockWait is how long Open waits for another program to let go of the file: long
// enough for one that is just closing, short enough not to look like a hang.
const lockWait = 500 * time.Millisecond

// What a file and its folders are to other people: nothing.
const (
	FilePerm   = 0o600
	FolderPerm = 0o700
)

// Options are what Open needs beside the name of the file.
type Options struct {
	Layout Layout
	// Replay does again what the record of a journal did: exactly what was written through
	// Tx.ReplayedBucket in the transaction that appended it.
	Replay func(tx *Tx, r Record) error
	Create bool // make the file when it is not there
	// Snapshot opens the newest state on the disk of a file that another program has, for
	// reading only: an Update is refused with Busy. It is a copy under a hidden name beside
	// the file, which Close removes.
	Snapshot bool
	// Alone opens the file as it is, for reading only and without the write-ahead log: a
	// copy, or a file that is looked at after damage.
	Alone bool
}

// File is an open file. Its methods may be called from several goroutines.
type File struct {
	options    Options
	db         *bbolt.DB
	path       string
	snapshot   *Temp        // what it is a copy in of a file that another program has; nil otherwise
	opened     os.FileInfo  // of the file as it was opened
	plain      *os.File     // the same file, for reading much of it
	format     atomic.Int32 // of the file
	state      atomic.Pointer[state]
	hashed     atomic.Pointer[hashedEnd]
	mapped     int64       // bytes of the file that bbolt has mapped at least
	forgetting atomic.Bool // pages of the map are let go of soon
	broken     atomic.Bool // set when the file has turned out to be damaged
	closed     atomic.Bool

	writing  sync.Mutex // held by each change; guards what follows
	log      *writeAheadLog
	appended bool // a record was appended since the file was opened
	noLog    bool // no log can be made beside the file, or none is wanted
	stuck    bool // what is on the disk is not known: nothing is written any more
}

// Open opens a file, and makes it where Options.Create says so and there is none. It fails
// within a second with Busy while another program has it, with NotFound when it is not
// there, with Corrupt when it is damaged, empty or another kind of file, and with Invalid
// when it may not be made or is of a newer program. One that may only be read is opened for
// reading: see ReadOnly. A file that others could read is closed to them.
func Open(path string, o Options) (*File, error) {
	switch {
	case o.Snapshot:
		return openSnapshot(path, o)
	case o.Alone:
		return openAlone(path, o)
	}
	isNew, err := lookFirst(path, o.Create)
	if err != nil {
		return nil, err
	}
	RemoveLeftovers(filepath.Dir(path), BaseName(path))
	for range mostOpenings {
		if err := restoreCheckpoint(path); err != nil {
			return nil, err
		}
		if isNew {
			if err := makeFile(path, o); err != nil {
				return nil, err
			}
			isNew = false
		}
		f, err := openFile(path, o)
		if err != nil {
			return openToRead(path, o, err)
		}
		if err = f.prepare(); err == nil {
			err = f.replayLog()
		}
		if err == nil {
			return f, nil
		}
		if err := errors.Join(err, f.Close()); !errors.Is(err, errMoved) {
			return nil, err
		}
	}
	return nil, errBusy(path)
}

// BaseName is the name of a file without its folder and without .stow: what the names of
// its copies and of the hidden files beside it begin with.
func BaseName(path string) string { return strings.TrimSuffix(filepath.Base(path), Ext) }

// makeFile makes a file with all its buckets under a hidden name, so that it is never seen
// without them, and gives it its own; unless another program has made one meanwhile.
func makeFile(path string, o Options) error {
	temp, err := NewTemp(path, BaseName(path))
	if err != nil {
		return openError(path, err)
	}
	defer temp.Discard()
	f, err := openFile(temp.Path(), o)
	if err != nil {
		return temp.Named(err)
	}
	if err := errors.Join(f.makeBuckets(), f.Close()); err != nil {
		return temp.Named(openError(path, err))
	}
	if err := temp.BecomeNew(path); err != nil && !errors.Is(err, os.ErrExist) {
		return temp.Named(openError(path, err))
	}
	return nil
}

// openToRead opens a file that may not be written, which is why it could not be opened
// otherwise; any other reason stands.
func openToRead(path string, o Options, why error) (*File, error) {
	if !errors.Is(why, os.ErrPermission) && !errors.Is(why, syscall.EROFS) {
		return nil, why
	}
	if err := logIsDone(path); err != nil {
		return nil, err
	}
	o.Alone = true
	f, err := openAlone(path, o)
	if err != nil && errors.Is(err, os.ErrPermission) {
		return nil, why
	}
	return f, err
}

func openAlone(path string, o Options) (*File, error) {
	f, err := openFile(path, o)
	if err != nil {
		return nil, err
	}
	if err := f.prepare(); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// ReadOnly reports whether the file was opened for reading only: every Update is refused.
func (f *File) ReadOnly() bool { return f.options.Alone }

// openFile opens the file as it is, whatever is in it.
func openFile(path string, o Options) (*File, error) {
	db, mapped, err := openWhole(path, o.Alone)
	if err != nil {
		return nil, err
	}
	f := &File{options: o, db: db, path: path, mapped: mapped, noLog: !canMapAhead}
	f.format.Store(int32(o.Layout.Format))
	if f.opened, err = os.Stat(path); err != nil {
		return nil, errors.Join(f.stillThere(), db.Close())
	}
	if err := f.openPlain(); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return f, nil
}

// lookFirst says what can be said of the file without opening it, makes its folder where it
// is to be made, and closes it to other people. It reports whether the file is to be made.
func lookFirst(path string, create bool) (isNew bool, err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist) && !create:
		return false, fault.New(fault.NotFound, path, "There is no shop file %s: name another with --shop, or bring a packing list in to make it.", path)
	case errors.Is(err, os.ErrNotExist):
		return true, MakeFolder(path)
	case err != nil:
		return false, fault.Wrap(err, fault.Invalid, path, "The shop file %s cannot be looked at: see that its folder is there and may be read.", path)
	case !info.Mode().IsRegular():
		return false, fault.New(fault.Invalid, path, "%s is not a file: name the shop file with --shop.", path)
	case info.Size() == 0:
		return false, errEmpty(path)
	}
	if mode := info.Mode().Perm(); mode&0o077 != 0 {
		// Where this may not be done, opening says so itself.
		_ = os.Chmod(path, mode&0o700)
	}
	return false, nil
}

// MakeFolder makes the folder of a file, where it is not there.
func MakeFolder(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), FolderPerm); err != nil {
		return fault.Wrap(err, fault.Invalid, path, "The folder %s cannot be made: name another shop file with --shop.", filepath.Dir(path))
	}
	return nil
}

// SyncFolder has the folder of a new file on disk too, so that the file is still
// there after the power fails. Some file systems refuse that, and then can do no better.
func SyncFolder(path string) {
	if folder, err := os.Open(filepath.Dir(path)); err == nil {
		_ = folder.Sync()
		_ = folder.Close()
	}
}

// Remove removes a file with its write-ahead log; one that is not there is removed already.
func Remove(path string) error {
	for _, name := range []string{path, LogPath(path)} {
		if err := os.Remove(name); err != nil && !errors.Is(err, os.ErrNotExist) {
			return fault.Wrap(err, fault.Invalid, name, "%s cannot be removed: see that its folder may be written.", name)
		}
	}
	return nil
}

// Path is the name of the file.
func (f *File) Path() string { return f.path }

// Closed reports whether Close was called.
func (f *File) Closed() bool { return f.closed.Load() }

// View does something in a reading transaction, which sees one state of the file
// whatever is written meanwhile.
func (f *File) View(do func(tx *Tx) error) error {
	if f.closed.Load() {
		return ErrClosed
	}
	f.forget()
	return f.viewBolt(func(tx *bbolt.Tx) error { return do(f.newTx(tx)) })
}

func (f *File) viewBolt(do func(tx *bbolt.Tx) error) error {
	return f.guard(func() error { return f.db.View(do) })
}

// Update does something in a writing transaction, if the file is still there. Once it has
// returned without an error, all of it is on the disk; otherwise nothing of it is done.
func (f *File) Update(do func(tx *Tx) error) error {
	if f.closed.Load() {
		return ErrClosed
	}
	switch {
	case f.snapshot != nil:
		return errBusy(f.path)
	case f.ReadOnly():
		return errReadOnly(f.path)
	}
	if err := f.stillThere(); err != nil {
		return err
	}
	return f.guard(func() error { return f.write(do) })
}

func (f *File) write(do func(tx *Tx) error) error {
	f.writing.Lock()
	defer f.writing.Unlock()
	if f.stuck {
		return errStuck(f.path)
	}
	if err := f.keepLog(); err != nil {
		return err
	}
	bolt, err := f.db.Begin(true)
	if err != nil {
		return err
	}
	defer func() { _ = bolt.Rollback() }() // which fails once it is committed
	tx := f.newTx(bolt)
	if err := tx.proveBuckets(); err != nil {
		return err
	}
	if err := do(tx); err != nil {
		return err
	}
	f.appended = f.appended || tx.logged() != nil
	if err := f.commit(bolt, tx.logged()); err != nil {
		return err
	}
	f.committed(tx)
	f.format.Store(int32(tx.format))
	return nil
}

// logged is the one record that replaying needs to repeat the whole transaction; nil
// where there is none.
func (t *Tx) logged() []byte {
	if t.outside || t.records != 1 {
		return nil
	}
	return t.appended
}

// SetUnsynced has changes not waited for, until Sync: for a file that counts only once it
// has its name. Nothing of such a file survives a power failure.
func (f *File) SetUnsynced(on bool) {
	f.writing.Lock()
	defer f.writing.Unlock()
	f.noLog, f.db.NoSync = on || !canMapAhead, on
}

// Sync waits until all changes of a file that was set unsynced are on the disk.
func (f *File) Sync() error { return f.db.Sync() }

// Replay adds records to the journal, which they must follow, and does again what they
// did, many of them in one transaction.
func (f *File) Replay(records []Record, goOn func() error) error {
	for len(records) > 0 {
		if err := goOn(); err != nil {
			return err
		}
		batch := records[:min(ReplayBatch, len(records))]
		records = records[len(batch):]
		err := f.Update(func(tx *Tx) error {
			for _, r := range batch {
				if err := tx.replay(r); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// ReplayBatch is how many records are replayed in one transaction.
const ReplayBatch = 1000
