package labels

import (
	"math"
	"strings"
	"unicode"

	"stowright/assets/fonts"
)

// nameBreaks lists the byte offsets where a name may go on in a second line. In
// words that is after a space. A designation is broken only after its prefix,
// the letters and digits that it begins with ("AN470|AD4-7", "MS24665|-132");
// one whose prefix is letters alone, or that has several groups, before a dash
// ("OQ-10|-031|-L"). Inside a dash group it is never broken.
func nameBreaks(name string) []int {
	var at []int
	if strings.Contains(name, " ") {
		for i := range name {
			if i > 0 && name[i] == ' ' {
				at = append(at, i+1)
			}
		}
		return at
	}
	prefix := prefixLen(name)
	if prefix > 0 && prefix < len(name) {
		at = append(at, prefix)
	}
	if strings.Count(name, "-") < 2 && prefix > 0 {
		return at
	}
	for i := 1; i < len(name); i++ {
		if name[i] == '-' && i != prefix && i > prefix {
			at = append(at, i)
		}
	}
	return at
}

// prefixLen is the length of the capital letters and digits at the start of a
// designation, up to where letters or a dash follow the digits; 0 if it does not
// begin so.
func prefixLen(name string) int {
	i := 0
	for i < len(name) && name[i] >= 'A' && name[i] <= 'Z' {
		i++
	}
	letters := i
	for i < len(name) && name[i] >= '0' && name[i] <= '9' {
		i++
	}
	if letters == 0 || i == letters {
		return 0
	}
	return i
}

// fittedName is a name set in one line or two.
type fittedName struct {
	lines   []string
	size    float64
	leading float64 // from line to line, in parts of the em
	tail    float64 // below the last baseline, in parts of the em
	cut     bool    // the name was shortened
}

func (n fittedName) height() float64 {
	if len(n.lines) == 0 {
		return 0
	}
	return n.size * (capHeight + n.tail + n.leading*float64(len(n.lines)-1))
}

// rise is how high accents and tall letters go above the capitals of the first line.
func (n fittedName) rise() float64 {
	if n.tail == 0 {
		return 0
	}
	return n.size * (ascent - capHeight)
}

// baseline is that of a line, below the top of the capitals of the first one.
func (n fittedName) baseline(line int) float64 { return n.size * (capHeight + n.leading*float64(line)) }

// nameSpacing is the distance of two lines of a name and how deep the last one goes below
// its baseline, in parts of the em: a designation has nothing above its capitals and below
// its baseline, words have.
func nameSpacing(name string) (leading, tail float64) {
	for _, r := range name {
		if r > 0x7F || unicode.IsLower(r) || strings.ContainsRune(",;()[]{}_|", r) {
			return ascent + wordTail, wordTail
		}
	}
	return 0.88, 0
}

// wordTail is how deep the tail of a letter goes, in parts of the em.
const wordTail = 0.2

// nameRoom is the room for a name and how far its type may shrink.
type nameRoom struct {
	width, height float64
	above         float64 // white above it, for the accents of the first line
	max           float64 // size of the em when there is room enough
	floor         float64 // below this size a second line is better
	hard          float64 // least size; smaller type cannot be read in a shop
}

// fitName sets a name as large as the room allows: one line down to the floor,
// then two lines broken where a designation may be, then one or two lines down
// to the hard floor, then shortened with an ellipsis.
func (s *setter) fitName(f fonts.Face, name string, room nameRoom) fittedName {
	if name == "" {
		return fittedName{}
	}
	lead, tail := nameSpacing(name)
	// high is the greatest size of so many lines, accents and tails within the room.
	high := func(lines int) float64 {
		below := tail + lead*float64(lines-1)
		return min(room.max, room.height/(capHeight+below), (room.height+room.above)/(ascent+below))
	}
	one := fittedName{leading: lead, tail: tail, lines: []string{name}, size: s.largest(f, high(1), room.width, name)}
	if one.size >= room.floor {
		return one
	}
	best := one
	widest := 0.0
	for _, at := range nameBreaks(name) {
		first, second := strings.TrimRight(name[:at], " "), name[at:]
		size, wide := s.largest(f, high(2), room.width, first, second), s.largest(f, math.Inf(1), room.width, first, second)
		if size > best.size || size == best.size && wide > widest { // of breaks that are as good, the more even one
			widest = wide
			best = fittedName{leading: lead, tail: tail, lines: []string{first, second}, size: size}
		}
	}
	if best.size >= room.hard {
		return best
	}
	best.size = min(room.hard, room.height/(capHeight+tail))
	best.lines, best.cut = s.wrap(f, best.size, name, room.width, max(1, int((room.height/best.size-capHeight-tail)/lead)+1))
	return best
}
