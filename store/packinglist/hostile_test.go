// What the race detector makes ten times slower is measured without it.

//go:build !race

package packinglist_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"stowright/store/packinglist"
)

// hostileFiles are small files that become large, and large files without an end.
func hostileFiles(t testing.TB) map[string][]byte {
	million := 1_000_000
	if testing.Short() {
		million = 100_000
	}
	rows := func(row string) string {
		var b strings.Builder
		for n := 1; n <= million; n++ {
			fmt.Fprintf(&b, row, n)
		}
		return b.String()
	}
	sheet := func(inside string) []byte {
		return parts(t, "<worksheet><sheetData>"+inside+"</sheetData></worksheet>", "<sst><si><t>x</t></si></sst>")
	}
	nested := strings.Repeat("<a>", million) + strings.Repeat("</a>", million)
	flat := strings.Repeat("<a></a>", million)
	strs := func(s string) []byte { return parts(t, "<worksheet><sheetData/></worksheet>", s) }
	return map[string][]byte{
		"nested in a sheet.xlsx":           sheet(nested),
		"nested in the strings.xlsx":       strs("<sst>" + nested + "</sst>"),
		"nested and never closed.xlsx":     sheet(strings.Repeat("<a>", 2*million)),
		"two million elements.xlsx":        sheet(flat),
		"empty rows.xlsx":                  sheet(rows(`<row r="%d"/>`)),
		"rows of empty cells.xlsx":         sheet(rows(`<row r="%d"><c s="1"/></row>`)),
		"rows of empty strings.xlsx":       sheet(rows(`<row r="%d"><c t="str"><v></v></c></row>`)),
		"two million strings.xlsx":         strs("<sst>" + strings.Repeat("<si><t/></si>", 2*million) + "</sst>"),
		"nested.ods":                       odsParts(t, odsRows(nested)),
		"empty rows.ods":                   odsParts(t, odsRows(strings.Repeat("<table-row/>", million))),
		"rows of empty cells.ods":          odsParts(t, odsRows(strings.Repeat("<table-row><table-cell/></table-row>", million))),
		"rows repeated.ods":                odsParts(t, odsRows(strings.Repeat(`<table-row number-rows-repeated="1048576"><table-cell number-columns-repeated="16384"/></table-row>`, 1000))),
		"tables without end.ods":           odsParts(t, odsRows(strings.Repeat(`</table><table name="A">`, million))),
		"zeros.xlsx":                       zipped(t, "[Content_Types].xml", 2<<30),
		"zeros beside it.xlsx":             patched(t, part{"xl/media/a.bin", "", strings.Repeat("\x00", packinglist.MaxUnpacked)}),
		"a tag without end.xlsx":           sheet(`<row a="` + strings.Repeat("x", 40*million)),
		"a text without end.xlsx":          sheet(`<row r="1"><c t="str"><v>` + strings.Repeat("x", 40*million) + `</v></c></row>`),
		"one line without end.csv":         []byte("Part,Qty\n" + strings.Repeat("x,", 4*million)),
		"one cell without end.csv":         []byte("Part,Qty\n" + strings.Repeat("x", 8*million)),
		"quotes without end.csv":           []byte(`Part,Qty` + "\n\"" + strings.Repeat(`""`, 4*million)),
		"blank lines.csv":                  []byte("Part,Qty\nOQ-1,2\n" + strings.Repeat("\n", 8*million)),
		"lines of separators.csv":          []byte("Part,Qty\nOQ-1,2\n" + strings.Repeat(",;\t\n", 2*million)),
		"spaces.txt":                       []byte(strings.Repeat(" ", 8*million) + "x"),
		"rows beyond the bound.csv":        []byte("Part,Qty\n" + strings.Repeat("OQ-1,2\n", million)),
		"headings on every row.csv":        []byte(strings.Repeat("Part,Qty,Unit,Crate,Bag,Lot,Status\n", packinglist.MaxRows)),
		"a question on every row.csv":      []byte("Part,Qty\n" + strings.Repeat("OQ-1,12/24\n", packinglist.MaxRows-1)),
		"a bad row on every row.csv":       []byte("Part,Qty\n" + strings.Repeat("OQ-1,some\n", packinglist.MaxRows-1)),
		"totals on every row.csv":          []byte("Part,Qty\n" + strings.Repeat("Total,12\n", packinglist.MaxRows-1)),
		"merged areas without end.xlsx":    parts(t, `<worksheet><sheetData/><mergeCells>`+strings.Repeat(`<mergeCell ref="A1:B2"/>`, million)+`</mergeCells></worksheet>`, "<sst/>"),
		"merged areas over every row.xlsx": parts(t, mergedSheet(packinglist.MaxRows-1), "<sst/>"),
	}
}

// mergedSheet is a list with a merged area beside each of n lines.
func mergedSheet(n int) string {
	var b, areas strings.Builder
	b.WriteString(`<worksheet><sheetData><row><c t="str"><v>Part</v></c><c t="str"><v>Qty</v></c><c t="str"><v>Crate</v></c></row>`)
	for i := 2; i <= n+1; i++ {
		b.WriteString(`<row><c t="str"><v>OQ-1</v></c><c><v>2</v></c></row>`)
		fmt.Fprintf(&areas, `<mergeCell ref="D%d:E%d"/>`, i, i+1)
	}
	return b.String() + `</sheetData><mergeCells>` + areas.String() + `</mergeCells></worksheet>`
}

// TestHostileFiles holds every such file to what a person waits for: refused, or
// read as far as it is a list, within 2 seconds and 100 MB. The seconds are of the
// processor, so that a busy machine does not fail it; the bytes are all that were
// ever asked for, so that the figure does not hang on the collector.
func TestHostileFiles(t *testing.T) {
	const seconds, megabytes = 2, 100
	for name, data := range hostileFiles(t) {
		t.Run(name, func(t *testing.T) {
			if len(data) > packinglist.MaxBytes {
				data = data[:packinglist.MaxBytes]
			}
			runtime.GC()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := processorTime(t)
			said := ""
			book, err := packinglist.Open(name, data)
			if err == nil {
				r := book.Read(packinglist.Choices{})
				said = fmt.Sprintf("%d lines, %d bad, %d asked, %d left out", len(r.Lines), len(r.Bad), len(r.Questions), len(r.LeftOut))
			}
			took := processorTime(t) - start
			runtime.ReadMemStats(&after)
			used := (after.TotalAlloc - before.TotalAlloc) >> 20
			t.Logf("%d KB: %v, %d MB in all, %v %s", len(data)>>10, took.Round(time.Millisecond), used, err, said)
			if took.Seconds() > seconds || used > megabytes {
				t.Errorf("%s: %v and %d MB, want at most %d s and %d MB", name, took, used, seconds, megabytes)
			}
		})
	}
}

// TestTenThousandLines reads a list of that length in each format, in a share of the 5
// seconds that a person waits. The seconds are of the processor; the engine for PDFs is
// there, as it is from the second one on a computer.
func TestTenThousandLines(t *testing.T) {
	const n = 10_000
	rows := [][]string{{"Line", "Crate", "Bag", "Part number", "Description", "Qty", "Unit", "Status"}}
	for i := 1; i <= n; i++ {
		rows = append(rows, []string{fmt.Sprint(i), fmt.Sprintf("C%d", i/2500+1), fmt.Sprintf("H%d", i/20), fmt.Sprintf("OQ-%05d", i), "Bracket, left", fmt.Sprint(i%90 + 1), "ea", "S"})
	}
	for name, data := range map[string][]byte{"list.csv": []byte(written(t, rows, ',', "\n")), "list.xlsx": asXLSX(t, rows), "list.ods": asODS(t, rows), "list.pdf": nil} {
		t.Run(name, func(t *testing.T) {
			most := 2 * time.Second
			if name == "list.pdf" {
				if testing.Short() {
					t.Skip("it takes seconds")
				}
				most = 4 * time.Second
				readAll(t, name, printed{size: 9, headings: true, feet: true}.pdf(t, rows[:20]))
				data = printed{size: 9, headings: true, feet: true}.pdf(t, rows)
			}
			start := processorTime(t)
			if list := readAll(t, name, data); len(list.Lines) != n || list.Lines[n-1].Designation != "OQ-10000" {
				t.Errorf("got %d lines, want %d", len(list.Lines), n)
			}
			if took := processorTime(t) - start; took > most {
				t.Errorf("took %v of the processor, want at most %v", took, most)
			}
		})
	}
}
