package packinglist

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

// Table is a sheet as it was found: rows of cells, with nothing understood yet.
type Table struct {
	File   string   // base name of the file
	Format string   // for people: "CSV, semicolons, Windows-1252" or "XLSX"
	Sheet  string   // sheet that was read; empty for text
	Sheets []string // every sheet with headings of a packing list, this one included; nil for text
	Rows   []Row    // in the order of the file; blank rows are left out

	semicolons bool // columns parted by semicolons, so a comma may be a decimal one
	openCells  int  // cells of the last row where a text ends without a line end, as when cut short; else 0
	size       int  // bytes in all cells
}

// Row is one row that is not blank.
type Row struct {
	Number int      // 1-based, as a spreadsheet counts rows
	Cells  []string // trimmed, spaces and line breaks folded to one space; no empty ones at the end

	numbers map[int]string // by index: the number that a cell holds where it shows another text
}

// Cell is the text of the 1-based column, empty where the row has none.
func (r Row) Cell(column int) string {
	if column < 1 || column > len(r.Cells) {
		return ""
	}
	return r.Cells[column-1]
}

// number is the stored number of a cell that shows it in some other way.
func (r Row) number(column int) (string, bool) {
	s, ok := r.numbers[column-1]
	return s, ok
}

// OpenFile reads the file at path. Its error is a *Problem.
func OpenFile(path string) (*Table, error) {
	name := filepath.Base(path)
	f, err := os.Open(path)
	if err != nil {
		return nil, fileProblem(name, "cannot be opened: %v", pathless(err))
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, fileProblem(name, "cannot be read: %v", pathless(err))
	}
	return Open(name, data)
}

// Open reads the bytes of a file into a table. It goes by what the bytes are and
// not by the name, which only serves in messages. Of a workbook it takes the
// first sheet that has the headings of a packing list, or else the first that
// is not empty. Its error is a *Problem.
func Open(name string, data []byte) (*Table, error) { return OpenSheet(name, data, "") }

// OpenSheet is Open for one sheet of a workbook, by its name. An empty name lets
// Open choose; text files have no sheets, and the name is ignored.
func OpenSheet(name string, data []byte, sheet string) (*Table, error) {
	name = filepath.Base(name)
	if len(data) > MaxBytes {
		return nil, fileProblem(name, "is larger than %d MB, too large for a packing list; save the list alone in a file of its own", MaxBytes>>20)
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fileProblem(name, "is empty; save the list again")
	}
	switch {
	case bytes.HasPrefix(data, []byte("PK")):
		return openWorkbook(name, data, sheet)
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")): // OLE2, [MS-CFB] 2.2
		return nil, fileProblem(name, "is an old XLS workbook, or one with a password; save it as XLSX or CSV, without a password")
	case bytes.HasPrefix(data, []byte("%PDF-")):
		return nil, fileProblem(name, "is a PDF, which cannot be read as a table; ask for the list as XLSX or CSV")
	}
	return openText(name, data)
}

func fileProblem(name, format string, args ...any) *Problem {
	return &Problem{File: name, Message: fmt.Sprintf(format, args...)}
}

// pathless drops the path from an error of package os: the message has the name.
func pathless(err error) error {
	if pe, ok := err.(*os.PathError); ok {
		return pe.Err
	}
	return err
}

// fold makes one line of a cell: spaces, line breaks and control characters
// become one space each run, and invisible characters go.
func fold(s string) string {
	clean := strings.Map(func(r rune) rune {
		switch {
		case r == '\u200b', r == '\u2060', r == '\ufeff', r == '\u00ad': // zero width and soft hyphen
			return -1
		case unicode.IsSpace(r), unicode.IsControl(r):
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
	return strings.Join(strings.Fields(clean), " ")
}

// addRow folds the cells and appends the row unless it is blank.
func (t *Table) addRow(number int, cells []string, numbers map[int]string) *Problem {
	refuse := func(column int, format string, args ...any) *Problem {
		p := &Problem{File: t.File, Sheet: t.Sheet, Row: number, Message: fmt.Sprintf(format, args...)}
		if column > 0 {
			p.Column = ColumnName(column)
		}
		return p
	}
	folded := make([]string, 0, min(len(cells), MaxColumns))
	for i, c := range cells {
		if len(c) > MaxCell {
			return refuse(i+1, "the cell holds more than %d characters; a packing list has short cells, so check that this is one", MaxCell)
		}
		if t.size += len(c); t.size > MaxText {
			return refuse(0, "the list holds more than %d MB of text, too much for a packing list; save the list alone in a file of its own", MaxText>>20)
		}
		c = fold(c)
		if c == "" {
			continue
		}
		if i >= MaxColumns {
			return refuse(i+1, "the row goes on past column %s; delete what is not part of the list", ColumnName(MaxColumns))
		}
		for len(folded) < i {
			folded = append(folded, "")
		}
		folded = append(folded, c)
	}
	if len(folded) == 0 {
		return nil
	}
	if number > MaxRows {
		return refuse(0, "the list goes on past row %d; split it into smaller files", MaxRows)
	}
	t.Rows = append(t.Rows, Row{Number: number, Cells: folded, numbers: numbers})
	return nil
}
