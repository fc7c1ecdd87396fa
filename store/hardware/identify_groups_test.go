package hardware

import (
	"math/rand/v2"
	"slices"
	"testing"

	"stowright/store/measure"
)

// TestGroups: the groups take in every row once, in their order, and what they say
// of their rows holds for each.
func TestGroups(t *testing.T) {
	c := Standard()
	c.entries()
	at := 0
	for _, g := range append(slices.Clone(c.groups), group{from: len(c.index), to: len(c.index)}) {
		if g.from != at {
			t.Fatalf("a group begins at row %d, want %d", g.from, at)
		}
		at = g.to
		for i := g.from; i < g.to; i++ {
			e := &c.index[i]
			if e.s != g.like.s {
				t.Fatalf("row %d is of %s in a group of %s", i, e.s.name, g.like.s.name)
			}
			for q := range quantities {
				if g.same[q] && e.bands[q] != g.like.bands[q] {
					t.Errorf("%s row %d: %s has another band", e.s.name, i, quantities[q].words)
				}
			}
			if g.thread && (e.size != g.like.size || e.tpi != g.like.tpi) {
				t.Errorf("%s row %d: another thread", e.s.name, i)
			}
		}
	}
	if len(c.groups) > len(c.index)/4 {
		t.Errorf("%d groups over %d rows pass little by", len(c.groups), len(c.index))
	}
}

// TestGroupsPassNothingWanted: with the groups the nearest rows are those of a look
// at every row.
func TestGroupsPassNothingWanted(t *testing.T) {
	const seed = 11
	rng := rand.New(rand.NewPCG(seed, seed))
	c, err := load()
	if err != nil {
		t.Fatal(err)
	}
	all := c.entries()
	groups := c.groups
	single := make([]group, len(all)) // of one row each, that have nothing in common
	for i := range all {
		single[i] = group{from: i, to: i + 1, like: entry{s: all[i].s}}
	}
	for range 120 {
		e := all[rng.IntN(len(all))]
		r := Readings{}
		if rng.IntN(2) == 0 {
			r.Kind = e.s.kind
		}
		if rng.IntN(3) == 0 {
			r.Head = e.s.style
		}
		for i, q := range quantities {
			if b := e.bands[i]; b.high != 0 && rng.IntN(3) > 0 {
				*q.of(&r) = b.low + measure.Length(rng.Int64N(int64(b.high-b.low+20*thou)))
			}
		}
		if rng.IntN(2) == 0 {
			r.ThreadsPerInch, r.ThreadSize = e.tpi, e.size
		}
		asked, err := r.asked()
		if err != nil {
			continue
		}
		c.groups = single
		want, wantMore := c.nearest(&r, asked)
		c.groups = groups
		got, more := c.nearest(&r, asked)
		if !slices.Equal(got, want) || more != wantMore {
			t.Errorf("seed %d: %+v: %d rows, more %v; a look at every row gives %d, %v", seed, r, len(got), more, len(want), wantMore)
		}
	}
}
