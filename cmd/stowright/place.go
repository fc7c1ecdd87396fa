package main

import (
	"stowright/app/operation"
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
	In   string `help:"The place that it is in; if left out, it is in no other place." placeholder:"PLACE"`
}

// Run makes the place and prints its tag.
func (c *placeAddCommand) Run(p *program) error {
	return p.do(operation.AddPlace{Kind: store.PlaceKind(c.Kind), Name: c.Name, In: c.In})
}

type placeCabinetCommand struct {
	Name    string `arg:"" help:"What it is called."`
	In      string `help:"The place that it is in; if left out, it is in no other place." placeholder:"PLACE"`
	Prefix  string `help:"What the names of its drawers begin with: A gives A-01." required:""`
	Rows    string `help:"From top to bottom." default:"5" placeholder:"NUMBER"`
	Columns string `help:"From left to right." default:"8" placeholder:"NUMBER"`
}

// Run makes the cabinet and prints its tag.
func (c *placeCabinetCommand) Run(p *program) error {
	return p.do(operation.AddCabinet{Name: c.Name, In: c.In, Prefix: c.Prefix, Rows: c.Rows, Columns: c.Columns})
}

type placeMoveCommand struct {
	Place string `arg:"" help:"The place: its name, its name after that of a place around it (\"Garage, Cabinet A\"), or its tag."`
	To    string `arg:"" optional:"" help:"The place that it goes into; if left out, it is in no other place."`
}

// Run moves the place.
func (c *placeMoveCommand) Run(p *program) error {
	return p.do(operation.MovePlace{Place: c.Place, To: c.To})
}

type placeRenameCommand struct {
	Place string `arg:"" help:"The place, by name or tag."`
	Name  string `arg:"" help:"Its new name."`
}

// Run renames the place.
func (c *placeRenameCommand) Run(p *program) error {
	return p.do(operation.RenamePlace{Place: c.Place, Name: c.Name})
}

type placeRetireCommand struct {
	Place string `arg:"" help:"The place, by name or tag."`
}

// Run retires the place.
func (c *placeRetireCommand) Run(p *program) error {
	return p.do(operation.RetirePlace{Place: c.Place})
}
