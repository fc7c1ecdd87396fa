package packinglist

import (
	"regexp"
	"strconv"
	"strings"
)

// Bounds of the texts of a line, in bytes: longer ones are no such thing.
const (
	maxDesignation = 64
	maxDescription = 500
	maxShort       = 64 // crate, group, lot
)

// Read turns the rows below the headings into lines. With any problem the List
// is empty, and all problems are returned, up to MaxProblems and one that counts
// the rest.
func Read(t *Table, cols Columns) (List, []Problem) {
	rd := &reader{table: t, cols: cols, problems: problems{file: t.File, sheet: t.Sheet}}
	if cols == (Columns{}) {
		rd.problems.add(0, 0, `no headings are recognised; say which columns hold the part number and the quantity, or write "Part number" and "Qty" above them`)
		return List{}, rd.problems.done()
	}
	for _, f := range cols.Missing() {
		rd.problems.add(cols.Heading, 0, "no column is known to hold the %s; say which one it is, or give it a heading such as %s", f, exampleHeading(f))
	}
	if len(rd.problems.list) > 0 {
		return List{}, rd.problems.done()
	}
	list := List{File: t.File, Sheet: t.Sheet}
	var heading Row
	for _, r := range t.Rows {
		switch {
		case r.Number < cols.Heading:
			if list.Order == "" {
				list.Order = orderNumber(r)
			}
		case r.Number == cols.Heading:
			heading = r
		case sameCells(r, heading): // headings repeated on each printed page
		case rd.cutShort(r, heading):
			rd.problems.add(r.Number, 0, "the file ends in the middle of this row, so it was cut short; copy or download it again")
		default:
			rd.row(r, &list)
		}
	}
	rd.checkNumbers(list.Lines)
	numberOwed(list.Lines)
	if len(list.Lines) == 0 && len(rd.problems.list) == 0 {
		rd.problems.add(0, 0, "there are no lines below the headings; check that this is the right file and sheet")
	}
	if found := rd.problems.done(); len(found) > 0 {
		return List{}, found
	}
	return list, nil
}

func exampleHeading(f Field) string {
	if f == Designation {
		return `"Part number"`
	}
	return `"Qty"`
}

// reader holds what the rows of one list share.
type reader struct {
	table    *Table
	cols     Columns
	problems problems
	rows     int // rows with a line so far
}

// next counts a line of the list, for one that bears no number.
func (rd *reader) next() int {
	rd.rows++
	return rd.rows
}

func (rd *reader) text(r Row, f Field) string { return r.Cell(rd.cols.at[f]) }

func (rd *reader) add(r Row, f Field, format string, args ...any) {
	rd.problems.add(r.Number, rd.cols.at[f], format, args...)
}

// row reads one row into a line or a note, or adds its problems.
func (rd *reader) row(r Row, list *List) {
	if rd.blank(r, Designation, Quantity, LineNumber, Owed) {
		list.Notes = append(list.Notes, Note{Row: r.Number, Text: strings.TrimSpace(fold(strings.Join(r.Cells, " ")))})
		return
	}
	listed, owed := rd.amounts(r)
	line := Line{
		Number:      rd.next(),
		Crate:       rd.bounded(r, Crate, maxShort),
		Group:       rd.bounded(r, Group, maxShort),
		Designation: rd.designation(r),
		Description: rd.bounded(r, Description, maxDescription),
		Listed:      listed,
		Lot:         rd.bounded(r, Lot, maxShort),
		Row:         r.Number,
	}
	if text := rd.text(r, LineNumber); text != "" {
		n, err := strconv.Atoi(strings.TrimSuffix(text, "."))
		if err != nil || n < 1 || n > 1_000_000 {
			rd.add(r, LineNumber, "the line number %q is not a whole number from 1 up; write it as digits alone", clip(text))
		}
		line.Number = n
	} else if rd.cols.at[LineNumber] > 0 {
		rd.add(r, LineNumber, "the line has no number; number it, or say that no column holds line numbers")
	}
	var err error
	if line.Status, err = ParseStatus(rd.text(r, StatusField)); err != nil {
		rd.add(r, StatusField, "the %v; write one of these, or leave it empty for shipped", err)
	}
	if !owed.IsZero() && listed.IsZero() {
		line.Listed, line.Status = owed, BackOrdered
	}
	list.Lines = append(list.Lines, line)
	if !owed.IsZero() && !listed.IsZero() {
		line.Number, line.Listed, line.Status = 0, owed, BackOrdered
		list.Lines = append(list.Lines, line)
	}
}

// numberOwed numbers the lines that stand for what is owed of others.
func numberOwed(lines []Line) {
	last := 0
	for _, line := range lines {
		last = max(last, line.Number)
	}
	for i := range lines {
		if lines[i].Number == 0 {
			last++
			lines[i].Number = last
		}
	}
}

// blank says that the row has nothing in the columns of these fields.
func (rd *reader) blank(r Row, fields ...Field) bool {
	for _, f := range fields {
		if rd.text(r, f) != "" {
			return false
		}
	}
	return true
}

func (rd *reader) bounded(r Row, f Field, limit int) string {
	s := rd.text(r, f)
	if len(s) > limit {
		rd.add(r, f, "the %s is longer than %d characters; shorten it", f, limit)
	}
	return s
}

// hyphens replaces the dashes that look like a hyphen in print.
var hyphens = strings.NewReplacer("\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\u2212", "-")

func (rd *reader) designation(r Row) string {
	s := hyphens.Replace(rd.bounded(r, Designation, maxDesignation))
	stored, _ := r.number(rd.cols.at[Designation])
	switch {
	case s == "":
		rd.add(r, Designation, "the line has no part number; write it in, or delete the row")
	case isDate(s, stored):
		rd.add(r, Designation, "%q is a date: a spreadsheet turns part numbers such as 3-4 into dates; format the column as text and type the part number again", clip(s))
	case scientific.MatchString(s):
		rd.add(r, Designation, "%q is a rounded number: a spreadsheet does this to long part numbers; format the column as text and type the part number again", clip(s))
	case spreadsheetError.MatchString(s):
		rd.add(r, Designation, "%q is an error of the spreadsheet; write the part number in its place", clip(s))
	}
	return s
}

var (
	// scientific is how spreadsheets show numbers too long for their cell.
	scientific = regexp.MustCompile(`^-?\d(\.\d+)?[eE]\+\d+$`)
	// spreadsheetError is one of the error values of ISO/IEC 29500-1, 18.18.11.
	spreadsheetError = regexp.MustCompile(`^#(REF!|N/A|VALUE!|NAME\?|DIV/0!|NULL!|NUM!|GETTING_DATA)$`)
	// textDate is how spreadsheets write a date into a text: 4-Mar, Mar-04, 4-Mar-26, 3/4/2026, 2026-03-04.
	textDate = regexp.MustCompile(`^(?i:\d{1,2}[-. ](jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}([-. ]\d{2,4})?|(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}[-. ]\d{1,4}|\d{1,2}/\d{1,2}/\d{2,4}|(19|20)\d\d-\d\d-\d\d([T ].*)?)$`)
	// cellDate is, beyond that, how a number formatted as a date may show.
	cellDate = regexp.MustCompile(`\d{1,4}[-./]\d{1,2}([-./]\d{2,4})?|[A-Za-z]{3}`)
)

// isDate says that a cell shows a date. Where it holds a number, stored, nearly
// anything with two figures and a mark between them is one, unless the figures
// are those of the number: a format such as 00-000 shows 12345 as 12-345.
func isDate(shown, stored string) bool {
	if textDate.MatchString(shown) {
		return true
	}
	if stored == "" || !cellDate.MatchString(shown) {
		return false
	}
	_, notNumber := strconv.ParseFloat(shown, 64)
	return notNumber != nil && figures(shown) != figures(stored)
}

// figures are the digits of a text without zeros in front.
func figures(s string) string {
	digits := strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, s)
	return strings.TrimLeft(digits, "0")
}

// checkNumbers finds lines that bear the same number.
func (rd *reader) checkNumbers(lines []Line) {
	if rd.cols.at[LineNumber] == 0 {
		return
	}
	first := make(map[int]int, len(lines))
	for _, line := range lines {
		if line.Number == 0 {
			continue
		}
		if row, again := first[line.Number]; again {
			rd.problems.add(line.Row, rd.cols.at[LineNumber], "line %d is already in row %d; delete one of them, or give it a number of its own", line.Number, row)
			continue
		}
		first[line.Number] = line.Row
	}
}

// cutShort says that a text was cut off in this row, its last: it has fewer cells
// than there are headings, and no line end.
func (rd *reader) cutShort(r, heading Row) bool {
	last := rd.table.Rows[len(rd.table.Rows)-1]
	return r.Number == last.Number && rd.table.openCells > 0 && rd.table.openCells < len(heading.Cells)
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
