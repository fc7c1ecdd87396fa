package scan_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"stowright/labels"
	"stowright/labels/scan"
	"stowright/labels/scan/frames"
)

// sheetTags are tags with the right check characters.
func sheetTags(t testing.TB, n int) []string {
	t.Helper()
	const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	var tags []string
	for number := uint64(1); len(tags) < n; number++ {
		body := []byte{'S', "PBCS"[number%4]}
		for shift := 30; shift >= 0; shift -= 5 {
			body = append(body, crockford[number*2654435761>>shift&31])
		}
		for _, check := range crockford {
			if tag := string(body) + string(check); scan.IsTag(tag) {
				tags = append(tags, tag)
			}
		}
	}
	return tags
}

// printedSheet prints the labels of a stock through our own PDF and rasterizes
// it as a printer would.
func printedSheet(t testing.TB, stockName string, dpi int) frames.Printed {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm IS NOT INSTALLED: printed sheets are not photographed")
	}
	stock, err := labels.StockNamed(stockName)
	if err != nil {
		t.Fatal(err)
	}
	var list []labels.Label
	for i, tag := range sheetTags(t, stock.PerPage()) {
		list = append(list, labels.Label{Tag: tag, Name: fmt.Sprintf("AN3-%dA", i), Title: "bolt, undrilled", Place: fmt.Sprintf("A-%d", i)})
	}
	doc, err := labels.Layout(list, stock, labels.Options{})
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sheet")
	var pdf bytes.Buffer
	if err := labels.PDF(&pdf, doc, labels.PDFOptions{Made: time.Unix(0, 0)}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file+".pdf", pdf.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.CommandContext(t.Context(), "pdftoppm", "-r", fmt.Sprint(dpi), "-gray", "-png", "-singlefile", file+".pdf", file).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	picture, err := scan.Open(file + ".png")
	if err != nil {
		t.Fatal(err)
	}
	sheet := frames.Printed{Picture: image.NewGray(picture.Bounds()), Dots: float64(dpi) / 25.4}
	draw.Draw(sheet.Picture, sheet.Picture.Rect, picture, image.Point{}, draw.Src)
	for _, cell := range doc.Pages[0].Cells {
		for _, item := range cell.Items {
			if code, ok := item.(labels.Code); ok {
				b := code.Bounds()
				sheet.Codes = append(sheet.Codes, frames.SheetTag{Text: code.Text, X: b.X, Y: b.Y, Side: b.W})
			}
		}
	}
	if len(sheet.Codes) != len(list) {
		t.Fatalf("%d codes on the sheet, want %d", len(sheet.Codes), len(list))
	}
	return sheet
}

// readAll reads a picture and checks every code against the truth; it gives how
// many of the labels were read.
func readAll(t testing.TB, picture image.Image, truth []frames.Label) int {
	t.Helper()
	report, err := scan.New().Read(t.Context(), picture, scan.Options{Budget: time.Minute, TagsOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]frames.Label{}
	for _, l := range truth {
		at[l.Text] = l
	}
	seen := 0
	for _, code := range report.Codes {
		l, ok := at[code.Text]
		if !ok {
			continue // at the picture's edge, where it is not counted
		}
		seen++
		for i, c := range code.Corners {
			if off := math.Hypot(c.X-l.Corners[i][0], c.Y-l.Corners[i][1]) / l.Module; off > 0.5 {
				t.Errorf("%q: corner %d is %.2f modules off, want 0.5 at most", code.Text, i, off)
			}
		}
	}
	return seen
}

// A whole sheet from our own PDF is read straight from the printer's dots, every
// label of it, down to a few dots a module.
func TestPrintedSheet(t *testing.T) {
	for _, row := range []struct {
		stock string
		dpi   int
	}{{"letter-4x20", 150}, {"a4-3x8", 300}} {
		t.Run(row.stock, func(t *testing.T) {
			sheet := printedSheet(t, row.stock, row.dpi)
			var truth []frames.Label
			for _, code := range sheet.Codes {
				l := frames.Label{Text: code.Text, Module: code.Side * sheet.Dots / 21}
				for i, at := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
					l.Corners[i] = [2]float64{(code.X + at[0]*code.Side) * sheet.Dots, (code.Y + at[1]*code.Side) * sheet.Dots}
				}
				truth = append(truth, l)
			}
			if seen := readAll(t, sheet.Picture, truth); seen != len(truth) {
				t.Errorf("module %.1f dots: %d of %d labels read", truth[0].Module, seen, len(truth))
			}
		})
	}
}

// A sheet held before a webcam: nearly every label that is wholly in view is
// read at two pixels a module.
func TestPhotographedSheet(t *testing.T) {
	if testing.Short() {
		t.Skip("not in short mode")
	}
	sheet := printedSheet(t, "letter-4x20", 300)
	seen, all := 0, 0
	for n := range 2 {
		frame := frames.Photograph(9, n, sheet, 2, 1280, 720)
		seen += readAll(t, frame.Picture, frame.Labels)
		all += len(frame.Labels)
	}
	t.Logf("%d of %d labels read", seen, all)
	if all < 60 || float64(seen) < 0.97*float64(all) {
		t.Errorf("%d of %d labels read, want 97 %%", seen, all)
	}
}
