package disk

import (
	"encoding/binary"
	"slices"

	"go.etcd.io/bbolt"
)

// state is what is known of one state of the file beside what its pages say. A flipped bit
// in the number of a page leads to another page, which may well be whole: so the roots of
// the buckets and how deep their leaves lie are remembered from when the file was looked
// over, or from when a transaction wrote them; and no page that is free in a state is part of it.
type state struct {
	tx       uint64 // the transaction that made it
	freelist uint64 // the page of its list of free pages; 0 where it is not known
	trees    []shape
}

// shape is what the pages of a bucket are: there are none of its own where the root is 0.
type shape struct {
	bucket string
	root   uint64
	depth  int // branches over each leaf
}

// tree is the shape of a bucket; nil where it is not known.
func (s *state) tree(name string) *shape {
	for i := range s.trees {
		if s.trees[i].bucket == name {
			return &s.trees[i]
		}
	}
	return nil
}

// stateOf is what is known of the state that a transaction began with: all of it, but in
// the moment between a change and committed.
func (f *File) stateOf(tx *bbolt.Tx) *state {
	began := uint64(tx.ID())
	if tx.Writable() {
		began--
	}
	if s := f.state.Load(); s != nil && s.tx == began {
		return s
	}
	return &state{tx: began, freelist: mapped(tx).freelistOf(began)}
}

// look looks at the buckets of a file that was inspected, or just written.
func (f *File) look(tx *bbolt.Tx) (*state, error) {
	m := mapped(tx)
	s := &state{tx: uint64(tx.ID())}
	s.freelist = m.freelistOf(s.tx)
	for _, name := range f.options.Layout.names(f.Format()) {
		b := tx.Bucket([]byte(name))
		if b == nil {
			continue
		}
		known, err := m.shapeOf(name, uint64(b.Root()))
		if err != nil {
			return nil, errDamaged(f.path, err)
		}
		s.trees = append(s.trees, known)
	}
	return s, nil
}

// committed remembers what a transaction has made of the buckets that it opened; the
// others are what they were. Where it made something that cannot be, whoever reads that
// will see it.
func (f *File) committed(t *Tx) {
	f.state.Store(f.stateAfter(t))
}

func (f *File) stateAfter(t *Tx) (s *state) {
	_ = f.db.View(func(tx *bbolt.Tx) error {
		before := f.state.Load()
		if before == nil || t.relaid || before.tx+1 != uint64(tx.ID()) {
			var err error
			s, err = f.look(tx)
			return err
		}
		m := mapped(tx)
		after := &state{tx: uint64(tx.ID()), trees: slices.Clone(before.trees)}
		after.freelist = m.freelistOf(after.tx)
		for _, b := range t.trees {
			known := after.tree(b.name)
			if known == nil || known.root == uint64(b.bolt.Root()) {
				continue
			}
			is, err := m.shapeOf(b.name, uint64(b.bolt.Root()))
			if err != nil {
				return err
			}
			*known = is
		}
		s = after
		return nil
	})
	return s
}

// freelistOf is the page of the list of free pages in the state that a transaction has
// made; 0 where its meta is that of a later one by now.
func (m mappedPages) freelistOf(tx uint64) uint64 {
	meta := m.data[tx%2*m.pageSize+pageHeader:]
	free := binary.NativeEndian.Uint64(meta[metaFree:])
	if binary.NativeEndian.Uint64(meta[metaTx:]) != tx {
		return 0
	}
	return free
}

// shapeOf goes down the left side of a tree.
func (m mappedPages) shapeOf(name string, root uint64) (shape, error) {
	known := shape{bucket: name, root: root}
	if root == 0 {
		return known, nil
	}
	for id := root; ; known.depth++ {
		page, err := m.page(id)
		switch {
		case err != nil:
			return known, err
		case page.flags() == leafPage:
			return known, nil
		case known.depth == deepest || page.count() == 0:
			return known, &pageProblem{id, "leads to no leaf"}
		}
		id = page.child(0)
	}
}
