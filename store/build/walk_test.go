package build

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// randomPlaces are drawers of several cabinets in several rooms, no two the same.
func randomPlaces(rnd *rand.Rand, n, rooms, cabinets int) []Place {
	var all []Place
	seen := map[Place]bool{}
	for len(all) < n {
		p := Place{Room: rnd.IntN(rooms), Furniture: rnd.IntN(cabinets), Row: 1 + rnd.IntN(8), Column: 1 + rnd.IntN(8)}
		if !seen[p] {
			seen[p] = true
			all = append(all, p)
		}
	}
	return all
}

// shortest is the exact length of the shortest walk, by the dynamic programme of Held
// and Karp ("A dynamic programming approach to sequencing problems", J. SIAM 10, 1962).
func shortest(places []Place) int {
	n := len(places)
	best := make([][]int, 1<<n)
	for set := 1; set < 1<<n; set++ {
		best[set] = make([]int, n)
		for last := range n {
			if set&(1<<last) == 0 {
				continue
			}
			without := set &^ (1 << last)
			if without == 0 {
				best[set][last] = steps(door, places[last])
				continue
			}
			least := -1
			for from := range n {
				if without&(1<<from) == 0 {
					continue
				}
				if d := best[without][from] + steps(places[from], places[last]); least < 0 || d < least {
					least = d
				}
			}
			best[set][last] = least
		}
	}
	return slices.Min(best[1<<n-1])
}

// On 200 small cases the walk is at most 2 % longer than the exact optimum.
func TestWalkNearOptimum(t *testing.T) {
	worst, exact := 0.0, 0
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 2))
		places := randomPlaces(rnd, 4+rnd.IntN(8), 1+rnd.IntN(2), 1+rnd.IntN(4))
		order, got := Walk(places)
		if seen := visited(order); bits.OnesCount(seen) != len(places) || len(order) != len(places) {
			t.Fatalf("case %d: %v does not go to each of %d places once", seed, order, len(places))
		}
		length, at := 0, door
		for _, i := range order {
			length, at = length+steps(at, places[i]), places[i]
		}
		if length != got {
			t.Errorf("case %d: %d steps said, %d walked", seed, got, length)
		}
		want := shortest(places)
		over := float64(got-want) / float64(want)
		if got < want || over > 0.02 {
			t.Errorf("case %d: %d places in %d steps, the shortest walk has %d", seed, len(places), got, want)
		}
		worst = max(worst, over)
		if got == want {
			exact++
		}
	}
	t.Logf("%d of 200 are exact, the worst is %.2f %% longer", exact, 100*worst)
}

func visited(order []int) uint {
	var seen uint
	for _, i := range order {
		seen |= 1 << i
	}
	return seen
}

// The same places in another order give the same walk.
func TestWalkIsTheSame(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	places := randomPlaces(rnd, 30, 2, 3)
	names := func(places []Place) (all []Place) {
		order, _ := Walk(places)
		for _, i := range order {
			all = append(all, places[i])
		}
		return all
	}
	want := names(places)
	for range 5 {
		rnd.Shuffle(len(places), func(i, j int) { places[i], places[j] = places[j], places[i] })
		if got := names(places); !slices.Equal(got, want) {
			t.Fatal("the walk depends on the order in which the places are given")
		}
	}
	if order, length := Walk(nil); order != nil || length != 0 {
		t.Error("a walk to nowhere has steps")
	}
}

// Rooms and cabinets are gone through in the builder's order, each once.
func TestWalkKeepsRoomsTogether(t *testing.T) {
	places := randomPlaces(rand.New(rand.NewPCG(9, 9)), 60, 3, 4)
	order, _ := Walk(places)
	for k := 1; k < len(order); k++ {
		a, b := places[order[k-1]], places[order[k]]
		if b.Room < a.Room {
			t.Errorf("back from room %d to %d", a.Room, b.Room)
		}
	}
}
