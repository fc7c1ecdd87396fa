package store

import (
	"fmt"

	"stowright/store/measure"
)

// NewShipment is a packing list to be brought in.
type NewShipment struct {
	Order       string
	Supplier    string
	File        string // name, for people; never used as a path
	Fingerprint string // of the lines, whatever file they came in
	Lines       []NewLine
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
}

// MaxLines is the most lines that one packing list may have.
const MaxLines = 100_000

// Import brings a packing list in as a shipment: its crates and bags become
// places with tags, its designations items. The same list twice is recognised by
// its fingerprint: then the shipment that is there is returned, fresh is false
// and nothing changes.
func (s *Shop) Import(list NewShipment) (ship Shipment, fresh bool, err error) {
	known, err := s.Shipments()
	if err != nil {
		return Shipment{}, false, err
	}
	for _, k := range known {
		if k.Fingerprint == list.Fingerprint {
			return k, false, nil
		}
	}
	if len(list.Lines) == 0 || len(list.Lines) > MaxLines {
		return Shipment{}, false, fail(Invalid, list.File, "%s has %d lines: a packing list has 1 to %d.", list.File, len(list.Lines), MaxLines)
	}
	_, err = s.commit(VerbImport, func(w *writer) (string, error) {
		ship, err = w.importShipment(list)
		return fmt.Sprintf("packing list %s brought in: %d lines", ship.File, len(list.Lines)), err
	})
	return ship, err == nil, err
}

func (w *writer) importShipment(list NewShipment) (Shipment, error) {
	id, err := w.newID()
	if err != nil {
		return Shipment{}, err
	}
	ship := Shipment{ID: id, Order: list.Order, Supplier: list.Supplier, File: list.File, Fingerprint: list.Fingerprint}
	in := importer{writer: w, ship: &ship, crates: map[string]string{}, bags: map[string]string{}, numbers: map[int]bool{}}
	for _, l := range list.Lines {
		if err := in.line(l); err != nil {
			return Shipment{}, err
		}
	}
	return ship, w.put(tableShipments, ship.ID, ship)
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
	if l.Number < 1 || in.numbers[l.Number] {
		return fail(Invalid, in.ship.File, "Line number %d of %s is not a number from 1 up that stands once: correct the list.", l.Number, in.ship.File)
	}
	in.numbers[l.Number] = true
	designation, err := cleanName("A part number", l.Designation)
	if err != nil {
		return err
	}
	if l.Listed.Sign() < 0 {
		return fail(Invalid, designation, "Line %d lists less than nothing of %s: correct the list.", l.Number, designation)
	}
	place, err := in.placeFor(l.Crate, l.Group)
	if err != nil {
		return err
	}
	if err := in.ensureItem(Item{Designation: designation, Title: l.Title, Unit: l.Listed.Unit}); err != nil {
		return err
	}
	record := Line{
		Shipment: in.ship.ID, Number: l.Number, Crate: l.Crate, Group: l.Group, Place: place, Designation: designation,
		Title: l.Title, Listed: l.Listed, Status: l.Status, Lot: l.Lot,
	}
	return in.put(tableLines, lineKey(in.ship.ID, l.Number), record)
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
			return "", fail(NotFound, shipment, "There is no shipment %q in this shop.", shipment)
		}
		if err := checkDelivery(ship, d); err != nil {
			return "", err
		}
		ship.Deliveries = append(ship.Deliveries, d)
		return fmt.Sprintf("%s arrived on %s", joinNames(d.Crates), d.Arrived), w.put(tableShipments, shipment, ship)
	})
}

func checkDelivery(ship Shipment, d Delivery) error {
	if len(d.Crates) == 0 || d.Arrived.IsZero() {
		return fail(Invalid, ship.File, "Say which crates arrived, and on which day.")
	}
	for _, days := range []*int{d.DamageDays, d.ShortageDays} {
		if days != nil && (*days < 0 || *days > maxClaimDays) {
			return fail(Invalid, ship.File, "The days to claim must be 0 to %d, not %d.", maxClaimDays, *days)
		}
	}
	for _, name := range d.Crates {
		if _, come := ship.Delivery(name); come {
			return fail(Conflict, name, "%s has arrived already: undo that entry to correct its day.", name)
		}
		if !ship.hasCrate(name) {
			return fail(NotFound, name, "The packing list %s has no crate %s.", ship.File, name)
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

// joinNames is "C1, C2 and C3".
func joinNames(names []string) string {
	text := ""
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			text += " and "
		default:
			text += ", "
		}
		text += n
	}
	return text
}
