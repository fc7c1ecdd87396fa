package store

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// bench is a shop with two sub-assemblies in which random evenings are worked. Nothing is
// received or counted after its beginning, so that what there is of an item stays the same
// in all accounts together, ends of estimates too.
type bench struct {
	*Shop
	total  map[string]Amount   // of each item
	closed map[string][]string // what a closed sub-assembly was like when it was closed
	last   map[string][]string // what each was like before the last step
}

var benchCodes = []string{"SA-10", "SA-20"}

func newBench(t *rapid.T, file string) *bench {
	shop, err := Open(file, Options{Create: true, Random: rand.NewChaCha8([32]byte{2}), Clock: func() time.Time { return time.Date(2026, 3, 18, 9, 0, 0, 0, time.UTC) }})
	if err != nil {
		t.Fatal(err)
	}
	shop.file.SetUnsynced(true)
	b := &bench{Shop: shop, closed: map[string][]string{}, last: map[string][]string{}}
	must := func(_ any, err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	bin, _, err := shop.AddPlace(Place{Kind: Bin, Name: "A-12"})
	must(nil, err)
	for item, n := range map[string]int64{"AN3-5A": 28, "AN3-6A": 12, "MS24665-132": 16} {
		must(shop.Count(StockKey{Item: item, Place: bin.ID}, measure.Pieces(n)))
	}
	must(shop.Weigh(StockKey{Item: "AN426AD3-3.5", Place: bin.ID}, Amount{Quantity: measure.Pieces(60), Low: measure.Pieces(58), High: measure.Pieces(63)}))
	for _, code := range benchCodes {
		must(shop.PutSubAssembly(SubAssembly{Code: code}, Requirement{Called: "AN3-5A", Needed: measure.Pieces(6)},
			Requirement{Called: "MS24665-132", Needed: measure.Pieces(4)}, Requirement{Called: "AN426AD3-3.5", Kind: AsRequired}))
	}
	b.total = b.accounts(t)
	b.look(t)
	return b
}

// accounts are how much of each item is in stock and in trays, fitted, and gone.
func (b *bench) accounts(t *rapid.T) map[string]Amount {
	sum := map[string]Amount{}
	add := func(item string, a Amount) {
		s, err := sum[item].Add(a)
		if err != nil {
			t.Fatal(err)
		}
		sum[item] = s
	}
	heaps, err := b.Stock()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range heaps {
		if _, once := hardware.SingleUse(h.Item); once && h.Condition == Removed {
			t.Fatalf("%s was removed and lies about, and is used once", h.Item)
		}
		add(h.Item, h.Amount)
	}
	fitted, err := b.Fitted("")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fitted {
		if f.Amount.Sign() < 0 {
			t.Fatalf("%s of %s is fitted", f.Amount, f.Item)
		}
		add(f.Item, f.Amount)
	}
	gone, err := b.Gone("")
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range gone {
		add(g.Item, g.Amount)
	}
	return sum
}

// state is what a sub-assembly is like: what is called, and what is fitted for it.
func (b *bench) state(t *rapid.T, code string) []string {
	lines := []string{}
	needs, err := b.Requirements(code)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range needs {
		lines = append(lines, fmt.Sprintf("%s %s %s %v", r.Name(), r.Item, r.Quantity(), r.InForce()))
	}
	fitted, err := b.Fitted(code)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fitted {
		if f.Requirement != "" && !slices.ContainsFunc(needs, func(r Requirement) bool { return r.Name() == f.Requirement }) {
			t.Fatalf("%s has fits and is gone", f.Requirement)
		}
		lines = append(lines, fmt.Sprintf("%s %s %s %s", f.Requirement, f.Item, f.Lot, f.Amount))
	}
	return lines
}

// look holds what must be so after every step.
func (b *bench) look(t *rapid.T) {
	if d := cmp.Diff(b.total, b.accounts(t)); d != "" {
		t.Fatalf("in stock, fitted and gone (-before +now):\n%s", d)
	}
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
	b.decided(t)
}

// decided holds that nothing went in by a decision that was not in force.
func (b *bench) decided(t *rapid.T) {
	fits, err := b.Fits("")
	if err != nil {
		t.Fatal(err)
	}
	decisions, err := b.Decisions()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fits {
		if f.Decision == "" || f.Amount.Sign() < 0 {
			continue
		}
		i := slices.IndexFunc(decisions, func(d Decision) bool { return d.Name() == f.Decision })
		if i < 0 || !slices.Contains(decisions[i].Requirements, f.Requirement) || decisions[i].Item != f.Item {
			t.Fatalf("%s went in for %s by %s, which does not say so", f.Item, f.Requirement, f.Decision)
		}
	}
}

// step does something to one sub-assembly, which leaves the other as it is.
func (b *bench) step(t *rapid.T, do func(code string) error) {
	code := rapid.SampledFrom(benchCodes).Draw(t, "code")
	other := benchCodes[1-slices.Index(benchCodes, code)]
	before := b.last[other]
	_ = do(code) // refused or not: what must be so is so after it
	if now := b.state(t, other); !slices.Equal(before, now) {
		t.Fatalf("work on %s changed %s:\n%s", code, other, cmp.Diff(before, now))
	}
}

// heap is a transfer of some heap, to some place, for some reason.
func (b *bench) heap(t *rapid.T) Transfer {
	heaps, err := b.Stock()
	if err != nil || len(heaps) == 0 {
		return Transfer{}
	}
	places, err := b.Places()
	if err != nil {
		t.Fatal(err)
	}
	return Transfer{
		StockKey: rapid.SampledFrom(heaps).Draw(t, "heap").StockKey, To: rapid.SampledFrom(places).Draw(t, "to").ID,
		Quantity: measure.Pieces(rapid.Int64Range(0, 9).Draw(t, "n")), Reason: rapid.SampledFrom([]string{"", "spare"}).Draw(t, "reason"),
	}
}

func (b *bench) name(t *rapid.T, letter string) string {
	return fmt.Sprintf("%s-%d", letter, rapid.IntRange(1, 12).Draw(t, letter))
}

func (b *bench) steps() map[string]func(*rapid.T) {
	on := func(do func(t *rapid.T, code string) error) func(*rapid.T) {
		return func(t *rapid.T) { b.step(t, func(code string) error { return do(t, code) }) }
	}
	only := func(_ any, err error) error { return err }
	steps := map[string]func(*rapid.T){
		"pull":     on(func(t *rapid.T, code string) error { return only(b.Pull(code, b.heap(t))) }),
		"fit":      on(func(t *rapid.T, code string) error { return only(b.Fit(code, Fitting{Transfer: b.heap(t)})) }),
		"put back": on(func(t *rapid.T, code string) error { return only(b.PutBack(code, b.heap(t))) }),
		"remove": on(func(t *rapid.T, code string) error {
			fitted, err := b.Fitted(code)
			if err != nil || len(fitted) == 0 {
				return err
			}
			f := rapid.SampledFrom(fitted).Draw(t, "fitted")
			return only(b.Remove(Removal{Fitted: f, Quantity: measure.Pieces(rapid.Int64Range(0, 6).Draw(t, "n")), AsGood: rapid.Bool().Draw(t, "as good")}))
		}),
		"release": on(func(t *rapid.T, _ string) error { return only(b.Release(b.heap(t), "Partner")) }),
		"scrap": on(func(t *rapid.T, _ string) error {
			return only(b.Scrap(b.heap(t), rapid.SampledFrom([]string{"lost", "bent"}).Draw(t, "why")))
		}),
		"found": on(func(t *rapid.T, _ string) error {
			lost, err := b.LookedFor("")
			if err != nil || len(lost) == 0 {
				return err
			}
			return only(b.Found(lost[0].Name(), measure.Quantity{}, b.heap(t).To, LotsApart))
		}),
		"replace": on(func(t *rapid.T, code string) error {
			needs, err := b.Requirements(code)
			if err != nil {
				return err
			}
			r := rapid.SampledFrom(needs).Draw(t, "requirement")
			_, _, err = b.ReplaceRequirement(r.Name(), Requirement{Called: r.Called, Needed: measure.Pieces(rapid.Int64Range(1, 9).Draw(t, "n"))})
			return err
		}),
		"decide": on(func(t *rapid.T, code string) error {
			needs, err := b.Requirements(code)
			if err != nil {
				return err
			}
			r := rapid.SampledFrom(needs).Draw(t, "requirement").Name()
			_, _, err = b.Decide(Decision{Kind: OtherItem, Requirements: []string{r}, Item: "AN3-6A", Who: "kit maker"})
			return err
		}),
		"fit another": on(func(t *rapid.T, code string) error {
			other := b.heap(t)
			other.Item = "AN3-6A"
			return only(b.Fit(code, Fitting{Transfer: other}))
		}),
		"lose": on(func(t *rapid.T, code string) error {
			heap := b.heap(t)
			if _, err := b.Pull(code, heap); err != nil {
				return err
			}
			subs, err := b.SubAssemblies()
			if err != nil {
				return err
			}
			heap.Place = subs[slices.Index(benchCodes, code)].Place
			return only(b.Scrap(heap, "lost"))
		}),
		"withdraw": on(func(t *rapid.T, _ string) error {
			_, _, err := b.Decide(Decision{Kind: Withdrawal, Withdraws: b.name(t, "D"), Who: "kit maker"})
			return err
		}),
		"close": on(func(t *rapid.T, code string) error {
			open, _, err := b.Closing(code, nil)
			answers := map[string]string{}
			for _, o := range open {
				if rapid.IntRange(0, 9).Draw(t, "answered") > 0 {
					answers[o.Key] = "as it is"
				}
			}
			_, refused := b.CloseSubAssembly(code, answers)
			if len(answers) < len(open) && refused == nil && err == nil {
				t.Fatalf("%s is closed with %d open and %d answers", code, len(open), len(answers))
			}
			return refused
		}),
		"reopen": on(func(_ *rapid.T, code string) error { return only(b.ReopenSubAssembly(code, "a look")) }),
	}
	for name, do := range map[string]func() (Entry, error){"undo": b.undo, "redo": b.Redo} {
		steps[name] = func(*rapid.T) {
			_, _ = do()
			clear(b.closed) // what was closed may be as it was before
		}
	}
	maps.Copy(steps, map[string]func(*rapid.T){"": b.look})
	return steps
}

// undo takes back what was done at the bench, and leaves how the shop was set up.
func (b *bench) undo() (Entry, error) {
	e, found, err := b.Undoable()
	if err != nil || !found || e.Seq <= 9 {
		return e, err
	}
	return b.Undo()
}

// Whatever is worked on two sub-assemblies: of every item what is in stock, fitted and gone
// stays what there was, ends of estimates too; nothing is fitted below zero; what was used
// once never lies about; a requirement with fits stays; a closed sub-assembly stays as it
// is; nothing goes in by a decision that does not say so; work on one leaves the other.
func TestBenchKeepsWhatHolds(t *testing.T) {
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		b := newBench(rt, filepath.Join(dir, fmt.Sprintf("%d.stow", n)))
		defer b.Close()
		rt.Repeat(b.steps())
		(&model{shop: b.Shop}).whole(rt)
	})
}
