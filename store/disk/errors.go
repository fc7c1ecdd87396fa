package disk

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	bolterrors "go.etcd.io/bbolt/errors"

	"stowright/store/fault"
)

// ErrClosed says that the file was closed.
var ErrClosed = errors.New("the file is closed")

func errBusy(path string) error {
	return fault.New(fault.Busy, path, "Another program has the shop file %s open: close it there, then try again.", path)
}

func errStuck(path string) error {
	return fault.New(fault.Internal, path, "The shop file %s could not be written, and nothing more is: see that its disk is there and has room, close it, then open it again.", path)
}

func errNotShop(path string, cause error) error {
	return fault.Wrap(cause, fault.Corrupt, path, "%s is damaged, or is not a shop file: keep it, and open a copy made earlier.", path)
}

func errEmpty(path string) error {
	return fault.New(fault.Corrupt, path, "%s is empty, and what was in it is lost: keep it, and open a copy made earlier.", path)
}

func errReadOnly(path string) error {
	return fault.New(fault.Invalid, path, "The shop file %s may only be read, and nothing was changed: change its permissions, then open the shop again.", path)
}

func errDamaged(path string, cause error) error {
	return fault.Wrap(cause, fault.Corrupt, path, "%s is damaged: keep it, and open a copy made earlier.", path)
}

// ErrUnreadable says that a file cannot be read.
func ErrUnreadable(path string, cause error) error {
	return fault.Wrap(cause, fault.Internal, path, "The shop file %s cannot be read: see that its disk is there.", path)
}

func errUnwritten(path string, cause error) error {
	return fault.Wrap(cause, fault.Internal, path, "%s was not closed, and what was done last cannot be put back: see that its disk has room and may be written.", path)
}

// errLog says that a write-ahead log and the shop file that it lies beside do not fit together.
func errLog(path string, cause error) error {
	return fault.Wrap(cause, fault.Corrupt, path, "%s is damaged, or the newest entries in %s are, or are of another file: keep both, and open a copy made earlier.", path, filepath.Base(LogPath(path)))
}

func errNoBucket(name string) error {
	return fault.New(fault.Corrupt, name, "The shop file has no table %q: keep it, and open a copy made earlier.", name)
}

// damaged names a record that is not what was written.
func (s sealer) damaged(key []byte, cause error) error {
	if s.kind == Journal {
		return errEntry(key, cause)
	}
	return fault.Wrap(fmt.Errorf("%s: %w", RecordName(s.name, string(key)), cause), fault.Corrupt, "", "A record of the table %q is damaged: keep the file, and open a copy made earlier.", s.name)
}

func errEntry(key []byte, cause error) error {
	return fault.Wrap(fmt.Errorf("entry %x: %w", key, cause), fault.Corrupt, "", "An entry of the journal is damaged: keep the file, and open a copy made earlier.")
}

// RecordName names a record for people: its bucket, then the parts of its key.
func RecordName(bucket, key string) string {
	return bucket + " " + strings.TrimRight(strings.ReplaceAll(key, "\x00", " / "), " /")
}

// openError is what opening a file with bbolt says, for people.
func openError(path string, err error) error {
	switch {
	case fault.Known(err):
		return err
	case errors.Is(err, bolterrors.ErrTimeout):
		return errBusy(path)
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrVersionMismatch), errors.Is(err, bolterrors.ErrChecksum):
		return errNotShop(path, err)
	case errors.Is(err, os.ErrPermission), errors.Is(err, syscall.EROFS):
		return fault.Wrap(err, fault.Invalid, path, "You may not write the shop file %s: change its permissions or name another with --shop.", path)
	}
	return fault.Wrap(err, fault.Internal, path, "The shop file %s cannot be opened: see that its disk is there and has room.", path)
}
