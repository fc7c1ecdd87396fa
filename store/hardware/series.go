package hardware

import (
	"cmp"
	"slices"

	"stowright/store/measure"
)

// series is one standard number with the grammar and the figures of it.
type series struct {
	name   string // "AN3"
	kind   Kind
	family string // "AN3 to AN20: hex head"
	noun   string // "Bolt"
	style  string // "hex head"
	look   string // what it looks like at a glance: only pieces of one look are confused
	tell   string // what tells it from others of its look: "thin, for shear"
	size   string // said in titles: "10-32"; "" where a number tells it
	first  []Field
	last   []Field
	slots  [3]slot   // letters before, between and after the numbers
	nums   [2]*codes // nil where the grammar has no such number
	// alike is the numbers of all series by look and size; nil where the size of
	// this one is not shared.
	alike  map[looks][]other
	rule   string // how its numbers count, for a problem sentence
	counts string // the same briefly: "eighths"

	// free series are known by name only: what follows the number is kept as
	// it is written and not understood.
	revised bool // the letter of its revision may stand behind the standard number
	whole   bool // the standard number is the piece: nothing follows it
	free    bool
	// optional says that the second number may be left out.
	optional bool
	noDash   bool // a number that begins with a letter follows without a dash

	successor   *Successor // of the whole series; Designation holds the new series
	sameNumbers bool       // the new series counts the same way
	joined      bool       // the number follows Designation as it stands
	cautions    []caution
	src         cite
	credits     []credit // counts of sources that are not its own
	// unlisted is the fact that goes with its numbers by rule.
	unlisted Field
}

// caution is what must be said of a series, or of one number or letter of it.
type caution struct {
	number, letter string // "" for any
	text           string // with its source
}

// slot is the letters that may stand in one position: one of each choice.
type slot struct{ choices []choice }

type choice struct {
	name     string
	letters  []*letter // longest first
	absent   *letter   // what it means when none is written; nil: nothing
	required bool
}

type letter struct {
	text      string
	title     string // words for the title
	fields    []Field
	keepsDash bool // the dash stays in front of the number: AN5H-27A
	// size is the thread that the letter gives in place of the series' own; its
	// fields then stand for those of the series of the same name.
	size string
}

// codes is the numbers that may stand in one position, in ascending order.
type codes struct {
	list  []*code
	index map[string]*code
	// eighths numbers end in 0 to 7: 8, 9, 18 and 19 are none. Other numbers that
	// a table lacks may well be made.
	eighths bool
	// listed says that a source lists the numbers, at least from the first on.
	listed bool
	// open tables take any number; unknown is what is said of it.
	open    bool
	unknown []Field
}

type code struct {
	text    string
	words   string // for titles: "grip 1/4"
	value   int    // for order and for what is near
	fields  []Field
	alone   bool           // no second number follows
	nominal measure.Length // where only a nominal length is known
	warning string
	// byRule numbers are read by how their series counts; no source here lists
	// which of them are made, so that is neither claimed nor denied.
	byRule bool
	at     int // place in its list
	// compared are the lengths that tell look-alikes apart, by place in compared.
	compared [4]measure.Length
	// successors of this number alone, by the letters in front of it.
	successors map[string]*Successor
}

// field is the fact of that name, nil where the number has none.
func (c *code) field(name string) *Field {
	for i := range c.fields {
		if c.fields[i].Name == name {
			return &c.fields[i]
		}
	}
	return nil
}

// other is a number of another series.
type other struct {
	s *series
	c *code
}

// looks is what a piece looks like and its size in words.
type looks struct{ look, size string }

func newCodes() *codes { return codesFor(0) }

// codesFor makes a table for about so many numbers.
func codesFor(n int) *codes {
	return &codes{list: make([]*code, 0, n), index: make(map[string]*code, n)}
}

// add puts a code in; a second one of the same text is dropped.
func (cs *codes) add(c *code) *code {
	if old, ok := cs.index[c.text]; ok {
		return old
	}
	c.value = leadingNumber(c.text)
	cs.list = append(cs.list, c)
	cs.index[c.text] = c
	return c
}

// alias makes another writing of a code known.
func (cs *codes) alias(text string, c *code) {
	if _, ok := cs.index[text]; !ok {
		cs.index[text] = c
	}
}

// sorted orders the codes by their letters in front, then by number.
func (cs *codes) sorted() *codes {
	slices.SortStableFunc(cs.list, func(a, b *code) int {
		return cmp.Or(cmp.Compare(frontLetters(a.text), frontLetters(b.text)), cmp.Compare(a.value, b.value), cmp.Compare(a.text, b.text))
	})
	return cs
}

// near returns the codes on both sides of a number that is not there.
func (cs *codes) near(text string) []*code {
	front, value := frontLetters(text), leadingNumber(text)
	var below, above *code
	for _, c := range cs.list {
		if frontLetters(c.text) != front {
			continue
		}
		if c.value <= value {
			below = c
		} else if above == nil {
			above = c
		}
	}
	var out []*code
	for _, c := range []*code{below, above} {
		if c != nil {
			out = append(out, c)
		}
	}
	if out == nil && len(cs.list) > 0 {
		out = []*code{cs.list[0], cs.list[len(cs.list)-1]}
	}
	return out
}

// position is where a code stands in the list, -1 when it is not in it.
func (cs *codes) position(c *code) int {
	for i := range cs.list {
		if cs.list[i] == c {
			return i
		}
	}
	return -1
}

// frontLetters is the capitals that a code begins with.
func frontLetters(s string) string {
	i := 0
	for i < len(s) && upper(s[i]) {
		i++
	}
	return s[:i]
}

// leadingNumber is the number at the front of a code, in tenths so that half
// sizes have their place.
func leadingNumber(s string) int {
	n := 0
	s = s[len(frontLetters(s)):]
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' && n < 1e8 {
		n = n*10 + int(s[i]-'0')
		i++
	}
	n *= 10
	if s[i:] == ".5" {
		n += 5
	}
	return n
}

// piece is a designation taken apart: which letters and numbers of the series
// it carries.
type piece struct {
	s    *series
	let  [3][2]*letter // by slot and choice; nil where nothing is written or meant
	nums [2]*code
	raw  string // what follows a free series
}

// with2 is the piece with a second number. Where that may be left out, the
// letters between the numbers stand behind it.
func (p piece) with2(second *code) piece {
	p.nums[1] = second
	if p.s.optional {
		p.let[1], p.let[2] = [2]*letter{}, p.let[1]
	}
	return p
}

// canonical is the one way the designation is written here.
func (p *piece) canonical() string {
	var buf [48]byte
	return string(p.appendCanonical(buf[:0], p.s.name))
}

func (p *piece) appendCanonical(b []byte, name string) []byte {
	b = append(b, name...)
	if p.raw != "" {
		if digit(p.raw[0]) {
			b = append(b, '-')
		}
		return append(b, p.raw...)
	}
	b, _ = p.appendLetters(b, 0)
	if p.nums[0] == nil {
		return b
	}
	if p.dashed() {
		b = append(b, '-')
	}
	b = append(b, p.nums[0].text...)
	b, bare := p.appendLetters(b, 1)
	if p.nums[1] == nil {
		return b
	}
	if bare {
		b = append(b, '-')
	}
	b = append(b, p.nums[1].text...)
	b, _ = p.appendLetters(b, 2)
	return b
}

// appendLetters writes the letters of a slot and says whether there were none.
func (p *piece) appendLetters(b []byte, slot int) ([]byte, bool) {
	n := len(b)
	for _, l := range p.let[slot] {
		if l != nil {
			b = append(b, l.text...)
		}
	}
	return b, len(b) == n
}

// dashed says that a dash stands in front of the first number: where no letter
// takes its place.
func (p *piece) dashed() bool {
	for i := range p.s.slots[0].choices {
		l := p.let[0][i]
		if p.s.slots[0].choices[i].required || l != nil && l.text != "" && !l.keepsDash {
			return false
		}
	}
	return !p.s.noDash || digit(p.nums[0].text[0])
}
