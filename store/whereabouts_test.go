package store

import (
	"fmt"
	"math/rand/v2"
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

func (s *hiddenShop) receive() {
	n := 1 + s.random.Int64N(12)
	name := s.newLot(Lot{Came: Exact(measure.Pieces(n))})
	s.came = append(s.came, name)
	s.land(&hiddenHeap{LotAt{Place: "bag " + name, In: name, All: Exact(measure.Pieces(n))}, map[string]int64{name: n}})
}

// land puts a heap where it says, beside the others or poured together with them.
func (s *hiddenShop) land(h *hiddenHeap) {
	var there []*hiddenHeap
	for _, other := range s.heaps {
		if other.at.Place == h.at.Place && other.at.SubAssembly == h.at.SubAssembly && other.at.Gone == h.at.Gone && other.total() > 0 {
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

func (h *hiddenHeap) total() int64 { return h.at.All.Micro / measure.Pieces(1).Micro }

func (h *hiddenHeap) take(other *hiddenHeap) {
	h.at.All = Exact(measure.Pieces(h.total() + other.total()))
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
	if from.total() == 0 || from.at.Place == "" {
		return
	}
	went := &hiddenHeap{LotAt{In: from.at.In}, map[string]int64{}}
	n := 1 + s.random.Int64N(from.total())
	for range n {
		which := s.random.Int64N(from.total())
		for _, lot := range s.came { // in order, so that a seed tells all
			if which -= from.pieces[lot]; which < 0 {
				from.pieces[lot]--
				went.pieces[lot]++
				break
			}
		}
		from.at.All = Exact(measure.Pieces(from.total() - 1))
	}
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
		if h.total() > 0 {
			a.at = append(a.at, h.at)
		}
	}
	return a
}

// However lots were poured together and taken out again, the true number of pieces of each
// lot lies within the bounds everywhere, and is none where it is not listed.
func TestTruthLiesWithinTheBounds(t *testing.T) {
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
			if w.Place == h.at.Place && w.SubAssembly == h.at.SubAssembly && w.Gone == h.at.Gone && w.In == h.at.In && h.total() > 0 {
				said = w.Bounds
			}
		}
		if n := measure.Pieces(truth).Micro; n < said.Low.Micro || n > said.High.Micro {
			t.Errorf("history %d: %d of %s are in %+v, which is said to have %s", seed, truth, lot, h.at, said)
		}
		if h.at.In == lot && h.total() > 0 && said.Low != said.High {
			t.Errorf("history %d: nothing was poured to %+v, and it is said to have %s", seed, h.at, said)
		}
	}
	if n := measure.Pieces(all); together.Low != n || together.High != n {
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
