package disk

import "os"

// A file has the length of its map here: bbolt makes it so. So no more of it is mapped than
// a day's work needs; what the file holds, and not its length, is what that is more than, or
// it would grow whenever it is opened.
const (
	// mapAhead is how much more is mapped than is in use.
	mapAhead = 24 << 20
	// maxGrown is more bytes than the file grows by for a record that goes into the log: of
	// its 64 KiB each change of a hundred bytes may touch two pages at two depths.
	maxGrown = 16 << 20
)

// toMap is how much of a file is to be mapped.
func toMap(f *os.File) (int64, error) {
	newest, _, _ := readMetas(f) // of a new file nothing is in use
	return int64(newest.pages)*int64(newest.pageSize) + mapAhead, nil
}

// trim makes a file that was closed as long as what is in it, unless another program has it
// by now. What cannot be made shorter stays as it is.
func trim(path string) {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return
	}
	defer f.Close() // which lets go of the lock
	if held, err := tryLock(f); !held || err != nil {
		return
	}
	newest, both, _ := readMetas(f)
	used := int64(newest.pages) * int64(newest.pageSize)
	if info, err := f.Stat(); err == nil && both && used < info.Size() {
		_ = f.Truncate(used)
	}
}

// mappedNow is how much of the file bbolt has mapped.
func (f *File) mappedNow() int64 {
	info, err := f.plain.Stat()
	if err != nil {
		return 0
	}
	return info.Size()
}
