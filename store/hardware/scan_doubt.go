package hardware

import (
	"bytes"
	"strings"
)

// What can be read in two ways is refused with both readings named: the person
// who has the drawing decides.

// bracketed refuses a number behind which letters stand in brackets, AN3-5(A):
// they are part of it, or a note.
func (sc *scanner) bracketed(p *piece, rest []byte) *refusal {
	rest = rest[skipSeparators(rest, 0):]
	if len(rest) < 3 {
		return nil
	}
	end := run(rest, 1, upper)
	if rest[0] != '(' || end == 1 || end > 3 || end == len(rest) || rest[end] != ')' || markWords[string(rest[1:end])] {
		return nil
	}
	without := append(append(append([]byte{}, sc.s[:sc.at]...), rest[1:end]...), rest[end+1:]...)
	again := scanner{s: without, at: sc.from}
	with, wrong := again.piece(p.s)
	if wrong != nil {
		return nil
	}
	return &refusal{
		s: p.s, nearest: []string{with.canonical(), p.canonical()},
		problem: quote(rest[:end+1]) + " may be part of the number or a note: write " + with.canonical() + " or " + p.canonical(),
	}
}

// looseHalf refuses ".5" or "1/2" that stands apart behind a rivet, and a half
// with a decimal comma: it may be the half of its length. With a unit behind it,
// it says how much.
func (sc *scanner) looseHalf(p *piece, rest []byte) *refusal {
	rest = rest[skipSeparators(rest, 0):]
	mark := len(".5")
	if bytes.HasPrefix(rest, []byte("1/2")) {
		mark = len("1/2")
	} else if !bytes.HasPrefix(rest, []byte(".5")) && !bytes.HasPrefix(rest, []byte(",5")) {
		return nil
	}
	if p.nums[1] == nil || len(rest) > mark && alphanumeric(rest[mark]) || unitFollows(rest[mark:]) {
		return nil
	}
	half := p.s.nums[1].index[p.nums[1].text+".5"]
	if half == nil {
		return nil
	}
	with := *p
	with.nums[1] = half
	return &refusal{
		s: p.s, nearest: []string{with.canonical(), p.canonical()},
		problem: quote(rest) + " may be half a length more or a note: write " + with.canonical() + " or " + p.canonical(),
	}
}

// unitWords are the units that hardware is bought in.
var unitWords = words("LB", "LBS", "OZ", "G", "KG", "FT", "IN")

// unitFollows says that the next word is a unit.
func unitFollows(rest []byte) bool {
	i := skipSeparators(rest, 0)
	return unitWords[string(rest[i:run(rest, i, upper)])]
}

// crossed refuses a length behind an X, AN470AD4x5: it may as well be a count.
func (sc *scanner) crossed(p *piece, slot, front int) *refusal {
	i := skipSeparators(sc.s, sc.at)
	d := skipSeparators(sc.s, front)
	end := run(sc.s, d, digit)
	if slot == 0 || string(sc.s[i:front]) != "X" || end == d {
		return nil
	}
	c := p.s.nums[slot].index[string(sc.s[d:end])]
	if c == nil {
		return nil
	}
	meant := *p
	meant.nums[slot] = c
	if p.s.slots[slot].choices != nil && p.s.slots[slot].choices[0].required && p.let[slot][0] == nil {
		return nil
	}
	return &refusal{
		s: p.s, nearest: []string{meant.canonical()},
		problem: p.canonical() + " needs its second number, and " + quote(sc.s[i:end]) + " may be that or how many: if " + meant.canonical() + " is meant, write the dash",
	}
}

// redashed lists the numbers that are meant if a dash was left out of the digits,
// AN470AD45, or one was put in, MS27039-08-06. None of them is taken unasked.
func (sc *scanner) redashed(p *piece, slot int, key string) []string {
	table := p.s.nums[slot]
	var out []string
	if slot == 0 && p.s.nums[1] != nil && !p.s.required(1) {
		out = p.cut(key)
	}
	if half := table.index[strings.TrimSuffix(key, "5")+".5"]; slot == 1 && half != nil {
		q := *p
		q.nums[1] = half
		out = append(out, q.canonical())
	}
	i := sc.at
	if i+1 >= len(sc.s) || sc.s[i] != '-' || !digit(sc.s[i+1]) {
		return out
	}
	end := run(sc.s, i+1, digit)
	if whole := table.index[key+string(sc.s[i+1:end])]; whole != nil {
		behind, q := scanner{s: sc.s, at: end}, *p
		if q.nums[slot] = whole; behind.letters(&q, slot+1) == nil {
			out = append(out, q.canonical())
		}
	}
	return out
}

// cut lists the pieces that digits are of when a dash is put between them.
func (p *piece) cut(key string) []string {
	var out []string
	for at := len(key) - 1; at > len(frontLetters(key)); at-- {
		q := *p
		q.nums[0], q.nums[1] = p.s.nums[0].index[key[:at]], p.s.nums[1].index[key[at:]]
		if q.nums[0] != nil && q.nums[1] != nil && !q.nums[0].alone {
			out = append(out, q.canonical())
		}
	}
	return out
}

// required says that a letter must stand in the slot.
func (s *series) required(slot int) bool {
	for i := range s.slots[slot].choices {
		if s.slots[slot].choices[i].required {
			return true
		}
	}
	return false
}
