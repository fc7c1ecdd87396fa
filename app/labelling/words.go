package labelling

import (
	"fmt"

	"stowright/app/wording"
	"stowright/labels"
)

// Summary is "40 labels on 2 sheets of 66.7 x 25.4 mm, 30 on US Letter; modules 0.76 mm, a
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
	if s.Reading.Done > 0 {
		text += fmt.Sprintf("; codes read back: %.0f %%", 100*s.Reading.Done)
	}
	return text
}

// single reports whether the stock has one label a page, as rolls and tape have.
func (s State) single() bool { return s.Stocks[s.Stock].PerPage() == 1 }

// Turned is which sheet is shown: "sheet 1 of 2".
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

// reachOfModule is the reading distance of a code in modules: a picture 1280 pixels wide
// with a field of view of 60 degrees has 1109 pixels to a width equal to the distance, and
// the reader needs one and a half pixels a module (measured).
const reachOfModule = 739

// reach is the distance in centimetres, rounded down to five, from which a camera reads
// modules of a size in millimetres.
func reach(module float64) int { return int(module*reachOfModule/50) * 5 }

// maxNotes is how many labels that need larger stock are named.
const maxNotes = 2

// notes are what the user should know before printing: first about all labels, then one
// line for each label.
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
		named = append(named[:maxNotes], wording.Plural(more, "other label needs", "other labels need")+" larger stock too.")
	}
	return append(lines, named...)
}
