package disk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
)

// ScanUnmapped is Scan for much of a bucket, or all of it, with plain reads: pages that are
// looked at through bbolt's map stay in the memory of the process, and going over a
// whole file that way would leave all of it there. The transaction keeps the pages as
// they are meanwhile. Do must neither keep nor change what it is given.
func (b *Bucket) ScanUnmapped(prefix []byte, do func(key, body []byte) error) error {
	return ended(b.merged(prefix, b.scanUnmapped, do))
}

// Examine is ScanUnmapped over all of the bucket for looking for damage: do gets what is wrong
// with a record beside its key and no body, and goes on where it returns nil.
func (b *Bucket) Examine(do func(key, body []byte, damage error) error) error {
	return ended(b.scanUnmapped(nil, func(key, sealed []byte) error {
		body, err := b.opened(key, sealed)
		return do(key, body, err)
	}))
}

// scanUnmapped is scan with plain reads. It goes by the keys in branches where it leaves out what
// cannot have the prefix: so each must be the key that the page under it starts with, as
// bbolt keeps it, of every page that it looks at and of the one at which it ends.
func (b *Bucket) scanUnmapped(prefix []byte, do func(key, sealed []byte) error) error {
	if b.tx.Writable() || b.root == 0 { // its pages are not in the file yet, or it lies within another's
		return b.scan(prefix, do)
	}
	pageSize := uint64(b.tx.bolt.DB().Info().PageSize)
	p := treeReader{
		pageReader: pageReader{b.tx.file.plain, pageSize, uint64(b.tx.Size()) / pageSize}, prefix: prefix, do: do,
		prove: func(key, sealed []byte) error { _, err := b.open(key, sealed); return err },
		depth: b.depth, free: b.tx.pages.free,
	}
	err := p.under(b.root, nil, 0)
	var problem *pageProblem
	if errors.As(err, &problem) {
		return errDamaged(b.tx.file.path, err)
	}
	return err
}

// treeReader reads a tree page by page, past bbolt's map of the file.
type treeReader struct {
	pageReader
	prefix []byte
	do     func(key, sealed []byte) error
	prove  func(key, sealed []byte) error // of what stands before and after those with the prefix
	depth  int                            // branches over each leaf
	free   func(id uint64) bool           // reports whether a page is none of this state
	last   []byte                         // the last key of the leaf before; nil for none
	levels []level                        // by depth, used again from page to page
}

// level is the page read at one depth of a tree.
type level struct {
	page []byte
	list []element
}

// deepest is how many branches no tree of any file has one under the other.
const deepest = 64

// under goes over what of the tree under a page has the prefix. The page must start with
// a key, that of the branch over it.
func (p *treeReader) under(id uint64, first []byte, depth int) error {
	list, branch, err := p.entries(id, depth)
	if err != nil {
		return err
	}
	if err := p.isThere(id, list, branch, first, depth); err != nil {
		return err
	}
	if !branch {
		return p.leaf(id, list)
	}
	for i, e := range list {
		switch {
		case bytes.Compare(e.key, p.prefix) > 0 && !bytes.HasPrefix(e.key, p.prefix):
			return p.endsAt(e, depth+1)
		case i+1 < len(list) && bytes.Compare(list[i+1].key, p.prefix) <= 0:
			continue // all that lies under this one comes before
		}
		if err := p.under(e.child, e.key, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// endsAt proves the entry of a branch at which the reading ends.
func (p *treeReader) endsAt(e element, depth int) error {
	list, branch, err := p.entries(e.child, depth)
	if err != nil {
		return err
	}
	return p.isThere(e.child, list, branch, e.key, depth)
}

// isThere says when a page is not the one that it was taken for; first is nil for the root.
func (p *treeReader) isThere(id uint64, list []element, branch bool, first []byte, depth int) error {
	switch {
	case branch == (depth == p.depth):
		return &pageProblem{id, "lies where it does not belong"}
	case len(list) == 0:
		return &pageProblem{id, "is empty"}
	case first != nil && !bytes.Equal(list[0].key, first):
		return &pageProblem{id, "does not start with the key that leads to it"}
	case p.free(id):
		return &pageProblem{id, "is free, and something leads to it"}
	}
	return nil
}

// leaf goes over a leaf.
func (p *treeReader) leaf(id uint64, list []element) error {
	for i, e := range list {
		if p.last != nil && bytes.Compare(p.last, e.key) >= 0 {
			return &pageProblem{id, fmt.Sprintf("has its entry %d out of order", i)}
		}
		p.last = e.key
		var err error
		switch has := bytes.HasPrefix(e.key, p.prefix); {
		case e.bucket:
			err = &pageProblem{id, "has a bucket among its records"}
		case has:
			err = p.do(e.key, e.value)
		case bytes.Compare(e.key, p.prefix) > 0:
			return p.prove(e.key, e.value)
		case i+1 == len(list) || bytes.Compare(list[i+1].key, p.prefix) >= 0:
			err = p.prove(e.key, e.value)
		}
		if err != nil {
			return err
		}
	}
	p.last = bytes.Clone(p.last) // the page is read over
	return nil
}

// entries reads a page of the tree.
func (p *treeReader) entries(id uint64, depth int) (list []element, branch bool, err error) {
	switch err := p.inFile(id); {
	case err != nil:
		return nil, false, err
	case depth == deepest:
		return nil, false, &pageProblem{id, "lies within itself"}
	case depth == len(p.levels):
		p.levels = append(p.levels, level{})
	}
	level := &p.levels[depth]
	if level.page, err = p.read(id, level.page[:0], p.pageSize); err != nil {
		return nil, false, &pageProblem{id, "cannot be read: " + err.Error()}
	}
	length, _, err := p.head(id, level.page)
	if err != nil {
		return nil, false, err
	}
	if level.page, err = p.read(id, level.page, length); err != nil {
		return nil, false, &pageProblem{id, "cannot be read: " + err.Error()}
	}
	level.list, branch, err = elements(id, level.page, level.list)
	return level.list, branch, err
}

// record is that of a key in a bucket, in the state of a file that a meta tells of, read
// plainly; no key is the last one. There is none where it is nil.
func (m fileMeta) record(f io.ReaderAt, bucket, key []byte) (*element, error) {
	p := treeReader{pageReader: pageReader{f, uint64(m.pageSize), m.pages}}
	b, err := p.one(binary.NativeEndian.Uint64(m.raw[metaRoot:]), 0, bucket)
	if err != nil || b == nil || !bytes.Equal(b.key, bucket) || !b.bucket || len(b.value) < bucketHeader {
		return nil, err
	}
	var e *element
	if root := binary.NativeEndian.Uint64(b.value); root != 0 {
		e, err = p.one(root, 0, key)
	} else if len(b.value) >= bucketHeader+pageHeader {
		var list []element
		list, _, err = elements(0, b.value[bucketHeader:], nil)
		e = nearest(list, key)
	}
	if err != nil || e == nil || key != nil && !bytes.Equal(e.key, key) {
		return nil, err
	}
	return e, nil
}

// journal is where the journal ends in such a state, or the record of a key.
func (m fileMeta) journal(f io.ReaderAt, key []byte) (End, error) {
	e, err := m.record(f, []byte(bucketJournal), key)
	if err != nil || e == nil {
		return End{}, err
	}
	r, err := openRecord(e.key, e.value)
	return r.end(), err
}

// one is the record of a key under a page, or else the one before it; no key is the last one.
func (p *treeReader) one(id uint64, depth int, key []byte) (*element, error) {
	list, branch, err := p.entries(id, depth)
	if err != nil {
		return nil, err
	}
	e := nearest(list, key)
	if e == nil || !branch {
		return e, nil
	}
	return p.one(e.child, depth+1, key)
}

// nearest is the last entry whose key is not after the given one; nil for none.
func nearest(list []element, key []byte) (e *element) {
	for i := range list {
		if key == nil || bytes.Compare(list[i].key, key) <= 0 {
			e = &list[i]
		}
	}
	return e
}

// openPlain opens the file a second time, for passes.
func (f *File) openPlain() (err error) {
	if f.plain, err = os.Open(f.path); err != nil {
		return ErrUnreadable(f.path, err)
	}
	if info, err := f.plain.Stat(); err != nil || !os.SameFile(info, f.opened) {
		return errors.Join(ErrUnreadable(f.path, err), f.plain.Close())
	}
	return nil
}
