package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// CountLineBlind records what another hand counted or weighed of a line that was checked,
// without having seen the list or what was found.
type CountLineBlind struct {
	List     string // packing list; "": the only one
	Line     int
	Counted  string            // good pieces, in the unit of the list; "" where they were weighed
	Weighing *measure.Weighing // nil where they were counted
	Readings Readings          // those of a weighing that is still to be read
	By       string            // the hand that counted; "": that which works
}

// Do records the count. The hand that works stays who it is.
func (o CountLineBlind) Do(_ context.Context, s *session.Session) (Result, error) {
	l, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	unit := l.Listed.Unit
	if l.Finding != nil {
		unit = l.Finding.Amount().Unit
	}
	amount, weighing, err := blindFigure{o.Counted, o.Weighing, o.Readings}.read(s, l.Designation, unit)
	if err != nil {
		return Result{}, err
	}
	defer handed(s, o.By)()
	return did(s.Shop.CountLineBlind(l.Shipment, l.ID, amount, weighing))
}

// blindFigure is what a hand says of what is there: the figure that it typed, or its weighing,
// which may be read already.
type blindFigure struct {
	typed    string
	weighing *measure.Weighing
	readings Readings
}

// read is what it comes to of an item that is kept by that unit.
func (f blindFigure) read(s *session.Session, item string, unit measure.Unit) (store.Amount, *measure.Weighing, error) {
	m := f.weighing
	if m == nil && f.readings != (Readings{}) {
		read, err := f.readings.of(s, item)
		if err != nil {
			return store.Amount{}, nil, err
		}
		m = &read
	}
	if m != nil {
		amount, err := store.WeighedIn(item, *m, unit)
		return amount, m, err
	}
	if err := typed(f.typed); err != nil {
		return store.Amount{}, nil, err
	}
	q, err := s.ParseAmount(f.typed, unit)
	return store.Exact(q), nil, err
}

// handed has a hand be the one that works until what is returned is called; "": it stays.
func handed(s *session.Session, by string) (back func()) {
	works := s.Shop.Hand()
	if by = strings.TrimSpace(by); by != "" {
		s.Shop.SetHand(by)
	}
	return func() { s.Shop.SetHand(works) }
}
