package build

import (
	"cmp"
	"math/rand/v2"
	"slices"
)

// The steps of a walk. They are not measured: they say in numbers that one goes through
// rooms and along the furniture in the builder's order, and works through a cabinet row
// by row, since the next row is a change of height. Any figures in this order of size
// give the same walks but for ties.
const (
	columnSteps    = 1
	rowSteps       = 3
	furnitureSteps = 40
	roomSteps      = 1000
)

// WalkRule says how the way of a pull list is found, and by whose methods.
const WalkRule = "shortest way found from the first place of the first room, by nearest neighbour, 2-opt (Croes 1958), Or-opt (Or 1976) and repeated double-bridge kicks (Martin, Otto and Felten 1991)"

// steps is how far it is from one place to another: the sum of the steps between
// rooms, furniture, rows and columns, so that no detour is ever shorter.
func steps(a, b Place) int {
	return roomSteps*abs(a.Room-b.Room) + furnitureSteps*abs(a.Furniture-b.Furniture) + rowSteps*abs(a.Row-b.Row) + columnSteps*abs(a.Column-b.Column)
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// door is where a walk begins.
var door = Place{Row: 1, Column: 1}

// Walk is the order in which to go to places, as indices, and how many steps it takes
// from the first place of the first room to the last of them. It is the same for the
// same places in any order.
func Walk(places []Place) (order []int, length int) {
	if len(places) == 0 {
		return nil, 0
	}
	w := newWalk(places)
	best := w.improved(w.nearest())
	for _, start := range [][]int{w.asBuilt(false), w.asBuilt(true)} {
		if p := w.improved(start); w.length(p) < w.length(best) {
			best = p
		}
	}
	best = w.kicked(best)
	for _, i := range best[1:] {
		order = append(order, w.sorted[i-1])
	}
	return order, w.length(best)
}

// walk is the places of a way, the door first and the others as they stand, by number.
type walk struct {
	sorted []int // of a number less one: index in what was given
	places []Place
	far    []int // steps between all pairs
}

func newWalk(places []Place) *walk {
	w := &walk{sorted: make([]int, len(places)), places: []Place{door}}
	for i := range places {
		w.sorted[i] = i
	}
	slices.SortStableFunc(w.sorted, func(i, j int) int { return asStanding(places[i], places[j]) })
	for _, i := range w.sorted {
		w.places = append(w.places, places[i])
	}
	n := len(w.places)
	w.far = make([]int, n*n)
	for i := range n {
		for j := range n {
			w.far[i*n+j] = steps(w.places[i], w.places[j])
		}
	}
	return w
}

// asStanding orders places room by room, cabinet by cabinet and row by row.
func asStanding(a, b Place) int {
	return cmp.Or(cmp.Compare(a.Room, b.Room), cmp.Compare(a.Furniture, b.Furniture), cmp.Compare(a.Row, b.Row), cmp.Compare(a.Column, b.Column), cmp.Compare(a.ID, b.ID))
}

func (w *walk) between(a, b int) int { return w.far[a*len(w.places)+b] }

func (w *walk) length(path []int) int {
	n := 0
	for i := 1; i < len(path); i++ {
		n += w.between(path[i-1], path[i])
	}
	return n
}

// nearest goes to the nearest place that is left, from the door on.
func (w *walk) nearest() []int {
	path := []int{0}
	seen := make([]bool, len(w.places))
	for len(path) < len(w.places) {
		here, next := path[len(path)-1], 0
		for i := 1; i < len(w.places); i++ {
			if !seen[i] && (next == 0 || w.between(here, i) < w.between(here, next)) {
				next = i
			}
		}
		seen[next] = true
		path = append(path, next)
	}
	return path
}

// asBuilt goes through the places as they stand; there and back along the rows, if asked.
func (w *walk) asBuilt(thereAndBack bool) []int {
	path := make([]int, len(w.places))
	for i := range path {
		path[i] = i
	}
	if !thereAndBack {
		return path
	}
	slices.SortStableFunc(path[1:], func(i, j int) int {
		a, b := w.places[i], w.places[j]
		if a.Room != b.Room || a.Furniture != b.Furniture || a.Row != b.Row || a.Row%2 == 1 {
			return asStanding(a, b)
		}
		return cmp.Compare(b.Column, a.Column)
	})
	return path
}

// improved turns parts of a path round and moves short parts elsewhere for as long as
// that shortens it.
func (w *walk) improved(path []int) []int {
	for w.turn(path) || w.carry(path) {
	}
	return path
}

// turn does every reversal of a part that shortens the path (2-opt), and reports
// whether there was one. The door stays first; the end is free.
func (w *walk) turn(path []int) bool {
	done := false
	for i := 1; i < len(path)-1; i++ {
		for j := i + 1; j < len(path); j++ {
			was, is := w.between(path[i-1], path[i]), w.between(path[i-1], path[j])
			if j+1 < len(path) {
				was, is = was+w.between(path[j], path[j+1]), is+w.between(path[i], path[j+1])
			}
			if is < was {
				slices.Reverse(path[i : j+1])
				done = true
			}
		}
	}
	return done
}

// longestCarried is the longest part that is moved elsewhere, as in Or's method.
const longestCarried = 3

// carry does the first move of one to three places elsewhere, either way round, that
// shortens the path (Or-opt), and reports whether there was one.
func (w *walk) carry(path []int) bool {
	for size := 1; size <= longestCarried; size++ {
		for i := 1; i+size <= len(path); i++ {
			if w.carryFrom(path, i, size) {
				return true
			}
		}
	}
	return false
}

func (w *walk) carryFrom(path []int, i, size int) bool {
	first, last := path[i], path[i+size-1]
	gain := w.between(path[i-1], first)
	if i+size < len(path) {
		gain += w.between(last, path[i+size]) - w.between(path[i-1], path[i+size])
	}
	if gain <= 0 {
		return false
	}
	for j := 0; j < len(path); j++ { // after path[j]
		if j >= i-1 && j < i+size {
			continue
		}
		straight, turned := w.between(path[j], first), w.between(path[j], last)
		if j+1 < len(path) {
			gap := w.between(path[j], path[j+1])
			straight += w.between(last, path[j+1]) - gap
			turned += w.between(first, path[j+1]) - gap
		}
		if min(straight, turned) >= gain {
			continue
		}
		part := slices.Clone(path[i : i+size])
		if turned < straight {
			slices.Reverse(part)
		}
		rest := append(slices.Clone(path[:i]), path[i+size:]...)
		at := j + 1
		if j >= i {
			at -= size
		}
		copy(path, slices.Insert(rest, at, part...))
		return true
	}
	return false
}

// kicks is how often a path is disturbed and improved again: often where that costs
// next to nothing.
func kicks(n int) int { return max(8, min(200, 2000/n)) }

// kicked exchanges two neighbouring parts of the path at random (a double bridge),
// improves what comes of it, and keeps it where it is shorter.
func (w *walk) kicked(best []int) []int {
	n := len(best)
	if n < 5 {
		return best
	}
	rnd := rand.New(rand.NewPCG(uint64(n), 1)) // the same walk every time
	length := w.length(best)
	for range kicks(n) {
		cut := []int{1 + rnd.IntN(n-1), 1 + rnd.IntN(n-1), 1 + rnd.IntN(n-1)}
		slices.Sort(cut)
		p := slices.Concat(best[:cut[0]], best[cut[1]:cut[2]], best[cut[0]:cut[1]], best[cut[2]:])
		p = w.improved(p)
		if l := w.length(p); l < length {
			best, length = p, l
		}
	}
	return best
}
