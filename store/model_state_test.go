package store

import (
	"maps"
	"slices"
	"strings"
)

// The model is the shop as a child would keep it: maps, copied whole before every
// change, so that undoing is taking the copy back. Random verbs are done to both,
// and both must agree on what is refused and on what lies where.

type modelAmount struct{ q, low, high int64 }

func (a modelAmount) plus(b modelAmount) modelAmount {
	return modelAmount{a.q + b.q, a.low + b.low, a.high + b.high}
}

type modelPlace struct {
	parent, name string
	kind         PlaceKind
	retired      bool
}

type modelState struct {
	stock  map[StockKey]modelAmount
	found  map[int]Finding
	fitted map[modelLot]int64 // millionths
	gone   map[modelLot]int64 // scrapped, in millionths
	came   map[modelLot]modelAmount
	excess map[modelLot]modelAmount // that counts found more of it than there was
	poured map[modelLot]modelAmount // into other lots
	places map[string]modelPlace
	photos map[uint64]modelPhoto
}

type modelPhoto struct {
	of      Subject
	caption string
	seed    uint64 // of its picture
}

func (s modelState) copy() modelState {
	return modelState{
		maps.Clone(s.stock), maps.Clone(s.found), maps.Clone(s.fitted), maps.Clone(s.gone), maps.Clone(s.came), maps.Clone(s.excess), maps.Clone(s.poured),
		maps.Clone(s.places), maps.Clone(s.photos),
	}
}

// modelLot is a lot of an item by its name.
type modelLot struct{ item, lot string }

// fresh stands for the name of a lot that a verb is about to make.
const fresh = "fresh"

// meant is the heap that a key means, and whether it is only one.
func (s modelState) meant(k StockKey) (StockKey, bool) {
	if k.Lot != "" {
		return k, true
	}
	var heaps []StockKey
	for h := range s.stock {
		if h.Item == k.Item && h.Place == k.Place && h.Condition == k.Condition {
			heaps = append(heaps, h)
		}
	}
	if len(heaps) == 1 {
		return heaps[0], true
	}
	return k, len(heaps) == 0
}

func (s modelState) addCame(l modelLot, a modelAmount) { s.came[l] = s.came[l].plus(a) }

func (s modelState) add(k StockKey, a modelAmount) {
	if sum := s.stock[k].plus(a); sum == (modelAmount{}) {
		delete(s.stock, k)
	} else {
		s.stock[k] = sum
	}
}

func (s modelState) path(id string) []string {
	var ids []string
	for ; id != ""; id = s.places[id].parent {
		ids = append(ids, id)
	}
	return ids
}

func (s modelState) within(id string) []string {
	var ids []string
	for other := range s.places {
		if slices.Contains(s.path(other), id) {
			ids = append(ids, other)
		}
	}
	return ids
}

func (s modelState) nameTaken(parent, name, except string) bool {
	for id, p := range s.places {
		if id != except && p.parent == parent && !p.retired && strings.EqualFold(p.name, name) {
			return true
		}
	}
	return false
}
