package labels

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// The grids in the figures of common label sheets: what a sheet of that many labels has
// for margins, labels and pitch, worked out by hand from the paper and the label.
// Letter sheets are in inches, A4 sheets in millimetres.
func TestStockGeometry(t *testing.T) {
	const mm, in = 1.0, 25.4
	for _, row := range []struct {
		name         string
		unit         float64
		pageW, pageH float64
		left, top    float64
		cellW, cellH float64
		pitchX       float64
		pitchY       float64
		edge, dot    float64 // millimetres
		perPage      int
	}{
		{"letter-3x10", in, 8.5, 11, 0.1875, 0.5, 2.625, 1, 2.75, 1, 4.2333, 0.042333, 30},
		{"letter-2x10", in, 8.5, 11, 0.15625, 0.5, 4, 1, 4.1875, 1, 4.2333, 0.042333, 20},
		{"letter-2x5", in, 8.5, 11, 0.15625, 0.5, 4, 2, 4.1875, 2, 4.2333, 0.042333, 10},
		{"letter-2x3", in, 8.5, 11, 0.15625, 0.5, 4, 3.33333, 4.1875, 3.33333, 4.2333, 0.042333, 6},
		{"letter-4x20", in, 8.5, 11, 0.28125, 0.5, 1.75, 0.5, 2.0625, 0.5, 4.2333, 0.042333, 80},
		{"a4-3x7", mm, 210, 297, 7.21, 15.15, 63.5, 38.1, 66.04, 38.1, 4.2333, 0.042333, 21},
		{"a4-3x8", mm, 210, 297, 7.25, 12.9, 63.5, 33.9, 66, 33.9, 4.2333, 0.042333, 24},
		{"a4-3x10", mm, 210, 297, 0, 0, 70, 29.7, 70, 29.7, 4.2333, 0.042333, 30},
		{"a4-2x7", mm, 210, 297, 4.65, 15.15, 99.1, 38.1, 101.6, 38.1, 4.2333, 0.042333, 14},
		{"a4-2x4", mm, 210, 297, 4.65, 13.1, 99.1, 67.7, 101.6, 67.7, 4.2333, 0.042333, 8},
		{"a4-5x13", mm, 210, 297, 4.75, 10.7, 38.1, 21.2, 40.6, 21.2, 4.2333, 0.042333, 65},
		{"a4-4x10", mm, 210, 297, 8, 21.5, 48.5, 25.4, 48.5, 25.4, 4.2333, 0.042333, 40},
		{"a4-2x8", mm, 210, 297, 4.65, 12.9, 99.1, 33.9, 101.6, 33.9, 4.2333, 0.042333, 16},
		{"a4-4x12", mm, 210, 297, 9.7, 21.3, 45.7, 21.2, 48.3, 21.2, 4.2333, 0.042333, 48},
		{"a4-3x6", mm, 210, 297, 7.21, 8.7, 63.5, 46.6, 66.04, 46.6, 4.2333, 0.042333, 18},
		{"crate-100x62", mm, 100, 62, 0, 0, 100, 62, 100, 62, 1.5, 0.084667, 1},
		{"tape-12", mm, 90, 12, 0, 0, 90, 12, 90, 12, 1, 0.01, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, err := StockNamed(row.name)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range []struct {
				name      string
				got, want float64
			}{
				{"page width", s.PageW, row.pageW * row.unit},
				{"page height", s.PageH, row.pageH * row.unit},
				{"left margin", s.Left, row.left * row.unit},
				{"top margin", s.Top, row.top * row.unit},
				{"label width", s.CellW, row.cellW * row.unit},
				{"label height", s.CellH, row.cellH * row.unit},
				{"pitch across", s.PitchX, row.pitchX * row.unit},
				{"pitch down", s.PitchY, row.pitchY * row.unit},
				{"white edge", s.Edge, row.edge},
				{"printer's dot", s.Dot, row.dot},
			} {
				if math.Abs(f.got-f.want) > 0.0005 {
					t.Errorf("%s is %.4f mm, want %.4f", f.name, f.got, f.want)
				}
			}
			if s.PerPage() != row.perPage {
				t.Errorf("%d labels a page, want %d", s.PerPage(), row.perPage)
			}
			if tape := row.name == "tape-12"; s.Tape != tape || s.Roll != (row.perPage == 1) {
				t.Errorf("tape is %v", s.Tape)
			}
		})
	}
	sheets := slices.DeleteFunc(Stocks(), func(s Stock) bool { return s.Roll })
	if len(sheets) != 15 {
		t.Errorf("%d sheets are offered, and 15 have their figures here", len(sheets))
	}
}

// Rolls are offered from 9 to 62 mm, along the roll and turned, each named by its width.
func TestRolls(t *testing.T) {
	var along, turned []string
	for _, s := range Stocks() {
		if !s.Roll {
			continue
		}
		width, across := s.PageH, s.PageW
		if strings.HasSuffix(s.Name, "-turned") {
			width, across = across, width
			turned = append(turned, tenth(width))
		} else {
			along = append(along, tenth(width))
		}
		if !strings.HasPrefix(s.Paper, tenth(width)+" mm roll") || !strings.Contains(s.Name, tenth(width)) || s.PerPage() != 1 || s.CellW != s.PageW || s.CellH != s.PageH || across < 28 {
			t.Errorf("%s: %g mm wide, labels %g mm long, on %q", s.Name, width, across, s.Paper)
		}
	}
	if got, want := strings.Join(along, " "), "62 9 12 18 24 29 36 38 50 54"; got != want {
		t.Errorf("rolls of %s mm, want %s", got, want)
	}
	if got, want := strings.Join(turned, " "), "24 29 36 38 50 54 62"; got != want {
		t.Errorf("turned rolls of %s mm, want %s", got, want)
	}
}

// What of a table of stocks is refused.
func TestReadStocks(t *testing.T) {
	const head = "name,kind,paper,page_w_mm,page_h_mm,cols,rows,left_mm,top_mm,cell_w_mm,cell_h_mm,pitch_x_mm,pitch_y_mm,checked,source\n"
	for _, row := range []struct{ name, table, want string }{
		{"good", head + "x,sheet,A4,210,297,1,1,0,0,50,20,50,20,0,here", ""},
		{"no source", head + "x,sheet,A4,210,297,1,1,0,0,50,20,50,20,0,", "stocks, line 2: no source"},
		{"no kind", head + "x,card,A4,210,297,1,1,0,0,50,20,50,20,0,here", `stocks, line 2: kind: "card" is none of sheet, roll and tape`},
		{"no number", head + "x,sheet,A4,210,297,1,1,0,0,wide,20,50,20,0,here", `stocks, line 2: cell_w_mm: strconv.ParseFloat: parsing "wide": invalid syntax`},
		{"off the paper", head + "x,sheet,A4,210,297,1,1,0,0,50,20,50,20,0,here\ny,sheet,A4,210,297,1,1,0,0,250,20,50,20,0,here", `stocks, line 3: stock "y": the last cell leaves the page`},
		{"a column more", "colour," + head[:len(head)-1] + "\nred,x,sheet,A4,210,297,1,1,0,0,50,20,50,20,0,here", "stocks, line 2: colour: a column of no use"},
		{"rows of two lengths", head + "x,sheet", "stocks: record on line 2: wrong number of fields"},
	} {
		got := ""
		if _, err := readStocks(row.table); err != nil {
			got = err.Error()
		}
		if got != row.want {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// A stock of one's own is written as people say it, and is found by that again.
func TestParseStock(t *testing.T) {
	for _, row := range []struct {
		text, words, name string
		cell              Rect // of the last label
		page              Point
	}{
		{"63.5 x 38.1 mm, 3 x 7 on A4, first at 7.2 x 15.1, pitch 66 x 38.1", "63.5 x 38.1 mm, 21 on A4", "", Rect{139.2, 243.7, 63.5, 38.1}, Point{210, 297}},
		{"48.5X25.4,4X10 on a4", "48.5 x 25.4 mm, 40 on A4", "48.5x25.4, 4x10 on a4", Rect{153.5, 250.1, 48.5, 25.4}, Point{210, 297}},
		{"50 x 20 mm, 2 x 3 on US Letter", "50 x 20 mm, 6 on US Letter", "50 x 20 mm, 2 x 3 on us letter", Rect{107.95, 149.7, 50, 20}, Point{215.9, 279.4}},
		{"50 x 20, 2 x 3 on 148 x 105 mm", "50 x 20 mm, 6 on 148 x 105 mm", "", Rect{74, 62.5, 50, 20}, Point{148, 105}},
		{" 57  x 32 ", "57 x 32 mm, a roll", "57 x 32", Rect{0, 0, 57, 32}, Point{57, 32}},
		{"15 mm roll", "15 mm roll, cut to length", "", Rect{0, 0, 90, 15}, Point{90, 15}},
		{"40mm roll", "90 x 40 mm, 40 mm roll", "", Rect{0, 0, 90, 40}, Point{90, 40}},
	} {
		s, err := ParseStock(row.text)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		got := s.Cell(s.PerPage() - 1)
		for i, d := range []float64{got.X - row.cell.X, got.Y - row.cell.Y, got.W - row.cell.W, got.H - row.cell.H, s.PageW - row.page.X, s.PageH - row.page.Y} {
			if math.Abs(d) > 1e-6 {
				t.Errorf("%q: figure %d is %g off: %+v", row.text, i, d, s)
			}
		}
		if s.Words != row.words || row.name != "" && s.Name != row.name {
			t.Errorf("%q is %q, named %q; want %q, %q", row.text, s.Words, s.Name, row.words, row.name)
		}
		if again, err := StockNamed(s.Name); err != nil || again != s {
			t.Errorf("%q is found again as %+v, %v", s.Name, again, err)
		}
	}
	for text, want := range map[string]string{
		"":                                    "write it as " + StockExample,
		"big":                                 "write it as " + StockExample,
		"63,5 x 38,1":                         "write it as " + StockExample,
		"-5 x 10":                             "write it as " + StockExample,
		"9 mm roll, 3 x 7 on A4":              "a roll that is cut to length has nothing more to say",
		"60 x 30, 3 x 7":                      `"3 x 7" is not how many there are on what, such as 3 x 7 on A4`,
		"60 x 30, 3 x 7 on A4, close":         `"close" is neither where the first one begins, such as first at 7.2 x 15.1, nor the pitch, such as pitch 66 x 38.1`,
		"80 x 30, 3 x 7 on A4":                "the last cell leaves the page",
		"60 x 0, 3 x 7 on A4":                 "a length of 0 mm is not between 0 and 2000",
		"60 x 30, 0 x 7 on A4":                "0 x 7 cells, want 1 to 100 each way",
		"60 x 30, 3 x 7 on A4, pitch 50 x 30": "cells overlap",
	} {
		_, err := ParseStock(text)
		var bad *TextError
		if !errors.As(err, &bad) || bad.Text != text || bad.Reason != want {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// Cells are counted row by row from the top left.
func TestCell(t *testing.T) {
	s := Stock{Cols: 3, Rows: 2, Left: 5, Top: 7, CellW: 10, CellH: 4, PitchX: 12, PitchY: 6}
	for i, want := range []Rect{{5, 7, 10, 4}, {17, 7, 10, 4}, {29, 7, 10, 4}, {5, 13, 10, 4}, {17, 13, 10, 4}, {29, 13, 10, 4}} {
		if got := s.Cell(i); got != want {
			t.Errorf("cell %d is %+v, want %+v", i, got, want)
		}
	}
}

// No two cells of a sheet have a place in common, and every cell lies on the paper.
func TestCellsAreApart(t *testing.T) {
	for _, s := range Stocks() {
		for i := range s.PerPage() {
			a := s.Cell(i)
			if !a.Inside(Rect{0, 0, s.PageW, s.PageH}) {
				t.Errorf("%s: cell %d leaves the paper", s.Name, i)
			}
			for j := range i {
				b := s.Cell(j)
				if a.X < b.Right()-0.01 && b.X < a.Right()-0.01 && a.Y < b.Bottom()-0.01 && b.Y < a.Bottom()-0.01 {
					t.Errorf("%s: cells %d and %d overlap", s.Name, j, i)
				}
			}
		}
	}
}

// What geometry is refused, at each limit.
func TestStockCheck(t *testing.T) {
	good := Stock{
		Name: "x", PageW: 100, PageH: 80, Cols: 2, Rows: 2, Left: 5, Top: 5,
		CellW: 40, CellH: 30, PitchX: 45, PitchY: 35, Edge: 4, Dot: 0.1,
	}
	length := func(v string) string {
		return fmt.Sprintf(`stock "x": a length of %s mm is not between 0 and 2000`, v)
	}
	distance := func(v string) string {
		return fmt.Sprintf(`stock "x": a distance of %s mm is not between 0 and 2000`, v)
	}
	for _, row := range []struct {
		name   string
		change func(s *Stock)
		want   string
	}{
		{"good", func(*Stock) {}, ""},
		{"the largest page", func(s *Stock) { s.PageW, s.PageH = 2000, 2000 }, ""},
		{"a wider page", func(s *Stock) { s.PageW = 2000.5 }, length("2000.5")},
		{"a higher page", func(s *Stock) { s.PageH = 2001 }, length("2001")},
		{"no width", func(s *Stock) { s.PageW = 0 }, length("0")},
		{"no cell width", func(s *Stock) { s.CellW = 0 }, length("0")},
		{"negative cell height", func(s *Stock) { s.CellH = -1 }, length("-1")},
		{"no dot", func(s *Stock) { s.Dot = 0 }, length("0")},
		{"a dot that is not a number", func(s *Stock) { s.Dot = math.NaN() }, length("NaN")},
		{"endless", func(s *Stock) { s.PageH = math.Inf(1) }, length("+Inf")},
		{"no margins and no edge", func(s *Stock) { s.Left, s.Top, s.Edge = 0, 0, 0 }, ""},
		{"negative left margin", func(s *Stock) { s.Left = -0.1 }, distance("-0.1")},
		{"top margin beyond all paper", func(s *Stock) { s.Top = 2001 }, distance("2001")},
		{"a pitch that is not a number", func(s *Stock) { s.PitchY = math.NaN() }, distance("NaN")},
		{"negative edge", func(s *Stock) { s.Edge = -1 }, distance("-1")},
		{"negative pitch", func(s *Stock) { s.PitchX = -1 }, distance("-1")},
		{"no columns", func(s *Stock) { s.Cols = 0 }, `stock "x": 0 x 2 cells, want 1 to 100 each way`},
		{"too many columns", func(s *Stock) { s.Cols = 101 }, `stock "x": 101 x 2 cells, want 1 to 100 each way`},
		{"too many rows", func(s *Stock) { s.Rows = 101 }, `stock "x": 2 x 101 cells, want 1 to 100 each way`},
		{"a hundred cells a row", func(s *Stock) { s.Cols, s.CellW, s.PitchX = 100, 0.5, 0.5 }, ""},
		{"a hundred rows", func(s *Stock) { s.Rows, s.CellH, s.PitchY = 100, 0.5, 0.5 }, ""},
		{"cells that touch", func(s *Stock) { s.PitchX, s.PitchY = 40, 30 }, ""},
		{"cells that overlap across", func(s *Stock) { s.PitchX = 39.9 }, `stock "x": cells overlap`},
		{"cells that overlap down", func(s *Stock) { s.PitchY = 29.9 }, `stock "x": cells overlap`},
		{"one column needs no pitch", func(s *Stock) { s.Cols, s.PitchX = 1, 0 }, ""},
		{"one row needs no pitch", func(s *Stock) { s.Rows, s.PitchY = 1, 0 }, ""},
		{"the last cell at the edge", func(s *Stock) { s.Left, s.Top = 15, 15 }, ""},
		{"over the right edge", func(s *Stock) { s.Left = 15.1 }, `stock "x": the last cell leaves the page`},
		{"over the bottom edge", func(s *Stock) { s.Top = 15.1 }, `stock "x": the last cell leaves the page`},
		{"tape of one cell", func(s *Stock) { s.Cols, s.Rows, s.Tape = 1, 1, true }, ""},
		{"tape of two cells", func(s *Stock) { s.Cols, s.Tape = 1, true }, `stock "x": tape has one cell`},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := good
			row.change(&s)
			got := ""
			if err := s.Check(); err != nil {
				got = err.Error()
			}
			if got != row.want {
				t.Errorf("Check says %q, want %q", got, row.want)
			}
		})
	}
}

func TestStockNamed(t *testing.T) {
	for _, want := range Stocks() {
		if got, err := StockNamed(want.Name); err != nil || got != want {
			t.Errorf("StockNamed(%q) is %+v, %v", want.Name, got, err)
		}
	}
	_, err := StockNamed("letter")
	var missing *StockError
	if !errors.As(err, &missing) || err.Error() != `no stock is named "letter"` {
		t.Errorf("StockNamed(letter): %v", err)
	}
}

// A stock in words has the size of a label, but for tape, which is cut to length, and how
// many are on what.
func TestStockString(t *testing.T) {
	for name, want := range map[string]string{
		"letter-3x10":    "66.7 x 25.4 mm, 30 on US Letter",
		"a4-3x7":         "63.5 x 38.1 mm, 21 on A4",
		"crate-100x62":   "100 x 62 mm, 62 mm roll",
		"tape-12":        "12 mm roll, cut to length",
		"roll-62-turned": "62 x 30 mm, 62 mm roll, turned",
	} {
		s, err := StockNamed(name)
		if err != nil || s.String() != want {
			t.Errorf("%s is called %q, %v; want %q", name, s, err, want)
		}
	}
}
