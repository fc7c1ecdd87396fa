package labels

import (
	"errors"
	"fmt"
	"math"
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
			if tape := row.name == "tape-12"; s.Tape != tape {
				t.Errorf("tape is %v", s.Tape)
			}
		})
	}
	if got := len(Stocks()); got != 13 {
		t.Errorf("%d stocks are offered, and 13 have their figures here", got)
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

// A stock in words has the size of a label, but for tape, which is cut to length.
func TestStockString(t *testing.T) {
	for name, want := range map[string]string{
		"letter-3x10":  "US Letter, 3 x 10, 66.7 x 25.4 mm",
		"a4-5x13":      "A4, 5 x 13, 38.1 x 21.2 mm",
		"crate-100x62": "Roll, crate label, 100.0 x 62.0 mm",
		"tape-12":      "Tape, 12 mm",
	} {
		s, err := StockNamed(name)
		if err != nil || s.String() != want {
			t.Errorf("%s is called %q, %v; want %q", name, s, err, want)
		}
	}
}
