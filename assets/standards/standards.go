// Package standards holds the published tables of aircraft hardware as files
// embedded in the program: one CSV file a table, the unit in each column name,
// and on every row the standard or handbook that the figures belong to
// ("source") and how many independent published sources were seen to agree
// ("checked"; 0 is from memory or composed by rule, and must be shown as not
// cross-checked). It only reads them; package hardware says what they mean.
package standards

import (
	"cmp"
	"embed"
	"errors"
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
	text, err := files.ReadFile(name + ".csv")
	if err != nil {
		return nil, fmt.Errorf("table %q: %w", name, err)
	}
	t, err := parse(name, string(text))
	if err != nil {
		return nil, fmt.Errorf("table %q: %w", name, err)
	}
	return t, nil
}

// parse reads a file of our own: its cells are pieces of the text, and all of them
// lie in one list, since the tables are read each time that the program starts. A
// line break in a cell is not known here; a test holds every file against
// encoding/csv.
func parse(name, text string) (*Table, error) {
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	cells, err := appendCells(nil, lines[0])
	if err != nil || text == "" {
		return nil, cmp.Or(err, errors.New("empty"))
	}
	n := len(cells)
	t := &Table{Name: name, header: cells, columns: make(map[string]int, n), Rows: make([]Row, len(lines)-1)}
	for i, h := range t.header {
		t.columns[h] = i
	}
	all := make([]string, 0, n*len(t.Rows))
	for i, line := range lines[1:] {
		all, err = appendCells(all, line)
		if err == nil && len(all) != n*(i+1) {
			err = errors.New("wrong number of fields")
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+2, err)
		}
		t.Rows[i] = Row{Line: i + 2, table: t, cells: all[n*i : n*(i+1) : n*(i+1)]}
	}
	return t, nil
}

// appendCells adds the cells of a line: between commas, or in quotes, in which two
// quotes are one.
func appendCells(cells []string, line string) ([]string, error) {
	quoted := strings.IndexByte(line, '"') >= 0
	for more := true; more; {
		if strings.HasPrefix(line, "\"") {
			end := quoteEnd(line)
			if end >= len(line) || end+1 < len(line) && line[end+1] != ',' {
				return nil, errors.New("a quote that is not closed at the end of its cell")
			}
			cells = append(cells, strings.ReplaceAll(line[1:end], "\"\"", "\""))
			_, line, more = strings.Cut(line[end+1:], ",")
			continue
		}
		var cell string
		cell, line, more = strings.Cut(line, ",")
		if quoted && strings.Contains(cell, "\"") {
			return nil, errors.New("a quote in a cell without quotes")
		}
		cells = append(cells, cell)
	}
	return cells, nil
}

// quoteEnd is where the quote that a line begins with is closed.
func quoteEnd(line string) int {
	end := 1
	for end < len(line) && (line[end] != '"' || end+1 < len(line) && line[end+1] == '"') {
		if line[end] == '"' {
			end++
		}
		end++
	}
	return end
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
