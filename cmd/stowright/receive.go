package main

import (
	"errors"

	"stowright/app/operation"
)

// listFlag names a packing list; it may be left out while there is one.
type listFlag struct {
	List string `help:"The packing list, by its order number or its file name; it may be left out while the shop has one." placeholder:"ORDER"`
}

// arriveCommand enters the arrival of crates.
type arriveCommand struct {
	listFlag
	Crates       []string `arg:"" help:"The crates that came together, as the packing list names them."`
	On           string   `help:"The day they came (default: today)." placeholder:"2026-03-14"`
	DamageDays   string   `help:"The days that the paperwork allows for claims of damage. The day of arrival is day 0. Without it, no last day is known." placeholder:"DAYS"`
	ShortageDays string   `help:"The same for shortages." placeholder:"DAYS"`
}

// Run enters the delivery.
func (c *arriveCommand) Run(p *program) error {
	return p.do(operation.Arrive{List: c.List, Crates: c.Crates, On: c.On, DamageDays: c.DamageDays, ShortageDays: c.ShortageDays})
}

// receiveCommand records what was found of a line.
type receiveCommand struct {
	listFlag
	Line     int    `arg:"" help:"The number of the line, as the list has it now: a revised one may have given it another."`
	Found    string `help:"How many are here, in the unit of the list; \"all\" is as many as listed (default: all, or none with --came)." placeholder:"NUMBER"`
	Damaged  string `help:"How many of those are damaged." placeholder:"NUMBER"`
	Came     string `help:"The number that came in place of the listed one." placeholder:"PART"`
	Many     string `help:"How many of it came (default: as many as listed)." placeholder:"NUMBER"`
	Revision bool   `help:"What came is the same part of another revision."`
	Looked   bool   `help:"They were checked for damage, and not counted alone."`
	Lot      string `help:"The lot, as the bag or the part is marked." placeholder:"LOT"`
	Note     string `help:"What is damaged, or why it does not count." placeholder:"WORDS"`
	Bag      bool   `help:"All lines of the bag of this line that are still to check are here as listed."`
	Inside   string `help:"So many more as --found says (default: all that is short) lay inside another part: the number of its line, or words." placeholder:"LINE"`
	Owed     bool   `help:"So many as --found says (default: all) came of what was back-ordered, or promised in answer to a claim."`
	Recount  string `help:"Another hand counted so many good ones without seeing the list or the first count: two that agree settle it." placeholder:"NUMBER"`
	By       string `help:"Who counted, with --recount (default: the hand that works)." placeholder:"HAND"`
	Never    string `help:"It is never going to be checked, and why, such as 'the paper is lost': it is then neither here nor missing, and is not claimed. Undo, or what is found of it, has it checked after all." placeholder:"WHY"`
	LookIn   string `help:"Note where to look for it before it is claimed, in your own words; none is recorded as found." placeholder:"WORDS"`
}

// Run records the finding, in place of one before it.
func (c *receiveCommand) Run(p *program) error {
	if c.By != "" && c.Recount == "" {
		return &usageError{errors.New("--by goes with --recount: --hand says who works")}
	}
	if c.Recount != "" {
		return p.do(operation.CountLineBlind{List: c.List, Line: c.Line, Counted: c.Recount, By: c.By})
	}
	if c.Bag || c.Owed || c.Inside != "" || c.LookIn != "" || c.Never != "" {
		return c.other(p)
	}
	if c.Came == "" && (c.Revision || c.Many != "") {
		return &usageError{errors.New("--revision and --many go with --came")}
	}
	return p.do(operation.Receive{
		List: c.List, Line: c.Line, Found: c.Found, Damaged: c.Damaged, Came: c.Came, Many: c.Many, Revision: c.Revision,
		Looked: c.Looked, Lot: c.Lot, Note: c.Note,
	})
}

// other does what is no finding of a line alone; each of it is an entry of its own.
func (c *receiveCommand) other(p *program) error {
	alone := *c
	alone.listFlag, alone.Line, alone.Bag, alone.Owed, alone.Inside, alone.LookIn, alone.Never = listFlag{}, 0, false, false, "", "", ""
	var do []operation.Operation
	if c.Bag {
		do = append(do, operation.WholeBag{List: c.List, Line: c.Line})
	}
	if c.Inside != "" {
		alone.Found = ""
		do = append(do, operation.Inside{List: c.List, Line: c.Line, Found: c.Found, In: c.Inside})
	}
	if c.Owed {
		alone.Found = ""
		do = append(do, operation.Owed{List: c.List, Line: c.Line, Found: c.Found})
	}
	if c.LookIn != "" {
		do = append(do, operation.LookIn{List: c.List, Line: c.Line, Words: c.LookIn})
	}
	if c.Never != "" {
		do = append(do, operation.LeaveUnchecked{List: c.List, Line: c.Line, Why: c.Never})
	}
	if len(do) != 1 || alone != (receiveCommand{}) {
		return &usageError{errors.New("--bag, --owed, --inside, --look-in and --never are entries of their own: give one of them, --inside and --owed with --found")}
	}
	return p.do(do[0])
}

// extraCommand records a find that is on no line.
type extraCommand struct {
	listFlag
	Part   string `arg:"" help:"Its part number, as it is marked."`
	Found  string `arg:"" help:"How many; in pieces, unless the shop keeps it by another unit."`
	Line   int    `help:"It lay in the bag of this line." required:"" placeholder:"NUMBER"`
	Looked bool   `help:"They were checked for damage, and not counted alone."`
	Lot    string `help:"The lot, as the bag or the part is marked." placeholder:"LOT"`
	Note   string `help:"What is to be said of it." placeholder:"WORDS"`
}

// Run adds a line for it after the last one of the list.
func (c *extraCommand) Run(p *program) error {
	return p.do(operation.Extra{List: c.List, Line: c.Line, Part: c.Part, Found: c.Found, Looked: c.Looked, Lot: c.Lot, Note: c.Note})
}
