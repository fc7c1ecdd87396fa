package build

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"stowright/store/measure"
)

// What is ordered is the fewest packs with which what is here, owed and bought is what is
// needed and what is to be left over: counted up from none, pack by pack.
func TestOrderIsTheFewestPacks(t *testing.T) {
	for seed := range uint64(300) {
		rnd := rand.New(rand.NewPCG(seed, 31))
		r := plainReading(rnd, 1+rnd.IntN(6), 1+rnd.IntN(5), 2+rnd.IntN(20))
		r.Expected, r.Supply = map[string][]Expected{}, map[string]Supply{}
		need := map[string]int64{}
		for _, s := range r.SubAssemblies {
			for _, q := range s.Requirements {
				need[q.Item] += q.Needed.Micro / 1_000_000
			}
		}
		packs := map[string]int64{}
		for item, heaps := range r.Stock {
			u := Supply{Supplier: "shop", Pack: rnd.Int64N(9), Spare: SpareRule{Percent: rnd.IntN(30), Count: measure.Pieces(rnd.Int64N(6))}}
			if rnd.IntN(2) == 0 {
				u.Least = measure.Pieces(rnd.Int64N(40))
			}
			if rnd.IntN(2) == 0 {
				u.Minimum = measure.Pieces(rnd.Int64N(30))
			}
			r.Supply[item] = u
			here := int64(0)
			for _, h := range heaps {
				here += h.Amount.Micro / 1_000_000
			}
			if rnd.IntN(2) == 0 {
				owed := 1 + rnd.Int64N(20)
				r.Expected[item] = []Expected{{By: Ordered, Quantity: measure.Pieces(owed)}, {By: Missing, Quantity: measure.Pieces(7)}}
				here += owed
			}
			left := max((need[item]*int64(u.Spare.Percent)+99)/100, u.Spare.Count.Micro/1_000_000, u.Minimum.Micro/1_000_000)
			if need[item] == 0 && u.Minimum.Micro == 0 {
				continue // nobody asks for it
			}
			for here+packs[item]*max(1, u.Pack) < need[item]+left || packs[item] > 0 && packs[item]*max(1, u.Pack) < u.Least.Micro/1_000_000 {
				packs[item]++
			}
		}
		got := map[string]int64{}
		for _, s := range orderOf(t, r).Suppliers {
			for _, l := range s.Lines {
				got[l.Item] = l.Packs
			}
		}
		for item := range r.Stock {
			if got[item] != packs[item] {
				t.Fatalf("seed %d: %d packs of %s are ordered, want %d: need %d, stock %+v, owed %+v, by %+v", seed, got[item], item, packs[item], need[item], r.Stock[item], r.Expected[item], r.Supply[item])
			}
		}
	}
}

// mayPull is what is said to a booking, worked out from the reading alone; held is left out.
func mayPull(r *Reading, b Booking) Refused {
	var sub SubAssembly
	for _, s := range r.SubAssemblies {
		if s.Code == b.Code {
			sub = s
		}
	}
	var heap *Heap
	for i := range r.Stock[b.Item] {
		if h := &r.Stock[b.Item][i]; h.Place == b.Place && h.Lot == b.Lot {
			heap = h
		}
	}
	usable := func(h *Heap, on measure.Date) bool {
		return h.Condition == Good && (h.Expires.IsZero() || h.Expires.DaysUntil(on) <= 0) && (sub.Aircraft != "T" || h.Origin == ApprovedProduction)
	}
	expired := !heap.Expires.IsZero() && heap.Expires.DaysUntil(r.Today) > 0
	switch {
	case heap.Tray != "" && heap.Tray != b.Code && heap.Tray != b.Lender:
		return NotThere
	case heap.Condition != Good:
		return SetAside
	case expired && heap.Tray == b.Code:
		return PastInTray
	case expired:
		return PastDate
	case !usable(heap, r.Today):
		return NoDecision
	case heap.Amount.High.Micro < b.Quantity.Micro:
		return NotThere
	}
	called, open := false, int64(0)
	for _, q := range sub.Requirements {
		if q.Item == b.Item {
			called, open = true, open+max(0, q.Needed.Micro-fittedOf(q))
		}
	}
	day := sub.Planned
	if day.IsZero() {
		day = r.Today
	}
	for i := range r.Stock[b.Item] {
		if h := &r.Stock[b.Item][i]; h.Tray == b.Code && usable(h, day) {
			open -= min(open, h.Amount.Low.Micro)
		}
	}
	switch {
	case len(sub.Requirements) > 0 && !called:
		return Stranger
	case called && b.Quantity.Micro > open:
		return Excess
	}
	return ""
}

func fittedOf(q Requirement) (sum int64) {
	for _, f := range q.Fitted {
		sum += f.Amount.Micro
	}
	return sum
}

// What may go into a tray, and what a reason opens, by another way of working it out.
func TestMayPullByAnotherWay(t *testing.T) {
	seen := map[Refused]int{}
	for seed := range uint64(600) {
		rnd := rand.New(rand.NewPCG(seed, 32))
		r := randomReading(rnd, 1+rnd.IntN(6), 1+rnd.IntN(5), 1+rnd.IntN(20))
		for i := range r.SubAssemblies {
			r.SubAssemblies[i].Closed = measure.Date{} // which the shop itself refuses
		}
		board := NewBoard(r)
		for range 10 {
			heaps := r.Stock[fmt.Sprintf("I-%05d", rnd.IntN(len(r.Stock)))]
			h := heaps[rnd.IntN(len(heaps))]
			booking := Booking{Code: r.SubAssemblies[rnd.IntN(len(r.SubAssemblies))].Code, Place: h.Place, Lot: h.Lot, Quantity: measure.Pieces(1 + rnd.Int64N(25))}
			for item, all := range r.Stock {
				if &all[0] == &heaps[0] {
					booking.Item = item
				}
			}
			if rnd.IntN(3) == 0 {
				booking.Lender = h.Tray
			}
			want := mayPull(r, booking)
			got := Refused("")
			if refusal := board.MayPull(booking, nil); refusal != nil {
				got = refusal.Kind
			}
			if seen[want]++; got != want && !(want == "" && got == HeldBack) {
				t.Fatalf("seed %d: %+v is %q, want %q", seed, booking, got, want)
			}
			booking.Reason = "told to"
			if refusal := board.MayPull(booking, nil); (refusal == nil) != (got == "" || got.WithReason()) {
				t.Fatalf("seed %d: %+v with a reason: %+v, without %q", seed, booking, refusal, got)
			}
			use := board.MayUse(booking)
			if calls := want == "" || want == Stranger || want == Excess; calls != (use == nil) && want != PastInTray {
				t.Fatalf("seed %d: %+v may be used: %+v, and %q", seed, booking, use, want)
			}
		}
	}
	for _, kind := range []Refused{"", Stranger, Excess, NotThere, SetAside, PastDate, NoDecision} {
		if seen[kind] < 20 {
			t.Errorf("%q was met %d times: the test proves nothing of it", kind, seen[kind])
		}
	}
}

// A forecast is the first day on which the board says ready, once all that was promised up to
// that day has come; unknown is what never is.
func TestForecastIsTheFirstReadyDay(t *testing.T) {
	known, unknown := 0, 0
	for seed := range uint64(300) {
		rnd := rand.New(rand.NewPCG(seed, 33))
		r := plainReading(rnd, 1+rnd.IntN(6), 1+rnd.IntN(5), 2+rnd.IntN(25))
		r.Expected = map[string][]Expected{}
		for item := range r.Stock {
			for range rnd.IntN(4) {
				e := Expected{By: Ordered, Quantity: measure.Pieces(1 + rnd.Int64N(40)), Until: march18.AddDays(rnd.IntN(12))}
				if rnd.IntN(6) == 0 {
					e.By = Missing // nobody sends it
				}
				r.Expected[item] = append(r.Expected[item], e)
			}
		}
		want := map[string]measure.Date{}
		for ahead := range 12 {
			then := *r
			then.Stock = map[string][]Heap{}
			for item, heaps := range r.Stock {
				then.Stock[item] = append([]Heap(nil), heaps...)
				for _, e := range r.Expected[item] {
					if e.By.Owed() && e.Until.DaysUntil(march18.AddDays(ahead)) >= 0 {
						then.Stock[item] = append(then.Stock[item], Heap{Place: "P-new", Lot: "L-new", Amount: measure.Exact(e.Quantity)})
					}
				}
			}
			for _, s := range NewBoard(&then).Statuses() {
				if _, found := want[s.Code]; !found && s.State.Startable() {
					want[s.Code] = march18.AddDays(ahead)
				}
			}
		}
		for _, f := range NewBoard(r).Forecast(nil) {
			day, ready := want[f.Code]
			if f.Unknown == ready || f.From != day || f.To != day {
				t.Fatalf("seed %d: %s is forecast for %s to %s (unknown: %v), and ready on %s: %q", seed, f.Code, f.From, f.To, f.Unknown, day, f.Reasons)
			}
			if known++; f.Unknown {
				unknown++
			}
		}
	}
	if unknown < 50 || known-unknown < 200 {
		t.Errorf("%d forecasts, %d of them unknown: the test proves little", known, unknown)
	}
}

// An old number leads to where following every row by hand leads, one way, and nowhere where
// rows part, turn back on themselves or are from memory.
func TestResolveByAnotherWay(t *testing.T) {
	led := 0
	for seed := range uint64(2000) {
		rnd := rand.New(rand.NewPCG(seed, 34))
		var rows []Equivalent
		name := func() string { return fmt.Sprintf("N%d", rnd.IntN(7)) }
		for range rnd.IntN(7) {
			rows = append(rows, Equivalent{Old: name(), New: name(), Source: "letter", FromMemory: rnd.IntN(6) == 0})
		}
		ends, parts := "N0", false
		for steps := 0; steps <= len(rows); steps++ {
			next := map[string]bool{}
			for _, row := range rows {
				if row.Old == ends && !row.FromMemory {
					next[row.New] = true
				}
			}
			if parts = len(next) > 1 || len(next) == 1 && steps == len(rows); parts || len(next) == 0 {
				break
			}
			for to := range next {
				ends = to
			}
		}
		item, via, err := Resolve("N0", rows)
		if (err != nil) != parts || err == nil && item != ends || err != nil && (item != "N0" || via != nil) {
			t.Fatalf("seed %d: %v lead to %s by %v, %v; want %s, parted %v", seed, rows, item, via, err, ends, parts)
		}
		at := "N0"
		for _, step := range via {
			if step.Old != at || step.FromMemory {
				t.Fatalf("seed %d: %v is no way from N0", seed, via)
			}
			at = step.New
		}
		if len(via) > 1 {
			led++
		}
	}
	if led < 20 {
		t.Errorf("%d of the ways had two rows or more: the test proves little", led)
	}
}
