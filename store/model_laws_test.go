package store

import (
	"slices"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// look holds what must be so after every step, whichever it was.
func (b *bench) look(t *rapid.T) {
	b.head = chained(t, b.Shop, b.head)
	b.balanced(t)
	b.promised(t)
	b.resolved(t)
	b.decided(t)
	subs, err := b.SubAssemblies()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range subs {
		now := b.state(t, s.Code)
		if s.Closed == nil {
			delete(b.closed, s.Code)
		} else if was, known := b.closed[s.Code]; known && !slices.Equal(was, now) {
			t.Fatalf("%s is closed and changed:\n%s", s.Code, cmp.Diff(was, now))
		} else {
			b.closed[s.Code] = now
		}
		b.last[s.Code] = now
	}
}

// chained holds of the entries since head, the newest one that was seen, that each carries the
// checksum of the one before it, and that head itself is as it was; it returns the newest now.
func chained(t *rapid.T, shop *Shop, head disk.End) (newest disk.End) {
	seq, prev := uint64(0), "" // of the entry after the one that is looked at
	err := shop.view(func(tx *disk.Tx) error {
		return tx.RecordsBefore(0, func(r disk.Record) (bool, error) {
			switch {
			case newest == disk.End{}:
				newest = disk.End{Seq: r.Seq, Sum: r.Sum}
			case r.Seq+1 != seq || r.Sum != prev:
				t.Fatalf("entry %d was written after one with the checksum %q, and entry %d has %q", seq, prev, r.Seq, r.Sum)
			}
			if r.Seq == head.Seq && r.Sum != head.Sum {
				t.Fatalf("entry %d is another than it was", r.Seq)
			}
			seq, prev = r.Seq, r.Prev()
			return r.Seq > head.Seq, nil
		})
	})
	if err != nil || newest.Seq < head.Seq || head == (disk.End{}) && (seq != 1 || prev != "") {
		t.Fatalf("the newest entry is %d after %d, the first %d after %q: %v", newest.Seq, head.Seq, seq, prev, err)
	}
	return newest
}

// balanced holds of each lot, ends of estimates too, that what came of it is in stock and in
// trays, fitted, gone or poured into another lot; and that nothing is fitted below zero.
func (b *bench) balanced(t *rapid.T) {
	sum := map[string]Amount{}
	add := func(lot string, a Amount) {
		s, err := sum[lot].Add(a)
		if err != nil {
			t.Fatal(err)
		}
		sum[lot] = s
	}
	heaps, err := b.Stock()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range heaps {
		if _, once := hardware.SingleUse(h.Item); once && h.Condition == Removed {
			t.Fatalf("%s was removed and lies about, and is used once", h.Item)
		}
		add(h.Lot, h.Amount)
	}
	fitted, err := b.Fitted("")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fitted {
		if f.Amount.Sign() < 0 {
			t.Fatalf("%s of %s is fitted", f.Amount, f.Item)
		}
		add(f.Lot, f.Amount)
	}
	gone, err := b.Gone("")
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range gone {
		add(g.Lot, g.Amount)
	}
	lots, err := b.Lots("")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lots {
		for _, p := range l.Parents {
			add(p.Lot, p.Amount)
		}
	}
	for _, l := range lots {
		if sum[l.Name()] != l.Came {
			t.Fatalf("of %s of %s %s came, and %s is in stock, fitted, gone or poured", l.Name(), l.Item, l.Came, sum[l.Name()])
		}
	}
}

// promised holds that what is free for a sub-assembly is what may be used on its day less
// what earlier ones are promised, and that of no heap more is promised than surely lies
// there.
func (b *bench) promised(t *rapid.T) {
	reading, err := b.Reading()
	if err != nil {
		t.Fatal(err)
	}
	type heap struct{ item, place, lot string }
	given := map[heap]int64{}
	var subs []build.SubAssembly // in the order of promising: what was let go comes last
	for _, let := range []bool{false, true} {
		for _, s := range reading.SubAssemblies {
			if s.LetGo == let {
				subs = append(subs, s)
			}
		}
	}
	board := build.NewBoard(reading)
	for _, s := range subs {
		day := reading.Today
		if !s.Planned.IsZero() && reading.Today.DaysUntil(s.Planned) > 0 {
			day = s.Planned
		}
		status, _ := board.Status(s.Code)
		taken := map[heap]int64{}
		for i, n := range status.Needs {
			if slices.ContainsFunc(status.Needs[:i], func(m build.Need) bool { return m.Item == n.Item }) {
				continue // its other need of the item has taken some of it
			}
			free := int64(0)
			for _, h := range reading.Stock[n.Item] {
				if h.Tray == "" && h.Condition == build.Good && (h.Expires.IsZero() && !h.Perishable || !h.Expires.IsZero() && h.Expires.DaysUntil(day) <= 0) && (n.Needed.Unit == "" || h.Amount.Unit == n.Needed.Unit) {
					free += max(0, max(0, h.Amount.Low.Micro)-given[heap{n.Item, h.Place, h.Lot}])
				}
			}
			if n.Free.Low.Micro != free {
				t.Fatalf("%s for %s: %s is free, want %s", n.Item, s.Code, n.Free.Low, measure.Quantity{Micro: free, Unit: n.Needed.Unit})
			}
		}
		for _, n := range status.Needs {
			for _, p := range n.Promised {
				taken[heap{n.Item, p.Heap.Place, p.Heap.Lot}] += p.Quantity.Micro
			}
		}
		for h, q := range taken {
			given[h] += q
		}
	}
	for h, q := range given {
		there := int64(0)
		for _, heap := range reading.Stock[h.item] {
			if heap.Place == h.place && heap.Lot == h.lot && heap.Condition == build.Good {
				there += max(0, heap.Amount.Low.Micro)
			}
		}
		if q > there {
			t.Fatalf("%d millionths of %v are promised, and %d are surely there", q, h, there)
		}
	}
}

// resolved holds that an old number leads to a new one along recorded numbers alone.
func (b *bench) resolved(t *rapid.T) {
	known, err := b.Equivalents()
	if err != nil {
		t.Fatal(err)
	}
	needs, err := b.Requirements("")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range needs {
		at := r.Called
		for _, step := range r.Via {
			if step.Old != at || !slices.Contains(known, step) {
				t.Fatalf("%s: %s is taken for %s by %+v", r.Name(), at, step.New, step)
			}
			at = step.New
		}
		if at != r.Item {
			t.Fatalf("%s calls %s and asks for %s, which nothing recorded says", r.Name(), r.Called, r.Item)
		}
	}
}

// decided holds that nothing went in for a requirement but what it calls, or what a decision
// says that is named with it.
func (b *bench) decided(t *rapid.T) {
	fits, err := b.Fits("")
	if err != nil {
		t.Fatal(err)
	}
	decisions, err := b.Decisions()
	if err != nil {
		t.Fatal(err)
	}
	needs, err := b.Requirements("")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits {
		if f.Requirement == "" || f.Amount.Sign() < 0 {
			continue
		}
		i := slices.IndexFunc(decisions, func(d Decision) bool { return d.Name() == f.Decision })
		r := needs[slices.IndexFunc(needs, func(r Requirement) bool { return r.Name() == f.Requirement })]
		if f.Decision == "" && f.Item != r.Item && f.Item != r.Called {
			t.Fatalf("%s went in for %s, which calls %s, by no decision", f.Item, r.Name(), r.Item)
		}
		if f.Decision != "" && (i < 0 || !slices.Contains(decisions[i].Requirements, f.Requirement) || decisions[i].Item != f.Item) {
			t.Fatalf("%s went in for %s by %s, which does not say so", f.Item, f.Requirement, f.Decision)
		}
	}
}

// moment is what a step is held against.
type moment struct {
	other       []string         // the sub-assembly that is not worked on
	aircraft    []Aircraft       //
	good        map[string]int64 // of what is used once: good in stock and in trays, or fitted
	quarantined map[string]int64 // by alert and item
	heaps       map[StockKey]Amount
	fits        int
	decisions   []string // in force
}

func (b *bench) moment(t *rapid.T, other string) moment {
	m := moment{other: b.state(t, other), good: map[string]int64{}, quarantined: map[string]int64{}, heaps: map[StockKey]Amount{}}
	var err error
	if m.aircraft, err = b.Aircraft(); err != nil {
		t.Fatal(err)
	}
	heaps, err := b.Stock()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range heaps {
		m.heaps[h.StockKey] = h.Amount
		if _, once := hardware.SingleUse(h.Item); once && h.Condition != Damaged {
			m.good[h.Item] += h.Amount.Micro
		}
		for _, alert := range h.Condition.Alerts() {
			m.quarantined[alert+" "+h.Item] += h.Amount.Micro
		}
	}
	fits, err := b.Fits("")
	if err != nil {
		t.Fatal(err)
	}
	m.fits = len(fits)
	decisions, err := b.Decisions()
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range decisions {
		if d.InForce(b.Today()) {
			m.decisions = append(m.decisions, d.Name())
		}
	}
	return m
}

// step does something to one sub-assembly, refused or not, and holds what it may not do.
func (b *bench) step(t *rapid.T, name string, do func(t *rapid.T, code string) error) {
	code := rapid.SampledFrom(benchCodes).Draw(t, "code")
	other := benchCodes[1-slices.Index(benchCodes, code)]
	before := b.moment(t, other)
	_ = do(t, code)
	after := b.moment(t, other)
	if d := cmp.Diff(before.other, after.other); d != "" {
		t.Fatalf("work on %s changed %s:\n%s", code, other, d)
	}
	if d := cmp.Diff(before.aircraft, after.aircraft); d != "" {
		t.Fatalf("work on %s changed an aircraft:\n%s", code, d)
	}
	for item, n := range after.good {
		if n > before.good[item] && name != "arrive" && name != "found" {
			t.Fatalf("%s: of %s, which is used once, there were %d millionths to use and are %d", name, item, before.good[item], n)
		}
	}
	for what, n := range before.quarantined {
		if ends := []string{"alert", "answer", "scrap", "send back"}; !slices.Contains(ends, name) && after.quarantined[what] < n {
			t.Fatalf("%s ended the quarantine of %d millionths by %s", name, n-after.quarantined[what], what)
		}
	}
	b.events(t, name, before, after)
	b.shrank(t, name, before, after)
}

// events holds of what went in by a step that its decision was in force, and of what came
// out that it says from which aircraft, at which hours.
func (b *bench) events(t *rapid.T, name string, before, after moment) {
	fits, err := b.Fits("")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits[min(before.fits, len(fits)):] {
		if f.Decision != "" && !slices.Contains(before.decisions, f.Decision) {
			t.Fatalf("%s: %s went in by %s, which was not in force", name, f.Item, f.Decision)
		}
		if f.Amount.Sign() > 0 {
			continue
		}
		of := after.aircraft[slices.Index(benchCodes, f.SubAssembly)]
		if f.Aircraft != of.Name || f.Hours == nil || *f.Hours != of.Hours[0].Hours {
			t.Fatalf("%s came out of %s: %+v", f.Item, of.Name, f)
		}
	}
}

// shrank holds that a heap of which some was taken lost as much at both ends as in the
// middle: an exact amount makes an estimate neither wider nor narrower.
func (b *bench) shrank(t *rapid.T, name string, before, after moment) {
	for k, was := range before.heaps {
		is, there := after.heaps[k]
		if !there {
			continue
		}
		took := was.Micro - is.Micro
		if was.Low.Micro-is.Low.Micro != took || was.High.Micro-is.High.Micro != took {
			if took > 0 {
				t.Fatalf("%s took %d millionths of %s %v and left %s", name, took, was, k, is)
			}
		}
	}
}
