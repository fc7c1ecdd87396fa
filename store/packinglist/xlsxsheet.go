package packinglist

import (
	"strconv"
	"strings"
)

// readSheet reads one sheet and adds it to the book. An error is about the whole
// workbook; what stands against this sheet alone is kept with it.
func (x *xlsxBook) readSheet(b *Book, s xlsxSheet) error {
	part := x.part(x.targets[s.id])
	r := &xlsxReader{book: x, table: b.newTable("XLSX", s.name), text: &stringReader{}}
	if err := x.archive.walk(part, r.token); err != nil {
		return err
	}
	if r.outside {
		return damaged("sharedStrings.xml")
	}
	b.add(Sheet{Name: s.name, Hidden: s.hidden, Table: r.table, Problem: r.problem})
	return nil
}

// xlsxReader reads the rows of one worksheet.
type xlsxReader struct {
	book    *xlsxBook
	table   *Table
	problem *Problem
	isSheet bool // a chart sheet has no rows
	outside bool // a cell points outside the table of strings

	row, column int // of the last row and cell
	filled      int // cells with a value in the row
	hidden      bool
	cells       []string
	values      map[int]value

	kind   string // of the cell in hand
	format cellFormat
	inCell bool
	inV    bool
	hasV   bool
	v      []byte
	text   *stringReader
}

func (r *xlsxReader) token(m *markup) error {
	if m.kind == textToken {
		if r.inV && len(r.v) <= MaxCell {
			r.v = append(r.v, m.text...)
		}
		r.text.token(m)
		return nil
	}
	start := m.kind == startToken
	switch string(m.name) {
	case "worksheet":
		r.isSheet = true
	case "row":
		if start {
			return r.startRow(m)
		}
		r.endRow()
	case "c":
		if start {
			return r.startCell(m)
		}
		return r.endCell()
	case "v":
		r.inV = start && r.inCell
		if r.inV {
			return r.countValue()
		}
	case "is":
		if start && r.inCell {
			return r.countValue()
		}
	case "mergeCell":
		if start {
			return r.merge(m.attr("ref"))
		}
	case "col":
		if start && isTrue(m.attr("hidden")) {
			r.table.hideColumns(atoiOr(m.attr("min"), 0), atoiOr(m.attr("max"), 0))
		}
	}
	if r.inCell {
		r.text.token(m)
	}
	return nil
}

func (r *xlsxReader) countValue() error {
	r.hasV = true
	if r.filled++; r.filled > maxFilled {
		return errMarkup
	}
	return nil
}

// startRow goes to a row, which must be behind the last; one without a number is the next.
func (r *xlsxReader) startRow(m *markup) error {
	n := r.row + 1
	if s := m.attr("r"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil || n <= r.row {
			return errMarkup
		}
	}
	r.row, r.column, r.filled = n, 0, 0
	r.hidden = isTrue(m.attr("hidden"))
	r.cells, r.values = r.cells[:0], nil
	return nil
}

func (r *xlsxReader) endRow() {
	if r.problem == nil && len(r.cells) > 0 {
		r.problem = r.table.addRow(Row{Number: r.row, Cells: r.cells, Hidden: r.hidden, values: r.values})
	}
	r.cells = r.cells[:0]
}

// startCell goes to a cell, which must be right of the last.
func (r *xlsxReader) startCell(m *markup) error {
	n := r.column + 1
	if ref := m.attr("r"); ref != "" {
		column, row, ok := CellAt(ref)
		if !ok || row != r.row || column < n {
			return errMarkup
		}
		n = column
	}
	r.column, r.inCell, r.hasV = n, true, false
	r.kind = m.attr("t")
	r.format = cellFormat{kind: holdsNumber, general: true}
	if style := atoiOr(m.attr("s"), -1); style >= 0 && style < len(r.book.formats) {
		r.format = r.book.formats[style]
	}
	r.v, *r.text = r.v[:0], stringReader{}
	return nil
}

// endCell puts what the cell shows and holds into the row.
func (r *xlsxReader) endCell() error {
	r.inCell = false
	if !r.hasV {
		return nil
	}
	shown, v, err := r.understand(strings.TrimSpace(string(r.v)))
	if err != nil {
		return err
	}
	if shown == "" && v.kind == holdsText {
		return nil
	}
	if r.column > maxFilled {
		if r.problem == nil {
			r.problem = r.table.problem(r.row, r.column, "the row goes on too far to the right; delete what is not part of the list")
		}
		return nil
	}
	for len(r.cells) < r.column {
		r.cells = append(r.cells, "")
	}
	r.cells[r.column-1] = shown
	if v.kind != holdsText {
		if r.values == nil {
			r.values = make(map[int]value)
		}
		r.values[r.column] = v
	}
	return nil
}

// understand is what a cell with that value shows and holds (ISO/IEC 29500-1, 18.18.11).
func (r *xlsxReader) understand(raw string) (string, value, error) {
	switch r.kind {
	case "s":
		n, err := strconv.Atoi(raw)
		if err != nil || n < 0 {
			return "", value{}, errMarkup
		}
		if n >= len(r.book.strings) {
			r.outside = true
			return "", value{}, nil
		}
		return r.book.strings[n], value{}, nil
	case "inlineStr":
		return r.text.string(), value{}, nil
	case "b":
		return map[bool]string{true: "TRUE", false: "FALSE"}[isTrue(raw)], value{}, nil
	case "str", "e":
		return raw, value{}, nil
	case "d":
		return raw, value{kind: holdsDate, number: raw}, nil
	}
	shown, v := r.format.show(raw)
	if v.kind == holdsNumber && v.number == shown {
		v = value{}
	}
	return shown, v, nil
}

// merge notes an area of cells that are one.
func (r *xlsxReader) merge(ref string) error {
	from, to, ok := strings.Cut(ref, ":")
	if !ok {
		return nil
	}
	left, top, okFrom := CellAt(from)
	right, bottom, okTo := CellAt(to)
	if !okFrom || !okTo || right < left || bottom < top {
		return errMarkup
	}
	return r.table.merge(area{top, left, bottom, right})
}

// CellAt is the column and the row of a cell such as "F12", each from 1 up.
func CellAt(ref string) (column, row int, ok bool) {
	i := 0
	for ; i < len(ref) && i < 4; i++ {
		c := ref[i] &^ 0x20
		if c < 'A' || c > 'Z' {
			break
		}
		column = column*26 + int(c-'A') + 1
	}
	row, err := strconv.Atoi(ref[i:])
	return column, row, err == nil && row > 0 && column > 0 && column <= 16384 && ref[i] != '+'
}

func isTrue(s string) bool { return s == "1" || s == "true" }

func atoiOr(s string, or int) int {
	if s == "" {
		return or // the usual case, and an error of strconv is dear
	}
	if n, err := strconv.Atoi(s); err == nil {
		return n
	}
	return or
}
