package operation

import (
	"fmt"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Heap says which heap of stock is meant: by its key, as a screen has it that shows the
// heap, or by what a person says of it, who may leave out what leaves no doubt.
type Heap struct {
	Key     store.StockKey // where it is not zero, the other fields do not count
	Item    string         // part number
	From    string         // the place that it lies in, or one around it; "": anywhere
	Lot     string         // as it is printed, or its number, L-17; "": any
	Damaged bool           // what is damaged or set apart, in place of what is good
}

// find is the one heap that is meant.
func (h Heap) find(s *session.Session, which session.Which) (store.Holding, error) {
	if h.Key != (store.StockKey{}) {
		return heapAt(s, h.Key)
	}
	which.Lot, which.Damaged = h.Lot, h.Damaged
	if h.From != "" {
		which.From = h.From
	}
	heap, err := s.HeapNamed(h.Item, which)
	return heap.Holding, err
}

// heapAt is the heap that a key means: nothing, in the unit of its item, where there is none.
func heapAt(s *session.Session, key store.StockKey) (store.Holding, error) {
	heap, err := s.Shop.Heap(key)
	if err != nil || !heap.Amount.IsZero() {
		return heap, err
	}
	unit, err := unitOf(s, key.Item)
	heap.Amount = store.Exact(measure.Quantity{Unit: unit})
	return heap, err
}

// unitOf is what an item is kept by; pieces, where the shop does not know the item yet.
func unitOf(s *session.Session, designation string) (measure.Unit, error) {
	item, err := s.Shop.Item(designation)
	switch {
	case err == nil:
		return item.Unit, nil
	case store.KindOf(err) == store.NotFound:
		return measure.Each, nil
	}
	return "", err
}

// part is an amount of a heap on its way. An empty amount is the whole heap, its range
// included; an amount of nothing is refused, since the store would take it for all.
func part(s *session.Session, heap store.Holding, amount string) (store.Transfer, error) {
	t := store.Transfer{StockKey: heap.StockKey}
	if strings.TrimSpace(amount) == "" {
		return t, nil
	}
	var err error
	if t.Quantity, err = s.ParseAmount(amount, heap.Amount.Unit); err != nil {
		return t, err
	}
	if t.Quantity.IsZero() {
		return t, invalid("%q moves nothing: type how many, or leave it out for all.", strings.TrimSpace(amount))
	}
	return t, nil
}

// some is an amount of a heap that has to be said.
func some(s *session.Session, heap store.Holding, amount string) (store.Transfer, error) {
	if err := typed(amount); err != nil {
		return store.Transfer{}, err
	}
	return part(s, heap, amount)
}

// typed refuses an amount that was left out.
func typed(amount string) error {
	if strings.TrimSpace(amount) == "" {
		return invalid("Type how many there are.")
	}
	return nil
}

// invalid is an input that cannot be taken, as a sentence that says what to do.
func invalid(format string, args ...any) error {
	return &store.Error{Kind: store.Invalid, Message: fmt.Sprintf(format, args...)}
}

// missing is something that is not there.
func missing(where, format string, args ...any) error {
	return &store.Error{Kind: store.NotFound, Where: where, Message: fmt.Sprintf(format, args...)}
}
