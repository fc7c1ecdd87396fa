package disk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
	"os"

	"stowright/store/fault"
)

// What a bbolt file starts with (file format version 2): two pages that each say
// where the tree begins, how many pages there are, and by which transaction. The
// newer one counts. They are read here without mapping the file, which can fault.
const (
	metaMagic    = 0xED0CDAED
	metaPage     = 0x04 // flag of such a page
	metaVersion  = 2
	pageHeader   = 16 // bytes before the meta of a page
	metaPageSize = 8  // offsets within the meta
	metaPages    = 40
	metaTx       = 48
	metaChecksum = 56
	metaLength   = 64
	smallestPage = 1 << 9
	largestPage  = 1 << 16
)

// fileMeta is what one meta page says.
type fileMeta struct {
	raw      []byte
	pageSize uint32
	pages    uint64 // in use, from the start of the file
	tx       uint64
}

func parseMeta(page []byte) (fileMeta, bool) {
	if len(page) < pageHeader+metaLength {
		return fileMeta{}, false
	}
	m := page[pageHeader : pageHeader+metaLength]
	sum := fnv.New64a()
	_, _ = sum.Write(m[:metaChecksum])
	order := binary.NativeEndian
	if order.Uint32(m) != metaMagic || order.Uint32(m[4:]) != metaVersion || order.Uint64(m[metaChecksum:]) != sum.Sum64() {
		return fileMeta{}, false
	}
	meta := fileMeta{raw: m, pageSize: order.Uint32(m[metaPageSize:]), pages: order.Uint64(m[metaPages:]), tx: order.Uint64(m[metaTx:])}
	return meta, meta.pageSize >= smallestPage && meta.pageSize <= largestPage
}

// quickAbove is the length in bytes above which not all of a file is read before it
// is opened: a quarter of a second at most, while the window comes up.
const quickAbove = 64 << 20

// inspect looks at a file without opening it as a shop. It says when the file is
// cut short, when one of its pages is not what it must be, and when it has lost
// one of the two pages that say where its newest state is: then the last change
// could be missing without a trace. A file that is not there is no problem.
func inspect(path string) error {
	f, err := os.Open(path)
	if errors.Is(err, os.ErrNotExist) || errors.Is(err, os.ErrPermission) {
		return nil // opening it says what is wrong
	}
	if err != nil {
		return ErrUnreadable(path, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return ErrUnreadable(path, err)
	}
	if info.Size() == 0 {
		return errEmpty(path)
	}
	newest, err := newestMeta(path, f, info.Size())
	if err != nil {
		return err
	}
	if err := checkPages(f, newest, info.Size() > quickAbove); err != nil {
		return errDamaged(path, err)
	}
	return nil
}

// newestMeta reads where the newest state of a file of a length in bytes is.
func newestMeta(path string, f io.ReaderAt, length int64) (fileMeta, error) {
	newest, both, ok := readMetas(f)
	return newest, judgeMeta(path, newest, both, ok, length)
}

// judgeMeta says what is wrong with what was read of the metas of a file of a length in bytes.
func judgeMeta(path string, newest fileMeta, both, ok bool, length int64) error {
	switch {
	case !ok:
		return errNotShop(path, nil)
	case length/int64(newest.pageSize) < int64(newest.pages):
		return fault.New(fault.Corrupt, path, "%s was cut short: keep it, and open a copy made earlier.", path)
	case !both:
		return fault.New(fault.Corrupt, path, "%s is damaged where it says what its last change was: keep it, and open a copy made earlier.", path)
	}
	return nil
}

// readMetas reads both metas, if they are whole, and returns the newer one.
func readMetas(f io.ReaderAt) (newest fileMeta, both, ok bool) {
	head := make([]byte, largestPage+pageHeader+metaLength)
	n, _ := f.ReadAt(head, 0) // what cannot be read is not whole
	first, firstGood := parseMeta(head[:n])
	second, secondGood := secondMeta(head[:n], first, firstGood)
	if secondGood && (!firstGood || second.tx > first.tx) {
		first = second
	}
	return first, firstGood && secondGood, firstGood || secondGood
}

// withTx is the meta with the number of another transaction.
func (m fileMeta) withTx(tx uint64) []byte {
	raw := bytes.Clone(m.raw)
	binary.NativeEndian.PutUint64(raw[metaTx:], tx)
	sum := fnv.New64a()
	_, _ = sum.Write(raw[:metaChecksum])
	binary.NativeEndian.PutUint64(raw[metaChecksum:], sum.Sum64())
	return raw
}

// secondMeta finds the second meta, which is a page further on; without the first
// one every size of page is tried.
func secondMeta(head []byte, first fileMeta, firstGood bool) (fileMeta, bool) {
	for size := smallestPage; size <= largestPage && size < len(head); size *= 2 {
		if firstGood && uint32(size) != first.pageSize {
			continue
		}
		if m, good := parseMeta(head[size:]); good && m.pageSize == uint32(size) {
			return m, true
		}
	}
	return fileMeta{}, false
}

// plainly opens a file for reading and looks where its newest state is.
func plainly(path string) (*os.File, fileMeta, bool) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fileMeta{}, false
	}
	newest, _, ok := readMetas(f)
	if !ok {
		_ = f.Close() // it was only read
	}
	return f, newest, ok
}
