package build

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"stowright/store/measure"
)

// Laws that hold of any shop: what changes the answers, and what must not.

// plainReading is a random shop without what makes one piece unlike another: all is
// good, counted, undated and of one aircraft. Piece counts alone decide.
func plainReading(rnd *rand.Rand, subs, items, requirements int) *Reading {
	r := randomReading(rnd, subs, items, requirements)
	for i := range r.SubAssemblies {
		s := &r.SubAssemblies[i]
		s.Aircraft, s.LetGo, s.Closed, s.Planned = "Q", false, measure.Date{}, measure.Date{}
		for k := range s.Requirements {
			s.Requirements[k].Fitted = nil
		}
	}
	for item, heaps := range r.Stock {
		for i, h := range heaps {
			heaps[i] = Heap{Place: h.Place, Lot: h.Lot, Amount: measure.Exact(h.Amount.Quantity)}
		}
		r.Stock[item] = heaps
	}
	return r
}

// served is how many pieces of its needs a sub-assembly is promised, by requirement.
func served(s Status) map[string]int64 {
	out := map[string]int64{}
	for _, n := range s.Needs {
		for _, p := range n.Promised {
			out[n.Requirement] += p.Quantity.Micro / 1_000_000
		}
	}
	return out
}

// A sharing worked out by hand: in the builder's order, each need takes what is left.
func TestPromisesAreFirstComeFirstServed(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 11))
		r := plainReading(rnd, 2+rnd.IntN(8), 1+rnd.IntN(6), 4+rnd.IntN(40))
		left := map[string]int64{}
		for item, heaps := range r.Stock {
			for _, h := range heaps {
				left[item] += h.Amount.Micro / 1_000_000
			}
		}
		b := NewBoard(r)
		for i, s := range b.Statuses() {
			got := served(s)
			for _, q := range r.SubAssemblies[i].Requirements {
				want := min(left[q.Item], q.Needed.Micro/1_000_000)
				left[q.Item] -= want
				if got[q.ID] != want {
					t.Fatalf("seed %d: %s is promised %d of %s for %s, want %d", seed, s.Code, got[q.ID], q.Item, q.ID, want)
				}
			}
		}
		for item, n := range left {
			if _, free, _ := b.Free(item, measure.Each); free != pieces(n) {
				t.Fatalf("seed %d: %s of %s are free, want %d", seed, free, item, n)
			}
		}
	}
}

// More stock never makes a sub-assembly wait that could be started without it.
func TestMoreStockNeverBlocks(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 12))
		r := plainReading(rnd, 2+rnd.IntN(8), 1+rnd.IntN(6), 4+rnd.IntN(40))
		before := startable(NewBoard(r))
		item := fmt.Sprintf("I-%05d", rnd.IntN(len(r.Stock)))
		r.Stock[item] = append(r.Stock[item], heap("P-new", 1+rnd.Int64N(40)))
		after := startable(NewBoard(r))
		for _, code := range before {
			if !slices.Contains(after, code) {
				t.Fatalf("seed %d: with more %s, %s cannot be started any more", seed, item, code)
			}
		}
	}
}

// What is built later takes nothing from what is built earlier.
func TestLaterTakesNothingFromEarlier(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 13))
		r := randomReading(rnd, 3+rnd.IntN(6), 1+rnd.IntN(6), 8+rnd.IntN(40))
		for i := range r.SubAssemblies { // those that let go are served last, wherever they stand
			r.SubAssemblies[i].LetGo, r.SubAssemblies[i].Aircraft = false, "Q"
		}
		whole := NewBoard(r)
		cut := *r
		cut.SubAssemblies = r.SubAssemblies[:len(r.SubAssemblies)-1]
		without := NewBoard(&cut)
		for i, s := range without.Statuses() {
			if got := whole.Statuses()[i]; !reflect.DeepEqual(served(got), served(s)) || got.State != s.State {
				t.Fatalf("seed %d: %s is %s, and %s without the last one", seed, s.Code, got.State, s.State)
			}
		}
	}
}

// How a packing list or a place is called is nothing that readiness goes by.
func TestNamesDecideNothing(t *testing.T) {
	for seed := range uint64(100) {
		rnd := rand.New(rand.NewPCG(seed, 14))
		r := randomReading(rnd, 3+rnd.IntN(6), 1+rnd.IntN(6), 8+rnd.IntN(40))
		before := NewBoard(r)
		renamed := *r
		renamed.Stock = map[string][]Heap{}
		for item, heaps := range r.Stock {
			for _, h := range heaps {
				h.Place, h.LotName = "Q-"+h.Place, "lot of "+item
				renamed.Stock[item] = append(renamed.Stock[item], h)
			}
		}
		after := NewBoard(&renamed)
		for i, s := range before.Statuses() {
			if got := after.Statuses()[i]; got.State != s.State || !reflect.DeepEqual(served(got), served(s)) {
				t.Fatalf("seed %d: %s is %s under other names, and was %s", seed, s.Code, got.State, s.State)
			}
		}
	}
}

// A board only looks: the reading is afterwards what it was.
func TestBoardChangesNothing(t *testing.T) {
	same := func(seed uint64) *Reading {
		return randomReading(rand.New(rand.NewPCG(seed, 15)), 6, 5, 40)
	}
	for seed := range uint64(50) {
		r := same(seed)
		b := NewBoard(r)
		b.Cheapest()
		b.Forecast(nil)
		if _, err := b.Order(); err != nil {
			t.Fatal(err)
		}
		for _, s := range b.Statuses() {
			if _, err := b.Pull(nil, s.Code); err != nil {
				t.Fatal(err)
			}
			if _, _, err := b.Closing(s.Code, Records{}); err != nil {
				t.Fatal(err)
			}
		}
		if !reflect.DeepEqual(r, same(seed)) {
			t.Fatalf("seed %d: the reading was changed", seed)
		}
	}
}

// A pull list takes just what is promised, each stop once, and what it is short of
// makes up the rest.
func TestPullListIsWhatIsPromised(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 16))
		r := randomReading(rnd, 3+rnd.IntN(6), 1+rnd.IntN(6), 8+rnd.IntN(40))
		b := NewBoard(r)
		var codes []string
		for _, s := range b.Statuses() {
			if rnd.IntN(2) == 0 {
				codes = append(codes, s.Code)
			}
		}
		list, err := b.Pull(nil, codes...)
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]int64{} // by requirement
		for _, code := range codes {
			s, _ := b.Status(code)
			for _, n := range s.Needs {
				for _, p := range n.Promised {
					want[n.Requirement] += p.Quantity.Micro
				}
			}
		}
		got, seen := map[string]int64{}, map[stopKey]bool{}
		for _, s := range list.Stops {
			key := stopKey{s.Place.ID, s.Item, s.Lot}
			if seen[key] {
				t.Fatalf("seed %d: %+v is gone to twice", seed, key)
			}
			seen[key] = true
			sum := int64(0)
			for _, f := range s.For {
				got[f.Requirement] += f.Quantity.Micro
				sum += f.Quantity.Micro
				if !slices.Contains(codes, f.Code) {
					t.Fatalf("seed %d: a stop for %s, which was not asked for", seed, f.Code)
				}
			}
			if sum != s.Quantity.Micro {
				t.Fatalf("seed %d: the trays of a stop take %d of %d", seed, sum, s.Quantity.Micro)
			}
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("seed %d: the stops take %v, promised is %v", seed, got, want)
		}
		for _, s := range list.Short {
			if s.Have.Micro != want[s.Requirement] || s.Have.Micro >= s.Needed.Micro {
				t.Fatalf("seed %d: short of %s: has %s of %s, promised %d", seed, s.Item, s.Have, s.Needed, want[s.Requirement])
			}
		}
	}
}

// Once what the order list says has come, everything that it unblocks can be started,
// and nothing is left to be ordered.
func TestOrderListIsEnough(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 17))
		r := plainReading(rnd, 2+rnd.IntN(8), 1+rnd.IntN(6), 4+rnd.IntN(40))
		r.Expected = map[string][]Expected{}
		r.Supply = map[string]Supply{}
		for item := range r.Stock {
			r.Supply[item] = Supply{Supplier: fmt.Sprintf("shop %d", rnd.IntN(2)), Pack: rnd.Int64N(12), Spare: SpareRule{Percent: rnd.IntN(20), Count: measure.Pieces(rnd.Int64N(4))}}
		}
		list := orderOf(t, r)
		var unblocked []string
		for _, s := range list.Suppliers {
			for _, l := range s.Lines {
				if l.Order.Micro < l.Buy.Micro || l.Order.Micro-l.Buy.Micro >= l.Pack*1_000_000 {
					t.Fatalf("seed %d: %s of %s are ordered in packs of %d", seed, l.Order, l.Buy, l.Pack)
				}
				unblocked = append(unblocked, l.Unblocks...)
				unblocked = append(unblocked, l.Helps...)
				r.Stock[l.Item] = append(r.Stock[l.Item], Heap{Place: "P-new", Amount: measure.Exact(l.Order)})
			}
		}
		b := NewBoard(r)
		for _, code := range unblocked {
			if s, _ := b.Status(code); !s.State.Startable() {
				t.Fatalf("seed %d: all that was ordered has come, and %s is %s", seed, code, s.Sentence)
			}
		}
		for _, s := range orderOf(t, r).Suppliers {
			t.Fatalf("seed %d: %d lines are still to be ordered of %s", seed, len(s.Lines), s.Name)
		}
	}
}

// What is owed and not late is never bought a second time.
func TestOwedIsNotBought(t *testing.T) {
	for seed := range uint64(100) {
		rnd := rand.New(rand.NewPCG(seed, 18))
		r := plainReading(rnd, 2+rnd.IntN(8), 1+rnd.IntN(6), 4+rnd.IntN(40))
		r.Expected = map[string][]Expected{}
		bought := map[string]int64{}
		for _, s := range orderOf(t, r).Suppliers {
			for _, l := range s.Lines {
				bought[l.Item] = l.Buy.Micro
			}
		}
		for item := range bought {
			r.Expected[item] = []Expected{{By: Ordered, Quantity: measure.Pieces(1 + rnd.Int64N(30))}}
		}
		then := map[string]int64{}
		for _, s := range orderOf(t, r).Suppliers {
			for _, l := range s.Lines {
				then[l.Item] = l.Buy.Micro
			}
		}
		for item, n := range bought {
			owed := r.Expected[item][0].Quantity.Micro
			if want := max(0, n-owed); then[item] != want {
				t.Fatalf("seed %d: of %s %d were to buy and %d are owed: now %d, want %d", seed, item, n, owed, then[item], want)
			}
		}
	}
}
