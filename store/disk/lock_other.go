//go:build !windows && (!unix || solaris || illumos || aix)

package disk

import "stowright/store/fault"

// keepsLog reports whether a write-ahead log may lie beside the file: not where the
// file cannot be held while the log is replayed.
const keepsLog = false

// HeldStays reports whether a file that is locked can neither be renamed nor replaced.
const HeldStays = false

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
