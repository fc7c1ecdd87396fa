package session

import (
	"context"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/hardware"
	"stowright/store/packinglist"
)

// BringIn brings a packing list into a shop, once there is a safe copy of the shop as it
// was, which takes its time where it is large: ctx ends that, and then nothing was brought
// in. Fresh is false where the shop has the same list already; then nothing is copied.
func BringIn(ctx context.Context, shop *store.Shop, keeper *copies.Keeper, list store.NewShipment) (ship store.Shipment, fresh bool, err error) {
	known, err := shop.Shipments()
	if err != nil {
		return store.Shipment{}, false, err
	}
	if !slices.ContainsFunc(known, func(k store.Shipment) bool { return k.Has(list.Fingerprint) }) {
		if err := keeper.BeforeImport(ctx); err != nil {
			return store.Shipment{}, false, err
		}
	}
	if err := ctx.Err(); err != nil { // stopped while the copy was finished
		return store.Shipment{}, false, err
	}
	return shop.Import(list)
}

// NewShipment is a packing list as the store takes it: designations in their
// canonical spelling, so that the same bolt is the same item however it is written.
func NewShipment(c *hardware.Catalog, list packinglist.List, supplier string) store.NewShipment {
	ship := store.NewShipment{Order: list.Order, Supplier: supplier, File: list.File, Fingerprint: list.Fingerprint()}
	for _, l := range list.Lines {
		ship.Lines = append(ship.Lines, store.NewLine{
			Number: l.Number, Crate: crateName(l.Crate), Group: l.Group, Designation: Canonical(c, l.Designation),
			Title: l.Description, Listed: l.Listed, Status: listStatus(l.Status), Lot: l.Lot, Price: priceOf(l.Price),
		})
	}
	return ship
}

// priceOf is a price as a list says it; what is no money that is known here is none.
func priceOf(text string) store.Money {
	m, err := store.ParseMoney(text, "")
	if err != nil {
		return store.Money{}
	}
	return m
}

// ListDoubt is a number of a packing list that has the form of a published one and
// is none that the tables know.
type ListDoubt struct {
	Line        int // of the list
	Designation string
	Problem     string // one sentence, as decoding says it
}

// ListDoubts are the numbers of a list to look at before it is brought in. They
// keep nothing from being brought in: the list says what was sent.
func ListDoubts(c *hardware.Catalog, list packinglist.List) []ListDoubt {
	var out []ListDoubt
	for _, l := range list.Lines {
		if problem := c.Decode(l.Designation).Problem; problem != "" {
			out = append(out, ListDoubt{l.Number, l.Designation, problem})
		}
	}
	return out
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

// Canonical is a designation in its canonical spelling where the catalog knows it,
// in capitals where it has the form of one that does not exist, and as it is where
// it is none.
func Canonical(c *hardware.Catalog, designation string) string {
	if spelled, ok := c.Canonical(designation); ok {
		return spelled
	}
	if c.Decode(designation).Problem != "" {
		return strings.ToUpper(strings.TrimSpace(designation))
	}
	return designation
}

// Canonical is a designation spelled by the shop's catalog.
func (s *Session) Canonical(designation string) string { return Canonical(s.Catalog(), designation) }

// Canonical is that of the session.
func (s *Reader) Canonical(designation string) string { return Canonical(s.Catalog(), designation) }
