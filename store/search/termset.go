package search

// What looking at one document costs, and adding one to a set of all, and
// passing over 64 of them in a set; measured, in nanoseconds. Only the speed
// depends on them.
const (
	costLook = 40
	costAdd  = 2
	costPass = 2
)

// termSet is where in a segment one word of a query is.
type termSet struct {
	code   string      // as it is looked for in codes; "" where it is not
	near   bool        // with one error
	ranges [][2]int    // of the suffixes of codes
	common numbers     // the documents of the ranges, where they are very many
	tokens [2][]uint32 // that start with it or are it, that have it inside
	kinds  [2]numbers  // the same as sets; the second holds both
	count  int         // documents, some more than once
	others int         // of these, by tokens
	extra  numbers     // memory for a set of them
	cost   int         // of making a set of them
}

// Indexes of a termSet's tokens.
const (
	atStart = iota
	anywhere
)

// termSets finds where each word of the query is and says whether all are
// somewhere.
func (f *finder) termSets() bool {
	n := len(f.q.terms)
	if len(f.sets) < n+1 {
		f.sets = append(f.sets, make([]termSet, n+1-len(f.sets))...)
	}
	all := true
	for i := range f.q.terms {
		f.termSet(&f.sets[i], &f.q.terms[i])
		all = all && f.sets[i].count > 0
	}
	return all
}

func (f *finder) clearSet(set *termSet, code string, near bool) {
	set.code, set.near, set.count, set.common = code, near, 0, nil
	set.others, set.cost = 0, f.seg.size()/64*costPass
	set.ranges = set.ranges[:0]
	for i := range set.tokens {
		set.tokens[i] = set.tokens[i][:0]
		set.kinds[i] = set.kinds[i].sized(f.seg.tokens.size())
	}
}

func (f *finder) termSet(set *termSet, t *term) {
	f.clearSet(set, t.code, false)
	f.list = f.seg.dimTokens(f.list[:0], t)
	for _, token := range f.list {
		f.addToken(set, token, atStart)
	}
	if set.common = f.seg.common[t.code]; len(t.code) == 1 && set.common != nil {
		set.count += f.seg.size()
	} else if t.code != "" {
		l := f.seg.tokens
		lo, hi := l.beginning(&l.whole, t.code)
		for _, v := range l.whole.values[lo:hi] {
			f.addToken(set, v>>offsetBits, atStart)
		}
		if len(t.code) >= minInside {
			lo, hi = l.beginning(&l.suffix, t.code)
			for _, v := range l.suffix.values[lo:hi] {
				f.addToken(set, v>>offsetBits, anywhere)
			}
		}
		lo, hi = f.seg.codes.beginning(&f.seg.codes.suffix, t.code)
		f.addRange(set, lo, hi)
	}
	f.list = f.seg.partialTokens(f.list[:0], t)
	for _, token := range f.list {
		f.addToken(set, token, anywhere)
	}
}

func (f *finder) nearSet(set *termSet, t *term) {
	f.clearSet(set, t.code, true)
	codes, tokens := f.seg.codes, f.seg.tokens
	codes.near(&codes.suffix, t.code, false, func(lo, hi, _ int) { f.addRange(set, lo, hi) })
	tokens.near(&tokens.suffix, t.code, false, func(lo, hi, _ int) {
		for _, v := range tokens.suffix.values[lo:hi] {
			f.addToken(set, v>>offsetBits, anywhere)
		}
	})
	f.matcher.reset(t.code)
}

func (f *finder) addToken(set *termSet, token uint32, where int) {
	if set.kinds[anywhere].has(token) {
		return
	}
	set.kinds[anywhere].set(token)
	if where == atStart {
		set.kinds[atStart].set(token)
	}
	set.tokens[where] = append(set.tokens[where], token)
	n := len(f.seg.docs.of(token))
	set.count += n
	set.others += n
	set.cost += min(n*costAdd, f.seg.size()/64*costPass)
}

func (f *finder) addRange(set *termSet, lo, hi int) {
	if lo < hi {
		set.ranges = append(set.ranges, [2]int{lo, hi})
		set.count += hi - lo
		if set.common == nil {
			set.cost += (hi - lo) * costAdd
		}
	}
}

// nowhere says that the word is in no document. It takes the set by value
// because slices.ContainsFunc does.
func (set termSet) nowhere() bool { return set.count == 0 }

// neverAtStart says that the word is only inside of words.
func (set termSet) neverAtStart() bool {
	return set.common == nil && len(set.ranges) == 0 && len(set.tokens[atStart]) == 0
}

// docBits sets the documents of one word, with tokens of atStart only or of both
// kinds.
func (f *finder) docBits(docs numbers, set *termSet, where int) {
	if set.common != nil {
		copy(docs, set.common)
	} else {
		for _, r := range set.ranges {
			for _, v := range f.seg.codes.suffix.values[r[0]:r[1]] {
				docs.set(f.seg.codeDoc[v>>offsetBits])
			}
		}
	}
	f.tokenBits(docs, set, where)
}

// tokenBits sets the documents that have the word not in a code but as a token.
func (f *finder) tokenBits(docs numbers, set *termSet, where int) {
	for _, tokens := range set.tokens[:where+1] {
		for _, token := range tokens {
			if common, ok := f.seg.commonTokens[token]; ok {
				docs.unite(common)
			} else {
				docs.setAll(f.seg.docs.of(token))
			}
		}
	}
}
