package card

import (
	"slices"
	"strings"

	"stowright/app/drawing"
	"stowright/app/notice"
)

// Card is the one thing that is chosen, scanned or found, shown at the right of
// the window. Empty fields are simply not drawn. The zero value is no card.
type Card struct {
	Designation string         // large, in mono, never broken inside a dash group: "AN470AD4-7"
	Title       string         // "Rivet, dome head, 1/8 x 7/16, alloy AD (dimple)"
	Piece       *drawing.Piece // outline at size, nil when there is none to draw
	Mark        notice.Mark    // the state as a word, beside the quantity; zero for none

	Quantity string // as shown, "28" or "about 180"; never a bare number without Unit or Known
	Unit     string // "pieces"
	Known    string // how it is known: "counted 14 Mar by Builder", "by weight, 176 to 184"

	At      string           // the name of the place, as large as the designation: "A-07"
	Place   string           // in words: "Garage, Cabinet A, drawer A-07"
	Cabinet *drawing.Cabinet // the same place lit on its cabinet, nil when it is in none

	Beware  []notice.Notice // look-alikes and other warnings, most dangerous first
	Tallies []Tally         // small table of words and numbers, as on a delivery
	Notes   []string        // quiet lines under everything: "below the minimum of 200"

	// Photographed is what the page of its photographs is about; empty for what has none.
	Photographed string
	Photos       []Photo // the newest of them

	Actions []Action // in order: the first of them are Buttons, the rest is in More
}

// Empty reports whether there is nothing to show.
func (c Card) Empty() bool {
	return c.Designation == "" && c.Title == "" && c.Place == "" && len(c.Tallies) == 0
}

// Around is where the place that At names stands: "Garage, Cabinet A". Without At it is all of Place.
func (c Card) Around() string {
	if c.At == "" {
		return c.Place
	}
	return c.Place[:max(0, strings.LastIndex(c.Place, ", "))]
}

// Text is what the card says, a line for each fact, to be copied.
func (c Card) Text() string {
	lines := []string{c.Designation, c.Title, strings.Join(strings.Fields(c.Quantity+" "+c.Unit), " "), c.Known, c.Place}
	for _, b := range c.Beware {
		lines = append(lines, strings.TrimSpace(b.Lead+" "+b.Text))
	}
	for _, t := range c.Tallies {
		lines = append(lines, t.Words+": "+t.Figure)
	}
	lines = slices.DeleteFunc(append(lines, c.Notes...), func(l string) bool { return l == "" })
	return strings.Join(lines, "\n")
}

// Action is one thing that can be done with what is shown.
type Action struct {
	ID      string // what the screen gets when it is chosen: "take"
	Label   string // "Take out"
	Key     string // the single key that does the same: "T"; "" for none
	Primary bool   // drawn filled; at most one of a group
	Off     bool   // drawn quiet and not taken
}

// mostButtons is how many buttons a card has, the one that leads to More among them.
const mostButtons = 4

// Buttons are the actions that have a button of their own.
func (c Card) Buttons() []Action {
	if len(c.Actions) <= mostButtons {
		return c.Actions
	}
	return c.Actions[:mostButtons-1]
}

// More are further actions, which stand in a list that one button opens.
func (c Card) More() []Action { return c.Actions[len(c.Buttons()):] }

// Tally is one line of a small table: words at the left, a figure at the right.
type Tally struct {
	Words  string
	Figure string
	Tone   notice.Tone
}
