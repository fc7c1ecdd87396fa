package packinglist

import (
	"fmt"
	"strings"
)

// Problem is one reason why a list was not read: what is wrong, where, and what
// to do about it. It is the only type of error in this package.
type Problem struct {
	File    string // name of the file, as given to Open
	Sheet   string // sheet of a workbook; empty for text
	Row     int    // 1-based row as a spreadsheet counts them; 0 when it is about the whole file
	Column  string // letter of the column as a spreadsheet shows it; empty when it is about the whole row
	Message string // one sentence without a full stop
}

// Error is the place followed by the message: `list.csv, row 12, column F: ...`.
func (p *Problem) Error() string {
	where := p.Where()
	if where == "" {
		return p.Message
	}
	return where + ": " + p.Message
}

// Where names the file, the sheet, the row and the column, as far as known.
func (p *Problem) Where() string {
	var parts []string
	if p.File != "" {
		parts = append(parts, p.File)
	}
	if p.Sheet != "" {
		parts = append(parts, "sheet "+p.Sheet)
	}
	if p.Row > 0 {
		parts = append(parts, fmt.Sprintf("row %d", p.Row))
	}
	if p.Column != "" {
		parts = append(parts, "column "+p.Column)
	}
	return strings.Join(parts, ", ")
}

// problems collects up to MaxProblems and counts the rest.
type problems struct {
	file string
	list []Problem
	more int
}

func (ps *problems) take(p Problem) {
	if len(ps.list) == MaxProblems {
		ps.more++
		return
	}
	ps.list = append(ps.list, p)
}

// done returns the problems, with a last one that counts those not listed.
func (ps *problems) done() []Problem {
	if ps.more > 0 {
		ps.list = append(ps.list, Problem{
			File:    ps.file,
			Message: fmt.Sprintf("and %d more problems; correct these first, then read the list again", ps.more),
		})
	}
	return ps.list
}

// ColumnName is the letter that a spreadsheet shows above the n-th column: 1 is
// A, 27 is AA. It is empty for n below 1.
func ColumnName(n int) string {
	name := ""
	for ; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// clip shortens what is quoted in a message.
func clip(s string) string {
	const limit = 40
	if r := []rune(s); len(r) > limit {
		return string(r[:limit]) + "…"
	}
	return s
}
