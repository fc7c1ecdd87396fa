package exchange

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
)

// Every table for people is a file, over others only where that was asked; a cancelled
// export writes none.
func TestExportCSV(t *testing.T) {
	shop, heap := counted(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	folder := filepath.Join(t.TempDir(), "tables")
	if _, err := ExportCSV(ctx, shop, folder, false); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if _, err := os.Stat(folder); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("cancelled, and the folder is there: %v", err)
	}
	files, err := ExportCSV(context.Background(), shop, folder, false)
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	for _, sheet := range store.Sheets() {
		want = append(want, filepath.Join(folder, sheet.File))
	}
	if d := cmp.Diff(want, files); d != "" {
		t.Errorf("files (-want +got):\n%s", d)
	}
	stock := filepath.Join(folder, "stock.csv")
	text, err := os.ReadFile(stock)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) != 2 || !slices.Equal(rows[1], []string{"AN3-5A", "Bin 1", "L-1", "", "20", "", "", "ea"}) {
		t.Errorf("stock.csv: %q, %v", rows, err)
	}
	if _, err := shop.Scrap(store.Transfer{StockKey: heap}, "bent"); err != nil {
		t.Fatal(err)
	}
	if _, err := ExportCSV(context.Background(), shop, folder, false); store.KindOf(err) != store.Conflict {
		t.Errorf("over tables that are there: %v", err)
	}
	if again, err := os.ReadFile(stock); err != nil || !bytes.Equal(again, text) {
		t.Errorf("refused, and stock.csv is %q, %v", again, err)
	}
	if _, err := ExportCSV(context.Background(), shop, folder, true); err != nil {
		t.Errorf("over tables, asked: %v", err)
	}
	if again, err := os.ReadFile(stock); err != nil || bytes.Equal(again, text) {
		t.Errorf("written over, and stock.csv is %q, %v", again, err)
	}
}

// No text of the shop is a formula to a spreadsheet; figures stay figures.
func TestPlainCell(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "AN3-5A": "AN3-5A", "-3": "-3", "+0.5": "+0.5", "1e3": "1e3",
		"=1+1": "'=1+1", "+cmd": "'+cmd", "-cmd": "'-cmd", "@sum(A1)": "'@sum(A1)", "\t=1": "'\t=1", "\r=1": "'\r=1",
	} {
		if got := plainCell(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}
