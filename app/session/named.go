package session

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/phrase"
)

// PlaceNamed is the one place in use that a text names: by its tag, by its name, or by
// its name after those of places around it ("Hangar, Cabinet A"). Case does not matter.
// The id of a place, as a screen has it, names it too, in use or not.
func (s *Reader) PlaceNamed(text string) (store.Place, error) {
	if place, err := s.Shop.Place(text); err == nil || store.KindOf(err) != store.NotFound {
		return place, err
	}
	if tag, problem := store.ParseTag(text); problem == "" {
		r, err := s.Shop.Resolve(string(tag))
		if err != nil {
			return store.Place{}, err
		}
		if r.Answer == store.TagFound {
			return r.Path[len(r.Path)-1], nil
		}
	}
	wanted := strings.Split(text, ",")
	all, err := s.Shop.Places()
	if err != nil {
		return store.Place{}, err
	}
	var found []store.Place
	var paths []string
	for _, p := range all {
		if p.Retired || !strings.EqualFold(p.Name, strings.TrimSpace(wanted[len(wanted)-1])) {
			continue
		}
		path, err := s.Shop.Path(p.ID)
		if err != nil {
			return store.Place{}, err
		}
		if endsIn(path, wanted) {
			found, paths = append(found, p), append(paths, store.PathText(path))
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return store.Place{}, named(store.NotFound, text, "No place of this shop is called %q: give its name, or the tag on its label.", text)
	}
	slices.Sort(paths)
	return store.Place{}, named(store.Invalid, text, "%d places are called %q: say which, as in %q.", len(found), text, paths[0])
}

// endsIn reports whether a path holds the wanted names in their order; names between them
// may be left out.
func endsIn(path []store.Place, wanted []string) bool {
	left := len(wanted) - 1
	for at := len(path) - 1; at >= 0 && left >= 0; at-- {
		if strings.EqualFold(path[at].Name, strings.TrimSpace(wanted[left])) {
			left--
		}
	}
	return left < 0
}

// Which narrows down where stock of an item is meant to be taken from.
type Which struct {
	From    string // a place, which may hold the one that is meant; empty: anywhere but in trays
	Lot     string // as it is printed, or its number; empty: any
	Damaged bool   // what is damaged or set apart, in place of what is good
	InBags  bool   // what is in crates and bags only
}

// HeapNamed is the one heap of an item that is meant.
func (s *Reader) HeapNamed(item string, which Which) (Heap, error) {
	stock, err := s.Stock(s.Canonical(strings.TrimSpace(item)))
	if err != nil {
		return Heap{}, err
	}
	var within string
	if which.From != "" {
		place, err := s.PlaceNamed(which.From)
		if err != nil {
			return Heap{}, err
		}
		within = place.ID
	}
	var found []Heap
	for _, h := range stock.Heaps {
		if which.meets(h, within) {
			found = append(found, h)
		}
	}
	designation := stock.Item.Designation
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return Heap{}, named(store.NotFound, designation, "There is no %s there: find %s says where it is.", designation, designation)
	}
	if lots := lotsOf(found); len(lots) > 1 && samePlace(found) {
		return Heap{}, named(store.Invalid, designation, "%s is in %s in %d lots, %s: say which lot.",
			designation, store.PathText(found[0].Path), len(lots), phrase.List(lots))
	}
	return Heap{}, named(store.Invalid, designation, "%s is in %d heaps: say which, by place or lot; the first is %s in %s.",
		designation, len(found), found[0].Amount, store.PathText(found[0].Path))
}

// lotsOf are the lots of heaps, each once.
func lotsOf(heaps []Heap) []string {
	var lots []string
	for _, h := range heaps {
		if name := h.Of.Called(); !slices.Contains(lots, name) {
			lots = append(lots, name)
		}
	}
	return lots
}

func samePlace(heaps []Heap) bool {
	return !slices.ContainsFunc(heaps, func(h Heap) bool { return h.Place != heaps[0].Place })
}

func (w Which) meets(h Heap, within string) bool {
	place := h.Path[len(h.Path)-1]
	return (!h.Pulled() || place.ID == within) &&
		(h.Condition != store.Good) == w.Damaged &&
		(w.Lot == "" || h.Of.Answers(w.Lot)) &&
		(!w.InBags || place.Kind == store.Bag || place.Kind == store.Crate) &&
		(within == "" || slices.ContainsFunc(h.Path, func(p store.Place) bool { return p.ID == within }))
}

func named(kind store.Kind, where, format string, args ...any) error {
	return &store.Error{Kind: kind, Where: where, Message: fmt.Sprintf(format, args...)}
}
