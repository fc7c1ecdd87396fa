package packinglist

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Bounds of the texts of a line, in bytes: longer ones are no such thing.
const (
	maxDesignation = 64
	maxDescription = 500
	maxShort       = 64 // crate, group, lot
)

// sheetReader reads the rows of one sheet.
type sheetReader struct {
	*bookReader
	table    *Table
	cols     Columns
	problems []Problem
	doubt    string // id of an open question about the row in hand
	next     int    // rows with a line so far
	heads    []Row  // of headings
	nest     nest
	marks    marks
	slashes  slashes
	sums     sums
	lines    []Line
}

// readSheet reads a sheet that was taken.
func (r *bookReader) readSheet(s *SheetReading, broken *Problem) {
	rd := &sheetReader{bookReader: r, table: s.Table, cols: s.Columns}
	if broken != nil {
		r.bad(Place{Sheet: s.Name, Row: broken.Row}, "", *broken)
	}
	rd.columns()
	s.Columns = rd.cols
	if p := rd.missing(); len(p) > 0 {
		r.bad(Place{Sheet: s.Name}, "", p...)
		return
	}
	rd.look()
	for i := range rd.table.Rows {
		rd.row(i)
	}
	rd.checkNumbers()
	rd.checkTotals()
	s.Lines = len(rd.lines)
	r.nameCrates(s, rd)
	r.reading.Lines = append(r.reading.Lines, rd.lines...)
}

// nameCrates gives the lines of a sheet that names no crate the name of the
// sheet, where a workbook has one sheet per crate.
func (r *bookReader) nameCrates(s *SheetReading, rd *sheetReader) {
	taken := 0
	for _, other := range r.reading.Sheets {
		if other.Taken {
			taken++
		}
	}
	level, name, ok := named(s.Name)
	if ok = ok && level == 0; !ok {
		name = fold(s.Name)
	}
	if taken < 2 && !ok || len(name) > maxShort {
		return
	}
	for _, l := range rd.lines {
		if l.Crate != "" {
			return
		}
	}
	for i := range rd.lines {
		rd.lines[i].Crate = name
	}
}

// missing says which columns there must be and are not.
func (rd *sheetReader) missing() []Problem {
	if rd.cols == (Columns{}) {
		return []Problem{*rd.table.problem(0, 0, `no headings are recognised; say which columns hold the part number and the quantity, or write "Part number" and "Qty" above them`)}
	}
	var found []Problem
	for _, f := range rd.cols.Missing() {
		found = append(found, *rd.table.problem(rd.cols.Heading, 0, "no column is known to hold the %s; say which one it is, or give it a heading such as %s", f, exampleHeading(f)))
	}
	return found
}

func exampleHeading(f Field) string {
	if f == Designation {
		return `"Part number"`
	}
	return `"Qty"`
}

// look goes over the whole sheet once for what one row alone does not tell.
func (rd *sheetReader) look() {
	for _, row := range rd.table.Rows {
		if row.Number <= rd.cols.Heading && row.Number > rd.cols.Heading-rd.cols.headingRows() {
			rd.heads = append(rd.heads, row)
		}
	}
	if len(rd.heads) > 1 {
		rd.heads = append(rd.heads, rd.table.joined(rd.heads[0], rd.heads[1])) // as a page may have them in one row
	}
	rd.nest.look(rd)
	for _, row := range rd.table.Rows {
		if !rd.isBelow(row) {
			continue
		}
		for _, f := range []Field{Quantity, Owed} {
			if rd.cols.at[f] == 0 {
				continue
			}
			if _, held := row.values[rd.cols.at[f]]; !held {
				rd.marks.see(rd.text(row, f))
				rd.slashes.see(rd.text(row, f), rd.unitText(row))
			}
		}
	}
}

// isBelow reports whether a row may be a line: it stands below the headings and
// is not left out by choice.
func (rd *sheetReader) isBelow(row Row) bool {
	return row.Number > rd.cols.Heading && !rd.choices.LeftOut[rd.at(row, 0)]
}

func (rd *sheetReader) at(row Row, column int) Place {
	return Place{Sheet: rd.table.Sheet, Row: row.Number, Column: column}
}

func (rd *sheetReader) text(r Row, f Field) string { return r.Cell(rd.cols.at[f]) }

func (rd *sheetReader) add(r Row, f Field, format string, args ...any) {
	rd.problems = append(rd.problems, *rd.table.problem(r.Number, rd.cols.at[f], format, args...))
}

// ask asks about a cell of the row in hand; while the question is open the line
// hangs on it.
func (rd *sheetReader) ask(q Question, r Row, column int) string {
	answer := rd.asked.ask(q, rd.at(r, column))
	if answer == "" {
		rd.doubt = q.ID
	}
	return answer
}

func (rd *sheetReader) leaveOut(r Row, why string, args ...any) {
	rd.reading.LeftOut = append(rd.reading.LeftOut, LeftOut{Place: rd.at(r, 0), Text: rowText(r), Why: fmt.Sprintf(why, args...)})
}

func rowText(r Row) string { return fold(strings.Join(r.Cells, " ")) }

// row reads one row into a line, or leaves it out with a reason, or keeps its problems.
func (rd *sheetReader) row(i int) {
	r := rd.table.Rows[i]
	rd.problems, rd.doubt = nil, ""
	switch {
	case rd.isHeading(r):
		return
	case r.Number < rd.cols.Heading:
		if rd.reading.Order == "" {
			rd.reading.Order = orderNumber(r)
		}
		if level, name, ok := named(soleText(r)); ok && level == 0 {
			rd.nest.crate = name
		}
		rd.leaveOut(r, "above the headings")
		rd.likeALine(r)
		return
	case rd.choices.LeftOut[rd.at(r, 0)]:
		rd.leaveOut(r, ByChoice)
		return
	case rd.ofThePage(r):
		return
	case rd.otherHeadings(i):
		rd.leaveOut(r, "other headings, which hold from here on")
		return
	case rd.cutShort(i):
		rd.problems = append(rd.problems, *rd.table.problem(r.Number, 0, "the file ends in the middle of this row, so it was cut short; copy or download it again"))
	case r.Hidden && rd.hiddenRow(r):
		return
	case rd.total(r):
		return
	case rd.blank(r, Designation, Quantity, LineNumber, Owed) || rd.wordsAlone(r):
		rd.words(i)
		return
	default:
		rd.line(r)
	}
	if len(rd.problems) > 0 {
		rd.bad(rd.at(r, 0), rowText(r), rd.problems...)
	}
}

// pageFoot is how printed pages are numbered: "Page 2 of 3", "- 2 -", "page 2/3".
var pageFoot = regexp.MustCompile(`^(?i:page:? ?\d+(?: ?(?:of|/) ?\d+)?|- ?\d+ ?-)$`)

// likeALine asks about a row above the headings that has what makes a line.
func (rd *sheetReader) likeALine(r Row) {
	figure := func(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }
	part := rd.text(r, Designation)
	if !figure(rd.text(r, Quantity)) || part == "" || strings.IndexFunc(part, unicode.IsDigit) < 0 || r.filled() < 3 {
		return
	}
	rd.asked.ask(Question{
		ID:       "above-headings",
		Text:     fmt.Sprintf("is %q, above the headings, no part of the list?", clip(rowText(r))),
		Readings: []Answer{{"leave-out", "it is none: leave it out"}},
	}, rd.at(r, 0))
}

// hiddenRow reports whether a row that a spreadsheet does not show is left out.
func (rd *sheetReader) hiddenRow(r Row) bool {
	answer := rd.ask(Question{
		ID:       "hidden-rows",
		Text:     "are rows that the spreadsheet hides part of the list?",
		Readings: []Answer{{"leave-out", "no, leave them out"}, {"read", "yes, read them"}},
	}, r, 0)
	if answer == "read" {
		return false
	}
	rd.leaveOut(r, "the spreadsheet hides this row")
	return true
}

// line reads a row into a line, and into a second one for what is owed of it.
func (rd *sheetReader) line(r Row) {
	listed, owed := rd.amounts(r)
	crate, group := rd.nest.place(rd, r)
	rd.next++
	line := Line{
		Number:      rd.next,
		Crate:       crate,
		Group:       group,
		Designation: rd.designation(r),
		Description: rd.description(r),
		Listed:      listed.Quantity,
		Lot:         rd.bounded(r, Lot, maxShort),
		Price:       rd.price(r),
		Sheet:       rd.table.Sheet,
		Row:         r.Number,
	}
	if listed.note != "" {
		line.Description = strings.TrimSpace(line.Description + " " + listed.note)
	}
	line.Number = rd.lineNumber(r, line.Number)
	var err error
	if line.Status, err = ParseStatus(rd.text(r, StatusField)); err != nil {
		rd.add(r, StatusField, "the %v; write one of these, or leave it empty for shipped", err)
	}
	line.Doubt = rd.doubt
	if len(rd.problems) > 0 {
		rd.sums.broken = true
		return
	}
	if listed.leftOut {
		rd.leaveOut(r, "as required: the list says no quantity")
		return
	}
	rd.sums.see(line)
	if !owed.IsZero() && listed.IsZero() {
		line.Listed, line.Status = owed.Quantity, BackOrdered
	}
	rd.lines = append(rd.lines, line)
	if !owed.IsZero() && !listed.IsZero() {
		line.Number, line.Listed, line.Status = 0, owed.Quantity, BackOrdered
		rd.lines = append(rd.lines, line)
	}
}

func (rd *sheetReader) lineNumber(r Row, counted int) int {
	text := rd.text(r, LineNumber)
	switch {
	case text != "":
		n, err := strconv.Atoi(strings.TrimSuffix(text, "."))
		if err != nil || n < 1 || n > 1_000_000 {
			rd.add(r, LineNumber, "the line number %q is not a whole number from 1 up; write it as digits alone", clip(text))
		}
		return n
	case rd.cols.at[LineNumber] > 0:
		rd.add(r, LineNumber, "the line has no number; number it, or say that no column holds line numbers")
	}
	return counted
}

// blank reports whether the row has nothing in the columns of these fields.
func (rd *sheetReader) blank(r Row, fields ...Field) bool {
	for _, f := range fields {
		if rd.text(r, f) != "" {
			return false
		}
	}
	return true
}

func (rd *sheetReader) bounded(r Row, f Field, limit int) string {
	s := rd.text(r, f)
	if len(s) > limit {
		rd.add(r, f, "the %s is longer than %d characters; shorten it", f, limit)
	}
	return s
}

func (rd *sheetReader) description(r Row) string { return rd.bounded(r, Description, maxDescription) }

// hyphens replaces the dashes that look like a hyphen in print.
var hyphens = strings.NewReplacer("\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2212", "-")

func (rd *sheetReader) designation(r Row) string {
	s := hyphens.Replace(rd.bounded(r, Designation, maxDesignation))
	switch v := r.values[rd.cols.at[Designation]]; {
	case s == "":
		rd.add(r, Designation, "the line has no part number; write it in, or delete the row")
	case v.kind == holdsDate || isDate(s):
		rd.add(r, Designation, "%q is a date: a spreadsheet turns part numbers such as 3-4 into dates; format the column as text and type the part number again", clip(s))
	case scientific.MatchString(s):
		rd.add(r, Designation, "%q is a rounded number: a spreadsheet does this to long part numbers; format the column as text and type the part number again", clip(s))
	case spreadsheetError.MatchString(s):
		rd.add(r, Designation, "%q is an error of the spreadsheet; write the part number in its place", clip(s))
	case v.kind != holdsText && v.kind != holdsNumber && rd.table.Format == "XLSX":
		rd.add(r, Designation, "the cell holds the number %s, and its format may show something else; format the column as text and type the part number again", clip(v.number))
	case rd.covered(r, Designation):
		rd.add(r, Designation, "the cell is one with that of another row; unmerge it and write the part number into each row")
	}
	return s
}

// covered reports whether the cell of a field is part of a merged area over several rows.
func (rd *sheetReader) covered(r Row, f Field) bool {
	return marked(rd.table.tall, r.Number, rd.cols.at[f])
}

var (
	// scientific is how spreadsheets show numbers too long for their cell.
	scientific = regexp.MustCompile(`^-?\d(\.\d+)?[eE]\+\d+$`)
	// spreadsheetError is one of the error values of ISO/IEC 29500-1, 18.18.11.
	spreadsheetError = regexp.MustCompile(`^#(REF!|N/A|VALUE!|NAME\?|DIV/0!|NULL!|NUM!|GETTING_DATA)$`)
	// textDate is how spreadsheets write a date into a text: 4-Mar, Mar-04, 4-Mar-26, 3/4/2026, 2026-03-04.
	textDate = regexp.MustCompile(`^(?i:\d{1,2}[-. ](jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}([-. ]\d{2,4})?|(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}[-. ]\d{1,4}|\d{1,2}/\d{1,2}/\d{2,4}|(19|20)\d\d-\d\d-\d\d([T ].*)?)$`)
)

// isDate reports whether a text reads as a date.
func isDate(text string) bool { return textDate.MatchString(text) }

// checkNumbers finds lines that bear the same number: the later one is bad.
func (rd *sheetReader) checkNumbers() {
	if rd.cols.at[LineNumber] == 0 {
		return
	}
	first := make(map[int]int, len(rd.lines))
	kept := rd.lines[:0]
	for _, line := range rd.lines {
		row, again := first[line.Number]
		if again && line.Number != 0 && row != line.Row {
			rd.sums.broken = true
			rd.bad(Place{Sheet: line.Sheet, Row: line.Row}, line.Designation+" "+line.Listed.String(), *rd.table.problem(line.Row, rd.cols.at[LineNumber],
				"line %d is already in row %d; delete one of them, or give it a number of its own", line.Number, row))
			continue
		}
		if line.Number != 0 {
			first[line.Number] = line.Row
		}
		kept = append(kept, line)
	}
	rd.lines = kept
}

// cutShort reports whether a text was cut off in this row, its last: it has fewer
// cells than there are headings, and no line end.
func (rd *sheetReader) cutShort(i int) bool {
	return i == len(rd.table.Rows)-1 && rd.table.openCells > 0 && len(rd.heads) > 0 && rd.table.openCells < len(rd.heads[len(rd.heads)-1].Cells)
}

func (rd *sheetReader) isHeading(r Row) bool {
	for _, h := range rd.heads {
		if h.Number == r.Number {
			return true
		}
	}
	return false
}

// ofThePage leaves out what a printed page has for itself: the headings again, and its number.
func (rd *sheetReader) ofThePage(r Row) bool {
	switch {
	case rd.repeatsHeadings(r):
		rd.leaveOut(r, "the headings again")
	case pageFoot.MatchString(soleText(r)):
		rd.leaveOut(r, "the number of a page")
	default:
		return false
	}
	return true
}

// repeatsHeadings reports whether a row is one of the headings, as on each printed page.
func (rd *sheetReader) repeatsHeadings(r Row) bool {
	for _, h := range rd.heads {
		if sameCells(r, h) {
			return true
		}
	}
	return false
}

// otherHeadings reports whether a row has headings of its own, as a second table
// on the same sheet has; its columns hold from there on.
func (rd *sheetReader) otherHeadings(i int) bool {
	if rd.cols.byHand() || rd.cols.Heading == 0 {
		return false
	}
	cols, found := guessRow(rd.table.Rows[i], rd.table.Rows[i+1:])
	if found < minHeadings || !cols.complete() {
		return false
	}
	rd.cols = cols
	rd.heads = []Row{rd.table.Rows[i]}
	rd.nest.look(rd)
	return true
}

func sameCells(r, heading Row) bool {
	if len(r.Cells) != len(heading.Cells) {
		return false
	}
	for i := range r.Cells {
		if !strings.EqualFold(r.Cells[i], heading.Cells[i]) {
			return false
		}
	}
	return true
}

var (
	orderLabel = regexp.MustCompile(`^(?i:(sales |your |our )?order( no\.?| number| #)?|s\.?o\.?( no\.?| #)?)\s*:?$`)
	orderCell  = regexp.MustCompile(`^(?i:(sales |your |our )?order( no\.?| number)?)\s*[:#]?\s*#?([A-Za-z0-9][A-Za-z0-9./-]{0,40}\d)(?:[ ,;].*)?$`)
)

// orderNumber finds "Order: OK-1" in one cell or in two side by side.
func orderNumber(r Row) string {
	for i, cell := range r.Cells {
		if m := orderCell.FindStringSubmatch(cell); m != nil {
			return m[3]
		}
		if orderLabel.MatchString(cell) && i+1 < len(r.Cells) && len(r.Cells[i+1]) <= maxShort {
			return r.Cells[i+1]
		}
	}
	return ""
}
