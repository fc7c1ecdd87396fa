package build

import (
	"fmt"
	"strings"

	"github.com/bojanz/currency"

	"stowright/store/measure"
)

// Reading is what the shop knew at one moment, as far as building and ordering rest
// on it. Maps are keyed by item, in its canonical spelling, so that what one entry
// changed can be filled in anew by itself; see [Board.Update].
type Reading struct {
	Today measure.Date
	// SubAssemblies are in the builder's order: what comes first is promised first.
	SubAssemblies []SubAssembly
	// Stock is every heap of an item, in storage, in crates and in trays, oldest lot
	// first and within a lot in the order of the places.
	Stock map[string][]Heap
	// Expected is what of an item is not in stock and is known of all the same.
	Expected map[string][]Expected
	// Decisions are all that were made, withdrawn ones too.
	Decisions []Decision
	// Equivalents say which old number is supplied as which new one.
	Equivalents []Equivalent
	// Places are those that heaps name, and their neighbours, by id.
	Places map[string]Place
	// Supply says how an item is bought; an item without is on no supplier's list.
	Supply map[string]Supply
	// Suppliers holds the terms of suppliers by name.
	Suppliers map[string]Supplier
	// Aircraft are those that sub-assemblies name, by name.
	Aircraft map[string]Aircraft
}

// SubAssembly is a part of an aircraft that is built in one go.
type SubAssembly struct {
	Code, Name string
	Aircraft   string       // name in Reading.Aircraft; "" where the shop has one only
	Planned    measure.Date // the day the work is planned for; zero: none, and today counts
	Hours      Hours        // planned
	// LetGo says that the builder let its hold on stock go: others are promised first.
	LetGo        bool
	Closed       measure.Date // zero: open
	Requirements []Requirement
}

// Hours is working time in tenths of an hour.
type Hours int

// String is "20 h" or "12.5 h".
func (h Hours) String() string {
	if h%10 == 0 {
		return fmt.Sprintf("%d h", h/10)
	}
	return fmt.Sprintf("%d.%d h", h/10, h%10)
}

// ParseHours reads "20", "12.5" or "12.5 h", to the tenth of an hour.
func ParseHours(text string) (Hours, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(strings.ToLower(text)), "h"))
	q, err := measure.ParseQuantity(number, measure.Feet) // any unit that is not counted: a plain decimal
	const tenth = 100_000                                 // of a unit, in millionths
	if err != nil || q.Sign() < 0 || q.Micro%tenth != 0 {
		return 0, fmt.Errorf("%q is no number of hours: write it like 20 or 12.5", text)
	}
	return Hours(q.Micro / tenth), nil
}

// Kind says how a requirement's quantity is meant.
type Kind string

// The kinds of requirement. What is as required never blocks and is never booked by
// itself; what is temporary is pulled and counted back in, and never fitted.
const (
	Exact      Kind = ""
	AsRequired Kind = "as required"
	Temporary  Kind = "temporary"
)

// Requirement is so many of an item for a sub-assembly.
type Requirement struct {
	ID     string // for life: "R-31"; unique in a Reading
	Called string // the number as the plans print it
	// Item is the number that it is kept under here: Called itself, or what
	// Equivalents lead to (see [Resolve]). A decision that allows another item is not
	// worked in by whoever fills the Reading: that is done here.
	Item       string
	Expression string // the quantity as printed, "10 x 2 sides"; "" where it was a plain number
	// Needed is for the whole sub-assembly; zero where Kind is AsRequired and no
	// quantity is given.
	Needed   measure.Quantity
	Kind     Kind
	Callout  string // drawing, sheet, figure, item, step
	Revision string
	Position string // words on the aircraft: "Tailplane / left / hinge 2"
	// Joint names the requirements that are one joint; "" for none. The parts that
	// the bolt goes through stand in Stack of any one of them.
	Joint string
	Stack []Layer
	// Fitted is what has gone into the aircraft for this requirement.
	Fitted []Fit
}

// Layer is a part that the bolt of a joint goes through.
type Layer struct {
	Name      string
	Thickness measure.Length
}

// Fit is so much of an item of a lot that was fitted. The item is another than the
// requirement's where a decision allowed it.
type Fit struct {
	Item, Lot string
	Amount    measure.Amount
}

// Condition says whether stock may be used. The words are those of store.Condition.
type Condition string

// The conditions of stock. Expired is none of them: it follows from dates.
const (
	Good        Condition = ""
	Damaged     Condition = "damaged"
	SetApart    Condition = "set apart"
	Removed     Condition = "removed" // came out of an aircraft and was not looked at
	Quarantined Condition = "quarantined"
)

// Origin says how a lot came to be, as far as somebody recorded it.
type Origin string

// The origins of a lot.
const (
	UnknownOrigin      Origin = ""
	ApprovedProduction Origin = "approved production"
	StandardPart       Origin = "standard part"
	CommercialPart     Origin = "commercial part on a listed CPL"
	OwnerProduced      Origin = "owner-produced"
	FromKitMaker       Origin = "kit maker"
	MadeHere           Origin = "made here"
	OutsideAviation    Origin = "bought outside aviation"
	FromAircraft       Origin = "removed from an aircraft"
	MilitarySurplus    Origin = "military surplus"
)

// Heap is so much of one lot of an item, in one condition and one place.
type Heap struct {
	Place     string // id
	Lot       string // id of the lot; "" where none is recorded
	LotName   string // for people: "lot 2", "Q7714"
	Condition Condition
	// Why says why a heap that is not good was set apart: "alert 3".
	Why    string
	Origin Origin
	// Untied says that it is hardware of a published specification, and that no paper of its
	// lot ties it to that.
	Untied bool
	Amount measure.Amount
	// Tray is the code of the sub-assembly in whose tray it lies; "" in storage.
	Tray string
	// Expires is the last day on which it may be used, retests not counted; zero:
	// none, or where Perishable, none known.
	Expires    measure.Date
	Perishable bool
	// Sample is what pieces of it weighed, where some were; nil else.
	Sample *measure.Sample
}

// Source says by what an expected quantity is expected.
type Source string

// The sources of what is expected. Of these Missing and Unusable are owed by nobody:
// they say what became of it.
const (
	BackOrdered Source = "back-ordered" // the supplier's own list says so
	Promised    Source = "promised"     // a claim was answered: it will be sent
	Ordered     Source = "ordered"      // from the order list
	NotCome     Source = "crate has not come"
	Unopened    Source = "crate is not opened"
	NotChecked  Source = "not checked off" // it may be in a crate that is here
	Missing     Source = "short"           // claimed or not, and not answered
	Unusable    Source = "unusable"        // came damaged or in a wrong revision; it lies apart
)

// Owed reports whether somebody is to deliver it.
func (s Source) Owed() bool { return s != Missing && s != Unusable }

// Expected is a quantity of an item that is not in stock.
type Expected struct {
	By       Source
	Quantity measure.Quantity
	Line     int          // of the packing list or the order; 0: none
	List     string       // the order or shipment, for people: "OK-20731"
	Crate    string       // by name; "" for none
	Supplier string       // who owes it; "" unknown
	Since    measure.Date // since when it is owed; zero unknown
	Until    measure.Date // the day it is promised for; zero: no day was promised
	Claimed  bool         // a claim was sent for it
	Note     string       // what is damaged, or which revision came
}

// DecisionKind says what somebody allowed.
type DecisionKind string

// The kinds of decision that these rules know.
const (
	OtherItem DecisionKind = "other item"
	Retest    DecisionKind = "expiry after retest"
	AnyOrigin DecisionKind = "origin"
)

// Decision is what somebody allowed, for what and by which paper.
type Decision struct {
	ID        string // "D-1"
	Kind      DecisionKind
	From      measure.Date // the day it was made
	Withdrawn measure.Date // zero: it stands
	Who       string       // who allowed it
	Paper     string       // "letter of the kit maker"
	// Requirement is the id that it is for (OtherItem, AnyOrigin).
	Requirement string
	// Item takes the place of the requirement's own (OtherItem), and Extra comes with
	// it: more washers, a longer pin.
	Item  string
	Extra []Extra
	// Lot is the lot that it is for (Retest, AnyOrigin); Until is the last day on
	// which a retested lot may be used.
	Lot   string
	Until measure.Date
}

// Extra is what a decision asks for besides the item itself.
type Extra struct {
	Called, Item string
	Quantity     measure.Quantity
}

// InForce reports whether the decision holds on a day.
func (d Decision) InForce(day measure.Date) bool {
	return d.From.DaysUntil(day) >= 0 && (d.Withdrawn.IsZero() || day.DaysUntil(d.Withdrawn) > 0)
}

// Equivalent says that an old number is supplied as a new one, by a source. It holds
// one way only.
type Equivalent struct {
	Old, New string
	Source   string
	Date     measure.Date
	// FromMemory says that no paper stands behind it: such a row resolves nothing.
	FromMemory bool
}

// Place is where a heap lies, as one walks to it. The order is the builder's own:
// rooms as they are walked through, in a room its cabinets, shelves and racks.
type Place struct {
	ID, Tag   string
	Name      string // "A-30"
	Room      int    // from 0, in walking order
	Furniture int    // from 0 within the room
	// Row and Column are of a drawer in its cabinet, from 1 at the top left; 0 for a
	// place that is no drawer.
	Row, Column int
}

// Certificate is the kind of certificate that an aircraft has.
type Certificate string

// The kinds of certificate.
const (
	NoCertificate    Certificate = ""
	Experimental     Certificate = "experimental"
	StandardCategory Certificate = "standard"
	OtherCertificate Certificate = "other"
)

// Aircraft is one that is built or kept in the shop.
type Aircraft struct {
	Name        string
	Certificate Certificate
}

// Supply is how an item is bought.
type Supply struct {
	Supplier string // name
	Pack     int64  // whole units in a pack; 0 or 1: singly
	// Least is the fewest that are sold; of no unit: any number is.
	Least measure.Quantity
	// Price is of one unit, not of a pack. The zero Amount is unknown.
	Price currency.Amount
	// Spare is how many to have left over; see [SpareRule].
	Spare SpareRule
	// Minimum is what the shop never wants to be below; of no unit: none.
	Minimum measure.Quantity
}

// SpareRule says how many more than needed are wanted: the larger of a share of the
// need, rounded up to whole units, and of a number; both zero is none.
type SpareRule struct {
	Percent int
	Count   measure.Quantity
	// ByWaste takes what Uses tell in place of Percent, once they are enough.
	ByWaste bool
	Uses    Uses
}

// Supplier is the terms of a supplier.
type Supplier struct {
	MinimumOrder currency.Amount // the zero Amount: none known
}
