//go:build windows || (unix && !solaris && !illumos && !aix)

package disk

import (
	"errors"
	"os"
	"time"
)

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
		held, err := tryLock(f)
		switch {
		case held:
			return func() { _ = f.Close() }, nil // which lets go of the lock
		case err != nil:
			_ = f.Close()
			return nil, ErrUnreadable(path, err)
		case time.Since(began) > lockWait:
			_ = f.Close()
			return nil, errBusy(path)
		}
	}
}
