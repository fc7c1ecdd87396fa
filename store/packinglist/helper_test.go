package packinglist_test

import (
	"testing"

	"stowright/store/packinglist"
)

// openTable opens a file and returns the table of the first sheet that is taken,
// or the problem that ended the reading of it.
func openTable(name string, data []byte) (*packinglist.Table, error) {
	book, err := packinglist.Open(name, data)
	if err != nil {
		return nil, err
	}
	for i, s := range book.Read(packinglist.Choices{}).Sheets {
		if !s.Taken {
			continue
		}
		if p := book.Sheets[i].Problem; p != nil {
			return nil, p
		}
		return s.Table, nil
	}
	return nil, &packinglist.Problem{File: name, Message: "no sheet is taken"}
}

// readTable reads a table by columns, all or nothing.
func readTable(table *packinglist.Table, cols packinglist.Columns) (packinglist.List, []packinglist.Problem) {
	return readBy(table, cols, nil)
}

// plainly settles what is asked of lists as they are written by these tests:
// with a decimal point, and a blank cell where there is no group.
var plainly = map[string]string{"decimal-mark": "point", "group-blank": "none", "crate-blank": "none", "unit-m": "metre"}

// readBy is readTable with answers.
func readBy(table *packinglist.Table, cols packinglist.Columns, answers map[string]string) (packinglist.List, []packinglist.Problem) {
	book := &packinglist.Book{File: table.File, Format: table.Format, Sheets: []packinglist.Sheet{{Name: table.Sheet, Table: table}}}
	choices := packinglist.Choices{Answers: answers}
	if cols != packinglist.Guess(table) {
		choices.Columns = map[string]packinglist.Columns{table.Sheet: cols}
	}
	return book.Read(choices).List()
}

// reading opens and reads lines of text by the choices.
func reading(t testing.TB, c packinglist.Choices, text string) *packinglist.Reading {
	t.Helper()
	book, err := packinglist.Open("list.csv", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return book.Read(c)
}
