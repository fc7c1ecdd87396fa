//go:build !windows

package disk

import "os"

const (
	// mapAhead is how much more of the file is mapped than there is.
	mapAhead = 1 << 30
	// maxGrown is more bytes than the file grows by for a record that goes into the log.
	maxGrown = 64 << 20
)

// toMap is how much of a file is to be mapped.
func toMap(f *os.File) (int64, error) {
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size() + mapAhead, nil
}

// trim would make a file shorter that was closed: none is longer than bbolt needs it here.
func trim(string) {}

// mappedNow is how much of the file bbolt has mapped, as far as that is known.
func (f *File) mappedNow() int64 { return 0 }
