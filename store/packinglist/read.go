package packinglist

import (
	"fmt"
	"slices"
	"strings"
)

// Read makes of the file what can be made of it with these choices. It guesses
// nothing: where two readings are possible the result has a question.
func (b *Book) Read(c Choices) *Reading {
	r := &bookReader{book: b, choices: c, asked: asked{answers: c.Answers}}
	r.reading = &Reading{File: b.File, Format: b.Format}
	for _, s := range b.Sheets {
		r.survey(s)
	}
	r.choose()
	for i := range r.reading.Sheets {
		if s := &r.reading.Sheets[i]; s.Taken {
			r.readSheet(s, b.Sheets[i].Problem)
		}
	}
	r.repeatedSheets()
	r.numberThrough()
	for _, q := range r.asked.list {
		r.reading.Questions = append(r.reading.Questions, *q)
	}
	return r.reading
}

// bookReader holds what the sheets of one reading share.
type bookReader struct {
	book    *Book
	choices Choices
	asked   asked
	reading *Reading
}

// survey recognises the columns of a sheet, and says whether it is a list.
func (r *bookReader) survey(s Sheet) {
	table := mended(s.Table, r.choices.Cells)
	columns, chosen := r.choices.Columns[s.Name]
	if !chosen {
		columns = Guess(table)
	}
	sheet := SheetReading{Name: s.Name, Hidden: s.Hidden, Columns: columns, Table: table}
	isList := chosen || len(columns.Missing()) == 0
	wanted, said := r.choices.Sheets[s.Name]
	switch {
	case said && !wanted:
		sheet.Why = ByChoice
	case said:
		sheet.Taken = true
	case len(table.Rows) == 0 && s.Problem == nil:
		sheet.Why = "nothing is on it"
	case s.Hidden && isList:
		sheet.Why = "it is hidden; choose it to read it"
	case s.Hidden:
		sheet.Why = "it is hidden, and has no headings of a packing list"
	case !isList && s.Problem != nil:
		sheet.Why = s.Problem.Message
	case !isList:
		sheet.Why = "it has no headings of a packing list"
	default:
		sheet.Taken = true
	}
	r.reading.Sheets = append(r.reading.Sheets, sheet)
}

// choose takes the first sheet with anything on it where none is a list, so that
// a person can say which column holds what.
func (r *bookReader) choose() {
	for name := range r.choices.Sheets {
		if !slices.ContainsFunc(r.reading.Sheets, func(s SheetReading) bool { return s.Name == name }) {
			r.bad(Place{}, "", r.problem(Place{}, "has no sheet %q; its sheets are %s", clip(name), r.sheetNames()))
		}
	}
	hidden := -1
	for i, s := range r.reading.Sheets {
		if s.Taken || r.choices.Sheets[s.Name] {
			return
		}
		if s.Hidden && len(s.Columns.Missing()) == 0 {
			hidden = i
		}
	}
	if hidden >= 0 {
		name := r.reading.Sheets[hidden].Name
		r.bad(Place{Sheet: name}, "", r.problem(Place{Sheet: name}, "the only list is on a hidden sheet; show the sheet in the workbook, or choose it to be read"))
		return
	}
	for i := range r.reading.Sheets {
		s := &r.reading.Sheets[i]
		_, said := r.choices.Sheets[s.Name]
		if !said && !s.Hidden && (len(s.Table.Rows) > 0 || r.book.Sheets[i].Problem != nil) {
			s.Taken, s.Why = true, ""
			return
		}
	}
}

func (r *bookReader) sheetNames() string {
	var names []string
	for _, s := range r.reading.Sheets {
		names = append(names, s.Name)
	}
	return clip(strings.Join(names, ", "))
}

func (r *bookReader) problem(at Place, format string, args ...any) Problem {
	return Problem{File: r.book.File, Sheet: at.Sheet, Row: at.Row, Column: ColumnName(at.Column), Message: fmt.Sprintf(format, args...)}
}

func (r *bookReader) bad(at Place, text string, problems ...Problem) {
	r.reading.Bad = append(r.reading.Bad, BadRow{Place: at, Text: text, Problems: problems})
}

// mended is the table with cells as a person mended them; without any for this
// sheet it is the table itself.
func mended(t *Table, cells map[Place]string) *Table {
	out := t
	for at, text := range cells {
		if at.Sheet != t.Sheet || at.Column < 1 || at.Column > MaxColumns {
			continue
		}
		i, found := slices.BinarySearchFunc(t.Rows, at.Row, func(r Row, n int) int { return r.Number - n })
		if !found {
			continue
		}
		if out == t {
			table := *t
			table.Rows = slices.Clone(t.Rows)
			out = &table
		}
		out.Rows[i] = out.Rows[i].with(at.Column, fold(text))
	}
	return out
}

// with is the row with another text in a column.
func (r Row) with(column int, text string) Row {
	r.Cells = slices.Clone(r.Cells)
	for len(r.Cells) < column {
		r.Cells = append(r.Cells, "")
	}
	r.Cells[column-1] = text
	for len(r.Cells) > 0 && r.Cells[len(r.Cells)-1] == "" {
		r.Cells = r.Cells[:len(r.Cells)-1]
	}
	values := make(map[int]value, len(r.values))
	for c, v := range r.values {
		if c != column {
			values[c] = v
		}
	}
	r.values = values
	return r
}

// numberThrough numbers all lines anew where two sheets use the same number, or
// where none has numbers, and gives numbers to the lines that stand for what is
// owed of others.
func (r *bookReader) numberThrough() {
	taken := make(map[int]string)
	clash := false
	for _, l := range r.reading.Lines {
		if sheet, known := taken[l.Number]; known && sheet != l.Sheet && l.Number > 0 {
			clash = true
		}
		taken[l.Number] = l.Sheet
	}
	if !clash {
		numberOwed(r.reading.Lines)
		return
	}
	for i := range r.reading.Lines {
		r.reading.Lines[i].Number = i + 1
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

// repeatedSheets asks where a sheet says again what another says, as a summary
// beside one sheet per crate does.
func (r *bookReader) repeatedSheets() {
	type said struct{ designation, quantity string }
	lines := make(map[string]map[said]bool)
	var names []string
	for _, l := range r.reading.Lines {
		if lines[l.Sheet] == nil {
			lines[l.Sheet] = make(map[said]bool)
			names = append(names, l.Sheet)
		}
		lines[l.Sheet][said{l.Designation, l.Listed.String()}] = true
	}
	for i, a := range names {
		for _, b := range names[i+1:] {
			same := 0
			for s := range lines[a] {
				if lines[b][s] {
					same++
				}
			}
			if least := min(len(lines[a]), len(lines[b])); same > least/2 {
				r.askSheets(a, b, same)
			}
		}
	}
}

func (r *bookReader) askSheets(a, b string, same int) {
	answer := r.asked.ask(Question{
		ID:       "sheets",
		Text:     fmt.Sprintf("do sheets %q and %q say the same things twice, %d times a part with its quantity?", clip(a), clip(b), same),
		Readings: []Answer{{"all", "no, every sheet counts"}, {"first", "yes, only the first of them counts"}, {"last", "yes, only the last of them counts"}},
	}, Place{Sheet: b})
	drop := map[string]string{"first": b, "last": a}[answer]
	if drop == "" {
		return
	}
	r.reading.Lines = slices.DeleteFunc(r.reading.Lines, func(l Line) bool { return l.Sheet == drop })
	for i := range r.reading.Sheets {
		if s := &r.reading.Sheets[i]; s.Name == drop && s.Taken {
			s.Taken, s.Why, s.Lines = false, "it says the same as another sheet", 0
		}
	}
}
