package packinglist_test

import (
	"bytes"
	"encoding/csv"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"stowright/assets/demo"
)

var update = flag.Bool("update", false, "write the sample packing lists anew")

const samples = "../../testdata/packinglists"

// demoRows are the rows of the demo list, read by encoding/csv.
func demoRows(t testing.TB) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(demo.PackingList(demo.PackingListCSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// written is the rows as text with the separator and line end.
func written(t testing.TB, rows [][]string, sep rune, lineEnd string) string {
	t.Helper()
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = sep
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(b.String(), "\n", lineEnd)
}

// column is the rows with one column put through change, the headings too.
func column(rows [][]string, index int, change func(row int, cell string) string) [][]string {
	out := make([][]string, len(rows))
	for i, r := range rows {
		out[i] = append([]string(nil), r...)
		out[i][index] = change(i, r[index])
	}
	return out
}

func utf16Bytes(s string, bigEndian bool) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		hi, lo := byte(u>>8), byte(u)
		if bigEndian {
			hi, lo = lo, hi
		}
		out = append(out, lo, hi)
	}
	return out
}

// otherWords are other headings than those of the demo, columns in another
// order, titles above and remarks between, as order systems print them.
func otherWords(rows [][]string) [][]string {
	status := map[string]string{"S": "Shipped", "B": "Back-ordered", "N": "Not yet shipped"}
	out := [][]string{
		{"OSTERHOLLOW KITWORKS"},
		{"Packing slip", "", "", "Order no.", "OK-20731"},
		{"Parts listed are packed in the order of the group and box they came in."},
		{},
		{"P/N", "Nomenclature", "QTY.", "U/M", "Ship Status", "Box #", "Bag No.", "Item", "Unit price", "Checked"},
	}
	headings := out[len(out)-1]
	for i, r := range rows[1:] {
		if i == 30 {
			out = append(out, headings)
		}
		if i == 56 {
			out = append(out, []string{"", "CRATE C3 FOLLOWS BY ROAD"})
		}
		out = append(out, []string{r[3], r[4], r[5], strings.ToUpper(r[6]), status[r[7]], r[1], r[2], r[0], "", ""})
	}
	return append(out, []string{}, []string{"", "End of list"})
}

// dialects are the demo list as text in the ways that lists are written.
func dialects(t testing.TB) map[string][]byte {
	rows := demoRows(t)
	decimalComma := column(rows, 5, func(_ int, s string) string { return strings.Replace(s, ".", ",", 1) })
	quoted := column(rows, 4, func(row int, s string) string {
		if row == 0 {
			return s
		}
		return strings.Replace(s, " ", "\n ", 1) + " "
	})
	withTitle := append([][]string{{"Packliste – ½ des Rumpfs, Maße in Zoll"}, {}}, decimalComma...)
	bare := append([][]string{}, rows...)
	return map[string][]byte{
		"commas-lf.csv":                []byte(written(t, rows, ',', "\n")),
		"commas-bom-crlf.csv":          []byte("\ufeff" + written(t, rows, ',', "\r\n")),
		"commas-cr.csv":                []byte(written(t, rows, ',', "\r")),
		"commas-no-end.csv":            []byte(strings.TrimSuffix(written(t, rows, ',', "\n"), "\n")),
		"commas-line-breaks.csv":       []byte(written(t, quoted, ',', "\n")),
		"commas-utf16be.csv":           utf16Bytes("\ufeff"+written(t, rows, ',', "\r\n"), true),
		"commas-utf16le-no-bom.csv":    utf16Bytes(written(t, rows, ',', "\r\n"), false),
		"semicolons-decimal-comma.csv": []byte(written(t, decimalComma, ';', "\r\n")),
		"semicolons-windows-1252.csv":  windows1252(written(t, withTitle, ';', "\r\n")),
		"semicolons-utf16le.csv":       utf16Bytes("\ufeff"+written(t, withTitle, ';', "\r\n"), false),
		"semicolons-sep.csv":           []byte("sep=;\r\n" + written(t, rows, ';', "\r\n")),
		"tabs-utf16le.txt":             utf16Bytes("\ufeff"+written(t, rows, '\t', "\r\n"), false),
		"tabs-utf8.txt":                []byte(written(t, bare, '\t', "\n")),
		"other-words.csv":              []byte(written(t, otherWords(rows), ',', "\r\n")),
		"other-words-tabs.txt":         []byte(written(t, otherWords(rows), '\t', "\n")),
	}
}

// windows1252 encodes the few characters beyond ASCII that the samples use.
func windows1252(s string) []byte {
	var out []byte
	for _, r := range s {
		switch {
		case r == '–':
			out = append(out, 0x96) // Unicode's CP1252.TXT
		case r < 0x100:
			out = append(out, byte(r))
		default:
			panic("a character that the samples should not use")
		}
	}
	return out
}

// coverSheet is the demo list as the second sheet of a workbook, with formatted
// numbers and a note on the first.
func coverSheet(t testing.TB) []byte {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	must := func(err error) {
		if err != nil {
			t.Helper()
			t.Fatal(err)
		}
	}
	must(book.SetCellValue("Sheet1", "B2", "Thank you for your order"))
	_, err := book.NewSheet("List")
	must(err)
	whole, err := book.NewStyle(&excelize.Style{NumFmt: 1}) // shows no decimals
	must(err)
	for i, r := range otherWords(demoRows(t)) {
		for j, text := range r {
			cell, err := excelize.CoordinatesToCellName(j+2, i+3)
			must(err)
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				must(book.SetCellFloat("List", cell, v, -1, 64))
				must(book.SetCellStyle("List", cell, cell, whole))
				continue
			}
			must(book.SetCellStr("List", cell, text))
		}
	}
	buf, err := book.WriteToBuffer()
	must(err)
	return buf.Bytes()
}

// TestEveryDialectIsTheSameList reads the demo list in every dialect and wants
// the very lines of the demo, but for the rows they stand in.
func TestEveryDialectIsTheSameList(t *testing.T) {
	want := readAll(t, "demo.csv", demo.PackingList(demo.PackingListCSV))
	files := dialects(t)
	if *update {
		for name, data := range files {
			if err := os.WriteFile(filepath.Join(samples, "dialects", name), data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, folder := range []string{"dialects", "outside"} {
		entries, err := os.ReadDir(filepath.Join(samples, folder))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if strings.HasSuffix(e.Name(), ".py") {
				continue
			}
			data, err := os.ReadFile(filepath.Join(samples, folder, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if made, ok := files[e.Name()]; folder == "dialects" && (!ok || !bytes.Equal(made, data)) {
				t.Errorf("%s is not what the demo list gives; run with -update and look at the difference", e.Name())
			}
			files[e.Name()] = data
		}
	}
	files["cover-sheet.xlsx"] = coverSheet(t)
	files["demo.xlsx"] = demo.PackingList(demo.PackingListXLSX)
	for name, data := range files {
		t.Run(name, func(t *testing.T) {
			got := readAll(t, name, data)
			if got.Fingerprint() != want.Fingerprint() {
				t.Errorf("fingerprint: got %s, want %s", got.Fingerprint(), want.Fingerprint())
			}
			if len(got.Lines) != len(want.Lines) {
				t.Fatalf("lines: got %d, want %d", len(got.Lines), len(want.Lines))
			}
			for i, line := range got.Lines {
				line.Row, line.Sheet = want.Lines[i].Row, want.Lines[i].Sheet
				if line != want.Lines[i] {
					t.Errorf("line %d: got %+v, want %+v", i+1, line, want.Lines[i])
				}
			}
		})
	}
}
