package labels

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"stowright/assets/stationery"
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
	// someRoll is the paper of a label that a person described by its size alone, its width
	// first.
	someRoll = "a roll"
	// rollEdge and tapeEdge are what printers of rolls and of tape leave white.
	rollEdge = 1.5
	tapeEdge = 1.0
)

// Stock is the paper that labels are printed on, as plain geometry in
// millimetres. Cells are filled row by row.
type Stock struct {
	Name         string  // stable name, "letter-3x10"
	Words        string  // what it is by its size, "66.7 x 25.4 mm, 30 on US Letter"
	Paper        string  // what it is on: "US Letter", "62 mm roll"
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
	// Roll is continuous, one label a page: it is cut after each, and has no used sheet.
	Roll bool
	// Source says where the sizes are from; empty for a stock that a person described.
	Source string
}

// Stocks are the predefined kinds of stock by their sizes, sheets first; any other can be
// described ([ParseStock]). The sizes are from the table of package stationery.
func Stocks() []Stock { return slices.Clone(stocks()) }

var stocks = sync.OnceValue(func() []Stock {
	list, err := readStocks(stationery.Stocks())
	if err != nil {
		panic(err) // the program was built with a broken table
	}
	return list
})

// readStocks reads a table of stocks.
func readStocks(table string) ([]Stock, error) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("stocks: %w", err)
	}
	var list []Stock
	for n, row := range rows[1:] {
		s, err := readStock(rows[0], row)
		if err == nil {
			err = s.Check()
		}
		if err != nil {
			return nil, fmt.Errorf("stocks, line %d: %w", n+2, err)
		}
		list = append(list, s)
	}
	return list, nil
}

// readStock is the stock of a row.
func readStock(header, row []string) (Stock, error) {
	var s Stock
	var kind string
	texts := map[string]*string{"name": &s.Name, "kind": &kind, "paper": &s.Paper, "source": &s.Source}
	counts := map[string]*int{"cols": &s.Cols, "rows": &s.Rows, "checked": new(int)}
	lengths := map[string]*float64{
		"page_w_mm": &s.PageW, "page_h_mm": &s.PageH, "left_mm": &s.Left, "top_mm": &s.Top, "cell_w_mm": &s.CellW, "cell_h_mm": &s.CellH,
		"pitch_x_mm": &s.PitchX, "pitch_y_mm": &s.PitchY,
	}
	for i, column := range header {
		var err error
		switch {
		case texts[column] != nil:
			*texts[column] = row[i]
		case counts[column] != nil:
			*counts[column], err = strconv.Atoi(row[i])
		case lengths[column] != nil:
			*lengths[column], err = strconv.ParseFloat(row[i], 64)
		default:
			err = errors.New("a column of no use")
		}
		if err != nil {
			return s, fmt.Errorf("%s: %w", column, err)
		}
	}
	if s.Source == "" {
		return s, errors.New("no source")
	}
	return s, s.be(kind)
}

// be sets what follows from the kind of a stock: what printers of it leave white, how fine
// they print, and its words.
func (s *Stock) be(kind string) error {
	size := fmt.Sprintf("%s x %s mm", tenth(s.CellW), tenth(s.CellH))
	switch kind {
	case "sheet":
		s.Edge, s.Dot = officeEdge, officeDot
		s.Words = fmt.Sprintf("%s, %d on %s", size, s.PerPage(), s.Paper)
	case "roll":
		s.Edge, s.Dot, s.Roll = rollEdge, rollDot, true
		s.Words = fmt.Sprintf("%s, %s", size, s.Paper)
	case "tape":
		s.Edge, s.Dot, s.Roll, s.Tape = tapeEdge, tapeDot, true, true
		s.Words = fmt.Sprintf("%s, cut to length", s.Paper)
	default:
		return fmt.Errorf("kind: %q is none of sheet, roll and tape", kind)
	}
	return nil
}

// tenth is a length with one decimal, and none that is zero.
func tenth(mm float64) string { return strings.TrimSuffix(strconv.FormatFloat(mm, 'f', 1, 64), ".0") }

// StockError is the error for a name that no stock has and that describes none.
type StockError struct{ Name string }

func (e *StockError) Error() string { return fmt.Sprintf("no stock is named %q", e.Name) }

// StockNamed finds a stock by its name, or reads it as a person describes it
// ([ParseStock]). The error is a *StockError for a name, a *TextError for a size.
func StockNamed(name string) (Stock, error) {
	for _, s := range stocks() {
		if s.Name == name {
			return s, nil
		}
	}
	if strings.ContainsAny(name, " ,") || name != "" && name[0] >= '0' && name[0] <= '9' {
		return ParseStock(name)
	}
	return Stock{}, &StockError{Name: name}
}

// String is the stock in words.
func (s Stock) String() string { return s.Words }

// Across reports whether labels of a roll are as wide as the roll, and not along it.
func (s Stock) Across() bool {
	return s.Roll && (strings.HasSuffix(s.Paper, "turned") || s.Paper == someRoll)
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
