package labels

import (
	"fmt"

	"stowright/assets/fonts"
)

// TrueSize is a page with a piece at its real size, to lay the piece on.
type TrueSize struct {
	Name  string // designation
	Title string
	Views []NamedDrawing
	Notes []string // where the figures come from, what is not drawn to one, cautions
}

// NamedDrawing is one view of a piece with what is written under it.
type NamedDrawing struct {
	Drawing
	Caption string
}

// Sizes of the page, in millimetres.
const (
	sheetMargin = 18.0
	sheetName   = 8.0
	sheetText   = 3.4
	sheetLine   = 4.8
	sheetGap    = 7.0
	barInch     = inch
	barMetric   = 25.0
	maxNotes    = 40 // lines
)

// Layout puts the piece on a page of that stock's size. A piece that does not fit the
// page is an error, since it cannot be scaled.
func (p TrueSize) Layout(stock Stock) (Document, error) {
	doc := Document{Stock: stock}
	set, err := newSetter()
	if err != nil {
		return doc, err
	}
	s := &sizeSheet{set: set, page: Page{W: stock.PageW, H: stock.PageH}, y: sheetMargin}
	s.text(fonts.MonoBold, sheetName, sheetName, p.Name)
	s.text(fonts.TextRegular, 1.2*sheetText, sheetLine+2, p.Title)
	s.bars()
	for _, v := range p.Views {
		if err := s.view(v, p.Name); err != nil {
			return doc, err
		}
	}
	for _, n := range append(p.Notes[:len(p.Notes):len(p.Notes)], Caution) {
		s.text(fonts.TextRegular, sheetText, sheetLine, n)
	}
	if s.y > s.page.H-sheetMargin/2 {
		return doc, fmt.Errorf("%s does not fit a page of %s at its real size", p.Name, stock.Paper)
	}
	doc.Pages = []Page{s.page}
	return doc, nil
}

// sizeSheet fills a page from the top.
type sizeSheet struct {
	set  *setter
	page Page
	y    float64
}

// text adds lines of text and moves below them.
func (s *sizeSheet) text(f fonts.Face, size, line float64, text string) {
	clean, _, _ := s.set.clean(f, text)
	lines, _ := s.set.wrap(f, size, clean, s.page.W-2*sheetMargin, maxNotes)
	for _, l := range lines {
		s.y += line
		s.page.Items = append(s.page.Items, Text{X: sheetMargin, Y: s.y, Size: size, Width: s.set.width(f, size, l), Face: f, Text: l})
	}
}

// bars adds two lines of known lengths, to check the print with a rule.
func (s *sizeSheet) bars() {
	s.y += sheetGap + 2
	x := sheetMargin
	for _, bar := range []struct {
		length float64
		words  string
	}{{barInch, "1 in"}, {barMetric, "25 mm"}} {
		for _, end := range []float64{x, x + bar.length} {
			s.page.Items = append(s.page.Items, Path{Points: []Point{{end, s.y - 2}, {end, s.y + 2}}, Pen: rulerPen})
		}
		s.page.Items = append(s.page.Items, Path{Points: []Point{{x, s.y}, {x + bar.length, s.y}}, Pen: rulerPen},
			Text{X: x + bar.length + 2, Y: s.y + sheetText/3, Size: sheetText, Width: s.set.width(fonts.TextRegular, sheetText, bar.words), Face: fonts.TextRegular, Text: bar.words})
		x += bar.length + 18
	}
	s.y += 2
	s.text(fonts.TextRegular, sheetText, sheetLine, "Measure both bars first: if they are not so long, print again at actual size, 100 %, without fitting to the page.")
}

// view draws a piece at its real size with its caption under it.
func (s *sizeSheet) view(v NamedDrawing, name string) error {
	b := v.Bounds()
	if b.W > s.page.W-2*sheetMargin || s.y+sheetGap+b.H > s.page.H-sheetMargin {
		return fmt.Errorf("%s does not fit a page of %s at its real size", name, s.page)
	}
	s.y += sheetGap
	for _, stroke := range v.Strokes {
		moved := stroke
		moved.Points = make([]Point, len(stroke.Points))
		for i, p := range stroke.Points {
			moved.Points[i] = Point{p.X - b.X + sheetMargin, p.Y - b.Y + s.y}
		}
		s.page.Items = append(s.page.Items, moved)
	}
	s.y += b.H + 1
	s.text(fonts.TextRegular, sheetText, sheetLine, v.Caption)
	return nil
}

// String is the size of the page.
func (p Page) String() string { return fmt.Sprintf("%g x %g mm", p.W, p.H) }
