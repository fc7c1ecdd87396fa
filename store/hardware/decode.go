package hardware

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
