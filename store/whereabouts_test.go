package store

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"stowright/store/measure"
)

// hiddenHeap is a heap of which the test knows what nobody in the shop does: how many
// pieces it has of each lot that something came as.
type hiddenHeap struct {
	at     LotAt
	pieces map[string]int64 // by lot
}

// hiddenShop does to lots what the shop does, and knows the pieces.
type hiddenShop struct {
	lotAccounts
	random *rand.Rand
	heaps  []*hiddenHeap // in places, fitted and gone
	came   []string      // lots that something came as
}

func (s *hiddenShop) newLot(l Lot) string {
	l.Number = uint64(len(s.lots) + 1)
	s.lots = append(s.lots, l)
	return l.Name()
}

// receive has a lot come, which is counted, or weighed to a range that the truth is in.
func (s *hiddenShop) receive() {
	n := 1 + s.random.Int64N(12)
	came := Exact(measure.Pieces(n))
	if s.random.IntN(3) == 0 {
		low, high := max(0, n-s.random.Int64N(3)), n+s.random.Int64N(3)
		came = Amount{Quantity: measure.Pieces(low + s.random.Int64N(high-low+1)), Low: measure.Pieces(low), High: measure.Pieces(high)}
	}
	name := s.newLot(Lot{Came: came})
	s.came = append(s.came, name)
	s.land(&hiddenHeap{LotAt{Place: "bag " + name, In: name, All: came}, map[string]int64{name: n}})
}

// land puts a heap where it says, beside the others or poured together with them.
func (s *hiddenShop) land(h *hiddenHeap) {
	var there []*hiddenHeap
	for _, other := range s.heaps {
		if other.at.Place == h.at.Place && other.at.SubAssembly == h.at.SubAssembly && other.at.Gone == h.at.Gone && other.known() {
			if other.at.In == h.at.In {
				other.take(h)
				return
			}
			there = append(there, other)
		}
	}
	if len(there) > 0 && h.at.Place != "" && s.random.IntN(3) > 0 {
		mix := Lot{Kind: MixLot, Parents: []Portion{{h.at.In, h.at.All}}}
		for _, other := range there {
			mix.Parents = append(mix.Parents, Portion{other.at.In, other.at.All})
			h.take(other)
			other.at.All, other.pieces = Exact(measure.Pieces(0)), nil
		}
		mix.Came = h.at.All
		h.at.In = s.newLot(mix)
	}
	s.heaps = append(s.heaps, h)
}

// known reports whether the shop knows of the heap: an estimate of none may still be some.
func (h *hiddenHeap) known() bool { return h.at.All != Exact(measure.Pieces(0)) }

func (h *hiddenHeap) total() (pieces int64) {
	for _, n := range h.pieces {
		pieces += n
	}
	return pieces
}

// add adds to what the shop knows of the heap.
func (h *hiddenHeap) add(a Amount) {
	sum, err := h.at.All.Add(a)
	if err != nil {
		panic(err)
	}
	h.at.All = sum
}

func (h *hiddenHeap) take(other *hiddenHeap) {
	h.add(other.at.All)
	for lot, n := range other.pieces {
		h.pieces[lot] += n
	}
}

// move takes pieces at random out of a heap and to somewhere.
func (s *hiddenShop) move() {
	if len(s.heaps) == 0 {
		return
	}
	from := s.heaps[s.random.IntN(len(s.heaps))]
	most := min(from.total(), from.at.All.Micro/measure.Pieces(1).Micro)
	if most == 0 || from.at.Place == "" {
		return
	}
	went := &hiddenHeap{LotAt{In: from.at.In}, map[string]int64{}}
	n := 1 + s.random.Int64N(most)
	for range n {
		which := s.random.Int64N(from.total())
		for _, lot := range s.came { // in order, so that a seed tells all
			if which -= from.pieces[lot]; which < 0 {
				from.pieces[lot]--
				went.pieces[lot]++
				break
			}
		}
	}
	from.add(Exact(measure.Pieces(n)).Neg())
	went.at.All = Exact(measure.Pieces(n))
	switch s.random.IntN(5) {
	case 0:
		went.at.SubAssembly = fmt.Sprint("SA-", s.random.IntN(2))
	case 1:
		went.at.Gone = goneScrapped
	default:
		went.at.Place = fmt.Sprint("drawer ", s.random.IntN(3))
	}
	s.land(went)
}

func (s *hiddenShop) accounts() lotAccounts {
	a := lotAccounts{unit: measure.Each, lots: s.lots}
	for _, h := range s.heaps {
		if h.known() {
			a.at = append(a.at, h.at)
		}
	}
	return a
}

// However lots were poured together and taken out again, the true number of pieces of each
// lot lies within the bounds everywhere, and is none where it is not listed.
func TestTruthLiesWithinTheBounds(t *testing.T) {
	t.Parallel()
	histories, mixed := 10_000, 0
	if testing.Short() {
		histories = 2_000
	}
	for seed := range uint64(histories) {
		s := &hiddenShop{random: rand.New(rand.NewPCG(seed, 14))}
		for range 12 + s.random.IntN(40) {
			if s.random.IntN(4) == 0 {
				s.receive()
			} else {
				s.move()
			}
		}
		a := s.accounts()
		if len(s.lots) > len(s.came) {
			mixed++
		}
		for _, lot := range s.came {
			s.wantWithin(t, seed, a, lot)
		}
		if t.Failed() {
			return
		}
	}
	if mixed < histories/3 {
		t.Errorf("lots were poured together in %d of %d histories: that tests little", mixed, histories)
	}
}

func (s *hiddenShop) wantWithin(t *testing.T, seed uint64, a lotAccounts, lot string) {
	t.Helper()
	at, together := a.whereabouts(lot)
	all := int64(0)
	for _, h := range s.heaps {
		truth := h.pieces[lot]
		all += truth
		said := Bounds{}
		for _, w := range at {
			if w.Place == h.at.Place && w.SubAssembly == h.at.SubAssembly && w.Gone == h.at.Gone && w.In == h.at.In && h.known() {
				said = w.Bounds
			}
		}
		if n := measure.Pieces(truth).Micro; n < said.Low.Micro || n > said.High.Micro {
			t.Errorf("history %d: %d of %s are in %+v, which is said to have %s", seed, truth, lot, h.at, said)
		}
		if h.at.In == lot && h.known() && said != (Bounds{measure.Pieces(max(0, h.at.All.Low.Micro/1e6)), measure.Pieces(max(0, h.at.All.High.Micro/1e6))}) {
			t.Errorf("history %d: nothing was poured to %+v, and it is said to have %s", seed, h.at, said)
		}
	}
	came := a.lots[slices.IndexFunc(a.lots, func(l Lot) bool { return l.Name() == lot })].Came
	if n := measure.Pieces(all); together != (Bounds{came.Low, came.High}) || n.Micro < came.Low.Micro || n.Micro > came.High.Micro {
		t.Errorf("history %d: %d of %s came, and together there are said to be %s", seed, all, lot, together)
	}
}

// What counts find missing of a mix may be of any lot in it, and so may what they find over.
func TestBoundsAfterCounts(t *testing.T) {
	mix := Lot{Number: 3, Kind: MixLot, Came: Exact(measure.Pieces(32)), Parents: []Portion{{"L-1", Exact(measure.Pieces(22))}, {"L-2", Exact(measure.Pieces(10))}}}
	for _, row := range []struct {
		name   string
		there  Amount
		fitted int64
		first  string // of L-1 in the place
		second string // of L-2
	}{
		{"nothing taken", Exact(measure.Pieces(32)), 0, "22", "10"},
		{"twenty fitted", Exact(measure.Pieces(12)), 20, "2 to 12", "0 to 10"},
		{"three missing", Exact(measure.Pieces(29)), 0, "19 to 22", "7 to 10"},
		{"two over", Exact(measure.Pieces(34)), 0, "22 to 24", "10 to 12"},
		{"weighed since", Amount{Quantity: measure.Pieces(32), Low: measure.Pieces(31), High: measure.Pieces(33)}, 0, "21 to 23", "9 to 11"},
	} {
		a := lotAccounts{unit: measure.Each, lots: []Lot{{Number: 1, Came: Exact(measure.Pieces(22))}, {Number: 2, Came: Exact(measure.Pieces(10))}, mix}}
		a.at = []LotAt{{Place: "A-12", In: "L-3", All: row.there}}
		if row.fitted > 0 {
			a.at = append(a.at, LotAt{SubAssembly: "SA-21", In: "L-3", All: Exact(measure.Pieces(row.fitted))})
		}
		for lot, want := range map[string]string{"L-1": row.first, "L-2": row.second} {
			at, _ := a.whereabouts(lot)
			if len(at) == 0 || at[0].Bounds.String() != want {
				t.Errorf("%s: of %s there are %+v, want %s in A-12", row.name, lot, at, want)
			}
		}
	}
}

// Two lots were weighed to 8 to 12 each and poured together, and 12 were taken out: there
// may be 12 left, all of one lot, so that none of it need be among the 12.
func TestBoundsOfEstimates(t *testing.T) {
	about := func(low, middle, high int64) Amount {
		return Amount{Quantity: measure.Pieces(middle), Low: measure.Pieces(low), High: measure.Pieces(high)}
	}
	each, both := about(8, 10, 12), about(16, 20, 24)
	a := lotAccounts{
		unit: measure.Each,
		lots: []Lot{{Number: 1, Came: each}, {Number: 2, Came: each}, {Number: 3, Kind: MixLot, Came: both, Parents: []Portion{{"L-1", each}, {"L-2", each}}}},
		at:   []LotAt{{Place: "A-12", In: "L-3", All: about(4, 8, 12)}, {SubAssembly: "SA-21", In: "L-3", All: Exact(measure.Pieces(12))}},
	}
	at, together := a.whereabouts("L-1")
	if len(at) != 2 || at[0].Bounds.String() != "0 to 12" || at[1].Bounds.String() != "0 to 12" || together.String() != "8 to 12" {
		t.Errorf("%+v, %s together; want 0 to 12 in each, 8 to 12 together", at, together)
	}
}
