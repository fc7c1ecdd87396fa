//go:build !linux

package disk

import "os"

// syncData waits until what was written to a file is on the disk.
func syncData(f *os.File) error { return f.Sync() }
