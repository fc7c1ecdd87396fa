package store

import (
	"fmt"
	"strings"

	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// Supplier is somebody who sells.
type Supplier struct {
	Name     string `json:"name"`
	Minimum  Money  `json:"minimum,omitzero"`   // of one order; zero: none known
	Currency string `json:"currency,omitempty"` // of its prices, where a price says none: "USD"
	Note     string `json:"note,omitempty"`     // telephone, web shop, customer number
}

// Supply is how an item is bought.
type Supply struct {
	Item     string           `json:"item"`               // designation
	Supplier string           `json:"supplier,omitempty"` // name; empty: nobody said
	Pack     int64            `json:"pack,omitempty"`     // whole units in a pack; 0: sold singly
	Least    measure.Quantity `json:"least,omitzero"`     // no fewer are sold; of no unit: any number is
	Price    Money            `json:"price,omitzero"`     // of one unit, the last that is known
	Priced   Date             `json:"priced,omitzero"`    // the day of that price
	// The spares that are wanted: the larger of a share of the need and of a number;
	// ByWaste takes what was spoiled in this shop in place of the share, once enough were used.
	Percent int              `json:"spare_percent,omitempty"`
	Spare   measure.Quantity `json:"spare,omitzero"`
	ByWaste bool             `json:"spare_by_waste,omitempty"`
}

// The bounds of what is said of a supply.
const (
	MaxPack    = 1_000_000
	MaxPercent = 1000
)

// PutSupplier makes a supplier, or changes what is known of it.
func (s *Shop) PutSupplier(u Supplier) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if u.Name, err = cleanName("The name of the supplier", u.Name); err != nil {
			return "", err
		}
		if u.Note, err = cleanLong("The note on the supplier", u.Note); err != nil {
			return "", err
		}
		if u.Currency != "" {
			if _, err := ParseMoney("1", u.Currency); err != nil {
				return "", err
			}
			u.Currency = strings.ToUpper(u.Currency)
		}
		if u.Minimum.Known() && u.Currency == "" {
			u.Currency = u.Minimum.CurrencyCode()
		}
		if u.Minimum.Known() && u.Currency != u.Minimum.CurrencyCode() {
			return "", fail(Invalid, u.Name, "%s sells in %s, and its minimum order is in %s: give both in one currency.", u.Name, u.Currency, u.Minimum.CurrencyCode())
		}
		if err := w.ownName(u.Name); err != nil {
			return "", err
		}
		err = scan(w.ledger.tx, tableSupply, "", func(_ string, supply Supply) error {
			if supply.Supplier != u.Name {
				return nil
			}
			return u.sells(supply.Item, supply.Price)
		})
		if err != nil {
			return "", err
		}
		return "supplier " + u.Name + " described", w.put(tableSuppliers, u.Name, u)
	})
}

// sells refuses a price in another currency than the supplier's: two are never added up.
func (u Supplier) sells(item string, price Money) error {
	if u.Currency == "" || !price.Known() || price.CurrencyCode() == u.Currency {
		return nil
	}
	return fail(Conflict, item, "%s sells in %s, and the price of %s is in %s: give it in %s, which nothing here converts.", u.Name, u.Currency, item, price.CurrencyCode(), u.Currency)
}

// ownName refuses a supplier's name that another has but for capital letters.
func (w *writer) ownName(name string) error {
	return scan(w.ledger.tx, tableSuppliers, "", func(key string, _ Supplier) error {
		if key != name && strings.EqualFold(key, name) {
			return fail(Conflict, name, "%s is here as %s already: write it as it is here.", phrase.Quote(name), phrase.Quote(key))
		}
		return nil
	})
}

// PutSupply records how an item is bought, and how many of it the shop never wants to be
// below; keep zero: it may run out. The supplier is made where it is not known yet. The
// price is of today where it changes and no day is given.
func (s *Shop) PutSupply(u Supply, keep measure.Quantity) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if u.Item, err = cleanName("A part number", u.Item); err != nil {
			return "", err
		}
		if u.Supplier, err = cleanOptional("The name of the supplier", u.Supplier); err != nil {
			return "", err
		}
		known, _, err := lookup[Supply](w.ledger, tableSupply, u.Item)
		if err != nil {
			return "", err
		}
		switch {
		case !u.Price.Known():
			u.Priced = Date{}
		case u.Priced.IsZero():
			u.Priced = s.Today()
			if known.Price.String() == u.Price.String() {
				u.Priced = known.Priced
			}
		}
		if err := checkSupply(u, s.Today()); err != nil {
			return "", err
		}
		if err := w.keep(u, keep); err != nil {
			return "", err
		}
		if err := w.ensureSupplier(u); err != nil {
			return "", err
		}
		return u.words(keep), w.put(tableSupply, u.Item, u)
	})
}

func checkSupply(u Supply, today Date) error {
	switch {
	case u.Pack < 0 || u.Pack > MaxPack:
		return fail(Invalid, u.Item, "A pack of %s cannot hold %d: give 1 to %d.", u.Item, u.Pack, MaxPack)
	case u.Percent < 0 || u.Percent > MaxPercent:
		return fail(Invalid, u.Item, "%d %% of %s cannot be spare: give 0 to %d.", u.Percent, u.Item, MaxPercent)
	case u.Price.IsNegative():
		return fail(Invalid, u.Item, "%s cannot cost less than 0: correct the price.", u.Item)
	case !u.Priced.IsZero() && today.DaysUntil(u.Priced) > 0:
		return fail(Invalid, u.Item, "The price of %s cannot be of %s: that day is still to come.", u.Item, u.Priced)
	}
	for _, q := range []measure.Quantity{u.Least, u.Spare} {
		if q.Sign() < 0 || !canBeKept(q) || !wholePieces(q) {
			return fail(Invalid, u.Item, "%s cannot be bought as %s: give zero or more, whole pieces.", u.Item, q)
		}
	}
	return nil
}

// keep records how many of an item are kept, and holds the units of its supply against
// the item's own.
func (w *writer) keep(u Supply, keep measure.Quantity) error {
	item, found, err := lookup[Item](w.ledger, tableItems, u.Item)
	if err != nil {
		return err
	}
	unit := item.Unit
	for _, q := range []measure.Quantity{keep, u.Least, u.Spare} {
		if q.IsZero() {
			continue
		}
		if unit != "" && q.Unit != unit {
			return fail(Conflict, u.Item, "%s is counted in %s, and %s is not: nothing is converted, so give it in %s.", u.Item, unit, q, unit)
		}
		unit = q.Unit
	}
	if keep.IsZero() {
		keep = measure.Quantity{}
	}
	if item.Minimum == keep || !found && keep.IsZero() {
		return nil
	}
	if !found {
		item = Item{Designation: u.Item, Unit: unit}
	}
	item.Minimum = keep
	if err := checkItem(&item); err != nil {
		return err
	}
	return w.put(tableItems, item.Designation, item)
}

// ensureSupplier makes the supplier of an item when the shop does not know it yet.
func (w *writer) ensureSupplier(u Supply) error {
	if u.Supplier == "" {
		return nil
	}
	if err := w.ownName(u.Supplier); err != nil {
		return err
	}
	known, found, err := lookup[Supplier](w.ledger, tableSuppliers, u.Supplier)
	if err != nil {
		return err
	}
	if found {
		return known.sells(u.Item, u.Price)
	}
	return w.put(tableSuppliers, u.Supplier, Supplier{Name: u.Supplier, Currency: u.Price.CurrencyCode()})
}

// words are "AN3-5A: from fastener shop, packs of 10, 0.45 USD each, spare 10 %".
func (u Supply) words(keep measure.Quantity) string {
	var parts []string
	if u.Supplier != "" {
		parts = append(parts, "from "+u.Supplier)
	}
	if u.Pack > 1 {
		parts = append(parts, fmt.Sprintf("packs of %d", u.Pack))
	}
	if u.Least.Sign() > 0 {
		parts = append(parts, "at least "+u.Least.String())
	}
	if u.Price.Known() {
		parts = append(parts, u.Price.String()+" each")
	}
	if spare := u.SpareRule(); spare != "" {
		parts = append(parts, "spare "+spare)
	}
	if keep.Sign() > 0 {
		parts = append(parts, "never below "+keep.String())
	}
	if len(parts) == 0 {
		return u.Item + ": nothing is said of how it is bought"
	}
	return u.Item + ": " + strings.Join(parts, ", ")
}

// SpareRule is the rule in words, as it is typed too: "10 %", "1", "10 % or 2", "learned";
// empty for none.
func (u Supply) SpareRule() string {
	var parts []string
	if u.ByWaste {
		parts = append(parts, "learned")
	}
	if u.Percent > 0 {
		parts = append(parts, fmt.Sprintf("%d %%", u.Percent))
	}
	if u.Spare.Sign() > 0 {
		parts = append(parts, u.Spare.Number())
	}
	return strings.Join(parts, " or ")
}

// Suppliers are all suppliers by name.
func (r *Reader) Suppliers() ([]Supplier, error) { return all[Supplier](r, tableSuppliers, "") }

// Supplies say how items are bought, by designation.
func (r *Reader) Supplies() ([]Supply, error) { return all[Supply](r, tableSupply, "") }

// SupplyOf says how an item is bought; all but its Item is empty where nobody said.
func (r *Reader) SupplyOf(item string) (Supply, error) {
	u := Supply{Item: item}
	err := r.view(func(tx *disk.Tx) error {
		known, found, err := lookup[Supply](fileLedger{tx}, tableSupply, item)
		if found {
			u = known
		}
		return err
	})
	return u, err
}
