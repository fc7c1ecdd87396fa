package packinglist_test

import (
	"strings"
	"testing"

	"stowright/store/packinglist"
)

// TestTotalsAreHeldAgainstTheLines has a total in each place and wording: it is left out and
// says whether the lines above it add up to it. One that does not is asked about.
func TestTotalsAreHeldAgainstTheLines(t *testing.T) {
	for _, row := range []struct {
		rows string // below two lines of 2 and 3
		why  string // of each row that is left out
		asks bool
	}{
		{"Total,5,", "a total, 5, which the lines above it add up to", false},
		{"Total: 5,,", "a total, 5, which the lines above it add up to", false},
		{",,Total of pieces: 5", "a total, 5, which the lines above it add up to", false},
		{"Total: 7,,", "a total, 7; the lines above it add up to 5", true},
		{"Total,7,", "a total, 7; the lines above it add up to 5", true},
		{"Total,5 pcs,", "a total, 5, which the lines above it add up to", false},
		{"Total lines,2,", "a total, 2, which the lines above it add up to", false},
		{"Total,n/a,", "a total that cannot be read, so it was not checked", false},
		{"Total,,", "a total", false},
		{"Sub-total,5,\nOQ-3,4,\nGrand total,9,", "a total, 5, which the lines above it add up to|a total, 9, which the lines above it add up to", false},
		{"Total page,5,\nOQ-3,4,\nTotal page,4,", "a total, 5, which the lines above it add up to|a total, 4, which the lines above it add up to", false},
		{"Total page,5,\nOQ-3,4,\nTotal page,8,", "a total, 5, which the lines above it add up to|a total, 8; the lines above it add up to 4", true},
		{"Total,5,Rib", "", false},  // a part of that name
		{"OQ-9,4,Total", "", false}, // a part, whatever its words are
		{",Total,", "", false},      // a quantity that is none
		{"Total,5e0,", "a total that cannot be read, so it was not checked", false},
		{"OQ-3,12/24,\nTotal,17,", "a total, to be checked when every row above it is read", false},
		{"OQ-3,some,\nTotal,5,", "a total, to be checked when every row above it is read", false},
	} {
		t.Run(row.rows, func(t *testing.T) {
			r := reading(t, packinglist.Choices{}, "Part,Qty,Description\nOQ-1,2,Rib\nOQ-2,3,Spar\n"+row.rows+"\n")
			var why []string
			for _, l := range r.LeftOut {
				why = append(why, l.Why)
			}
			if got := strings.Join(why, "|"); got != row.why {
				t.Errorf("left out: %s\nwant: %s", got, row.why)
			}
			open := r.Open()
			if asks := len(open) == 1 && open[0].ID == "total"; asks != row.asks || len(open) > 1 {
				t.Errorf("open: %+v; want a question: %v", open, row.asks)
			}
		})
	}
}

// A row above the headings that has what makes a line is asked about; one that has less is a
// title, and so is one whose number is none.
func TestLinesAboveTheHeadings(t *testing.T) {
	for _, row := range []struct {
		above string
		asks  bool
	}{
		{"OQ-9,2,Rib", true},
		{"OQ-9,2,", false},        // two cells: an order number and its page
		{"Kitworks,2,Rib", false}, // no number of a part has no figure
		{",2,Rib", false},
		{"OQ-9,two,Rib", false},
		{"OQ-9,,Rib", false},
	} {
		r := reading(t, packinglist.Choices{}, row.above+"\nPart,Qty,Description\nOQ-1,2,Rib\n")
		asked := len(r.Open()) == 1 && r.Open()[0].ID == "above-headings"
		if asked != row.asks || len(r.Lines) != 1 {
			t.Errorf("%q: asked %v, %d lines; want asked %v and 1", row.above, asked, len(r.Lines), row.asks)
		}
	}
}
