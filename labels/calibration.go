package labels

import (
	"fmt"
	"math"

	"stowright/assets/fonts"
)

// RulerLength is the length of the rulers on the test page, in millimetres.
const RulerLength = 100.0

// Calibration is a test print for sheets: a page with rulers that show whether the
// printer prints at actual size, and a page with the outline and the number of each cell
// to hold against a sheet of labels. Stock that is smaller than the rulers, such as rolls
// and tape, is an error.
func Calibration(stock Stock) (Document, error) {
	doc := Document{Stock: stock}
	if err := stock.Check(); err != nil {
		return doc, err
	}
	set, err := newSetter()
	if err != nil {
		return doc, err
	}
	rulers := rulerPage(set, stock)
	for _, it := range rulers.Items {
		if !it.Bounds().Inside(Rect{0, 0, rulers.W, rulers.H}) {
			return doc, fmt.Errorf("%s is too small for a ruler of %g mm; check the printer with a sheet", stock, RulerLength)
		}
	}
	doc.Pages = []Page{rulers, cellPage(set, stock)}
	return doc, nil
}

const (
	rulerPen = 0.2
	testSize = 3.6 // em of the words on the test page, mm
)

// rulerPage has one ruler across and one down, along the sides of a corner.
func rulerPage(set *setter, stock Stock) Page {
	p := Page{W: stock.PageW, H: stock.PageH}
	at := Point{25, 64}
	p.Items = append(p.Items, ruler(set, at, false)...)
	p.Items = append(p.Items, ruler(set, at, true)...)
	write := func(y float64, f fonts.Face, size float64, text string) {
		p.Items = append(p.Items, Text{X: at.X, Y: y, Size: size, Width: set.width(f, size, text), Face: f, Text: text})
	}
	write(22, fonts.TextBold, 7, "Test print")
	write(31, fonts.TextRegular, testSize, "Both lines are exactly 100 mm (3.937 in) long. Measure them with a steel rule.")
	write(37, fonts.TextRegular, testSize, "If they are not, print again at actual size, 100 %, without fitting to the page.")
	write(43, fonts.TextRegular, testSize, "Then hold the next page against a sheet of labels, in front of a window.")
	write(49, fonts.TextRegular, testSize, "Measure by how much its lines lie too far right and too low, and type both in.")
	p.Items = append(p.Items, Text{
		X: at.X, Y: p.H - 14, Size: furnitureSize, Width: set.width(fonts.TextRegular, furnitureSize, Caution),
		Face: fonts.TextRegular, Ink: Quiet, Text: Caution,
	})
	return p
}

// ruler is a line of RulerLength from a point to the right or down, with a stroke at each
// millimetre, longer at 5 and 10. The strokes of the two rulers point away from each
// other, so that their numbers do not overlap.
func ruler(set *setter, at Point, down bool) []Item {
	to := func(along, across float64) Point {
		if down {
			return Point{at.X - across, at.Y + along}
		}
		return Point{at.X + along, at.Y - across}
	}
	items := []Item{Path{Points: []Point{to(0, 0), to(RulerLength, 0)}, Pen: rulerPen}}
	for mm := 0; mm <= RulerLength; mm++ {
		stroke := 2.0
		switch {
		case mm%10 == 0:
			stroke = 5
		case mm%5 == 0:
			stroke = 3.5
		}
		items = append(items, Path{Points: []Point{to(float64(mm), 0), to(float64(mm), stroke)}, Pen: rulerPen})
		if mm%10 != 0 || mm == 0 {
			continue
		}
		text := fmt.Sprint(mm)
		w := set.width(fonts.MonoMedium, testSize, text)
		p := to(float64(mm), 6.5)
		if down {
			p.X -= w
			p.Y += testSize * capHeight / 2
		} else {
			p.X -= w / 2
		}
		items = append(items, Text{X: p.X, Y: p.Y, Size: testSize, Width: w, Face: fonts.MonoMedium, Text: text})
	}
	return items
}

// cellPage has the outline and the number of every cell.
func cellPage(set *setter, stock Stock) Page {
	p := Page{W: stock.PageW, H: stock.PageH}
	for i := range stock.PerPage() {
		r := stock.Cell(i)
		// The line is inside the cell, so that adjacent cells do not overprint.
		outline := Box{Rect: Rect{r.X + rulerPen/2, r.Y + rulerPen/2, r.W - rulerPen, r.H - rulerPen}, Pen: rulerPen}
		size := math.Min(8, 0.4*r.H)
		text := fmt.Sprint(i + 1)
		w := set.width(fonts.MonoBold, size, text)
		p.Items = append(p.Items, outline, Text{
			X: r.X + (r.W-w)/2, Y: r.Y + (r.H+capHeight*size)/2, Size: size, Width: w, Face: fonts.MonoBold, Text: text,
		})
	}
	return p
}
