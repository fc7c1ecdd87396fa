package disk

import (
	"errors"
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"go.etcd.io/bbolt"

	"stowright/store/fault"
)

// A damaged file can make bbolt read outside its map or run into one of its own
// assertions. Every transaction is therefore guarded: such a panic becomes an
// error of kind Corrupt, and nothing is done with the file any more, since bbolt
// may still hold its locks.

// forgetAfter is how long the pages of the file's map are kept that were looked at: as
// long as it takes to show a screen.
const forgetAfter = 200 * time.Millisecond

// forget lets go of those pages soon: a shop that is looked through for an hour would end
// up in memory with all of its file.
func (f *File) forget() {
	if !f.forgetting.CompareAndSwap(false, true) {
		return
	}
	time.AfterFunc(forgetAfter, func() {
		f.forgetting.Store(false)
		// Where the shop was closed or is damaged meanwhile, there is nothing to let go of.
		_ = f.guard(func() error {
			return f.db.View(func(tx *bbolt.Tx) error { // which keeps the map where it is
				forgetPages(f.db.Info().Data, tx.Size())
				return nil
			})
		})
	})
}

func (f *File) guard(do func() error) error {
	if f.broken.Load() {
		return errDamaged(f.path, nil)
	}
	err := guarded(f.path, do)
	if errors.Is(err, errPanicked) {
		f.broken.Store(true)
	}
	return err
}

// stillThere refuses to write to a file that was deleted or replaced meanwhile:
// what is written then is gone when the program ends.
func (f *File) stillThere() error {
	info, err := os.Stat(f.path)
	if err == nil && os.SameFile(info, f.opened) {
		return nil
	}
	return fault.Wrap(err, fault.Corrupt, f.path, "The shop file %s is gone or was replaced, and nothing was written: make a backup now, then open the shop again.", f.path)
}

// errPanicked is the cause of an error that was a panic over the file.
var errPanicked = errors.New("the file is not as it must be")

// guarded turns a panic that comes from reading a damaged file into an error.
// Panics over anything else go on.
func guarded(path string, do func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if p := recover(); p != nil {
			if !overFile(p) {
				panic(p)
			}
			err = errDamaged(path, fmt.Errorf("%w: %v", errPanicked, p))
		}
	}()
	return do()
}

// overFile reports whether a panic was a fault in the map of a file, or came from
// bbolt. It is called from the function that recovers.
func overFile(p any) bool {
	if fault, ok := p.(interface{ Addr() uintptr }); ok && fault.Addr() != 0 {
		return true
	}
	// No address is known of one that no memory can have, which bbolt reaches by a page
	// number that is wrong in its highest bits; nor of a mistake of ours.
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(0, pcs[:])])
	panicking := false
	for {
		f, more := frames.Next()
		switch {
		case f.Function == "runtime.gopanic":
			panicking = true
		case panicking && !strings.HasPrefix(f.Function, "runtime."):
			return strings.HasPrefix(f.Function, "go.etcd.io/bbolt")
		}
		if !more {
			return false
		}
	}
}

// openWhole opens the file with bbolt, after looking at it without.
func openWhole(path string, readOnly bool) (db *bbolt.DB, mapped int64, err error) {
	if problem := inspect(path); problem != nil {
		// Another program may be writing it just now: then it is busy, not damaged.
		db, _, err := openBolt(path, true)
		if err == nil {
			err = guarded(path, db.Close)
		}
		if fault.KindOf(err) == fault.Busy {
			return nil, 0, err
		}
		if problem = inspect(path); problem != nil {
			return nil, 0, problem
		}
	}
	return openBolt(path, readOnly)
}

// openBolt opens the file with bbolt. Its list of free pages is kept as an array,
// which every change writes as it stands: the map that bbolt offers too is sorted for
// that, which on a list of 5,000 takes longer than the sync. That map finds long
// stretches sooner where hundreds of thousands of pages are free, which is not so
// in a file that only grows. It says how much of the file is mapped at least, which
// for writing is more than there is.
func openBolt(path string, readOnly bool) (db *bbolt.DB, mapped int64, err error) {
	for range mostOpenings {
		var file *os.File
		options := &bbolt.Options{
			Timeout: lockWait, FreelistType: bbolt.FreelistArrayType, ReadOnly: readOnly,
		}
		options.OpenFile = func(name string, flag int, perm os.FileMode) (f *os.File, err error) {
			if f, err = os.OpenFile(name, flag, perm); err != nil {
				return nil, err
			}
			file = f
			mapped = 0
			if canMapAhead && !readOnly {
				mapped, err = toMap(f)
				options.InitialMmapSize = int(mapped) // asked for once the file is open
			}
			return f, err
		}
		err = guarded(path, func() error {
			db, err = bbolt.Open(path, FilePerm, options)
			return err
		})
		if err != nil {
			return nil, 0, openError(path, err)
		}
		if named(file, path) {
			db.AllocSize = growBy
			return db, mapped, nil
		}
		_ = guarded(path, db.Close)
	}
	return nil, 0, errBusy(path)
}

// growBy is how many bytes longer a file is made that has become too short.
const growBy = 256 << 10

// mostOpenings bounds how often a file is opened that was replaced meanwhile: one
// that waits for the lock of another program, which puts a copy in the file's place,
// gets that of the file that was.
const mostOpenings = 3

// named reports whether a path still names an open file.
func named(f *os.File, path string) bool {
	is, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(path)
	return err == nil && os.SameFile(is, there)
}

// closeWait is how long Close waits for a file whose locks may be lost.
const closeWait = time.Second

// Close closes the file, which must not be used afterwards.
func (f *File) Close() error {
	f.closed.Store(true)
	if f.snapshot != nil {
		defer f.snapshot.Discard()
	}
	defer f.plain.Close() // it was only read
	shut := func() error {
		f.writing.Lock()
		defer f.writing.Unlock()
		return errors.Join(f.endLog(), f.db.Close())
	}
	if !f.broken.Load() {
		err := guarded(f.path, shut)
		if err == nil && !f.ReadOnly() && f.snapshot == nil {
			trim(f.path)
		}
		return err
	}
	// After a panic bbolt may hold a lock that nobody will ever let go of.
	done := make(chan error, 1)
	go func() { done <- guarded(f.path, shut) }()
	select {
	case err := <-done:
		return err
	case <-time.After(closeWait):
		return errDamaged(f.path, nil)
	}
}
