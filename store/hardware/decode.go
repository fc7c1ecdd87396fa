package hardware

import "strings"

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
		if r, ok := c.commercial(text); ok {
			return r
		}
		if r, ok := c.stock(text); ok {
			return r
		}
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
	if prefix == "M" {
		return c.slashed(s, at, end)
	}
	sr := c.lookup(prefix, s[at:end])
	if sr == nil {
		sr = c.inRange(prefix, s[at:end])
	}
	if sr == nil {
		return piece{}, c.noSeries(s, prefix, at, end)
	}
	return named(sr, prefix, s, end)
}

// named reads what stands behind the number of a series, and holds the words
// around it against what it says.
func named(sr *series, prefix string, s []byte, end int) (piece, *refusal) {
	sc := scanner{s: s, at: end, from: end}
	p, no := sc.piece(sr)
	if no == nil {
		no = sc.contradicted(&p, prefix)
	}
	if no != nil {
		return piece{}, no
	}
	return p, nil
}

// slashed reads a part of a military specification, M83248/1-012. Other numbers
// that begin with M are not hardware.
func (c *Catalog) slashed(s []byte, at, end int) (piece, *refusal) {
	if end+1 >= len(s) || !digit(s[end+1]) {
		return piece{}, nil
	}
	if s[end] != '/' {
		return piece{}, c.dashForSlash(s, at, end)
	}
	end = run(s, end+1, digit)
	sr := c.lookup("M", s[at:end])
	if sr == nil {
		return piece{}, c.noSlash(s, at, end)
	}
	return named(sr, "M", s, end)
}

// dashForSlash asks for the slash where a dash stands in its place, M83248-1-012.
func (c *Catalog) dashForSlash(s []byte, at, end int) *refusal {
	slashed := append([]byte{}, s...)
	if slashed[end] != '-' {
		return nil
	}
	slashed[end] = '/'
	p, no := c.slashed(slashed, at, end)
	if no != nil || p.s == nil {
		return nil
	}
	return &refusal{s: p.s, problem: quote(s) + " is not a number of the tables here; if " + p.canonical() + " is meant, write the slash", nearest: []string{p.canonical()}}
}

// noSlash refuses a part that is missing of a specification that the tables have.
func (c *Catalog) noSlash(s []byte, at, end int) *refusal {
	base, _, _ := strings.Cut("M"+string(s[at:end]), "/")
	for _, name := range c.names {
		if strings.HasPrefix(name, base+"/") {
			return &refusal{problem: "M" + string(s[at:end]) + " is not a series in the tables here: they have " + name + ", with a dash and a number behind it"}
		}
	}
	return nil
}

func (c *Catalog) lookup(prefix string, number []byte) *series {
	var key [16]byte
	if len(number) > 8 {
		return nil
	}
	return c.series[string(append(append(key[:0], prefix...), number...))]
}

// noSeries refuses a standard number that the tables lack. A run of digits is
// never split between series and number, since AN742 is a clamp and no AN74-2:
// where nothing but a dash may have been left out, the readings are named and
// asked for.
func (c *Catalog) noSeries(s []byte, prefix string, at, end int) *refusal {
	name := prefix + string(s[at:end])
	no := &refusal{problem: name + " is not a series in the tables here: check the number against the plans"}
	if behind := skipSeparators(s, end); behind > end && behind < len(s) && alphanumeric(s[behind]) {
		return no // what a person wrote as a dash is never crossed
	}
	for cut := end - 1; cut > at; cut-- {
		if sr := c.lookup(prefix, s[at:cut]); sr != nil {
			sc := scanner{s: s, at: cut}
			if p, wrong := sc.piece(sr); wrong == nil {
				no.nearest = append(no.nearest, p.canonical())
			}
		}
	}
	if len(no.nearest) > 0 {
		no.problem = name + " is not a series in the tables here; if " + orList(no.nearest) + " is meant, write the dash"
	}
	return no
}
