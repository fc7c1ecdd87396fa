package labels

import (
	"math"
	"strings"
	"testing"
)

// Two numbers as they are measured, and nothing that cannot be one.
func TestParseCorrection(t *testing.T) {
	for _, row := range []struct {
		text string
		want Correction
		ok   bool
	}{
		{"", Correction{}, true},
		{" 0.5  -1.2 ", Correction{0.5, -1.2}, true},
		{"0.5, -1.2", Correction{0.5, -1.2}, true},
		{"10 -10", Correction{10, -10}, true},
		{"10.1 0", Correction{}, false},
		{"1", Correction{}, false},
		{"1 2 3", Correction{}, false},
		{"NaN 0", Correction{}, false},
		{"a little", Correction{}, false},
	} {
		got, err := ParseCorrection(row.text)
		if got != row.want || (err == nil) != row.ok {
			t.Errorf("%q is %+v, %v; want %+v", row.text, got, err, row.want)
		}
		if again, err := ParseCorrection(got.String()); err != nil || again != got {
			t.Errorf("%q is read again as %+v, %v", got, again, err)
		}
	}
}

// Everything on a page moves against the printer's error by the same way, and nothing of
// the document that is corrected does.
func TestCorrectionMovesEverything(t *testing.T) {
	doc := mustLayout(t, samples(), "letter-3x10", Options{CutMarks: true})
	doc.Pages[0].Items = append(doc.Pages[0].Items, Fill{Rect: Rect{20, 20, 5, 5}}, Image{Rect: Rect{20, 20, 5, 5}})
	before := dump(doc)
	moved := Correction{Right: 0.5, Down: -1.25}.Apply(doc)
	if dump(doc) != before {
		t.Error("the document itself was moved")
	}
	if len(moved.Notes) != len(doc.Notes) {
		t.Errorf("notes %v", moved.Notes)
	}
	count := 0
	for n, items := range moved.Pages[0].layers() {
		for i, it := range items {
			was, now := doc.Pages[0].layers()[n][i].Bounds(), it.Bounds()
			for _, off := range []float64{now.X - was.X + 0.5, now.Y - was.Y - 1.25, now.W - was.W, now.H - was.H} {
				if math.Abs(off) > 1e-9 {
					t.Fatalf("%#v is %g mm off: was %+v, is %+v", it, off, was, now)
				}
			}
			count++
		}
	}
	if cell, was := moved.Pages[0].Cells[3].Rect, doc.Pages[0].Cells[3].Rect; cell.X != was.X-0.5 || cell.Y != was.Y+1.25 || count < 100 {
		t.Errorf("the cell went from %+v to %+v; %d items were moved", was, cell, count)
	}
	far := Correction{Right: 8}.Apply(mustLayout(t, samples()[:1], "tape-12", Options{}))
	if len(far.Notes) != 1 || !strings.Contains(far.Notes[0].Text, "moved by -8 and 0 mm") {
		t.Errorf("moved off the tape: %v", far.Notes)
	}
}
