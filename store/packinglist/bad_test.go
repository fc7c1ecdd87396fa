package packinglist_test

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"stowright/assets/demo"
	"stowright/store/packinglist"
)

// cells is the demo list with single cells changed: {row, column, text}, row 0
// being the headings.
func cells(t testing.TB, sep rune, changes ...[3]any) []byte {
	t.Helper()
	rows := demoRows(t)
	for _, c := range changes {
		rows[c[0].(int)][c[1].(int)] = c[2].(string)
	}
	return []byte(written(t, rows, sep, "\r\n"))
}

// Columns of the demo list.
const (
	colLine = iota
	colCrate
	colGroup
	colPart
	colDescription
	colQuantity
	colUnit
	colStatus
)

// badTexts are lists that must be refused, by the name of their sample file.
func badTexts(t testing.TB) map[string][]byte {
	whole := cells(t, ',')
	twice := demoRows(t)
	twice = append(twice[:20], twice[19:]...)
	return map[string][]byte{
		"number.csv":           cells(t, ',', [3]any{3, colQuantity, "a few"}, [3]any{30, colQuantity, "0.3.0"}, [3]any{31, colQuantity, "-4"}),
		"unit.csv":             cells(t, ',', [3]any{25, colUnit, "furlong"}),
		"status.csv":           cells(t, ',', [3]any{19, colStatus, "X"}),
		"no-part-numbers.csv":  cells(t, ',', [3]any{0, colPart, "Drawing"}),
		"no-headings.csv":      whole[bytes.IndexByte(whole, '\n')+1:],
		"headings-alone.csv":   whole[:bytes.IndexByte(whole, '\n')+1],
		"line-twice.csv":       []byte(written(t, twice, ',', "\r\n")),
		"line-number.csv":      cells(t, ',', [3]any{4, colLine, "4a"}, [3]any{5, colLine, ""}, [3]any{6, colLine, "0"}),
		"missing-cells.csv":    cells(t, ',', [3]any{8, colPart, ""}, [3]any{9, colQuantity, ""}, [3]any{10, colQuantity, "0"}),
		"dates.csv":            cells(t, ',', [3]any{38, colPart, "4-Mar"}, [3]any{39, colPart, "Mar-05"}, [3]any{40, colPart, "3/6/2026"}, [3]any{41, colPart, "2026-03-07"}, [3]any{43, colQuantity, "2-Jan"}),
		"rounded.csv":          cells(t, ',', [3]any{11, colPart, "1.23E+11"}, [3]any{12, colPart, "#REF!"}),
		"two-ways.csv":         cells(t, ';', [3]any{30, colQuantity, "0,30"}, [3]any{50, colQuantity, "1,150"}),
		"long-cells.csv":       cells(t, ',', [3]any{5, colPart, strings.Repeat("X", 70)}, [3]any{6, colDescription, strings.Repeat("word ", 120)}, [3]any{7, colGroup, strings.Repeat("G", 70)}),
		"cut-in-a-row.csv":     whole[:len(whole)-14],
		"cut-in-a-cell.csv":    whole[:len(whole)-2-len("-EP,Epoxy primer,1,qt,N")],
		"cut-in-quotes.csv":    []byte(strings.Replace(string(whole[:2500]), "Lock nut thin", `"Lock nut thin`, 1)),
		"quotes-over-rows.txt": []byte("Part\tDescription\tQty\nOQ-1\t\"Rib left\t12\nOQ-2\tSkin\"\t7\nOQ-3\tSpar\t1\n"),
		"behind-quotes.csv":    cells(t, ',', [3]any{43, colDescription, "@"}),
		"half-a-character.txt": func() []byte {
			b := utf16Bytes("\ufeff"+string(whole), false)
			return b[:len(b)-1]
		}(),
		"lone-surrogate.txt":     append(utf16Bytes("\ufeff"+string(whole), false), 0x3d, 0xd8),
		"no-utf8-for-a-bom.csv":  append([]byte("\xef\xbb\xbfCaf\xe9,"), whole...),
		"no-known-encoding.csv":  append([]byte("Caf\xe9 \x81,"), whole...),
		"picture.csv":            append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR\x00\x00"), 0, 0, 1, 2, 0, 0),
		"empty.csv":              []byte("\r\n  \r\n"),
		"only-separators.csv":    []byte(",,,\r\n,,,\r\n"),
		"before-2007.xls":        append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 504)...),
		"portable.pdf":           []byte("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"),
		"headings-of-nothing.md": []byte("# A letter\n\nDear builder, your crates are on their way.\n"),
	}
}

// part is a part of a workbook put in place of the one in the demo's.
type part struct{ name, old, new string }

// patched is the demo workbook with text replaced in its parts. A part that is
// not there is added; one whose text is not there is a mistake in the test.
func patched(t testing.TB, parts ...part) []byte {
	t.Helper()
	data := demo.PackingList(demo.PackingListXLSX)
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	write := func(name, body string) {
		w, err := out.Create(name)
		if err == nil {
			_, err = io.WriteString(w, body)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	done := map[string]bool{}
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		text := string(body)
		for _, p := range parts {
			if p.name != f.Name {
				continue
			}
			if done[p.name] = true; !strings.Contains(text, p.old) {
				t.Fatalf("%s has no %q", p.name, p.old)
			}
			text = strings.Replace(text, p.old, p.new, 1)
		}
		write(f.Name, text)
	}
	for _, p := range parts {
		if !done[p.name] {
			write(p.name, p.new)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// book is a workbook of one sheet with the demo list, changed by change.
func book(t testing.TB, change func(*excelize.File) error) []byte {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(demo.PackingList(demo.PackingListXLSX)))
	if err == nil {
		err = change(f)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// zipped is an archive with one file of n zero bytes.
func zipped(t testing.TB, name string, n int64) []byte {
	t.Helper()
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	w, err := out.Create(name)
	if err == nil {
		_, err = io.CopyN(w, zeros{}, n)
	}
	if err == nil {
		err = out.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

const (
	demoSheet   = "Packing list"
	sheetPart   = "xl/worksheets/sheet1.xml"
	stringsPart = "xl/sharedStrings.xml"
)

// badBooks are workbooks that must be refused.
func badBooks(t testing.TB) map[string][]byte {
	whole := demo.PackingList(demo.PackingListXLSX)
	changed := func(cell string, value any) []byte {
		return book(t, func(f *excelize.File) error { return f.SetCellValue(demoSheet, cell, value) })
	}
	return map[string][]byte{
		"cut.xlsx":             whole[:len(whole)*2/3],
		"flipped.xlsx":         append(append(append([]byte{}, whole[:2500]...), ^whole[2500]), whole[2501:]...),
		"cut-sheet.xlsx":       patched(t, part{sheetPart, `<row r="40"`, `<row r="40`}, part{sheetPart, `</sheetData></worksheet>`, ``}),
		"missing-string.xlsx":  patched(t, part{sheetPart, `t="s"><v>20</v>`, `t="s"><v>9999</v>`}),
		"no-string.xlsx":       patched(t, part{sheetPart, `t="s"><v>20</v>`, `t="s"><v>-1</v>`}),
		"rows-mixed.xlsx":      patched(t, part{sheetPart, `<row r="40"`, `<row r="12"`}),
		"rows-twice.xlsx":      patched(t, part{sheetPart, `<row r="40"`, `<row r="39"`}),
		"cells-mixed.xlsx":     patched(t, part{sheetPart, `r="E12"`, `r="B12"`}),
		"declared.xlsx":        patched(t, part{stringsPart, `<sst`, `<!DOCTYPE sst [<!ENTITY a "b">]><sst`}),
		"part-twice.xlsx":      patched(t, part{`XL\sharedStrings.xml`, "", "<sst/>"}),
		"bomb.xlsx":            patched(t, part{"xl/media/image1.bin", "", string(make([]byte, packinglist.MaxUnpacked))}),
		"wide.xlsx":            changed("BZ70", "far away"),
		"date.xlsx":            changed("D12", time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC)),
		"quantity-a-date.xlsx": changed("F12", time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC)),
		"error-cell.xlsx":      changed("D12", "#REF!"),
		"unit.xlsx":            changed("G30", "furlong"),
		"no-value.xlsx":        patched(t, part{sheetPart, `<c r="F12"><v>3</v></c>`, `<c r="F12"><f>SUM(A1:A2)</f></c>`}),
		"blank.xlsx": book(t, func(f *excelize.File) error {
			if _, err := f.NewSheet("Sheet2"); err != nil {
				return err
			}
			return f.DeleteSheet(demoSheet)
		}),
		"photos.zip":  zipped(t, "IMG_1.jpg", 100),
		"binary.xlsb": zipped(t, "xl/workbook.bin", 100),
		"office.docx": zipped(t, "[Content_Types].xml", 0),
		"cut.ods": func() []byte {
			data, err := os.ReadFile(filepath.Join(samples, "outside", "repeated-cells.ods"))
			if err != nil {
				t.Fatal(err)
			}
			return data[:len(data)-400]
		}(),
	}
}

// TestBadFilesAreRefusedWhole compares all that is said of each bad file with
// the sentences kept beside the samples, and wants nothing read of it.
func TestBadFilesAreRefusedWhole(t *testing.T) {
	folder := filepath.Join(samples, "bad")
	files := badTexts(t)
	files["behind-quotes.csv"] = bytes.Replace(files["behind-quotes.csv"], []byte("@"), []byte(`"3/16" bolt`), 1)
	for name, data := range files {
		path := filepath.Join(folder, name)
		if *update {
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if kept, err := os.ReadFile(path); err != nil || !bytes.Equal(kept, data) {
			t.Errorf("%s is not what the test makes of it (%v); run with -update", name, err)
		}
	}
	for name, data := range badBooks(t) {
		files[name] = data
	}
	for name, data := range files {
		t.Run(name, func(t *testing.T) {
			got := said(t, name, data)
			golden := filepath.Join(folder, name+".said.txt")
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got:\n%swant:\n%s", got, want)
			}
		})
	}
}

// said opens and reads a bad file and returns all that is said of it.
func said(t *testing.T, name string, data []byte) string {
	t.Helper()
	table, err := openTable(name, data)
	if err != nil {
		if _, ok := err.(*packinglist.Problem); !ok || table != nil {
			t.Fatalf("Open: got %v, %T; want no table and a *Problem", table, err)
		}
		return err.Error() + "\n"
	}
	list, problems := readTable(table, packinglist.Guess(table))
	if len(problems) == 0 || !list.Empty() || len(list.LeftOut) > 0 {
		t.Fatalf("Read: got %d lines, %d problems; want no lines and some problems", len(list.Lines), len(problems))
	}
	var all strings.Builder
	for _, p := range problems {
		all.WriteString(p.Error() + "\n")
	}
	return all.String()
}
