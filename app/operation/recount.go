package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// CountLineBlind records what another hand counted of a line that was checked, without
// having seen the list or what was found.
type CountLineBlind struct {
	List    string // packing list; "": the only one
	Line    int
	Counted string // good pieces, in the unit of the list
	By      string // the hand that counted; "": that which works
}

// Do records the count. The hand that works stays who it is.
func (o CountLineBlind) Do(_ context.Context, s *session.Session) (Result, error) {
	l, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	if err := typed(o.Counted); err != nil {
		return Result{}, err
	}
	unit := l.Listed.Unit
	if l.Finding != nil {
		unit = l.Finding.Amount().Unit
	}
	q, err := session.ParseAmount(o.Counted, unit)
	if err != nil {
		return Result{}, err
	}
	if by := strings.TrimSpace(o.By); by != "" {
		works := s.Shop.Hand()
		s.Shop.SetHand(by)
		defer s.Shop.SetHand(works)
	}
	return did(s.Shop.CountLineBlind(l.Shipment, l.Number, store.Exact(q)))
}
