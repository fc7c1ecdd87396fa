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
	Price                    // of one unit
	fieldCount
)

// fieldNames are the names of the fields as a screen shows them.
var fieldNames = [fieldCount]string{"line", "crate", "group", "part number", "description", "quantity", "unit", "status", "lot", "back-ordered", "unit price"}

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
	Heading int // 1-based number of the row of headings, the last where there are two; 0 when the lines start at once

	at    [fieldCount]int // 1-based columns, 0 for none
	sure  [fieldCount]Confidence
	inner [maxInner]int    // further columns of groups, each inside the one before; 0 for none
	above bool             // the row above is part of the headings
	hand  [fieldCount]bool // a person chose the column
}

// maxInner is how many columns of groups there may be beside the first.
const maxInner = 3

// groups are the columns that say in which sub-kit and bag a line is, the
// outermost first.
func (c Columns) groups() []int {
	var columns []int
	for _, n := range append([]int{c.at[Group]}, c.inner[:]...) {
		if n > 0 {
			columns = append(columns, n)
		}
	}
	return columns
}

// byHand reports whether a person chose any column.
func (c Columns) byHand() bool { return slices.Contains(c.hand[:], true) }

// headingRows is how many rows the headings take.
func (c Columns) headingRows() int {
	if c.above {
		return 2
	}
	return 1
}

// Column is the 1-based column of a field, 0 for none.
func (c Columns) Column(f Field) int { return c.at[f] }

// Confidence is how sure the column of a field is.
func (c Columns) Confidence(f Field) Confidence { return c.sure[f] }

// Field is the field that the 1-based column holds, and whether it holds one.
func (c Columns) Field(column int) (Field, bool) {
	if column > 0 && slices.Contains(c.inner[:], column) {
		return Group, true
	}
	i := slices.Index(c.at[:], column)
	return Field(i), i >= 0 && column > 0
}

// With returns the columns with the field moved to the given 1-based column, or
// taken away with 0. Another field that had this column loses it.
func (c Columns) With(f Field, column int) Columns {
	column = max(column, 0)
	if i := slices.Index(c.inner[:], column); i >= 0 && column > 0 {
		c.inner[i] = 0
	} else if other, ok := c.Field(column); ok {
		c.at[other], c.sure[other] = 0, Unknown
	}
	if f == Group {
		c.inner = [maxInner]int{}
	}
	c.at[f], c.sure[f], c.hand[f] = column, Certain, true
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

// complete reports whether the columns that a list cannot do without are certain.
func (c Columns) complete() bool {
	return c.sure[Designation] == Certain && c.sure[Quantity] == Certain
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

// headingDepth is how far down the row of headings is looked for: title blocks
// with addresses and notes above the list are shorter than this.
const headingDepth = 60

// minHeadings is how many headings make a row the row of headings.
const minHeadings = 2

// Guess finds the row of headings, which titles may precede and which may take two
// rows, and what each column holds. Where no row has two headings it returns the
// zero Columns.
func Guess(t *Table) Columns {
	var best Columns
	for i, r := range t.Rows {
		if r.Number > headingDepth || best.complete() && r.Number > best.Heading {
			break // further headings are those of the next page
		}
		c, found := guessRow(r, t.Rows[i+1:])
		if found >= minHeadings && (c.score() > best.score() || c.score() == best.score() && best.above && best.Heading == c.Heading) {
			best = c
		}
		if i+1 == len(t.Rows) || t.Rows[i+1].Number != r.Number+1 || !allHeadings(t.Rows[i+1]) {
			continue
		}
		c, found = guessRow(t.joined(r, t.Rows[i+1]), t.Rows[i+2:])
		c.above = true
		if better := c.score() - best.score(); found >= minHeadings && (better > 0 || better == 0 && best.Heading == r.Number) {
			best = c
		}
	}
	return best
}

// allHeadings reports whether a row has several cells and every word in them is one
// of headings.
func allHeadings(r Row) bool {
	if r.filled() < minHeadings {
		return false
	}
	for _, c := range r.Cells {
		for _, w := range strings.Fields(words(c)) {
			if !headingVocabulary[w] {
				return false
			}
		}
	}
	return true
}

// joined is two rows of headings as one: each cell behind the one above it, which
// may be one with its neighbours.
func (t *Table) joined(upper, lower Row) Row {
	out := Row{Number: lower.Number, Cells: make([]string, max(len(upper.Cells), len(lower.Cells)))}
	for i := range out.Cells {
		above := upper.Cell(i + 1)
		for _, a := range t.wide {
			if above == "" && a.top == upper.Number && a.left <= i+1 && i+1 <= a.right {
				above = upper.Cell(a.left)
			}
		}
		out.Cells[i] = strings.TrimSpace(above + " " + lower.Cell(i+1))
	}
	return out
}

// guessRow reads a row as headings and counts those that it recognised. The rows
// below help where a heading alone does not tell.
func guessRow(r Row, below []Row) (c Columns, found int) {
	c.Heading = r.Number
	var nested []nestedColumn
	for i, cell := range r.Cells {
		f, sure, ok := recognise(cell, contents{below, i + 1})
		if ok && sure == Certain && (f == Group || f == Crate && c.sure[Crate] == Certain) {
			nested = append(nested, nestedColumn{headingLevel(cell), i + 1})
			found++
			continue
		}
		if !ok || sure <= c.sure[f] {
			continue
		}
		if c.at[f] == 0 {
			found++
		}
		c.at[f], c.sure[f] = i+1, sure
	}
	c.nest(nested)
	if c.at[Owed] > 0 && strings.Contains(words(r.Cell(c.at[Quantity])), "ordered") {
		// Beside what is owed, what was ordered is not what was sent: a person must say.
		c.at[Quantity], c.sure[Quantity] = 0, Unknown
	}
	return c, found
}

// nestedColumn is a column that says in what a line is, and how deep inside.
type nestedColumn struct{ level, column int }

// nest puts the columns of groups in order.
func (c *Columns) nest(nested []nestedColumn) {
	slices.SortStableFunc(nested, func(a, b nestedColumn) int { return a.level - b.level })
	for i, n := range nested[:min(len(nested), 1+maxInner)] {
		if i == 0 {
			c.at[Group], c.sure[Group] = n.column, Certain
			continue
		}
		c.inner[i-1] = n.column
	}
}

// headingLevel is how deep the things of that heading lie inside others.
func headingLevel(heading string) int {
	for _, w := range strings.Fields(words(heading)) {
		if level, ok := nameLevels[w]; ok {
			return level
		}
	}
	return 1
}

// contents is what stands below a heading.
type contents struct {
	below  []Row
	column int
}

// peek is how many rows tell what a column holds.
const peek = 12

// cells are the filled cells of the next rows that have more than one.
func (c contents) cells() []string {
	var found []string
	for _, r := range c.below[:min(len(c.below), peek)] {
		if cell := r.Cell(c.column); cell != "" && r.filled() > 1 && !slices.ContainsFunc(r.Cells, totalWords.MatchString) {
			found = append(found, cell)
		}
	}
	return found
}

// figures reports whether every cell begins with a figure, as quantities do.
func (c contents) figures() bool {
	cells := c.cells()
	return len(cells) > 0 && !slices.ContainsFunc(cells, func(s string) bool { return s[0] < '0' || s[0] > '9' })
}

// counts reports whether the cells are whole numbers that go up, as line numbers
// do and part numbers hardly ever.
func (c contents) counts() bool {
	const largest = 100_000
	last := 0
	cells := c.cells()
	for _, cell := range cells {
		n, err := strconv.Atoi(strings.TrimSuffix(cell, "."))
		if err != nil || n <= last || n > largest {
			return false
		}
		last = n
	}
	return len(cells) > 0
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
