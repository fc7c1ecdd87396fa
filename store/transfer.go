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
	Meeting  Meeting          // where another lot of the item lies there
	Reason   string           // why it is done against a list; "" none is given
}

// Stow puts stock from a crate or a bag where it belongs. All transfers happen or none.
// Where another lot of an item lies, the transfer has to say what becomes of the two: else
// it is refused with ErrLotsMeet.
func (s *Shop) Stow(transfers ...Transfer) (Entry, error) {
	return s.transfer(VerbStow, "stowed in", transfers)
}

// Move takes stock from one place to another, as Stow does.
func (s *Shop) Move(transfers ...Transfer) (Entry, error) {
	return s.transfer(VerbMove, "moved to", transfers)
}

func (s *Shop) transfer(verb Verb, words string, transfers []Transfer) (Entry, error) {
	return s.commit(verb, func(w *writer) (string, error) {
		text, err := w.transferAll(transfers)
		if err != nil {
			return "", err
		}
		where, err := w.destination(transfers)
		return fmt.Sprintf("%s %s %s", text, words, where), err
	})
}

// destination says in words where transfers go.
func (w *writer) destination(transfers []Transfer) (string, error) {
	to, _, err := lookup[Place](w.ledger, tablePlaces, transfers[0].To)
	if places := destinations(transfers); places > 1 {
		return fmt.Sprintf("%d places", places), err
	}
	return to.Name, err
}

// destinations is how many places the transfers go to.
func destinations(transfers []Transfer) int {
	places := map[string]bool{}
	for _, t := range transfers {
		places[t.To] = true
	}
	return len(places)
}

// transferAll does the transfers and says in words what went. None goes into a tray: that
// is pulling, and has rules of its own.
func (w *writer) transferAll(transfers []Transfer) (string, error) {
	return w.each(transfers, func(t Transfer) (Amount, error) {
		to, err := w.usablePlace(t.To)
		if err == nil && t.To != t.Place {
			err = w.noTray(to, t.Item)
		}
		if err != nil {
			return Amount{}, err
		}
		return w.transferOne(t)
	})
}

// each does something with each of the transfers and says in words what went.
func (w *writer) each(transfers []Transfer, do func(t Transfer) (Amount, error)) (string, error) {
	if len(transfers) == 0 {
		return "", fail(Invalid, "", "Nothing is chosen: say what is to be moved.")
	}
	went := tally{}
	for _, t := range transfers {
		amount, err := do(t)
		if err == nil {
			err = went.add(t.Item, amount)
		}
		if err != nil {
			return "", err
		}
	}
	return went.String(), nil
}

// tally is how much of which items went.
type tally map[string]Amount

func (t tally) add(item string, a Amount) error {
	sum, err := t[item].Add(a)
	t[item] = sum
	return err
}

// String is "AN3-5A: 24 ea", or "3 kinds of things".
func (t tally) String() string {
	if len(t) == 1 {
		for item, amount := range t {
			return item + ": " + amount.String()
		}
	}
	return fmt.Sprintf("%d kinds of things", len(t))
}

func (w *writer) transferOne(t Transfer) (Amount, error) {
	to, err := w.usablePlace(t.To)
	if err != nil {
		return Amount{}, err
	}
	if t.To == t.Place {
		return Amount{}, fail(Invalid, to.Name, "%s is in %s already: choose another place.", t.Item, to.Name)
	}
	if t.StockKey, err = w.meant(t.StockKey); err != nil {
		return Amount{}, err
	}
	have, went, err := w.goes(t)
	if err != nil {
		return Amount{}, err
	}
	if err := w.stock(t.StockKey, went.Neg()); err != nil {
		return Amount{}, err
	}
	there := t.StockKey
	there.Place = t.To
	lot, err := lotOf(w.ledger, t.Item, t.Lot)
	if err != nil {
		return Amount{}, err
	}
	others, err := w.meets(to, there, t.Meeting, "this is "+lot.Called())
	if err != nil {
		return Amount{}, err
	}
	if len(others) > 0 {
		if have == went {
			if err := w.forgetCounted(t.StockKey); err != nil {
				return Amount{}, err
			}
		}
		_, err := w.pour(others, Holding{there, went})
		return went, err
	}
	if err := w.carryCounted(t.StockKey, there, have == went); err != nil {
		return Amount{}, err
	}
	return went, w.stock(there, went)
}

// goes is how much there is and how much of it a transfer takes.
func (w *writer) goes(t Transfer) (have, went Amount, err error) {
	if have, err = w.amount(t.StockKey); err != nil {
		return Amount{}, Amount{}, err
	}
	went = Exact(t.Quantity)
	if t.Quantity.IsZero() {
		went = have
	}
	return have, went, mayTake(t, have, went)
}

// mayTake refuses to take what is not there.
func mayTake(t Transfer, have, went Amount) error {
	refuse := func(format string, args ...any) error { return fail(Conflict, t.Item, format, args...) }
	c, err := went.Cmp(have.Quantity)
	switch {
	case have.IsZero():
		return refuse("There is no %s there: look where it is, or count it there first.", t.Item)
	case err != nil:
		return refuse("%s is kept by %s, and this says %s: give it in %s.", t.Item, have.Unit, went.Unit, have.Unit)
	case went.Quantity.Sign() < 0:
		return refuse("You cannot take less than zero of %s: type how many.", t.Item)
	case have.Quantity.IsZero():
		return refuse("There is %s of %s there by the records, perhaps nothing: count it first.", have, t.Item)
	case c > 0:
		return refuse("There is %s of %s there, and %s cannot be taken: count it, or take less.", have, t.Item, went.Quantity)
	}
	return nil
}

// usablePlace is a place that things may be put in.
func (w *writer) usablePlace(id string) (Place, error) {
	p, found, err := lookup[Place](w.ledger, tablePlaces, id)
	switch {
	case err != nil:
		return Place{}, err
	case !found:
		return Place{}, fail(NotFound, "", "That place is not in this shop: choose another one.")
	case p.Retired:
		return Place{}, fail(NotFound, p.Name, "%s is out of use: choose another place.", p.Name)
	}
	return p, nil
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
	if whole {
		if err := w.forgetCounted(from); err != nil {
			return err
		}
	}
	if whole && found && there.IsZero() {
		if err := w.joined(to); err != nil {
			return err
		}
		return w.put(tableCounted, to.key(), counted)
	}
	return w.joined(to)
}

// joined drops the records of counts that no longer hold where something joins a heap: its
// own, and that there was none of the item.
func (w *writer) joined(k StockKey) error {
	if err := w.forgetCounted(k); err != nil || k.Lot == "" {
		return err
	}
	none := k
	none.Lot = ""
	if there, err := w.ledger.get(tableStock, none.key()); err != nil || there != nil {
		return err
	}
	return w.forgetCounted(none)
}

// putCounted records that a heap was counted now.
func (w *writer) putCounted(k StockKey) error {
	return w.put(tableCounted, k.key(), Counted{At: w.at, Hand: w.hand})
}

// forgetCounted drops the record of a count that no longer holds.
func (w *writer) forgetCounted(k StockKey) error {
	before, err := w.ledger.get(tableCounted, k.key())
	if err != nil || before == nil {
		return err
	}
	return w.change(Change{Table: tableCounted, Key: k.key(), Before: before})
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
