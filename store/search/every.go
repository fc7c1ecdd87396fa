package search

import (
	"math/bits"
	"slices"
	"strings"
)

// everyWord finds the documents that have each word of the query somewhere.
func (f *finder) everyWord() {
	if !f.termSets() {
		return
	}
	sets := f.sets[:len(f.q.terms)]
	driver := rarest(sets)
	if f.worthProbing(driver, sets) && f.probe(driver, sets) {
		return
	}
	docs, all := f.candidates(driver, sets)
	cost := 0
	for i := range sets {
		cost += sets[i].cost
	}
	if !all || len(docs)*costLook < cost {
		f.sift(docs, sets)
		return
	}
	f.begin()
	f.intersect(sets)
	f.end(Words)
	f.begin()
	f.best.offerAll(docs)
	f.end(WordsInside)
}

// everyWordNearly offers the documents that have each word somewhere, one of
// them with an error.
func (f *finder) everyWordNearly() {
	f.termSets()
	n := len(f.q.terms)
	sets := f.sets[:n]
	for i := range sets {
		others := !slices.ContainsFunc(sets[:i], termSet.nowhere) && !slices.ContainsFunc(sets[i+1:], termSet.nowhere)
		if !others || !f.q.terms[i].near() {
			continue
		}
		exact := sets[i]
		sets[i] = f.sets[n]
		f.nearSet(&sets[i], &f.q.terms[i])
		docs, _ := f.candidates(rarest(sets), sets)
		for _, doc := range docs {
			if doc >= f.best.bound() {
				break
			}
			if f.lowest(doc, sets) != unmet {
				f.best.offer(doc)
			}
		}
		f.sets[n], sets[i] = sets[i], exact
	}
}

// probeSize is how many of the best documents of the rarest word are looked at
// in the hope that they are answer enough.
const probeSize = 256

// worthProbing says whether that hope is good, if the words were in documents
// by chance.
func (f *finder) worthProbing(driver *termSet, sets []termSet) bool {
	if driver.count < 4*probeSize {
		return false
	}
	expected := float64(probeSize)
	for i := range sets {
		if &sets[i] != driver {
			expected *= min(1, float64(sets[i].count)/float64(f.seg.size()))
		}
	}
	return expected > float64(2*f.want)
}

// probe looks at the best documents of the driver and says whether they filled
// the answers.
func (f *finder) probe(driver *termSet, sets []termSet) bool {
	f.begin()
	kept := f.best
	f.best.docs, f.best.want = f.first[:0], probeSize
	for _, r := range driver.ranges {
		f.seg.codes.suffix.least(r[0], r[1], f.codeBound(), f.offerCode)
	}
	for _, tokens := range driver.tokens {
		f.offerTokens(tokens)
	}
	f.first, f.best = f.best.docs, kept
	for _, doc := range f.first {
		if f.lowest(doc, sets) == start {
			f.best.offer(doc)
		}
		if len(f.best.docs) == f.best.want {
			f.end(Words)
			return true
		}
	}
	return false
}

// candidates lists documents that may have each of the words, ascending; all
// says that each of them does.
func (f *finder) candidates(driver *termSet, sets []termSet) (docs []uint32, all bool) {
	f.masks = f.masks[:0]
	if driver.count <= fewToSort {
		return f.docsOf(driver), false
	}
	left := float64(driver.count) // as it would be by chance
	for i := range sets {
		if sets[i].common != nil && &sets[i] != driver {
			left *= f.addMask(&sets[i])
		}
	}
	all = true
	for i := range sets {
		switch set := &sets[i]; {
		case set == driver || set.common != nil:
		case float64(set.cost) > left*costLook:
			all = false
		default:
			left *= f.addMask(set)
		}
	}
	if driver.count <= f.seg.size()/sparse {
		return f.docsOf(driver), all
	}
	f.all = f.all.sized(f.seg.size())
	f.docBits(f.all, driver, anywhere)
	return f.masked(), all
}

// sparse is in how many documents one of a word has to be for it to be quicker to
// look at each of those than through a set of all.
const sparse = 100

// mask is a set of documents in two parts, the second of which may be nil.
type mask struct{ common, others numbers }

// addMask makes a mask of a word, and returns the share of documents with it.
func (f *finder) addMask(set *termSet) float64 {
	m := mask{common: set.common}
	if set.common == nil || set.others > 0 {
		set.extra = set.extra.sized(f.seg.size())
		if set.common == nil {
			m.common = set.extra
			f.docBits(set.extra, set, anywhere)
		} else {
			m.others = set.extra
			f.tokenBits(set.extra, set, anywhere)
		}
	}
	f.masks = append(f.masks, m)
	return min(1, float64(set.count)/float64(f.seg.size()))
}

// masked lists what is in f.all and in each of f.masks.
func (f *finder) masked() []uint32 {
	docs := f.list[:0]
	for w, word := range f.all {
		for i := 0; i < len(f.masks) && word != 0; i++ {
			in := f.masks[i].common[w]
			if f.masks[i].others != nil {
				in |= f.masks[i].others[w]
			}
			word &= in
		}
		for ; word != 0; word &= word - 1 {
			docs = append(docs, uint32(w*64+bits.TrailingZeros64(word)))
		}
	}
	f.list = docs
	return docs
}

func rarest(sets []termSet) *termSet {
	least := &sets[0]
	for i := range sets {
		if sets[i].count < least.count {
			least = &sets[i]
		}
	}
	return least
}

// docsOf lists the documents of a word that are in each of f.masks, ascending.
func (f *finder) docsOf(set *termSet) []uint32 {
	docs := f.list[:0]
	for _, r := range set.ranges {
		for _, v := range f.seg.codes.suffix.values[r[0]:r[1]] {
			if doc := f.seg.codeDoc[v>>offsetBits]; f.unmasked(doc) {
				docs = append(docs, doc)
			}
		}
	}
	for _, tokens := range set.tokens {
		for _, token := range tokens {
			for _, doc := range f.seg.docs.of(token) {
				if f.unmasked(doc) {
					docs = append(docs, doc)
				}
			}
		}
	}
	slices.Sort(docs)
	docs = slices.Compact(docs)
	f.list = docs
	return docs
}

func (f *finder) unmasked(doc uint32) bool {
	for i := range f.masks {
		if !f.masks[i].common.has(doc) && !f.masks[i].others.has(doc) {
			return false
		}
	}
	return true
}

// fewToSort is how many documents are quicker sorted than put into a set.
const fewToSort = 128

// sift looks at each of the documents, which are a part of f.list.
func (f *finder) sift(docs []uint32, sets []termSet) {
	strict := !slices.ContainsFunc(sets, termSet.neverAtStart)
	f.begin()
	insides := docs[:0] // never overtakes the documents still to be read
	for _, doc := range docs {
		if len(f.best.docs) == f.best.want || !strict && len(insides) >= f.best.want {
			break
		}
		switch f.lowest(doc, sets) {
		case start:
			f.best.offer(doc)
		case inside:
			if !f.dead.has(doc) && !f.seen.has(doc) {
				insides = append(insides, doc)
			}
		}
	}
	f.end(Words)
	f.begin()
	f.best.offerAll(insides)
	f.end(WordsInside)
}

// lowest is the level of the word that the document meets least.
func (f *finder) lowest(doc uint32, sets []termSet) level {
	lowest := start
	for i := range sets {
		lowest = min(lowest, f.meets(doc, &sets[i]))
		if lowest == unmet {
			break
		}
	}
	return lowest
}

func (f *finder) meets(doc uint32, set *termSet) level {
	switch {
	case set.common != nil:
		if set.common.has(doc) {
			return start
		}
	case len(set.ranges) > 0:
		codes := f.seg.codesOf(doc)
		if !set.near && strings.Contains(codes, set.code) || set.near && f.matcher.inside(codes) {
			return start
		}
	}
	met := unmet
	for _, token := range f.seg.held.of(doc) {
		if set.kinds[atStart].has(token) {
			return start
		}
		if set.kinds[anywhere].has(token) {
			met = inside
		}
	}
	return met
}

// intersect offers the documents that have every word in a code or at the start
// of a word.
func (f *finder) intersect(sets []termSet) {
	for i := range sets {
		f.one = f.one.sized(f.seg.size())
		f.docBits(f.one, &sets[i], atStart)
		if i == 0 {
			f.all, f.one = f.one, f.all
		} else {
			f.all.intersect(f.one)
		}
	}
	for w, word := range f.all {
		for ; word != 0; word &= word - 1 {
			doc := uint32(w*64 + bits.TrailingZeros64(word))
			if doc >= f.best.bound() {
				return
			}
			f.best.offer(doc)
		}
	}
}
