package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Column enters what was ticked and written on a check-off sheet, as one entry.
type Column struct {
	List  string // packing list; "": the only one
	Found []Ticked
}

// Ticked is what stands on the sheet at a line.
type Ticked struct {
	Line  int
	Found string // as TickedAmount reads it
}

// TickedAmount reads what was written at a line of a check-off sheet: a number, "a" or "." for
// all that is listed, "n" for none. Nothing written is no finding: found is false then.
func TickedAmount(s *session.Session, l store.Line, text string) (amount measure.Quantity, found bool, err error) {
	switch text = strings.TrimSpace(text); {
	case text == "":
		return amount, false, nil
	case text == "." || strings.EqualFold(text, "a"):
		return l.Listed, true, nil
	case strings.EqualFold(text, "n"):
		return measure.Quantity{Unit: l.Listed.Unit}, true, nil
	}
	amount, err = s.ParseAmount(text, l.Listed.Unit)
	if err == nil && amount.Sign() < 0 {
		err = invalid("%s is below 0: type how many were found.", text)
	}
	return amount, err == nil, err
}

// Do enters it. A line that was checked since the sheet was printed is refused, and then
// nothing is entered.
func (o Column) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	var lines []store.Line
	for _, t := range o.Found {
		l, err := s.Shop.LineNumbered(ship.ID, t.Line)
		if err != nil {
			return Result{}, err
		}
		amount, found, err := TickedAmount(s, l, t.Found)
		if err != nil {
			return Result{}, err
		}
		if !found {
			continue
		}
		if l.Finding != nil {
			return Result{}, invalid("Line %d is checked already: leave it empty, or correct it at the line.", l.Number())
		}
		l.Finding = &store.Finding{Found: amount, Counted: true}
		lines = append(lines, l)
	}
	if len(lines) == 0 {
		return Result{}, invalid("Nothing is written at any line: type a number, a for all, or n for none.")
	}
	return did(s.Shop.ReceiveAll(lines))
}
