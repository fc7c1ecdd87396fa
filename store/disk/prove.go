package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"sort"
	"unsafe"

	"go.etcd.io/bbolt"
)

// A flipped bit in a key is as bad as one in a record. That of a record breaks its seal
// (seal.go). But a search in a tree goes by keys, in its leaves and in its branches, and
// one wrong key on the way makes it miss what is there. So where nothing is found, what
// stands to the left and right of the gap is looked at: both must be sealed, and the key
// must belong between them. The neighbours are reached by the places of entries in their
// pages and not by keys, so that the same wrong key cannot hide them.

// find returns the body under a key, which is part of the file, or nil where it is proven
// that there is none.
func (b *Bucket) find(key []byte) ([]byte, error) {
	c := b.bolt.Cursor()
	next, sealed := c.Seek(key)
	if next != nil && bytes.Equal(next, key) {
		return b.open(next, sealed)
	}
	if next != nil {
		if err := b.proveNeighbour(key, next, sealed, 1); err != nil {
			return nil, err
		}
	}
	if prev, sealed := c.Prev(); prev != nil {
		return nil, b.proveNeighbour(key, prev, sealed, -1)
	}
	return nil, nil
}

// proveNeighbour looks at what stands next to where a key would be, before it (-1) or
// after it (1).
func (b *Bucket) proveNeighbour(key, neighbour, sealed []byte, side int) error {
	if bytes.Compare(neighbour, key) != side {
		return b.damaged(neighbour, fmt.Errorf("it is not in its place beside %x", key))
	}
	_, err := b.open(neighbour, sealed)
	return err
}

// scan calls do with what lies under every key that starts with prefix, as it is sealed.
// What stands before the first one and after the last one is proven, and the order; what
// do is given it has to prove itself.
func (b *Bucket) scan(prefix []byte, do func(key, sealed []byte) error) error {
	c := b.bolt.Cursor()
	k, sealed := c.Seek(prefix)
	var last []byte
	if len(prefix) > 0 {
		prev, before := c.Prev()
		if prev != nil {
			if err := b.proveNeighbour(prefix, prev, before, -1); err != nil {
				return err
			}
		}
		last = prev
		k, sealed = c.Seek(prefix)
	}
	for ; k != nil; k, sealed = c.Next() {
		if last != nil && bytes.Compare(last, k) >= 0 {
			return b.damaged(k, fmt.Errorf("it does not come after %x", last))
		}
		if !bytes.HasPrefix(k, prefix) {
			return b.proveNeighbour(prefix, k, sealed, 1)
		}
		if err := do(k, sealed); err != nil {
			return err
		}
		last = k
	}
	return nil
}

// mayWrite proves that something may be written under a key or taken away: what is there,
// or that nothing is, and that on the way to its leaf the keys of every branch are in
// order and those on the way and beside it are the ones that the pages under them start
// with. For bbolt finds the entries of pages that it writes anew, or merges, by a search for
// the keys that these start with: one that is wrong, or that leads the search astray,
// would leave the old page in the tree beside the new one.
func (b *Bucket) mayWrite(key []byte) error {
	if _, err := b.find(key); err != nil {
		return err
	}
	root := uint64(b.bolt.Root())
	if root == 0 { // it lies within another page, or is new
		return nil
	}
	m := mapped(b.tx.bolt)
	for id, depth := root, 0; ; depth++ {
		page, err := m.page(id)
		if err == nil && depth == deepest {
			err = &pageProblem{id, "lies within itself"}
		}
		if err != nil {
			return errDamaged(b.tx.file.path, err)
		}
		if page.flags() != branchPage {
			return nil
		}
		at := max(0, sort.Search(page.count(), func(i int) bool { return bytes.Compare(page.key(i), key) > 0 })-1)
		if err := m.proveBranch(page, max(0, at-1), min(page.count(), at+2)); err != nil {
			return errDamaged(b.tx.file.path, err)
		}
		id = page.child(at)
	}
}

// mayWriteBuckets is mayWrite for the tree of the buckets themselves, which every
// transaction writes anew.
func (f *File) mayWriteBuckets(tx *bbolt.Tx) error {
	m := mapped(tx)
	page, err := m.page(uint64(tx.Cursor().Bucket().Root()))
	if err == nil && page.flags() == branchPage { // it leads to leaves: nobody has hundreds of buckets
		err = m.proveBranch(page, 0, page.count())
	}
	if err != nil {
		return errDamaged(f.path, err)
	}
	return nil
}

// proveBranch looks whether the keys of a branch are in order, and whether the pages under
// some of them start with them.
func (m mappedPages) proveBranch(page mappedPage, from, to int) error {
	for i := 1; i < page.count(); i++ {
		if bytes.Compare(page.key(i-1), page.key(i)) >= 0 {
			return &pageProblem{page.child(i), "has a key that is out of order in the branch over it"}
		}
	}
	for i := from; i < to; i++ {
		under, err := m.page(page.child(i))
		if err != nil {
			return err
		}
		if under.count() == 0 || !bytes.Equal(under.key(0), page.key(i)) {
			return &pageProblem{page.child(i), "does not start with the key that leads to it"}
		}
	}
	return nil
}

// mappedPages are the pages of the state that a transaction began with, in bbolt's map of
// the file. They are the transaction's, and must not be written.
type mappedPages struct {
	data     []byte
	pageSize uint64
}

// mapped returns them. What is on pages that were damaged is not checked as plain reads
// are (pages.go): a panic over that is guarded like those of bbolt.
func mapped(tx *bbolt.Tx) mappedPages {
	info := tx.DB().Info()
	start := *(*unsafe.Pointer)(unsafe.Pointer(&info.Data)) // the address that bbolt gives out as a number
	return mappedPages{unsafe.Slice((*byte)(start), tx.Size()), uint64(info.PageSize)}
}

func (m mappedPages) page(id uint64) (mappedPage, error) {
	if id < 2 || id >= uint64(len(m.data))/m.pageSize {
		return nil, &pageProblem{id, "is not in the file"}
	}
	page := mappedPage(m.data[id*m.pageSize:]) // it may go on over the pages after it
	if pageHeader+page.count()*elementSize > len(page) {
		return nil, &pageProblem{id, fmt.Sprintf("has no room for its %d entries", page.count())}
	}
	return page, nil
}

// mappedPage starts with a branch or a leaf.
type mappedPage []byte

func (p mappedPage) flags() uint16 { return binary.NativeEndian.Uint16(p[8:]) }
func (p mappedPage) count() int    { return int(binary.NativeEndian.Uint16(p[10:])) }

// child is the page that an entry of a branch leads to.
func (p mappedPage) child(i int) uint64 {
	return binary.NativeEndian.Uint64(p[pageHeader+i*elementSize+8:])
}

// key is that of an entry.
func (p mappedPage) key(i int) []byte {
	at := pageHeader + i*elementSize
	fields := p[at:]
	if p.flags() != branchPage {
		fields = fields[4:] // a leaf has the flags of the entry before
	}
	start := at + int(binary.NativeEndian.Uint32(fields))
	return p[start : start+int(binary.NativeEndian.Uint32(fields[4:]))]
}
