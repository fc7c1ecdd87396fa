package build

import (
	"github.com/bojanz/currency"

	"stowright/store/measure"
)

// State says whether work on a sub-assembly can start.
type State string

// The states of a sub-assembly. Begun is one that has all it needs and of which
// something is pulled or fitted; a blocked one may have been begun too, see Status.Begun.
const (
	Ready    State = "ready"
	Estimate State = "estimate" // ready but for something that is only estimated or not counted
	Blocked  State = "blocked"
	Begun    State = "begun"
	Closed   State = "closed"
	Unlisted State = "unlisted" // nothing is listed that it needs: nobody can tell
)

// Startable reports whether nothing stops the work.
func (s State) Startable() bool { return s == Ready || s == Begun }

// Status is how a sub-assembly stands.
type Status struct {
	Code, Name string
	State      State
	Begun      bool         // something is pulled or fitted
	Day        measure.Date // the day it was looked at for: the planned one, or today
	Hours      Hours
	LetGo      bool       // others are promised first
	Needs      []Need     // one a requirement and one an extra of a decision, in their order
	Blockers   []*Blocker // what stops it, in the order of Needs; empty when nothing does
	// Sentence is how it stands in words: "cannot tell: weigh A-03 and A-21".
	Sentence string
	// By names the decisions that it is ready by: "D-2".
	By []string
}

// Need is how one requirement stands. All quantities are of Needed's unit.
type Need struct {
	Requirement string // id
	Called      string
	Item        string // that is asked for, a decision's other item included
	Decision    string // id of the decision that asks for Item; "" for the plans themselves
	Kind        Kind
	Needed      measure.Quantity // as the plans ask
	Fitted      measure.Amount
	Pulled      measure.Amount   // in its tray for this requirement
	Open        measure.Quantity // still to be pulled: needed less fitted and pulled, never below zero
	// Here is what lies in the shop that may be used on the day, trays of others not
	// counted; Free is what of it earlier ones leave. Of an estimate Low is sure.
	Here, Free measure.Amount
	// Held is what earlier ones hold of Here, in the builder's order.
	Held []Hold
	// Promised is which heaps it is to be taken from. They sum up to Open where the
	// requirement is met, and to less where it is not.
	Promised []Share
	Met      bool
	// Hints are what is worth knowing though it stops nothing: "L-1 is the only one
	// for T", "expires on 10 July, last day".
	Hints []string
}

// Hold is so much that is kept for a sub-assembly.
type Hold struct {
	Code     string
	Quantity measure.Quantity
}

// Share is so much out of one heap.
type Share struct {
	Heap     Heap
	Quantity measure.Quantity
	By       string // id of the decision that allows this lot; "" where none is needed
}

// Blocker is one thing that stops a sub-assembly.
type Blocker struct {
	Code        string // of the sub-assembly
	Requirement string
	Called      string
	Item        string
	Need        measure.Quantity // still to be pulled
	Free        measure.Amount   // for this sub-assembly
	Here        measure.Amount   // in the shop and usable
	// CannotTell is set where it may be there after all: counting or weighing tells.
	CannotTell bool
	Sentence   string   // "AN3-5A: need 8, free 2; 28 here, 6 for SA-10, 20 for SA-21"
	Reasons    []Reason // where the rest is, what is nearest at hand first
}

// ReasonKind says what keeps a quantity from being used. In their order the least
// trouble comes first.
type ReasonKind int

// The kinds of reason.
const (
	Uncounted     ReasonKind = iota // it lies here, counted in another unit or only estimated
	NoExpiry                        // it has a shelf life and nobody wrote the date down
	InCrate                         // in a crate that is not opened
	UncheckedLine                   // on a line that is not checked off
	Reserved                        // for an earlier sub-assembly
	InTray                          // of another sub-assembly
	OriginAsked                     // its origin asks for a decision on this aircraft
	NotGood                         // damaged, set apart, removed, quarantined
	Expired
	Due     // owed, and a day is promised
	Owing   // owed, and no day is promised
	Lacking // found short or spoiled, and nobody has answered
	Nowhere // on no packing list and not ordered
)

// Reason is where some of what is missing is. Sentence says it all; the other fields
// are what it was made of.
type Reason struct {
	Kind     ReasonKind
	By       Source           // of what is expected; "" for what lies here
	Quantity measure.Quantity // zero where it is not known
	Place    string           // id of the place to go to; "" for none
	Lot      string
	Holder   string // code of the sub-assembly that holds it
	Line     int
	Crate    string
	Supplier string
	Since    measure.Date
	Until    measure.Date // promised for, or expired on
	Sentence string
}

// PullList is one walk through the shop for one or several sub-assemblies.
type PullList struct {
	For   []string // codes, in the order asked for: a tray each
	Stops []Stop   // as one walks
	Short []Short  // what cannot be pulled, in the order of the requirements
	// Ask is what is to be looked at or decided before it is taken: lots without a
	// date, quantities as required.
	Ask []Question
	// Length is of the walk, in steps of [WalkRule].
	Length int
}

// Stop is one item of one lot that is taken from one place. A place with several of
// them has several stops, one after the other.
type Stop struct {
	Place     Place
	Item, Lot string
	LotName   string
	Quantity  measure.Quantity // of all trays
	Estimate  bool             // what lies there is only estimated
	For       []TrayShare      // in the order of PullList.For
	Called    string           // number on the plans where it is another than Item; "" else
	// Via says how Called leads to Item: rows of equivalents, or a decision.
	Via       []Equivalent
	Decision  string
	Expires   measure.Date
	Beware    []string // "A-31 beside it holds F0332P, thin"
	Temporary bool     // to be counted back in before closing
}

// TrayShare is what of a stop goes into a tray.
type TrayShare struct {
	Code, Requirement string
	Quantity          measure.Quantity
}

// Short is a requirement that a pull list cannot fill.
type Short struct {
	Code, Requirement, Called, Item string
	Needed                          measure.Quantity // still to be pulled
	Have                            measure.Quantity // that the list does pull
	Reasons                         []Reason
	Sentence                        string
}

// Question is what a person has to answer before something is taken.
type Question struct {
	Code, Requirement, Item string
	Place                   string // id
	Sentence                string
}

// OrderList is what is to be bought, by supplier.
type OrderList struct {
	Suppliers []SupplierOrder // by name; the one without a name last
	// Ask is what has to be counted before anybody can say whether it is to be bought.
	Ask []Question
	// Totals has one sum for every currency that occurs, by its code.
	Totals []currency.Amount
	// Unpriced is how many lines have no known price and are in no sum.
	Unpriced int
}

// SupplierOrder is what is to be bought of one supplier.
type SupplierOrder struct {
	Name     string // "" where nobody said who sells it
	Lines    []OrderLine
	Total    currency.Amount // of the lines with a price; the zero Amount when there are none
	Unpriced int
	// UnderMinimum is what is missing to the supplier's minimum order; the zero Amount
	// where it is reached or none is known.
	UnderMinimum currency.Amount
}

// OrderLine is one item to buy. Quantities are of the item's unit.
type OrderLine struct {
	Item   string
	Needed measure.Quantity // by all sub-assemblies, still to be pulled
	Spare  measure.Quantity // wanted besides
	By     string           // the rule of Spare: "10 %", "learned from 19 spoiled of 231 (8.2 %, upper bound 11.8 %)"
	Have   measure.Quantity // usable when it is needed; the low end of estimates
	Owed   measure.Quantity
	Buy    measure.Quantity // what is missing, before packs
	Pack   int64
	Packs  int64
	Order  measure.Quantity // what is ordered: whole packs
	Price  currency.Amount  // of all packs; the zero Amount is unknown
	// Unblocks are the codes that wait for this item and for nothing else, once what is
	// bought is here; Helps those that wait for other things too.
	Unblocks []string
	Helps    []string
	Note     string // "4 are owed on line 42: nothing is unblocked by their being owed"
	NeededBy measure.Date
}
