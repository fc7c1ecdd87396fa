package labels

import (
	"bytes"
	"testing"
)

// TestSamplesOnEveryStock lays the samples out on all stock: everything stays
// in its cell, cells stay in the page, and the PDF is the same twice over.
func TestSamplesOnEveryStock(t *testing.T) {
	for _, stock := range Stocks() {
		t.Run(stock.Name, func(t *testing.T) {
			doc := mustLayout(t, repeat(samples(), 2*stock.PerPage()+1), stock.Name, Options{StartAt: stock.PerPage() / 2})
			checkInside(t, doc)
			var a, b bytes.Buffer
			for _, w := range []*bytes.Buffer{&a, &b} {
				if err := PDF(w, doc, PDFOptions{Made: made}); err != nil {
					t.Fatal(err)
				}
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Error("two PDFs of the same document differ")
			}
		})
	}
}

// checkInside fails for anything that leaves its cell or its page.
func checkInside(t testing.TB, doc Document) {
	t.Helper()
	for n, page := range doc.Pages {
		paper := Rect{0, 0, page.W, page.H}
		for _, it := range page.Items {
			if !it.Bounds().Inside(paper) {
				t.Errorf("page %d: %#v leaves the paper", n+1, it)
			}
		}
		for _, cell := range page.Cells {
			if !cell.Inside(paper) {
				t.Errorf("page %d: cell of label %d leaves the paper: %+v", n+1, cell.Label, cell.Rect)
			}
			for _, it := range cell.Items {
				at := it.Bounds()
				if code, ok := it.(Code); ok {
					at = code.Quiet()
				}
				if !at.Inside(cell.Rect) {
					t.Errorf("page %d, label %d: %#v at %+v leaves the cell %+v", n+1, cell.Label, it, at, cell.Rect)
				}
			}
		}
	}
}
