//go:build !linux

package disk

// forgetPages would let go of the pages of a file's map at an address.
func forgetPages(uintptr, int64) {}
