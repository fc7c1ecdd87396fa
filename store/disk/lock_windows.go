package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// keepsLog reports whether a write-ahead log may lie beside the file.
const keepsLog = true

// HeldStays reports whether a file that is locked can neither be renamed nor replaced. No
// file can here that a program has open; so whoever replaces one lets go of it just before,
// and the system refuses that where another program was quicker.
const HeldStays = true

// tryLock takes the lock of an open file, in the way of bbolt: a byte where no file has
// any, so that all of it can be read and written meanwhile. held is false where another
// program has it. Closing the file lets go of it.
func tryLock(f *os.File) (held bool, err error) {
	const last = 1<<32 - 1
	err = windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_FAIL_IMMEDIATELY|windows.LOCKFILE_EXCLUSIVE_LOCK, 0, 1, 0,
		&windows.Overlapped{Offset: last, OffsetHigh: last})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return false, nil
	}
	return err == nil, err
}
