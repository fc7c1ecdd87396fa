package exchange

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// A workbook is read by another program as what it was: figures as numbers, names as texts,
// and no formula.
func TestWriteXLSX(t *testing.T) {
	rows := [][]string{
		{"part number", "order", "note"},
		{"AN3-5A", "10", "<4 & \"5\">"},
		{"007", "007", " =1+1"},
		{"12", "2.5", ""},
		{"a\x00b\xff", "-3", "ends\n"},
	}
	var b bytes.Buffer
	if err := WriteXLSX(&b, "Order & more", rows, map[int]bool{1: true}); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if got := f.GetSheetList(); len(got) != 1 || got[0] != "Order & more" {
		t.Errorf("the sheets are %q", got)
	}
	got, err := f.GetRows("Order & more")
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{rows[0], rows[1], rows[2], rows[3][:2], {"a\uFFFDb", "-3", "ends\n"}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("rows (-want +got):\n%s", d)
	}
	for cell, want := range map[string]excelize.CellType{"A2": excelize.CellTypeInlineString, "B2": excelize.CellTypeUnset, "B3": excelize.CellTypeInlineString, "A4": excelize.CellTypeInlineString, "B4": excelize.CellTypeUnset} {
		if is, err := f.GetCellType("Order & more", cell); err != nil || is != want {
			t.Errorf("%s is of type %d, %v; want %d", cell, is, err, want)
		}
	}
	for n, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 701: "ZZ", 702: "AAA"} {
		if got := columnName(n); got != want {
			t.Errorf("column %d is %s, want %s", n, got, want)
		}
	}
}

// Rows are written for a spreadsheet, and left as they were.
func TestWriteCSV(t *testing.T) {
	rows := [][]string{{"a"}, {"=1+1"}}
	var b strings.Builder
	if err := WriteCSV(&b, rows); err != nil {
		t.Fatal(err)
	}
	got, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil || got[1][0] != "'=1+1" || rows[1][0] != "=1+1" {
		t.Errorf("written is %q, %v; given was %q", got, err, rows)
	}
}
