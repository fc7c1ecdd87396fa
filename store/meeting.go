package store

import (
	"errors"
	"fmt"

	"stowright/store/phrase"
)

// Meeting says what becomes of stock that comes to where another lot of its item lies.
// In trays, crates and bags lots are always kept apart.
type Meeting string

// The ways in which lots meet. Once they are poured together no piece says any more which
// lot it is of.
const (
	AskMeeting Meeting = ""       // refuse with ErrLotsMeet, so that a person is asked
	PourLots   Meeting = "poured" // into one heap, which is a lot of its own from then on
	LotsApart  Meeting = "apart"  // two heaps in one place
)

// ErrLotsMeet is the cause of a refusal that a person can answer: whether two lots of an
// item are poured together or kept apart.
var ErrLotsMeet = errors.New("two lots of one item would meet")

// meets are the heaps that what comes to a heap is poured together with: none, where no
// other lot lies there or lots are kept apart. Where that has to be asked it refuses, and
// says that what comes is of another lot, or whatever else comes says of it.
func (w *writer) meets(place Place, k StockKey, meeting Meeting, comes string) ([]Holding, error) {
	if meeting != AskMeeting && meeting != PourLots && meeting != LotsApart {
		return nil, fail(Invalid, string(meeting), "%s is no way in which lots meet: they are %s together, or kept %s.", phrase.Quote(string(meeting)), PourLots, LotsApart)
	}
	if meeting == LotsApart || !place.Kind.Storage() {
		return nil, nil
	}
	others, err := w.otherLots(k)
	if err != nil || len(others) == 0 || meeting == PourLots {
		return others, err
	}
	return nil, w.lotsMeet(place, comes, others)
}

// otherLots are the heaps of other lots that what comes to a heap would meet: none, where
// its own lot lies there already, kept apart from others.
func (w *writer) otherLots(k StockKey) ([]Holding, error) {
	var others []Holding
	own := false
	prefix := k.Item + keySeparator + k.Place + keySeparator
	err := scan(w.ledger.tx, tableStock, prefix, func(key string, a Amount) error {
		have, err := parseStockKey(key)
		switch {
		case err != nil || have.Condition != k.Condition:
		case have.Lot == k.Lot:
			own = true
		default:
			others = append(others, Holding{have, a})
		}
		return err
	})
	if own {
		return nil, err
	}
	return others, err
}

func (w *writer) lotsMeet(place Place, comes string, others []Holding) error {
	lies := make([]string, 0, len(others))
	for _, o := range others {
		lot, err := lotOf(w.ledger, o.Item, o.Lot)
		if err != nil {
			return err
		}
		lies = append(lies, fmt.Sprintf("%s of %s", o.Amount, lot.Called()))
	}
	item := others[0].Item
	return &Error{Kind: Conflict, Where: item, Err: ErrLotsMeet, Message: fmt.Sprintf(
		"%s has another lot of %s, %s, and %s: say whether they are poured together or kept apart.", place.Name, item, phrase.List(lies), comes,
	)}
}

// putInto puts what comes from nowhere in the shop into a place.
func (w *writer) putInto(place Place, comes Holding, meeting Meeting) error {
	lot, err := lotOf(w.ledger, comes.Item, comes.Lot)
	if err != nil {
		return err
	}
	others, err := w.meets(place, comes.StockKey, meeting, "this is "+lot.Called())
	if err != nil {
		return err
	}
	if len(others) > 0 {
		_, err := w.pour(others, comes)
		return err
	}
	if err := w.joined(comes.StockKey); err != nil {
		return err
	}
	return w.stock(comes.StockKey, comes.Amount)
}

// pour makes one lot of heaps that lie in one place and of what comes to them.
func (w *writer) pour(there []Holding, comes Holding) (Lot, error) {
	mix := Lot{Item: comes.Item, Kind: MixLot, Date: DateOf(w.at), Came: comes.Amount, Parents: []Portion{{comes.Lot, comes.Amount}}}
	for _, h := range there {
		if err := w.stock(h.StockKey, h.Amount.Neg()); err != nil {
			return mix, err
		}
		if err := w.forgetCounted(h.StockKey); err != nil {
			return mix, err
		}
		var err error
		if mix.Came, err = mix.Came.Add(h.Amount); err != nil {
			return mix, err
		}
		mix.Parents = append(mix.Parents, Portion{h.Lot, h.Amount})
	}
	mix, err := w.newLot(mix)
	if err != nil {
		return mix, err
	}
	into := comes.StockKey
	into.Lot = mix.Name()
	return mix, w.stock(into, mix.Came)
}

// PutIn adds to what lies in a place what came from nowhere that the shop knows: loose
// stock of the builder's own. It is a lot of its own, found here; K.Lot is what is printed
// on it.
func (s *Shop) PutIn(k StockKey, amount Amount, meeting Meeting) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		place, err := w.usablePlace(k.Place)
		if err != nil {
			return "", err
		}
		if k, err = cleanKey(k); err != nil {
			return "", err
		}
		if amount.Quantity.Sign() <= 0 || !wholePieces(amount.Quantity) {
			return "", fail(Invalid, k.Item, "%s of %s cannot be put in: type how many there are.", amount.Quantity, k.Item)
		}
		if err := w.ensureItem(Item{Designation: k.Item, Unit: amount.Unit}); err != nil {
			return "", err
		}
		lot, err := w.newLot(Lot{Item: k.Item, Kind: FoundHere, Printed: k.Lot, Came: amount, Date: DateOf(w.at)})
		if err != nil {
			return "", err
		}
		k.Lot = lot.Name()
		text := fmt.Sprintf("%s: %s put in %s", k.Item, amount, place.Name)
		if err := w.joined(k); err != nil {
			return "", err
		}
		others, err := w.meets(place, k, meeting, "this comes from outside")
		if err != nil {
			return "", err
		}
		if len(others) > 0 {
			mix, err := w.pour(others, Holding{k, amount})
			return fmt.Sprintf("%s, poured together to %s", text, mix.Came), err
		}
		if err := w.stock(k, amount); err != nil {
			return "", err
		}
		return text, w.putCounted(k)
	})
}
