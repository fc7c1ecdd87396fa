package disk

import (
	"bytes"

	"go.etcd.io/bbolt"
)

// tree is a bucket as a transaction has opened it, once.
type tree struct {
	sealer
	shape // in the state that the transaction began with
	tx    *Tx
	bolt  *bbolt.Bucket
	dirty bool // the transaction has changed it, or may have

	known           lookup // what was looked up last
	committed       treeCursor
	changed         boltCursor
	ways            [2]way // that were proven, the oldest written over
	nextWay         int
	plain, replayed Bucket
}

// lookup is what was found under a key, if it is valid.
type lookup struct {
	key, body []byte
	valid     bool
}

func (l *lookup) of(key []byte) bool { return l.valid && bytes.Equal(l.key, key) }

func (l *lookup) set(key, body []byte) {
	l.key, l.body, l.valid = append(l.key[:0], key...), body, true
}

// open opens a bucket; the same one each time.
func (t *Tx) open(name string) (*tree, error) {
	for _, b := range t.trees {
		if b.name == name {
			return b, nil
		}
	}
	kind, known := t.file.options.Layout.kind(name)
	if err := t.proveBuckets(); err != nil {
		return nil, err
	}
	bolt := t.bolt.Bucket([]byte(name))
	if bolt == nil || !known {
		return nil, errNoBucket(name)
	}
	b := &tree{sealer: newSealer(name, kind, t.format >= KeysSealed), tx: t, bolt: bolt, dirty: t.relaid}
	b.plain, b.replayed = Bucket{tree: b}, Bucket{tree: b, replayed: true}
	b.committed.tree, b.changed.tree = b, b
	if is := t.state.tree(name); is != nil && !t.relaid {
		b.shape = *is
	} else {
		var err error
		if b.shape, err = t.pages.shapeOf(name, uint64(bolt.Root())); err != nil {
			return nil, errDamaged(t.file.path, err)
		}
	}
	if b.root != uint64(bolt.Root()) {
		return nil, errDamaged(t.file.path, &pageProblem{uint64(bolt.Root()), "is not the root of " + name})
	}
	t.trees = append(t.trees, b)
	return b, nil
}

// proveBuckets proves the pages of the buckets in the state that the transaction began with:
// once, before the first of them is opened.
func (t *Tx) proveBuckets() (err error) {
	if t.pages.data != nil {
		return nil
	}
	pages, err := t.state.within(t.bolt)
	if err == nil {
		err = pages.proveBuckets(uint64(t.bolt.Cursor().Bucket().Root()))
	}
	if err != nil {
		return errDamaged(t.file.path, err)
	}
	t.pages = pages
	return nil
}

// forgetTrees is called where the buckets are changed otherwise than through their trees.
func (t *Tx) forgetTrees() { t.relaid, t.trees = true, nil }

// cursor is the one of the tree, which the next call uses again.
func (b *tree) cursor() cursor {
	if !b.dirty && b.root != 0 {
		return &b.committed
	}
	if b.changed.bolt == nil {
		b.changed.bolt = b.bolt.Cursor()
	}
	return &b.changed
}

// newCursor is one for a scan, in which others are asked for.
func (b *tree) newCursor() cursor {
	if !b.dirty && b.root != 0 {
		return &treeCursor{tree: b}
	}
	return &boltCursor{b, b.bolt.Cursor()}
}
