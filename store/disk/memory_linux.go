package disk

import "syscall"

// forgetPages lets go of the pages of a file's map at an address, which stay in the
// memory of the process otherwise once they were looked at. What is looked at again is
// mapped again.
func forgetPages(address uintptr, length int64) {
	// Where it is refused, they stay.
	_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, address, uintptr(length), syscall.MADV_DONTNEED)
}
