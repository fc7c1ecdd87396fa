package operation

import (
	"context"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// AddPlace makes a room, a rack, a shelf, a bin, a tub or a drawer.
type AddPlace struct {
	Kind store.PlaceKind
	Name string
	In   string // the place that it is in; "": it stands by itself
}

// Do makes the place.
func (o AddPlace) Do(_ context.Context, s *session.Session) (Result, error) {
	parent, err := placeOrTop(s, o.In)
	if err != nil {
		return Result{}, err
	}
	made, e, err := s.Shop.AddPlace(store.Place{Parent: parent, Kind: o.Kind, Name: o.Name})
	return Result{Entry: e, Place: made}, err
}

// AddCabinet makes a cabinet with all its drawers.
type AddCabinet struct {
	Name    string
	Prefix  string // what the names of its drawers begin with: A gives A-01
	Rows    string // from top to bottom
	Columns string // from left to right
	In      string // the place that it is in; "": it stands by itself
}

// Do makes the cabinet.
func (o AddCabinet) Do(_ context.Context, s *session.Session) (Result, error) {
	spec := store.CabinetSpec{Name: o.Name, Prefix: o.Prefix}
	var err error
	if spec.Rows, err = number("rows", o.Rows); err != nil {
		return Result{}, err
	}
	if spec.Columns, err = number("columns", o.Columns); err != nil {
		return Result{}, err
	}
	if spec.Parent, err = placeOrTop(s, o.In); err != nil {
		return Result{}, err
	}
	made, e, err := s.Shop.AddCabinet(spec)
	return Result{Entry: e, Place: made}, err
}

// number reads how many of something there are.
func number(what, text string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil {
		return 0, invalid("The number of %s is a whole number such as 5, not %q.", what, text)
	}
	return n, nil
}

// placeOrTop is the id of the place named, or the empty one of the top of the shop.
func placeOrTop(s *session.Session, name string) (string, error) {
	if name == "" {
		return "", nil
	}
	place, err := s.PlaceNamed(name)
	return place.ID, err
}

// MovePlace moves a place with all that is in it; its labels stay true.
type MovePlace struct {
	Place string
	To    string // the place that it goes into; "": it stands by itself
}

// Do moves the place.
func (o MovePlace) Do(_ context.Context, s *session.Session) (Result, error) {
	place, err := s.PlaceNamed(o.Place)
	if err != nil {
		return Result{}, err
	}
	to, err := placeOrTop(s, o.To)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.MovePlace(place.ID, to))
}

// RenamePlace gives a place another name.
type RenamePlace struct{ Place, Name string }

// Do renames the place.
func (o RenamePlace) Do(_ context.Context, s *session.Session) (Result, error) {
	place, err := s.PlaceNamed(o.Place)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.RenamePlace(place.ID, o.Name))
}

// RetirePlace takes an empty place out of use.
type RetirePlace struct{ Place string }

// Do retires the place.
func (o RetirePlace) Do(_ context.Context, s *session.Session) (Result, error) {
	place, err := s.PlaceNamed(o.Place)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.RetirePlace(place.ID))
}
