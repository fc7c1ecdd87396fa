package output

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"
)

// Files that are not ready lie in a hidden folder beside where they go, which the program
// that writes them holds locked. One that nobody holds was left by a program that was
// killed, and the next one that writes there removes it.
const (
	stagingPrefix = ".stowright-"
	stagingSuffix = ".unfinished"
)

// leftAfter is how old a folder has to be before it is taken for one that was left: the
// program that makes one needs a moment to lock it, and where folders cannot be locked
// nothing else tells.
func leftAfter() time.Duration {
	if canLock {
		return time.Minute
	}
	return 24 * time.Hour
}

// staging is such a folder.
type staging struct {
	folder string
	unlock func()
	files  int
}

func newStaging(folder string) (*staging, error) {
	sweep(folder, time.Now())
	name, err := os.MkdirTemp(folder, stagingPrefix+"*"+stagingSuffix)
	if err != nil {
		return nil, err
	}
	unlock, _ := lock(name) // without a lock its age protects it
	return &staging{folder: name, unlock: unlock}, nil
}

// close removes the folder with what still lies in it.
func (s *staging) close() {
	clear(s.folder)
	s.unlock()
}

// sweep removes the folders that were left in a folder. What cannot be removed stays:
// nobody asked for it.
func sweep(folder string, now time.Time) {
	left, _ := filepath.Glob(filepath.Join(escape(folder), stagingPrefix+"*"+stagingSuffix))
	for _, name := range left {
		info, err := os.Lstat(name)
		if err != nil || !info.IsDir() || now.Sub(info.ModTime()) < leftAfter() {
			continue
		}
		if unlock, err := lock(name); err == nil {
			clear(name)
			unlock()
		}
	}
}

// escape is a folder without a meaning of its own in a pattern.
func escape(folder string) string {
	if runtime.GOOS == "windows" { // whose patterns have no such sign
		return folder
	}
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(folder)
}

// clear removes a folder with the files that are called as ours are, and nothing else.
func clear(name string) {
	entries, err := os.ReadDir(name)
	if err != nil {
		return
	}
	for _, e := range entries {
		if _, err := strconv.ParseUint(e.Name(), 10, 32); err == nil && e.Type().IsRegular() {
			_ = os.Remove(filepath.Join(name, e.Name()))
		}
	}
	_ = os.Remove(name) // which fails while something is in it
}

// write writes a file under a hidden name and returns that.
func (s *staging) write(t target, f File) (name string, err error) {
	s.files++
	name = filepath.Join(s.folder, strconv.Itoa(s.files))
	perm := fs.FileMode(filePerm)
	if t.there != nil {
		perm = t.there.Mode().Perm()
	}
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, filePerm)
	if err != nil {
		return "", errWriting(f.Path, err)
	}
	to := &writer{to: file}
	told := f.Write(to)
	err = errors.Join(chmod(file, perm), file.Sync(), file.Close())
	switch {
	case to.err != nil:
		return "", errWriting(f.Path, to.err)
	case told != nil:
		return "", told
	case err != nil:
		return "", errWriting(f.Path, err)
	}
	return name, nil
}

// writer remembers the first error of a disk, and says it without the hidden name.
type writer struct {
	to  io.Writer
	err error
}

func (w *writer) Write(p []byte) (int, error) {
	n, err := w.to.Write(p)
	if err != nil && w.err == nil {
		w.err = bare(err)
	}
	return n, w.err
}

// syncFolder has the names of new files on the disk too. Some systems refuse that for
// folders, and then can do no better.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		if runtime.GOOS == "windows" {
			return nil
		}
		return err
	}
	defer d.Close()
	err = d.Sync()
	if runtime.GOOS == "windows" || errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrInvalid) || refusesSync(err) {
		return nil
	}
	return err
}

// chmod gives a file that is written over the permissions that it had, where a system
// has them.
func chmod(f *os.File, perm fs.FileMode) error {
	if perm == filePerm || runtime.GOOS == "windows" {
		return nil
	}
	return f.Chmod(perm)
}
