package packinglist

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Field is what a column of a packing list holds.
type Field int

// The fields, in the order in which a screen shows them.
const (
	LineNumber  Field = iota // number of the line on the list
	Crate                    // crate, box or carton that the line came in
	Group                    // bag, sub-kit or bundle
	Designation              // part number
	Description              // words
	Quantity                 // how many or how much
	Unit                     // what the quantity counts
	StatusField              // shipped, back-ordered, not arrived
	Lot                      // lot or batch
	Owed                     // how much is on back order, beside the quantity that was sent
	fieldCount
)

// fieldNames are the names of the fields as a screen shows them.
var fieldNames = [fieldCount]string{"line", "crate", "group", "part number", "description", "quantity", "unit", "status", "lot", "back-ordered"}

// Fields returns every field in the order in which a screen shows them.
func Fields() []Field {
	fields := make([]Field, fieldCount)
	for i := range fields {
		fields[i] = Field(i)
	}
	return fields
}

// String is the name of the field as a screen shows it: "part number".
func (f Field) String() string {
	if f < 0 || f >= fieldCount {
		return "unknown"
	}
	return fieldNames[f]
}

// Required says that a list cannot be read without this column.
func (f Field) Required() bool { return f == Designation || f == Quantity }

// Confidence is how sure Guess is of a column.
type Confidence int

// How sure Guess is of a column.
const (
	Unknown Confidence = iota // no column found
	Likely                    // a word of the heading fits; a person should look
	Certain                   // the whole heading is a known one, or a person chose it
)

// String is "", "likely" or "certain".
func (c Confidence) String() string { return [...]string{"", "likely", "certain"}[c] }

// Columns says which column holds which field. It is a plain value: copy it to
// keep it, compare it with ==. The zero value knows no column and no headings.
type Columns struct {
	Heading int // 1-based number of the row of headings; 0 when the lines start at once

	at   [fieldCount]int // 1-based columns, 0 for none
	sure [fieldCount]Confidence
}

// Column is the 1-based column of a field, 0 for none.
func (c Columns) Column(f Field) int { return c.at[f] }

// Confidence is how sure the column of a field is.
func (c Columns) Confidence(f Field) Confidence { return c.sure[f] }

// Field is the field that the 1-based column holds, and whether it holds one.
func (c Columns) Field(column int) (Field, bool) {
	i := slices.Index(c.at[:], column)
	return Field(i), i >= 0 && column > 0
}

// With returns the columns with the field moved to the given 1-based column, or
// taken away with 0. Another field that had this column loses it.
func (c Columns) With(f Field, column int) Columns {
	column = max(column, 0)
	if other, ok := c.Field(column); ok {
		c.at[other], c.sure[other] = 0, Unknown
	}
	c.at[f], c.sure[f] = column, Certain
	if column == 0 {
		c.sure[f] = Unknown
	}
	return c
}

// Missing returns the required fields that have no column.
func (c Columns) Missing() []Field {
	var missing []Field
	for _, f := range Fields() {
		if f.Required() && c.at[f] == 0 {
			missing = append(missing, f)
		}
	}
	return missing
}

// score tells a list from other tables and one reading of a text from another:
// headings recognised, those a list cannot do without counting more.
func (c Columns) score() int {
	n := 0
	for f, sure := range c.sure {
		n += int(sure)
		if Field(f).Required() {
			n += 2 * int(sure)
		}
	}
	return n
}

// headingRows is how far down the row of headings is looked for: title blocks
// with addresses and notes above the list are shorter than this.
const headingRows = 60

// minHeadings is how many headings make a row the row of headings.
const minHeadings = 2

// Guess finds the row of headings, which titles may precede, and what each
// column holds. Where no row has two headings it returns the zero Columns.
func Guess(t *Table) Columns {
	var best Columns
	for i, r := range t.Rows {
		if r.Number > headingRows {
			break
		}
		c, found := guessRow(r, t.Rows[i+1:])
		if found >= minHeadings && c.score() > best.score() {
			best = c
		}
	}
	return best
}

// guessRow reads a row as headings and counts those that it recognised. The rows
// below help where a heading alone does not tell.
func guessRow(r Row, below []Row) (c Columns, found int) {
	c.Heading = r.Number
	for i, cell := range r.Cells {
		f, sure, ok := recognise(cell, func() bool { return numbersBelow(below, i+1) })
		if !ok || sure <= c.sure[f] {
			continue
		}
		if c.at[f] == 0 {
			found++
		}
		c.at[f], c.sure[f] = i+1, sure
	}
	if c.at[Owed] > 0 && strings.Contains(words(r.Cell(c.at[Quantity])), "ordered") {
		// Beside what is owed, what was ordered is not what was sent: a person must say.
		c.at[Quantity], c.sure[Quantity] = 0, Unknown
	}
	return c, found
}

// numbersBelow says whether a column holds whole numbers in the next few rows.
func numbersBelow(rows []Row, column int) bool {
	seen := 0
	for _, r := range rows[:min(len(rows), 8)] {
		cell := r.Cell(column)
		if cell == "" {
			continue
		}
		if _, err := strconv.Atoi(strings.TrimSuffix(cell, ".")); err != nil {
			return false
		}
		seen++
	}
	return seen > 0
}

// words makes a heading comparable: small letters and digits, with one space for
// anything else, and "#" as a word because it stands for number.
func words(heading string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(heading) {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r):
			b.WriteRune(r)
		case r == '#':
			b.WriteString(" # ")
		case r == '.', r == '/': // "u/m", "p.n." and "qty." are one word
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}
