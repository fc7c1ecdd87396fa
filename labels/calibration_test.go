package labels

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// calibration is the test print of a stock, which must make one.
func calibration(t *testing.T, name string) Document {
	t.Helper()
	stock, err := StockNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := Calibration(stock)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// Both rulers are 100 mm long, with a stroke at each millimetre: 2.0 long, 3.5 at each
// five and 5.0 at each ten. They begin in one corner, and the strokes are outside it.
func TestRulerStrokes(t *testing.T) {
	const x, y = 25.0, 64.0
	page := calibration(t, "letter-3x10").Pages[0]
	lengths := map[bool]map[int]float64{false: {}, true: {}} // by direction (down) and millimetre
	whole := 0
	for _, it := range page.Items {
		path, ok := it.(Path)
		if !ok {
			continue
		}
		if len(path.Points) != 2 || path.Pen != 0.2 || path.Dashed || path.Ink != Black {
			t.Fatalf("a ruler has the line %+v", path)
		}
		a, b := path.Points[0], path.Points[1]
		switch {
		case a == Point{x, y} && (b == Point{x + 100, y} || b == Point{x, y + 100}):
			whole++
		case a.Y == y && b.X == a.X && b.Y < y:
			lengths[false][int(math.Round((a.X-x)*1000))] = y - b.Y
		case a.X == x && b.Y == a.Y && b.X < x:
			lengths[true][int(math.Round((a.Y-y)*1000))] = x - b.X
		default:
			t.Errorf("a line from %v to %v is on no ruler", a, b)
		}
	}
	if whole != 2 {
		t.Errorf("%d lines are 100 mm long, want 2", whole)
	}
	for down, strokes := range lengths {
		if len(strokes) != 101 {
			t.Errorf("a ruler (down %v) has %d strokes, want 101", down, len(strokes))
		}
		for mm := range 101 {
			want := 2.0
			if mm%5 == 0 {
				want = 3.5
			}
			if mm%10 == 0 {
				want = 5
			}
			if got := strokes[mm*1000]; math.Abs(got-want) > 1e-9 {
				t.Errorf("the stroke at %d mm (down %v) is %.2f long, want %.1f", mm, down, got, want)
			}
		}
	}
}

// The tens are written at their strokes, 10 to 100 on both rulers, and 0 on neither,
// where the two meet.
func TestRulerNumbers(t *testing.T) {
	page := calibration(t, "letter-3x10").Pages[0]
	at := map[string][]Point{}
	for _, it := range page.Items {
		if text, ok := it.(Text); ok && text.Size == testSize && strings.Trim(text.Text, "0123456789") == "" {
			at[text.Text] = append(at[text.Text], Point{text.X + text.Width/2, text.Y - capHeight*text.Size/2})
		}
	}
	if len(at) != 10 {
		t.Errorf("numbers %v, want ten of them", at)
	}
	for mm := 10; mm <= 100; mm += 10 {
		places := at[fmt.Sprint(mm)]
		if len(places) != 2 {
			t.Fatalf("%d is written %d times, want on both rulers", mm, len(places))
		}
		if p := places[0]; math.Abs(p.X-25-float64(mm)) > 1e-9 || p.Y > 64-5 {
			t.Errorf("%d has its middle at %v, want %d mm from 25 and over the strokes", mm, p, mm)
		}
		if p := places[1]; math.Abs(p.Y-64-float64(mm)) > 1e-9 || p.X > 25-5 {
			t.Errorf("%d has its middle at %v, want %d mm from 64 and beside the strokes", mm, p, mm)
		}
	}
}

// The page says how long the lines are, and what to do if they are not; and the caution.
func TestRulerWords(t *testing.T) {
	page := calibration(t, "a4-3x8").Pages[0]
	var lines []string
	for _, it := range page.Items {
		text, ok := it.(Text)
		if !ok || strings.Trim(text.Text, "0123456789") == "" {
			continue
		}
		lines = append(lines, text.Text)
		if !text.Bounds().Inside(Rect{0, 0, page.W, page.H}) {
			t.Errorf("%q leaves the page", text.Text)
		}
	}
	want := []string{
		"Test print",
		"Both lines are exactly 100 mm (3.937 in) long. Measure them with a steel rule.",
		"If they are not, print again at actual size, 100 %, without fitting to the page.",
		"Then hold the next page against a sheet of labels, in front of a window.",
		"Measure by how much its lines lie too far right and too low, and type both in.",
		Caution,
	}
	if !slices.Equal(lines, want) {
		t.Errorf("the page says %q, want %q", lines, want)
	}
	if math.Abs(RulerLength/inch-3.937) > 0.0005 {
		t.Errorf("%g mm are not 3.937 in", RulerLength)
	}
}

// The second page has the outline of each cell, its pen inside, with its number in the
// middle.
func TestCellPage(t *testing.T) {
	for _, name := range []string{"letter-3x10", "letter-4x20", "a4-3x10", "a4-2x4"} {
		t.Run(name, func(t *testing.T) {
			doc := calibration(t, name)
			if len(doc.Pages) != 2 || doc.Pages[1].W != doc.Stock.PageW || doc.Pages[1].H != doc.Stock.PageH {
				t.Fatalf("%d pages, the second %s", len(doc.Pages), doc.Pages[len(doc.Pages)-1])
			}
			items := doc.Pages[1].Items
			if len(items) != 2*doc.Stock.PerPage() {
				t.Fatalf("%d items, want an outline and a number to each of %d cells", len(items), doc.Stock.PerPage())
			}
			for i := range doc.Stock.PerPage() {
				cell := doc.Stock.Cell(i)
				box, number := items[2*i].(Box), items[2*i+1].(Text)
				if !box.Bounds().Inside(cell) || !cell.Inside(box.Bounds()) {
					t.Errorf("cell %d: the outline with its pen is %+v, want %+v", i, box.Bounds(), cell)
				}
				if number.Text != fmt.Sprint(i+1) || !number.Bounds().Inside(cell) {
					t.Errorf("cell %d has the number %q at %+v", i, number.Text, number.Bounds())
				}
				x, y := number.X+number.Width/2, number.Y-capHeight*number.Size/2
				if math.Abs(x-cell.X-cell.W/2) > 1e-9 || math.Abs(y-cell.Y-cell.H/2) > 1e-9 {
					t.Errorf("the number of cell %d has its middle at %.3f, %.3f of %+v", i, x, y, cell)
				}
				if want := math.Min(8, 0.4*cell.H); math.Abs(number.Size-want) > 1e-9 {
					t.Errorf("the number of cell %d has the size %.3f, want %.3f", i, number.Size, want)
				}
			}
		})
	}
}

// A page that holds both rulers with their words makes a test print; a smaller one, on
// which a ruler of 100 mm would be cut off, is refused.
func TestCalibrationSizes(t *testing.T) {
	const small = "Plain is too small for a ruler of 100 mm; check the printer with a sheet"
	for _, row := range []struct {
		name string
		w, h float64
		want string
	}{
		{"a large sheet", 300, 300, ""},
		{"rulers to the edge", 170, 170, ""},
		{"too low for the ruler down", 300, 163, small},
		{"too narrow for the words", 140, 300, small},
		{"too narrow for the ruler across", 124, 300, small},
		{"no sheet", 0, 300, `stock "plain": a length of 0 mm is not between 0 and 2000`},
	} {
		stock := Stock{Name: "plain", Words: "Plain", PageW: row.w, PageH: row.h, Cols: 1, Rows: 1, CellW: 100, CellH: 100, Dot: 0.1}
		doc, err := Calibration(stock)
		got := ""
		if err != nil {
			got = err.Error()
		}
		if got != row.want {
			t.Errorf("%s, %g x %g mm: %q, want %q", row.name, row.w, row.h, got, row.want)
		}
		if (err != nil) != (len(doc.Pages) == 0) {
			t.Errorf("%s: %d pages and the error %v", row.name, len(doc.Pages), err)
		}
		checkInside(t, doc)
	}
}

// The same stock makes the same test print, byte for byte.
func TestCalibrationIsFixed(t *testing.T) {
	a, b := pdfOf(t, calibration(t, "letter-2x5")), pdfOf(t, calibration(t, "letter-2x5"))
	if !slices.Equal(a, b) {
		t.Error("two test prints of one stock differ")
	}
}
