package demo_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"flag"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"stowright/assets/demo"
)

//go:generate go test . -run TestWorkbookIsTheCSV -update

var update = flag.Bool("update", false, "write the workbook anew from the CSV file")

// TestWorkbookIsTheCSV proves that the workbook is what workbook makes of the
// CSV file, byte for byte, or with -update writes it.
func TestWorkbookIsTheCSV(t *testing.T) {
	rows, err := csv.NewReader(bytes.NewReader(demo.PackingList(demo.PackingListCSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := workbook(t, rows)
	if *update {
		if err := os.WriteFile(demo.PackingListXLSX, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got := demo.PackingList(demo.PackingListXLSX); !bytes.Equal(got, want) {
		t.Errorf("%s is not what the CSV file gives (%d bytes, want %d): run go generate ./assets/demo", demo.PackingListXLSX, len(got), len(want))
	}
}

// workbook writes the list as kit makers do: a block of titles, a blank row, the
// headings, and figures as numbers that show two places when sold by weight.
func workbook(t *testing.T, rows [][]string) []byte {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	const sheet = "Packing list"
	steps := []error{
		book.SetSheetName("Sheet1", sheet),
		book.SetDocProps(&excelize.DocProperties{
			Creator: demo.Supplier, LastModifiedBy: demo.Supplier, Created: "2026-03-10T08:00:00Z", Modified: "2026-03-10T08:00:00Z",
		}),
		book.SetCellValue(sheet, "A1", demo.Supplier),
		book.SetCellValue(sheet, "A2", "Packing list: "+demo.Kit),
		book.SetCellValue(sheet, "A3", "Order: "+demo.Order),
		book.SetCellValue(sheet, "A4", "S shipped, B back-ordered, N not arrived. Check each crate on the day it comes."),
		book.SetColWidth(sheet, "D", "E", 28),
	}
	bold, err := book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}})
	steps = append(steps, err)
	twoPlaces, err := book.NewStyle(&excelize.Style{NumFmt: 2}) // 0.00
	steps = append(steps, err)
	for i, row := range rows {
		for j, text := range row {
			cell, err := excelize.CoordinatesToCellName(j+1, i+6)
			steps = append(steps, err)
			number, notNumber := strconv.ParseFloat(text, 64)
			switch {
			case i == 0:
				heading := strings.Replace(text, "Quantity", "Qty", 1)
				steps = append(steps, book.SetCellValue(sheet, cell, heading), book.SetCellStyle(sheet, cell, cell, bold))
			case notNumber == nil && (j == 0 || j == 5):
				steps = append(steps, book.SetCellValue(sheet, cell, number))
				if strings.Contains(text, ".") {
					steps = append(steps, book.SetCellStyle(sheet, cell, cell, twoPlaces))
				}
			default:
				steps = append(steps, book.SetCellValue(sheet, cell, text))
			}
		}
	}
	buf, err := book.WriteToBuffer()
	for _, err := range append(steps, err) {
		if err != nil {
			t.Fatal(err)
		}
	}
	return sorted(t, buf.Bytes())
}

// sorted packs an archive anew with its parts in order and no times, since the
// library writes them in any order.
func sorted(t *testing.T, data []byte) []byte {
	t.Helper()
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	slices.SortFunc(in.File, func(a, b *zip.File) int { return strings.Compare(a.Name, b.Name) })
	var buf bytes.Buffer
	out := zip.NewWriter(&buf)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		w, err := out.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(w, r); err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}
