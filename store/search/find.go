package search

import "math"

// finder looks for the answers to one query in one segment. Its memory is used
// again for the next query.
type finder struct {
	seg  *segment
	dead numbers
	q    *query
	want int // answers at most

	found []answer // the best first
	seen  numbers  // the documents in found
	best  best
	// The bound for tokens that belongs to a bound for documents.
	docBound, tokenBound uint32

	sets    []termSet
	masks   []mask
	list    []uint32 // documents or tokens, for a moment
	first   []uint32 // the best documents of one word
	matcher nearMatcher
	all     numbers // documents, for a moment
	one     numbers
}

// answer is a document of a segment and how it answers.
type answer struct {
	doc   uint32
	class Class
}

// open makes the finder ready for a query.
func (f *finder) open(seg *segment, dead numbers, q *query, want int) {
	f.seg, f.dead, f.q, f.want = seg, dead, q, min(want, seg.size())
	if words := (seg.size() + 63) / 64; len(f.seen) < words {
		f.seen = make(numbers, words)
	}
	f.found = f.found[:0]
	f.docBound = 0
}

// close forgets the query, so that the finder keeps nothing alive but its memory.
func (f *finder) close() {
	for _, a := range f.found {
		f.seen.clear(a.doc)
	}
	f.seg, f.dead, f.q = nil, nil, nil
	f.best.dead, f.best.seen = nil, nil
}

func (f *finder) full() bool { return len(f.found) >= f.want }

// begin starts the collection of the answers of one class.
func (f *finder) begin() {
	f.best = best{docs: f.best.docs[:0], want: f.want - len(f.found), dead: f.dead, seen: f.seen}
}

// end adds the answers that were collected.
func (f *finder) end(class Class) {
	f.best.settle()
	for _, doc := range f.best.docs {
		f.found = append(f.found, answer{doc, class})
		f.seen.set(doc)
	}
}

// exact finds the answers without a typing error.
func (f *finder) exact() {
	if f.q.joined != "" {
		f.inCodes(f.q.joined)
	}
	switch {
	case f.full():
	case len(f.q.terms) == 1:
		f.inTokens(&f.q.terms[0])
	default:
		f.everyWord()
	}
}

// inCodes finds the typing as a designation or a part of one.
func (f *finder) inCodes(joined string) {
	l := f.seg.codes
	lo, hi := l.beginning(&l.whole, joined)
	_, equal := l.refine(&l.whole, lo, hi, len(joined), terminator)
	if lo < equal {
		f.begin()
		l.whole.least(lo, equal, f.codeBound(), func(v uint32) uint32 {
			if f.seg.isName(v >> offsetBits) {
				f.offerCode(v)
			}
			return f.codeBound()
		})
		f.end(Exact)
		f.begin()
		l.whole.least(lo, equal, f.codeBound(), f.offerCode)
		f.end(ExactOld)
	}
	if f.full() {
		return
	}
	f.begin()
	f.best.offerAll(f.seg.leading[joined])
	if f.best.bound() == math.MaxUint32 {
		l.whole.least(equal, hi, f.codeBound(), f.offerCode)
	}
	f.end(Starts)
	if f.full() {
		return
	}
	lo, hi = l.beginning(&l.suffix, joined)
	f.begin()
	l.suffix.least(lo, hi, f.codeBound(), f.offerCode)
	f.end(Inside)
}

// offerCode offers the document of a value of codes and returns the new bound.
func (f *finder) offerCode(v uint32) uint32 {
	f.best.offer(f.seg.codeDoc[v>>offsetBits])
	return f.codeBound()
}

func (f *finder) codeBound() uint32 { return f.seg.codeBound(f.best.bound()) }

// offerToken offers the documents of a value of tokens and returns the new bound.
func (f *finder) offerToken(v uint32) uint32 {
	f.best.offerAll(f.seg.docs.of(v >> offsetBits))
	return f.newTokenBound()
}

func (f *finder) newTokenBound() uint32 {
	if bound := f.best.bound(); bound != f.docBound || bound == 0 {
		f.docBound, f.tokenBound = bound, f.seg.tokenBound(bound)
	}
	return f.tokenBound
}

// offerTokens offers the documents of all the tokens.
func (f *finder) offerTokens(tokens []uint32) {
	for _, token := range tokens {
		f.best.offerAll(f.seg.docs.of(token))
	}
}

// inTokens finds the only word of a query in descriptions and places, or as a
// dimension.
func (f *finder) inTokens(t *term) {
	l := f.seg.tokens
	f.begin()
	f.list = f.seg.dimTokens(f.list[:0], t)
	f.offerTokens(f.list)
	if t.code != "" {
		lo, hi := l.beginning(&l.whole, t.code)
		l.whole.least(lo, hi, f.newTokenBound(), f.offerToken)
	}
	f.end(Words)
	if f.full() {
		return
	}
	f.begin()
	f.list = f.seg.partialTokens(f.list[:0], t)
	f.offerTokens(f.list)
	if len(t.code) >= minInside {
		lo, hi := l.beginning(&l.suffix, t.code)
		l.suffix.least(lo, hi, f.newTokenBound(), f.offerToken)
	}
	f.end(WordsInside)
}

// near finds answers with one typing error, behind those that were found.
func (f *finder) near() {
	joined := f.q.joined
	l, tokens := f.seg.codes, f.seg.tokens
	if len(joined) >= minNear && !f.full() {
		f.begin()
		l.near(&l.whole, joined, true, func(lo, hi, _ int) {
			l.whole.least(lo, hi, f.codeBound(), f.offerCode)
		})
		f.end(Near)
	}
	if f.full() {
		return
	}
	f.begin()
	if len(joined) >= minNear {
		l.near(&l.suffix, joined, false, func(lo, hi, _ int) {
			l.suffix.least(lo, hi, f.codeBound(), f.offerCode)
		})
	}
	if len(f.q.terms) > 1 {
		f.everyWordNearly()
	} else if t := &f.q.terms[0]; t.near() {
		tokens.near(&tokens.suffix, t.code, false, func(lo, hi, _ int) {
			tokens.suffix.least(lo, hi, f.newTokenBound(), f.offerToken)
		})
	}
	f.end(NearInside)
}
