package packinglist_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowright/store/packinglist"
)

// A cell has letters, at most three of them, and then a number; nothing else is one.
func TestCellAt(t *testing.T) {
	for _, row := range []struct {
		ref         string
		column, row int
		ok          bool
	}{
		{"A1", 1, 1, true},
		{"f12", 6, 12, true},
		{"AA10", 27, 10, true},
		{"XFD1048576", 16384, 1048576, true},
		{"XFE1", 0, 0, false},
		{"ABCD1", 0, 0, false},
		{"ABC", 0, 0, false},
		{"A", 0, 0, false},
		{"", 0, 0, false},
		{"12", 0, 0, false},
		{"A0", 0, 0, false},
		{"A-1", 0, 0, false},
		{"A+1", 0, 0, false},
		{"A1B", 0, 0, false},
		{"@1", 0, 0, false},
		{"[1", 0, 0, false},
	} {
		column, number, ok := packinglist.CellAt(row.ref)
		if ok != row.ok || ok && (column != row.column || number != row.row) {
			t.Errorf("%q: column %d, row %d, %v; want %d, %d, %v", row.ref, column, number, ok, row.column, row.row, row.ok)
		}
		if ok && packinglist.ColumnName(column)+fmt.Sprint(number) != upperCell(row.ref) {
			t.Errorf("%q is called %s%d", row.ref, packinglist.ColumnName(column), number)
		}
	}
}

func upperCell(ref string) string {
	b := []byte(ref)
	for i, c := range b {
		if c >= 'a' && c <= 'z' {
			b[i] = c - 'a' + 'A'
		}
	}
	return string(b)
}

// The shape of a list is its headings and what a person chose of them; it fits a list that has
// the very same headings near its top, and no other.
func TestShapeFits(t *testing.T) {
	table := func(text string) *packinglist.Table {
		t.Helper()
		tab, err := openTable("list.csv", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return tab
	}
	first := table("Part,Qty,Spare\nOQ-1,2,9\n")
	if s, ok := packinglist.ShapeOf(first, packinglist.Guess(first)); ok {
		t.Errorf("nobody chose a column, and the shape is %+v", s)
	}
	chosen := packinglist.Guess(first).With(packinglist.Quantity, 3)
	s, ok := packinglist.ShapeOf(first, chosen)
	if !ok || len(s.Headings) != 3 || len(s.Columns) != 1 || s.Columns["quantity"] != 3 {
		t.Fatalf("the shape is %+v, %v", s, ok)
	}
	if c, ok := s.Fit(table("Order OK-1,,\nPart,Qty,Spare\nOQ-2,4,5\n")); !ok || c.Heading != 2 || c.Column(packinglist.Quantity) != 3 || c.Column(packinglist.Designation) != 1 {
		t.Errorf("a list of that shape: %+v, %v", c, ok)
	}
	if c, ok := s.Fit(table("Part,Qty,Spares\nOQ-2,4,5\n")); ok || c != (packinglist.Columns{}) {
		t.Errorf("a list of another shape: %+v, %v", c, ok)
	}
	if c, ok := (packinglist.Shape{}).Fit(first); ok || c != (packinglist.Columns{}) {
		t.Errorf("no shape at all: %+v, %v", c, ok)
	}
	without, _ := packinglist.ShapeOf(first, packinglist.Guess(first).With(packinglist.Quantity, 0))
	if c, ok := without.Fit(first); !ok || c.Column(packinglist.Quantity) != 0 {
		t.Errorf("a column that a person took away: %+v, %v", c, ok)
	}
	headless := packinglist.Columns{}.With(packinglist.Designation, 1).With(packinglist.Quantity, 2)
	if s, ok := packinglist.ShapeOf(first, headless); ok {
		t.Errorf("without headings: %+v", s)
	}
}

// A title that has the words of headings is none while a row below has more of them.
func TestATitleIsNoRowOfHeadings(t *testing.T) {
	r := reading(t, packinglist.Choices{}, "Kit,Part,Description\n,,\nPart,Description,Qty\nOQ-1,Rib,12\n")
	if len(r.Lines) != 1 || len(r.Bad) != 0 || r.Lines[0].Designation != "OQ-1" || r.Lines[0].Listed.String() != "12 ea" {
		t.Errorf("lines %+v, bad %+v", r.Lines, r.Bad)
	}
}

// Of two sheets that say the same the one that does not count is left out, and says why.
func TestASheetThatSaysTheSame(t *testing.T) {
	book, err := packinglist.Open("list.xlsx", bookShapes(t)["summary-beside-crates.xlsx"])
	if err != nil {
		t.Fatal(err)
	}
	for answer, left := range map[string]int{"first": 1, "last": 0, "all": -1} {
		r := book.Read(packinglist.Choices{Answers: map[string]string{"sheets": answer}})
		lines := 0
		for i, s := range r.Sheets {
			if s.Taken != (i != left) || !s.Taken && (s.Why != "it says the same as another sheet" || s.Lines != 0) {
				t.Errorf("%s: sheet %s taken %v, %d lines, %q", answer, s.Name, s.Taken, s.Lines, s.Why)
			}
			lines += s.Lines
		}
		if lines != len(r.Lines) {
			t.Errorf("%s: the sheets have %d lines, the list %d", answer, lines, len(r.Lines))
		}
	}
}

// A row of a workbook whose number is that of the row before is no row: what is in it would
// take the place of the other.
func TestARowTwiceInAWorkbook(t *testing.T) {
	row := func(number, part string) string {
		return `<row r="` + number + `"><c t="inlineStr"><is><t>` + part + `</t></is></c></row>`
	}
	for numbers, ok := range map[[2]string]bool{{"1", "2"}: true, {"1", "1"}: false, {"2", "1"}: false} {
		_, err := openTable("list.xlsx", parts(t, `<worksheet><sheetData>`+row(numbers[0], "OQ-1")+row(numbers[1], "OQ-2")+`</sheetData></worksheet>`, `<sst></sst>`))
		if (err == nil) != ok {
			t.Errorf("rows %v: %v", numbers, err)
		}
	}
}

// A table within a row of another is no workbook of a list: its rows would be taken for the
// other's.
func TestATableWithinARow(t *testing.T) {
	inner := `<table name="B">` + odsLine("OQ-9", "9") + `</table>`
	for name, row := range map[string]string{
		"in a row":  `<table-row>` + inner + `</table-row>`,
		"in a cell": `<table-row><table-cell>` + inner + `</table-cell></table-row>`,
	} {
		if _, err := openTable("list.ods", odsParts(t, odsRows(odsLine("Part", "Qty"), row))); err == nil {
			t.Errorf("%s: it is read", name)
		}
	}
}

// A character of UTF-16 that takes two units is one; half of it is damage, wherever it stands.
func TestCharactersOfTwoUnits(t *testing.T) {
	whole := func(description string) []byte {
		return []byte("Part\tDescription\tQty\nOQ-1\t" + description + "\t12\n")
	}
	pair := utf16Bytes("\ufeff"+string(whole("Rib \U0001D11E left")), false)
	if l := readAll(t, "list.txt", pair).Lines[0]; l.Description != "Rib \U0001D11E left" || l.Listed.String() != "12 ea" {
		t.Errorf("got %q, %s", l.Description, l.Listed)
	}
	at := bytes.Index(pair, []byte{0x34, 0xd8})
	if at < 0 {
		t.Fatal("there is no such character")
	}
	for name, damaged := range map[string][]byte{
		"the first half alone":  slices.Concat(pair[:at+2], pair[at+4:]),
		"the second half alone": slices.Concat(pair[:at], pair[at+2:]),
		"the halves exchanged":  slices.Concat(pair[:at], pair[at+2:at+4], pair[at:at+2], pair[at+4:]),
	} {
		if _, err := packinglist.Open("list.txt", damaged); err == nil || !strings.Contains(err.Error(), "half a character") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Characters that a workbook writes by their codes are themselves; what only looks so stays.
func TestCharactersByTheirCodes(t *testing.T) {
	texts := `<sst><si><t>OQ_x002D_1</t></si><si><t>P_x41_</t></si><si><t>Q_xyz</t></si></sst>`
	table, err := openTable("list.xlsx", parts(t, `<worksheet><sheetData><row><c t="s"><v>0</v></c><c t="s"><v>1</v></c><c t="s"><v>2</v></c></row></sheetData></worksheet>`, texts))
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(table.Rows[0].Cells, " "); got != "OQ-1 P_x41_ Q_xyz" {
		t.Errorf("got %q", got)
	}
}

// A bag or a crate is one by a name with a digit in it, wherever that stands, or of one letter.
func TestRowsThatNameABag(t *testing.T) {
	for text, want := range map[string]string{"Bag 101": "Bag 101", "Bag H101": "H101", "Bag A": "A", "Bag of bolts": ""} {
		r := reading(t, packinglist.Choices{Answers: map[string]string{"word-rows": "remark"}}, "Part,Description,Qty\n"+text+",,\nOQ-1,Rib,12\n")
		if len(r.Lines) != 1 || r.Lines[0].Group != want {
			t.Errorf("below %q: %+v, want bag %q", text, r.Lines, want)
		}
	}
}
