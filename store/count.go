package store

import (
	"fmt"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Count records what a hand counted in a heap: the difference to what the shop
// thought is part of the entry, and the figure is exact from then on. Counting
// what the shop did not know to be there makes the heap.
func (s *Shop) Count(k StockKey, counted measure.Quantity) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) { return w.count(k, Exact(counted), "counted") })
}

// count makes a heap what was found by the way that how says.
func (w *writer) count(k StockKey, now Amount, how string) (string, error) {
	place, err := w.usablePlace(k.Place)
	if err != nil {
		return "", err
	}
	if now.Quantity.Sign() < 0 {
		return "", fail(Invalid, k.Item, "%s cannot be less than zero: type what is there.", k.Item)
	}
	if !wholePieces(now.Quantity) {
		return "", fail(Invalid, k.Item, "%s is not a whole number of pieces: count %s again.", now.Quantity.Number(), k.Item)
	}
	if k, err = cleanKey(k); err != nil {
		return "", err
	}
	if err := w.ensureItem(Item{Designation: k.Item, Unit: now.Unit}); err != nil {
		return "", err
	}
	if k, err = w.countedHeap(k, now); err != nil {
		return "", err
	}
	was, err := w.amount(k)
	if err != nil {
		return "", err
	}
	delta, err := now.Add(was.Neg())
	if err != nil {
		return "", err
	}
	if err := w.stock(k, delta); err != nil {
		return "", err
	}
	text := fmt.Sprintf("%s %s in %s: %s", how, k.Item, place.Name, now)
	if was != now && !was.IsZero() {
		text += fmt.Sprintf(" (was %s)", was)
	}
	return text, w.putCounted(k)
}

// countedHeap is the heap that a count is of. What the shop did not know to be there is a
// lot of its own, found here.
func (w *writer) countedHeap(k StockKey, now Amount) (StockKey, error) {
	k, err := w.meant(k)
	if err != nil || now.IsZero() {
		return k, err
	}
	if _, numbered := lotNamed(k.Lot); numbered {
		return k, nil
	}
	if there, err := w.ledger.get(tableStock, k.key()); err != nil || there != nil {
		return k, err // as an older shop has it
	}
	lot, err := w.newLot(Lot{Item: k.Item, Kind: FoundHere, Printed: k.Lot, Came: now, Date: DateOf(w.at)})
	if err != nil {
		return k, err
	}
	if err := w.forgetCounted(k); err != nil { // that there was none
		return k, err
	}
	k.Lot = lot.Name()
	return k, w.joined(k)
}

// wholePieces reports whether a quantity holds no part of a piece.
func wholePieces(q measure.Quantity) bool {
	return q.Unit != measure.Each || q.Micro%measure.Pieces(1).Micro == 0
}

// cleanKey cleans the names in a key that comes from outside.
func cleanKey(k StockKey) (StockKey, error) {
	var err error
	if k.Item, err = cleanName("A part number", k.Item); err != nil {
		return k, err
	}
	if k.Lot, err = cleanOptional("The lot", k.Lot); err != nil {
		return k, err
	}
	switch k.Condition {
	case Good, Damaged, SetApart, Removed:
		return k, nil
	}
	if k.Condition.Alerts() != nil {
		return k, nil
	}
	return k, fail(Invalid, k.Item, "%s is not a condition of stock: it is good, %s, %s or %s.", phrase.Quote(string(k.Condition)), Damaged, SetApart, Removed)
}
