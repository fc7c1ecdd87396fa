package hardware

import (
	"stowright/store/measure"
)

// How far apart two pieces of one look may be and still be confused by eye.
// Common practice: a step or two of the dash numbers.
const (
	boltStep  = measure.Inch / 8
	rivetStep = 3 * measure.Inch / 16
	pinStep   = measure.Inch / 4
	fineStep  = measure.Inch / 16
	ringStep  = 7 * measure.Inch / 100
)

// Alike says whether the pieces of two designations are easily taken for each
// other, and how the second differs from the first. A number and its successor
// are the same piece and not alike in this sense.
func (c *Catalog) Alike(first, second string) (difference string, ok bool) {
	p, no := c.parse(first)
	if no != nil || p.s == nil {
		return "", false
	}
	q, no := c.parse(second)
	if no != nil || q.s == nil {
		return "", false
	}
	return alike(&p, &q)
}

// alike says how q differs from p, if they can be confused.
func alike(p, q *piece) (string, bool) {
	if p.s.free || q.s.free || p.s.look == "" || p.s.look != q.s.look {
		return "", false
	}
	if twin, ok := numberTwin(p, q); ok {
		return twin, true
	}
	if !sameSize(p, q) {
		return closeSizes(p, q)
	}
	var buf [160]byte
	d := buf[:0]
	for i := range compared {
		var ok bool
		if d, ok = compared[i].differ(p, q, d); !ok {
			return "", false
		}
	}
	d, ok := nominalSteps(p, q, d)
	if !ok {
		return "", false
	}
	d = tellApart(p, q, d)
	return string(d), len(d) > 0
}

// comparison is a figure in which pieces of one size may differ.
type comparison struct {
	at                   int // place among the compared figures of a number
	name, more, less, in string
	any                  bool // however much; else by a step or two of the kind
}

var compared = [...]comparison{
	{at: 0, name: Grip, more: "longer", less: "shorter", in: " in the grip"},
	{at: 1, name: LengthField, more: "longer", less: "shorter"},
	{at: 2, name: Thickness, more: "thicker", less: "thinner", any: true},
	{at: 3, name: OutsideDiameter, more: "wider", less: "narrower", any: true},
}

// placeAll notes on each number its place and the figures that are compared.
func (cs *codes) placeAll() {
	for i, c := range cs.list {
		c.at, c.compared = i, [len(compared)]measure.Length{}
		for k := range c.fields {
			for _, by := range compared {
				if c.fields[k].Name == by.name {
					c.compared[by.at] = c.fields[k].Length
				}
			}
		}
	}
}

// compare is the figure of the piece at that place among the compared ones.
func (p *piece) compare(at int) measure.Length {
	for _, c := range p.nums {
		if c != nil && c.compared[at] != 0 {
			return c.compared[at]
		}
	}
	return 0
}

// differ adds how q differs in the figure and says false when it is too much
// for the pieces to be confused. A length that follows from the grip is not
// told twice.
func (c *comparison) differ(p, q *piece, d []byte) ([]byte, bool) {
	a, b := p.compare(c.at), q.compare(c.at)
	if a == 0 || b == 0 || a == b || c.name == LengthField && len(d) > 0 {
		return d, true
	}
	word, by := c.more, b-a
	if by < 0 {
		word, by = c.less, -by
	}
	d = also(d)
	if c.any {
		return append(append(append(append(append(d, word...), ": "...), short(b)...), ", not "...), short(a)...), true
	}
	return append(append(append(append(d, short(by)...), ' '), word...), c.in...), by <= lengthStep(p.s.kind)
}

func also(d []byte) []byte {
	if len(d) > 0 {
		return append(d, ", "...)
	}
	return d
}

func lengthStep(k Kind) measure.Length {
	switch k {
	case Rivet:
		return rivetStep
	case CotterPin, ClevisPin:
		return pinStep
	case BlindRivet:
		return fineStep
	}
	return boltStep
}

// nominalSteps compares bolts of which only the nominal length is known by the
// place of their dash numbers.
func nominalSteps(p, q *piece, d []byte) ([]byte, bool) {
	if p.s != q.s || p.s.nums[1] != nil || p.nums[0] == q.nums[0] || len(d) > 0 || p.nums[0].nominal == 0 {
		return d, true
	}
	steps := p.s.nums[0].position(q.nums[0]) - p.s.nums[0].position(p.nums[0])
	switch steps {
	case 1:
		return append(d, "1/8 longer"...), true
	case -1:
		return append(d, "1/8 shorter"...), true
	}
	return d, false
}

// tellApart adds what letters and series say: material, drilling, head, height.
func tellApart(p, q *piece, d []byte) []byte {
	if p.s == q.s && p.let == q.let {
		return d
	}
	if p.s != q.s && p.s.tell != q.s.tell {
		d = append(append(append(also(d), q.s.tell...), ", not "...), p.s.tell...)
	}
	for _, name := range [...]string{Material, ShankDrilled, HeadDrilled, Lock, Recess, Hand} {
		a, b := p.word(name), q.word(name)
		if a == nil || b == nil || a == b || a.title == b.title {
			continue
		}
		switch {
		case b.title == "":
			d = append(append(also(d), "no "...), a.title...)
		case name == Material || name == Lock:
			d = append(append(append(also(d), b.title...), ", not "...), a.title...)
		default:
			d = append(also(d), b.title...)
		}
	}
	return d
}

// sameSize says that two pieces of one look go on or through the same hole.
func sameSize(p, q *piece) bool {
	if p.s == q.s && (p.s.size != "" || p.s.nums[1] != nil && p.nums[0] == q.nums[0]) {
		return true
	}
	for _, name := range [...]string{Diameter, Thread, TubeDiameter, CableDiameter, InsideDiameter} {
		a, b := p.fact(name), q.fact(name)
		if a == nil || b == nil {
			continue
		}
		if name == Thread {
			if threadKey(a.Text) != threadKey(b.Text) {
				return false
			}
			continue
		}
		if a.Length != b.Length {
			return false
		}
	}
	return true
}

func threadKey(s string) string {
	for i := range s {
		if s[i] == ' ' {
			return s[:i]
		}
	}
	return s
}

// closeSizes finds pieces of neighbouring thickness: pins, wire and rings.
func closeSizes(p, q *piece) (string, bool) {
	name, step := Diameter, measure.Length(0)
	switch p.s.kind {
	case CotterPin:
		step = measure.Inch / 64
		if p.figure(LengthField) != q.figure(LengthField) {
			return "", false
		}
	case Lockwire:
		step = measure.Inch / 100
	case ORing:
		name, step = InsideDiameter, ringStep
		if p.figure(CrossSection) != q.figure(CrossSection) {
			return "", false
		}
	case Clamp:
		name, step = InsideDiameter, fineStep
	default:
		return "", false
	}
	by := q.figure(name) - p.figure(name)
	if by > step || -by > step || by == 0 {
		return "", false
	}
	if by < 0 {
		return short(-by) + " smaller", true
	}
	return short(by) + " larger", true
}

// numberTwin finds numbers of one series that differ only in a leading nought
// or in the 16 of AN960, and name quite different sizes.
func numberTwin(p, q *piece) (string, bool) {
	if p.s != q.s || p.nums[0] == nil || q.nums[0] == nil || p.nums[0] == q.nums[0] || p.s.nums[1] != nil {
		return "", false
	}
	a, b := p.nums[0], q.nums[0]
	if p.s.kind == ORing || p.s.kind == Clamp {
		return "", false
	}
	if "0"+a.text == b.text || a.text == "0"+b.text || a.text+"16" == b.text || a.text == b.text+"16" {
		return "almost the same number for another size: " + b.words + ", not " + a.words, true
	}
	return "", false
}

// fact is the field of that name, nil where the piece has none.
func (p *piece) fact(name string) *Field {
	if l := p.resized(); l != nil {
		if f := l.field(name); f != nil {
			return f
		}
	}
	for _, c := range p.nums {
		if c == nil {
			continue
		}
		for i := range c.fields {
			if c.fields[i].Name == name {
				return &c.fields[i]
			}
		}
	}
	for _, list := range [2][]Field{p.s.first, p.s.last} {
		for i := range list {
			if list[i].Name == name {
				return &list[i]
			}
		}
	}
	return nil
}

// figure is the length of the field of that name, 0 where it is unknown.
func (p *piece) figure(name string) measure.Length {
	if f := p.fact(name); f != nil {
		return f.Length
	}
	return 0
}

// word is the letter that carries the field of that name.
func (p *piece) word(name string) *letter {
	for i := range p.let {
		for _, l := range p.let[i] {
			if l == nil {
				continue
			}
			for j := range l.fields {
				if l.fields[j].Name == name {
					return l
				}
			}
		}
	}
	return nil
}
