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
	if k.Condition != Good && k.Condition != Damaged && k.Condition != SetApart {
		return k, fail(Invalid, k.Item, "%s is not a condition of stock: it is good, %s or %s.", phrase.Quote(string(k.Condition)), Damaged, SetApart)
	}
	return k, nil
}
