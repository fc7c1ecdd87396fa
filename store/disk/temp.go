package disk

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"stowright/store/fault"
)

// Temp is a file under a hidden name beside where it is to be, until it is whole: it lies
// in a folder of its own, .NAME-unfinished-*, which is held while it is worked on. Errors
// name the file that it is to become.
type Temp struct {
	folder string
	unlock func()
	path   string
	as     string // what it is to become
}

const unfinished = "-unfinished-"

func tempName(base string) string { return "." + base + unfinished + "*" }

// NewTemp makes the folder of a file that is to become path, or to lie in the folder of
// path under another name. What programs that were interrupted have left there under the
// same base name is removed. The file itself is not there yet.
func NewTemp(path, base string) (*Temp, error) {
	in := filepath.Dir(path)
	RemoveLeftovers(in, base)
	for {
		folder, err := os.MkdirTemp(in, tempName(base))
		if err != nil {
			var of *os.PathError
			if errors.As(err, &of) {
				err = &os.PathError{Op: of.Op, Path: path, Err: of.Err} // without the hidden name
			}
			return nil, err
		}
		unlock, held := holdNew(folder)
		if there, err := os.Stat(folder); held && err == nil && there.IsDir() {
			return &Temp{folder: folder, unlock: unlock, path: filepath.Join(folder, base), as: path}, nil
		}
		unlock() // another program took it for a leftover before it was held
	}
}

// Path is where the file is to be written.
func (t *Temp) Path() string { return t.path }

// Discard removes it, where it has not become what it was to be.
func (t *Temp) Discard() {
	removeFolder(t.folder)
	t.unlock()
}

// removeFolder removes a folder with its files, or a file; what may not be removed stays.
// There are no folders in it, and so the plain way will do: that of os.RemoveAll is one that
// not every system knows which calls itself Windows.
func removeFolder(name string) {
	list, _ := os.ReadDir(name) // of a file there is none
	for _, entry := range list {
		_ = os.Remove(filepath.Join(name, entry.Name()))
	}
	_ = os.Remove(name)
}

// Become gives the file its name, in place of a file that has it.
func (t *Temp) Become(path string) error {
	if err := os.Rename(t.path, path); err != nil {
		return err
	}
	SyncFolder(path)
	return nil
}

// BecomeNew gives the file a name that no file has, not even one that another program has
// just made; where the disk knows no second names, it is renamed.
func (t *Temp) BecomeNew(path string) error {
	err := os.Link(t.path, path)
	if err != nil && !errors.Is(err, os.ErrExist) {
		err = os.Rename(t.path, path)
	}
	if err == nil {
		SyncFolder(path)
	}
	return err
}

// Named is an error that says the name of what the file is to become where it said the
// hidden one; nil for nil.
func (t *Temp) Named(err error) error {
	return fault.Rename(fault.Rename(err, t.path, t.as), t.folder, t.as)
}

// RemoveLeftovers removes what interrupted programs have left in a folder under a base
// name, unless another program holds it.
func RemoveLeftovers(folder, base string) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return // then nothing can be made there either, which says so
	}
	for _, entry := range list {
		if !strings.HasPrefix(entry.Name(), "."+base+unfinished) {
			continue
		}
		name := filepath.Join(folder, entry.Name())
		if unlock, held := hold(name); held {
			removeFolder(name)
			unlock()
		}
	}
}
