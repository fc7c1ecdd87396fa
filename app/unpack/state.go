package unpack

import (
	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/notice"
	"stowright/app/table"
	"stowright/store"
)

// The parts of the screen, as a route names them; the check-off has no name.
const (
	ListPart    = "list"    // bring a packing list in; About is the path of its file
	ArrivalPart = "arrival" // say which crates came; About is the id of the shipment
	ClaimPart   = "claim"   // the claim to send; About is the id of the shipment
	SheetPart   = "sheet"   // a check-off sheet for the clipboard; About is the id of the place of a crate or bag
)

// State is what the check-off shows.
type State struct {
	Loading  bool
	Nothing  string // why there is nothing to check off; empty otherwise
	Next     string // what to do about that
	NextPart string // which part of the screen does it
	Shipment string // id of the shipment that is checked off
	Title    string // "Crate C1 · bag H103"
	Note     string // "order OK-20731, came 14 March 2026"
	Progress Progress
	Bags     []table.Row
	Bag      int // index of the chosen bag
	Lines    []table.Row
	Line     int // index of the current line, -1 for none
	Current  Current
	Before   *notice.Notice // what to do about the line that was checked before this one
	Shoot    string         // what P says: "Photograph", or of which line where it is another than that in hand
	Prompt   *Prompt        // a question that must be answered before all else
	Side     Side
	Error    string // what went wrong, as a sentence; empty for nothing
}

// Progress is how far the check-off is, by state.
type Progress struct {
	Words  string // "39 of 56 lines"
	Shares []Share
}

// Share is so many lines of one tone.
type Share struct {
	Lines int
	Tone  notice.Tone
}

// Current is the line in hand.
type Current struct {
	Number      int
	Designation string
	Title       string
	Listed      string          // "listed 16 each, line 40"
	Mark        notice.Mark     // its state
	Piece       *drawing.Piece  // what the tables know of its form; nil for nothing
	Beware      []notice.Notice // what is easily taken for it in the same bag
	Hint        string          // where to look first, what came instead, what is damaged
	Weigh       bool            // its pieces can be weighed
	Ticks       string          // "counted ✓  looked at ○"
	Actions     []card.Action
	More        []card.Action // what is done more seldom
}

// Side is what stands at the right: claim clocks, totals, and the place for what
// was just found.
type Side struct {
	Clocks  []notice.Notice
	NoClock string // why none runs; empty where one does
	Owed    string // what is back-ordered, or promised in answer to a claim; empty for nothing
	Tallies []card.Tally
	Crates  string // which crates have not come; empty for none
	Others  bool   // other deliveries can be shown
	Waiting string // how many lines wait to be stowed; empty for none
	Stow    *Stow
	Lies    *Stow        // where the line in hand lies, when nothing of it is to be stowed
	Photos  []card.Photo // the newest of the line in hand
	Crate   string       // how its crate's photographs are called: "Photograph crate C1"; empty for none
}

// Stow is the question where something goes.
type Stow struct {
	Line    store.LineID
	What    string           // "12 AN3-6A"
	Place   string           // in words; empty where there is no place to suggest
	Why     string           // the reason, or what to do where no place is suggested
	Cabinet *drawing.Cabinet // the place lit; nil where it stands alone

	to string // id of the place; empty where none is suggested
}
