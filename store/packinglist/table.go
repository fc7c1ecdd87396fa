package packinglist

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"
)

// Book is a file as it was found: its sheets, with nothing understood yet. It is
// not changed once it is open, and may be read by several goroutines.
type Book struct {
	File   string  // base name of the file
	Format string  // for people: "text, semicolons, Windows-1252", "XLSX" or "ODS"
	Sheets []Sheet // in the order of the file, at least one with rows or a problem; a text is one sheet without a name

	size, rows int // bytes in all cells and rows kept so far
}

// Sheet is one sheet of a file.
type Sheet struct {
	Name    string
	Hidden  bool     // not seen in a spreadsheet unless it is asked for
	Table   *Table   // never nil; up to the problem where there is one
	Problem *Problem // why the sheet could not be read to its end, nil if it was
}

// Table is the cells of a sheet.
type Table struct {
	File   string
	Format string
	Sheet  string
	Rows   []Row // in the order of the file; blank rows are left out

	book          *Book
	wide          []area   // merged cells of one row, near the top
	tall          []uint64 // by row: a bit for each column whose cell is one with that of another row
	under         []uint64 // by row: the same, where that other row is above
	merged        int      // rows of merged areas so far
	hiddenColumns map[int]bool
	semicolons    bool // columns parted by semicolons, so a comma may be a decimal one
	commas        bool // columns parted by commas, so a comma in a number is hardly a decimal one
	openCells     int  // cells of the last row where a text ends without a line end, as when cut short; else 0
}

// area is cells that a workbook shows as one, each bound included, from 1 up.
type area struct{ top, left, bottom, right int }

// Row is one row that is not blank.
type Row struct {
	Number int      // 1-based, as a spreadsheet counts rows
	Cells  []string // trimmed, spaces and line breaks folded to one space; no empty ones at the end
	Hidden bool     // not seen in a spreadsheet, as when it is filtered out

	values map[int]value // by 1-based column, where a cell holds more than it shows
}

// Cell is the text of the 1-based column, empty where the row has none.
func (r Row) Cell(column int) string {
	if column < 1 || column > len(r.Cells) {
		return ""
	}
	return r.Cells[column-1]
}

// filled is how many cells have a text.
func (r Row) filled() int {
	n := 0
	for _, c := range r.Cells {
		if c != "" {
			n++
		}
	}
	return n
}

// OpenFile opens the file at path. Its error is a *Problem.
func OpenFile(ctx context.Context, path string) (*Book, error) {
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
	return open(ctx, name, data)
}

// Open takes the bytes of a file apart into sheets of cells. It goes by what the
// bytes are and not by the name, which only serves in messages. A table pasted
// from a spreadsheet is text with tabs, and is read as such. Its error is a
// *Problem.
func Open(name string, data []byte) (*Book, error) { return open(context.Background(), name, data) }

func open(ctx context.Context, name string, data []byte) (*Book, error) {
	b := &Book{File: filepath.Base(name)}
	if err := b.open(ctx, data); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if p, ok := err.(*Problem); ok {
			return nil, p
		}
		return nil, fileProblem(b.File, "%v", err)
	}
	for _, s := range b.Sheets {
		if len(s.Table.Rows) > 0 || s.Problem != nil {
			return b, nil
		}
	}
	return nil, fileProblem(b.File, "has no filled sheet; check that this is the right file")
}

// open tells the formats apart by how their files begin.
func (b *Book) open(ctx context.Context, data []byte) error {
	switch {
	case len(data) > MaxBytes:
		return fmt.Errorf("is larger than %d MB, too large for a packing list; save the list alone in a file of its own", MaxBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return errors.New("is empty; save the list again")
	case bytes.HasPrefix(data, []byte("PK")):
		return openWorkbook(b, data)
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")): // OLE2, [MS-CFB] 2.2
		return errors.New("is an old XLS workbook, or one with a password; save it as XLSX or CSV, without a password")
	case bytes.HasPrefix(data, []byte("%PDF-")):
		return openPDF(ctx, b, data)
	}
	return openText(b, data)
}

// newTable is an empty table of the book.
func (b *Book) newTable(format, sheet string) *Table {
	return &Table{File: b.File, Format: format, Sheet: sheet, book: b}
}

func (b *Book) add(s Sheet) { b.Sheets = append(b.Sheets, s) }

// merge notes an area that is one cell. Areas do not overlap, so that together they
// have no more rows than the sheet has cells.
func (t *Table) merge(a area) error {
	a.right, a.bottom = min(a.right, MaxColumns), min(a.bottom, MaxRows)
	if a.right < a.left || a.bottom < a.top {
		return nil
	}
	if t.merged += 1 + a.bottom - a.top; t.merged > MaxRows*MaxColumns {
		return errMarkup
	}
	if a.top == a.bottom {
		if a.top <= headingDepth && len(t.wide) < headingDepth*MaxColumns {
			t.wide = append(t.wide, a)
		}
		return nil
	}
	for len(t.tall) <= a.bottom {
		t.tall, t.under = append(t.tall, 0), append(t.under, 0)
	}
	columns := (^uint64(0) >> (MaxColumns - (a.right - a.left + 1))) << (a.left - 1)
	for row := a.top; row <= a.bottom; row++ {
		t.tall[row] |= columns
		if row > a.top {
			t.under[row] |= columns
		}
	}
	return nil
}

// marked reports whether a cell has its bit among those of t.tall or t.under.
func marked(bits []uint64, row, column int) bool {
	return row < len(bits) && column > 0 && bits[row]>>(column-1)&1 == 1
}

// hideColumns notes that these columns are not seen in a spreadsheet.
func (t *Table) hideColumns(from, to int) {
	for c := max(from, 1); c <= min(to, MaxColumns); c++ {
		if t.hiddenColumns == nil {
			t.hiddenColumns = make(map[int]bool)
		}
		t.hiddenColumns[c] = true
	}
}

// problem is one with a place in the table; column 0 means the whole row.
func (t *Table) problem(row, column int, format string, args ...any) *Problem {
	return &Problem{File: t.File, Sheet: t.Sheet, Row: row, Column: ColumnName(column), Message: fmt.Sprintf(format, args...)}
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

// addRow folds the cells of the row and appends it unless it is blank. The cells
// given stay the caller's.
func (t *Table) addRow(r Row) *Problem {
	folded := make([]string, 0, min(len(r.Cells), MaxColumns))
	for i, c := range r.Cells {
		if c == "" {
			continue
		}
		if len(c) > MaxCell {
			return t.problem(r.Number, i+1, "the cell holds more than %d characters; a packing list has short cells, so check that this is one", MaxCell)
		}
		if t.book.size += len(c); t.book.size > MaxText {
			return t.problem(r.Number, 0, "the list holds more than %d MB of text, too much for a packing list; save the list alone in a file of its own", MaxText>>20)
		}
		c = fold(c)
		if c == "" {
			continue
		}
		if i >= MaxColumns {
			return t.problem(r.Number, i+1, "the row goes on past column %s; delete what is not part of the list", ColumnName(MaxColumns))
		}
		for len(folded) < i {
			folded = append(folded, "")
		}
		folded = append(folded, c)
	}
	if len(folded) == 0 {
		return nil
	}
	if t.book.rows++; r.Number > MaxRows || t.book.rows > MaxRows {
		return t.problem(r.Number, 0, "the list goes on past row %d; split it into smaller files", MaxRows)
	}
	r.Cells = folded
	t.Rows = append(t.Rows, r)
	return nil
}
