package search

import (
	"cmp"
	"slices"
	"strings"
)

// segment is a part of an index that does not change. Its documents are
// numbered in the order in which equally good ones are shown, so the best of
// any set of them are those with the least numbers.
type segment struct {
	text    string   // the records
	records []uint32 // by document, where its record starts in text
	ids     *idTable

	codes     *lexicon // names and aliases, those of one document together
	codeDoc   []uint32 // by entry of codes, its document
	firstCode []uint32 // by document, the entry of its name; one more at the end

	// Tokens are the words of descriptions and places, and the dimensions,
	// which have no text in the lexicon. They are numbered in the order in
	// which documents first have them.
	tokens    *lexicon
	docs      postings // by token, its documents
	held      postings // by document, its tokens
	dims      []dimToken
	spellings []spelling

	// common has, for the short texts that very many codes hold, the documents
	// that hold them; for single characters, also those with a token that starts
	// so. commonTokens has the documents of tokens that very many have.
	common       map[string]numbers
	commonTokens map[uint32]numbers
	// leading has, for the starts of codes of one and two characters that very
	// many have, the best documents, ascending: leadSize of them.
	leading map[string][]uint32
}

// size is the number of documents.
func (s *segment) size() int { return len(s.records) }

func (s *segment) record(doc uint32) string { return s.text[s.records[doc]:] }

func (s *segment) id(doc uint32) string { return recordID(s.record(doc)) }

// isName says whether an entry of codes is a name, not an alias.
func (s *segment) isName(entry uint32) bool { return s.firstCode[s.codeDoc[entry]] == entry }

// codesOf is the text of all codes of a document, each with its terminator.
func (s *segment) codesOf(doc uint32) string {
	l := s.codes
	return l.text[l.starts[s.firstCode[doc]]:l.starts[s.firstCode[doc+1]]]
}

// codeBound is the least value of codes that belongs to the document or a later one.
func (s *segment) codeBound(doc uint32) uint32 {
	if int(doc) >= s.size() {
		return ^uint32(0)
	}
	return s.firstCode[doc] << offsetBits
}

// tokenBound is a value of tokens from which on all first come up in the
// document or a later one.
func (s *segment) tokenBound(doc uint32) uint32 {
	if int(doc) >= s.size() {
		return ^uint32(0)
	}
	lo, hi := 0, s.tokens.size()
	for lo < hi {
		if mid := (lo + hi) / 2; s.docs.of(uint32(mid))[0] < doc {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo == maxEntries {
		return ^uint32(0)
	}
	return uint32(lo) << offsetBits
}

// postings are lists of numbers, one behind the other.
type postings struct {
	starts []uint32
	all    []uint32
}

func (p *postings) of(i uint32) []uint32 { return p.all[p.starts[i]:p.starts[i+1]] }

// dimToken is a dimension and its token.
type dimToken struct {
	Dim
	token uint32
}

// spelling is one way to write the length of a dimension.
type spelling struct {
	text string
	dim  dimToken
}

// tableDims sorts dimensions for looking up, and lists their spellings.
func (s *segment) tableDims(dims []dimToken) {
	slices.SortFunc(dims, func(a, b dimToken) int {
		return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.token, b.token))
	})
	s.dims = dims
	for _, d := range dims {
		for _, text := range spellings(d.Length) {
			s.spellings = append(s.spellings, spelling{text, d})
		}
	}
	slices.SortFunc(s.spellings, func(a, b spelling) int {
		return cmp.Or(strings.Compare(a.text, b.text), cmp.Compare(a.dim.token, b.dim.token))
	})
}

// dimTokens appends the tokens of the dimensions that are wanted.
func (s *segment) dimTokens(dst []uint32, t *term) []uint32 {
	for _, want := range t.dims {
		i, _ := slices.BinarySearchFunc(s.dims, want, func(d dimToken, want Dim) int { return cmp.Compare(d.Length, want.Length) })
		for ; i < len(s.dims) && s.dims[i].Length == want.Length; i++ {
			if s.dims[i].answers(want) {
				dst = append(dst, s.dims[i].token)
			}
		}
	}
	return dst
}

// partialTokens appends the tokens of the dimensions that may be being typed.
func (s *segment) partialTokens(dst []uint32, t *term) []uint32 {
	if t.partial == "" {
		return dst
	}
	i, _ := slices.BinarySearchFunc(s.spellings, t.partial, func(sp spelling, partial string) int { return strings.Compare(sp.text, partial) })
	for ; i < len(s.spellings) && strings.HasPrefix(s.spellings[i].text, t.partial); i++ {
		if d := s.spellings[i].dim; t.admits(d.Dim) {
			dst = append(dst, d.token)
		}
	}
	return dst
}

// Bounds of what is common.
const (
	commonLength = 3  // bytes at most
	commonShare  = 32 // in one of so many documents at least, about
	leadLength   = 2  // bytes at most
	leadSize     = 64
)

// tableCommon lists the texts that very many codes hold and the tokens that
// very many documents have: those of which going over all the places where they
// are would take long.
func (s *segment) tableCommon() {
	s.common, s.commonTokens = map[string]numbers{}, map[uint32]numbers{}
	if s.size() < smallLexicon {
		return
	}
	s.addCommon(0, len(s.codes.suffix.values), 0)
	s.leading = map[string][]uint32{}
	s.addLeading(0, len(s.codes.whole.values), 0)
	for token := range uint32(s.tokens.size()) {
		docs := s.docs.of(token)
		if at := s.tokens.starts[token]; s.tokens.text[at] != 0 {
			s.commonSet(s.tokens.text[at : at+1]).setAll(docs)
		}
		if len(docs) < s.size()/commonShare {
			continue
		}
		set := numbers(nil).sized(s.size())
		set.setAll(docs)
		s.commonTokens[token] = set
	}
}

// commonSet is the set of a common text, which is made where there is none yet.
func (s *segment) commonSet(text string) numbers {
	docs, ok := s.common[text]
	if !ok {
		docs = numbers(nil).sized(s.size())
		s.common[text] = docs
	}
	return docs
}

// addCommon goes on from the suffixes [lo, hi) that agree in depth bytes.
func (s *segment) addCommon(lo, hi, depth int) {
	l := s.codes
	if depth > 1 && hi-lo < s.size()/commonShare {
		return
	}
	if depth > 0 {
		at := l.at(l.suffix.values[lo])
		docs := s.commonSet(l.text[at : at+uint32(depth)])
		for _, v := range l.suffix.values[lo:hi] {
			docs.set(s.codeDoc[v>>offsetBits])
		}
	}
	if depth < commonLength {
		l.children(&l.suffix, lo, hi, depth, func(lo, hi int, _ byte) { s.addCommon(lo, hi, depth+1) })
	}
}

// addLeading goes on from the codes [lo, hi) that agree in depth bytes.
func (s *segment) addLeading(lo, hi, depth int) {
	l := s.codes
	if hi-lo < 8*leadSize {
		return
	}
	if depth > 0 {
		b := best{want: leadSize}
		l.whole.least(lo, hi, ^uint32(0), func(v uint32) uint32 {
			b.offer(s.codeDoc[v>>offsetBits])
			return s.codeBound(b.bound())
		})
		at := l.at(l.whole.values[lo])
		if len(b.docs) == leadSize {
			s.leading[l.text[at:at+uint32(depth)]] = b.docs
		}
	}
	if depth < leadLength {
		l.children(&l.whole, lo, hi, depth, func(lo, hi int, _ byte) { s.addLeading(lo, hi, depth+1) })
	}
}
