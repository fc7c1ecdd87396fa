package store

import (
	"errors"
	"fmt"
	"strings"

	"stowright/store/measure"
)

// weigh records what a heap was weighed to be: an amount with its range, which stays an
// estimate until somebody counts it. Where the item is kept by another unit, such as
// rivets listed by the pound and weighed to a number of pieces, the item changes to the
// new unit; that takes the heap to be all there is of it, since nothing else is converted.
func (w *writer) weigh(k StockKey, about Amount) (string, error) {
	k, err := w.meant(k)
	if err != nil {
		return "", err
	}
	was, err := w.changeUnit(k, about.Unit)
	if err != nil {
		return "", err
	}
	if lot, err := lotOf(w.ledger, k.Item, k.Lot); err == nil && lot.Number > 0 && !was.IsZero() {
		lot.Came = about // nothing is converted: by the new unit this is what came
		if err := w.put(tableLots, lot.key(), lot); err != nil {
			return "", err
		}
	}
	text, err := w.count(k, about, "weighed")
	if !was.IsZero() {
		text += fmt.Sprintf(" (was %s)", was)
	}
	return text, err
}

// WeighSample counts a heap by weight: it works the number out, records it with its
// range, and remembers for the next time what the sample weighed and the step of the
// scale. A weighing that says too little is refused with a *measure.WeighError.
func (s *Shop) WeighSample(k StockKey, m measure.Weighing) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		about, err := weighedAmount(k.Item, m)
		if err != nil {
			return "", err
		}
		text, err := w.weigh(k, about)
		if err != nil {
			return "", err
		}
		return text, w.rememberWeighing(k.Item, m)
	})
}

// weighedAmount is the number of pieces that a weighing comes to.
func weighedAmount(item string, m measure.Weighing) (Amount, error) {
	return WeighedIn(item, m, measure.Each)
}

// WeighedIn is what a weighing found of an item that is kept by that unit.
func WeighedIn(item string, m measure.Weighing, unit measure.Unit) (Amount, error) {
	n, err := m.Count()
	if err != nil {
		return Amount{}, &Error{Kind: Invalid, Where: item, Message: err.Error(), Err: err}
	}
	return n.In(unit)
}

// AmountWeighed is a number found by weight as an amount with its range.
func AmountWeighed(n measure.Weighed) Amount {
	return n.Amount()
}

// rememberWeighing keeps what a sample of an item weighed, and the step of the scale.
func (w *writer) rememberWeighing(name string, m measure.Weighing) error {
	item, found, err := lookup[Item](w.ledger, tableItems, strings.Join(strings.Fields(name), " "))
	if err != nil || !found {
		return err
	}
	item.Sample = &m.Sample
	if err := w.put(tableItems, item.Designation, item); err != nil {
		return err
	}
	settings, _, err := lookup[Settings](w.ledger, tableSettings, settingsKey)
	if err != nil {
		return err
	}
	settings.ScaleStep = m.Step
	return w.put(tableSettings, settingsKey, settings)
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
			return fail(Conflict, k.Item, "%s is kept by %s and is in several heaps: bring them together before they are given in %s.", k.Item, was, unit)
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
	if err := w.stock(k, have.Neg()); err != nil {
		return Amount{}, err
	}
	return have, w.forgetCounted(k)
}

// cleanSample refuses a weight of pieces that no scale has shown.
func cleanSample(item Item) error {
	if item.Sample == nil {
		return nil
	}
	if err := item.Sample.Check(); err != nil {
		return &Error{Kind: Invalid, Where: item.Designation, Message: err.Error(), Err: err}
	}
	return nil
}

// checkWeighing works out what was found where the pieces of a line were weighed.
func checkWeighing(l Line, f *Finding) error {
	if f.Weighing == nil {
		return nil
	}
	switch {
	case l.Listed.Unit != measure.Each && !l.Listed.Unit.IsWeight():
		return fail(Invalid, l.Designation, "Line %d is listed by %s: pieces are weighed where a line is listed by pieces or by weight.", l.Number(), l.Listed.Unit)
	case f.Damaged.Sign() != 0:
		return fail(Invalid, l.Designation, "Of line %d some are damaged: set them apart and count the rest by hand.", l.Number())
	}
	n, err := f.Weighing.Count()
	if err != nil {
		return &Error{Kind: Invalid, Where: l.Designation, Message: err.Error(), Err: err}
	}
	if l.Listed.Unit == measure.Each {
		f.Found = measure.Pieces(n.Pieces)
		return nil
	}
	agrees, err := n.Agrees(l.Listed)
	if err != nil {
		return err
	}
	if f.Found = l.Listed; !agrees {
		f.Found, err = measure.Convert(n.Net, l.Listed.Unit, listedDecimals)
	}
	return err
}

// listedDecimals is how many decimals a weight has on packing lists (common practice).
const listedDecimals = 2

// words is what was found as the journal says it.
func (f Finding) words() string {
	a := f.Amount()
	if f.Weighing != nil && f.Found.Unit != a.Unit {
		return f.Found.String() + ", weighed to " + a.String()
	}
	return a.String()
}

// receiveUnit has a line's item kept by the unit of a new finding, where weighing
// changes it, and reports whether that took out what was found before.
func (w *writer) receiveUnit(l Line, f Finding) (bool, error) {
	if f.Weighing == nil && (l.Finding == nil || l.Finding.Weighing == nil) {
		return false, nil
	}
	k := StockKey{Item: l.Designation, Place: l.Place}
	var before Amount
	if l.Finding != nil {
		k.Lot = heapLot(l, l.Finding)
		good, err := l.Finding.Amount().Add(Exact(l.Finding.Damaged.Neg()))
		if err != nil {
			return false, err
		}
		if good.Unit == f.Amount().Unit {
			return false, nil
		}
		before = good
	}
	was, err := w.changeUnit(k, f.Amount().Unit)
	if err != nil {
		return false, err
	}
	if was != before {
		return false, fail(Conflict, l.Designation, "The %s found of line %d are no longer together in their bag: weigh %s where it is now.", before, l.Number(), l.Designation)
	}
	return true, nil
}
