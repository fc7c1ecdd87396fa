package main

import (
	"cmp"
	"fmt"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// listFlag names a packing list; it may be left out while there is one.
type listFlag struct {
	List string `help:"The packing list, by its order number or its file name; it may be left out while the shop has one." placeholder:"ORDER"`
}

// shipment is the packing list that is meant.
func (f listFlag) shipment(shop *store.Shop) (store.Shipment, error) {
	all, err := shop.Shipments()
	if err != nil {
		return store.Shipment{}, err
	}
	var found []store.Shipment
	var names []string
	for _, ship := range all {
		names = append(names, cmp.Or(ship.Order, ship.File))
		if f.List == "" || strings.EqualFold(f.List, ship.Order) || strings.EqualFold(f.List, ship.File) {
			found = append(found, ship)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], nil
	case len(all) == 0:
		return store.Shipment{}, &usageError{fmt.Errorf("no packing list is in this shop: bring one in with import first")}
	case len(found) == 0:
		return store.Shipment{}, &usageError{fmt.Errorf("--list: no packing list is called %q; there are %s", f.List, strings.Join(names, ", "))}
	}
	return store.Shipment{}, &usageError{fmt.Errorf("say which packing list with --list: %s", strings.Join(names, ", "))}
}

// line is a line of the packing list that is meant.
func (f listFlag) line(shop *store.Shop, number int) (store.Line, error) {
	ship, err := f.shipment(shop)
	if err != nil {
		return store.Line{}, err
	}
	return shop.Line(ship.ID, number)
}

// arriveCommand enters the arrival of crates.
type arriveCommand struct {
	listFlag
	Crates       []string `arg:"" help:"The crates that came together, as the packing list names them."`
	On           string   `help:"The day they came (default: today)." placeholder:"2026-03-14"`
	DamageDays   *int     `help:"The days that the paperwork allows for claims of damage. The day of arrival is day 0. Without it, no last day is known." placeholder:"DAYS"`
	ShortageDays *int     `help:"The same for shortages." placeholder:"DAYS"`
}

// Run enters the delivery.
func (c *arriveCommand) Run(p *program) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		ship, err := c.shipment(s.Shop)
		if err != nil {
			return store.Entry{}, err
		}
		d := store.Delivery{Crates: c.Crates, Arrived: s.Shop.Today(), DamageDays: c.DamageDays, ShortageDays: c.ShortageDays}
		if c.On != "" {
			if d.Arrived, err = store.ParseDate(c.On); err != nil {
				return store.Entry{}, err
			}
		}
		return s.Shop.Arrive(ship.ID, d)
	})
}

// receiveCommand records what was found of a line.
type receiveCommand struct {
	listFlag
	Line     int    `arg:"" help:"The number of the line."`
	Found    string `help:"How many are here, in the unit of the list; \"all\" is as many as listed." default:"all" placeholder:"NUMBER"`
	Damaged  string `help:"How many of those are damaged." placeholder:"NUMBER"`
	Came     string `help:"The number that came in place of the listed one." placeholder:"PART"`
	Many     string `help:"How many of it came (default: as many as listed)." placeholder:"NUMBER"`
	Revision bool   `help:"What came is the same part of another revision."`
	Looked   bool   `help:"They were looked at, and not counted alone."`
	Lot      string `help:"The lot, as the bag or the part is marked." placeholder:"LOT"`
	Note     string `help:"What is damaged, or why it does not count." placeholder:"WORDS"`
}

// Run records the finding, in place of one before it.
func (c *receiveCommand) Run(p *program) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		line, err := c.line(s.Shop, c.Line)
		if err != nil {
			return store.Entry{}, err
		}
		finding, err := c.finding(s, line.Listed)
		if err != nil {
			return store.Entry{}, err
		}
		return s.Shop.Receive(line.Shipment, c.Line, finding)
	})
}

func (c *receiveCommand) finding(s *session.Session, listed measure.Quantity) (store.Finding, error) {
	f := store.Finding{Found: listed, Counted: true, Looked: c.Looked, Lot: c.Lot, Note: c.Note}
	var err error
	switch {
	case c.Found != "all":
		f.Found, err = amountOf(c.Found, listed.Unit)
	case c.Came != "":
		f.Found = measure.Quantity{Unit: listed.Unit} // what came is not what is listed
	}
	if err == nil && c.Damaged != "" {
		f.Damaged, err = amountOf(c.Damaged, listed.Unit)
	}
	if err != nil || c.Came == "" {
		if err == nil && (c.Revision || c.Many != "") {
			err = &usageError{fmt.Errorf("--revision and --many go with --came")}
		}
		return f, err
	}
	f.Came = &store.Came{Designation: s.Canonical(c.Came), Quantity: listed, Revision: c.Revision}
	if c.Many != "" {
		f.Came.Quantity, err = amountOf(c.Many, listed.Unit)
	}
	return f, err
}

// extraCommand records a find that is on no line.
type extraCommand struct {
	listFlag
	Part   string `arg:"" help:"Its part number, as it is marked."`
	Found  string `arg:"" help:"How many; in pieces, unless the shop keeps it by another unit."`
	Line   int    `help:"It lay in the bag of this line." required:"" placeholder:"NUMBER"`
	Looked bool   `help:"They were looked at, and not counted alone."`
	Lot    string `help:"The lot, as the bag or the part is marked." placeholder:"LOT"`
	Note   string `help:"What is to be said of it." placeholder:"WORDS"`
}

// Run adds a line for it after the last one of the list.
func (c *extraCommand) Run(p *program) error {
	return p.change(func(s *session.Session) (store.Entry, error) {
		beside, err := c.line(s.Shop, c.Line)
		if err != nil {
			return store.Entry{}, err
		}
		l := store.Line{
			Shipment: beside.Shipment, Crate: beside.Crate, Group: beside.Group, Place: beside.Place,
			Designation: s.Canonical(c.Part), Title: s.Catalog().Decode(c.Part).Title,
		}
		unit := measure.Each
		if item, err := s.Shop.Item(l.Designation); err == nil {
			unit = item.Unit
		} else if store.KindOf(err) != store.NotFound {
			return store.Entry{}, err
		}
		found, err := amountOf(c.Found, unit)
		if err != nil {
			return store.Entry{}, err
		}
		l.Finding = &store.Finding{Found: found, Counted: true, Looked: c.Looked, Lot: c.Lot, Note: c.Note}
		return s.Shop.ReceiveAll([]store.Line{l})
	})
}
