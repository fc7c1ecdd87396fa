package session

import (
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/packinglist"
)

// Import brings a packing list that was read into the shop. Fresh is false where
// the shop has the same list already.
func (s *Session) Import(list packinglist.List, supplier string) (ship store.Shipment, fresh bool, err error) {
	return s.Shop.Import(NewShipment(list, supplier))
}

// NewShipment is a packing list as the store takes it: designations in their
// canonical spelling, so that the same bolt is the same item however it is written.
func NewShipment(list packinglist.List, supplier string) store.NewShipment {
	ship := store.NewShipment{Order: list.Order, Supplier: supplier, File: list.File, Fingerprint: list.Fingerprint()}
	for _, l := range list.Lines {
		ship.Lines = append(ship.Lines, store.NewLine{
			Number: l.Number, Crate: crateName(l.Crate), Group: l.Group, Designation: Canonical(l.Designation),
			Title: l.Description, Listed: l.Listed, Status: listStatus(l.Status), Lot: l.Lot,
		})
	}
	return ship
}

// crateName names the crate of a list that names none.
func crateName(name string) string {
	if name == "" {
		return "Crate 1"
	}
	return name
}

func listStatus(s packinglist.Status) store.ListStatus {
	switch s {
	case packinglist.BackOrdered:
		return store.BackOrdered
	case packinglist.NotArrived:
		return store.NotShipped
	}
	return store.Shipped
}

// Canonical is a designation in its canonical spelling where the tables know it,
// and as it is where they do not.
func Canonical(designation string) string {
	if c, ok := hardware.Canonical(designation); ok {
		return c
	}
	return designation
}
