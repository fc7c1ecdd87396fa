package store

import (
	"errors"
	"fmt"

	"stowright/store/measure"
)

// Count records what a hand counted in a heap: the difference to what the shop
// thought is part of the entry, and the figure is exact from then on. Counting
// what the shop did not know to be there makes the heap.
func (s *Shop) Count(k StockKey, counted measure.Quantity) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) { return w.count(k, Exact(counted), "counted") })
}

// Weigh records what a heap was weighed or measured to be: an amount with the
// range it lies in, which stays an estimate until somebody counts it. Where the
// item is kept by another unit, such as rivets listed by the pound and weighed to
// a number of pieces, the item changes to the new unit; that takes the heap to be
// all there is of it, since nothing else is converted.
func (s *Shop) Weigh(k StockKey, about Amount) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		if about.Low.Unit != about.Unit || about.High.Unit != about.Unit ||
			about.Low.Micro > about.Micro || about.High.Micro < about.Micro || about.Low.Sign() < 0 {
			return "", fail(Invalid, k.Item, "%s is no range: weigh %s again.", about, k.Item)
		}
		was, err := w.changeUnit(k, about.Unit)
		if err != nil {
			return "", err
		}
		text, err := w.count(k, about, "weighed")
		if !was.IsZero() {
			text += fmt.Sprintf(" (was %s)", was)
		}
		return text, err
	})
}

// changeUnit has the item of a heap kept by another unit, when there is no other
// heap of it. What lies there by the old unit is taken out and returned.
func (w *writer) changeUnit(k StockKey, unit measure.Unit) (Amount, error) {
	item, found, err := lookup[Item](w.ledger, tableItems, k.Item)
	if err != nil || !found || item.Unit == unit || unit == "" {
		return Amount{}, err
	}
	was := item.Unit
	if fitted, err := w.isFitted(k.Item); err != nil || fitted {
		return Amount{}, errors.Join(err, fail(Conflict, k.Item, "%s is kept by %s and some of it is fitted: give it in %s.", k.Item, was, was))
	}
	err = scan(w.ledger.tx, tableStock, k.Item+keySeparator, func(key string, _ Amount) error {
		if key != k.key() {
			return fail(Conflict, k.Item, "%s is kept by %s and lies in several heaps: bring them together before they are given in %s.", k.Item, was, unit)
		}
		return nil
	})
	if err != nil {
		return Amount{}, err
	}
	item.Unit, item.Minimum = unit, measure.Quantity{}
	if err := w.put(tableItems, k.Item, item); err != nil {
		return Amount{}, err
	}
	have, err := w.amount(k)
	if err != nil {
		return Amount{}, err
	}
	return have, w.stock(k, have.Neg())
}

// count makes a heap what was found by the way that how says.
func (w *writer) count(k StockKey, now Amount, how string) (string, error) {
	place, err := w.usablePlace(k.Place)
	if err != nil {
		return "", err
	}
	if now.Quantity.Sign() < 0 {
		return "", fail(Invalid, k.Item, "%s cannot be less than nothing: type what is there.", k.Item)
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
		return k, fail(Invalid, k.Item, "%s is not a condition of stock: it is good, %s or %s.", quoteShort(string(k.Condition)), Damaged, SetApart)
	}
	return k, nil
}
