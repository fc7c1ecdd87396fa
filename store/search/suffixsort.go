package search

import (
	"cmp"
	"encoding/binary"
	"slices"
	"sync"
)

// smallLexicon is the number of suffixes below which buckets are not worth
// their memory.
const smallLexicon = 1024

// sortWhole sorts the entries that are not empty.
func (l *lexicon) sortWhole() sorted {
	values := make([]uint32, 0, l.size())
	for i := range l.size() {
		if l.starts[i+1]-l.starts[i] > 1 {
			values = append(values, uint32(i)<<offsetBits)
		}
	}
	return l.sort(values)
}

// sortSuffixes sorts all suffixes of all entries.
func (l *lexicon) sortSuffixes() sorted {
	values := make([]uint32, 0, int(l.starts[l.size()])-l.size())
	for i := range l.size() {
		for offset := range l.starts[i+1] - l.starts[i] - 1 {
			values = append(values, uint32(i)<<offsetBits|offset)
		}
	}
	return l.sort(values)
}

func (l *lexicon) sort(values []uint32) sorted {
	var s sorted
	if len(values) < smallLexicon {
		l.sortFrom(values, 0, nil)
	} else {
		values, s.buckets = l.scatter(values)
		l.sortBuckets(values, s.buckets)
	}
	s.minTree = newMinTree(values)
	return s
}

// scatter puts values in the order of their first two characters and returns
// where each pair starts.
func (l *lexicon) scatter(values []uint32) ([]uint32, []uint32) {
	starts := make([]uint32, classes*classes+1)
	pair := func(v uint32) int {
		at := l.at(v)
		return classOf(l.text[at])*classes + classOf(l.text[at+1])
	}
	for _, v := range values {
		starts[pair(v)+1]++
	}
	for i := 1; i < len(starts); i++ {
		starts[i] += starts[i-1]
	}
	next := slices.Clone(starts)
	out := make([]uint32, len(values))
	for _, v := range values {
		p := pair(v)
		out[next[p]] = v
		next[p]++
	}
	return out, starts
}

// sortBuckets sorts within each bucket, on two cores, since that is most of
// the work of building an index.
func (l *lexicon) sortBuckets(values, starts []uint32) {
	const workers = 2
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			var scratch []keyed
			for b := w; b+1 < len(starts); b += workers {
				// Bytes beyond ASCII share a class, so the first two
				// characters are compared again.
				scratch = l.sortFrom(values[starts[b]:starts[b+1]], 0, scratch)
			}
		})
	}
	wait.Wait()
}

// keyed is a suffix with the next eight bytes of its text.
type keyed struct {
	key   uint64
	value uint32
}

// sortFrom sorts suffixes that agree in their first depth bytes, and returns
// its scratch memory for the next call.
func (l *lexicon) sortFrom(values []uint32, depth uint32, scratch []keyed) []keyed {
	if len(values) < 2 {
		return scratch
	}
	if cap(scratch) < len(values) {
		scratch = make([]keyed, len(values))
	}
	keys := scratch[:len(values)]
	for i, v := range values {
		keys[i] = keyed{l.key(l.at(v) + depth), v}
	}
	slices.SortFunc(keys, func(a, b keyed) int { return cmp.Compare(a.key, b.key) })
	for i, k := range keys {
		values[i] = k.value
	}
	// Where eight bytes agree and none of them ends the entry, go on behind them.
	for lo := 0; lo < len(values); {
		key := keys[lo].key
		hi := lo + 1
		for hi < len(values) && keys[hi].key == key {
			hi++
		}
		if hi-lo > 1 && key&0xff != 0 {
			l.sortFrom(values[lo:hi], depth+8, nil)
		}
		lo = hi
	}
	return scratch
}

// key is eight bytes of the text as a number that sorts as they do, with
// nothing behind the end of the entry.
func (l *lexicon) key(at uint32) uint64 {
	var raw [8]byte
	copy(raw[:], l.text[at:at+8])
	key := binary.BigEndian.Uint64(raw[:])
	// The highest bit of every zero byte; the first one from the left ends the entry.
	for shift := 56; shift >= 0; shift -= 8 {
		if key>>shift&0xff == 0 {
			return key &^ (1<<shift - 1)
		}
	}
	return key
}
