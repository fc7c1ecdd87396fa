package operation

import (
	"context"
	"errors"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Move takes stock from one place to another.
type Move struct {
	Heap    Heap
	Amount  string        // "": all of it
	To      string        // place
	Meeting store.Meeting // where another lot of the item lies there
}

// Do moves.
func (o Move) Do(_ context.Context, s *session.Session) (Result, error) {
	t, err := transfer(s, o, session.Which{})
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Move(t))
}

// Stow puts stock from its bag or crate where it belongs.
type Stow struct {
	Heap    Heap
	Amount  string        // "": all of it
	To      string        // place
	Meeting store.Meeting // where another lot of the item lies there
}

// Do stows.
func (o Stow) Do(_ context.Context, s *session.Session) (Result, error) {
	t, err := transfer(s, Move(o), session.Which{InBags: true})
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Stow(t))
}

func transfer(s *session.Session, o Move, which session.Which) (store.Transfer, error) {
	heap, err := o.Heap.find(s, which)
	if err != nil {
		return store.Transfer{}, err
	}
	t, err := part(s, heap, o.Amount)
	if err != nil {
		return t, err
	}
	to, err := s.PlaceNamed(o.To)
	t.To, t.Meeting = to.ID, o.Meeting
	return t, err
}

// Scrap takes stock out of the shop for good.
type Scrap struct {
	Heap   Heap
	Amount string
	Reason string // is kept with the entry; it may begin with lost, spoiled, expired, practice or recalled
}

// Do scraps.
func (o Scrap) Do(_ context.Context, s *session.Session) (Result, error) {
	heap, err := o.Heap.find(s, session.Which{})
	if err != nil {
		return Result{}, err
	}
	t, err := some(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Scrap(t, o.Reason))
}

// SendBack takes stock out of the shop, back to its supplier.
type SendBack struct {
	Heap   Heap
	Amount string
	To     string // whom; "": who sent the packing list that its lot came with
	Reason string // is kept with the entry
}

// Do sends back.
func (o SendBack) Do(_ context.Context, s *session.Session) (Result, error) {
	heap, err := o.Heap.find(s, session.Which{})
	if err != nil {
		return Result{}, err
	}
	t, err := some(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	to := o.To
	if strings.TrimSpace(to) == "" {
		if to, err = supplierOf(s, heap.StockKey); err != nil {
			return Result{}, err
		}
	}
	return did(s.Shop.SendBack(t, to, o.Reason))
}

// supplierOf is who sent the packing list that a heap's lot came with.
func supplierOf(s *session.Session, k store.StockKey) (string, error) {
	lot, err := s.Shop.Lot(k.Item, k.Lot)
	if err != nil {
		return "", err
	}
	if lot.Receipt != nil && lot.Receipt.Shipment != "" {
		ship, err := s.Shop.Shipment(lot.Receipt.Shipment)
		if err != nil || ship.Supplier != "" {
			return ship.Supplier, err
		}
	}
	return "", invalid("Nobody recorded who supplied %s: say whom it goes back to.", k.Item)
}

// Count records what was counted of an item in a place, which gets its first heap of it
// where none was known to be there.
type Count struct {
	Heap    Heap // From is the place itself, and may be left out where there is one heap
	Counted string
}

// Do records the count.
func (o Count) Do(_ context.Context, s *session.Session) (Result, error) {
	heap, err := counted(s, o.Heap)
	if err != nil {
		return Result{}, err
	}
	if err := typed(o.Counted); err != nil {
		return Result{}, err
	}
	q, err := s.ParseAmount(o.Counted, heap.Amount.Unit)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Count(heap.StockKey, q))
}

// CountBlind records what one of several hands counted or weighed in a place, where none of
// them is shown what the others counted, nor what should be there.
type CountBlind struct {
	Heap     Heap              // as of Count
	Counted  string            // "" where it was weighed
	Weighing *measure.Weighing // nil where it was counted
	Readings Readings          // those of a weighing that is still to be read
	By       string            // the hand that counted; "": that which works
}

// Do records the count. The hand that works stays who it is.
func (o CountBlind) Do(_ context.Context, s *session.Session) (Result, error) {
	heap, err := counted(s, o.Heap)
	if err != nil {
		return Result{}, err
	}
	amount, _, err := blindFigure{o.Counted, o.Weighing, o.Readings}.read(s, heap.Item, heap.Amount.Unit)
	if err != nil {
		return Result{}, err
	}
	defer handed(s, o.By)()
	return did(s.Shop.CountBlind(heap.StockKey, amount))
}

// counted is the heap that was counted or weighed. It need not be there: a place that is
// named gets its first of an item that the shop knows.
func counted(s *session.Session, h Heap) (store.Holding, error) {
	if h.Key != (store.StockKey{}) || h.From == "" {
		return h.find(s, session.Which{})
	}
	place, err := s.PlaceNamed(h.From)
	if err != nil {
		return store.Holding{}, err
	}
	item, err := s.Shop.Item(spelled(s, h.Item))
	if err != nil {
		return store.Holding{}, err
	}
	return heapAt(s, store.StockKey{Item: item.Designation, Place: place.ID, Lot: h.Lot})
}

// spelled is a part number as the shop's catalog writes it.
func spelled(s *session.Session, designation string) string {
	return s.Canonical(strings.Join(strings.Fields(designation), " "))
}

// PutIn adds to what lies in a place what came from nowhere the shop knows: loose stock
// of the builder's own, or an opening count.
type PutIn struct {
	Item    string // need not be known to the shop
	Amount  string
	Place   string
	Lot     string        // as it is printed
	Meeting store.Meeting // where another lot of the item lies there
}

// Do puts in.
func (o PutIn) Do(_ context.Context, s *session.Session) (Result, error) {
	place, err := s.PlaceNamed(o.Place)
	if err != nil {
		return Result{}, err
	}
	k := store.StockKey{Item: spelled(s, o.Item), Place: place.ID, Lot: o.Lot}
	unit, err := unitOf(s, k.Item)
	if err != nil {
		return Result{}, err
	}
	plain, err := s.PlainFigure(o.Amount)
	if err != nil {
		return Result{}, err
	}
	q, err := measure.ParseQuantity(plain, unit)
	if errors.Is(err, measure.ErrPiece) {
		_, err = s.ParseAmount(o.Amount, unit) // which says so in a sentence
		return Result{}, err
	}
	if err != nil || q.IsZero() {
		return Result{}, invalid("Type how many go in, as a number such as 12.")
	}
	return did(s.Shop.PutIn(k, store.Exact(q), o.Meeting))
}
