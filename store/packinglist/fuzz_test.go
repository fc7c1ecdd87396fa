package packinglist_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"stowright/assets/demo"
	"stowright/store/packinglist"
)

// parts is the least workbook there can be around a worksheet and a table of strings.
func parts(t testing.TB, sheet, strs string) []byte {
	t.Helper()
	const (
		main  = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
		rel   = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
		pkg   = "http://schemas.openxmlformats.org/package/2006"
		types = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	)
	return archive(t, [][2]string{
		{
			"[Content_Types].xml", `<Types xmlns="` + pkg + `/content-types"><Override PartName="/xl/workbook.xml" ContentType="` + types + `sheet.main+xml"/>` +
				`<Override PartName="/xl/worksheets/sheet1.xml" ContentType="` + types + `worksheet+xml"/>` +
				`<Override PartName="/xl/sharedStrings.xml" ContentType="` + types + `sharedStrings+xml"/></Types>`,
		},
		{"_rels/.rels", `<Relationships xmlns="` + pkg + `/relationships"><Relationship Id="rId1" Type="` + rel + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook ` + main + ` xmlns:r="` + rel + `"><sheets><sheet name="A" sheetId="1" r:id="rId1"/></sheets></workbook>`},
		{
			"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + pkg + `/relationships"><Relationship Id="rId1" Type="` + rel + `/worksheet" Target="worksheets/sheet1.xml"/>` +
				`<Relationship Id="rId2" Type="` + rel + `/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		},
		{"xl/worksheets/sheet1.xml", strings.Replace(sheet, "<worksheet>", "<worksheet "+main+">", 1)},
		{"xl/sharedStrings.xml", strings.Replace(strs, "<sst>", "<sst "+main+">", 1)},
	})
}

// odsParts is the least ODS workbook around its content.
func odsParts(t testing.TB, content string) []byte {
	t.Helper()
	return archive(t, [][2]string{{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"}, {"content.xml", content}})
}

func archive(t testing.TB, files [][2]string) []byte {
	t.Helper()
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	for _, f := range files {
		w, err := out.Create(f[0])
		if err == nil {
			_, err = io.WriteString(w, f[1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// checkTable holds a table to what its documentation says. It returns nil when
// there is none, after checking the error.
func checkTable(t *testing.T, table *packinglist.Table, err error) *packinglist.Table {
	t.Helper()
	if err != nil {
		p, ok := err.(*packinglist.Problem)
		if !ok || table != nil || p.Message == "" || p.File == "" {
			t.Fatalf("got %v, %#v; want no table and a *Problem", table, err)
		}
		return nil
	}
	last := 0
	for _, r := range table.Rows {
		if r.Number <= last || r.Number > packinglist.MaxRows || len(r.Cells) == 0 || len(r.Cells) > packinglist.MaxColumns || r.Cells[len(r.Cells)-1] == "" {
			t.Fatalf("row %d after row %d with cells %q", r.Number, last, r.Cells)
		}
		last = r.Number
		for _, c := range r.Cells {
			if len(c) > 3*packinglist.MaxCell || !utf8.ValidString(c) || strings.Join(strings.Fields(c), " ") != c {
				t.Fatalf("row %d: cell %q", r.Number, c)
			}
		}
	}
	if last == 0 {
		t.Fatal("a table without rows")
	}
	return table
}

// checkList reads the table and holds the result to what its documentation says:
// all or nothing, no row lost, and the same list again when it is written out
// by another program and read back.
func checkList(t *testing.T, table *packinglist.Table, cols packinglist.Columns) {
	t.Helper()
	list, problems := readTable(table, cols)
	if list.Empty() != (len(problems) > 0) || len(problems) > packinglist.MaxProblems+1 {
		t.Fatalf("%d lines and %d problems", len(list.Lines), len(problems))
	}
	if list.Empty() {
		if list.Order != "" || list.LeftOut != nil || list.Lines != nil {
			t.Fatalf("half a list: %+v", list)
		}
		return
	}
	out := [][]string{{"line", "crate", "group", "part number", "description", "quantity", "unit", "status", "lot"}}
	rows, numbers := map[int]bool{}, map[int]bool{}
	for _, l := range list.Lines {
		if second := rows[l.Row] && l.Status != packinglist.BackOrdered; second || l.Designation == "" || l.Listed.Sign() <= 0 || l.Listed.Unit == "" || (numbers[l.Number] && cols.Column(packinglist.LineNumber) > 0) {
			t.Fatalf("line %+v", l)
		}
		rows[l.Row], numbers[l.Number] = true, true
		out = append(out, []string{
			strconv.Itoa(l.Number), l.Crate, l.Group, l.Designation, l.Description,
			l.Listed.Plain(), string(l.Listed.Unit), l.Status.Letter(), l.Lot,
		})
	}
	for _, n := range list.LeftOut {
		rows[n.Place.Row] = true
	}
	for _, r := range table.Rows {
		if r.Number > cols.Heading && !rows[r.Number] && r.Number != cols.Heading && !repeated(table, cols, r) {
			t.Fatalf("row %d, %q, is neither line nor note", r.Number, r.Cells)
		}
	}
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(out); err != nil {
		t.Fatal(err)
	}
	again, err := openTable("again.csv", b.Bytes())
	if err != nil {
		t.Fatalf("written again: %v\n%s", err, &b)
	}
	back, problems := readBy(again, packinglist.Guess(again), plainly)
	if len(problems) > 0 || back.Fingerprint() != list.Fingerprint() {
		t.Fatalf("written again: %v, got %+v, want %+v\n%s", problems, back.Lines, list.Lines, &b)
	}
}

// repeated says that a row repeats the headings.
func repeated(table *packinglist.Table, cols packinglist.Columns, r packinglist.Row) bool {
	for _, h := range table.Rows {
		if h.Number == cols.Heading {
			return strings.EqualFold(strings.Join(h.Cells, "\x00"), strings.Join(r.Cells, "\x00"))
		}
	}
	return false
}

// seeds adds the samples whose names end in one of the endings, cut to a size
// that the fuzzer changes quickly.
func seeds(f *testing.F, most int, endings ...string) {
	for _, folder := range []string{"dialects", "outside", "bad"} {
		for _, ending := range endings {
			names, err := filepath.Glob(filepath.Join(samples, folder, "*"+ending))
			if err != nil {
				f.Fatal(err)
			}
			for _, name := range names {
				data, err := os.ReadFile(name)
				if err != nil {
					f.Fatal(err)
				}
				f.Add(data[:min(len(data), most)])
			}
		}
	}
}

func FuzzOpenCSV(f *testing.F) {
	seeds(f, 600, ".csv", ".txt")
	f.Add([]byte("Part;Qty;Unit\nOQ-1;0,30;lb\nOQ-2;1,5;ft"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := openTable("list.csv", data)
		if table = checkTable(t, table, err); table != nil {
			checkList(t, table, packinglist.Guess(table))
		}
	})
}

// FuzzRead reads text by columns that no guess would give.
func FuzzRead(f *testing.F) {
	f.Add("Line,Part,Qty,Unit\n1,OQ-1,2,ea\n2,OQ-2,0.30,lb", uint8(1), uint8(2), uint8(3), uint8(4))
	f.Add("1,C1,OQ-1,2\n2,C1,OQ-2,4", uint8(1), uint8(3), uint8(4), uint8(0))
	f.Add("Line,Part,Shipped,B/O\n1,OQ-1,2,1\n2,OQ-2,0,3\n3,OQ-3,1,", uint8(1), uint8(2), uint8(3), uint8(0))
	f.Add("Part,Qty\nMar-04,1/2\n4-Mar,1", uint8(0), uint8(1), uint8(2), uint8(3))
	f.Add("Part;Qty\nOQ-1;1,680\nOQ-2;\"0,5\"", uint8(0), uint8(1), uint8(2), uint8(200))
	f.Fuzz(func(t *testing.T, text string, line, part, quantity, status uint8) {
		table, err := openTable("list.csv", []byte(text))
		if table = checkTable(t, table, err); table == nil {
			return
		}
		cols := packinglist.Guess(table)
		for _, c := range []struct {
			field  packinglist.Field
			column uint8
		}{
			{packinglist.LineNumber, line},
			{packinglist.StatusField, status},
			{packinglist.Quantity, quantity},
			{packinglist.Designation, part},
		} {
			cols = cols.With(c.field, int(c.column))
		}
		checkList(t, table, cols)
	})
}

// FuzzXLSX changes a worksheet and its strings and not the archive around them,
// whose checksums would refuse nearly every change.
func FuzzXLSX(f *testing.F) {
	strs := `<sst><si><t>Part</t></si><si><t>Qty</t></si><si><r><t>OQ-</t></r><r><t>1</t></r></si></sst>`
	f.Add(`<worksheet><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row><row r="2"><c r="A2" t="s"><v>2</v></c><c r="B2"><v>4</v></c></row></sheetData></worksheet>`, strs)
	f.Add(`<worksheet><sheetData><row><c t="inlineStr"><is><t>Part</t></is></c><c t="str"><v>Qty</v></c></row><row><c t="d"><v>2026-03-04</v></c><c t="b"><v>1</v></c></row></sheetData></worksheet>`, strs)
	f.Add(`<worksheet><sheetData><row r="9"><c r="C9" t="e"><v>#REF!</v></c><c r="D9"><f>A1</f></c></row></sheetData></worksheet>`, `<sst/>`)
	f.Fuzz(func(t *testing.T, sheet, strs string) {
		table, err := openTable("list.xlsx", parts(t, sheet, strs))
		if table = checkTable(t, table, err); table != nil {
			checkList(t, table, packinglist.Guess(table))
		}
	})
}

// FuzzWorkbook changes whole archives.
func FuzzWorkbook(f *testing.F) {
	seeds(f, 1<<20, ".xlsx", ".ods")
	f.Add(demo.PackingList(demo.PackingListXLSX))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := openTable("list.xlsx", data)
		if table = checkTable(t, table, err); table != nil {
			checkList(t, table, packinglist.Guess(table))
		}
	})
}

func FuzzODS(f *testing.F) {
	f.Add(`<d><table name="A"><table-row><table-cell><p>Part</p></table-cell><table-cell><p>Qty</p></table-cell></table-row>` +
		`<table-row><table-cell value-type="string"><p>OQ<s/>1</p></table-cell><table-cell value-type="float" value="4"><p>4.00</p></table-cell></table-row></table></d>`)
	f.Add(`<d><table name="A"><table-row number-rows-repeated="3"><table-cell number-columns-repeated="2"><annotation><p>x</p></annotation><p>y</p></table-cell></table-row></table></d>`)
	f.Fuzz(func(t *testing.T, content string) {
		table, err := openTable("list.ods", odsParts(t, content))
		if table = checkTable(t, table, err); table != nil {
			checkList(t, table, packinglist.Guess(table))
		}
	})
}
