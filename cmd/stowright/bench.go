package main

import (
	"strings"

	"stowright/app/operation"
)

// reasonFlag is why something is done against a list.
type reasonFlag struct {
	Reason string `help:"Why, where it is more than is called or not called at all; the journal keeps it." placeholder:"WORDS"`
}

// takeCommand takes things out for a sub-assembly.
type takeCommand struct {
	heapFlags
	reasonFlag
	Amount string `help:"How much of it." required:"" placeholder:"NUMBER"`
	For    string `help:"The sub-assembly, by its code." required:"" placeholder:"CODE"`
}

// Run takes out.
func (c *takeCommand) Run(p *program) error {
	return p.do(operation.Take{Heap: c.heap(), Amount: c.Amount, For: c.For, Reason: c.Reason})
}

// borrowCommand takes what was pulled for one sub-assembly for another.
type borrowCommand struct {
	Item   string `arg:"" help:"The part number."`
	From   string `help:"The sub-assembly that it was pulled for, by its code." required:"" placeholder:"CODE"`
	For    string `help:"The sub-assembly that gets it, by its code." required:"" placeholder:"CODE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	Lot    string `help:"The lot." placeholder:"LOT"`
	reasonFlag
}

// Run borrows.
func (c *borrowCommand) Run(p *program) error {
	return p.do(operation.Borrow{Heap: operation.Heap{Item: c.Item, Lot: c.Lot}, Amount: c.Amount, From: c.From, For: c.For, Reason: c.Reason})
}

// fitCommand records what went into a sub-assembly.
type fitCommand struct {
	heapFlags
	reasonFlag
	Amount      string `help:"How much of it; without it, all that was taken out for the sub-assembly." placeholder:"NUMBER"`
	In          string `help:"The sub-assembly, by its code." required:"" placeholder:"CODE"`
	Requirement string `help:"The line of its list, as R-31; without it, those that call the item." placeholder:"R-31"`
	Position    string `help:"Where on the aircraft, from the large to the small, as 'Tailplane / left / hinge 2'." placeholder:"WORDS"`
	Note        string `help:"What else is to be known of it." placeholder:"WORDS"`
}

// Run fits.
func (c *fitCommand) Run(p *program) error {
	return p.do(operation.Fit{Heap: c.heap(), Amount: c.Amount, For: c.In, Requirement: c.Requirement, Position: c.Position, Note: c.Note, Reason: c.Reason})
}

// putBackCommand takes what was not needed back to its place.
type putBackCommand struct {
	Item   string `arg:"" help:"The part number."`
	From   string `help:"The sub-assembly, by its code." required:"" placeholder:"CODE"`
	To     string `help:"Where it goes, by name or tag; without it, where it was taken from." placeholder:"PLACE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	Lot    string `help:"The lot." placeholder:"LOT"`
	meetingFlags
}

// Run puts back.
func (c *putBackCommand) Run(p *program) error {
	return p.do(operation.PutBack{Heap: operation.Heap{Item: c.Item, Lot: c.Lot}, Amount: c.Amount, From: c.From, To: c.To, Meeting: c.meeting()})
}

// removeCommand records what came out of an aircraft.
type removeCommand struct {
	Item        string `arg:"" help:"The part number."`
	From        string `help:"The sub-assembly that it came out of, by its code." required:"" placeholder:"CODE"`
	To          string `help:"Where it goes, by name or tag; without it, into the tray." placeholder:"PLACE"`
	Amount      string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	Lot         string `help:"The lot." placeholder:"LOT"`
	Requirement string `help:"The line of the list that it was fitted for, as R-31." placeholder:"R-31"`
	AsGood      bool   `help:"It is as good as new. This is refused: see release."`
	Reason      string `help:"Why it came out." placeholder:"WORDS"`
	meetingFlags
}

// Run removes.
func (c *removeCommand) Run(p *program) error {
	return p.do(operation.Remove{Item: c.Item, Lot: c.Lot, Amount: c.Amount, From: c.From, Requirement: c.Requirement, To: c.To, AsGood: c.AsGood, Reason: c.Reason, Meeting: c.meeting()})
}

// releaseCommand has what came out of an aircraft be used again.
type releaseCommand struct {
	Item   string `arg:"" help:"The part number."`
	By     string `help:"Who looked at it." required:"" placeholder:"NAME"`
	From   string `help:"The place that it is in, by name or tag." placeholder:"PLACE"`
	To     string `help:"Where it goes, by name or tag; without it, it stays." placeholder:"PLACE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	Lot    string `help:"The lot." placeholder:"LOT"`
	Reason string `help:"What was seen." placeholder:"WORDS"`
	meetingFlags
}

// Run releases.
func (c *releaseCommand) Run(p *program) error {
	return p.do(operation.Release{Item: c.Item, Lot: c.Lot, From: c.From, Amount: c.Amount, By: c.By, To: c.To, Reason: c.Reason, Meeting: c.meeting()})
}

// foundCommand puts back what was lost.
type foundCommand struct {
	Lost   string `arg:"" help:"What was lost: the part number, or the number that it is looked for under, as X-5."`
	In     string `help:"The sub-assembly that it was lost in, by its code." placeholder:"CODE"`
	To     string `help:"Where it goes, by name or tag; without it, where its like was taken from." placeholder:"PLACE"`
	Amount string `help:"How much of it; without it, all." placeholder:"NUMBER"`
	meetingFlags
}

// Run puts back.
func (c *foundCommand) Run(p *program) error {
	return p.do(operation.Found{Name: c.Lost, From: c.In, Amount: c.Amount, To: c.To, Meeting: c.meeting()})
}

// closeCommand closes a sub-assembly.
type closeCommand struct {
	Code    string            `arg:"" help:"The sub-assembly, by its code."`
	Answer  map[string]string `help:"A reason for one thing that stays open, by what it is: 'not fitted/AN3-5A/=left for paint'." mapsep:";" placeholder:"WHAT=WHY"`
	Unnoted string            `help:"A reason for everything that nobody noted: photographs, torque, a second pair of eyes." placeholder:"WORDS"`
}

// Run closes.
func (c *closeCommand) Run(p *program) error {
	answers := map[string]string{}
	for what, why := range c.Answer {
		answers[strings.TrimSpace(what)] = why
	}
	return p.do(operation.Close{For: c.Code, Answers: answers, Unnoted: c.Unnoted})
}

// reopenCommand has a closed sub-assembly be worked on again.
type reopenCommand struct {
	Code   string `arg:"" help:"The sub-assembly, by its code."`
	Reason string `help:"Why, for the journal." required:"" placeholder:"WORDS"`
}

// Run reopens.
func (c *reopenCommand) Run(p *program) error {
	return p.do(operation.Reopen{For: c.Code, Reason: c.Reason})
}

// noteCommand keeps a note of the work.
type noteCommand struct {
	Code        string `arg:"" help:"The sub-assembly, by its code."`
	Kind        string `help:"torque, paint, inspection, look, hours or other." required:"" placeholder:"KIND"`
	Called      string `help:"The part number of the line that it is of." placeholder:"NUMBER"`
	Requirement string `help:"The line of the list that it is of, as R-31, where several call one number." placeholder:"R-31"`
	Position    string `help:"Where on the aircraft, from the large to the small, as 'Tailplane / left / hinge 2'." placeholder:"WORDS"`
	Text        string `help:"The value as it was read, with its unit, or what was seen." placeholder:"WORDS"`
	Tool        string `help:"The wrench." placeholder:"WORDS"`
	Second      string `help:"Who looked at it besides the one who writes." placeholder:"NAME"`
	Hours       string `help:"With --kind hours: how many were worked." placeholder:"3.5"`
	On          string `help:"The day; without it, today." placeholder:"2026-03-18"`
}

// Run keeps it.
func (c *noteCommand) Run(p *program) error {
	return p.do(operation.Note{
		For: c.Code, Kind: c.Kind, Called: c.Called, Requirement: c.Requirement, Position: c.Position,
		Text: c.Text, Tool: c.Tool, Second: c.Second, Hours: c.Hours, On: c.On,
	})
}
