package labels_test

import (
	"bytes"
	"fmt"
	"time"

	"stowright/labels"
)

// A label for a drawer, on the first free cell of a used sheet.
func Example() {
	stock, err := labels.StockNamed("letter-3x10")
	if err != nil {
		fmt.Println(err)
		return
	}
	list := []labels.Label{{
		Tag: "SP7K3M9QXD", Name: "AN3-5A", Title: "Bolt 10-32, grip 1/4, no pin hole", Place: "A-12",
		Beware: labels.Beware{Name: "AN3-6A", Why: "that one is 1/8 longer"},
	}}
	doc, err := labels.Layout(list, stock, labels.Options{StartAt: 4})
	if err != nil {
		fmt.Println(err)
		return
	}
	var pdf bytes.Buffer
	made := time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)
	if err := labels.PDF(&pdf, doc, labels.PDFOptions{Made: made}); err != nil {
		fmt.Println(err)
		return
	}
	cell := doc.Pages[0].Cells[0]
	fmt.Printf("%s: modules of %.2f mm, label at %.1f mm from the left and %.1f mm from the top\n", stock, doc.Module, cell.X, cell.Y)
	// Output: 66.7 x 25.4 mm, 30 on US Letter: modules of 0.76 mm, label at 74.6 mm from the left and 38.1 mm from the top
}
