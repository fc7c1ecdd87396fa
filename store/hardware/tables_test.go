package hardware

import (
	"strings"
	"testing"
)

// every yields every designation that the tables hold: each number of each
// series, with each letter once.
func every(c *Catalog, yield func(p piece)) {
	for _, name := range c.names {
		s := c.series[name]
		if s.free {
			continue
		}
		base := piece{s: s}
		for i := range s.slots {
			for k := range s.slots[i].choices {
				base.let[i][k] = s.slots[i].choices[k].absent
				if s.slots[i].choices[k].required {
					base.let[i][k] = s.slots[i].choices[k].letters[0]
				}
			}
		}
		for _, first := range s.nums[0].list {
			p := base
			p.nums[0] = first
			if s.nums[1] == nil || first.alone {
				letters(p, yield)
				continue
			}
			for _, second := range s.nums[1].list {
				p.nums[1] = second
				letters(p, yield)
			}
		}
	}
}

func letters(p piece, yield func(piece)) {
	yield(p)
	for i := range p.s.slots {
		if i > 0 && (i > 2 || p.nums[i-1] == nil) {
			break
		}
		for k := range p.s.slots[i].choices {
			for _, l := range p.s.slots[i].choices[k].letters {
				q := p
				q.let[i][k] = l
				yield(q)
			}
		}
	}
}

// TestEveryRowRoundTrips: the canonical writing of every row parses to the same
// piece and prints the same again.
func TestEveryRowRoundTrips(t *testing.T) {
	n := 0
	every(Standard(), func(p piece) {
		n++
		want := p.canonical()
		got, no := Standard().parse(want)
		if no != nil {
			t.Errorf("%s: refused: %s", want, no.problem)
			return
		}
		if again := got.canonical(); again != want || got.s != p.s || got.nums != p.nums {
			t.Errorf("%s: parsed as %s of %s", want, again, got.s.name)
		}
		for _, written := range []string{strings.ToLower(want), " " + want + " ", strings.ReplaceAll(want, "-", " "), "12 x " + want, want + " (24)"} {
			if again, ok := Canonical(written); !ok || again != want {
				t.Errorf("%q: got %q, want %q", written, again, want)
			}
		}
	})
	if n < 10_000 {
		t.Errorf("only %d designations in the tables", n)
	}
	t.Logf("%d designations", n)
}

// TestEveryRowSaysItsSource: no fact without a text and a source.
func TestEveryRowSaysItsSource(t *testing.T) {
	every(Standard(), func(p piece) {
		r := p.result()
		for _, f := range r.Fields {
			if f.Text == "" || f.Source == "" {
				t.Errorf("%s: field %s: text %q source %q", r.Designation, f.Name, f.Text, f.Source)
			}
			if f.Unknown && f.Length != 0 {
				t.Errorf("%s: field %s is unknown and has a length", r.Designation, f.Name)
			}
		}
		if r.Title == "" || r.Short == "" || r.Kind == "" || r.Family == "" {
			t.Errorf("%s: unfinished: %+v", r.Designation, r)
		}
	})
}
