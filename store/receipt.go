package store

import (
	"cmp"

	"stowright/store/measure"
)

// keepLots takes over which lots the finding before this one made. Which they are is for
// the shop to say, whatever the new one has.
func keepLots(before, now *Finding) {
	now.LotName = ""
	if now.Came != nil {
		came := *now.Came
		came.LotName = ""
		now.Came = &came
	}
	if before == nil {
		return
	}
	now.LotName = before.LotName
	if now.Came != nil && before.Came != nil && now.Came.Designation == before.Came.Designation {
		now.Came.LotName = before.Came.LotName
	}
}

// printedLot is the lot as a finding says that it is marked.
func printedLot(l Line, f *Finding) string { return cmp.Or(f.Lot, l.Lot) }

// heapLot is what the heaps of a finding have for their lot: that which was made of it,
// or, of a finding of an older shop, what is printed.
func heapLot(l Line, f *Finding) string { return cmp.Or(f.LotName, printedLot(l, f)) }

// receiptLots makes the lots of what a finding brings, or brings those that were made
// already up to it. What is found of an item that is kept by another unit makes none, as
// it is no stock.
func (w *writer) receiptLots(l Line, f *Finding, otherUnit bool) error {
	if !otherUnit && (f.LotName != "" || f.Amount().Quantity.Sign() > 0 && !sameOldHeap(l, f)) {
		name, err := w.receiptLot(l, f.LotName, Lot{Item: l.Designation, Printed: printedLot(l, f), Came: f.Amount()})
		if err != nil {
			return err
		}
		f.LotName = name
	}
	if err := w.noLongerCame(l.Finding, f); err != nil || f.Came == nil {
		return err
	}
	old := l.Finding != nil && l.Finding.Came != nil && l.Finding.Came.LotName == "" && l.Finding.Came.Designation == f.Came.Designation
	if old {
		return nil
	}
	name, err := w.receiptLot(l, f.Came.LotName, Lot{Item: f.Came.Designation, Came: Exact(f.Came.Quantity)})
	f.Came.LotName = name
	return err
}

// noLongerCame has nothing come of a lot that a finding made of what came in place of its
// line, where the next one says otherwise.
func (w *writer) noLongerCame(before, now *Finding) error {
	if before == nil || before.Came == nil || before.Came.LotName == "" || now.Came != nil && now.Came.LotName != "" {
		return nil
	}
	lot, err := lotOf(w.ledger, before.Came.Designation, before.Came.LotName)
	if err != nil {
		return err
	}
	lot.Came = Exact(measure.Quantity{Unit: lot.Came.Unit})
	return w.put(tableLots, lot.key(), lot)
}

// sameOldHeap reports whether a finding adds to heaps that an older shop made, which stay
// as they are called.
func sameOldHeap(l Line, f *Finding) bool {
	before := l.Finding
	return before != nil && before.LotName == "" && before.Found.Sign() > 0 && printedLot(l, before) == printedLot(l, f)
}

// receiptLot makes a lot of a line, or, where it has a name already, brings it up to what
// is known of it now, and returns its name.
func (w *writer) receiptLot(l Line, name string, now Lot) (string, error) {
	if name != "" {
		lot, err := lotOf(w.ledger, now.Item, name)
		if err != nil {
			return "", err
		}
		if lot.Printed != now.Printed { // it is not the lot that was counted then
			if err := w.forgetLotCounted(now.Item, name); err != nil {
				return "", err
			}
		}
		lot.Printed, lot.Came = now.Printed, now.Came
		return name, w.put(tableLots, lot.key(), lot)
	}
	ship, _, err := lookup[Shipment](w.ledger, tableShipments, l.Shipment)
	if err != nil {
		return "", err
	}
	now.Receipt = &Receipt{Shipment: l.Shipment, Order: ship.Order, Line: l.ID, Printed: l.Printed}
	now.Date = DateOf(w.at)
	if d, arrived := ship.Delivery(l.Crate); arrived {
		now.Date = d.Arrived
	}
	lot, err := w.newLot(now)
	return lot.Name(), err
}

// forgetLotCounted drops the records of counts of a lot, wherever it lies.
func (w *writer) forgetLotCounted(item, name string) error {
	var counted []StockKey
	err := scan(w.ledger.tx, tableCounted, item+keySeparator, func(key string, _ Counted) error {
		k, err := parseStockKey(key)
		if k.Lot == name {
			counted = append(counted, k)
		}
		return err
	})
	for _, k := range counted {
		if err == nil {
			err = w.forgetCounted(k)
		}
	}
	return err
}
