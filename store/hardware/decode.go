package hardware

import (
	"strings"
)

// refusal says why a text that begins like a designation is none.
type refusal struct {
	s       *series
	problem string
	nearest []string
}

// Decode says what a designation means. Text that does not begin like one is
// answered with Known false and no Problem.
func (c *Catalog) Decode(text string) Result {
	p, no := c.parse(text)
	if no == nil && p.s == nil {
		return Result{Input: text}
	}
	if no != nil {
		r := Result{Input: text, Problem: no.problem, Nearest: no.nearest}
		if no.s != nil {
			r.Kind, r.Family = no.s.kind, no.s.family
		}
		return r
	}
	r := p.result()
	r.Input = text
	r.LookAlikes = c.lookAlikes(&p)
	return r
}

// Canonical is the one way to write the designation, and whether the tables
// hold it.
func (c *Catalog) Canonical(text string) (string, bool) {
	p, no := c.parse(text)
	if no != nil || p.s == nil {
		return "", false
	}
	return p.canonical(), true
}

// parse takes a text apart. A piece without a series and no refusal means that
// the text is not hardware.
func (c *Catalog) parse(text string) (piece, *refusal) {
	var buf [2 * maxText]byte
	if len(text) > maxText {
		return piece{}, &refusal{problem: "longer than 64 characters: give the designation alone, such as AN3-5A"}
	}
	s, ok := normal(buf[:0], text)
	if !ok {
		return piece{}, nil
	}
	prefix, at, ok := start(s)
	if !ok {
		return piece{}, nil
	}
	end := run(s, at, digit)
	if sr := c.lookup(prefix, s[at:end]); sr != nil {
		sc := scanner{s: s, at: end}
		return sc.piece(sr)
	}
	return c.split(s, prefix, at, end)
}

func (c *Catalog) lookup(prefix string, number []byte) *series {
	var key [16]byte
	if len(number) > 8 {
		return nil
	}
	return c.series[string(append(append(key[:0], prefix...), number...))]
}

// split reads a designation whose dash was left out: AN365 1032 written
// AN3651032. It is taken only when there is one way to read it.
func (c *Catalog) split(s []byte, prefix string, at, end int) (piece, *refusal) {
	var found []piece
	var refused *refusal
	for cut := end - 1; cut > at; cut-- {
		sr := c.lookup(prefix, s[at:cut])
		if sr == nil {
			continue
		}
		sc := scanner{s: s, at: cut}
		p, no := sc.piece(sr)
		if no == nil {
			found = append(found, p)
		} else if refused == nil {
			refused = no
		}
	}
	name := prefix + string(s[at:end])
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(found) > 1:
		no := &refusal{}
		for i := range found {
			no.nearest = append(no.nearest, found[i].canonical())
		}
		no.problem = name + " can be read as " + orList(no.nearest) + ": write the dash"
		return piece{}, no
	case refused != nil && (end == len(s) || s[end] != '-'):
		return piece{}, refused
	}
	return piece{}, &refusal{problem: name + " is not a series in the tables here: check the number against the plans"}
}

// scanner reads the letters and numbers behind the standard number.
type scanner struct {
	s  []byte
	at int
}

func (sc *scanner) piece(s *series) (piece, *refusal) {
	p := piece{s: s}
	if s.free {
		return sc.free(s)
	}
	for i := range s.slots {
		if i > 0 && p.nums[i-1] == nil {
			break
		}
		if no := sc.letters(&p, i); no != nil {
			return piece{}, no
		}
		if i < len(s.nums) && s.nums[i] != nil && (i == 0 || !p.nums[0].alone) {
			if no := sc.number(&p, i); no != nil {
				return piece{}, no
			}
		}
	}
	if rest := sc.s[sc.at:]; len(rest) > 0 && !sc.tail(rest) {
		return piece{}, &refusal{s: s, problem: quote(rest) + " does not belong behind " + p.canonical(), nearest: []string{p.canonical()}}
	}
	return p, nil
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
		return piece{}, &refusal{s: s, problem: quote(sc.s[i:]) + " does not belong behind " + p.canonical(), nearest: []string{p.canonical()}}
	}
	return p, nil
}

// tail says that what is left over only tells how many or which bag.
func (sc *scanner) tail(rest []byte) bool {
	if alphanumeric(rest[0]) && rest[0] != 'X' || rest[0] == '.' && len(rest) > 1 || rest[0] == '-' && len(rest) > 1 && alphanumeric(rest[1]) {
		return false
	}
	return marks(string(rest))
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
		if left := sc.s[i+len(l.text) : end]; i > sc.at && sc.s[i-1] == ' ' && len(left) > 0 && end == len(sc.s) {
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
		known[len(known)-1-i] = l.text
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
	var buf [16]byte
	key := append(append(buf[:0], sc.s[i:front]...), sc.s[d:end]...)
	bare := len(key)
	if end < len(sc.s) && upper(sc.s[end]) {
		if c := table.index[string(append(key, sc.s[end]))]; c != nil && (end+1 == len(sc.s) || !upper(sc.s[end+1])) {
			p.nums[slot], sc.at = c, end+1
			return nil
		}
	}
	if end+1 < len(sc.s) && (sc.s[end] == '.' || sc.s[end] == '-') && sc.s[end+1] == '5' && (end+2 == len(sc.s) || !alphanumeric(sc.s[end+2])) {
		key = append(key[:bare], '.', '5')
		if c := table.index[string(key)]; c != nil {
			p.nums[slot], sc.at = c, end+2
			return nil
		}
	}
	if c := table.index[string(key[:bare])]; c != nil {
		p.nums[slot], sc.at = c, end
		return nil
	}
	if end < len(sc.s) && sc.s[end] == '.' {
		bare = len(append(key[:bare], sc.s[end:run(sc.s, end+1, digit)]...))
		if bare > len(buf) {
			return sc.noNumber(p, slot)
		}
	}
	return noSuch(p, slot, string(key[:bare]))
}

func (sc *scanner) noNumber(p *piece, slot int) *refusal {
	list := p.s.nums[slot].list
	no := &refusal{s: p.s}
	if len(list) == 0 {
		no.problem = p.s.name + " needs a number behind it"
		return no
	}
	no.nearest = p.with(slot, list[:1], list[len(list)-1:])
	if slot == 0 {
		no.problem = p.s.name + " needs a dash number: " + no.nearest[0] + " to " + no.nearest[len(no.nearest)-1]
	} else {
		no.problem = p.canonical() + " needs its second number: " + no.nearest[0] + " to " + no.nearest[len(no.nearest)-1]
	}
	return no
}

// noSuch refuses a number that the table does not hold and names its neighbours.
func noSuch(p *piece, slot int, text string) *refusal {
	table := p.s.nums[slot]
	asked := *p
	asked.nums[slot] = &code{text: text}
	no := &refusal{s: p.s, nearest: p.with(slot, table.near(text))}
	says := " is not in the tables here"
	closed := table.closed && leadingNumber(text) < table.list[len(table.list)-1].value
	if closed {
		says = " does not exist"
	}
	no.problem = asked.canonical() + says
	if slot == 0 && p.s.rule != "" && closed {
		no.problem += ": " + p.s.rule
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

// result describes the piece, without its look-alikes.
func (p *piece) result() Result {
	s := p.s
	r := Result{Known: true, Kind: s.kind, Family: s.family, Warnings: s.warnings, Designation: p.canonical()}
	n := len(s.first) + len(s.last) + 8
	for _, c := range p.nums {
		if c != nil {
			n += len(c.fields)
		}
	}
	r.Fields = append(make([]Field, 0, n), s.first...)
	for _, c := range p.nums {
		if c == nil {
			continue
		}
		r.Fields = append(r.Fields, c.fields...)
		if c.warning != "" {
			r.Warnings = append(r.Warnings[:len(r.Warnings):len(r.Warnings)], c.warning)
		}
	}
	for i := range p.let {
		for _, l := range p.let[i] {
			if l != nil {
				r.Fields = append(r.Fields, l.fields...)
			}
		}
	}
	r.Fields = append(r.Fields, s.last...)
	if s.free {
		r.Warnings = append(r.Warnings[:len(r.Warnings):len(r.Warnings)], "known by its series only: no cross-checked table of its numbers")
	}
	r.Title, r.Short = p.titles()
	r.SupersededBy = p.successor()
	return r
}

// titles says the piece in words, at length and briefly.
func (p *piece) titles() (long, brief string) {
	var a, b [160]byte
	s := p.s
	title, short := append(a[:0], s.noun...), append(b[:0], s.noun...)
	add := func(to []byte, words string) []byte {
		if words == "" {
			return to
		}
		return append(append(to, ", "...), words...)
	}
	for _, material := range [2]bool{true, false} {
		for i := range p.let {
			for k, l := range p.let[i] {
				if l == nil || (s.slots[i].choices[k].name == Material) != material {
					continue
				}
				title = add(title, l.title)
			}
		}
		if material {
			title = add(title, s.style)
			title, short = add(title, s.size), add(short, s.size)
			for i, c := range p.nums {
				if c == nil {
					continue
				}
				if i == 1 && s.size == "" && c.words != "" && c.words[0] != 'g' {
					title, short = append(append(title, " by "...), c.words...), append(append(short, " by "...), c.words...)
					continue
				}
				title, short = add(title, c.words), add(short, c.words)
			}
		}
	}
	return string(title), string(short)
}

// successor is the newer number of the piece.
func (p *piece) successor() *Successor {
	if c := p.nums[0]; c != nil && c.successors != nil {
		front := ""
		for _, l := range p.let[0] {
			if l != nil {
				front += l.text
			}
		}
		if p.nums[1] != nil {
			front += "-" + p.nums[1].text
		}
		if next := c.successors[front]; next != nil {
			return next
		}
	}
	if p.s.successor == nil {
		return nil
	}
	next := *p.s.successor
	if p.s.joined {
		next.Designation += p.nums[0].text
	}
	if p.s.sameNumbers {
		var buf [48]byte
		next.Designation = string(p.appendCanonical(buf[:0], next.Designation))
	}
	return &next
}
