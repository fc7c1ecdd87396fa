//go:build !unix || solaris || illumos || aix

package output

// canLock says whether a folder can be held so that other programs notice.
const canLock = false

// lock does nothing where folders cannot be held.
func lock(string) (unlock func(), err error) { return func() {}, nil }

// refusesSync reports whether a file system says that it cannot sync a folder.
func refusesSync(error) bool { return false }
