package labelling

import (
	"fmt"

	"stowright/app/wording"
	"stowright/labels"
)

// Summary is "40 labels on 2 sheets of US Letter, 3 x 10; modules 0.76 mm, a
// camera reads them from about 55 cm".
func (s State) Summary() string {
	if s.Labels == 0 {
		return "nothing is picked yet"
	}
	text := wording.Plural(s.Labels, "label", "labels") + " on "
	if !s.single() {
		text += wording.Plural(s.Sheets, "sheet", "sheets") + " of "
	}
	text += s.Stocks[s.Stock].Words
	if s.Module > 0 {
		text += fmt.Sprintf("; modules %.2f mm, a camera reads them from about %d cm", s.Module, reach(s.Module))
	}
	return text
}

// single reports whether the stock has one label a page: a roll, or tape.
func (s State) single() bool { return s.Stocks[s.Stock].PerPage() == 1 }

// Turned is "sheet 1 of 2": which of them is shown.
func (s State) Turned() string {
	noun := "sheet"
	if s.single() {
		noun = "label"
	}
	if s.Sheets == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d of %d", noun, s.Sheet+1, s.Sheets)
}

// reachOfModule is how many times its module a code may be away: a picture 1280
// pixels wide that takes in 60 degrees shows 1109 pixels to a width equal to the
// distance, and the reader wants one and a half pixels to a module (measured).
const reachOfModule = 739

// reach is how far away a camera reads modules of a size in millimetres, in
// centimetres, rounded down to five.
func reach(module float64) int { return int(module*reachOfModule/50) * 5 }

// maxNotes is how many labels are named that want another stock.
const maxNotes = 2

// notes are what a person should know before printing: of all labels first, then
// one line for each label.
func notes(all []labels.Note, list []labels.Label) []string {
	var lines, named []string
	of := map[int]int{} // the label's line, and how many further notes it has
	further := map[int]int{}
	for _, n := range all {
		if n.Label < 0 || n.Label >= len(list) {
			lines = append(lines, wording.Sentence(n.Text))
			continue
		}
		if at, ok := of[n.Label]; ok {
			further[at]++
			continue
		}
		of[n.Label] = len(named)
		named = append(named, list[n.Label].Name+": "+n.Text)
	}
	for i := range named {
		if further[i] > 0 {
			named[i] += fmt.Sprintf(" and for %d more", further[i])
		}
		named[i] += "."
	}
	if more := len(named) - maxNotes; more > 0 {
		named = append(named[:maxNotes], wording.Plural(more, "other label wants", "other labels want")+" larger stock too.")
	}
	return append(lines, named...)
}
