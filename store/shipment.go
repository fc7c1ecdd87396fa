package store

import (
	"cmp"
	"fmt"
	"slices"

	"stowright/store/measure"
)

// Shipment is what one packing list describes. Its crates may come on several
// days: each arrival is a Delivery with claim dates of its own.
type Shipment struct {
	ID          string      `json:"id"`
	Order       string      `json:"order,omitempty"`
	Supplier    string      `json:"supplier,omitempty"`
	File        string      `json:"file"`        // the name of the packing list, for people
	Fingerprint string      `json:"fingerprint"` // of its lines: the same list twice is recognised
	Crates      []CrateRef  `json:"crates"`      // in the order of the list
	Deliveries  []Delivery  `json:"deliveries,omitempty"`
	Claims      []SentClaim `json:"claims,omitempty"`  // in the order in which they were sent
	Shape       *ListShape  `json:"shape,omitempty"`   // how the list was written, where a person chose columns of it
	Revised     []OldList   `json:"revised,omitempty"` // the lists whose place it took, the oldest first
}

// OldList is a list whose place a revised one took.
type OldList struct {
	File        string `json:"file"`
	Fingerprint string `json:"fingerprint,omitempty"`
	Until       Date   `json:"until"` // the day on which the next one took its place
}

// Has reports whether a fingerprint is that of the list, or of one whose place it took.
// Nothing has the empty one.
func (s Shipment) Has(fingerprint string) bool {
	is := func(l OldList) bool { return l.Fingerprint == fingerprint }
	return fingerprint != "" && (s.Fingerprint == fingerprint || slices.ContainsFunc(s.Revised, is))
}

// ListShape is how a supplier writes lists, as a person has read one: the row of headings
// and which columns were chosen for which fields, from 1 up.
type ListShape struct {
	Headings []string       `json:"headings"`
	Columns  map[string]int `json:"columns"`
}

// CrateRef is a crate as the packing list names it, and the place that it is.
type CrateRef struct {
	Name  string `json:"name"`
	Place string `json:"place"`
}

// Delivery is crates that arrived on one day, with the days that its own
// paperwork allows for claims. The arrival day is day 0. Nil days: the paperwork
// says nothing, and no date is assumed.
type Delivery struct {
	Crates       []string `json:"crates"` // names
	Arrived      Date     `json:"arrived"`
	DamageDays   *int     `json:"damage_days,omitempty"`
	ShortageDays *int     `json:"shortage_days,omitempty"`
}

// Delivery is the delivery that brought a crate, and whether it has come.
func (s Shipment) Delivery(crate string) (Delivery, bool) {
	for _, d := range s.Deliveries {
		for _, c := range d.Crates {
			if c == crate {
				return d, true
			}
		}
	}
	return Delivery{}, false
}

// Clock is a last day to claim.
type Clock struct {
	Shipment string   // id
	Crates   []string // names
	For      ClaimFor
	Due      Date
	DaysLeft int // negative when it has passed
}

// ClaimFor says what a claim clock is about.
type ClaimFor string

// The two claim clocks of a delivery.
const (
	ForDamage   ClaimFor = "damage"
	ForShortage ClaimFor = "shortages"
)

// Name is what is claimed by it: "Damage claim" or "Shortages".
func (c Clock) Name() string {
	if c.For == ForShortage {
		return "Shortages"
	}
	return "Damage claim"
}

// String is "Damage claim: 1 day left".
func (c Clock) String() string {
	switch {
	case c.DaysLeft < -1:
		return fmt.Sprintf("%s: %d days past", c.Name(), -c.DaysLeft)
	case c.DaysLeft == -1:
		return c.Name() + ": 1 day past"
	case c.DaysLeft == 0:
		return c.Name() + ": last day today"
	case c.DaysLeft == 1:
		return c.Name() + ": 1 day left"
	}
	return fmt.Sprintf("%s: %d days left", c.Name(), c.DaysLeft)
}

// Clocks are the claim clocks of all deliveries of the shipment, in the order in
// which the crates came, damage before shortages.
func (s Shipment) Clocks(today Date) []Clock {
	var clocks []Clock
	for _, d := range s.Deliveries {
		for _, c := range []struct {
			about ClaimFor
			days  *int
		}{{ForDamage, d.DamageDays}, {ForShortage, d.ShortageDays}} {
			if c.days == nil {
				continue
			}
			due := d.Arrived.AddDays(*c.days)
			clocks = append(clocks, Clock{Shipment: s.ID, Crates: d.Crates, For: c.about, Due: due, DaysLeft: today.DaysUntil(due)})
		}
	}
	return clocks
}

// ListStatus is what the packing list itself says of a line.
type ListStatus string

// The statuses on packing lists.
const (
	Shipped     ListStatus = "shipped"
	BackOrdered ListStatus = "back-ordered"
	NotShipped  ListStatus = "not shipped" // listed, and not in the crates that came first
)

// LineID is what a line of a packing list is filed under within its shipment, for life:
// findings, lots, photographs and claims name the line by it. It is the number that the
// line had on the list that brought it in, and no person is shown it: see [Line.Number].
type LineID int

// Line is one line of a packing list, with what was found of it.
type Line struct {
	Shipment string `json:"shipment"` // id
	ID       LineID `json:"number"`   // so called since before lists could be renumbered
	// Printed is the number that the list has now, or that the line has after the last one
	// where it is on no list; 0: it is still the one of the ID.
	Printed     int              `json:"printed,omitempty"`
	Crate       string           `json:"crate"`
	Group       string           `json:"group,omitempty"` // the bag or kit within the crate
	Place       string           `json:"place"`           // of the bag, or of the crate where there is none
	Designation string           `json:"designation"`
	Title       string           `json:"title,omitempty"`
	Listed      measure.Quantity `json:"listed"`
	Status      ListStatus       `json:"status"`
	Lot         string           `json:"lot,omitempty"`
	Price       Money            `json:"price,omitzero"`      // of one unit; zero: not known
	Priced      string           `json:"priced,omitempty"`    // where the price is from; empty: from the list
	Extra       bool             `json:"extra,omitempty"`     // found though not on the list, or on an earlier list alone
	LookIn      string           `json:"look_in,omitempty"`   // where to look before it is claimed, in the builder's words: "inside the fin skin"
	Unchecked   string           `json:"unchecked,omitempty"` // why it is never going to be checked; empty: it is, or was
	Finding     *Finding         `json:"finding,omitempty"`
	Match       *OrderMatch      `json:"match,omitempty"` // the lines of orders that it brings; nil: nobody said
}

// Number is the number that people know the line by: as the list numbers it now. Lines that
// are on no list continue after the last. No two lines of a shipment have the same.
func (l Line) Number() int {
	if l.Printed != 0 {
		return l.Printed
	}
	return int(l.ID)
}

// numbered is the line with another number.
func (l Line) numbered(number int) Line {
	l.Printed = 0
	if number != int(l.ID) {
		l.Printed = number
	}
	return l
}

// byNumber sorts lines as people number them.
func byNumber(lines []Line) []Line {
	slices.SortFunc(lines, func(a, b Line) int { return cmp.Compare(a.Number(), b.Number()) })
	return lines
}

func lineKey(shipment string, id LineID) string {
	return fmt.Sprintf("%s%s%06d", shipment, keySeparator, id)
}

// Finding is what was found of a line. Pieces count towards the line only under
// its own number: what came in its place is named in Came.
type Finding struct {
	Found   measure.Quantity `json:"found"`            // of the listed number, damaged ones too
	Damaged measure.Quantity `json:"damaged,omitzero"` // of those found
	Counted bool             `json:"counted,omitempty"`
	Looked  bool             `json:"looked,omitempty"` // inspected, which counting is not
	Lot     string           `json:"lot,omitempty"`    // as the bag or the part is marked; empty: as the list says
	// LotName is the lot that was made of them, "L-17", for the shop to give; empty: none,
	// as of what was found before lots were recorded.
	LotName string `json:"lot_name,omitempty"`
	Came    *Came  `json:"came,omitempty"`
	// Replaced is how many of those found came later, in place of what was short, damaged
	// or of another revision when the line was checked.
	Replaced measure.Quantity `json:"replaced,omitzero"`
	Note     string           `json:"note,omitempty"` // what is damaged, or why it does not count
	// Weighing is how they were counted by weight; nil where they were counted by hand.
	// Found follows from it: the number, or for a line listed by weight what the pieces
	// weigh in the unit of the list.
	Weighing *measure.Weighing `json:"weighing,omitempty"`
}

// Amount is how much was found: an estimate in pieces where they were weighed.
func (f Finding) Amount() Amount {
	if f.Weighing != nil {
		if n, err := f.Weighing.Count(); err == nil {
			return AmountWeighed(n)
		}
	}
	return Exact(f.Found)
}

// Came is what was found in place of what was listed.
type Came struct {
	Designation string           `json:"designation"`
	Quantity    measure.Quantity `json:"quantity"`
	Revision    bool             `json:"revision,omitempty"` // the same part of another revision
	LotName     string           `json:"lot_name,omitempty"` // as of a finding
}

// State is how a line stands.
type State string

// The states of a line: they never net off against each other.
const (
	ToCheck       State = "to check"
	AllHere       State = "all here"
	Short         State = "short"
	Over          State = "over"
	DamagedState  State = "damaged"
	WrongRevision State = "wrong revision"
	BackOrder     State = "back-ordered"
	NotArrived    State = "not arrived"
	OffList       State = "off the list"  // on an earlier list alone, and nothing of it was found
	NeverChecked  State = "never checked" // nobody is going to say whether it came
)

// State is how the line stands, given whether its crate has arrived.
func (l Line) State(arrived bool) State {
	f := l.Finding
	if l.Extra && (f == nil || f.Found.Sign() == 0 && f.Came == nil) {
		return OffList
	}
	if f == nil {
		return l.unfound(arrived)
	}
	short, damaged := l.lacks()
	switch {
	case f.Came != nil && f.Came.Revision && f.Replaced.Micro < short:
		return WrongRevision
	case damaged > 0 && f.Replaced.Micro-short < damaged:
		return DamagedState
	}
	switch d := l.Difference(); {
	case d.Sign() < 0:
		return Short
	case d.Sign() > 0:
		return Over
	}
	return AllHere
}

// unfound is how a line stands of which nothing was found yet.
func (l Line) unfound(arrived bool) State {
	switch {
	case l.Unchecked != "":
		return NeverChecked
	case l.Status == BackOrdered:
		return BackOrder
	case !arrived:
		return NotArrived
	}
	return ToCheck
}

// Difference is found minus listed: negative when short. It is nothing while the
// line is not checked, and where a weighed count may be what is listed.
func (l Line) Difference() measure.Quantity {
	if l.Finding == nil {
		return measure.Quantity{Unit: l.Listed.Unit}
	}
	a := l.Finding.Amount()
	if a.Unit == l.Listed.Unit && a.Low.Micro <= l.Listed.Micro && l.Listed.Micro <= a.High.Micro {
		return measure.Quantity{Unit: l.Listed.Unit}
	}
	// What came in place of damaged pieces is not over: it makes good what cannot be used.
	short, damaged := l.lacks()
	madeGood := min(damaged, max(0, l.Finding.Replaced.Micro-short))
	return measure.Quantity{Micro: l.Finding.Found.Micro - l.Listed.Micro - madeGood, Unit: l.Listed.Unit}
}

// Describe is the state in words with its figure: "4 in short", "+4 over", "all
// here"; of a weighed count "about 4 short".
func (l Line) Describe(arrived bool) string {
	if l.Finding != nil && l.Finding.Weighing != nil && l.Difference().Sign() != 0 {
		return "about " + l.describe(arrived)
	}
	return l.describe(arrived)
}

func (l Line) describe(arrived bool) string {
	d := l.Difference()
	figure := d.Number()
	if d.Unit != measure.Each {
		figure = d.String()
	}
	switch state := l.State(arrived); state {
	case Short:
		if d.Unit != measure.Each {
			return d.Neg().String() + " short"
		}
		return d.Neg().Number() + " short"
	case Over:
		return "+" + figure + " over"
	case DamagedState:
		return l.Finding.Damaged.Number() + " damaged"
	default:
		return string(state)
	}
}
