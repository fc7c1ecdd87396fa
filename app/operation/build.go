package operation

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// Take takes stock out of its place into the tray of a sub-assembly. What that does not
// call, more than it calls and what is kept for others goes with a reason alone.
type Take struct {
	Heap   Heap
	Amount string
	For    string // code of the sub-assembly
	Reason string // "" none is given
}

// Do takes out.
func (o Take) Do(_ context.Context, s *session.Session) (Result, error) {
	code, t, err := o.transfer(s)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Pull(code, t))
}

// transfer is what is taken, and the code of the sub-assembly that it is for.
func (o Take) transfer(s *session.Session) (code string, t store.Transfer, err error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return "", t, err
	}
	heap, err := o.Heap.find(s, session.Which{})
	if err != nil {
		return "", t, err
	}
	if t, err = some(s, heap, o.Amount); err != nil {
		return "", t, err
	}
	t.Reason = o.Reason
	return sub.Code, t, mayTake(s, sub, t, "")
}

// mayTake refuses what the store refuses, and says of a stranger what is called in its place,
// which the store has no catalog for; lender is the code of the one that it is borrowed from,
// or "".
func mayTake(s *session.Session, sub store.SubAssembly, t store.Transfer, lender string) error {
	booking := build.Booking{Code: sub.Code, Item: t.Item, Place: t.Place, Lot: t.Lot, Lender: lender, Quantity: t.Quantity, Reason: t.Reason}
	refusal, err := session.Answer(s, func(r *session.Reader) (*build.Refusal, error) { return r.MayPull(booking) })
	if err != nil || refusal == nil {
		return err
	}
	switch refusal.Kind {
	case build.NotThere, build.SetAside, build.Unclear, build.NoSuch:
		return nil
	}
	words := fmt.Sprintf("%s for %s: %s.", t.Item, sub.Code, refusal.Sentence)
	switch {
	case refusal.Kind == build.NoDecision:
		return &store.Error{Kind: store.Conflict, Where: t.Item, Message: words, Err: store.ErrOrigin}
	case !refusal.Kind.WithReason():
		return &store.Error{Kind: store.Conflict, Where: t.Item, Message: words}
	}
	return &store.Error{Kind: store.Conflict, Where: t.Item, Message: words + " With a reason it goes all the same.", Err: store.ErrReason}
}

// Borrow takes what was pulled for one sub-assembly into the tray of another.
type Borrow struct {
	Heap   Heap   // its From does not count
	Amount string // "": all of it
	From   string // code of the lender
	For    string // code of the sub-assembly that gets it
	Reason string // "" none is given
}

// Do borrows.
func (o Borrow) Do(_ context.Context, s *session.Session) (Result, error) {
	lender, err := subAssembly(s, o.From)
	if err != nil {
		return Result{}, err
	}
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	o.Heap.From = ""
	heap, err := o.Heap.inTray(s, lender)
	if err != nil {
		return Result{}, err
	}
	t, err := part(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	t.Reason = o.Reason
	asked := t
	if asked.Quantity.IsZero() {
		asked.Quantity = heap.Amount.Quantity
	}
	if err := mayTake(s, sub, asked, lender.Code); err != nil {
		return Result{}, err
	}
	return did(s.Shop.Borrow(lender.Code, sub.Code, t))
}

// Fit records what went into a sub-assembly: out of its tray, where no other place is
// named.
type Fit struct {
	Heap        Heap
	Amount      string // "": all of what lies in the tray; out of another place it has to be said
	For         string // code of the sub-assembly
	Requirement string // "R-31"; "": those that call it
	Position    string // on the aircraft; "": that of the requirement
	Note        string
	Reason      string // why it is more than is called, or not called; "" none is given
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
	t, err := take(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	t.Reason = o.Reason
	return did(s.Shop.Fit(sub.Code, store.Fitting{Transfer: t, Requirement: o.Requirement, Position: o.Position, Note: o.Note}))
}

// inTray is the heap that is meant: in the tray of a sub-assembly, unless it is named by
// its key or another place is.
func (h Heap) inTray(s *session.Session, sub store.SubAssembly) (store.Holding, error) {
	heap, err := h.find(s, session.Which{From: sub.Place})
	if h.Key == (store.StockKey{}) && h.From == "" && store.KindOf(err) == store.NotFound {
		item := spelled(s, h.Item)
		if _, unknown := s.Shop.Item(item); unknown == nil {
			return heap, missing(item, "No %s is in the tray of %s: take it out for %s first, or say which place it comes from.", item, sub.Code, sub.Code)
		}
	}
	return heap, err
}

// PutBack takes what was pulled for a sub-assembly, and never fitted, back to a place.
type PutBack struct {
	Heap   Heap   // its From does not count
	Amount string // "": all of it
	From   string // code of the sub-assembly
	To     string // place; "": where it was pulled from
	// Meeting is for where another lot of the item lies.
	Meeting store.Meeting
}

// Do puts back.
func (o PutBack) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.From)
	if err != nil {
		return Result{}, err
	}
	o.Heap.From = ""
	heap, err := o.Heap.inTray(s, sub)
	if store.KindOf(err) == store.NotFound {
		item := spelled(s, o.Heap.Item)
		if fitted, e := fittedOf(s, sub.Code, item, o.Heap.Lot); e == nil && len(fitted) > 0 {
			err = missing(item, "No %s is in the tray of %s, and %s was fitted: remove that, if it came out again.", item, sub.Code, fitted[0].Amount)
		}
	}
	if err != nil {
		return Result{}, err
	}
	to, err := home(s, o.To, heap.StockKey)
	if err != nil {
		return Result{}, err
	}
	t, err := part(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	t.To, t.Meeting = to.ID, o.Meeting
	return did(s.Shop.PutBack(sub.Code, t))
}

// home is the place that is named, or where something in a tray came from.
func home(s *session.Session, named string, tray store.StockKey) (store.Place, error) {
	if named != "" {
		return s.PlaceNamed(named)
	}
	var found bool
	place, err := session.Answer(s, func(r *session.Reader) (place store.Place, err error) {
		place, found, err = r.Home(tray)
		return place, err
	})
	if err == nil && !found {
		err = invalid("Nobody knows where %s came from: say where it goes.", tray.Item)
	}
	return place, err
}

// Remove records that something came out of an aircraft again.
type Remove struct {
	Item        string
	Lot         string        // "": any
	Amount      string        // "": all of it
	From        string        // code of the sub-assembly
	Requirement string        // "R-31"; "": any
	To          string        // place; "": the tray of the sub-assembly
	AsGood      bool          // it is to be good at once, which is refused
	Reason      string        // "" none is given
	Meeting     store.Meeting // where another lot of the item lies
}

// Do removes.
func (o Remove) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.From)
	if err != nil {
		return Result{}, err
	}
	item := spelled(s, o.Item)
	fitted, err := fittedOf(s, sub.Code, item, o.Lot)
	if o.Requirement != "" {
		fitted = slices.DeleteFunc(fitted, func(f store.Fitted) bool { return !strings.EqualFold(f.Requirement, strings.TrimSpace(o.Requirement)) })
	}
	switch {
	case err != nil:
		return Result{}, err
	case len(fitted) == 0:
		return Result{}, missing(item, "No %s is fitted in %s.", item, sub.Code)
	case len(fitted) > 1:
		return Result{}, invalid("%s is fitted in %s %s: say which.", item, sub.Code, wherever(fitted))
	}
	t, err := part(s, store.Holding{Amount: fitted[0].Amount}, o.Amount)
	if err != nil {
		return Result{}, err
	}
	r := store.Removal{Fitted: fitted[0], Quantity: t.Quantity, AsGood: o.AsGood, Reason: o.Reason, Meeting: o.Meeting}
	if o.To != "" {
		to, err := s.PlaceNamed(o.To)
		if err != nil {
			return Result{}, err
		}
		r.To = to.ID
	}
	return did(s.Shop.Remove(r))
}

// wherever is "of lot Q1 for R-2, of lot Q2 for R-2".
func wherever(fitted []store.Fitted) string {
	var words []string
	for _, f := range fitted {
		text := "of no lot"
		if f.Lot != "" {
			text = "of lot " + f.Lot
		}
		if f.Requirement != "" {
			text += " for " + f.Requirement
		}
		words = append(words, text)
	}
	return strings.Join(words, ", ")
}

// fittedOf is what is fitted of an item, or of a lot of it, in a sub-assembly.
func fittedOf(s *session.Session, code, item, lot string) ([]store.Fitted, error) {
	all, err := s.Shop.Fitted(code)
	return slices.DeleteFunc(all, func(f store.Fitted) bool {
		if err != nil || f.Item != item || lot == "" {
			return f.Item != item
		}
		var known store.Lot
		known, err = s.Shop.Lot(item, f.Lot)
		return !known.Answers(lot)
	}), err
}

// Release takes what came out of an aircraft for good again, since somebody looked at it.
type Release struct {
	Item    string
	Lot     string        // "": any
	From    string        // place that it lies in; "": anywhere
	Amount  string        // "": all of it
	By      string        // who looked
	To      string        // place; "": it stays where it is
	Reason  string        // what was seen; "" is not said
	Meeting store.Meeting // where another lot of the item lies
}

// Do releases.
func (o Release) Do(_ context.Context, s *session.Session) (Result, error) {
	heap, err := o.removed(s)
	if err != nil {
		return Result{}, err
	}
	t, err := part(s, heap, o.Amount)
	if err != nil {
		return Result{}, err
	}
	t.Reason, t.Meeting = o.Reason, o.Meeting
	if o.To != "" {
		to, err := s.PlaceNamed(o.To)
		if err != nil {
			return Result{}, err
		}
		t.To = to.ID
	}
	return did(s.Shop.Release(t, o.By))
}

// removed is the heap that came out of an aircraft.
func (o Release) removed(s *session.Session) (store.Holding, error) {
	item := spelled(s, o.Item)
	heaps, err := s.Shop.Holdings(item)
	if err != nil {
		return store.Holding{}, err
	}
	from := ""
	if o.From != "" {
		place, err := s.PlaceNamed(o.From)
		if err != nil {
			return store.Holding{}, err
		}
		from = place.ID
	}
	heaps = slices.DeleteFunc(heaps, func(h store.Holding) bool {
		return h.Condition != store.Removed || from != "" && h.Place != from || o.Lot != "" && !strings.EqualFold(o.Lot, h.Lot)
	})
	switch len(heaps) {
	case 0:
		return store.Holding{}, missing(item, "No %s that came out of an aircraft lies there: see where it is.", item)
	case 1:
		return heaps[0], nil
	}
	return store.Holding{}, invalid("%s that came out of an aircraft is in %d heaps: say which place and which lot.", item, len(heaps))
}

// subAssembly is the sub-assembly with a code, in any case.
func subAssembly(s *session.Session, code string) (store.SubAssembly, error) {
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return store.SubAssembly{}, err
	}
	return session.SubAssemblyNamed(subs, code)
}
