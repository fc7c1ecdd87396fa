package labels

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Correction is how far a printer prints beside where it should, as it is measured on a test
// print, in millimetres: too far to the right and too low. Both are negative the other way.
// The zero value corrects nothing.
type Correction struct{ Right, Down float64 }

// MostCorrection is how far beside a printer may print, in millimetres: beyond it the wrong
// paper lies in it, or the page was fitted to it.
const MostCorrection = 10.0

// errCorrection is why a correction cannot be read.
var errCorrection = errors.New("write two numbers of millimetres, such as 0.5 and -1.2, with a space between them and 10 at most")

// ParseCorrection reads two numbers as "0.5 -1.2", too far right and too low; nothing is
// the zero value.
func ParseCorrection(text string) (Correction, error) {
	words := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' })
	if len(words) == 0 {
		return Correction{}, nil
	}
	if len(words) != 2 {
		return Correction{}, errCorrection
	}
	var c Correction
	for i, to := range []*float64{&c.Right, &c.Down} {
		n, err := strconv.ParseFloat(words[i], 64)
		if err != nil || !(n >= -MostCorrection && n <= MostCorrection) {
			return Correction{}, errCorrection
		}
		*to = n
	}
	return c, nil
}

// String is the correction as ParseCorrection reads it.
func (c Correction) String() string {
	return strconv.FormatFloat(c.Right, 'f', -1, 64) + " " + strconv.FormatFloat(c.Down, 'f', -1, 64)
}

// Apply is a document with everything on its pages moved back by as much as the printer
// goes astray. What leaves the paper by that is said in a note.
func (c Correction) Apply(doc Document) Document {
	if c == (Correction{}) {
		return doc
	}
	pages, lost := make([]Page, len(doc.Pages)), false
	for i, p := range doc.Pages {
		pages[i] = Page{W: p.W, H: p.H, Items: c.move(p.Items)}
		for _, cell := range p.Cells {
			cell.Rect, cell.Items = c.rect(cell.Rect), c.move(cell.Items)
			pages[i].Cells = append(pages[i].Cells, cell)
		}
		for _, items := range pages[i].layers() {
			for _, it := range items {
				lost = lost || !it.Bounds().Inside(Rect{0, 0, p.W, p.H})
			}
		}
	}
	doc.Pages = pages
	if lost {
		note := fmt.Sprintf("moved by %s and %s mm for this printer, a part of it leaves the paper", tenth(0-c.Right), tenth(0-c.Down))
		doc.Notes = append(doc.Notes[:len(doc.Notes):len(doc.Notes)], Note{-1, note})
	}
	return doc
}

func (c Correction) rect(r Rect) Rect { return Rect{r.X - c.Right, r.Y - c.Down, r.W, r.H} }

// move is items moved back.
func (c Correction) move(items []Item) []Item {
	moved := make([]Item, len(items))
	for i, it := range items {
		switch it := it.(type) {
		case Fill:
			it.Rect = c.rect(it.Rect)
			moved[i] = it
		case Box:
			it.Rect = c.rect(it.Rect)
			moved[i] = it
		case Image:
			it.Rect = c.rect(it.Rect)
			moved[i] = it
		case Path:
			points := make([]Point, len(it.Points))
			for n, p := range it.Points {
				points[n] = Point{p.X - c.Right, p.Y - c.Down}
			}
			it.Points = points
			moved[i] = it
		case Text:
			it.X, it.Y = it.X-c.Right, it.Y-c.Down
			moved[i] = it
		case Code:
			it.X, it.Y = it.X-c.Right, it.Y-c.Down
			moved[i] = it
		}
	}
	return moved
}
