package photos

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"stowright/labels"
	"stowright/store"
	"stowright/store/phototest"
	"stowright/store/storetest"
)

// The first page of a paper is seen, whether it is a PDF or a picture, as large as it was
// asked for at most; what cannot be drawn is said to be so.
func TestFirstPage(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	doc, err := labels.Calibration(labels.Stocks()[0])
	if err != nil {
		t.Fatal(err)
	}
	var pdf bytes.Buffer
	if err := labels.PDF(&pdf, doc, labels.PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	broken := []byte("%PDF-1.4\nnothing\nxref\nstartxref\n17\n%%EOF\n")
	for i, row := range []struct {
		data       []byte
		wide, high int
		want       string
	}{
		{phototest.JPEG(300, 200, 1), 150, 100, ""},
		{pdf.Bytes(), 115, 150, ""},
		{broken, 0, 0, "The file of paper PA-3 is a PDF that was cut short or damaged; download it again."},
	} {
		p, _, err := shop.AddPaperFile(store.Paper{Kind: store.LetterPaper}, "paper", row.data)
		if err != nil {
			t.Fatal(err)
		}
		picture, err := FirstPage(context.Background(), shop, p.Number, 150)
		switch {
		case row.want != "":
			if err == nil || !strings.HasPrefix(err.Error(), row.want) {
				t.Errorf("paper %d: %v", i+1, err)
			}
		case err != nil:
			t.Errorf("paper %d: %v", i+1, err)
		case picture.Bounds().Dx() != row.wide || picture.Bounds().Dy() != row.high:
			t.Errorf("paper %d has %v, want %d x %d", i+1, picture.Bounds(), row.wide, row.high)
		}
	}
}
