package packinglist

import (
	"fmt"
	"strconv"
	"strings"
)

// openODS reads an OpenDocument spreadsheet (OASIS OpenDocument 1.3, part 3,
// chapter 9): the tables of content.xml, with their repeated rows and cells.
func openODS(b *Book, a *archive) error {
	r := &odsReader{book: b, hiddenStyles: make(map[string]bool)}
	if err := a.walk("content.xml", r.token); err != nil {
		return err
	}
	if len(r.sheets) > maxSheets {
		return fmt.Errorf("has more than %d sheets; save the list alone in a new workbook", maxSheets)
	}
	for _, s := range r.sheets {
		b.add(*s)
	}
	return nil
}

// odsReader reads content.xml from end to end.
type odsReader struct {
	book         *Book
	sheets       []*Sheet
	style        string // the one in hand
	hiddenStyles map[string]bool

	row    odsRow
	column int // columns declared so far
	cell   odsCell
	inRow  bool
	inCell bool
}

// odsRow gathers the cells of a row.
type odsRow struct {
	number  int // of the last row
	repeats int
	hidden  bool
	cells   []string
	values  map[int]value
	column  int // cells so far, blank ones included
}

// odsCell gathers the text of a cell: its paragraphs without its comments.
type odsCell struct {
	repeats, down, right int
	value                value
	text                 strings.Builder
	paragraphs, notes    int // open ones
}

func (r *odsReader) token(m *markup) error {
	if m.kind == textToken {
		if c := &r.cell; r.inCell && c.paragraphs > 0 && c.notes == 0 && c.text.Len() <= MaxCell {
			c.text.Write(m.text)
		}
		return nil
	}
	name, start := string(m.name), m.kind == startToken
	switch {
	case r.inCell && name != "table-cell" && name != "covered-table-cell":
		r.cell.inside(name, start)
	case name == "style" && start:
		r.style = m.attr("name")
	case name == "table-properties" && start && m.attr("display") == "false":
		r.hiddenStyles[r.style] = true
	case name == "table" && start:
		return r.startTable(m)
	case len(r.sheets) == 0:
	case name == "table-column" && start:
		n := repeats(m, "number-columns-repeated")
		if v := m.attr("visibility"); v == "collapse" || v == "filter" {
			r.table().hideColumns(r.column+1, r.column+n)
		}
		r.column += n
	case name == "table-row" && start:
		v := m.attr("visibility")
		r.inRow = true
		r.row = odsRow{number: r.row.number, repeats: repeats(m, "number-rows-repeated"), hidden: v == "collapse" || v == "filter", cells: r.row.cells[:0]}
	case name == "table-row":
		r.inRow = false
		r.endRow()
	case (name == "table-cell" || name == "covered-table-cell") && start:
		if r.inCell || !r.inRow {
			return errMarkup
		}
		r.inCell = true
		r.cell = odsCell{repeats: repeats(m, "number-columns-repeated"), down: repeats(m, "number-rows-spanned"), right: repeats(m, "number-columns-spanned"), value: odsValue(m)}
	case name == "table-cell" || name == "covered-table-cell":
		r.inCell = false
		return r.endCell()
	}
	return nil
}

func (r *odsReader) table() *Table { return r.sheets[len(r.sheets)-1].Table }

func (r *odsReader) startTable(m *markup) error {
	if r.inRow || len(r.sheets) > maxSheets {
		return errMarkup // a table inside a cell
	}
	name := m.attr("name")
	r.sheets = append(r.sheets, &Sheet{Name: name, Hidden: r.hiddenStyles[m.attr("style-name")], Table: r.book.newTable("ODS", name)})
	r.row, r.column = odsRow{}, 0
	return nil
}

// odsGaps are the elements that part words: paragraphs, runs of spaces, tabs
// and line breaks.
var odsGaps = map[string]bool{"p": true, "s": true, "tab": true, "line-break": true}

// inside follows the elements within a cell.
func (c *odsCell) inside(name string, start bool) {
	by := -1
	if start {
		by = 1
	}
	switch name {
	case "p":
		c.paragraphs += by
	case "annotation":
		c.notes += by
	}
	if start && odsGaps[name] && c.notes == 0 {
		c.text.WriteByte(' ')
	}
}

// endCell appends a cell as often as it is repeated; one column beyond those that
// a list may have is enough to be refused.
func (r *odsReader) endCell() error {
	text, row := strings.TrimSpace(r.cell.text.String()), &r.row
	end := min(row.column+r.cell.repeats, MaxColumns+1)
	if text == "" && r.cell.value.kind == holdsText {
		row.column = end
		return nil
	}
	if r.cell.down > 1 || r.cell.right > 1 {
		top, left := row.number+1, row.column+1
		if err := r.table().merge(area{top, left, top + r.cell.down - 1, left + r.cell.right - 1}); err != nil {
			return err
		}
	}
	for ; row.column < end; row.column++ {
		for len(row.cells) <= row.column {
			row.cells = append(row.cells, "")
		}
		row.cells[row.column] = text
		if v := r.cell.value; v.kind != holdsText && (v.kind != holdsNumber || v.number != text) {
			if row.values == nil {
				row.values = make(map[int]value)
			}
			row.values[row.column+1] = v
		}
	}
	return nil
}

// endRow adds the row as often as it is repeated; blank rows only count.
func (r *odsReader) endRow() {
	s := r.sheets[len(r.sheets)-1]
	for i := range r.row.repeats {
		if len(r.row.cells) == 0 || s.Problem != nil {
			r.row.number += r.row.repeats - i
			return
		}
		r.row.number++
		s.Problem = s.Table.addRow(Row{Number: r.row.number, Cells: r.row.cells, Hidden: r.row.hidden, values: r.row.values})
	}
}

// repeats is a count in an attribute, 1 where there is none or no sound one.
func repeats(m *markup, name string) int {
	const most = 1 << 20 // rows of the largest sheet of any maker
	return max(1, min(atoiOr(m.attr(name), 1), most))
}

// odsValue is what a cell holds, whatever it shows (OASIS OpenDocument 1.3, part 3, 19.385).
func odsValue(m *markup) value {
	switch m.attr("value-type") {
	case "float":
		return odsNumber(holdsNumber, m)
	case "percentage":
		return odsNumber(holdsPercent, m)
	case "currency":
		return odsNumber(holdsMoney, m)
	case "date":
		return value{holdsDate, m.attr("date-value")}
	case "time":
		return value{holdsDate, m.attr("time-value")}
	}
	return value{}
}

func odsNumber(kind holds, m *markup) value {
	n, ok := storedNumber(m.attr("value"))
	if !ok {
		return value{}
	}
	return value{kind, strconv.FormatFloat(n, 'f', -1, 64)}
}
