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

// Page is where a branch or a leaf lies in the bytes of a file.
type Page struct {
	Bucket string // empty: it has the buckets
	Branch bool
	Offset int
	Length int // bytes of it that are in use
	Keys   []Key
}

// Pages are all branches and leaves of the newest state of a file that are pages of their
// own, each branch before what lies under it.
func Pages(file []byte) ([]Page, error) {
	w, err := walk(file)
	return w.pages, err
}

// Keys are all keys of the newest state of a file, in its branches and its leaves. They
// are found by the layout of bbolt's file format version 2: each page starts with 8 bytes
// of its number, 2 of flags, 2 of how many entries it has and 4 of how many pages it goes
// on over, then come entries of 16 bytes.
func Keys(file []byte) ([]Key, error) {
	w, err := walk(file)
	return w.keys, err
}

func walk(file []byte) (w *keyWalk, err error) {
	w = &keyWalk{file: file}
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
	w.pageSize = pageSize
	w.page(int(order.Uint64(meta[rootAt:]))*pageSize, "")
	return w, nil
}

type keyWalk struct {
	file     []byte
	pageSize int
	keys     []Key
	pages    []Page
}

// page goes over the keys of the page at an offset and of all under it.
func (w *keyWalk) page(at int, bucket string) {
	order := binary.NativeEndian
	const header, elementSize, branchFlag, bucketFlag, bucketHeader = 16, 16, 1, 1, 16
	branch := order.Uint16(w.file[at+8:])&branchFlag != 0
	page := len(w.pages)
	w.pages = append(w.pages, Page{Bucket: bucket, Branch: branch, Offset: at, Length: header})
	for i := range int(order.Uint16(w.file[at+10:])) {
		element := at + header + i*elementSize
		fields := element
		if !branch {
			fields += 4
		}
		start, length := element+int(order.Uint32(w.file[fields:])), int(order.Uint32(w.file[fields+4:]))
		key := string(w.file[start : start+length])
		w.keys = append(w.keys, Key{Bucket: bucket, Branch: branch, Offset: start, Text: key})
		w.pages[page].Keys = append(w.pages[page].Keys, w.keys[len(w.keys)-1])
		end := start + length
		if !branch {
			end += int(order.Uint32(w.file[fields+8:]))
		}
		w.pages[page].Length = end - at
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
