//go:build !unix || solaris || illumos || aix

package store

// lockFile says whether another program has the file open. Here it cannot be held:
// a file that is held can neither be renamed nor replaced.
func lockFile(path string) (unlock func(), err error) {
	db, err := openBolt(path, true)
	if err == nil {
		err = guarded(path, db.Close)
	}
	if KindOf(err) == Busy {
		return nil, err
	}
	return func() {}, nil
}
