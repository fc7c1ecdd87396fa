package build

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"stowright/store/measure"
)

// randomReading is a shop of a size, with everything in it that promising goes by.
func randomReading(rnd *rand.Rand, subs, items, requirements int) *Reading {
	r := &Reading{
		Today: march18, Stock: map[string][]Heap{}, Expected: map[string][]Expected{}, Places: map[string]Place{},
		Aircraft: map[string]Aircraft{"Q": {Name: "Q"}, "T": {Name: "T", Certificate: StandardCategory}},
	}
	name := func() string { return fmt.Sprintf("I-%05d", rnd.IntN(items)) }
	for i := range subs {
		s := SubAssembly{Code: fmt.Sprintf("SA-%03d", i), Aircraft: "Q", LetGo: rnd.IntN(12) == 0}
		if rnd.IntN(6) == 0 {
			s.Aircraft = "T"
		}
		if rnd.IntN(3) == 0 {
			s.Planned = march18.AddDays(rnd.IntN(300))
		}
		if rnd.IntN(20) == 0 {
			s.Closed = march18
		}
		r.SubAssemblies = append(r.SubAssemblies, s)
	}
	for i := range requirements {
		s := &r.SubAssemblies[i%subs]
		item := name()
		q := Requirement{ID: fmt.Sprintf("R-%d", i), Called: item, Item: item, Needed: measure.Pieces(1 + rnd.Int64N(20))}
		if rnd.IntN(8) == 0 {
			q.Fitted = []Fit{{Item: item, Amount: pieces(rnd.Int64N(9))}}
		}
		s.Requirements = append(s.Requirements, q)
	}
	for i := range items {
		item := fmt.Sprintf("I-%05d", i)
		for k := range 1 + rnd.IntN(3) {
			r.Stock[item] = append(r.Stock[item], randomHeap(rnd, r, fmt.Sprintf("L-%d-%d", i, k)))
		}
		if rnd.IntN(10) == 0 {
			r.Expected[item] = []Expected{{By: BackOrdered, Quantity: measure.Pieces(5)}}
		}
	}
	return r
}

func randomHeap(rnd *rand.Rand, r *Reading, lot string) Heap {
	n := rnd.Int64N(60)
	h := Heap{Place: fmt.Sprintf("P-%d", rnd.IntN(400)), Lot: lot, Amount: pieces(n)}
	switch rnd.IntN(8) {
	case 0:
		h.Amount.Low, h.Amount.High = measure.Pieces(n-min(n, 3)), measure.Pieces(n+4)
	case 1:
		h.Condition = Damaged
	case 2:
		h.Perishable = true
		h.Expires = march18.AddDays(rnd.IntN(200) - 40)
	case 3:
		h.Origin = ApprovedProduction
	case 4:
		h.Tray = r.SubAssemblies[rnd.IntN(len(r.SubAssemblies))].Code
	}
	return h
}

// What is promised was there, may be used, and is promised once; and what changes is
// worked out as if all were worked out anew.
func TestPromisesNeverExceedStock(t *testing.T) {
	for seed := range uint64(300) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		r := randomReading(rnd, 2+rnd.IntN(8), 1+rnd.IntN(6), 4+rnd.IntN(40))
		b := NewBoard(r)
		checkPromises(t, seed, r, b)
		item := fmt.Sprintf("I-%05d", rnd.IntN(len(r.Stock)))
		for i := range r.Stock[item] {
			r.Stock[item][i] = randomHeap(rnd, r, r.Stock[item][i].Lot)
		}
		for i := range r.SubAssemblies {
			for j := range r.SubAssemblies[i].Requirements {
				if q := &r.SubAssemblies[i].Requirements[j]; q.Item == item && rnd.IntN(3) == 0 {
					q.Fitted = append(q.Fitted, Fit{Item: item, Amount: pieces(1)})
				}
			}
		}
		b.Update(item)
		checkPromises(t, seed, r, b)
		if anew := NewBoard(r); !reflect.DeepEqual(anew.Statuses(), b.Statuses()) {
			t.Fatalf("seed %d: after a change of %s the board is not what a new one is", seed, item)
		}
		if t.Failed() {
			return
		}
	}
}

func checkPromises(t *testing.T, seed uint64, r *Reading, b *Board) {
	t.Helper()
	promised := map[string]int64{} // by lot: a heap of a reading here has one of its own
	for i, s := range b.Statuses() {
		for _, n := range s.Needs {
			sum := int64(0)
			for _, p := range n.Promised {
				promised[p.Heap.Lot] += p.Quantity.Micro
				sum += p.Quantity.Micro
				switch {
				case p.Heap.Tray != "", p.Heap.Condition != Good, p.Quantity.Sign() <= 0:
					t.Errorf("seed %d: %s is promised %+v", seed, s.Code, p)
				case !p.Heap.Expires.IsZero() && p.Heap.Expires.DaysUntil(s.Day) > 0:
					t.Errorf("seed %d: %s is promised what expires on %s for %s", seed, s.Code, p.Heap.Expires, s.Day)
				case r.SubAssemblies[i].Aircraft == "T" && p.Heap.Origin != ApprovedProduction:
					t.Errorf("seed %d: %s for a standard aircraft is promised %q", seed, s.Code, p.Heap.Origin)
				}
			}
			if met := sum == n.Open.Micro; met != n.Met && s.State != Closed {
				t.Errorf("seed %d: %s %s promised %d of %s and met %v", seed, s.Code, n.Item, sum, n.Open, n.Met)
			}
			if sum > n.Open.Micro || n.Open.Sign() < 0 {
				t.Errorf("seed %d: %s %s is promised %d of %s", seed, s.Code, n.Item, sum, n.Open)
			}
		}
		if s.State.Startable() != (len(s.Blockers) == 0 && len(s.Needs) > 0 && s.State != Closed) {
			t.Errorf("seed %d: %s is %s with %d blockers", seed, s.Code, s.State, len(s.Blockers))
		}
	}
	for item, heaps := range r.Stock {
		for _, h := range heaps {
			if promised[h.Lot] > h.Amount.Low.Micro {
				t.Errorf("seed %d: of %s in %s %d are promised and %s are surely there", seed, item, h.Place, promised[h.Lot], h.Amount.Low)
			}
		}
	}
}

// within reports what the rounds of a benchmark took beside the limit that holds on
// the machine of BENCHMARKS.md, and fails over it.
func within(b *testing.B, limit time.Duration, round func()) {
	b.Helper()
	var times []time.Duration
	for b.Loop() {
		start := time.Now()
		round()
		times = append(times, time.Since(start))
	}
	slices.Sort(times)
	median := times[len(times)/2]
	b.ReportMetric(float64(times[0].Microseconds())/1000, "ms/best")
	b.ReportMetric(float64(median.Microseconds())/1000, "ms/p50")
	b.ReportMetric(float64(limit.Microseconds())/1000, "ms-limit")
	if median > limit {
		b.Errorf("half of %d rounds took %s and more, the best %s: the limit is %s", len(times), median, times[0], limit)
	}
}

func BenchmarkReadiness(b *testing.B) {
	r := randomReading(rand.New(rand.NewPCG(1, 1)), 200, 20_000, 12_000)
	b.Run("all", func(b *testing.B) {
		within(b, 100*time.Millisecond, func() { NewBoard(r) })
	})
	// One change, of the item that most ask for.
	hot := randomReading(rand.New(rand.NewPCG(1, 1)), 200, 20_000, 12_000)
	for i := range hot.SubAssemblies {
		hot.SubAssemblies[i].Requirements[0].Item = "I-00000"
	}
	board := NewBoard(hot)
	b.Run("change", func(b *testing.B) {
		within(b, 5*time.Millisecond, func() { board.Update("I-00000") })
	})
	crowded := randomReading(rand.New(rand.NewPCG(1, 1)), 200, 60, 12_000)
	b.Run("crowded", func(b *testing.B) {
		within(b, 100*time.Millisecond, func() { NewBoard(crowded) })
	})
}
