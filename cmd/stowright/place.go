package main

import (
	"stowright/app/session"
	"stowright/store"
)

// placeCommand makes and changes places.
type placeCommand struct {
	Add     placeAddCommand     `cmd:"" help:"Make a room, a rack, a shelf, a bin, a tub or a drawer."`
	Cabinet placeCabinetCommand `cmd:"" help:"Make a cabinet with all its drawers."`
	Move    placeMoveCommand    `cmd:"" help:"Move a place with all that is in it; its labels stay true."`
	Rename  placeRenameCommand  `cmd:"" help:"Give a place another name."`
	Retire  placeRetireCommand  `cmd:"" help:"Take an empty place out of use."`
}

type placeAddCommand struct {
	Kind string `arg:"" help:"room, rack, shelf, bin, tub or drawer." enum:"room,rack,shelf,bin,tub,drawer"`
	Name string `arg:"" help:"What it is called."`
	In   string `help:"The place that it is in; without it, it stands by itself." placeholder:"PLACE"`
}

// Run makes the place and prints its tag.
func (c *placeAddCommand) Run(p *program) error {
	return p.make(c.In, func(shop *store.Shop, parent string) (store.Place, store.Entry, error) {
		return shop.AddPlace(store.Place{Parent: parent, Kind: store.PlaceKind(c.Kind), Name: c.Name})
	})
}

type placeCabinetCommand struct {
	Name    string `arg:"" help:"What it is called."`
	In      string `help:"The place that it is in; without it, it stands by itself." placeholder:"PLACE"`
	Prefix  string `help:"What the names of its drawers begin with: A gives A-01." required:""`
	Rows    int    `help:"From top to bottom." default:"5"`
	Columns int    `help:"From left to right." default:"8"`
}

// Run makes the cabinet and prints its tag.
func (c *placeCabinetCommand) Run(p *program) error {
	return p.make(c.In, func(shop *store.Shop, parent string) (store.Place, store.Entry, error) {
		return shop.AddCabinet(store.CabinetSpec{Parent: parent, Name: c.Name, Prefix: c.Prefix, Rows: c.Rows, Columns: c.Columns})
	})
}

// make makes a place in another and prints its entry with its tag.
func (p *program) make(in string, build func(shop *store.Shop, parent string) (store.Place, store.Entry, error)) error {
	return p.withSession(func(s *session.Session) error {
		parent, err := placeOrTop(s, in)
		if err != nil {
			return err
		}
		made, e, err := build(s.Shop, parent)
		if err != nil {
			return err
		}
		return p.changed(e, made)
	})
}

// placeOrTop is the id of the place named, or the empty one of the top of the shop.
func placeOrTop(s *session.Session, name string) (string, error) {
	if name == "" {
		return "", nil
	}
	place, err := s.PlaceNamed(name)
	return place.ID, err
}

type placeMoveCommand struct {
	Place string `arg:"" help:"The place: its name, its name after that of a place around it (\"Garage, Cabinet A\"), or its tag."`
	To    string `arg:"" optional:"" help:"The place that it goes into; without it, it stands by itself."`
}

// Run moves the place.
func (c *placeMoveCommand) Run(p *program) error {
	return p.changePlace(c.Place, func(s *session.Session, place store.Place) (store.Entry, error) {
		to, err := placeOrTop(s, c.To)
		if err != nil {
			return store.Entry{}, err
		}
		return s.Shop.MovePlace(place.ID, to)
	})
}

type placeRenameCommand struct {
	Place string `arg:"" help:"The place, by name or tag."`
	Name  string `arg:"" help:"Its new name."`
}

// Run renames the place.
func (c *placeRenameCommand) Run(p *program) error {
	return p.changePlace(c.Place, func(s *session.Session, place store.Place) (store.Entry, error) {
		return s.Shop.RenamePlace(place.ID, c.Name)
	})
}

type placeRetireCommand struct {
	Place string `arg:"" help:"The place, by name or tag."`
}

// Run retires the place.
func (c *placeRetireCommand) Run(p *program) error {
	return p.changePlace(c.Place, func(s *session.Session, place store.Place) (store.Entry, error) {
		return s.Shop.RetirePlace(place.ID)
	})
}

// changePlace does one verb on the place that is named.
func (p *program) changePlace(name string, do func(*session.Session, store.Place) (store.Entry, error)) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		place, err := s.PlaceNamed(name)
		if err != nil {
			return store.Entry{}, err
		}
		return do(s, place)
	})
}
