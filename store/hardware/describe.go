package hardware

// result describes the piece, without its look-alikes.
func (p *piece) result() Result {
	s := p.s
	r := Result{Known: true, Kind: s.kind, Family: s.family, Warnings: p.warnings(), Designation: p.canonical()}
	r.Fields = p.facts()
	s.credited(r.Fields)
	r.Title, r.Short = p.titles()
	r.remembered = s.src.checked == 0 && s.openFamily()
	r.SupersededBy = p.successor()
	return r
}

// facts are the figures of the piece, in the order in which it says them.
func (p *piece) facts() []Field {
	s := p.s
	out := make([]Field, 0, p.countFacts())
	resized := p.resized()
	for i := range s.first {
		if resized == nil || resized.field(s.first[i].Name) == nil {
			out = append(out, s.first[i])
		}
	}
	out = p.numberFacts(out)
	for i := range p.let {
		for _, l := range p.let[i] {
			if l != nil {
				out = append(out, l.fields...)
			}
		}
	}
	out = append(out, s.last...)
	if !p.torqued() {
		out = without(out, TorqueTension, TorqueShear)
	}
	if f := p.saying(ShankDrilled); f == "no" {
		out = without(out, CotterHole, CotterFromEnd)
	}
	if p.byRule() {
		out = append(out, s.unlisted)
	}
	return out
}

// countFacts is how many facts there may be.
func (p *piece) countFacts() int {
	n := len(p.s.first) + len(p.s.last) + 1
	for _, c := range p.nums {
		if c != nil {
			n += len(c.fields)
		}
	}
	for i := range p.let {
		for _, l := range p.let[i] {
			if l != nil {
				n += len(l.fields)
			}
		}
	}
	return n
}

// without drops the facts of two names in place.
func without(fields []Field, one, other string) []Field {
	kept := 0
	for i := range fields {
		if f := &fields[i]; f.Name != one && f.Name != other {
			if kept != i {
				fields[kept] = *f
			}
			kept++
		}
	}
	return fields[:kept]
}

// numberFacts adds what the numbers say; the second may say what the first
// leaves unknown.
func (p *piece) numberFacts(out []Field) []Field {
	first, second := p.nums[0], p.nums[1]
	switch {
	case first == nil:
		return out
	case second == nil:
		return append(out, first.fields...)
	}
	for k := range first.fields {
		if f := &first.fields[k]; !f.Unknown || second.field(f.Name) == nil {
			out = append(out, *f)
		}
	}
	return append(out, second.fields...)
}

// resized is the letter that gives the piece another thread than its series has.
func (p *piece) resized() *letter {
	for _, l := range p.let[0] {
		if l != nil && l.size != "" {
			return l
		}
	}
	return nil
}

// byRule says that a number of the piece is read by how its series counts and
// in no list of a source.
func (p *piece) byRule() bool {
	return p.nums[0] != nil && p.nums[0].byRule || p.nums[1] != nil && p.nums[1].byRule
}

// warnings are the cautions that hold for the piece, nil for none.
func (p *piece) warnings() []string {
	var out []string
	for i := range p.s.cautions {
		if p.concerns(&p.s.cautions[i]) {
			out = append(out, p.s.cautions[i].text)
		}
	}
	for _, c := range p.nums {
		if c != nil && c.warning != "" {
			out = append(out, c.warning)
		}
		if c != nil && c.nominal != 0 {
			out = append(out, "no source here lists which numbers of "+p.s.name+" are made: whether "+p.canonical()+" is one of them is not known here")
		}
	}
	if p.s.free || p.s.whole || p.nums[0] != nil && p.s.nums[0].open && p.s.nums[0].index[p.nums[0].text] == nil {
		out = append(out, "known by its series only: no cross-checked table of its numbers")
	}
	return out
}

// concerns says that a caution is for the number and the letters of the piece.
func (p *piece) concerns(c *caution) bool {
	if c.number != "" && (p.nums[0] == nil || p.nums[0].text != c.number) {
		return false
	}
	if c.letter == "" {
		return true
	}
	for i := range p.let {
		for _, l := range p.let[i] {
			if l != nil && l.text == c.letter {
				return true
			}
		}
	}
	return false
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
			size := s.size
			if l := p.resized(); l != nil {
				size = l.size
			}
			title, short = add(title, size), add(short, size)
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
