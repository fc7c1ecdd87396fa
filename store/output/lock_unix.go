//go:build unix && !solaris && !illumos && !aix

package output

import (
	"errors"
	"os"
	"syscall"
)

// canLock says whether a folder can be held so that other programs notice.
const canLock = true

// lock holds a folder until unlock is called, or this program ends. It fails while
// another one holds it. Unlock can be called in any case.
func lock(folder string) (unlock func(), err error) {
	f, err := os.Open(folder)
	if err != nil {
		return func() {}, err
	}
	unlock = func() { _ = f.Close() } // which lets go of the lock
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		unlock()
		return func() {}, err
	}
	return unlock, nil
}

// refusesSync reports whether a file system says that it cannot sync a folder.
func refusesSync(err error) bool { return errors.Is(err, syscall.EINVAL) }
