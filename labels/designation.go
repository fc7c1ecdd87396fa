package labels

import (
	"strings"

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
	lines []string
	size  float64
	cut   bool // the name was shortened
}

func (n fittedName) height() float64 {
	if len(n.lines) == 0 {
		return 0
	}
	return n.size * (capHeight + nameLeading*float64(len(n.lines)-1))
}

// nameLeading is the distance of two lines of a name in parts of the em.
const nameLeading = 0.95

// nameRoom is the room for a name and how far its type may shrink.
type nameRoom struct {
	width, height float64
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
	one := fittedName{lines: []string{name}, size: min(s.largest(f, room.max, room.width, name), room.height/capHeight)}
	if one.size >= room.floor {
		return one
	}
	best := one
	tall := room.height / (capHeight + nameLeading)
	for _, at := range nameBreaks(name) {
		first, second := strings.TrimRight(name[:at], " "), name[at:]
		if size := s.largest(f, min(room.max, tall), room.width, first, second); size > best.size {
			best = fittedName{lines: []string{first, second}, size: size}
		}
	}
	if best.size >= room.hard {
		return best
	}
	best.size = min(room.hard, room.height/capHeight)
	best.lines, best.cut = s.wrap(f, best.size, name, room.width, max(1, int((room.height/best.size-capHeight)/nameLeading)+1))
	return best
}
