package packinglist

import (
	"encoding/binary"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/packinglist/pdftext"
)

// printedAt are texts on a page, each line as "top| left:text | left:text": every letter is 5
// points wide and 8 high.
func printedAt(lines ...string) pdftext.Page {
	var p pdftext.Page
	for _, line := range lines {
		parts := strings.Split(line, "|")
		top := number(parts[0])
		for _, part := range parts[1:] {
			left, text, _ := strings.Cut(strings.TrimSpace(part), ":")
			at := number(left)
			p.Texts = append(p.Texts, pdftext.Text{Text: text, Left: at, Right: at + 5*float64(len(text)), Top: top, Bottom: top + 8})
		}
	}
	return p
}

func number(s string) float64 {
	n := 0.0
	for _, r := range strings.TrimSpace(s) {
		n = 10*n + float64(r-'0')
	}
	return n
}

// TestLayOut puts texts into rows and cells by where they stand.
func TestLayOut(t *testing.T) {
	const head, first, second = "20|10:Part|100:Description|200:Qty", "40|10:OQ-1|100:Rib|200:2", "60|10:OQ-2|100:Spar|200:3"
	for _, row := range []struct {
		name      string
		pages     []pdftext.Page
		rows      string
		furniture int
	}{
		{"a table", []pdftext.Page{printedAt(head, first, second)}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 0},
		{"texts in any order", []pdftext.Page{printedAt(second, "20|200:Qty|10:Part|100:Description", first)}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 0},
		{"letters that are no column apart", []pdftext.Page{printedAt(head, "40|10:OQ|20:-1|100:Rib|117:left|200:2", second)}, "Part,Description,Qty/OQ-1,Rib left,2/OQ-2,Spar,3", 0},
		{"a little lower in its line", []pdftext.Page{printedAt(head, "40|10:OQ-1|200:2", "43|100:Rib", second)}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 0},
		{"a cell that goes on", []pdftext.Page{printedAt(head, first, "49|100:of the fin", "80|10:OQ-2|100:Spar|200:3")}, "Part,Description,Qty/OQ-1,Rib of the fin,2/OQ-2,Spar,3", 0},
		{"a number that goes on behind its dash", []pdftext.Page{printedAt("20|10:Line|60:Part|140:Description|240:Qty", "40|10:1|60:OQ-|140:Rib|240:2", "49|60:17", "80|10:2|60:OQ-2|140:Spar|240:3")}, "Line,Part,Description,Qty/1,OQ-17,Rib,2/2,OQ-2,Spar,3", 0},
		{"a row as far as rows are", []pdftext.Page{printedAt(head, first, "60|100:Spar", "80|10:OQ-3|100:Cap|200:4")}, "Part,Description,Qty/OQ-1,Rib,2/,Spar,/OQ-3,Cap,4", 0},
		{"near, and in the first column", []pdftext.Page{printedAt(head, first, "49|10:OQ-9", "80|10:OQ-2|100:Spar|200:3")}, "Part,Description,Qty/OQ-1,Rib,2/OQ-9,,/OQ-2,Spar,3", 0},
		{"near, under an empty cell", []pdftext.Page{printedAt("20|10:Part|100:Description|200:Qty|260:Lot", "40|10:OQ-1|100:Rib|200:2", "49|260:L7", "80|10:OQ-2|100:Spar|200:3|260:L8")}, "Part,Description,Qty,Lot/OQ-1,Rib,2,/,,,L7/OQ-2,Spar,3,L8", 0},
		{"the numbers of pages", []pdftext.Page{printedAt(head, first, "700|100:page 1 of 2"), printedAt(second, "700|100:page 2 of 2")}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 2},
		{"a number by itself is no page", []pdftext.Page{printedAt(head, first, second, "700|100:17")}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3/,17,", 0},
		{"a title on each page", []pdftext.Page{printedAt("2|10:Kitworks 1", head, first), printedAt("2|10:Kitworks 2", "40|10:OQ-2|100:Spar|200:3")}, "Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 2},
		{"a title on one page", []pdftext.Page{printedAt("2|10:Kitworks", head, first), printedAt("40|10:OQ-2|100:Spar|200:3")}, "Kitworks,,/Part,Description,Qty/OQ-1,Rib,2/OQ-2,Spar,3", 0},
		{"at another height", []pdftext.Page{printedAt("2|10:Kitworks", head, first), printedAt("9|10:Kitworks", "40|10:OQ-2|100:Spar|200:3")}, "Kitworks,,/Part,Description,Qty/OQ-1,Rib,2/Kitworks,,/OQ-2,Spar,3", 0},
		{"a long cell over its neighbour", []pdftext.Page{printedAt(head, "40|10:OQ-1|100:Rib of the tailplane left|240:2", second)}, "Part,Description,Qty/OQ-1,Rib of the tailplane left,2/OQ-2,Spar,3", 0},
		{"blanks, and texts turned inside out", []pdftext.Page{{Texts: []pdftext.Text{{Text: " ", Right: 5, Bottom: 8}, {Text: "x", Left: 9, Right: 5, Bottom: 8}, {Text: "y", Right: 5, Top: 9, Bottom: 9}}}}, "", 0},
		{"no table", []pdftext.Page{printedAt("20|10:Dear builder", "40|10:all is well")}, "Dear builder/all is well", 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			rows, furniture := layOut(row.pages)
			var got []string
			for _, r := range rows {
				got = append(got, strings.Join(r, ","))
			}
			if diff := cmp.Diff(row.rows, strings.Join(got, "/")); diff != "" || furniture != row.furniture {
				t.Errorf("%d heads and feet, want %d:\n%s", furniture, row.furniture, diff)
			}
		})
	}
}

// FuzzLayOut lays out texts wherever they stand: every row has all columns, and every letter
// is in a cell or is furniture.
func FuzzLayOut(f *testing.F) {
	f.Add("Part Description Qty OQ-1 Rib 2", []byte{1, 2, 10, 2, 20, 2, 1, 4, 10, 4, 20, 4})
	f.Add("a b c", []byte{255, 255, 0, 0, 7})
	f.Fuzz(func(t *testing.T, words string, at []byte) {
		var page pdftext.Page
		letters := 0
		coordinate := func(i int) float64 {
			if i+8 <= len(at) && at[i]%7 == 0 { // any float there is
				return math.Float64frombits(binary.LittleEndian.Uint64(at[i:]))
			}
			if len(at) == 0 {
				return 0
			}
			return float64(at[i%len(at)]) * 3
		}
		for i, w := range strings.Fields(words) {
			text := pdftext.Text{Text: w, Left: coordinate(2 * i), Top: coordinate(2*i + 1)}
			text.Right, text.Bottom = text.Left+5*float64(len(w)), text.Top+8
			page.Texts = append(page.Texts, text)
			if text.Right >= text.Left && text.Bottom > text.Top && fold(w) != "" {
				letters += len(strings.ReplaceAll(fold(w), " ", ""))
			}
		}
		rows, furniture := layOut([]pdftext.Page{page})
		got := 0
		for _, r := range rows {
			if len(r) != len(rows[0]) || len(r) > MaxColumns {
				t.Fatalf("a row of %d cells, the first has %d", len(r), len(rows[0]))
			}
			got += len(strings.ReplaceAll(strings.Join(r, ""), " ", ""))
		}
		if got > letters || furniture == 0 && got != letters {
			t.Errorf("%d letters in cells, of %d, %d heads and feet: %q", got, letters, furniture, rows)
		}
	})
}
