package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"unsafe"

	"go.etcd.io/bbolt"
)

// mappedPages are the pages of the state that a transaction began with, in bbolt's map of
// the file. They are the transaction's, and must not be written. Reading what the map
// has no bytes for is a fault, which is guarded like those of bbolt.
type mappedPages struct {
	data     []byte
	pageSize uint64
	freelist mappedPage // of that state; nil where it is not known
}

// within returns the pages of a transaction, with the list of those that are free in its state.
func (s *state) within(tx *bbolt.Tx) (m mappedPages, err error) {
	m = mapped(tx)
	if s.freelist == 0 {
		return m, nil
	}
	if m.freelist, err = m.whole(s.freelist); err == nil && m.freelist.flags() != freePage {
		err = &pageProblem{s.freelist, "is not the list of free pages"}
	}
	return m, err
}

// mapped returns them.
func mapped(tx *bbolt.Tx) mappedPages {
	info := tx.DB().Info()
	start := *(*unsafe.Pointer)(unsafe.Pointer(&info.Data)) // the address that bbolt gives out as a number
	return mappedPages{data: unsafe.Slice((*byte)(start), tx.Size()), pageSize: uint64(info.PageSize)}
}

// page is a branch or a leaf, whose number, kind and length are those of the page that
// bbolt wrote there: its entries lie one behind the other and end on its last page.
func (m mappedPages) page(id uint64) (mappedPage, error) {
	page, err := m.whole(id)
	if err != nil {
		return nil, err
	}
	if flags := page.flags(); flags != branchPage && flags != leafPage {
		return nil, &pageProblem{id, fmt.Sprintf("is of kind %#x, neither branch nor leaf", flags)}
	}
	count := uint64(page.count())
	end := pageHeader + count*elementSize
	if end > uint64(len(page)) {
		return nil, &pageProblem{id, fmt.Sprintf("has no room for its %d entries", count)}
	}
	if count > 0 {
		if start, _, _ := page.entry(0); start != end {
			return nil, &pageProblem{id, fmt.Sprintf("has not the %d entries that it says", count)}
		}
		start, key, value := page.entry(int(count) - 1)
		end = start + key + value
	}
	if (end+m.pageSize-1)/m.pageSize*m.pageSize != uint64(len(page)) {
		return nil, &pageProblem{id, "is not as long as what it holds"}
	}
	return page, nil
}

// whole is a page with those that it goes on over.
func (m mappedPages) whole(id uint64) (mappedPage, error) {
	pages := uint64(len(m.data)) / m.pageSize
	if id < 2 || id >= pages {
		return nil, &pageProblem{id, "is not in the file"}
	}
	page := mappedPage(m.data[id*m.pageSize:])
	switch overflow := uint64(binary.NativeEndian.Uint32(page[12:])); {
	case binary.NativeEndian.Uint64(page) != id:
		return nil, &pageProblem{id, fmt.Sprintf("says that it is page %d", binary.NativeEndian.Uint64(page))}
	case overflow >= pages-id:
		return nil, &pageProblem{id, "goes on past the end"}
	default:
		return page[:(overflow+1)*m.pageSize], nil
	}
}

// free reports whether a page is not in use in this state: it may still hold what it held
// in an older one.
func (m mappedPages) free(id uint64) bool {
	if m.freelist == nil {
		return false
	}
	ids, count := m.freelist[pageHeader:], uint64(m.freelist.count())
	if count == manyFree {
		count, ids = binary.NativeEndian.Uint64(ids), ids[8:]
	}
	low, high := uint64(0), min(count, uint64(len(ids))/8)
	for low < high {
		middle := (low + high) / 2
		switch at := binary.NativeEndian.Uint64(ids[middle*8:]); {
		case at == id:
			return true
		case at < id:
			low = middle + 1
		default:
			high = middle
		}
	}
	return false
}

// mappedPage is a page, with those that it goes on over.
type mappedPage []byte

func (p mappedPage) flags() uint16 { return binary.NativeEndian.Uint16(p[8:]) }
func (p mappedPage) count() int    { return int(binary.NativeEndian.Uint16(p[10:])) }

// child is the page that an entry of a branch leads to.
func (p mappedPage) child(i int) uint64 {
	return binary.NativeEndian.Uint64(p[pageHeader+i*elementSize+8:])
}

// entry says where an entry lies: where its key starts in the page, and how long key and
// value are. A branch has no values.
func (p mappedPage) entry(i int) (start, key, value uint64) {
	at := pageHeader + i*elementSize
	fields := p[at : at+elementSize]
	order := binary.NativeEndian
	if p.flags() == branchPage {
		return uint64(at) + uint64(order.Uint32(fields)), uint64(order.Uint32(fields[4:])), 0
	}
	return uint64(at) + uint64(order.Uint32(fields[4:])), uint64(order.Uint32(fields[8:])), uint64(order.Uint32(fields[12:]))
}

// key is that of an entry; empty, as none is, where it is not within the page.
func (p mappedPage) key(i int) []byte {
	start, key, _ := p.entry(i)
	if start+key > uint64(len(p)) {
		return p[:0]
	}
	return p[start : start+key]
}

// record is an entry of a leaf; empty where it is none of a record.
func (p mappedPage) record(i int) (key, sealed []byte) {
	start, length, value := p.entry(i)
	if start+length+value > uint64(len(p)) || binary.NativeEndian.Uint32(p[pageHeader+i*elementSize:]) != 0 {
		return p.key(i), p[:0]
	}
	return p[start : start+length], p[start+length : start+length+value]
}

// search is the first entry whose key is not before the given one.
func (p mappedPage) search(key []byte) int {
	low, high := 0, p.count()
	for low < high {
		if middle := (low + high) / 2; bytes.Compare(p.key(middle), key) < 0 {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low
}

// childOf is the entry of a branch under which a key is, if it is anywhere.
func (p mappedPage) childOf(key []byte) int {
	at := p.search(key)
	if at == p.count() || at > 0 && !bytes.Equal(p.key(at), key) {
		at--
	}
	return at
}
