//go:build !unix || solaris || illumos || aix

package disk

import (
	"os"
	"time"

	"stowright/store/fault"
)

// keepsLog reports whether a write-ahead log may lie beside the file: not where the
// file cannot be held while the log is replayed.
const keepsLog = false

// Lock reports whether another program has the file open. Here it cannot be held:
// a file that is held can neither be renamed nor replaced.
func Lock(path string) (unlock func(), err error) {
	db, _, err := openBolt(path, true)
	if err == nil {
		err = guarded(path, db.Close)
	}
	if fault.KindOf(err) == fault.Busy {
		return nil, err
	}
	return func() {}, nil
}

// leftoverAfter is how old a file is that nobody works on any more.
const leftoverAfter = 24 * time.Hour

// hold reports whether nobody works on a file or folder, as far as its age tells: it cannot
// be locked here.
func hold(name string) (unlock func(), held bool) {
	info, err := os.Stat(name)
	return func() {}, err == nil && time.Since(info.ModTime()) > leftoverAfter
}

// holdNew holds a folder that was just made: nobody else takes it for a leftover.
func holdNew(string) (unlock func(), held bool) { return func() {}, true }
