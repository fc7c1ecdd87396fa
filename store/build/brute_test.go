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
