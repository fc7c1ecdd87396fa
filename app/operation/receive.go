package operation

import (
	"cmp"
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// Receive records what was found of a line of a packing list, in place of what was
// recorded of it before. That the line was looked at, and the lot that it is of, stay.
type Receive struct {
	List string // packing list; "": the only one
	Line int    // number

	// Found is how many of what is listed are here, in the unit of the list, what other
	// bags gave included; "all" is as many as listed. Empty is "all" too, but none where
	// another number came.
	Found   string
	Damaged string // how many of those are damaged; "": none

	Came     string // the number that came in place of the listed one; "": none did
	Many     string // how many of it came; "": as many as listed
	Revision bool   // it is the same part of another revision

	Weighing *measure.Weighing // they were counted by weight; Found and Damaged are empty

	Looked bool // they were looked at, and not counted alone
	Lot    string
	Note   string
}

// Do records the finding.
func (o Receive) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	f, err := o.finding(s, line)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.Receive(line.Shipment, line.Number, f))
}

func (o Receive) finding(s *session.Session, line store.Line) (store.Finding, error) {
	f := store.Finding{Counted: true, Looked: o.Looked, Lot: o.Lot, Note: strings.TrimSpace(o.Note), Weighing: o.Weighing}
	if before := line.Finding; before != nil {
		f.Looked = f.Looked || before.Looked
		f.Lot = cmp.Or(f.Lot, before.Lot)
	}
	if o.Weighing != nil {
		if o.Found != "" || o.Damaged != "" || o.Came != "" {
			return f, invalid("What is weighed is not counted as well: set apart what is damaged or wrong first.")
		}
		return f, nil
	}
	var err error
	if f.Found, err = o.found(line.Listed); err != nil {
		return f, err
	}
	if o.Damaged != "" {
		if f.Damaged, err = session.ParseAmount(o.Damaged, line.Listed.Unit); err != nil {
			return f, err
		}
	}
	f.Came, err = o.came(s, line.Listed)
	return f, err
}

// found is how many are here of what is listed.
func (o Receive) found(listed measure.Quantity) (measure.Quantity, error) {
	switch {
	case o.Found == "" && o.Came != "": // what came is not what is listed
		return measure.Quantity{Unit: listed.Unit}, nil
	case o.Found == "" || o.Found == "all":
		return listed, nil
	}
	return session.ParseAmount(o.Found, listed.Unit)
}

// came is what came in place of what is listed.
func (o Receive) came(s *session.Session, listed measure.Quantity) (*store.Came, error) {
	if strings.TrimSpace(o.Came) == "" {
		if o.Revision || o.Many != "" {
			return nil, invalid("How many came, and that it is another revision, go with the number that came.")
		}
		return nil, nil
	}
	came := &store.Came{Designation: spelled(s, o.Came), Quantity: listed, Revision: o.Revision}
	if o.Many == "" {
		return came, nil
	}
	var err error
	came.Quantity, err = session.ParseAmount(o.Many, listed.Unit)
	return came, err
}

// Look notes that a line that was counted was looked at as well, or takes that back.
type Look struct {
	List   string // packing list; "": the only one
	Line   int
	Looked bool
}

// Do notes it.
func (o Look) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	if line.Finding == nil {
		return Result{}, invalid("Line %d is not counted yet: count it first.", o.Line)
	}
	f := *line.Finding
	f.Looked = o.Looked
	return did(s.Shop.Receive(line.Shipment, line.Number, f))
}

// Extra records a find that is on no line of a packing list, as a line after its last.
type Extra struct {
	List   string // packing list; "": the only one
	Line   int    // it lay in the bag of this line
	Part   string // part number, as it is marked
	Found  string // how many; in pieces, unless the shop keeps it by another unit
	Looked bool   // they were looked at, and not counted alone
	Lot    string
	Note   string
}

// Do adds the line.
func (o Extra) Do(_ context.Context, s *session.Session) (Result, error) {
	beside, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	l := extraLine(s, beside, spelled(s, o.Part))
	unit, err := unitOf(s, l.Designation)
	if err != nil {
		return Result{}, err
	}
	found, err := session.ParseAmount(o.Found, unit)
	if err != nil {
		return Result{}, err
	}
	l.Finding = &store.Finding{Found: found, Counted: true, Looked: o.Looked, Lot: o.Lot, Note: o.Note}
	return did(s.Shop.ReceiveAll([]store.Line{l}))
}

// extraLine is a line for a number that is on none, in the bag of one.
func extraLine(s *session.Session, beside store.Line, designation string) store.Line {
	return store.Line{
		Shipment: beside.Shipment, Crate: beside.Crate, Group: beside.Group, Place: beside.Place,
		Designation: designation, Title: s.Catalog().Decode(designation).Title,
	}
}

// StowLine puts all good stock of a line's item that is in its bag where it belongs.
type StowLine struct {
	List string // packing list; "": the only one
	Line int
	To   string // place
}

// Do stows.
func (o StowLine) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	to, err := s.PlaceNamed(o.To)
	if err != nil {
		return Result{}, err
	}
	heaps, err := s.Shop.Contents(line.Place)
	if err != nil {
		return Result{}, err
	}
	var transfers []store.Transfer
	for _, h := range heaps {
		if h.Item == line.Designation && h.Condition == store.Good {
			transfers = append(transfers, store.Transfer{StockKey: h.StockKey, To: to.ID})
		}
	}
	if len(transfers) == 0 {
		return Result{}, invalid("Nothing of line %d is left in its bag.", o.Line)
	}
	return did(s.Shop.Stow(transfers...))
}
