package operation

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Split records what a mixed bag holds as one entry, so that one Undo takes all of it
// back: so many of what its line lists, and the rest under other numbers.
type Split struct {
	List  string // packing list; "": the only one
	Line  int
	Left  string // how many are what the line lists
	Parts []SplitPart
}

// SplitPart is so many of another number in a mixed bag.
type SplitPart struct {
	Line   int    // that lists it; 0 where it is on none
	Part   string // part number, where it is on no line
	Amount string // in the unit of the line that is split
}

// Do records them. A line keeps what other bags gave to it, and one that gets pieces
// what was found of it before.
func (o Split) Do(_ context.Context, s *session.Session) (Result, error) {
	from, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	lines := []store.Line{from}
	var also []string
	for _, p := range o.Parts {
		amount, err := s.ParseAmount(p.Amount, from.Listed.Unit)
		if err != nil {
			return Result{}, err
		}
		l, err := p.line(s, from)
		if err != nil {
			return Result{}, err
		}
		if l.ID == from.ID {
			return Result{}, invalid("%s is what line %d lists: say which other number is in its bag.", l.Designation, l.Number())
		}
		at := slices.IndexFunc(lines, func(k store.Line) bool { return l.ID != 0 && k.ID == l.ID })
		if at >= 0 {
			l = lines[at]
		}
		if l, err = given(l, amount, from); err != nil {
			return Result{}, err
		}
		if at >= 0 {
			lines[at] = l
		} else {
			lines = append(lines, l)
		}
		also = append(also, amount.Number()+" "+l.Designation)
	}
	if lines[0].Finding, err = o.left(s, from, also); err != nil {
		return Result{}, err
	}
	return did(s.Shop.ReceiveAll(lines))
}

// left is what is found of the line that is split.
func (o Split) left(s *session.Session, from store.Line, also []string) (*store.Finding, error) {
	f := &store.Finding{Counted: true, Looked: true}
	var err error
	if f.Found, err = s.ParseAmount(o.Left, from.Listed.Unit); err != nil {
		return nil, err
	}
	var notes []string
	if brought, ok := Brought(from); ok {
		if f.Found, err = f.Found.Add(brought); err != nil {
			return nil, err
		}
		notes = append(notes, from.Finding.Note)
	}
	if len(also) > 0 {
		notes = append(notes, "the bag also held "+strings.Join(also, ", "))
	}
	f.Note = strings.Join(notes, "; ")
	return f, nil
}

// line is the line that lists a part, or a new one for it.
func (p SplitPart) line(s *session.Session, from store.Line) (store.Line, error) {
	if p.Line == 0 {
		return extraLine(s, from, spelled(s, p.Part)), nil
	}
	return s.Shop.LineNumbered(from.Shipment, p.Line)
}

// Brought is what other bags gave to a line that was not checked itself yet, and whether
// they gave anything.
func Brought(l store.Line) (measure.Quantity, bool) {
	if l.Finding != nil && !l.Finding.Counted && l.Finding.Came == nil && !l.Extra {
		return l.Finding.Found, true
	}
	return measure.Quantity{Unit: l.Listed.Unit}, false
}

// given is a line with pieces of a mixed bag added to what was found of it. One that was
// not checked itself is still to check.
func given(l store.Line, amount measure.Quantity, from store.Line) (store.Line, error) {
	note := fmt.Sprintf("%s from the bag of line %d, %s", amount.Number(), from.Number(), from.Designation)
	if l.ID == 0 {
		l.Finding = &store.Finding{Found: amount, Counted: true, Looked: true, Note: note}
		return l, nil
	}
	f := store.Finding{Found: measure.Quantity{Unit: l.Listed.Unit}}
	if l.Finding != nil {
		f = *l.Finding
	}
	if f.Weighing != nil {
		return l, invalid("%s of line %d was counted by weight: put these with the others and weigh them all.", l.Designation, l.Number())
	}
	var err error
	if f.Found, err = f.Found.Add(amount); err != nil {
		return l, err
	}
	if f.Note != "" {
		note = f.Note + "; " + note
	}
	f.Note = note
	l.Finding = &f
	return l, nil
}
