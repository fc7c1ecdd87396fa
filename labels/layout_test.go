package labels

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// TestSamplesOnEveryStock lays the samples out on all stock: everything stays
// in its cell, cells stay in the page, and the PDF is the same twice over.
func TestSamplesOnEveryStock(t *testing.T) {
	for _, stock := range Stocks() {
		t.Run(stock.Name, func(t *testing.T) {
			doc := mustLayout(t, repeat(samples(), 2*stock.PerPage()+1), stock.Name, Options{StartAt: stock.PerPage() / 2, CutMarks: true})
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

// TestStartAt fills a used sheet from its first free cell.
func TestStartAt(t *testing.T) {
	cases := []struct {
		name          string
		start, labels int
		pages         []int // labels on each page
	}{
		{"fresh sheet", 0, 30, []int{30}},
		{"one over", 0, 31, []int{30, 1}},
		{"used sheet", 25, 5, []int{5}},
		{"used sheet, one over", 25, 6, []int{5, 1}},
		{"last cell", 29, 62, []int{1, 30, 30, 1}},
		{"nothing", 3, 0, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := mustLayout(t, repeat(samples(), c.labels), "letter-3x10", Options{StartAt: c.start})
			var got []int
			next := c.start
			for _, p := range doc.Pages {
				got = append(got, len(p.Cells))
				for _, cell := range p.Cells {
					if want := doc.Stock.Cell(next % 30); cell.Rect != want || cell.Label != next-c.start {
						t.Errorf("label %d at %+v, want label %d at %+v", cell.Label, cell.Rect, next-c.start, want)
					}
					next++
				}
			}
			if !slices.Equal(got, c.pages) || doc.Labels() != c.labels {
				t.Errorf("pages hold %v, %d labels, want %v, %d", got, doc.Labels(), c.pages, c.labels)
			}
		})
	}
}

// Copies of a label lie one after the other, with one note for all of them.
func TestCopies(t *testing.T) {
	list := samples()[:2]
	list[1].Name = "螺"
	doc := mustLayout(t, list, "letter-3x10", Options{StartAt: 28, Copies: 3})
	var got []string
	for n, page := range doc.Pages {
		for _, cell := range page.Cells {
			code, _ := codeOf(cell)
			at := code.Text == list[cell.Label].Tag && cell.Rect == doc.Stock.Cell((28+len(got))%30)
			got = append(got, fmt.Sprint(n, cell.Label, at))
		}
	}
	if want := "0 0 true, 0 0 true, 1 0 true, 1 1 true, 1 1 true, 1 1 true"; strings.Join(got, ", ") != want {
		t.Errorf("sheet, label, and whether its code is in its cell: %s, want %s", strings.Join(got, ", "), want)
	}
	if len(doc.Notes) != 1 || doc.Notes[0].Label != 1 {
		t.Errorf("notes %v, want one of label 1", doc.Notes)
	}
}

func TestLayoutErrors(t *testing.T) {
	good := []Label{{Tag: "SP7K3M9QXD", Name: "AN3-5A"}}
	letter := Stocks()[0]
	small := Stock{Name: "small", Words: "Small", PageW: 12, PageH: 12, Cols: 1, Rows: 1, CellW: 12, CellH: 12, Dot: 0.1}
	stop := errors.New("stopped")
	with := func(change func(*Stock)) Stock { s := letter; change(&s); return s }
	cases := []struct {
		name  string
		list  []Label
		stock Stock
		opt   Options
		want  string
	}{
		{"start before the first cell", good, letter, Options{StartAt: -1}, "start at cell 0: a sheet of 66.7 x 25.4 mm, 30 on US Letter has cells 1 to 30"},
		{"start after the last cell", good, letter, Options{StartAt: 30}, "start at cell 31: a sheet of 66.7 x 25.4 mm, 30 on US Letter has cells 1 to 30"},
		{"copies", good, letter, Options{Copies: MostCopies + 1}, "101 copies of each label: at most 100 are printed at once"},
		{"tag too long", append(good, Label{Tag: "SP7K3M9QXD0"}), letter, Options{}, `label 2 (tag "SP7K3M9QXD0"): 11 characters do not fit the code; use at most 10`},
		{"tag outside the alphabet", []Label{{Tag: "sp"}}, letter, Options{}, `label 1 (tag "sp"): a code cannot hold 's'; use capital letters and digits`},
		{"stock too small", good, small, Options{}, `label 1 (tag "SP7K3M9QXD"): Small is too small for a code with modules of 0.33 mm; pick larger stock`},
		{"nothing inside the margins", []Label{{}}, with(func(s *Stock) { s.CellH = 5 }), Options{}, `label 1 (tag ""): 66.7 x 25.4 mm, 30 on US Letter leaves no room inside its margins; pick larger stock`},
		{"stopped", good, letter, Options{Progress: func(int, int) error { return stop }}, "stopped"},
		{"no stock", good, Stock{}, Options{}, `stock "": a length of 0 mm is not between 0 and 2000`},
		{"not a number", good, with(func(s *Stock) { s.Edge = math.NaN() }), Options{}, `stock "letter-3x10": a distance of NaN mm is not between 0 and 2000`},
		{"no cells", good, with(func(s *Stock) { s.Rows = 0 }), Options{}, `stock "letter-3x10": 3 x 0 cells, want 1 to 100 each way`},
		{"cells overlap", good, with(func(s *Stock) { s.PitchX = 60 }), Options{}, `stock "letter-3x10": cells overlap`},
		{"cells leave the page", good, with(func(s *Stock) { s.Top = 30 }), Options{}, `stock "letter-3x10": the last cell leaves the page`},
		{"tape in columns", good, with(func(s *Stock) { s.Tape = true }), Options{}, `stock "letter-3x10": tape has one cell`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := Layout(c.list, c.stock, c.opt)
			if err == nil || err.Error() != c.want {
				t.Errorf("error %v\n want %s", err, c.want)
			}
		})
	}
}

func TestStocks(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range Stocks() {
		if err := s.Check(); err != nil {
			t.Error(err)
		}
		if seen[s.Name] {
			t.Errorf("two stocks are named %q", s.Name)
		}
		seen[s.Name] = true
		// A grid is centred on its sheet; a margin that differs is a slip in a figure.
		last := s.Cell(s.PerPage() - 1)
		if right := s.PageW - last.Right(); math.Abs(right-s.Left) > 0.01 {
			t.Errorf("%s: left margin %.3f mm, right margin %.3f mm", s.Name, s.Left, right)
		}
		if bottom := s.PageH - last.Bottom(); math.Abs(bottom-s.Top) > 0.01 {
			t.Errorf("%s: top margin %.3f mm, bottom margin %.3f mm", s.Name, s.Top, bottom)
		}
	}
	var noStock *StockError
	if _, err := StockNamed("papyrus"); !errors.As(err, &noStock) || noStock.Name != "papyrus" {
		t.Errorf("StockNamed(papyrus): %v, want a *StockError", err)
	}
}

// TestNotes checks that what a label loses is said, and nothing else is.
func TestNotes(t *testing.T) {
	long := strings.Repeat("very very, ", 16) + "long"
	endless := strings.Repeat("W", 300)
	cases := []struct {
		name  string
		stock string
		label Label
		want  []string
	}{
		{"full card", "letter-3x10", samples()[0], nil},
		{"scaled piece", "a4-5x13", samples()[0], []string{"the piece does not fit at true size and is drawn at 1:3"}},
		{"long title", "letter-3x10", Label{Tag: "SP7K3M9QXD", Title: long}, []string{fmt.Sprintf("the title %q is too long for this stock and is shortened", long)}},
		{"endless title", "letter-2x3", Label{Title: endless}, []string{
			fmt.Sprintf("the text %q is longer than 200 characters and is cut", endless[:200]+ellipsis),
			fmt.Sprintf("the title %q is too long for this stock and is shortened", endless[:200]+ellipsis),
		}},
		{"long place", "letter-3x10", Label{Place: strings.Repeat("A", 40)}, []string{fmt.Sprintf("the place %q is too long for this stock and is shortened", strings.Repeat("A", 40))}},
		{"lost character", "letter-3x10", Label{Name: "螺"}, []string{"one character is not in the typeface and prints as a question mark: 螺"}},
		{"lost characters", "letter-3x10", Label{Name: "螺栓"}, []string{"2 characters are not in the typeface and print as question marks: 螺 栓"}},
		{"right to left, and more than is named", "letter-3x10", Label{Title: "אבגדהוזחטיכלמ אבג"}, []string{"16 characters are not in the typeface and print as question marks: א ב ג ד ה ו ז ח ט י כ ל and others"}},
		{"not UTF-8", "letter-3x10", Label{Name: "A\xff"}, []string{"one character is not in the typeface and prints as a question mark: U+FFFD"}},
		{"too many lines", "letter-4x20", Label{Name: "A", Lines: []string{"x"}}, nil},
		{"more lines than room", "letter-3x10", Label{Name: "A", Lines: strings.Split("a b c d e f g h i j", " ")}, []string{`there is no room for "g"`, `there is no room for "h"`, `there is no room for "i"`, `there is no room for "j"`}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			doc := mustLayout(t, []Label{c.label}, c.stock, Options{})
			var got []string
			for _, n := range doc.Notes {
				got = append(got, n.Text)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("notes %q\n want %q", got, c.want)
			}
		})
	}
}

// TestLookAlikeIsOnEveryCard sets a label with a look-alike on all stock.
func TestLookAlikeIsOnEveryCard(t *testing.T) {
	for _, stock := range Stocks() {
		t.Run(stock.Name, func(t *testing.T) {
			doc := mustLayout(t, samples()[1:2], stock.Name, Options{})
			for _, it := range doc.Pages[0].Cells[0].Items {
				if text, ok := it.(Text); ok && strings.Contains(text.Text, "≠ AN470AD4-4") {
					return
				}
			}
			t.Errorf("no look-alike on %s; notes %v", stock.Name, doc.Notes)
		})
	}
}

// TestPieceIsAtTrueSize measures the bolt on a card in the display list.
func TestPieceIsAtTrueSize(t *testing.T) {
	doc := mustLayout(t, samples()[:1], "letter-3x10", Options{})
	var points []Point
	for _, it := range doc.Pages[0].Cells[0].Items {
		if p, ok := it.(Path); ok {
			points = append(points, p.Points...)
		}
	}
	want := bolt().Bounds()
	if got := boundsOf(points); math.Abs(got.W-want.W) > 1e-6 || math.Abs(got.H-want.H) > 1e-6 {
		t.Errorf("piece is drawn %.3f x %.3f mm, is %.3f x %.3f", got.W, got.H, want.W, want.H)
	}
}

// A closed dashed path whose sides are whole numbers of strokes and gaps, give or
// take a rounding, once cut dashes of no length for ever.
func TestDashesEnd(t *testing.T) {
	for _, side := range []float64{1, 1.6, 3.2, 1.6 * 7, 0.1 + 0.2, 9.525 / 3, 1e-17} {
		p := Path{Dashed: true, Closed: true, Points: []Point{{0, 0}, {side, 0}, {side, side}, {0, side}}}
		total := 0.0
		for _, s := range p.segments() {
			total += math.Hypot(s[1].X-s[0].X, s[1].Y-s[0].Y)
		}
		whole := 4 * side
		if total > whole+1e-9 || total < whole*dashStroke/(dashStroke+dashGap)-dashGap {
			t.Errorf("side %g: %g mm of dashes on a way of %g mm", side, total, whole)
		}
	}
}
