package store

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"stowright/store/build"
	"stowright/store/disk"
	"stowright/store/measure"
)

// bench is a shop with two sub-assemblies of two aircraft, in which random evenings are
// worked.
type bench struct {
	*Shop
	head   disk.End            // the newest entry at the last look
	setup  uint64              // the newest entry of its beginning, which no undo takes back
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
	_, _, err = shop.AddPlace(Place{Kind: Bin, Name: "A-13"})
	must(nil, err)
	for _, lot := range []struct {
		item string
		n    int64
	}{{"AN3-5A", 28}, {"AN3-6A", 12}, {"MS24665-132", 16}, {"NAS1149F0363P", 20}} {
		must(shop.Count(StockKey{Item: lot.item, Place: bin.ID}, measure.Pieces(lot.n)))
	}
	must(shop.Weigh(StockKey{Item: "AN426AD3-3.5", Place: bin.ID}, Amount{Quantity: measure.Pieces(60), Low: measure.Pieces(58), High: measure.Pieces(63)}))
	must(shop.PutEquivalent(Equivalent{Old: "AN960-10", New: "NAS1149F0363P", Source: "letter"}))
	for i, code := range benchCodes {
		aircraft := []string{"Q", "T"}[i]
		must(shop.PutAircraft(Aircraft{Name: aircraft}))
		must(shop.LogHours(aircraft, DateOf(shop.Now()), build.Hours(100+i)))
		must(shop.PutSubAssembly(SubAssembly{Code: code, Aircraft: aircraft}, Requirement{Called: "AN3-5A", Needed: measure.Pieces(6)},
			Requirement{Called: "MS24665-132", Needed: measure.Pieces(4)}, Requirement{Called: "AN960-10", Needed: measure.Pieces(12)},
			Requirement{Called: "AN426AD3-3.5", Needed: measure.Pieces(int64(40 * i)), Kind: []RequirementKind{AsRequired, ExactNeed}[i]}))
	}
	b.setup, err = shop.Newest()
	must(nil, err)
	b.look(t)
	return b
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

// heap is a transfer of some heap, to some place, for some reason; where there are such that
// suit a step, mostly of one of those.
func (b *bench) heap(t *rapid.T, suits func(h Holding, p Place) bool) Transfer {
	heaps, err := b.Stock()
	if err != nil || len(heaps) == 0 {
		return Transfer{}
	}
	places, err := b.Places()
	if err != nil {
		t.Fatal(err)
	}
	var suitable []Holding
	for _, h := range heaps {
		if suits(h, places[slices.IndexFunc(places, func(p Place) bool { return p.ID == h.Place })]) {
			suitable = append(suitable, h)
		}
	}
	if len(suitable) > 0 && rapid.IntRange(0, 5).Draw(t, "any") > 0 {
		heaps = suitable
	}
	heap := rapid.SampledFrom(heaps).Draw(t, "heap")
	if rapid.IntRange(0, 5).Draw(t, "anywhere") > 0 {
		places = slices.DeleteFunc(places, func(p Place) bool { return !p.Kind.Storage() })
	}
	most := min(10, heap.Amount.Micro/1_000_000+1) // one more than there is, of few
	return Transfer{
		StockKey: heap.StockKey, To: rapid.SampledFrom(places).Draw(t, "to").ID, Meeting: LotsApart,
		Quantity: measure.Pieces(rapid.Int64Range(0, most).Draw(t, "n")), Reason: rapid.SampledFrom([]string{"", "spare", "spare"}).Draw(t, "reason"),
	}
}

// What suits a step.
func stored(h Holding, p Place) bool { return p.Kind.Storage() && h.Condition == Good }

func good(h Holding, _ Place) bool { return h.Condition == Good }

func anyHeap(Holding, Place) bool { return true }

func out(h Holding, _ Place) bool { return h.Condition == Removed }

func apart(h Holding, _ Place) bool { return h.Condition.Alerts() != nil }

func inTrayOf(code string) func(Holding, Place) bool {
	return func(_ Holding, p Place) bool { return p.Kind == SubAssemblyKind && p.Name == code }
}

func (b *bench) name(t *rapid.T, letter string) string {
	return fmt.Sprintf("%s-%d", letter, rapid.IntRange(1, 12).Draw(t, letter))
}

func (b *bench) steps() map[string]func(*rapid.T) {
	only := func(_ any, err error) error { return err }
	work := map[string]func(t *rapid.T, code string) error{
		"pull":     func(t *rapid.T, code string) error { return only(b.Pull(code, b.heap(t, stored))) },
		"fit":      func(t *rapid.T, code string) error { return only(b.Fit(code, Fitting{Transfer: b.heap(t, good)})) },
		"put back": func(t *rapid.T, code string) error { return only(b.PutBack(code, b.heap(t, inTrayOf(code)))) },
		"move":     func(t *rapid.T, _ string) error { return only(b.Move(b.heap(t, anyHeap))) },
		"remove": func(t *rapid.T, code string) error {
			fitted, err := b.Fitted(code)
			if err != nil || len(fitted) == 0 {
				return err
			}
			f := rapid.SampledFrom(fitted).Draw(t, "fitted")
			return only(b.Remove(Removal{Fitted: f, Quantity: measure.Pieces(rapid.Int64Range(0, 6).Draw(t, "n")), AsGood: rapid.Bool().Draw(t, "as good")}))
		},
		"release": func(t *rapid.T, _ string) error { return only(b.Release(b.heap(t, out), "Partner")) },
		"scrap": func(t *rapid.T, _ string) error {
			return only(b.Scrap(b.heap(t, anyHeap), rapid.SampledFrom([]string{"lost", "bent"}).Draw(t, "why")))
		},
		"send back": func(t *rapid.T, _ string) error { return only(b.SendBack(b.heap(t, anyHeap), "Bolt works", "bent")) },
		"found": func(t *rapid.T, _ string) error {
			lost, err := b.LookedFor("")
			if err != nil || len(lost) == 0 {
				return err
			}
			return only(b.Found(lost[0].Name(), measure.Quantity{}, b.heap(t, anyHeap).To, LotsApart))
		},
		"decide": func(t *rapid.T, code string) error {
			needs, err := b.Requirements(code)
			if err != nil {
				return err
			}
			r := rapid.SampledFrom(needs).Draw(t, "requirement").Name()
			_, _, err = b.Decide(Decision{Kind: OtherItem, Requirements: []string{r}, Item: "AN3-6A", Who: "kit maker"})
			return err
		},
		"fit another": func(t *rapid.T, code string) error {
			other := b.heap(t, func(h Holding, _ Place) bool { return h.Item == "AN3-6A" && h.Condition == Good })
			return only(b.Fit(code, Fitting{Transfer: other}))
		},
		"lose": func(t *rapid.T, code string) error {
			heap := b.heap(t, stored)
			if _, err := b.Pull(code, heap); err != nil {
				return err
			}
			subs, err := b.SubAssemblies()
			if err != nil {
				return err
			}
			heap.Place = subs[slices.IndexFunc(subs, func(s SubAssembly) bool { return s.Code == code })].Place
			return only(b.Scrap(heap, "lost"))
		},
		"withdraw": func(t *rapid.T, _ string) error {
			_, _, err := b.Decide(Decision{Kind: Withdrawal, Withdraws: b.name(t, "D"), Who: "kit maker"})
			return err
		},
		"close":  b.shut,
		"reopen": func(_ *rapid.T, code string) error { return only(b.ReopenSubAssembly(code, "a look")) },
	}
	maps.Copy(work, b.planning())
	maps.Copy(work, b.alerts())
	steps := map[string]func(*rapid.T){}
	for name, do := range work {
		steps[name] = func(t *rapid.T) { b.step(t, name, do) }
		if often := []string{"pull", "fit", "remove", "put back"}; slices.Contains(often, name) {
			steps[name+", once more"] = steps[name]
		}
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

// shut closes a sub-assembly with an answer to most of what is open, and holds that it is
// not closed with less than one to each.
func (b *bench) shut(t *rapid.T, code string) error {
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
}

// planning are steps that change what is needed, when and in which order, and what comes.
func (b *bench) planning() map[string]func(t *rapid.T, code string) error {
	return map[string]func(t *rapid.T, code string) error{
		"replace": func(t *rapid.T, code string) error {
			needs, err := b.Requirements(code)
			if err != nil {
				return err
			}
			r := rapid.SampledFrom(needs).Draw(t, "requirement")
			_, _, err = b.ReplaceRequirement(r.Name(), Requirement{Called: r.Called, Needed: measure.Pieces(rapid.Int64Range(1, 30).Draw(t, "n"))})
			return err
		},
		"order": func(_ *rapid.T, code string) error {
			_, err := b.OrderSubAssemblies(code)
			return err
		},
		"let go": func(t *rapid.T, code string) error {
			_, err := b.LetGo(code, rapid.Bool().Draw(t, "let"))
			return err
		},
		"plan": func(t *rapid.T, code string) error {
			subs, err := b.SubAssemblies()
			if err != nil {
				return err
			}
			sub := subs[slices.IndexFunc(subs, func(s SubAssembly) bool { return s.Code == code })]
			sub.Planned = b.day(t)
			_, err = b.PutSubAssembly(sub)
			return err
		},
		"arrive": func(t *rapid.T, _ string) error {
			heap := b.heap(t, anyHeap)
			heap.Lot, heap.Place = "", heap.To
			_, err := b.PutIn(heap.StockKey, Exact(measure.Pieces(rapid.Int64Range(1, 9).Draw(t, "n"))), rapid.SampledFrom([]Meeting{LotsApart, PourLots}).Draw(t, "meeting"))
			return err
		},
		"date": func(t *rapid.T, _ string) error {
			lots, err := b.Lots("")
			if err != nil {
				return err
			}
			lot := rapid.SampledFrom(lots).Draw(t, "lot")
			facts := lot.Facts
			facts.Expiry = &Expiry{Day: b.day(t), Source: "container"}
			_, err = b.DescribeLot(lot.Number, facts)
			return err
		},
	}
}

// day is one of the next days.
func (b *bench) day(t *rapid.T) Date {
	return b.Today().AddDays(rapid.IntRange(0, 9).Draw(t, "days"))
}

// alerts are steps that set stock apart and release it.
func (b *bench) alerts() map[string]func(t *rapid.T, code string) error {
	return map[string]func(t *rapid.T, code string) error{
		"alert": func(t *rapid.T, _ string) error {
			if rapid.IntRange(0, 2).Draw(t, "seldom") > 0 {
				return nil
			}
			item := rapid.SampledFrom([]string{"AN3-5A", "MS24665-132"}).Draw(t, "item")
			_, _, err := b.Alert(rapid.Uint64Range(0, 2).Draw(t, "number"), "Bulletin", Issue{Item: item})
			return err
		},
		"answer": func(t *rapid.T, _ string) error {
			if _, _, err := b.Decide(Decision{Kind: AlertAnswer, Who: "kit maker"}); err != nil {
				return err
			}
			decisions, err := b.Decisions()
			if err != nil {
				return err
			}
			_, err = b.AnswerAlert(rapid.Uint64Range(1, 2).Draw(t, "number"), decisions[len(decisions)-1].Name(), b.heap(t, apart).Lot)
			return err
		},
	}
}

// undo takes back what was done at the bench, and leaves how the shop was set up.
func (b *bench) undo() (Entry, error) {
	e, found, err := b.Undoable()
	if err != nil || !found || e.Seq <= b.setup {
		return e, err
	}
	return b.Undo()
}

// Whatever is planned, pulled, fitted, put back, removed, comes, is set apart and undone for
// two sub-assemblies of two aircraft, what must hold holds after every step; see laws.
func TestBenchKeepsWhatHolds(t *testing.T) {
	t.Parallel()
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(rt *rapid.T) {
		n++
		b := newBench(rt, filepath.Join(dir, fmt.Sprintf("%d.stow", n)))
		defer b.Close()
		for range 3 { // a long evening: what came out has to be pulled and fitted first
			rt.Repeat(b.steps())
		}
		(&model{shop: b.Shop}).whole(rt)
	})
}
