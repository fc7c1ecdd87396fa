// Package standards holds the published tables of aircraft hardware as files
// embedded in the program: one CSV file a table, the unit in each column name,
// and on every row the standard or handbook that the figures belong to
// ("source") and how many independent published sources were seen to agree
// ("checked"; 0 is from memory or composed by rule, and must be shown as not
// cross-checked). It only reads them; package hardware says what they mean.
package standards

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
)

//go:embed *.csv
var files embed.FS

// Table is one file, its rows in the order of the file.
type Table struct {
	Name string // without ".csv"
	Rows []Row

	header  []string
	columns map[string]int
}

// Row is one line of a table.
type Row struct {
	Line int // in the file, the header being line 1

	table *Table
	cells []string
}

// Names lists the tables, sorted.
func Names() []string {
	paths, err := fs.Glob(files, "*.csv")
	if err != nil {
		return nil
	}
	for i, p := range paths {
		paths[i] = strings.TrimSuffix(p, ".csv")
	}
	return paths
}

// Read returns the table of that name. An error means that the program was
// built with a broken or missing file.
func Read(name string) (*Table, error) {
	f, err := files.Open(name + ".csv")
	if err != nil {
		return nil, fmt.Errorf("table %q: %w", name, err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table %q: %w", name, err)
	}
	if len(records) == 0 {
		return nil, fmt.Errorf("table %q: empty", name)
	}
	t := &Table{Name: name, header: records[0], columns: make(map[string]int, len(records[0]))}
	for i, h := range t.header {
		t.columns[h] = i
	}
	t.Rows = make([]Row, len(records)-1)
	for i, cells := range records[1:] {
		t.Rows[i] = Row{Line: i + 2, table: t, cells: cells}
	}
	return t, nil
}

// Header is the column names in order; the caller must not change it.
func (t *Table) Header() []string { return t.header }

// Has says whether the table has that column.
func (t *Table) Has(column string) bool {
	_, ok := t.columns[column]
	return ok
}

// Get returns the cell of that column, "" where there is none.
func (r Row) Get(column string) string {
	i, ok := r.table.columns[column]
	if !ok {
		return ""
	}
	return r.cells[i]
}

// Cells is the row in the order of the header; the caller must not change it.
func (r Row) Cells() []string { return r.cells }

// Source is the standard or handbook that the row belongs to.
func (r Row) Source() string { return r.Get("source") }

// Checked is the number in that column, 0 where it is empty or no number.
func (r Row) Checked(column string) int {
	n, err := strconv.Atoi(r.Get(column))
	if err != nil {
		return 0
	}
	return n
}
