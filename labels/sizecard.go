package labels

import (
	"fmt"
	"math"

	"stowright/assets/fonts"
)

// SizingCard is pages with many pieces at their real size, to lay a loose one on.
type SizingCard struct {
	Title  string
	Pieces []SizedPiece
}

// SizedPiece is one of them with what is written under it.
type SizedPiece struct {
	Name  string   // designation
	Place string   // where it lies
	Piece *Drawing // nil where its figures are unknown
}

// Sizes of a sizing card, in millimetres.
const (
	sizedName   = 3.6 // em of a designation
	sizedPlace  = 2.8 // em of its place
	sizedGap    = 5.0
	leastSizing = 140.0                        // of a page, for both bars to measure
	sizedUnder  = sizedName + sizedPlace + 2.2 // height of what is written under a piece
)

// Layout puts the pieces on pages of that stock's size, row by row in their order, at their
// real size. What cannot be drawn so, since its figures are unknown or it is larger than
// the page, is named at the end and in a note.
func (c SizingCard) Layout(stock Stock) (Document, error) {
	doc := Document{Stock: stock, Title: c.Title}
	if stock.PageW < leastSizing || stock.PageH < leastSizing {
		return doc, fmt.Errorf("%s is too small for a sizing card; choose a sheet", stock)
	}
	set, err := newSetter()
	if err != nil {
		return doc, err
	}
	f := &cardFlow{doc: &doc, sizeSheet: sizeSheet{set: set}}
	f.turn()
	f.text(fonts.MonoBold, sheetName, sheetName, c.Title)
	f.bars()
	var unknown, large []string
	for _, p := range c.Pieces {
		switch {
		case p.Piece == nil || len(p.Piece.Strokes) == 0:
			unknown = append(unknown, p.Name)
		case !f.piece(p):
			large = append(large, p.Name)
		}
	}
	f.endRow()
	f.rest("Not drawn, as no source gives the figures: ", unknown)
	f.rest("Not drawn, as it is larger than the page: ", large)
	f.line(Caution)
	if n := len(unknown) + len(large); n > 0 {
		doc.Notes = append(doc.Notes, Note{-1, fmt.Sprintf("%d of %d pieces cannot be drawn at their real size and are named at the end", n, len(c.Pieces))})
	}
	doc.Pages = append(doc.Pages, f.page)
	return doc, nil
}

// cardFlow fills pages with rows of pieces.
type cardFlow struct {
	sizeSheet
	doc  *Document
	row  []Item  // the row that is being filled, its top at 0
	x    float64 // where the next piece goes
	high float64 // of the pieces in the row
	feet []Text  // what is written under them, from their foot
}

// turn begins a page, and keeps the one before.
func (f *cardFlow) turn() {
	if f.page.W > 0 {
		f.doc.Pages = append(f.doc.Pages, f.page)
	}
	f.page, f.y = Page{W: f.doc.Stock.PageW, H: f.doc.Stock.PageH}, sheetMargin
}

// piece adds a piece to the row, or reports that no page has room for it.
func (f *cardFlow) piece(p SizedPiece) bool {
	name, _, _ := f.set.clean(fonts.MonoBold, p.Name)
	place, _, _ := f.set.clean(fonts.TextRegular, p.Place)
	width := f.page.W - 2*sheetMargin
	name, _ = f.set.shorten(fonts.MonoBold, sizedName, name, width)
	place, _ = f.set.shorten(fonts.TextRegular, sizedPlace, place, width)
	b := p.Piece.Bounds()
	wide := math.Max(b.W, math.Max(f.set.width(fonts.MonoBold, sizedName, name), f.set.width(fonts.TextRegular, sizedPlace, place)))
	if !(b.W <= width && b.H <= f.page.H-2*sheetMargin-sizedUnder) || b.W+b.H == 0 {
		return false
	}
	if len(f.feet) > 0 && f.x+wide > f.page.W-sheetMargin {
		f.endRow()
	}
	if len(f.feet) == 0 {
		f.x = sheetMargin
	}
	for _, stroke := range p.Piece.Strokes {
		moved := stroke
		moved.Points = make([]Point, len(stroke.Points))
		for i, at := range stroke.Points {
			// The pieces of a row stand on one line, whose height is known at its end.
			moved.Points[i] = Point{at.X - b.X + f.x, at.Y - b.Bottom()}
		}
		f.row = append(f.row, moved)
	}
	f.feet = append(f.feet,
		Text{X: f.x, Y: sizedName, Size: sizedName, Width: f.set.width(fonts.MonoBold, sizedName, name), Face: fonts.MonoBold, Text: name},
		Text{X: f.x, Y: sizedName + sizedPlace*1.3, Size: sizedPlace, Width: f.set.width(fonts.TextRegular, sizedPlace, place), Face: fonts.TextRegular, Text: place})
	f.x += wide + sizedGap
	f.high = math.Max(f.high, b.H)
	return true
}

// endRow puts the row on the page, or on the next one where there is no room for it.
func (f *cardFlow) endRow() {
	if len(f.feet) == 0 {
		return
	}
	if f.y+sizedGap+f.high+sizedUnder > f.page.H-sheetMargin {
		f.turn()
	}
	base := f.y + sizedGap + f.high
	f.page.Items = append(f.page.Items, Correction{Down: -base}.move(f.row)...)
	for _, text := range f.feet {
		text.Y += base + 0.8
		f.page.Items = append(f.page.Items, text)
	}
	f.y = base + sizedUnder
	f.row, f.feet, f.high = nil, nil, 0
}

// rest names pieces that are not drawn.
func (f *cardFlow) rest(why string, names []string) {
	if len(names) == 0 {
		return
	}
	line := why
	for i, n := range names {
		if i > 0 {
			n = ", " + n
		}
		if i > 0 && f.set.width(fonts.TextRegular, sheetText, line+n) > f.page.W-2*sheetMargin {
			f.line(line)
			line, n = "", names[i]
		}
		line += n
	}
	f.line(line)
}

// line adds one line of text, on the next page where there is no room for it.
func (f *cardFlow) line(text string) {
	if f.y+2*sheetLine > f.page.H-sheetMargin/2 {
		f.turn()
	}
	f.text(fonts.TextRegular, sheetText, sheetLine, text)
}
