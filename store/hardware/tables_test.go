package hardware

import (
	"slices"
	"strings"
	"testing"
)

// every yields every designation that the tables hold: each number of each
// series, with each letter once.
func every(c *Catalog, yield func(p piece)) {
	for _, name := range c.names {
		s := c.series[name]
		if s.free || s.whole {
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
		if s.optional {
			base.let[2] = [2]*letter{}
		}
		for _, first := range s.nums[0].list {
			p := base
			p.nums[0] = first
			if s.nums[1] == nil || first.alone {
				letters(p, yield)
				continue
			}
			if s.optional {
				letters(p, yield)
			}
			for _, second := range s.nums[1].list {
				letters(p.with2(second), yield)
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
		if i == 1 && p.s.optional && p.nums[1] != nil {
			continue
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
			if again, ok := Standard().Canonical(written); !ok || again != want {
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

// TestEveryRowDraws: every outline lies within its bounds and has a side or a
// top; look-alikes go both ways and are never the piece itself.
func TestEveryRowDraws(t *testing.T) {
	drawn, n := map[Kind]bool{}, 0
	every(Standard(), func(p piece) {
		if n++; n%7 != 0 {
			return
		}
		r := p.result()
		o, ok := r.Outline()
		for _, v := range o.Views {
			drawn[r.Kind] = true
			for _, s := range v.Shapes {
				for _, q := range s.Points {
					if q.X < v.Min.X || q.Y < v.Min.Y || q.X > v.Max.X || q.Y > v.Max.Y {
						t.Fatalf("%s %s: %v lies outside %v to %v", r.Designation, v.Name, q, v.Min, v.Max)
					}
				}
			}
			if len(v.Dimensions) == 0 && v.Name != "head" || v.Max.X <= v.Min.X || v.Max.Y <= v.Min.Y {
				t.Errorf("%s %s: empty view %+v", r.Designation, v.Name, v)
			}
		}
		if ok != (len(o.Views) > 0) {
			t.Errorf("%s: ok %v with %d views", r.Designation, ok, len(o.Views))
		}
		for _, l := range Standard().lookAlikes(&p) {
			if _, back := Standard().Alike(l.Designation, r.Designation); !back || l.Designation == r.Designation {
				t.Errorf("%s is like %s, but not the other way", r.Designation, l.Designation)
			}
		}
	})
	for _, k := range []Kind{Bolt, Nut, PlateNut, Washer, Rivet, BlindRivet, CotterPin, ClevisPin, Screw, Fitting, Clamp, Lockwire, ORing, CablePart} {
		if !drawn[k] {
			t.Errorf("no %s is drawn", k)
		}
	}
}

func TestFieldString(t *testing.T) {
	tests := []struct {
		name  string
		field Field
		want  string
	}{
		{"checked", Field{Text: "1/4", Checked: 2}, "1/4"},
		{"not checked", Field{Text: "1/4"}, "1/4 (not cross-checked)"},
		{"own", Field{Text: "1/4", Own: true}, "1/4 (your own figure)"},
		{"unknown", Field{Text: "unknown: no table", Unknown: true}, "unknown: no table"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.field.String(); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

func TestHeadStyles(t *testing.T) {
	got := Standard().HeadStyles(Rivet)
	if len(got) < 5 || !slices.Contains(got, "universal head") {
		t.Errorf("got %q", got)
	}
}
