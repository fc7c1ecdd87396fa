package store

import (
	"errors"
	"fmt"
	"slices"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// NewShipment is a packing list to be brought in.
type NewShipment struct {
	Order       string
	Supplier    string
	File        string // name, for people; never used as a path
	Fingerprint string // of the lines, whatever file they came in
	Lines       []NewLine
	Shape       *ListShape // nil where nobody chose columns
	// Revises is the id of the shipment whose list it takes the place of, what was checked
	// by that one kept; empty: it is a list of its own.
	Revises string
	// Told is what a person said of the lines that were asked about: the number that each has
	// on this list, 0 for none; see [LineQuestion].
	Told map[LineID]int
}

// NewLine is a line of a packing list as it was read.
type NewLine struct {
	Number      int // unique in the list, from 1
	Crate       string
	Group       string
	Designation string // canonical
	Title       string
	Listed      measure.Quantity
	Status      ListStatus
	Lot         string
	Price       Money // of one unit; zero: not known
}

// MaxLines is the most lines that one packing list may have.
const MaxLines = 100_000

// Import brings a packing list in as a shipment: its crates and bags become
// places with tags, its designations items. The same list twice is recognised by
// its fingerprint: then the shipment that is there is returned, fresh is false
// and nothing changes. One that revises another takes its place; see [ReviseList].
func (s *Shop) Import(list NewShipment) (ship Shipment, fresh bool, err error) {
	if len(list.Lines) == 0 || len(list.Lines) > MaxLines {
		return Shipment{}, false, fail(Invalid, list.File, "%s has %d lines, and a packing list has 1 to %d: see that it is the right file.", list.File, len(list.Lines), MaxLines)
	}
	_, err = s.commit(VerbImport, func(w *writer) (string, error) {
		known, found, err := w.shipmentOf(list.Fingerprint)
		if err != nil {
			return "", err
		}
		if found {
			ship = known
			return "", errKnownList
		}
		if list.Revises != "" {
			var text string
			ship, text, err = w.importRevised(list)
			return text, err
		}
		ship, err = w.importShipment(list)
		return fmt.Sprintf("packing list %s brought in: %d lines", ship.File, len(list.Lines)), err
	})
	if errors.Is(err, errKnownList) {
		return ship, false, nil
	}
	return ship, err == nil, err
}

// errKnownList ends an import that has nothing to do.
var errKnownList = errors.New("the list has been brought in already")

// shipmentOf is the shipment of a fingerprint; nothing has the empty one.
func (w *writer) shipmentOf(fingerprint string) (ship Shipment, found bool, err error) {
	if fingerprint == "" {
		return Shipment{}, false, nil
	}
	err = scan(w.ledger.tx, tableShipments, "", func(_ string, s Shipment) error {
		if s.Has(fingerprint) {
			ship, found = s, true
		}
		return nil
	})
	return ship, found, err
}

func (w *writer) importShipment(list NewShipment) (Shipment, error) {
	id, err := w.newID()
	if err != nil {
		return Shipment{}, err
	}
	ship := Shipment{ID: id, Order: list.Order, Supplier: list.Supplier, File: list.File, Fingerprint: list.Fingerprint, Shape: list.Shape}
	if err := ship.clean(); err != nil {
		return Shipment{}, err
	}
	in := importer{writer: w, ship: &ship, crates: map[string]string{}, bags: map[string]string{}, numbers: map[int]bool{}}
	for _, l := range list.Lines {
		if err := in.line(l); err != nil {
			return Shipment{}, err
		}
	}
	return ship, w.put(tableShipments, ship.ID, ship)
}

// clean cleans what a list says of itself.
func (s *Shipment) clean() error {
	for _, field := range []struct {
		what string
		text *string
	}{{"The order number", &s.Order}, {"The name of the supplier", &s.Supplier}, {"The name of the file", &s.File}} {
		var err error
		if *field.text, err = cleanLong(field.what, *field.text); err != nil {
			return err
		}
	}
	return nil
}

// importer brings the lines of one shipment in.
type importer struct {
	*writer
	ship    *Shipment
	crates  map[string]string // name -> place
	bags    map[string]string // crate and group -> place
	numbers map[int]bool
}

func (in importer) line(l NewLine) error {
	l, err := in.checked(l)
	if err != nil {
		return err
	}
	line := Line{Shipment: in.ship.ID}.relisted(l)
	line.ID = LineID(l.Number)
	return in.keep(line)
}

// checked is a line of a list with its names cleaned, where it can be kept.
func (in importer) checked(l NewLine) (NewLine, error) {
	if l.Number < 1 || l.Number > maxLineNumber || in.numbers[l.Number] {
		return l, fail(Invalid, in.ship.File, "Line number %d of %s is not a number from 1 to %d that occurs once: correct the list.", l.Number, in.ship.File, maxLineNumber)
	}
	in.numbers[l.Number] = true
	l, err := cleanLine(l)
	if err != nil {
		return l, err
	}
	if !canBeKept(l.Listed) {
		return l, fail(Invalid, l.Designation, "Line %d lists more of %s than can be kept: correct the list.", l.Number, l.Designation)
	}
	if l.Listed.Sign() < 0 {
		return l, fail(Invalid, l.Designation, "Line %d lists less than zero of %s: correct the list.", l.Number, l.Designation)
	}
	return l, nil
}

// keep writes a line with its item, and with the place of its bag where it has none yet.
func (in importer) keep(l Line) error {
	if l.Place == "" {
		var err error
		if l.Place, err = in.placeFor(l.Crate, l.Group); err != nil {
			return err
		}
	}
	if err := in.ensureItem(Item{Designation: l.Designation, Title: l.Title, Unit: l.Listed.Unit}); err != nil {
		return err
	}
	return in.put(tableLines, lineKey(l.Shipment, l.ID), l)
}

// maxLineNumber bounds the numbers of lines, so that extras can continue after
// them and all stay in order.
const maxLineNumber = 900_000

// cleanLine cleans the names of a line.
func cleanLine(l NewLine) (NewLine, error) {
	var err error
	if l.Designation, err = cleanName(fmt.Sprintf("The part number of line %d", l.Number), l.Designation); err != nil {
		return l, err
	}
	if l.Crate, err = cleanName(fmt.Sprintf("The crate of line %d", l.Number), l.Crate); err != nil {
		return l, err
	}
	if l.Group, err = cleanOptional(fmt.Sprintf("The group of line %d", l.Number), l.Group); err != nil {
		return l, err
	}
	if l.Lot, err = cleanOptional(fmt.Sprintf("The lot of line %d", l.Number), l.Lot); err != nil {
		return l, err
	}
	l.Title, err = cleanLong(fmt.Sprintf("The description of line %d", l.Number), l.Title)
	return l, err
}

// placeFor is the place of a bag in a crate; both are made when first named.
func (in importer) placeFor(crate, group string) (string, error) {
	place, ok := in.crates[crate]
	if !ok {
		made, err := in.newPlace(Place{Kind: Crate, Name: crate})
		if err != nil {
			return "", err
		}
		place = made.ID
		in.crates[crate] = place
		in.ship.Crates = append(in.ship.Crates, CrateRef{Name: crate, Place: place})
	}
	if group == "" {
		return place, nil
	}
	key := crate + keySeparator + group
	bag, ok := in.bags[key]
	if !ok {
		made, err := in.newPlace(Place{Parent: place, Kind: Bag, Name: group})
		if err != nil {
			return "", err
		}
		bag = made.ID
		in.bags[key] = bag
	}
	return bag, nil
}

// maxClaimDays bounds the days to claim, so that a date typed as a number of days is refused.
const maxClaimDays = 3650

// Arrive records that crates of a shipment came, with the claim days of their own
// paperwork. A crate arrives once: undo the entry to correct it.
func (s *Shop) Arrive(shipment string, d Delivery) (Entry, error) {
	return s.commit(VerbArrive, func(w *writer) (string, error) {
		ship, found, err := lookup[Shipment](w.ledger, tableShipments, shipment)
		if err != nil {
			return "", err
		}
		if !found {
			return "", fail(NotFound, "", "That packing list is not in this shop: bring it in first.")
		}
		if err := checkDelivery(ship, d); err != nil {
			return "", err
		}
		ship.Deliveries = append(ship.Deliveries, d)
		return fmt.Sprintf("%s arrived on %s", phrase.List(d.Crates), d.Arrived), w.put(tableShipments, shipment, ship)
	})
}

func checkDelivery(ship Shipment, d Delivery) error {
	if len(d.Crates) == 0 || d.Arrived.IsZero() || !d.Arrived.Valid() {
		return fail(Invalid, ship.File, "The delivery is not complete: say which crates arrived, and on which day.")
	}
	for _, days := range []*int{d.DamageDays, d.ShortageDays} {
		if days != nil && (*days < 0 || *days > maxClaimDays) {
			return fail(Invalid, ship.File, "The days to claim must be 0 to %d, not %d: type days, not a date.", maxClaimDays, *days)
		}
	}
	for i, name := range d.Crates {
		if slices.Contains(d.Crates[:i], name) {
			return fail(Invalid, name, "%s is named twice: name each crate once.", name)
		}
		if _, come := ship.Delivery(name); come {
			return fail(Conflict, name, "%s has arrived already: undo that entry to correct its day.", name)
		}
		if !ship.hasCrate(name) {
			return fail(NotFound, name, "The packing list %s has no crate %s: see how the list spells it.", ship.File, name)
		}
	}
	return nil
}

func (s Shipment) hasCrate(name string) bool {
	for _, c := range s.Crates {
		if c.Name == name {
			return true
		}
	}
	return false
}
