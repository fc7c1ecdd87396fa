package output

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"stowright/store/fault"
)

// ErrExist is the cause of an error about a file that is there already and could be
// written over, if somebody asks for that.
var ErrExist = errors.New("the file is there already")

// existing are files that are there already, as they were named.
type existing struct{ files []string }

func (e *existing) Error() string { return ErrExist.Error() }

func (e *existing) Is(target error) bool { return target == ErrExist }

// Existing are the files, as they were named, of an error about files that are there
// already, and reports whether the error is about that. All of them would be written over.
func Existing(err error) (files []string, ok bool) {
	var e *existing
	if errors.As(err, &e) {
		return e.files, true
	}
	return nil, false
}

// refuse is why nothing can be written under a name.
func refuse(path string, cause error, format string, args ...any) *fault.Error {
	return fault.Wrap(bare(cause), fault.Invalid, path, format, args...)
}

func errExists(files ...string) *fault.Error {
	cause := &existing{files}
	if more := len(files) - 1; more > 0 {
		return fault.Wrap(cause, fault.Conflict, files[0], "There is already %s, and %d more of these files: name another folder, or say --replace to write over them.", files[0], more)
	}
	return fault.Wrap(cause, fault.Conflict, files[0], "There is already %s: name another, or say --replace to write over it.", files[0])
}

func errKept(path string) *fault.Error {
	return fault.New(fault.Conflict, path, "%s is a shop file, a safe copy of one, or lies beside one, and is never written over: name another.", path)
}

// errWriting is what went wrong once the file was begun.
func errWriting(path string, cause error) *fault.Error {
	if errors.Is(cause, fs.ErrPermission) {
		return refuse(path, cause, "%s cannot be written: name a file in a folder that may be.", path)
	}
	return fault.Wrap(bare(cause), fault.Internal, path, "%s could not be written: see that its disk is there and has room.", path)
}

// bare is an error of the file system without the name that it is about: that would be a
// temporary one, which says nothing to anyone.
func bare(err error) error {
	var number syscall.Errno
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &number):
		return number
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
