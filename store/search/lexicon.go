package search

import "sort"

// Values of a lexicon's arrays are an entry and an offset in it.
const (
	offsetBits = 6 // enough for maxCode
	offsetMask = 1<<offsetBits - 1
	maxEntries = 1 << (32 - offsetBits)
)

// terminator ends every entry in the text of a lexicon. It is less than any
// byte of an entry.
const terminator = "\x00"

// lexicon is an array of short strings, its entries, in which any substring is
// found. Entries are folded text of at most maxCode bytes; an empty one is
// never found. The order of entries is their rank.
type lexicon struct {
	text   string   // the entries, each with its terminator, and padding
	starts []uint32 // by entry, where it starts in text; one more at the end
	whole  sorted   // every entry, in the order of the alphabet
	suffix sorted   // every suffix of every entry, likewise
}

// sorted is an array of suffixes in alphabetical order with the tree that
// finds those of the best rank in any stretch of it.
type sorted struct {
	minTree
	buckets []uint32 // by the first two characters, where they start; nil in small ones
}

// newLexicon makes a lexicon of text that holds the entries, each ended by a
// terminator.
func newLexicon(text []byte) *lexicon {
	l := &lexicon{}
	n := 0
	for _, c := range text {
		if c == 0 {
			n++
		}
	}
	l.starts = make([]uint32, 1, n+1)
	for i, c := range text {
		if c == 0 {
			l.starts = append(l.starts, uint32(i+1))
		}
	}
	l.text = string(append(text, make([]byte, maxCode+2)...))
	l.whole = l.sortWhole()
	l.suffix = l.sortSuffixes()
	return l
}

// size is the number of entries.
func (l *lexicon) size() int { return len(l.starts) - 1 }

// at is where in the text the suffix starts.
func (l *lexicon) at(value uint32) uint32 {
	return l.starts[value>>offsetBits] + value&offsetMask
}

// beginning returns the stretch of s whose suffixes start with prefix, which
// is not empty.
func (l *lexicon) beginning(s *sorted, prefix string) (lo, hi int) {
	lo, hi = s.bucket(prefix)
	return l.refine(s, lo, hi, 0, prefix)
}

// refine returns the part of the stretch [lo, hi) of s whose suffixes go on
// with next after depth equal characters.
func (l *lexicon) refine(s *sorted, lo, hi, depth int, next string) (int, int) {
	if next == "" || lo >= hi {
		return lo, hi
	}
	n := uint32(len(next))
	text := func(i int) string {
		at := l.at(s.values[i]) + uint32(depth)
		return l.text[at : at+n]
	}
	if text(lo) < next {
		from := lo + 1
		lo = from + sort.Search(hi-from, func(i int) bool { return text(from+i) >= next })
	}
	if lo == hi || text(lo) != next {
		return lo, lo
	}
	// Most stretches are short: look near their start first.
	step := 1
	for lo+step < hi && text(lo+step) == next {
		step *= 2
	}
	from, to := lo+step/2+1, min(lo+step, hi)
	return lo, from + sort.Search(max(to-from, 0), func(i int) bool { return text(from+i) != next })
}

// classes is how many kinds of bytes buckets tell apart.
const classes = 39

// classOf puts bytes into few classes, in their order.
func classOf(c byte) int {
	switch {
	case digit(c):
		return int(c-'0') + 2
	case 'a' <= c && c <= 'z':
		return int(c-'a') + 12
	case c >= 0x80:
		return classes - 1
	case c == 0:
		return 0
	}
	return 1
}

// bucket narrows the search for prefix by its first two characters.
func (s *sorted) bucket(prefix string) (lo, hi int) {
	if s.buckets == nil {
		return 0, len(s.values)
	}
	b := classOf(prefix[0]) * classes
	if len(prefix) == 1 {
		return int(s.buckets[b]), int(s.buckets[b+classes])
	}
	b += classOf(prefix[1])
	return int(s.buckets[b]), int(s.buckets[b+1])
}

// near yields the stretches of s whose suffixes start with text that is one
// typing error away from typed, and the length of that text. Where whole is
// set the text must be all of an entry; otherwise it may lie anywhere, and a
// change at either end is the same as leaving that end off. Stretches may
// overlap.
func (l *lexicon) near(s *sorted, typed string, whole bool, yield func(lo, hi, length int)) {
	end := len(typed)
	if whole {
		typed += terminator
	}
	emit := func(lo, hi, depth int, rest string, length int) {
		if lo, hi = l.refine(s, lo, hi, depth, rest); lo < hi {
			yield(lo, hi, length)
		}
	}
	lo, hi := 0, len(s.values)
	for i := 0; i <= end && lo < hi; i++ {
		if i < end {
			emit(lo, hi, i, typed[i+1:], end-1)
		}
		if i+1 < end && typed[i] != typed[i+1] {
			swapLo, swapHi := l.refine(s, lo, hi, i, typed[i+1:i+2])
			swapLo, swapHi = l.refine(s, swapLo, swapHi, i+1, typed[i:i+1])
			emit(swapLo, swapHi, i+2, typed[i+2:], end)
		}
		if whole || i > 0 && i < end {
			l.children(s, lo, hi, i, func(childLo, childHi int, c byte) {
				if i < end && c != typed[i] && (whole || i < end-1) {
					emit(childLo, childHi, i+1, typed[i+1:], end)
				}
				emit(childLo, childHi, i+1, typed[i:], end+1)
			})
		}
		if i < end {
			lo, hi = l.refine(s, lo, hi, i, typed[i:i+1])
		}
	}
}

// children yields the parts of the stretch [lo, hi) by the character that
// follows depth equal ones.
func (l *lexicon) children(s *sorted, lo, hi, depth int, yield func(lo, hi int, c byte)) {
	for lo < hi {
		at := l.at(s.values[lo]) + uint32(depth)
		c := l.text[at]
		from, to := l.refine(s, lo, hi, depth, l.text[at:at+1])
		if c != 0 {
			yield(from, to, c)
		}
		lo = to
	}
}
