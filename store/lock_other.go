//go:build !unix || solaris || illumos || aix

package store

// keepsRecent says whether the newest entries may be kept beside the file: not where it
// cannot be held while what they did is done again.
const keepsRecent = false

// lockFile says whether another program has the file open. Here it cannot be held:
// a file that is held can neither be renamed nor replaced.
func lockFile(path string) (unlock func(), err error) {
	db, _, err := openBolt(path, true)
	if err == nil {
		err = guarded(path, db.Close)
	}
	if KindOf(err) == Busy {
		return nil, err
	}
	return func() {}, nil
}
