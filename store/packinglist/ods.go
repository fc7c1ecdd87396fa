package packinglist

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"strconv"
	"strings"
)

// openODS reads an OpenDocument spreadsheet (OASIS OpenDocument 1.3, part 3,
// chapter 9): the tables of content.xml, with their repeated rows and cells.
func openODS(name string, archive *zip.Reader, sheet string) (*Table, error) {
	part, err := archive.Open("content.xml")
	if err != nil {
		return nil, fileProblem(name, "%v", damaged("content.xml"))
	}
	defer part.Close()
	rd := &odsReader{file: name, dec: xml.NewDecoder(io.LimitReader(part, MaxUnpacked))}
	if err := rd.read(); err != nil {
		return nil, fileProblem(name, "%v", damaged("content.xml"))
	}
	names := make([]string, len(rd.sheets))
	for i, s := range rd.sheets {
		names[i] = s.table.Sheet
	}
	if len(names) > maxSheets {
		return nil, fileProblem(name, "has more than %d sheets; save the list alone in a new workbook", maxSheets)
	}
	return choose(name, names, sheet, func(sheet string) (*Table, *Problem) {
		for _, s := range rd.sheets {
			if s.table.Sheet == sheet {
				return s.table, s.problem
			}
		}
		return &Table{File: name}, nil
	})
}

// odsReader walks through content.xml.
type odsReader struct {
	file   string
	dec    *xml.Decoder
	sheets []*odsSheet
}

// odsSheet is one table: a problem ends its reading and not that of the others.
type odsSheet struct {
	table   *Table
	problem *Problem
	row     int // rows so far
}

func (rd *odsReader) read() error {
	var sheet *odsSheet
	for {
		token, err := rd.dec.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		el, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch el.Name.Local {
		case "table":
			sheet = &odsSheet{table: &Table{File: rd.file, Format: "ODS", Sheet: attr(el, "name")}}
			rd.sheets = append(rd.sheets, sheet)
		case "table-row":
			if sheet == nil {
				continue
			}
			if err := rd.readRow(el, sheet); err != nil {
				return err
			}
		}
	}
}

// readRow reads up to the end of a row and adds it as often as it is repeated.
func (rd *odsReader) readRow(start xml.StartElement, sheet *odsSheet) error {
	row := &odsRow{numbers: make(map[int]string)}
	for {
		token, err := rd.dec.Token()
		if err != nil {
			return err
		}
		switch el := token.(type) {
		case xml.EndElement:
			if el.Name.Local == "table-row" {
				sheet.addRow(row.cells, row.numbers, repeats(start, "number-rows-repeated"))
				return nil
			}
		case xml.StartElement:
			if el.Name.Local != "table-cell" && el.Name.Local != "covered-table-cell" {
				continue
			}
			text, err := rd.cellText()
			if err != nil {
				return err
			}
			row.add(text, el)
		}
	}
}

// odsRow gathers the cells of a row.
type odsRow struct {
	cells   []string
	numbers map[int]string // see Row
	column  int            // cells so far, blank ones included
}

// add appends a cell as often as it is repeated; one column beyond those that a
// list may have is enough to be refused.
func (r *odsRow) add(text string, el xml.StartElement) {
	n := repeats(el, "number-columns-repeated")
	end := min(r.column+n, MaxColumns+1)
	if text == "" {
		r.column = end
		return
	}
	for ; r.column < end; r.column++ {
		for len(r.cells) <= r.column {
			r.cells = append(r.cells, "")
		}
		r.cells[r.column] = text
		if v, ok := odsNumber(el); ok && v != text {
			r.numbers[r.column] = v
		}
	}
}

// addRow adds the cells n times; blank rows only count.
func (s *odsSheet) addRow(cells []string, numbers map[int]string, n int) {
	for range n {
		if s.problem != nil {
			return
		}
		s.row++
		if len(cells) == 0 {
			s.row += n - 1
			return
		}
		s.problem = s.table.addRow(s.row, cells, numbers)
	}
}

// repeats is a count in an attribute, 1 where there is none or no sound one.
func repeats(el xml.StartElement, name string) int {
	const most = 1 << 20 // rows of the largest sheet of any maker
	n, err := strconv.Atoi(attr(el, name))
	if err != nil || n < 1 {
		return 1
	}
	return min(n, most)
}

// odsNumber is what a cell with a number or a date holds, whatever it shows.
func odsNumber(el xml.StartElement) (string, bool) {
	switch attr(el, "value-type") {
	case "float":
		return attr(el, "value"), true
	case "date":
		return attr(el, "date-value"), true
	}
	return "", false
}

// cellText reads the paragraphs of a cell up to its end, without its comments.
func (rd *odsReader) cellText() (string, error) {
	var text strings.Builder
	inside := make(map[string]int) // elements open, by name
	for depth := 1; depth > 0; {
		token, err := rd.dec.Token()
		if err != nil {
			return "", err
		}
		switch el := token.(type) {
		case xml.StartElement:
			depth++
			inside[el.Name.Local]++
			if odsGaps[el.Name.Local] {
				text.WriteByte(' ')
			}
		case xml.EndElement:
			depth--
			inside[el.Name.Local]--
		case xml.CharData:
			if inside["p"] > 0 && inside["annotation"] == 0 {
				text.Write(el)
			}
		}
	}
	return strings.TrimSpace(text.String()), nil
}

// odsGaps are the elements that part words: paragraphs, runs of spaces, tabs
// and line breaks.
var odsGaps = map[string]bool{"p": true, "s": true, "tab": true, "line-break": true}
