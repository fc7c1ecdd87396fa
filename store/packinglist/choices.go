package packinglist

import (
	"fmt"
	"strings"
)

// Place is a row of a file, or one cell of it.
type Place struct {
	Sheet  string // empty for a text
	Row    int    // 1-based, as a spreadsheet counts
	Column int    // 1-based; 0 for the whole row
}

// String is the place as a person says it: "sheet C2, row 12, column F".
func (p Place) String() string {
	var parts []string
	if p.Sheet != "" {
		parts = append(parts, "sheet "+p.Sheet)
	}
	if p.Row > 0 {
		parts = append(parts, fmt.Sprintf("row %d", p.Row))
	}
	if p.Column > 0 {
		parts = append(parts, "column "+ColumnName(p.Column))
	}
	return strings.Join(parts, ", ")
}

// Choices are what a person settled about a file. Nil maps settle nothing.
type Choices struct {
	Sheets  map[string]bool    // sheets to read, or to leave out, by name
	Columns map[string]Columns // by the name of the sheet, in place of what is recognised
	Answers map[string]string  // the id of a reading, by the id of the question
	Cells   map[Place]string   // what stands in a cell in truth
	LeftOut map[Place]bool     // rows to leave out; Column is 0
}

// Question is a doubt that only a person can settle: two readings are possible.
// One answer settles it for every place.
type Question struct {
	ID       string // "decimal-mark"; the same for every list
	Text     string // one sentence, with a question mark
	Places   []Place
	Readings []Answer // at least one
	Answer   string   // id of the reading that was chosen; empty while the question is open
}

// Answer is one reading that is possible.
type Answer struct {
	ID   string // "point"
	Text string // "the point is the decimal mark: 1.200 is 1.2"
}

// Open reports whether the question waits for an answer.
func (q Question) Open() bool { return q.Answer == "" }

// maxPlaces bounds the places that a question lists; the first ones tell a person
// what it is about.
const maxPlaces = 1000

// asked gathers the questions of a file, each once.
type asked struct {
	answers map[string]string
	list    []*Question
}

// ask puts a question about a place, and returns the answer, empty while there is
// none. What is no reading of the question is no answer to it.
func (a *asked) ask(q Question, at Place) string {
	for _, known := range a.list {
		if known.ID != q.ID {
			continue
		}
		if len(known.Places) < maxPlaces {
			known.Places = append(known.Places, at)
		}
		return known.Answer
	}
	for _, r := range q.Readings {
		if r.ID == a.answers[q.ID] {
			q.Answer = r.ID
		}
	}
	q.Places = []Place{at}
	a.list = append(a.list, &q)
	return q.Answer
}
