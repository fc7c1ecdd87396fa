package main

import (
	"errors"

	"stowright/app/operation"
	"stowright/store"
)

// heapFlags say which heap of an item is meant; they may be left out where there is one.
type heapFlags struct {
	Item    string `arg:"" help:"The part number."`
	From    string `help:"The place that it is in, by name or tag, or one around it." placeholder:"PLACE"`
	Lot     string `help:"The lot." placeholder:"LOT"`
	Damaged bool   `help:"What is damaged or set apart, and not what is good."`
}

func (f heapFlags) heap() operation.Heap {
	return operation.Heap{Item: f.Item, From: f.From, Lot: f.Lot, Damaged: f.Damaged}
}

// goes says how much of a heap goes where.
type goes struct {
	heapFlags
	To     string `help:"Where it goes, by name or tag." required:"" placeholder:"PLACE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	meetingFlags
}

// meetingFlags say what becomes of stock that comes to where another lot of its item lies.
type meetingFlags struct {
	Pour  bool `help:"Where another lot of it lies there, they are poured together." xor:"meeting"`
	Apart bool `help:"Where another lot of it lies there, they are kept apart." xor:"meeting"`
}

func (f meetingFlags) meeting() store.Meeting {
	switch {
	case f.Pour:
		return store.PourLots
	case f.Apart:
		return store.LotsApart
	}
	return store.AskMeeting
}

// stowCommand puts things from their bag or crate where they belong.
type stowCommand struct{ goes }

// Run stows.
func (c *stowCommand) Run(p *program) error {
	return p.do(operation.Stow{Heap: c.heap(), Amount: c.Amount, To: c.To, Meeting: c.meeting()})
}

// moveCommand takes things from one place to another.
type moveCommand struct{ goes }

// Run moves.
func (c *moveCommand) Run(p *program) error {
	return p.do(operation.Move{Heap: c.heap(), Amount: c.Amount, To: c.To, Meeting: c.meeting()})
}

// scrapCommand takes things out of the shop for good.
type scrapCommand struct {
	heapFlags
	Amount string `help:"How much of it." required:"" placeholder:"NUMBER"`
	Reason string `help:"Why, for the journal: lost, spoiled, expired, practice or recalled, with more about it after a colon, or anything else. What is lost out of a tray is looked for." required:"" placeholder:"WORDS"`
}

// Run scraps.
func (c *scrapCommand) Run(p *program) error {
	return p.do(operation.Scrap{Heap: c.heap(), Amount: c.Amount, Reason: c.Reason})
}

// sendBackCommand takes things out of the shop, back to their supplier.
type sendBackCommand struct {
	heapFlags
	Amount string `help:"How much of it." required:"" placeholder:"NUMBER"`
	To     string `help:"Whom it goes back to (default: who sent the packing list that it came with)." placeholder:"SUPPLIER"`
	Reason string `help:"Why, for the journal." required:"" placeholder:"WORDS"`
}

// Run sends back.
func (c *sendBackCommand) Run(p *program) error {
	return p.do(operation.SendBack{Heap: c.heap(), Amount: c.Amount, To: c.To, Reason: c.Reason})
}

// countCommand records what was counted in a place.
type countCommand struct {
	Item    string `arg:"" help:"The part number."`
	Counted string `arg:"" help:"How many there are, in the unit that the item is kept by."`
	Blind   bool   `help:"One of several hands counts, and none is told what the others counted: two that agree settle it."`
	By      string `help:"Who counted, with --blind (default: the hand that works)." placeholder:"HAND"`
	In      string `help:"The place that was counted, by name or tag; it may be left out where the item is in one place." placeholder:"PLACE"`
	Lot     string `help:"The lot." placeholder:"LOT"`
}

// Run records the count.
func (c *countCommand) Run(p *program) error {
	if c.Blind {
		return p.do(operation.CountBlind{Heap: operation.Heap{Item: c.Item, From: c.In, Lot: c.Lot}, Counted: c.Counted, By: c.By})
	}
	if c.By != "" {
		return &usageError{errors.New("--by goes with --blind: --hand says who works")}
	}
	return p.do(operation.Count{Heap: operation.Heap{Item: c.Item, From: c.In, Lot: c.Lot}, Counted: c.Counted})
}
