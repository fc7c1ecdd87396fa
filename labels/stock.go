package labels

import (
	"fmt"
	"math"
)

// Sizes of paper in millimetres: US Letter is 8.5 x 11 in, A4 is ISO 216.
const (
	letterW, letterH = 215.9, 279.4
	a4W, a4H         = 210.0, 297.0
)

const (
	inch = 25.4
	// officeEdge is what office printers leave white around a sheet: 1/6 in,
	// common practice.
	officeEdge = inch / 6
	// officeDot and rollDot are the printer's dots that a module is made of:
	// 600 dots an inch for sheets, 300 for rolls, common practice. Tape printers
	// differ; whole dots of any of them would cost a fifth of the code.
	officeDot = inch / 600
	rollDot   = inch / 300
	tapeDot   = 0.01
)

// Stock is the paper that labels are printed on, as plain geometry in
// millimetres. Cells are filled row by row.
type Stock struct {
	Name         string  // stable name, "letter-3x10"
	Words        string  // what it is, "US Letter, 3 x 10"
	PageW, PageH float64 // size of the paper
	Cols, Rows   int     // cells on one page
	Left, Top    float64 // corner of the first cell
	CellW, CellH float64 // size of a cell
	PitchX       float64 // from one cell's left edge to the next one's
	PitchY       float64 // from one cell's top edge to the next one's
	Edge         float64 // border of the paper that the printer leaves white
	Dot          float64 // one dot of the printer
	// Tape is continuous and cut to the length of each label: PageW and CellW are the
	// greatest length.
	Tape bool
}

// Stocks are the predefined kinds of stock, sheets first. The grids are common ones; any
// other can be described by a Stock value.
func Stocks() []Stock {
	letter := func(cols, rows int, cell, at, pitch Point) Stock {
		return Stock{
			Name: fmt.Sprintf("letter-%dx%d", cols, rows), Words: fmt.Sprintf("US Letter, %d x %d", cols, rows),
			PageW: letterW, PageH: letterH, Cols: cols, Rows: rows,
			Left: at.X * inch, Top: at.Y * inch, CellW: cell.X * inch, CellH: cell.Y * inch,
			PitchX: pitch.X * inch, PitchY: pitch.Y * inch, Edge: officeEdge, Dot: officeDot,
		}
	}
	a4 := func(cols, rows int, cell, gap Point) Stock {
		w := float64(cols)*(cell.X+gap.X) - gap.X
		h := float64(rows)*(cell.Y+gap.Y) - gap.Y
		return Stock{
			Name: fmt.Sprintf("a4-%dx%d", cols, rows), Words: fmt.Sprintf("A4, %d x %d", cols, rows),
			PageW: a4W, PageH: a4H, Cols: cols, Rows: rows,
			Left: (a4W - w) / 2, Top: (a4H - h) / 2, CellW: cell.X, CellH: cell.Y,
			PitchX: cell.X + gap.X, PitchY: cell.Y + gap.Y, Edge: officeEdge, Dot: officeDot,
		}
	}
	return []Stock{
		letter(3, 10, Point{2.625, 1}, Point{0.1875, 0.5}, Point{2.75, 1}),
		letter(2, 10, Point{4, 1}, Point{0.15625, 0.5}, Point{4.1875, 1}),
		letter(2, 5, Point{4, 2}, Point{0.15625, 0.5}, Point{4.1875, 2}),
		letter(2, 3, Point{4, 10.0 / 3}, Point{0.15625, 0.5}, Point{4.1875, 10.0 / 3}),
		letter(4, 20, Point{1.75, 0.5}, Point{0.28125, 0.5}, Point{2.0625, 0.5}),
		a4(3, 7, Point{63.5, 38.1}, Point{2.54, 0}),
		a4(3, 8, Point{63.5, 33.9}, Point{2.5, 0}),
		a4(3, 10, Point{70, 29.7}, Point{}),
		a4(2, 7, Point{99.1, 38.1}, Point{2.5, 0}),
		a4(2, 4, Point{99.1, 67.7}, Point{2.5, 0}),
		a4(5, 13, Point{38.1, 21.2}, Point{2.5, 0}),
		{
			Name: "crate-100x62", Words: "Roll, crate label",
			PageW: 100, PageH: 62, Cols: 1, Rows: 1, CellW: 100, CellH: 62, PitchX: 100, PitchY: 62,
			Edge: 1.5, Dot: rollDot,
		},
		{
			Name: "tape-12", Words: "Tape, 12 mm",
			PageW: 90, PageH: 12, Cols: 1, Rows: 1, CellW: 90, CellH: 12, PitchX: 90, PitchY: 12,
			Edge: 1, Dot: tapeDot, Tape: true,
		},
	}
}

// StockError is the error for a name that no stock has.
type StockError struct{ Name string }

func (e *StockError) Error() string { return fmt.Sprintf("no stock is named %q", e.Name) }

// StockNamed finds a stock by its name, or returns a *StockError.
func StockNamed(name string) (Stock, error) {
	for _, s := range Stocks() {
		if s.Name == name {
			return s, nil
		}
	}
	return Stock{}, &StockError{Name: name}
}

// String is the stock in words with the size of one label.
func (s Stock) String() string {
	if s.Tape {
		return s.Words
	}
	return fmt.Sprintf("%s, %.1f x %.1f mm", s.Words, s.CellW, s.CellH)
}

// PerPage is how many labels one page holds.
func (s Stock) PerPage() int { return s.Cols * s.Rows }

// Cell is the rectangle of one cell of a page, counted row by row from 0.
func (s Stock) Cell(i int) Rect {
	return Rect{s.Left + float64(i%s.Cols)*s.PitchX, s.Top + float64(i/s.Cols)*s.PitchY, s.CellW, s.CellH}
}

// Check returns what is wrong with a stock's geometry, or nil.
func (s Stock) Check() error {
	for _, v := range []float64{s.PageW, s.PageH, s.CellW, s.CellH, s.Dot} {
		if !(v > 0) || v > 2000 {
			return fmt.Errorf("stock %q: a length of %g mm is not between 0 and 2000", s.Name, v)
		}
	}
	for _, v := range []float64{s.Left, s.Top, s.PitchX, s.PitchY, s.Edge} {
		if math.IsNaN(v) || v < 0 || v > 2000 {
			return fmt.Errorf("stock %q: a distance of %g mm is not between 0 and 2000", s.Name, v)
		}
	}
	if s.Cols < 1 || s.Rows < 1 || s.Cols > 100 || s.Rows > 100 {
		return fmt.Errorf("stock %q: %d x %d cells, want 1 to 100 each way", s.Name, s.Cols, s.Rows)
	}
	if s.Cols > 1 && s.PitchX < s.CellW || s.Rows > 1 && s.PitchY < s.CellH {
		return fmt.Errorf("stock %q: cells overlap", s.Name)
	}
	if !s.Cell(s.PerPage() - 1).Inside(Rect{0, 0, s.PageW, s.PageH}) {
		return fmt.Errorf("stock %q: the last cell leaves the page", s.Name)
	}
	if s.Tape && s.PerPage() != 1 {
		return fmt.Errorf("stock %q: tape has one cell", s.Name)
	}
	return nil
}
