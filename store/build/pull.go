package build

import (
	"fmt"
	"slices"

	"stowright/store/measure"
)

// Neighbour is a look-alike that lies within reach of what is taken.
type Neighbour struct {
	Place      string // its name: "A-31"
	Item       string
	Short      string // as a person says it: "F0332P"; "" for Item
	Difference string // "thin"
}

// name is a look-alike as a person says it.
func (n Neighbour) name() string {
	if n.Short != "" {
		return n.Short
	}
	return n.Item
}

// Beside says which look-alikes of an item lie within reach of a place, by its id.
type Beside func(place, item string) []Neighbour

// Pull makes the list of what is to be pulled for some sub-assemblies in one walk: what
// the board promises them, so that what others hold stays where it is. Beside may be nil.
// The error names a code that there is none of.
func (b *Board) Pull(beside Beside, codes ...string) (PullList, error) {
	list := PullList{For: codes}
	var stops []*Stop
	index := map[stopKey]*Stop{}
	for _, code := range codes {
		i, ok := b.index[code]
		if !ok {
			return PullList{}, fmt.Errorf("there is no sub-assembly %q: see how its code is spelled", code)
		}
		s := &b.statuses[i]
		for k := range s.Needs {
			n := &s.Needs[k]
			for _, share := range n.Promised {
				key := stopKey{share.Heap.Place, n.Item, share.Heap.Lot}
				stop := index[key]
				if stop == nil {
					stop = b.stop(n, share)
					index[key], stops = stop, append(stops, stop)
				}
				stop.add(code, n, share.Quantity)
			}
			b.missing(&list, i, k)
		}
	}
	list.Stops, list.Length = b.walked(stops)
	if beside != nil {
		for i := range list.Stops {
			list.Stops[i].warn(beside)
		}
	}
	return list, nil
}

type stopKey struct{ place, item, lot string }

// stop is a new stop for a share, without any quantity yet.
func (b *Board) stop(n *Need, share Share) *Stop {
	s := &Stop{
		Place: b.reading.Places[share.Heap.Place], Item: n.Item, Lot: share.Heap.Lot, LotName: share.Heap.LotName,
		Quantity: measure.Quantity{Unit: n.Needed.Unit}, Estimate: share.Heap.Amount.Estimate(), Expires: share.Heap.Expires,
		Decision: n.Decision,
	}
	if s.Place.ID == "" {
		s.Place = Place{ID: share.Heap.Place, Name: share.Heap.Place}
	}
	if n.Called != n.Item {
		s.Called, s.Via = n.Called, b.reading.way(n.Called, n.Item)
	}
	return s
}

// add puts a need's part of a stop to it.
func (s *Stop) add(code string, n *Need, q measure.Quantity) {
	s.Quantity.Micro += q.Micro
	s.Temporary = s.Temporary || n.Kind == Temporary
	for i := range s.For {
		if s.For[i].Code == code && s.For[i].Requirement == n.Requirement {
			s.For[i].Quantity.Micro += q.Micro
			return
		}
	}
	s.For = append(s.For, TrayShare{Code: code, Requirement: n.Requirement, Quantity: q})
}

// missing says of a need what cannot be pulled for it, and what has to be asked.
func (b *Board) missing(list *PullList, sub, need int) {
	s := &b.statuses[sub]
	n := &s.Needs[need]
	ask := func(place, words string) {
		list.Ask = append(list.Ask, Question{Code: s.Code, Requirement: n.Requirement, Item: n.Item, Place: place, Sentence: words})
	}
	if n.Kind == AsRequired {
		ask("", n.Item+": as required; take what the plans' text asks for, and say at the bench how much went in")
		return
	}
	blocker := b.blockers[sub][need]
	if blocker == nil {
		return
	}
	have := measure.Quantity{Unit: n.Needed.Unit}
	for _, share := range n.Promised {
		have.Micro += share.Quantity.Micro
	}
	list.Short = append(list.Short, Short{
		Code: s.Code, Requirement: n.Requirement, Called: n.Called, Item: n.Item,
		Needed: n.Open, Have: have, Reasons: blocker.Reasons, Sentence: blocker.Sentence,
	})
	for _, r := range blocker.Reasons {
		if r.Kind == NoExpiry {
			ask(r.Place, n.Item+": "+r.Sentence)
		}
	}
}

// walked puts stops in the order of the walk: those of one place together, as they came.
func (b *Board) walked(stops []*Stop) (ordered []Stop, length int) {
	var places []Place
	var at [][]*Stop
	index := map[string]int{}
	for _, s := range stops {
		i, ok := index[s.Place.ID]
		if !ok {
			i = len(places)
			index[s.Place.ID] = i
			places, at = append(places, s.Place), append(at, nil)
		}
		at[i] = append(at[i], s)
	}
	order, length := Walk(places)
	for _, i := range order {
		for _, s := range at[i] {
			ordered = append(ordered, *s)
		}
	}
	return ordered, length
}

// warn names the look-alikes within reach of a stop.
func (s *Stop) warn(beside Beside) {
	for _, n := range beside(s.Place.ID, s.Item) {
		words := fmt.Sprintf("%s beside it holds %s, %s", n.Place, n.name(), n.Difference)
		if n.Place == s.Place.Name {
			words = fmt.Sprintf("%s is in the same place, %s", n.name(), n.Difference)
		}
		if !slices.Contains(s.Beware, words) {
			s.Beware = append(s.Beware, words)
		}
	}
}
