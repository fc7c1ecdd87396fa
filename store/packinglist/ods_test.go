package packinglist_test

import (
	"fmt"
	"strings"
	"testing"
)

// odsRows is the content of a workbook with one table of the given rows.
func odsRows(rows ...string) string {
	return `<document-content><body><table name="Tail kit">` + strings.Join(rows, "") + `</table></body></document-content>`
}

// TestODSCells has the ways in which OASIS OpenDocument 1.3, part 3, chapters 6
// and 9, writes cells.
func TestODSCells(t *testing.T) {
	const empty = `<table-cell number-columns-repeated="3"/>`
	for _, c := range []struct{ name, rows, want string }{
		{"text", `<table-row><table-cell><p>OQ-1</p></table-cell></table-row>`, "1 OQ-1"},
		{"two paragraphs", `<table-row><table-cell><p>Fin</p><p>rib</p></table-cell></table-row>`, "1 Fin rib"},
		{"spaces and breaks", `<table-row><table-cell><p>Fin<s/>root<line-break/>rib<tab/>left</p></table-cell></table-row>`, "1 Fin root rib left"},
		{"parts of a text", `<table-row><table-cell><p>OQ-<span>1</span>0</p></table-cell></table-row>`, "1 OQ-10"},
		{"a comment is none of it", `<table-row><table-cell><annotation><date>2026-03-10</date><p>ask<span> again</span></p></annotation><p>OQ-1</p></table-cell></table-row>`, "1 OQ-1"},
		{"what stands outside paragraphs", "<table-row><table-cell>\n <p>OQ-1</p>\n</table-cell></table-row>", "1 OQ-1"},
		{"columns left out", `<table-row>` + empty + `<table-cell><p>x</p></table-cell></table-row>`, "1 |||x"},
		{"a cell repeated", `<table-row><table-cell number-columns-repeated="2"><p>x</p></table-cell><table-cell><p>y</p></table-cell></table-row>`, "1 x|x|y"},
		{"a cell covered by another", `<table-row><table-cell><p>x</p></table-cell><covered-table-cell/><table-cell><p>y</p></table-cell></table-row>`, "1 x||y"},
		{"rows left out", `<table-row number-rows-repeated="4"><table-cell/></table-row><table-row><table-cell><p>x</p></table-cell></table-row>`, "5 x"},
		{"a row repeated", `<table-row number-rows-repeated="2"><table-cell><p>x</p></table-cell></table-row>`, "1 x/2 x"},
		{"no sound count", `<table-row number-rows-repeated="-2"><table-cell number-columns-repeated="x"><p>x</p></table-cell></table-row>`, "1 x"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table, err := openTable("list.ods", odsParts(t, odsRows(c.rows)))
			if err != nil {
				t.Fatal(err)
			}
			var rows []string
			for _, r := range table.Rows {
				rows = append(rows, fmt.Sprintf("%d %s", r.Number, strings.Join(r.Cells, "|")))
			}
			if got := strings.Join(rows, "/"); got != c.want || table.Sheet != "Tail kit" {
				t.Errorf("got %q of sheet %q, want %q", got, table.Sheet, c.want)
			}
		})
	}
}

// TestODSNumbers reads a line whose cells hold something else than they show.
func TestODSNumbers(t *testing.T) {
	line := func(part, quantity string) []byte {
		return odsParts(t, odsRows(`<table-row><table-cell><p>Part</p></table-cell><table-cell><p>Qty</p></table-cell></table-row>`, `<table-row>`+part+quantity+`</table-row>`))
	}
	one := `<table-cell value-type="float" value="1"><p>1</p></table-cell>`
	list := readAll(t, "list.ods", line(`<table-cell value-type="float" value="12"><p>0012</p></table-cell>`, `<table-cell value-type="float" value="1.5"><p>2 lb</p></table-cell>`))
	if l := list.Lines[0]; l.Designation != "0012" || l.Listed.Plain() != "1.5" {
		t.Errorf("got %q, %s; want 0012, 1.5", l.Designation, l.Listed.Plain())
	}
	for name, date := range map[string]string{
		"day and month": `<table-cell value-type="date" date-value="2026-03-04"><p>04.03.</p></table-cell>`,
		"in words":      `<table-cell value-type="date" date-value="2026-03-04"><p>4 March 26</p></table-cell>`,
	} {
		t.Run(name, func(t *testing.T) {
			if got := said(t, "list.ods", line(date, one)); !strings.Contains(got, "sheet Tail kit, row 2, column A") || !strings.Contains(got, "is a date") {
				t.Errorf("got %s", got)
			}
		})
	}
}
