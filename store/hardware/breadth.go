package hardware

import (
	"fmt"
	"slices"
	"strings"
)

// Figure is what the tables have of one fact over a family.
type Figure struct {
	Name        string // of the field
	Least, Most int    // sources behind the values of its numbers
}

func (f Figure) String() string {
	name := strings.ReplaceAll(f.Name, "_", " ")
	switch {
	case f.Most == 0:
		return name + " (from memory)"
	case f.Least == f.Most:
		return fmt.Sprintf("%s (%d)", name, f.Most)
	}
	return fmt.Sprintf("%s (%d to %d)", name, f.Least, f.Most)
}

// Breadth is how a family is written and what is known of it.
type Breadth struct {
	Grammar string   // "AN3 [C | DD] [H] - number [A]"
	Figures []Figure // in the order in which a piece says them
	Unknown []string // facts that no source here gives, by name
}

// Breadth says how the numbers of the series of a family are written, which
// figures their pieces have with how many sources, and what is unknown of some
// of them. It is empty where the tables lack them.
func (c *Catalog) Breadth(family ...string) Breadth {
	b := Breadth{}
	for _, name := range family {
		if s := c.series[name]; s != nil {
			if b.Grammar == "" {
				b.Grammar = s.grammar()
			}
			s.breadth(&b)
		}
	}
	return b
}

// breadth adds what is known of one series.
func (s *series) breadth(b *Breadth) {
	add := func(list []Field) {
		fields := slices.Clone(list)
		s.credited(fields)
		for _, f := range fields {
			b.add(f)
		}
	}
	add(s.first)
	for _, cs := range s.nums {
		if cs == nil {
			continue
		}
		add(cs.unknown)
		for _, code := range cs.list {
			add(code.fields)
		}
		if slices.ContainsFunc(cs.list, func(c *code) bool { return c.byRule }) {
			b.add(s.unlisted)
		}
	}
	for i := range s.slots {
		for _, ch := range s.slots[i].choices {
			if ch.absent != nil {
				add(ch.absent.fields)
			}
			for _, l := range ch.letters {
				add(l.fields)
			}
		}
	}
	add(s.last)
}

func (b *Breadth) add(f Field) {
	if f.Unknown {
		if !slices.Contains(b.Unknown, f.Name) {
			b.Unknown = append(b.Unknown, f.Name)
		}
		return
	}
	i := slices.IndexFunc(b.Figures, func(g Figure) bool { return g.Name == f.Name })
	if i < 0 {
		b.Figures = append(b.Figures, Figure{f.Name, f.Checked, f.Checked})
		return
	}
	b.Figures[i].Least, b.Figures[i].Most = min(b.Figures[i].Least, f.Checked), max(b.Figures[i].Most, f.Checked)
}

// grammar writes how a designation of the series is put together.
func (s *series) grammar() string {
	switch {
	case s.whole:
		return "the standard number alone"
	case s.free:
		return s.name + " and what stands behind it, not understood"
	}
	parts := []string{s.name}
	for i := range s.slots {
		if i > 0 && s.nums[i-1] == nil {
			break
		}
		if !(i == 1 && s.optional && s.nums[1] == nil) {
			parts = append(parts, s.slots[i].grammar()...)
		}
		if i < len(s.nums) && s.nums[i] != nil {
			number := "number"
			if i == 1 {
				number = "second number"
			}
			if i == 1 && s.optional {
				number = "[second number]"
			}
			parts = append(parts, number)
		}
	}
	return strings.Join(parts, " ")
}

// grammar writes the letters of a slot: [A | B] may be left out, (A | B) not.
func (sl *slot) grammar() []string {
	var out []string
	for _, ch := range sl.choices {
		var letters []string
		for _, l := range ch.letters {
			letters = append(letters, l.text)
		}
		brackets := "[%s]"
		if ch.required {
			brackets = "(%s)"
		}
		out = append(out, fmt.Sprintf(brackets, strings.Join(letters, " | ")))
	}
	return out
}
