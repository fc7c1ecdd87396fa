package disk

import (
	"bytes"
	"encoding/binary"
	"fmt"
)

// A flipped bit in a key is as bad as one in a record. That of a record breaks its seal
// (seal.go). But a search in a tree goes by keys, in its leaves and in its branches, and
// one wrong key on the way makes it miss what is there. So where nothing is found, what
// stands to the left and right of the gap is looked at: both must be sealed, and the key
// must belong between them. The neighbours are reached by the places of entries in their
// pages and not by keys, so that the same wrong key cannot hide them.
//
// That counts the entries of one leaf after the other. A wrong number of a page, or of
// entries, could hide some of them: so each page has to be the one that it is taken for
// (mapped.go, treecursor.go).

// find returns the body under a key, which is part of the file, or nil where it is proven
// that there is none. What it found last it need not prove again, as long as nothing is written.
func (b *tree) find(key []byte) ([]byte, error) {
	if b.known.of(key) {
		return b.known.body, nil
	}
	body, err := b.lookUp(key)
	if err == nil && b.tx.Writable() {
		b.known.set(key, body)
	}
	return body, err
}

func (b *tree) lookUp(key []byte) ([]byte, error) {
	c := b.cursor()
	next, sealed, err := c.seek(key)
	if err != nil {
		return nil, err
	}
	if next != nil && bytes.Equal(next, key) {
		return b.open(next, sealed)
	}
	if next != nil {
		if err := b.proveNeighbour(key, next, sealed, 1); err != nil {
			return nil, err
		}
	}
	prev, sealed, err := c.prev()
	if err == nil && prev != nil {
		err = b.proveNeighbour(key, prev, sealed, -1)
	}
	return nil, err
}

// proveNeighbour looks at what stands next to where a key would be, before it (-1) or
// after it (1).
func (b *tree) proveNeighbour(key, neighbour, sealed []byte, side int) error {
	if bytes.Compare(neighbour, key) != side {
		return b.damaged(neighbour, fmt.Errorf("it is not in its place beside %x", key))
	}
	_, err := b.open(neighbour, sealed)
	return err
}

// scan calls do with what lies under every key that starts with prefix, as it is sealed.
// What stands before the first one and after the last one is proven, and the order; what
// do is given it has to prove itself.
func (b *tree) scan(prefix []byte, do func(key, sealed []byte) error) error {
	if b.dirty {
		if err := b.provePages(prefix); err != nil {
			return err
		}
	}
	c := b.newCursor()
	k, sealed, err := c.seek(prefix)
	var last []byte
	if err == nil && len(prefix) > 0 {
		var before []byte
		if last, before, err = c.prev(); err == nil && last != nil {
			err = b.proveNeighbour(prefix, last, before, -1)
		}
		if err == nil {
			k, sealed, err = c.seek(prefix)
		}
	}
	for ; k != nil && err == nil; k, sealed, err = c.next() {
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
	return err
}

// provePages proves the pages of the leaves in which keys with a prefix are, and of the one
// after them, in the state that the transaction began with.
func (b *tree) provePages(prefix []byte) error {
	if b.root == 0 {
		return nil
	}
	c := treeCursor{tree: b}
	k, _, err := c.seek(prefix)
	if err == nil && k != nil {
		_, _, err = c.prev()
	}
	for err == nil && k != nil && (bytes.HasPrefix(k, prefix) || bytes.Compare(k, prefix) < 0) {
		s := &c.steps[len(c.steps)-1]
		s.at = s.page.count() - 1 // on to the next leaf
		k, _, err = c.next()
	}
	return err
}

// proveEnd proves the pages on the way to the last record.
func (b *tree) proveEnd() error {
	if b.root == 0 {
		return nil
	}
	_, _, err := b.committed.last()
	return err
}

// mayWrite proves that something may be written under a key or taken away: what is there,
// or that nothing is, and the way to it.
func (b *tree) mayWrite(key []byte) error {
	if _, err := b.find(key); err != nil {
		return err
	}
	return b.proveWay(key)
}

// way is the range of keys that one leaf is for, from low up to below high, where nil is
// no bound.
type way struct {
	low, high []byte
	proven    bool
}

func (w way) leads(key []byte) bool {
	return w.proven && (w.low == nil || bytes.Compare(key, w.low) >= 0) && (w.high == nil || bytes.Compare(key, w.high) < 0)
}

// proveWay proves that on the way to the leaf of a key the keys of every branch are in
// order, and that the pages on the way and beside it are those of the tree and start with
// the keys that lead to them. For bbolt finds the entries of pages that it writes anew, or merges, by
// a search for the keys that these start with: one that is wrong, or that leads the
// search astray, would leave the old page in the tree beside the new one.
func (b *tree) proveWay(key []byte) error {
	if b.root == 0 { // it lies within another page, or is new
		return nil
	}
	for _, w := range b.ways {
		if w.leads(key) {
			return nil
		}
	}
	found := way{proven: true}
	page, err := b.pageAt(b.root, 0, nil)
	for depth := 1; err == nil && depth <= b.depth; depth++ {
		at := page.childOf(key)
		if err = b.proveBranch(page, depth, max(0, at-1), min(page.count(), at+2)); err != nil {
			break
		}
		if at > 0 {
			found.low = page.key(at)
		}
		if at+1 < page.count() {
			found.high = page.key(at + 1)
		}
		page, err = b.pageAt(page.child(at), depth, page.key(at))
	}
	if err != nil {
		return errDamaged(b.tx.file.path, err)
	}
	b.ways[b.nextWay%len(b.ways)] = found
	b.nextWay++
	return nil
}

// proveBranch looks whether the keys of a branch are in order, and whether the pages under
// some of them, which lie so deep, are those that it leads to.
func (b *tree) proveBranch(page mappedPage, depth, from, to int) error {
	if err := page.inOrder(); err != nil {
		return err
	}
	for i := from; i < to; i++ {
		if _, err := b.pageAt(page.child(i), depth, page.key(i)); err != nil {
			return err
		}
	}
	return nil
}

// inOrder looks whether the keys of a branch are.
func (p mappedPage) inOrder() error {
	last := p.key(0)
	for i := 1; i < p.count(); i++ {
		key := p.key(i)
		if bytes.Compare(last, key) >= 0 {
			return &pageProblem{p.child(i), "has a key that is out of order in the branch over it"}
		}
		last = key
	}
	return nil
}

// proveBuckets proves the tree of the buckets themselves, which bbolt searches for each
// bucket that is opened, and writes anew in every transaction: that its pages are those of
// this state, in order, and that a bucket that lies within one of them is all there. For an
// older state of such a bucket may lie whole in a page that is free.
func (m mappedPages) proveBuckets(root uint64) error {
	page, err := m.bucketsAt(root, nil)
	if err != nil || page.flags() == leafPage {
		return err
	}
	if err := page.inOrder(); err != nil {
		return err
	}
	for i := range page.count() { // leaves: nobody has hundreds of buckets
		leaf, err := m.bucketsAt(page.child(i), page.key(i))
		if err != nil {
			return err
		}
		if leaf.flags() != leafPage {
			return &pageProblem{page.child(i), "is a branch under the branch of the buckets"}
		}
	}
	return nil
}

// bucketsAt is a page of the tree of the buckets, if it starts with a key; nil is any.
func (m mappedPages) bucketsAt(id uint64, first []byte) (mappedPage, error) {
	page, err := m.page(id)
	switch {
	case err != nil:
		return nil, err
	case m.free(id):
		return nil, &pageProblem{id, "is free, and something leads to it"}
	case first != nil && !bytes.Equal(page.key(0), first):
		return nil, &pageProblem{id, "does not start with the key that leads to it"}
	case page.flags() == branchPage:
		return page, nil
	}
	for i := range page.count() {
		if !page.holdsBucket(i) {
			return nil, &pageProblem{id, fmt.Sprintf("holds less or more than the bucket of its entry %d", i)}
		}
	}
	return page, nil
}

// holdsBucket reports whether an entry of a leaf is a bucket, which has pages of its own or
// whose records fill the value, one behind the other.
func (p mappedPage) holdsBucket(i int) bool {
	start, key, length := p.entry(i)
	from, end := start+key, start+key+length
	if end > uint64(len(p)) || binary.NativeEndian.Uint32(p[pageHeader+i*elementSize:]) != bucketLeaf {
		return false
	}
	if length < bucketHeader {
		return false
	}
	if binary.NativeEndian.Uint64(p[from:]) != 0 {
		return length == bucketHeader
	}
	if length < bucketHeader+pageHeader {
		return false
	}
	return mappedPage(p[from+bucketHeader : end]).filled()
}

// filled reports whether the records of a bucket that lies within a page fill it.
func (p mappedPage) filled() bool {
	count := uint64(p.count())
	end := pageHeader + count*elementSize
	if p.flags() != leafPage || end > uint64(len(p)) {
		return false
	}
	for i := range p.count() {
		start, key, value := p.entry(i)
		if start != end || binary.NativeEndian.Uint32(p[pageHeader+i*elementSize:]) != 0 {
			return false
		}
		end = start + key + value
	}
	return end == uint64(len(p))
}
