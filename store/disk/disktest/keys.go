package disktest

import (
	"encoding/binary"
	"fmt"
)

// Key is where a key lies in the bytes of a file.
type Key struct {
	Bucket string // empty: it is the name of a bucket
	Branch bool   // it leads to a page, and is no record's
	Offset int    // of its first byte
	Text   string
}

// Keys are all keys of the newest state of a file, in its branches and its leaves. They
// are found by the layout of bbolt's file format version 2: each page starts with 8 bytes
// of its number, 2 of flags, 2 of how many entries it has and 4 of how many pages it goes
// on over, then come entries of 16 bytes.
func Keys(file []byte) (keys []Key, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the file is not as it must be: %v", p)
		}
	}()
	order := binary.NativeEndian
	const header, pageSizeAt, rootAt, txAt = 16, 8, 16, 48
	pageSize := int(order.Uint32(file[header+pageSizeAt:]))
	meta := file[header:]
	if other := file[pageSize+header:]; order.Uint64(other[txAt:]) > order.Uint64(meta[txAt:]) {
		meta = other
	}
	w := keyWalk{file: file, pageSize: pageSize}
	w.page(int(order.Uint64(meta[rootAt:]))*pageSize, "")
	return w.keys, nil
}

type keyWalk struct {
	file     []byte
	pageSize int
	keys     []Key
}

// page goes over the keys of the page at an offset and of all under it.
func (w *keyWalk) page(at int, bucket string) {
	order := binary.NativeEndian
	const header, elementSize, branchFlag, bucketFlag, bucketHeader = 16, 16, 1, 1, 16
	branch := order.Uint16(w.file[at+8:])&branchFlag != 0
	for i := range int(order.Uint16(w.file[at+10:])) {
		element := at + header + i*elementSize
		fields := element
		if !branch {
			fields += 4
		}
		start, length := element+int(order.Uint32(w.file[fields:])), int(order.Uint32(w.file[fields+4:]))
		key := string(w.file[start : start+length])
		w.keys = append(w.keys, Key{Bucket: bucket, Branch: branch, Offset: start, Text: key})
		switch {
		case branch:
			w.page(int(order.Uint64(w.file[element+8:]))*w.pageSize, bucket)
		case order.Uint32(w.file[element:])&bucketFlag != 0:
			if root := order.Uint64(w.file[start+length:]); root != 0 {
				w.page(int(root)*w.pageSize, key)
			} else {
				w.page(start+length+bucketHeader, key)
			}
		}
	}
}
