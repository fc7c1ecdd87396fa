package disk

import (
	"bytes"

	"go.etcd.io/bbolt"
)

// cursor goes over the records of a bucket in the order of their keys. There is none where
// the key is nil. What it returns is part of the file, or of a page that is to be written.
type cursor interface {
	seek(key []byte) (k, sealed []byte, err error) // the first that is not before key
	last() (k, sealed []byte, err error)
	next() (k, sealed []byte, err error)
	prev() (k, sealed []byte, err error)
}

// treeCursor goes over the pages of the state that a transaction began with. It takes no
// page for what it is led to before the page has shown that it is: not free, as deep as
// it must lie, and starting with the key that leads to it.
type treeCursor struct {
	tree  *tree
	steps []step
	room  [4]step // for steps: few trees are deeper
}

// step is an entry of a page on the way from the root to a leaf.
type step struct {
	page mappedPage
	at   int
}

// enter goes to a page, to its first entry. It has to start with a key; nil is any.
func (c *treeCursor) enter(id uint64, first []byte) (*step, error) {
	page, err := c.tree.pageAt(id, len(c.steps), first)
	if err != nil {
		return nil, errDamaged(c.tree.tx.file.path, err)
	}
	c.steps = append(c.steps, step{page, 0})
	return &c.steps[len(c.steps)-1], nil
}

// pageAt is a page of the tree that lies so deep, if it starts with a key; nil is any.
func (t *tree) pageAt(id uint64, depth int, first []byte) (mappedPage, error) {
	page, err := t.tx.pages.page(id)
	if err != nil {
		return nil, err
	}
	leaf := page.flags() == leafPage
	switch {
	case leaf != (depth == t.depth):
		return nil, &pageProblem{id, "lies where it does not belong"}
	case page.count() == 0: // bbolt has no such page: an empty bucket lies within another's
		return nil, &pageProblem{id, "is empty"}
	case first != nil && !bytes.Equal(page.key(0), first):
		return nil, &pageProblem{id, "does not start with the key that leads to it"}
	case (leaf || t.tx.Writable()) && t.tx.pages.free(id):
		return nil, &pageProblem{id, "is free, and something leads to it"}
	}
	return page, nil
}

func (c *treeCursor) start() (*step, error) {
	if c.steps == nil {
		c.steps = c.room[:0]
	}
	c.steps = c.steps[:0]
	return c.enter(c.tree.root, nil)
}

// down goes from an entry of a branch to the page that it leads to.
func (c *treeCursor) down(s *step) (*step, error) {
	return c.enter(s.page.child(s.at), s.page.key(s.at))
}

func (c *treeCursor) onLeaf() bool { return len(c.steps) > c.tree.depth }

func (c *treeCursor) seek(key []byte) (k, sealed []byte, err error) {
	s, err := c.start()
	for err == nil && !c.onLeaf() {
		s.at = s.page.childOf(key)
		s, err = c.down(s)
	}
	if err != nil {
		return nil, nil, err
	}
	s.at = s.page.search(key)
	if s.at < s.page.count() {
		return c.record()
	}
	return c.next()
}

func (c *treeCursor) last() (k, sealed []byte, err error) {
	s, err := c.start()
	for err == nil && !c.onLeaf() {
		s.at = s.page.count() - 1
		s, err = c.down(s)
	}
	if err != nil || s.page.count() == 0 {
		return nil, nil, err
	}
	s.at = s.page.count() - 1
	return c.record()
}

// next stays behind the last record where there is no other.
func (c *treeCursor) next() (k, sealed []byte, err error) {
	i := len(c.steps) - 1
	for i > 0 && c.steps[i].at+1 >= c.steps[i].page.count() {
		i--
	}
	s := &c.steps[i]
	if s.at+1 >= s.page.count() {
		s = &c.steps[len(c.steps)-1]
		s.at = s.page.count()
		return nil, nil, nil
	}
	s.at++
	c.steps = c.steps[:i+1]
	for !c.onLeaf() {
		if s, err = c.down(s); err != nil {
			return nil, nil, err
		}
	}
	return c.record()
}

// prev stays on the first record where there is none before it.
func (c *treeCursor) prev() (k, sealed []byte, err error) {
	i := len(c.steps) - 1
	for i >= 0 && c.steps[i].at == 0 {
		i--
	}
	if i < 0 {
		return nil, nil, nil
	}
	s := &c.steps[i]
	s.at--
	c.steps = c.steps[:i+1]
	for !c.onLeaf() {
		if s, err = c.down(s); err != nil {
			return nil, nil, err
		}
		s.at = s.page.count() - 1
	}
	return c.record()
}

func (c *treeCursor) record() (k, sealed []byte, err error) {
	s := &c.steps[len(c.steps)-1]
	k, sealed = s.page.record(s.at)
	return k, sealed, nil
}

// boltCursor goes over a bucket as a transaction has changed it, and over one that lies
// within a page of another.
type boltCursor struct {
	tree *tree
	bolt *bbolt.Cursor
}

func (c *boltCursor) seek(key []byte) (k, sealed []byte, err error) {
	if err := c.tree.proveWay(key); err != nil {
		return nil, nil, err
	}
	k, sealed = c.bolt.Seek(key)
	return k, sealed, nil
}

func (c *boltCursor) last() (k, sealed []byte, err error) {
	if err := c.tree.proveEnd(); err != nil {
		return nil, nil, err
	}
	k, sealed = c.bolt.Last()
	return k, sealed, nil
}

func (c *boltCursor) next() (k, sealed []byte, err error) {
	k, sealed = c.bolt.Next()
	return k, sealed, nil
}

func (c *boltCursor) prev() (k, sealed []byte, err error) {
	k, sealed = c.bolt.Prev()
	return k, sealed, nil
}
