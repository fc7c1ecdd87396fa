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

// Steps are a distance: none to where one is, the same there and back, and no detour
// is shorter.
func TestStepsAreADistance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 3))
	places := randomPlaces(rnd, 40, 3, 4)
	for _, a := range places {
		if steps(a, a) != 0 {
			t.Fatalf("%+v is %d steps from itself", a, steps(a, a))
		}
		for _, b := range places {
			if d := steps(a, b); d != steps(b, a) || d <= 0 && a != b {
				t.Fatalf("%+v to %+v is %d steps, and back %d", a, b, d, steps(b, a))
			}
			for _, c := range places {
				if steps(a, b) > steps(a, c)+steps(c, b) {
					t.Fatalf("from %+v to %+v the way over %+v is shorter", a, b, c)
				}
			}
		}
	}
}

// rowOf is a walk over drawers of one row, the door before the first.
func rowOf(n int) *walk {
	var places []Place
	for i := range n {
		places = append(places, Place{Row: 1, Column: 2 + i})
	}
	return newWalk(places)
}

// Each way of improving does its own part: crossings are turned, strays are carried.
func TestWaysOfImproving(t *testing.T) {
	for _, row := range []struct {
		name  string
		path  []int
		turns bool
	}{
		{"in order", []int{0, 1, 2, 3, 4, 5}, false},
		{"a part the wrong way round", []int{0, 4, 3, 2, 1, 5}, true},
		{"the end the wrong way round", []int{0, 1, 2, 5, 4, 3}, true},
		{"all the wrong way round", []int{0, 5, 4, 3, 2, 1}, true},
	} {
		w, path := rowOf(5), slices.Clone(row.path)
		if got := w.turn(path); got != row.turns {
			t.Errorf("%s: turned %v", row.name, got)
		}
		for w.turn(path) {
		}
		if !slices.IsSorted(path) {
			t.Errorf("%s: turned to %v", row.name, path)
		}
	}
	for _, row := range []struct {
		name    string
		path    []int
		carries bool
	}{
		{"in order", []int{0, 1, 2, 3, 4, 5}, false},
		{"one astray forwards", []int{0, 2, 3, 4, 5, 1}, true},
		{"one astray backwards", []int{0, 5, 1, 2, 3, 4}, true},
		{"two astray", []int{0, 3, 4, 5, 1, 2}, true},
		{"two astray and turned", []int{0, 3, 4, 5, 2, 1}, true},
		{"three astray", []int{0, 1, 5, 2, 3, 4}, true},
	} {
		w, path := rowOf(5), slices.Clone(row.path)
		before := w.length(path)
		if got := w.carry(path); got != row.carries {
			t.Errorf("%s: carried %v", row.name, got)
		}
		if row.carries && w.length(path) >= before {
			t.Errorf("%s: %d steps, and %d before", row.name, w.length(path), before)
		}
		for w.carry(path) {
		}
		if !slices.IsSorted(path) {
			t.Errorf("%s: carried to %v", row.name, path)
		}
	}
}

// A cabinet of full rows is walked there and back, which is exact: one step a drawer
// and three a row.
func TestFullCabinet(t *testing.T) {
	for _, size := range [][2]int{{1, 8}, {2, 8}, {5, 8}, {8, 1}, {4, 3}} {
		var places []Place
		for row := 1; row <= size[0]; row++ {
			for column := 1; column <= size[1]; column++ {
				places = append(places, Place{Row: row, Column: column})
			}
		}
		want := size[0]*(size[1]-1) + 3*(size[0]-1)
		if _, got := Walk(places); got != want {
			t.Errorf("%d rows of %d: %d steps, want %d", size[0], size[1], got, want)
		}
	}
}

// A few places far apart: too few to disturb the walk, and still the shortest.
func TestFewPlaces(t *testing.T) {
	for n := 1; n <= 4; n++ {
		for seed := range uint64(30) {
			places := randomPlaces(rand.New(rand.NewPCG(seed, uint64(n))), n, 2, 3)
			if _, got := Walk(places); got != shortest(places) {
				t.Errorf("%d places, case %d: %d steps, the shortest has %d", n, seed, got, shortest(places))
			}
		}
	}
}
