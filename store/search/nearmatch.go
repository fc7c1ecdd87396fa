package search

// nearMatcher tells whether a text has, within it, a word with at most one
// typing error. It follows all ways to match at once, one bit for each length
// of the word's start that the text read so far ends with (the shift-and
// method of Wu and Manber, 1992, with the exchange of neighbours added).
type nearMatcher struct {
	masks [256]uint64 // by byte, where in the word it stands
	word  string
}

// reset makes the matcher look for word, of 2 to 64 bytes.
func (m *nearMatcher) reset(word string) {
	for i := range len(m.word) {
		m.masks[m.word[i]] = 0
	}
	m.word = word
	for i := range len(word) {
		m.masks[word[i]] |= 1 << i
	}
}

// inside says whether any of the texts, each ended by a zero byte, has the word.
func (m *nearMatcher) inside(texts string) bool {
	const begun = 1 // the first character may be left out
	last := uint64(1) << (len(m.word) - 1)
	exact, before, near := uint64(0), uint64(0), uint64(begun)
	previous := byte(0)
	for i := range len(texts) {
		c := texts[i]
		if c == 0 {
			exact, before, near, previous = 0, 0, begun, 0
			continue
		}
		next := (exact<<1 | 1) & m.masks[c]
		swapped := ((before<<1 | 1) & m.masks[c]) << 1 & m.masks[previous]
		near = (near<<1|1)&m.masks[c] | exact | exact<<1 | 1 | next<<1 | swapped
		exact, before, previous = next, exact, c
		if near&last != 0 {
			return true
		}
	}
	return false
}
