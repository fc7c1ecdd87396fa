package store

import (
	"fmt"

	"stowright/store/measure"
)

// Transfer is stock on its way from one place to another.
type Transfer struct {
	StockKey                  // what, and where from
	To       string           // place id
	Quantity measure.Quantity // zero: all of it, its range included
}

// Stow puts stock from a crate or a bag where it belongs. All transfers happen or none.
func (s *Shop) Stow(transfers ...Transfer) (Entry, error) {
	return s.transfer(VerbStow, "stowed in", transfers)
}

// Move takes stock from one place to another. All transfers happen or none.
func (s *Shop) Move(transfers ...Transfer) (Entry, error) {
	return s.transfer(VerbMove, "moved to", transfers)
}

// Pull takes stock out for a sub-assembly, named by its code; To of the transfers
// does not count. Damaged stock and stock set apart is refused.
func (s *Shop) Pull(code string, transfers ...Transfer) (Entry, error) {
	return s.commit(VerbPull, func(w *writer) (string, error) {
		sub, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, code)
		if err != nil {
			return "", err
		}
		if !found {
			return "", fail(NotFound, code, "There is no sub-assembly %q in this shop.", code)
		}
		for i := range transfers {
			if c := transfers[i].Condition; c != Good {
				return "", fail(Conflict, transfers[i].Item, "%s there is %s: it is not pulled for building.", transfers[i].Item, c)
			}
			transfers[i].To = sub.Place
		}
		text, err := w.transferAll(transfers)
		return fmt.Sprintf("%s pulled for %s %s", text, sub.Code, sub.Name), err
	})
}

func (s *Shop) transfer(verb Verb, words string, transfers []Transfer) (Entry, error) {
	return s.commit(verb, func(w *writer) (string, error) {
		text, err := w.transferAll(transfers)
		if err != nil {
			return "", err
		}
		to, _, err := lookup[Place](w.ledger, tablePlaces, transfers[0].To)
		return fmt.Sprintf("%s %s %s", text, words, to.Name), err
	})
}

// transferAll does the transfers and says in words what went.
func (w *writer) transferAll(transfers []Transfer) (string, error) {
	if len(transfers) == 0 {
		return "", fail(Invalid, "", "Say what is to be moved.")
	}
	text := ""
	for _, t := range transfers {
		went, err := w.transferOne(t)
		if err != nil {
			return "", err
		}
		text = t.Item + ": " + went.String()
	}
	if len(transfers) > 1 {
		text = fmt.Sprintf("%d kinds of things", len(transfers))
	}
	return text, nil
}

func (w *writer) transferOne(t Transfer) (Amount, error) {
	to, found, err := lookup[Place](w.ledger, tablePlaces, t.To)
	switch {
	case err != nil:
		return Amount{}, err
	case !found || to.Retired:
		return Amount{}, fail(NotFound, t.To, "There is no place %q in this shop.", t.To)
	case t.To == t.Place:
		return Amount{}, fail(Invalid, to.Name, "It is in %s already: choose another place.", to.Name)
	}
	have, err := w.amount(t.StockKey)
	if err != nil {
		return Amount{}, err
	}
	went := Exact(t.Quantity)
	if t.Quantity.IsZero() {
		went = have
	}
	if c, err := went.Cmp(have.Quantity); err != nil || c > 0 || went.Quantity.Sign() <= 0 {
		return Amount{}, &Error{Kind: Conflict, Where: t.Item, Message: fmt.Sprintf("There is %s of %s there, and %s cannot be taken: count it, or take less.", have, t.Item, went.Quantity), Err: err}
	}
	if err := w.stock(t.StockKey, went.Neg()); err != nil {
		return Amount{}, err
	}
	there := t.StockKey
	there.Place = t.To
	if err := w.carryCounted(t.StockKey, there, have == went); err != nil {
		return Amount{}, err
	}
	return went, w.stock(there, went)
}

// carryCounted takes the record of a count along with a heap that goes whole to
// where none of it was: it is still as counted. A heap that grows is not.
func (w *writer) carryCounted(from, to StockKey, whole bool) error {
	there, err := w.amount(to)
	if err != nil {
		return err
	}
	counted, found, err := lookup[Counted](w.ledger, tableCounted, from.key())
	if err != nil {
		return err
	}
	if whole && found && there.IsZero() {
		return w.put(tableCounted, to.key(), counted)
	}
	return w.forgetCounted(to)
}

// putCounted records that a heap was counted now.
func (w *writer) putCounted(k StockKey) error {
	return w.put(tableCounted, k.key(), Counted{At: w.shop.clock().Round(0), Hand: w.shop.Hand()})
}

// forgetCounted drops the record of a count that no longer holds.
func (w *writer) forgetCounted(k StockKey) error {
	before, err := w.ledger.get(tableCounted, k.key())
	if err != nil || before == nil {
		return err
	}
	return w.change(Change{Table: tableCounted, Key: k.key(), Before: before})
}

// Count records what a hand counted in a heap: the difference to what the shop
// thought is part of the entry, and the figure is exact from then on. Counting
// what the shop did not know to be there makes the heap.
func (s *Shop) Count(k StockKey, counted measure.Quantity) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		place, found, err := lookup[Place](w.ledger, tablePlaces, k.Place)
		if err != nil {
			return "", err
		}
		if !found || place.Retired {
			return "", fail(NotFound, k.Place, "There is no place %q in this shop.", k.Place)
		}
		if counted.Sign() < 0 {
			return "", fail(Invalid, k.Item, "%s cannot be less than nothing: type what is there.", k.Item)
		}
		if k.Item, err = cleanName("A part number", k.Item); err != nil {
			return "", err
		}
		if k.Lot, err = cleanOptional("The lot", k.Lot); err != nil {
			return "", err
		}
		if err := w.ensureItem(Item{Designation: k.Item, Unit: counted.Unit}); err != nil {
			return "", err
		}
		was, err := w.amount(k)
		if err != nil {
			return "", err
		}
		delta, err := Exact(counted).Add(was.Neg())
		if err != nil {
			return "", err
		}
		if err := w.stock(k, delta); err != nil {
			return "", err
		}
		text := fmt.Sprintf("counted %s in %s: %s", k.Item, place.Name, counted)
		if was != Exact(counted) && !was.IsZero() {
			text += fmt.Sprintf(" (was %s)", was)
		}
		return text, w.putCounted(k)
	})
}
