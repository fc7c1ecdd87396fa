package packinglist

import (
	"bytes"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// maxSheets bounds the sheets that are looked into for headings.
const maxSheets = 100

// openXLSX reads an XLSX workbook whose parts checkParts has passed. The library
// is kept from unpacking more than that to memory or any of it to disk, and a
// panic of it on a workbook of odd make becomes a problem.
func openXLSX(name string, data []byte, sheet string) (t *Table, err error) {
	defer func() {
		if r := recover(); r != nil {
			t, err = nil, fileProblem(name, "is a workbook that cannot be understood; save it as CSV and bring that in")
		}
	}()
	book, openErr := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		UnzipSizeLimit:    MaxUnpacked,
		UnzipXMLSizeLimit: MaxUnpacked,
	})
	if openErr != nil {
		return nil, fileProblem(name, "is a workbook that cannot be opened; save it once more as XLSX, or as CSV")
	}
	defer book.Close()
	sheets := book.GetSheetList()
	if len(sheets) > maxSheets {
		return nil, fileProblem(name, "has more than %d sheets; save the list alone in a new workbook", maxSheets)
	}
	return choose(name, sheets, sheet, func(sheet string) (*Table, *Problem) {
		return readXLSX(book, name, sheet)
	})
}

// readXLSX streams the rows of one sheet, twice at once: as shown and as stored,
// so that a number shown as a date is told from text.
func readXLSX(book *excelize.File, name, sheet string) (*Table, *Problem) {
	t := &Table{File: name, Format: "XLSX", Sheet: sheet}
	refuse := func(row int) *Problem {
		return &Problem{File: name, Sheet: sheet, Row: row, Message: "the sheet cannot be read on from here; save it as CSV and bring that in"}
	}
	shown, err := book.Rows(sheet)
	if err != nil {
		return t, nil // a chart or dialog sheet has no rows
	}
	defer shown.Close()
	stored, err := book.Rows(sheet)
	if err != nil {
		return t, refuse(0)
	}
	defer stored.Close()
	for row := 1; shown.Next(); row++ {
		if !stored.Next() {
			return t, refuse(row)
		}
		cells, err := shown.Columns()
		if err != nil {
			return t, refuse(row)
		}
		raw, err := stored.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return t, refuse(row)
		}
		if len(cells) > maxFilled {
			return t, &Problem{File: name, Sheet: sheet, Row: row, Column: ColumnName(len(cells)), Message: "the row goes on too far to the right; delete what is not part of the list"}
		}
		if p := t.addRow(row, cells, storedNumbers(cells, raw)); p != nil {
			return t, p
		}
	}
	if shown.Error() != nil {
		return t, refuse(0)
	}
	return t, nil
}

// storedNumbers are the numbers that cells hold where they show another text. A
// workbook keeps 15 significant digits (ISO/IEC 29500-1 leaves it to the maker;
// common practice), so 0.30000000000000004 is 0.3.
func storedNumbers(shown, raw []string) map[int]string {
	var numbers map[int]string
	for i := range min(len(shown), len(raw)) {
		if shown[i] == raw[i] {
			continue
		}
		v, err := strconv.ParseFloat(raw[i], 64)
		if err != nil {
			continue
		}
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
		if err != nil {
			continue
		}
		if numbers == nil {
			numbers = make(map[int]string)
		}
		numbers[i] = strconv.FormatFloat(rounded, 'f', -1, 64)
	}
	return numbers
}
