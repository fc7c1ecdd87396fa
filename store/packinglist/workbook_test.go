package packinglist_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/assets/demo"
	"stowright/store/packinglist"
)

// sheets is a workbook with the given sheets of cells, in order.
func sheets(t testing.TB, names []string, rows map[string][][]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", names[0]))
	for _, name := range names {
		_, err := f.NewSheet(name)
		must(err)
		for i, r := range rows[name] {
			cell, err := excelize.CoordinatesToCellName(1, i+1)
			must(err)
			must(f.SetSheetRow(name, cell, &r))
		}
	}
	buf, err := f.WriteToBuffer()
	must(err)
	return buf.Bytes()
}

func TestSheetsThatAreLists(t *testing.T) {
	list := func(part string) [][]any { return [][]any{{"Part no", "Qty"}, {part, 1}} }
	rows := map[string][][]any{"Cover": {{"Welcome"}}, "Blank": nil, "C1": list("OQ-1"), "C2": list("OQ-2")}
	data := sheets(t, []string{"Cover", "Blank", "C1", "C2"}, rows)
	for _, c := range []struct {
		name   string
		chosen map[string]bool
		want   string
	}{
		{"all that are lists", nil, "C1 OQ-1; C2 OQ-2"},
		{"one left out", map[string]bool{"C1": false}, "C2 OQ-2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := packinglist.Open("list.xlsx", data)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, l := range book.Read(packinglist.Choices{Sheets: c.chosen}).Lines {
				got = append(got, l.Sheet+" "+l.Designation)
			}
			if strings.Join(got, "; ") != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	t.Run("a sheet that is not there", func(t *testing.T) {
		book, err := packinglist.Open("list.xlsx", data)
		if err != nil {
			t.Fatal(err)
		}
		if _, problems := book.Read(packinglist.Choices{Sheets: map[string]bool{"C3": true}}).List(); len(problems) != 1 || !strings.Contains(problems[0].Message, "Cover, Blank, C1, C2") {
			t.Errorf("got %v, want one problem that names the sheets", problems)
		}
	})
	t.Run("no headings, the first that is filled", func(t *testing.T) {
		data := sheets(t, []string{"Blank", "Cover"}, rows)
		if table, err := openTable("list.xlsx", data); err != nil || table.Sheet != "Cover" {
			t.Errorf("got %+v, %v; want sheet Cover", table, err)
		}
	})
	t.Run("a sheet beside it that is too wide", func(t *testing.T) {
		rows := map[string][][]any{"Wide": {make([]any, packinglist.MaxColumns+5)}, "C1": list("OQ-1")}
		rows["Wide"][0][packinglist.MaxColumns+4] = "far away"
		if table, err := openTable("list.xlsx", sheets(t, []string{"Wide", "C1"}, rows)); err != nil || table.Sheet != "C1" {
			t.Errorf("got %+v, %v; want sheet C1", table, err)
		}
	})
}

// TestCellsAsShownAndAsStored has cells whose stored number differs from what
// their format shows.
func TestCellsAsShownAndAsStored(t *testing.T) {
	style := func(id int, custom string) func(f *excelize.File) error {
		return func(f *excelize.File) error {
			s := &excelize.Style{NumFmt: id}
			if custom != "" {
				s.CustomNumFmt = &custom
			}
			n, err := f.NewStyle(s)
			if err != nil {
				return err
			}
			return f.SetCellStyle("Sheet1", "A2", "B2", n)
		}
	}
	for _, c := range []struct {
		name           string
		part, quantity any
		style          func(*excelize.File) error
		wantPart       string
		wantQuantity   string
	}{
		{"a number as part number", 12.0, 4, nil, "12", "4"},
		{"zeros in front by the format", 12, 4, style(0, "0000"), "0012", "4"},
		{"dashes by the format", 12345, 4, style(0, "00-000"), "12-345", "4"},
		{"decimals hidden", "OQ-1", 1.5, style(0, `0" lb"`), "OQ-1", "1.5"},
		{"thousands shown", "OQ-1", 1680, style(3, ""), "OQ-1", "1680"},
		{"binary noise", "OQ-1", 0.1 + 0.2, style(0, `0.00" lb"`), "OQ-1", "0.3"},
		{"binary noise and no decimals", "OQ-1", 3 + 4e-16, style(2, ""), "OQ-1", "3"},
		{"text that is a number", "12.0", "4", nil, "12.0", "4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := excelize.NewFile()
			defer f.Close()
			err := f.SetSheetRow("Sheet1", "A1", &[]any{"Part", "Qty"})
			if err == nil {
				err = f.SetSheetRow("Sheet1", "A2", &[]any{c.part, c.quantity})
			}
			if err == nil && c.style != nil {
				err = c.style(f)
			}
			if err != nil {
				t.Fatal(err)
			}
			buf, err := f.WriteToBuffer()
			if err != nil {
				t.Fatal(err)
			}
			list := readAll(t, "list.xlsx", buf.Bytes())
			if l := list.Lines[0]; l.Designation != c.wantPart || l.Listed.Plain() != c.wantQuantity {
				t.Errorf("got %q, %s; want %q, %s", l.Designation, l.Listed.Plain(), c.wantPart, c.wantQuantity)
			}
		})
	}
}

func TestContentDecidesAndNotTheName(t *testing.T) {
	for name, data := range map[string][]byte{
		"really-a-workbook.csv": demo.PackingList(demo.PackingListXLSX),
		"really-text.xlsx":      demo.PackingList(demo.PackingListCSV),
	} {
		if list := readAll(t, name, data); len(list.Lines) != 60 {
			t.Errorf("%s: got %d lines, want 60", name, len(list.Lines))
		}
	}
}

func TestOpenFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "list.csv")
	if _, err := packinglist.OpenFile(t.Context(), path); err == nil || strings.Contains(err.Error(), filepath.Dir(path)) || !strings.HasPrefix(err.Error(), "list.csv: cannot be opened") {
		t.Errorf("no such file: got %v", err)
	}
	if err := os.WriteFile(path, demo.PackingList(demo.PackingListCSV), 0o600); err != nil {
		t.Fatal(err)
	}
	if book, err := packinglist.OpenFile(t.Context(), path); err != nil || book.File != "list.csv" || len(book.Sheets[0].Table.Rows) != 61 {
		t.Errorf("got %+v, %v", book, err)
	}
	if _, err := packinglist.OpenFile(t.Context(), filepath.Dir(path)); err == nil {
		t.Error("a folder: want an error")
	}
	if err := os.WriteFile(path, make([]byte, packinglist.MaxBytes+1), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := packinglist.OpenFile(t.Context(), path); err == nil || !strings.Contains(err.Error(), "larger than 8 MB") {
		t.Errorf("too large a file: got %v", err)
	}
}

// TestLimits has, for each bound, the largest list within it and the smallest beyond.
func TestLimits(t *testing.T) {
	rows := func(n int) string { return "Part,Qty\n" + strings.Repeat("OQ-1,1\n", n-1) }
	for _, c := range []struct {
		name, inside, beyond, want string
	}{
		{"rows", rows(packinglist.MaxRows), rows(packinglist.MaxRows + 1), "row 20001: the list goes on past row 20000"},
		{"columns", strings.Repeat(",", packinglist.MaxColumns-1) + "x\n", strings.Repeat(",", packinglist.MaxColumns) + "x\n", "column BM"},
		{"cell", strings.Repeat("x", packinglist.MaxCell), "a\nb," + strings.Repeat("x", packinglist.MaxCell+1), "row 2, column B: the cell holds more than 4096"},
		{"blank rows do not count", rows(2) + strings.Repeat(",\n", 2*packinglist.MaxRows), rows(2) + strings.Repeat(",\n", 2*packinglist.MaxRows) + "x", "past row 20000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := openTable("list.csv", []byte(c.inside)); err != nil {
				t.Errorf("inside: %v", err)
			}
			if table, err := openTable("list.csv", []byte(c.beyond)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("beyond: got table %v, %v; want %q", table != nil, err, c.want)
			}
		})
	}
}

// TestWorkbooksThatMultiply have little in the file and much once read.
func TestWorkbooksThatMultiply(t *testing.T) {
	long := strings.Repeat("x", packinglist.MaxCell)
	manyRows := func(cells string, n int) string {
		return `<worksheet><sheetData>` + strings.Repeat(`<row>`+cells+`</row>`, n) + `</sheetData></worksheet>`
	}
	wide := strings.Repeat(`<c t="s"><v>0</v></c>`, 60)
	for _, c := range []struct {
		name, sheet, str, want string
	}{
		{"one string in every cell", manyRows(wide, 1000), long, "more than 16 MB of text"},
		{"a row without end", manyRows(strings.Repeat(wide, 20), 1), "x", "does not hold together"},
		{"a string without end", manyRows(wide, 1), strings.Repeat("x", 70_000), "does not hold together"},
		{"blank cells far to the right", manyRows(`<c r="XFD1"><f>A1</f></c>`, 1), "x", "has no filled sheet"},
		{"a cell far to the right", manyRows(`<c r="XFD1"><v>1</v></c>`, 1), "x", "goes on too far to the right"},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := parts(t, c.sheet, `<sst><si><t>`+c.str+`</t></si></sst>`)
			if table, err := openTable("list.xlsx", data); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got table %v, %v; want %q", table != nil, err, c.want)
			}
		})
	}
	t.Run("ODS cells repeated", func(t *testing.T) {
		content := `<document-content><table name="A"><table-row number-rows-repeated="1048576">` +
			`<table-cell number-columns-repeated="16384"><p>` + long + `</p></table-cell></table-row></table></document-content>`
		if table, err := openTable("list.ods", odsParts(t, content)); err == nil || !strings.Contains(err.Error(), "past column BL") {
			t.Errorf("got table %v, %v", table != nil, err)
		}
		content = strings.Replace(content, `columns-repeated="16384"`, `columns-repeated="64"`, 1)
		if table, err := openTable("list.ods", odsParts(t, content)); err == nil || !strings.Contains(err.Error(), "more than 16 MB of text") {
			t.Errorf("got table %v, %v", table != nil, err)
		}
	})
}
