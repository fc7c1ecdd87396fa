package disk

import (
	"os"
	"syscall"
)

// syncData waits until what was written to a file is on the disk. When it was written
// need not be, which would cost as much again.
func syncData(f *os.File) error {
	for {
		if err := syscall.Fdatasync(int(f.Fd())); err != syscall.EINTR {
			return os.NewSyscallError("fdatasync", err)
		}
	}
}
