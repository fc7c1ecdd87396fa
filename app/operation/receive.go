package operation

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
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
	return did(s.Shop.Receive(line.Shipment, line.ID, f))
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
	if f.Found, err = o.found(s, line.Listed); err != nil {
		return f, err
	}
	if o.Damaged != "" {
		if f.Damaged, err = s.ParseAmount(o.Damaged, line.Listed.Unit); err != nil {
			return f, err
		}
	}
	f.Came, err = o.came(s, line.Listed)
	return f, err
}

// found is how many are here of what is listed.
func (o Receive) found(s *session.Session, listed measure.Quantity) (measure.Quantity, error) {
	switch {
	case o.Found == "" && o.Came != "": // what came is not what is listed
		return measure.Quantity{Unit: listed.Unit}, nil
	case o.Found == "" || o.Found == "all":
		return listed, nil
	}
	return s.ParseAmount(o.Found, listed.Unit)
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
	came.Quantity, err = s.ParseAmount(o.Many, listed.Unit)
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
	return did(s.Shop.Receive(line.Shipment, line.ID, f))
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
	found, err := s.ParseAmount(o.Found, unit)
	if err != nil {
		return Result{}, err
	}
	l.Finding = &store.Finding{Found: found, Counted: true, Looked: o.Looked, Lot: o.Lot, Note: o.Note}
	r, err := did(s.Shop.ReceiveAll([]store.Line{l}))
	r.Doubt = s.NoSuchNumber(l.Designation)
	return r, err
}

// WholeBag records that all lines of a bag which are still to check are here as listed, as
// one entry.
type WholeBag struct {
	List   string // packing list; "": the only one
	Line   int    // any line of the bag
	Looked []int  // the lines that were looked at, and not counted alone
}

// Lines are the lines that it records, and those of the bag that it leaves: other bags gave
// to them, so that how many of their own are here is to be counted.
func (o WholeBag) Lines(lines []store.Line) (all, left []store.Line) {
	at := slices.IndexFunc(lines, func(l store.Line) bool { return l.Number() == o.Line })
	if at < 0 {
		return nil, nil
	}
	for _, l := range lines {
		switch _, brought := Brought(l); {
		case l.Crate != lines[at].Crate || l.Group != lines[at].Group || l.Status == store.BackOrdered || l.Extra:
		case brought:
			left = append(left, l)
		case l.Finding == nil && l.Unchecked == "":
			all = append(all, l)
		}
	}
	return all, left
}

// Do records them.
func (o WholeBag) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	lines, err := s.Shop.Lines(ship.ID)
	if err != nil {
		return Result{}, err
	}
	all, left := o.Lines(lines)
	for i, l := range all {
		all[i].Finding = &store.Finding{Found: l.Listed, Counted: true, Looked: slices.Contains(o.Looked, l.Number())}
	}
	if len(all) == 0 && len(left) > 0 {
		return Result{}, invalid("Line %d got some from another bag: count what its own bag holds.", left[0].Number())
	}
	if len(all) == 0 {
		return Result{}, invalid("Every line of the bag of line %d is checked already.", o.Line)
	}
	return did(s.Shop.ReceiveAll(all))
}

// Inside records that some of what was short of a line lay inside another part.
type Inside struct {
	List  string // packing list; "": the only one
	Line  int
	Found string // how many more; "": all that is short
	In    string // the number of a line, or words: "the packing of C1"
}

// Do adds them to what was found.
func (o Inside) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	if line.Finding == nil || line.Difference().Sign() >= 0 || line.Finding.Weighing != nil {
		return Result{}, invalid("Line %d is not counted short: count it first.", o.Line)
	}
	more := line.Difference().Neg()
	if strings.TrimSpace(o.Found) != "" {
		if more, err = s.ParseAmount(o.Found, line.Listed.Unit); err != nil {
			return Result{}, err
		}
	}
	if more.Sign() <= 0 {
		return Result{}, invalid("Say how many more of line %d were found.", o.Line)
	}
	in := strings.TrimSpace(o.In)
	if in == "" {
		return Result{}, invalid("Say inside what they were found: the number of a line, or in words.")
	}
	if n, err := strconv.Atoi(in); err == nil {
		outer, err := s.Shop.LineNumbered(line.Shipment, n)
		if err != nil {
			return Result{}, err
		}
		in = fmt.Sprintf("%s, line %d", outer.Designation, n)
	}
	f := *line.Finding
	if f.Found, err = f.Found.Add(more); err != nil {
		return Result{}, err
	}
	f.Note = strings.TrimPrefix(f.Note+"; "+more.Number()+" found inside "+in, "; ")
	return did(s.Shop.Receive(line.Shipment, line.ID, f))
}

// Owed records that some of what the supplier owed of a line came: what was back-ordered,
// or was promised in place of what was claimed.
type Owed struct {
	List  string // packing list; "": the only one
	Line  int
	Found string // how many; "": all that is owed
}

// Do adds them to what was found.
func (o Owed) Do(_ context.Context, s *session.Session) (Result, error) {
	ship, err := ShipmentNamed(s, o.List)
	if err != nil {
		return Result{}, err
	}
	line, err := s.Shop.LineNumbered(ship.ID, o.Line)
	if err != nil {
		return Result{}, err
	}
	due, why := ship.Due(line)
	if due.Sign() <= 0 {
		return Result{}, invalid("Nothing of line %d is owed: it is neither back-ordered nor promised in answer to a claim.", o.Line)
	}
	came := due
	if strings.TrimSpace(o.Found) != "" {
		if came, err = s.ParseAmount(o.Found, line.Listed.Unit); err != nil {
			return Result{}, err
		}
	}
	if more, err := came.Cmp(due); err != nil || more > 0 || came.Sign() <= 0 {
		return Result{}, invalid("%s of line %d are owed (%s): up to that many can be entered as having come.", due, o.Line, why)
	}
	f := store.Finding{Found: measure.Quantity{Unit: line.Listed.Unit}, Counted: true}
	if line.Finding != nil {
		f = *line.Finding
	}
	if f.Weighing != nil {
		return Result{}, invalid("Line %d was counted by weight: weigh all of it again.", o.Line)
	}
	if f.Found, err = f.Found.Add(came); err != nil {
		return Result{}, err
	}
	if line.Status != store.BackOrdered {
		if f.Replaced, err = (measure.Quantity{Micro: f.Replaced.Micro, Unit: line.Listed.Unit}).Add(came); err != nil {
			return Result{}, err
		}
	}
	return did(s.Shop.Receive(ship.ID, line.ID, f))
}

// LookIn notes where to look for a line before it is claimed.
type LookIn struct {
	List  string // packing list; "": the only one
	Line  int
	Words string // the builder's own; "" takes the note away
}

// Do notes it.
func (o LookIn) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.LookIn(line.Shipment, line.ID, o.Words))
}

// LeaveUnchecked records that a line is never going to be checked, and why.
type LeaveUnchecked struct {
	List string // packing list; "": the only one
	Line int
	Why  string // "": it is to be checked after all
}

// Do records it.
func (o LeaveUnchecked) Do(_ context.Context, s *session.Session) (Result, error) {
	line, err := LineOf(s, o.List, o.Line)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.LeaveUnchecked(line.Shipment, line.ID, o.Why))
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

	Meeting store.Meeting // where another lot of the item lies there
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
			transfers = append(transfers, store.Transfer{StockKey: h.StockKey, To: to.ID, Meeting: o.Meeting})
		}
	}
	if len(transfers) == 0 {
		return Result{}, invalid("Nothing of line %d is left in its bag.", o.Line)
	}
	return did(s.Shop.Stow(transfers...))
}
