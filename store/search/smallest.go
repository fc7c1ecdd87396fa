package search

import (
	"math"
	"math/bits"
	"slices"
)

// fan is how many values, or nodes, one node of a minTree stands over: one
// cache line of them.
const fan = 16

// minTree holds the least value of every fan neighbours of an array, of every
// fan of those, and so on, so that the least values of any stretch of the array
// are found without looking at all of it.
type minTree struct {
	values []uint32
	levels [][]uint32
}

func newMinTree(values []uint32) minTree {
	t := minTree{values: values}
	for below := values; len(below) > fan; {
		level := make([]uint32, 0, (len(below)+fan-1)/fan)
		for block := range slices.Chunk(below, fan) {
			level = append(level, slices.Min(block))
		}
		t.levels = append(t.levels, level)
		below = level
	}
	return t
}

// descent looks for the least values in a stretch of a minTree.
type descent struct {
	tree *minTree
	// bound is where values are no longer wanted; take lowers it.
	bound uint32
	// take receives a value below the bound and returns the new bound.
	take func(value uint32) (bound uint32)
}

// least hands values of the stretch [lo, hi) to take, small ones early, and
// every one that lies below the bound by then.
func (t *minTree) least(lo, hi int, bound uint32, take func(value uint32) uint32) {
	if lo < hi {
		d := descent{tree: t, bound: bound, take: take}
		d.cover(0, lo, hi)
	}
}

// cover visits nodes lo to hi of a level by way of the levels above it.
func (d *descent) cover(level, lo, hi int) {
	left, right := (lo+fan-1)/fan, hi/fan
	if level >= len(d.tree.levels) || right-left < 2 {
		d.visit(level, lo, hi)
		return
	}
	d.cover(level+1, left, right)
	d.visit(level, lo, left*fan)
	d.visit(level, right*fan, hi)
}

// visit looks into nodes lo to hi of a level, the one with the least value first.
func (d *descent) visit(level, lo, hi int) {
	if level == 0 {
		for _, v := range d.tree.values[lo:hi] {
			if v < d.bound {
				d.bound = d.take(v)
			}
		}
		return
	}
	nodes := d.tree.levels[level-1]
	best, least := -1, d.bound
	for i := lo; i < hi; i++ {
		if nodes[i] < least {
			best, least = i, nodes[i]
		}
	}
	if best < 0 {
		return
	}
	d.open(level, best)
	for i := lo; i < hi; i++ {
		if nodes[i] < d.bound && i != best {
			d.open(level, i)
		}
	}
}

func (d *descent) open(level, i int) {
	below := len(d.tree.values)
	if level > 1 {
		below = len(d.tree.levels[level-2])
	}
	d.visit(level-1, i*fan, min(i*fan+fan, below))
}

// numbers is a set of small numbers. A nil set is empty.
type numbers []uint64

func (b numbers) has(i uint32) bool {
	return int(i>>6) < len(b) && b[i>>6]&(1<<(i&63)) != 0
}

func (b numbers) set(i uint32)   { b[i>>6] |= 1 << (i & 63) }
func (b numbers) clear(i uint32) { b[i>>6] &^= 1 << (i & 63) }

// intersect leaves what is in both sets, which are of one size, and returns
// how many that are.
func (b numbers) intersect(other numbers) int {
	n := 0
	other = other[:len(b)]
	for i := range b {
		b[i] &= other[i]
		n += bits.OnesCount64(b[i])
	}
	return n
}

func (b numbers) setAll(all []uint32) {
	for _, i := range all {
		b[i>>6] |= 1 << (i & 63)
	}
}

// unite adds what is in another set of the same size.
func (b numbers) unite(other numbers) {
	other = other[:len(b)]
	for i := range b {
		b[i] |= other[i]
	}
}

// sized returns an empty set with room for n numbers, in the memory of b where
// that is enough.
func (b numbers) sized(n int) numbers {
	words := (n + 63) / 64
	if cap(b) < words {
		return make(numbers, words)
	}
	b = b[:words]
	clear(b)
	return b
}

// maxInsert is how many documents are kept in order one by one. More are
// gathered and sorted now and then, since each insertion moves what is behind.
const maxInsert = 256

// best collects the least documents of those offered, each once.
type best struct {
	docs  []uint32 // ascending once settled
	want  int      // how many of them
	limit uint32   // where more than maxInsert are wanted, the bound; 0 is none yet
	dead  numbers  // not to be taken: no longer there
	seen  numbers  // not to be taken: already an answer
}

// bound is the document from which on none is wanted.
func (b *best) bound() uint32 {
	switch {
	case b.want == 0:
		return 0
	case b.limit != 0:
		return b.limit
	case b.want > maxInsert || len(b.docs) < b.want:
		return math.MaxUint32
	}
	return b.docs[len(b.docs)-1]
}

// offer takes the document if it is among the least so far.
func (b *best) offer(doc uint32) {
	if doc >= b.bound() || b.dead.has(doc) || b.seen.has(doc) {
		return
	}
	if b.want > maxInsert {
		if b.docs = append(b.docs, doc); len(b.docs) >= 2*b.want {
			b.settle()
		}
		return
	}
	at, found := slices.BinarySearch(b.docs, doc)
	if found {
		return
	}
	if len(b.docs) == b.want {
		b.docs = b.docs[:len(b.docs)-1]
	}
	b.docs = slices.Insert(b.docs, at, doc)
}

// settle brings the documents into order and drops those that are too many.
func (b *best) settle() {
	if b.want <= maxInsert {
		return
	}
	slices.Sort(b.docs)
	b.docs = slices.Compact(b.docs)
	if len(b.docs) >= b.want {
		b.docs = b.docs[:b.want]
		b.limit = b.docs[b.want-1]
	}
}

// offerAll offers ascending documents until none is wanted any more.
func (b *best) offerAll(docs []uint32) {
	for _, doc := range docs {
		if doc >= b.bound() {
			return
		}
		b.offer(doc)
	}
}
