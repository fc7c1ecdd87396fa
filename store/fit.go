package store

import (
	"fmt"
	"strings"

	"stowright/store/disk"
	"stowright/store/measure"
)

// Fitted is how much of an item of a lot went into a sub-assembly. It is no stock
// any more: it is part of the aircraft.
type Fitted struct {
	SubAssembly string // code
	Item        string
	Lot         string
	Amount      Amount
}

func fittedKey(code, item, lot string) string {
	return strings.Join([]string{code, item, lot}, keySeparator)
}

// parseFittedKey is what a key names, without how much.
func parseFittedKey(s string) (Fitted, error) {
	p := strings.Split(s, keySeparator)
	if len(p) != 3 {
		return Fitted{}, fmt.Errorf("%q is no key of fitted parts", s)
	}
	return Fitted{SubAssembly: p[0], Item: p[1], Lot: p[2]}, nil
}

// Fit records what went into a sub-assembly, named by its code, and out of which
// places: out of its own mostly, where what was pulled for it lies. To of the
// transfers does not count. Damaged stock and stock set apart is refused.
func (s *Shop) Fit(code string, transfers ...Transfer) (Entry, error) {
	return s.commit(VerbFit, func(w *writer) (string, error) {
		sub, err := w.subAssembly(code)
		if err != nil {
			return "", err
		}
		if len(transfers) == 0 {
			return "", fail(Invalid, code, "Nothing is chosen: say what was fitted.")
		}
		fitted := tally{}
		for _, t := range transfers {
			if t.Condition != Good {
				return "", fail(Conflict, t.Item, "%s there is %s: it is not fitted.", t.Item, t.Condition)
			}
			from, went, err := w.take(t)
			if err != nil {
				return "", err
			}
			if err := w.change(Change{Table: tableFitted, Key: fittedKey(code, from.Item, from.Lot), Delta: &went}); err != nil {
				return "", err
			}
			if err := fitted.add(t.Item, went); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("%s fitted in %s %s", fitted, sub.Code, sub.Name), nil
	})
}

// Return records that something came out of a sub-assembly again and lies in a
// place; quantity zero is all of it.
func (s *Shop) Return(f Fitted, quantity measure.Quantity, place string) (Entry, error) {
	return s.commit(VerbReturn, func(w *writer) (string, error) {
		sub, err := w.subAssembly(f.SubAssembly)
		if err != nil {
			return "", err
		}
		to, err := w.usablePlace(place)
		if err != nil {
			return "", err
		}
		if f.Lot, err = w.fittedLot(f); err != nil {
			return "", err
		}
		key := fittedKey(f.SubAssembly, f.Item, f.Lot)
		have, _, err := lookup[Amount](w.ledger, tableFitted, key)
		if err != nil {
			return "", err
		}
		went := Exact(quantity)
		if quantity.IsZero() {
			went = have
		}
		if c, err := went.Cmp(have.Quantity); err != nil || c > 0 || went.Quantity.Sign() <= 0 {
			return "", fail(Conflict, f.Item, "%s of %s is fitted in %s, and %s cannot come back: correct the figure.", have, f.Item, sub.Code, went.Quantity)
		}
		back := went.Neg()
		if err := w.change(Change{Table: tableFitted, Key: key, Delta: &back}); err != nil {
			return "", err
		}
		heap := StockKey{Item: f.Item, Lot: f.Lot, Place: place}
		if err := w.joined(heap); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s back from %s to %s", f.Item, went, sub.Code, to.Name), w.stock(heap, went)
	})
}

// Scrap takes stock out of the shop for good, for a reason that is kept; To of the
// transfer does not count.
func (s *Shop) Scrap(t Transfer, reason string) (Entry, error) {
	return s.commit(VerbScrap, func(w *writer) (string, error) {
		reason, err := cleanName("The reason", reason)
		if err != nil {
			return "", err
		}
		from, went, err := w.take(t)
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s%s%s", t.Item, went, scrappedFor, reason), w.gone(from, goneScrapped, went)
	})
}

// take takes stock from the heap that is meant, to where the caller puts it.
func (w *writer) take(t Transfer) (from StockKey, went Amount, err error) {
	if t.StockKey, err = w.meant(t.StockKey); err != nil {
		return t.StockKey, Amount{}, err
	}
	have, went, err := w.goes(t)
	if err != nil {
		return t.StockKey, Amount{}, err
	}
	if have == went {
		if err := w.forgetCounted(t.StockKey); err != nil {
			return t.StockKey, Amount{}, err
		}
	}
	return t.StockKey, went, w.stock(t.StockKey, went.Neg())
}

// fittedLot is the lot of what is fitted that is meant: it may be named as it is printed,
// or left out, where the sub-assembly has one that answers to that.
func (w *writer) fittedLot(f Fitted) (string, error) {
	if number, ok := LotNumber(f.Lot); ok {
		return LotName(number), nil
	}
	there, err := w.ledger.get(tableFitted, fittedKey(f.SubAssembly, f.Item, f.Lot))
	if err != nil || there != nil {
		return f.Lot, err
	}
	var lots []Lot
	err = scan(w.ledger.tx, tableFitted, f.SubAssembly+keySeparator+f.Item+keySeparator, func(key string, _ Amount) error {
		have, err := parseFittedKey(key)
		if err != nil {
			return err
		}
		lot, err := lotOf(w.ledger, f.Item, have.Lot)
		if err == nil && lot.Number > 0 && (f.Lot == "" || strings.EqualFold(f.Lot, lot.Printed)) {
			lots = append(lots, lot)
		}
		return err
	})
	switch {
	case err != nil || len(lots) == 0:
		return f.Lot, err
	case len(lots) == 1:
		return lots[0].Name(), nil
	}
	return f.Lot, severalLots(f.Item, lots)
}

// isFitted reports whether any of an item is fitted anywhere.
func (w *writer) isFitted(item string) (fitted bool, err error) {
	err = scan(w.ledger.tx, tableFitted, "", func(key string, _ Amount) error {
		f, err := parseFittedKey(key)
		fitted = fitted || f.Item == item
		return err
	})
	return fitted, err
}

// Fitted is what went into a sub-assembly, or into all of them for "", by item and lot.
func (r *Reader) Fitted(code string) ([]Fitted, error) {
	prefix := ""
	if code != "" {
		prefix = code + keySeparator
	}
	var list []Fitted
	err := r.view(func(tx *disk.Tx) error {
		return scan(tx, tableFitted, prefix, func(key string, a Amount) error {
			f, err := parseFittedKey(key)
			f.Amount = a
			list = append(list, f)
			return err
		})
	})
	return list, err
}
