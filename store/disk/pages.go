package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
)

// The pages of a bbolt file are looked at here with plain reads, as bbolt's own
// check does over its map: that one can fault, loop or end the whole process on a
// damaged file, and this one cannot. The layout is that of bbolt's file format
// version 2, as its sources define it.
const (
	branchPage   = 0x01 // flags of a page
	leafPage     = 0x02
	freePage     = 0x10
	bucketLeaf   = 0x01   // flag of a leaf element whose value is a bucket
	elementSize  = 16     // bytes of an element of a branch or a leaf
	bucketHeader = 16     // bytes before the page of a bucket that lies in its leaf
	manyFree     = 0xFFFF // a count that says that the true count follows
	metaRoot     = 16     // offsets within the meta
	metaFree     = 32
)

// pageProblem is what is wrong with a page.
type pageProblem struct {
	page uint64
	what string
}

func (p *pageProblem) Error() string { return fmt.Sprintf("page %d %s", p.page, p.what) }

// pageReader reads pages of one state of a file.
type pageReader struct {
	file     io.ReaderAt
	pageSize uint64
	pages    uint64 // in use
}

// head looks at the head of a page: how many bytes it is with those that it
// overflows into, and of what kind.
func (r pageReader) head(id uint64, header []byte) (length uint64, kind uint16, err error) {
	order := binary.NativeEndian
	overflow := uint64(order.Uint32(header[12:]))
	if got := order.Uint64(header); got != id {
		return 0, 0, &pageProblem{id, fmt.Sprintf("says that it is page %d", got)}
	}
	if overflow >= r.pages-id {
		return 0, 0, &pageProblem{id, "goes on past the end"}
	}
	return (overflow + 1) * r.pageSize, order.Uint16(header[8:]), nil
}

// inFile says when there can be no such page.
func (r pageReader) inFile(id uint64) error {
	if id < 2 || id >= r.pages {
		return &pageProblem{id, "is not in the file"}
	}
	return nil
}

// read appends bytes of a page, from the given one on, to what is read of it.
func (r pageReader) read(id uint64, page []byte, length uint64) ([]byte, error) {
	from := len(page)
	page = slices.Grow(page, int(length)-from)[:length]
	if _, err := r.file.ReadAt(page[from:], int64(id*r.pageSize)+int64(from)); err != nil {
		return nil, fmt.Errorf("reading page %d: %w", id, err)
	}
	return page, nil
}

// pageWalk goes over all pages of one state of a file.
type pageWalk struct {
	pageReader
	quick bool   // leaves of records are not read, only that they are where they should be
	seen  []bool // reached or free
	leaf  []byte // the leaf of records that was read last; the next one takes its room
}

// checkPages goes over all pages that a meta calls for: each is reached once, by
// one way or as a free one, is of the right kind, holds what it says it holds, and
// has its keys in order. A quick check does not read the records themselves, which
// carry checksums of their own.
func checkPages(file io.ReaderAt, meta fileMeta, quick bool) error {
	order := binary.NativeEndian
	w := &pageWalk{pageReader: pageReader{file: file, pageSize: uint64(meta.pageSize), pages: meta.pages}, quick: quick}
	const most = 1 << 36 / smallestPage
	if w.pages < 2 || w.pages > most {
		return &pageProblem{w.pages, "cannot be the last"}
	}
	w.seen = make([]bool, w.pages)
	w.seen[0], w.seen[1] = true, true
	if err := w.walk(order.Uint64(meta.raw[metaRoot:]), bounds{buckets: true}); err != nil {
		return err
	}
	if err := w.free(order.Uint64(meta.raw[metaFree:])); err != nil {
		return err
	}
	for id, seen := range w.seen {
		if !seen {
			return &pageProblem{uint64(id), "is neither used nor free"}
		}
	}
	return nil
}

// claim looks at the head of a page, and marks it and those that it overflows into
// as reached. It returns how many bytes they are, and the kind.
func (w *pageWalk) claim(id uint64) (length uint64, kind uint16, err error) {
	if err := w.inFile(id); err != nil {
		return 0, 0, err
	}
	var header [pageHeader]byte
	if _, err := w.file.ReadAt(header[:], int64(id*w.pageSize)); err != nil {
		return 0, 0, fmt.Errorf("reading page %d: %w", id, err)
	}
	if length, kind, err = w.head(id, header[:]); err != nil {
		return 0, 0, err
	}
	for i := id; i < id+length/w.pageSize; i++ {
		if w.seen[i] {
			return 0, 0, &pageProblem{i, "is used twice"}
		}
		w.seen[i] = true
	}
	return length, kind, nil
}

// element is one entry of a branch or a leaf.
type element struct {
	key, value []byte // no value in a branch
	child      uint64 // of a branch
	bucket     bool
}

// elements are the entries of a branch or a leaf, within a page that bounds them, in
// the memory of a list that is no longer needed.
func elements(id uint64, page []byte, list []element) (_ []element, branch bool, err error) {
	order := binary.NativeEndian
	flags, count := order.Uint16(page[8:]), int(order.Uint16(page[10:]))
	if flags != branchPage && flags != leafPage {
		return nil, false, &pageProblem{id, fmt.Sprintf("is of kind %#x, neither branch nor leaf", flags)}
	}
	if pageHeader+count*elementSize > len(page) {
		return nil, false, &pageProblem{id, fmt.Sprintf("has no room for its %d entries", count)}
	}
	list = list[:0]
	end := uint64(pageHeader + count*elementSize) // of what was seen of it: the entries lie one behind the other
	for i := range count {
		at := pageHeader + i*elementSize
		raw := page[at : at+elementSize]
		var e element
		var position, key, value uint64
		if flags == branchPage {
			position, key, e.child = uint64(order.Uint32(raw)), uint64(order.Uint32(raw[4:])), order.Uint64(raw[8:])
		} else {
			e.bucket = order.Uint32(raw)&bucketLeaf != 0
			position, key, value = uint64(order.Uint32(raw[4:])), uint64(order.Uint32(raw[8:])), uint64(order.Uint32(raw[12:]))
		}
		start := uint64(at) + position
		switch {
		case start+key+value > uint64(len(page)):
			return nil, false, &pageProblem{id, fmt.Sprintf("has an entry %d that ends outside it", i)}
		case start != end:
			return nil, false, &pageProblem{id, fmt.Sprintf("has an entry %d, of %d, that is not where it should be", i, count)}
		}
		end = start + key + value
		e.key, e.value = page[start:start+key], page[start+key:start+key+value]
		list = append(list, e)
	}
	return list, flags == branchPage, nil
}

// bounds say what a tree may hold: keys from low up to below high, where nil is no
// bound, and buckets or only records.
type bounds struct {
	low, high []byte
	buckets   bool
}

// walk goes over the tree under a page.
func (w *pageWalk) walk(id uint64, b bounds) error {
	length, kind, err := w.claim(id)
	if err != nil || w.quick && kind == leafPage && !b.buckets {
		return err
	}
	var page []byte
	if kind == leafPage && !b.buckets { // nothing lies under it
		w.leaf, err = w.read(id, w.leaf[:0], length)
		page = w.leaf
	} else {
		page, err = w.read(id, nil, length)
	}
	if err != nil {
		return err
	}
	list, branch, err := elements(id, page, nil)
	if err != nil {
		return err
	}
	if err := inOrder(id, list, b.low, b.high); err != nil {
		return err
	}
	if branch && len(list) == 0 {
		return &pageProblem{id, "is an empty branch"}
	}
	for i, e := range list {
		switch {
		case branch:
			under := bounds{e.key, b.high, b.buckets}
			if i+1 < len(list) {
				under.high = list[i+1].key
			}
			err = w.walk(e.child, under)
		case e.bucket && !b.buckets:
			err = &pageProblem{id, "has a bucket among its records"}
		case e.bucket:
			err = w.bucket(id, e.value)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func inOrder(id uint64, list []element, low, high []byte) error {
	for i, e := range list {
		switch {
		case i > 0 && bytes.Compare(list[i-1].key, e.key) >= 0:
			return &pageProblem{id, fmt.Sprintf("has its entry %d out of order", i)}
		case low != nil && bytes.Compare(e.key, low) < 0, high != nil && bytes.Compare(e.key, high) >= 0:
			return &pageProblem{id, fmt.Sprintf("has an entry %d that belongs elsewhere", i)}
		}
	}
	return nil
}

// bucket goes over a bucket, which has pages of its own or lies within its leaf.
func (w *pageWalk) bucket(id uint64, value []byte) error {
	if len(value) < bucketHeader {
		return &pageProblem{id, "has a bucket that is cut short"}
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		return w.walk(root, bounds{})
	}
	if len(value) < bucketHeader+pageHeader {
		return &pageProblem{id, "has a bucket that is cut short"}
	}
	list, branch, err := elements(id, value[bucketHeader:], nil)
	if err != nil {
		return err
	}
	if branch {
		return &pageProblem{id, "has a bucket within it that branches"}
	}
	return inOrder(id, list, nil, nil)
}

// free goes over the list of free pages.
func (w *pageWalk) free(id uint64) error {
	length, kind, err := w.claim(id)
	if err != nil {
		return err
	}
	if kind != freePage {
		return &pageProblem{id, fmt.Sprintf("is of kind %#x, not the list of free pages", kind)}
	}
	page, err := w.read(id, nil, length)
	if err != nil {
		return err
	}
	order := binary.NativeEndian
	ids, count := page[pageHeader:], uint64(order.Uint16(page[10:]))
	if count == manyFree {
		count, ids = order.Uint64(ids), ids[8:]
	}
	if count > uint64(len(ids))/8 {
		return &pageProblem{id, fmt.Sprintf("has no room for its %d free pages", count)}
	}
	for i := range count {
		free := order.Uint64(ids[i*8:])
		if free < 2 || free >= w.pages {
			return &pageProblem{free, "is free, and not in the file"}
		}
		if w.seen[free] {
			return &pageProblem{free, "is free and used"}
		}
		w.seen[free] = true
	}
	return nil
}
