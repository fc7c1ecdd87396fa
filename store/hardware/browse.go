package hardware

import "slices"

// Family is one line of the Handbook's list: series that share a standard.
type Family struct {
	Name    string // "AN3 to AN20: Bolt"
	Kind    Kind
	Style   string // "hex head"
	Series  []string
	Counts  string // how its numbers count: "eighths", "table number", "not known"
	Source  string
	Checked int
}

// Families lists what the tables know, in their order.
func (c *Catalog) Families() []Family {
	var out []Family
	for _, name := range c.names {
		s := c.series[name]
		if i := slices.IndexFunc(out, func(f Family) bool { return f.Name == s.family }); i >= 0 {
			out[i].Series = append(out[i].Series, name)
			continue
		}
		out = append(out, Family{
			Name: s.family, Kind: s.kind, Style: s.style, Series: []string{name}, Counts: s.counts,
			Source: s.src.source, Checked: s.src.checked,
		})
	}
	return out
}

// Numbers lists the designations of a series, each written with its usual
// letters, in ascending order; with two numbers in a designation, those that
// begin with the first number given ("" for all). It is nil for a series that
// is unknown or known by name only.
func (c *Catalog) Numbers(series, first string) []string {
	s := c.series[series]
	if s == nil || s.free || s.nums[0] == nil {
		return nil
	}
	p := piece{s: s}
	none := Readings{}
	for i := range s.slots {
		for k := range s.slots[i].choices {
			p.let[i][k] = none.letters(&s.slots[i].choices[k])[0]
		}
	}
	if s.optional {
		p.let[2] = [2]*letter{}
	}
	var out []string
	for _, one := range s.nums[0].list {
		if first != "" && one.text != first {
			continue
		}
		p.nums = [2]*code{one}
		if s.nums[1] == nil || one.alone {
			out = append(out, p.canonical())
			continue
		}
		if s.optional {
			out = append(out, p.canonical())
		}
		for _, two := range s.nums[1].list {
			q := p.with2(two)
			out = append(out, q.canonical())
		}
	}
	return out
}
