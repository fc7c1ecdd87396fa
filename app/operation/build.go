package operation

import (
	"context"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// Fit records what went into a sub-assembly: out of its tray, where no other place is
// named.
type Fit struct {
	Heap   Heap
	Amount string // "": all of what lies in the tray; out of another place it has to be said
	For    string // code of the sub-assembly
}

// Do fits.
func (o Fit) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	heap, err := o.Heap.inTray(s, sub)
	if err != nil {
		return Result{}, err
	}
	take := part
	if heap.Place != sub.Place {
		take = some
	}
	t, err := take(heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Fit(sub.Code, t))
}

// inTray is the heap that is meant: in the tray of a sub-assembly, unless it is named by
// its key or another place is.
func (h Heap) inTray(s *session.Session, sub store.SubAssembly) (store.Holding, error) {
	heap, err := h.find(s, session.Which{From: sub.Place})
	if h.Key == (store.StockKey{}) && h.From == "" && store.KindOf(err) == store.NotFound {
		item := spelled(s, h.Item)
		if _, unknown := s.Shop.Item(item); unknown == nil {
			return heap, missing(item, "No %s lies in the tray of %s: take it out for %s first, or say which place it comes from.", item, sub.Code, sub.Code)
		}
	}
	return heap, err
}

// PutBack takes what was pulled for a sub-assembly back to a place, or, where it was
// fitted already, takes it out of the aircraft again.
type PutBack struct {
	Heap   Heap   // its From does not count
	Amount string // "": all of it
	From   string // code of the sub-assembly
	To     string // place
	Fitted bool   // it was fitted; it comes out again
	// Meeting is for where another lot of the item lies.
	Meeting store.Meeting
}

// Do puts back.
func (o PutBack) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.From)
	if err != nil {
		return Result{}, err
	}
	to, err := s.PlaceNamed(o.To)
	if err != nil {
		return Result{}, err
	}
	if o.Fitted {
		return o.unfit(s, sub, to)
	}
	o.Heap.From = ""
	heap, err := o.Heap.inTray(s, sub)
	if store.KindOf(err) == store.NotFound {
		item := spelled(s, o.Heap.Item)
		if fitted, e := o.fitted(s, sub.Code); e == nil && len(fitted) > 0 {
			err = missing(item, "No %s lies in the tray of %s, and %s was fitted: say so if that comes out again.", item, sub.Code, fitted[0].Amount)
		}
	}
	if err != nil {
		return Result{}, err
	}
	t, err := part(heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	t.To, t.Meeting = to.ID, o.Meeting
	return did(s.Shop.Move(t))
}

func (o PutBack) unfit(s *session.Session, sub store.SubAssembly, to store.Place) (Result, error) {
	item := spelled(s, o.Heap.Item)
	fitted, err := o.fitted(s, sub.Code)
	switch {
	case err != nil:
		return Result{}, err
	case len(fitted) == 0:
		return Result{}, missing(item, "No %s is fitted in %s.", item, sub.Code)
	case len(fitted) > 1:
		return Result{}, invalid("%s of %d lots is fitted in %s: say which lot.", item, len(fitted), sub.Code)
	}
	t, err := part(store.Holding{Amount: fitted[0].Amount}, o.Amount)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Return(fitted[0], t.Quantity, to.ID))
}

// fitted is what is fitted of the item, lot by lot, or of the lot that is named.
func (o PutBack) fitted(s *session.Session, code string) ([]store.Fitted, error) {
	all, err := s.Shop.Fitted(code)
	item := spelled(s, o.Heap.Item)
	return slices.DeleteFunc(all, func(f store.Fitted) bool {
		if err != nil || f.Item != item || o.Heap.Lot == "" {
			return f.Item != item
		}
		var lot store.Lot
		lot, err = s.Shop.Lot(item, f.Lot)
		return !lot.Answers(o.Heap.Lot)
	}), err
}

// subAssembly is the sub-assembly with a code, in any case.
func subAssembly(s *session.Session, code string) (store.SubAssembly, error) {
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return store.SubAssembly{}, err
	}
	code = strings.TrimSpace(code)
	for _, sub := range subs {
		if strings.EqualFold(sub.Code, code) {
			return sub, nil
		}
	}
	return store.SubAssembly{}, missing(code, "There is no sub-assembly %q in this shop: see how its code is spelled.", code)
}
