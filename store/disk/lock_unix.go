//go:build unix && !solaris && !illumos && !aix

package disk

import (
	"errors"
	"os"
	"syscall"
)

// keepsLog reports whether a write-ahead log may lie beside the file.
const keepsLog = true

// HeldStays reports whether a file that is locked can neither be renamed nor replaced.
const HeldStays = false

// tryLock takes the lock of an open file, in the way of bbolt; held is false where another
// program has it. Closing the file lets go of it.
func tryLock(f *os.File) (held bool, err error) {
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return false, nil
	}
	return err == nil, err
}

// hold takes the lock of a file or folder, so that other programs know that somebody works
// on it; false where another one has it.
func hold(name string) (unlock func(), held bool) {
	f, err := os.Open(name)
	if err != nil {
		return func() {}, false
	}
	if held, _ := tryLock(f); !held {
		_ = f.Close()
		return func() {}, false
	}
	return func() { _ = f.Close() }, true // which lets go of the lock
}

// holdNew holds a folder that was just made.
func holdNew(name string) (unlock func(), held bool) { return hold(name) }
