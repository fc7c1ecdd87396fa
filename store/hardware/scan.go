package hardware

import (
	"bytes"
	"strconv"
	"strings"
)

// scanner reads the letters and numbers behind the standard number.
type scanner struct {
	s    []byte
	at   int
	from int // where the letters and numbers begin
}

func (sc *scanner) piece(s *series) (piece, *refusal) {
	p := piece{s: s}
	if s.free {
		return sc.free(s)
	}
	sc.from = sc.at
	sc.revision(s)
	if !s.whole {
		if no := sc.parts(&p); no != nil {
			return piece{}, no
		}
	}
	if rest := sc.s[sc.at:]; len(rest) > 0 {
		if no := sc.bracketed(&p, rest); no != nil {
			return piece{}, no
		}
		if no := sc.looseHalf(&p, rest); no != nil {
			return piece{}, no
		}
		if !sc.tail(rest) {
			return piece{}, &refusal{s: s, problem: "the tables here have no " + quote(rest) + " behind " + p.canonical(), nearest: []string{p.canonical()}}
		}
	}
	return p, nil
}

// revision passes the letter of the revision of a standard, AS568A, which is no
// part of the number.
func (sc *scanner) revision(s *series) {
	if at := sc.at; s.revised && at+1 < len(sc.s) && upper(sc.s[at]) && !upper(sc.s[at+1]) {
		sc.at++
	}
}

// parts reads letters and numbers in turn.
func (sc *scanner) parts(p *piece) *refusal {
	s := p.s
	for i := range s.slots {
		if i > 0 && p.nums[i-1] == nil {
			break
		}
		// Where the second number may be left out, the letters stand behind
		// whichever number is the last.
		second := i == 1 && s.optional && sc.numberAhead()
		if !second {
			if no := sc.letters(p, i); no != nil {
				return no
			}
		}
		if i == 1 && s.optional && !second {
			break
		}
		if no := sc.numberOf(p, i); no != nil {
			return no
		}
	}
	return nil
}

// numberOf reads the number of a slot where the series has one there.
func (sc *scanner) numberOf(p *piece, slot int) *refusal {
	if slot >= len(p.s.nums) || p.s.nums[slot] == nil || slot > 0 && p.nums[0].alone {
		return nil
	}
	return sc.number(p, slot)
}

// numberAhead says that a dash and another number follow.
func (sc *scanner) numberAhead() bool {
	i := skipSeparators(sc.s, sc.at)
	return i > sc.at && i < len(sc.s) && digit(sc.s[i])
}

// free keeps what is written behind the number of a series whose numbers the
// tables do not explain: letters, digits and the dashes between digits.
func (sc *scanner) free(s *series) (piece, *refusal) {
	var raw [20]byte
	b, digits := raw[:0], false
	i := skipSeparators(sc.s, sc.at)
	for i < len(sc.s) && len(b) < len(raw) && (alphanumeric(sc.s[i]) || sc.s[i] == '-') {
		if sc.s[i] == '-' && (len(b) == 0 || !digit(b[len(b)-1]) || i+1 >= len(sc.s) || !digit(sc.s[i+1])) {
			i++
			continue
		}
		digits = digits || digit(sc.s[i])
		b = append(b, sc.s[i])
		i++
	}
	p := piece{s: s, raw: string(b)}
	switch {
	case !digits:
		return piece{}, &refusal{s: s, problem: s.name + " needs the number behind it: the tables here know the series only by name"}
	case i < len(sc.s) && !sc.tail(sc.s[i:]):
		return piece{}, &refusal{s: s, problem: "the tables here have no " + quote(sc.s[i:]) + " behind " + p.canonical(), nearest: []string{p.canonical()}}
	}
	return p, nil
}

// tail says that what is left over only tells how many or which bag.
func (sc *scanner) tail(rest []byte) bool {
	last := sc.s[len(sc.s)-len(rest)-1]
	return !goesOn(rest) && !fraction(last, rest) && marks(string(rest), wordsBehind)
}

// goesOn says that what is left over may be more of the number. AN3-5X and AN3-5 X
// may be another piece; only "x 24" is a count.
func goesOn(rest []byte) bool {
	if i := skipSeparators(rest, 0); i < len(rest) && rest[i] == 'X' && (i == 0 || i+1 == len(rest) || !upper(rest[i+1])) {
		return !numberBehind(rest[i+1:])
	}
	if rest[0] == '.' || rest[0] == '-' {
		return len(rest) > 1 && alphanumeric(rest[1])
	}
	return alphanumeric(rest[0])
}

// fraction says that a slash, or a comma between digits, goes on with a number:
// AN4-7/8, AN3-5,6 are a fraction or two sizes.
func fraction(last byte, rest []byte) bool {
	return len(rest) > 1 && digit(rest[1]) && (rest[0] == '/' || rest[0] == ',' && digit(last))
}

// numberBehind says that a number stands next.
func numberBehind(rest []byte) bool {
	i := skipSeparators(rest, 0)
	return i < len(rest) && (digit(rest[i]) || rest[i] == '.')
}

// letters reads the letters of a slot. Letters that it does not know are left
// for the number behind them ("C32" of lockwire) or the tail.
func (sc *scanner) letters(p *piece, slot int) *refusal {
	choices := p.s.slots[slot].choices
	for {
		i := skipSeparators(sc.s, sc.at)
		end := run(sc.s, i, upper)
		if i == end {
			break
		}
		k, l := match(choices, &p.let[slot], sc.s[i:end])
		if l == nil {
			break
		}
		// A word that only begins with a known letter is not that letter.
		if left := sc.s[i+len(l.text) : end]; i > sc.at && sc.s[i-1] == ' ' && len(left) > 0 && !sc.codeFollows(end) {
			break
		}
		p.let[slot][k] = l
		sc.at = i + len(l.text)
	}
	for k := range choices {
		if p.let[slot][k] != nil {
			continue
		}
		if choices[k].required {
			return sc.missing(p, slot, &choices[k])
		}
		p.let[slot][k] = choices[k].absent
	}
	return nil
}

// codeFollows says that a number stands behind, so that letters belong to it.
func (sc *scanner) codeFollows(end int) bool {
	i := skipSeparators(sc.s, end)
	return i < len(sc.s) && digit(sc.s[i])
}

// match finds the longest letter that text begins with among the choices that
// are still open.
func match(choices []choice, taken *[2]*letter, text []byte) (int, *letter) {
	best, at := (*letter)(nil), 0
	for k := range choices {
		if taken[k] != nil {
			continue
		}
		for _, l := range choices[k].letters {
			if len(l.text) <= len(text) && string(text[:len(l.text)]) == l.text && (best == nil || len(l.text) > len(best.text)) {
				best, at = l, k
			}
		}
	}
	return at, best
}

func (sc *scanner) missing(p *piece, slot int, c *choice) *refusal {
	known := make([]string, len(c.letters))
	for i, l := range c.letters {
		known[i] = l.text
	}
	where := "after " + p.s.name
	if slot > 0 && p.nums[slot-1] != nil {
		where = "after the " + p.nums[slot-1].text
	}
	return &refusal{s: p.s, problem: p.s.name + " needs its " + c.name + " letter " + where + ": " + orList(known)}
}

// number reads the number of a slot: digits, with letters in front or one
// behind where the table writes them so, and a half written .5 or -5.
func (sc *scanner) number(p *piece, slot int) *refusal {
	table := p.s.nums[slot]
	i := skipSeparators(sc.s, sc.at)
	front := run(sc.s, i, upper)
	d := front
	if front > i {
		d = skipSeparators(sc.s, front)
	}
	end := run(sc.s, d, digit)
	if d == end || front-i > 3 || end-d > 6 {
		return sc.noNumber(p, slot)
	}
	var buf [24]byte
	key := append(append(buf[:0], sc.s[i:front]...), sc.s[d:end]...)
	if c, behind := sc.longer(table, key, end); c != nil {
		p.nums[slot], sc.at = c, behind
		return nil
	}
	if c := table.index[string(key)]; c != nil {
		p.nums[slot], sc.at = c, end
		return nil
	}
	if table.open && front == i && end-d <= 4 {
		p.nums[slot], sc.at = table.openCode(string(key)), end
		return nil
	}
	if c := sc.loosely(p, slot, key, [2]int{front - i, end}); c != nil {
		p.nums[slot], sc.at = c, end
		return nil
	}
	if c, behind := sc.joined(p, slot, key, end); c != nil {
		p.nums[slot], sc.at = c, behind
		return nil
	}
	if no := sc.crossed(p, slot, front); no != nil {
		return no
	}
	if end < len(sc.s) && sc.s[end] == '.' {
		point := end
		end = min(run(sc.s, end+1, digit), end+4)
		key = append(key, sc.s[point:end]...)
	}
	sc.at = end
	return sc.noSuch(p, slot, string(key))
}

// loosely finds a number whose letters stand on the wrong side of it (AN816D6
// for AN816-6D) or that begins with a nought it does not need (AN3-05A). A
// nought is part of the number in the nut series, so only bolts and rivets do
// without theirs.
func (sc *scanner) loosely(p *piece, slot int, key []byte, at [2]int) *code {
	table, letters := p.s.nums[slot], at[0]
	if letters > 0 {
		if p.s.kind != Fitting && len(p.s.slots[0].choices) > 0 {
			return nil // AN365C1032 is not AN365-1032C: the place of the C decides
		}
		c, to := table.index[string(key[letters:])], slot+1
		if behind := (scanner{s: sc.s, at: at[1]}); p.s.optional && behind.numberAhead() {
			to++
		}
		k, l := match(p.s.slots[to].choices, &p.let[to], key[:letters])
		if c == nil || l == nil || len(l.text) != letters {
			return nil
		}
		p.let[to][k] = l
		return c
	}
	if p.s.kind == Bolt || p.s.kind == Rivet {
		return table.index[string(bytes.TrimLeft(key, "0"))]
	}
	return nil
}

// joined finds a number that was written as a thread: 10-32 for 1032.
func (sc *scanner) joined(p *piece, slot int, key []byte, end int) (found *code, behind int) {
	if p.s.nums[1] != nil || end+1 >= len(sc.s) || sc.s[end] != '-' || !digit(sc.s[end+1]) {
		return nil, 0
	}
	behind = run(sc.s, end+1, digit)
	if behind-end > 4 {
		return nil, 0
	}
	thread := string(key) + "-" + string(sc.s[end+1:behind])
	c := p.s.nums[slot].index[string(append(key, sc.s[end+1:behind]...))]
	if c == nil || c.words != thread {
		return nil, 0 // a dash is crossed only where it is that of a thread's name
	}
	return c, behind
}

// longer finds a number of the table that goes on behind its digits: with one
// letter ("10L") or with a half ("3.5", also
// written 3-5 and 3-1/2).
func (sc *scanner) longer(table *codes, key []byte, end int) (found *code, behind int) {
	if end >= len(sc.s) {
		return nil, 0
	}
	if i := skipSeparators(sc.s, end); i < len(sc.s) && upper(sc.s[i]) && (i+1 == len(sc.s) || !upper(sc.s[i+1])) {
		return table.index[string(append(key, sc.s[i]))], i + 1
	}
	if behind := end + halfMark(sc.s[end:]); behind > end {
		return table.index[string(append(key, '.', '5'))], behind
	}
	return nil, 0
}

// halfMark is how many characters at the front of what follows a number write
// a half: ".5", "-5" or "-1/2" with nothing behind them; 0 for none.
func halfMark(rest []byte) int {
	for _, mark := range [...]string{".5", "-5", "-1/2", " 1/2"} {
		n := len(mark)
		if len(rest) < n || string(rest[:n]) != mark || len(rest) > n && alphanumeric(rest[n]) {
			continue
		}
		if mark[0] != ' ' || !unitFollows(rest[n:]) {
			return n // in "1/2 lb" it says how much
		}
	}
	return 0
}

func (sc *scanner) noNumber(p *piece, slot int) *refusal {
	list := p.s.nums[slot].list
	no := &refusal{s: p.s}
	if len(list) == 0 {
		no.problem = p.s.name + " needs a number behind it; it is a " + p.s.says() + ", and the tables here have none of its numbers"
		return no
	}
	no.nearest = p.with(slot, list[:1], list[len(list)-1:])
	if slot == 0 {
		no.problem = p.s.name + " needs a dash number: " + no.nearest[0] + " to " + no.nearest[len(no.nearest)-1] + " are in the tables here; it is a " + p.s.says()
	} else {
		no.problem = p.canonical() + " needs its second number: " + no.nearest[0] + " to " + no.nearest[len(no.nearest)-1]
	}
	return no
}

// says is what the series is without its number: "clevis bolt, slotted domed
// head for shear only, 10-32".
func (s *series) says() string {
	return joined(", ", strings.ToLower(s.noun), s.style, s.size)
}

// noSuch refuses a number that the table does not hold and names its
// neighbours, with the letters that were written behind it.
func (sc *scanner) noSuch(p *piece, slot int, text string) *refusal {
	table := p.s.nums[slot]
	asked := *p
	asked.nums[slot] = &code{text: text}
	if sc.letters(&asked, slot+1) != nil {
		asked.let[slot+1] = [2]*letter{}
	}
	no := &refusal{s: p.s, nearest: asked.with(slot, table.near(text))}
	no.problem = asked.canonical() + table.lacks(text, p.s)
	if meant := sc.redashed(p, slot, text); len(meant) > 0 {
		no.problem += "; if " + orList(meant) + " is meant, write it so"
		no.nearest = meant
		return no
	}
	switch len(no.nearest) {
	case 0:
	case 1:
		no.problem += "; the nearest is " + no.nearest[0]
	default:
		no.problem += "; the nearest are " + strings.Join(no.nearest, " and ")
	}
	return no
}

// lacks says what it means that the table has no such number. That a number
// does not exist is said only where a source lists the numbers and its rule
// leaves this one out.
func (cs *codes) lacks(text string, s *series) string {
	dash, err := strconv.Atoi(text)
	n, ok := eighths(dash)
	switch {
	case cs.eighths && err == nil && (!ok || n < shortestDash) && cs.listed:
		return " does not exist: " + s.rule
	case cs.eighths && err == nil && (!ok || n < shortestDash):
		return " cannot be read: " + s.rule
	case cs.listed && leadingNumber(text) < cs.list[0].value:
		return " is not in the published table, which begins with " + s.name + "-" + cs.list[0].text
	}
	return " is not in the tables here"
}

// with writes the piece with each of the codes in turn, the numbers behind them
// filled with the first that there is.
func (p *piece) with(slot int, lists ...[]*code) []string {
	var out []string
	for _, list := range lists {
		for _, c := range list {
			q := *p
			q.nums[slot] = c
			s := q.canonical()
			if len(out) == 0 || out[len(out)-1] != s {
				out = append(out, s)
			}
		}
	}
	return out
}

func quote(b []byte) string { return "\"" + strings.TrimSpace(string(b)) + "\"" }

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}
