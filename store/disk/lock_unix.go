//go:build unix && !solaris && !illumos && !aix

package disk

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// keepsLog reports whether a write-ahead log may lie beside the file.
const keepsLog = true

// lockTry is how long it takes until a lock that another program has is asked for again.
const lockTry = 50 * time.Millisecond

// Lock takes the lock that bbolt takes on a shop file that it writes, so that no
// other program can open it. It fails with Busy while one has it. A file that is not
// there needs no lock.
func Lock(path string) (unlock func(), err error) {
	f, err := os.Open(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return func() {}, nil
	case err != nil:
		return nil, ErrUnreadable(path, err)
	}
	for began := time.Now(); ; time.Sleep(lockTry) {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case err == nil:
			return func() { _ = f.Close() }, nil // which lets go of the lock
		case !errors.Is(err, syscall.EWOULDBLOCK):
			_ = f.Close()
			return nil, ErrUnreadable(path, err)
		case time.Since(began) > lockWait:
			_ = f.Close()
			return nil, errBusy(path)
		}
	}
}

// hold takes the lock of a file or folder, so that other programs know that somebody works
// on it; false where another one has it.
func hold(name string) (unlock func(), held bool) {
	f, err := os.Open(name)
	if err != nil {
		return func() {}, false
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		_ = f.Close()
		return func() {}, false
	}
	return func() { _ = f.Close() }, true // which lets go of the lock
}

// holdNew holds a folder that was just made.
func holdNew(name string) (unlock func(), held bool) { return hold(name) }
