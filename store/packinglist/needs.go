package packinglist

import (
	"fmt"
	"slices"
	"strings"
)

// NeedField is what a column of a list of requirements holds.
type NeedField int

// The fields of such a list.
const (
	NeedSubAssembly NeedField = iota
	NeedName                  // of the sub-assembly
	NeedPartOf                // code of the sub-assembly that it is part of
	NeedHours                 // planned
	NeedNumber                // part number, as the plans call it
	NeedQuantity              // as printed: "10 x 2 sides"
	NeedUnit
	NeedKind      // "as required", "temporary"; else exact
	NeedAsNeeded  // a tick: as required
	NeedTemporary // a tick: temporary
	NeedDrawing
	NeedSheet
	NeedFigure
	NeedItem
	NeedStep
	NeedCallout // where the plans name it, in words
	NeedRevision
	NeedPosition
	NeedSide
	NeedJoint
	NeedStack // what the bolt of the joint goes through: "spar .125, rib .040"
	NeedTorque
	NeedNote
	NeedChange   // of a bulletin: adds, drops, replaces
	NeedReplaces // the line that this one takes the place of: "R-31", or the number before
	NeedPrinted  // of a table of ours: the quantity as it was printed, beside what it comes to
	NeedEnded    // of a table of ours: that the line holds no more
	NeedReplaced // of a table of ours: that another took its place
	needFields
)

// needHeadings are the headings of columns, spaces, dashes and case left out.
var needHeadings = map[string]NeedField{
	"subassembly": NeedSubAssembly, "assembly": NeedSubAssembly, "sa": NeedSubAssembly, "code": NeedSubAssembly, "subassemblycode": NeedSubAssembly,
	"name": NeedName, "subassemblyname": NeedName, "title": NeedName,
	"partof": NeedPartOf, "parent": NeedPartOf,
	"hours": NeedHours, "plannedhours": NeedHours,
	"number": NeedNumber, "partnumber": NeedNumber, "partno": NeedNumber, "pn": NeedNumber, "part": NeedNumber, "designation": NeedNumber, "called": NeedNumber,
	"quantity": NeedQuantity, "qty": NeedQuantity, "howmany": NeedQuantity, "needed": NeedQuantity, "need": NeedQuantity, "amount": NeedQuantity,
	"unit": NeedUnit, "units": NeedUnit, "um": NeedUnit, "uom": NeedUnit,
	"kind": NeedKind, "asrequired": NeedAsNeeded, "ar": NeedAsNeeded, "temporary": NeedTemporary, "temp": NeedTemporary,
	"drawing": NeedDrawing, "dwg": NeedDrawing, "sheet": NeedSheet, "figure": NeedFigure, "fig": NeedFigure, "item": NeedItem, "itemno": NeedItem, "step": NeedStep,
	"callout": NeedCallout, "revision": NeedRevision, "rev": NeedRevision, "position": NeedPosition, "where": NeedPosition, "side": NeedSide,
	"joint": NeedJoint, "stack": NeedStack, "through": NeedStack, "torque": NeedTorque, "note": NeedNote, "notes": NeedNote, "remark": NeedNote,
	"change": NeedChange, "action": NeedChange, "replaces": NeedReplaces, "insteadof": NeedReplaces,
	"asprinted": NeedPrinted, "ended": NeedEnded, "replacedby": NeedReplaced,
}

// NeedRow is a row of a list of requirements, as it stands there.
type NeedRow struct {
	Sheet string
	Row   int // as a spreadsheet counts it
	cells [needFields]string
	at    [needFields]int // 1-based columns; 0 for none
	file  string
}

// Text is what stands in a field of the row, empty for nothing.
func (r NeedRow) Text(f NeedField) string { return r.cells[f] }

// Set puts a text into a field, for what the list itself leaves out.
func (r *NeedRow) Set(f NeedField, text string) { r.cells[f] = text }

// Typed is a row of a table that was made of typed lines: its number is that of the line,
// and it has no columns.
func (r NeedRow) Typed() NeedRow {
	r.Row--
	r.file, r.at = "what is typed", [needFields]int{}
	return r
}

// Problem says what is wrong with a field of the row: one sentence without a full stop.
func (r NeedRow) Problem(f NeedField, format string, args ...any) *Problem {
	p := &Problem{File: r.file, Sheet: r.Sheet, Row: r.Row, Message: fmt.Sprintf(format, args...)}
	if r.at[f] > 0 {
		p.Column = ColumnName(r.at[f])
	}
	return p
}

// mostNeedRows bounds a list of requirements.
const mostNeedRows = 50_000

// Needs are the rows of a list of requirements. The columns are found by their headings,
// of which those of the part number and of the quantity have to be there; a sub-assembly
// that stands in one row holds for those below it that leave it out.
func (b *Book) Needs() ([]NeedRow, *Problem) {
	var all []NeedRow
	read := false
	for _, sheet := range b.Sheets {
		if sheet.Problem != nil {
			return nil, sheet.Problem
		}
		heading, at := needColumns(sheet.Table)
		if heading < 0 {
			continue
		}
		read = true
		last := NeedRow{}
		for _, r := range sheet.Table.Rows[heading+1:] {
			row := needRow(b.File, sheet.Name, r, at)
			if row.cells[NeedEnded]+row.cells[NeedReplaced] != "" {
				continue
			}
			for _, f := range []NeedField{NeedSubAssembly, NeedName, NeedPartOf} {
				if row.cells[f] == "" && row.cells[NeedSubAssembly] == last.cells[NeedSubAssembly] {
					row.cells[f] = last.cells[f]
				}
			}
			if row.cells[NeedSubAssembly] == "" {
				row.cells[NeedSubAssembly], row.cells[NeedName], row.cells[NeedPartOf] = last.cells[NeedSubAssembly], last.cells[NeedName], last.cells[NeedPartOf]
			}
			last = row
			if all = append(all, row); len(all) > mostNeedRows {
				return nil, &Problem{File: b.File, Sheet: sheet.Name, Row: r.Number, Message: fmt.Sprintf("the list has more than %d rows: bring a part of it in", mostNeedRows)}
			}
		}
	}
	switch {
	case !read:
		return nil, &Problem{File: b.File, Message: "no row has the headings number and quantity: name the columns in the first row, such as sub-assembly, number, quantity, unit, figure"}
	case len(all) == 0:
		return nil, &Problem{File: b.File, Message: "nothing stands under the headings: type what is needed, one row a part number"}
	}
	return all, nil
}

// mostHeadingRows is how far down the headings are looked for.
const mostHeadingRows = 30

// needColumns finds the row of the headings, -1 for none, and the columns of the fields.
func needColumns(t *Table) (heading int, at [needFields]int) {
	for i, r := range t.Rows {
		if i == mostHeadingRows {
			break
		}
		at = [needFields]int{}
		for column, cell := range r.Cells {
			if f, ok := needHeadings[foldedHeading(cell)]; ok && at[f] == 0 {
				at[f] = column + 1
			}
		}
		if at[NeedNumber] > 0 && at[NeedQuantity] > 0 {
			return i, at
		}
	}
	return -1, at
}

// foldedHeading is a heading without what differs from list to list.
func foldedHeading(cell string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		if strings.ContainsRune(" -_/.#:", r) {
			return -1
		}
		return r
	}, cell))
}

func needRow(file, sheet string, r Row, at [needFields]int) NeedRow {
	row := NeedRow{Sheet: sheet, Row: r.Number, at: at, file: file}
	for f, column := range at {
		if column > 0 {
			row.cells[f] = r.Cell(column)
		}
	}
	if row.cells[NeedPrinted] != "" {
		row.cells[NeedQuantity], row.at[NeedQuantity] = row.cells[NeedPrinted], at[NeedPrinted]
	}
	return row
}

// SameNeed reports whether two rows ask for the same thing at the same place, so that one
// of them was listed twice.
func SameNeed(a, b NeedRow) bool {
	return slices.Equal(a.cells[NeedSubAssembly:NeedName], b.cells[NeedSubAssembly:NeedName]) &&
		strings.EqualFold(a.cells[NeedNumber], b.cells[NeedNumber]) && slices.Equal(a.cells[NeedDrawing:NeedNote], b.cells[NeedDrawing:NeedNote])
}
