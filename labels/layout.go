package labels

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"stowright/assets/fonts"
)

// Options say how labels are laid out. The zero value starts on a fresh sheet.
type Options struct {
	// StartAt is the first free cell of a used sheet, counted row by row from 0.
	StartAt int
	// Copies is how many of each label are printed, one after the other; 0 is one.
	Copies int
	// CutMarks draws the corners of each label, for plain paper.
	CutMarks bool
	// Progress is called after each label with the number of labels done; if it returns
	// an error, Layout stops and returns that error. It may be nil.
	Progress func(done, total int) error
}

// MostCopies is how many copies of a label are printed at once.
const MostCopies = 100

// Layout puts labels on stock. It returns a *LabelError for a label whose tag
// does not fit a code, and an error for stock too small for one.
func Layout(list []Label, stock Stock, opt Options) (Document, error) {
	doc := Document{Stock: stock}
	if err := stock.Check(); err != nil {
		return doc, err
	}
	if opt.StartAt < 0 || opt.StartAt >= stock.PerPage() {
		return doc, fmt.Errorf("start at cell %d: a sheet of %s has cells 1 to %d", opt.StartAt+1, stock.Words, stock.PerPage())
	}
	set, err := newSetter()
	if err != nil {
		return doc, err
	}
	c := &composer{set: set, stock: stock, doc: &doc, runs: map[string][]Run{}}
	copies := max(1, opt.Copies)
	if copies > MostCopies {
		return doc, fmt.Errorf("%d copies of each label: at most %d are printed at once", copies, MostCopies)
	}
	for i, label := range list {
		c.noted = len(doc.Notes)
		for n := range copies {
			if err := c.place(i, opt.StartAt+i*copies+n, label); err != nil {
				return Document{Stock: stock}, err
			}
		}
		if opt.Progress != nil {
			if err := opt.Progress(i+1, len(list)); err != nil {
				return Document{Stock: stock}, err
			}
		}
	}
	for i := range doc.Pages {
		c.furnish(&doc.Pages[i], i, opt.CutMarks)
	}
	return doc, nil
}

// composer sets one label after another into a document.
type composer struct {
	set   *setter
	stock Stock
	doc   *Document
	cell  *Cell            // the one being set
	runs  map[string][]Run // of the tags so far
	noted int              // notes of the labels before this one
}

// place sets a label into the cell of that number, on a new page when needed.
func (c *composer) place(index, number int, label Label) error {
	page := number / c.stock.PerPage()
	rect := c.stock.Cell(number % c.stock.PerPage())
	c.cell = &Cell{Rect: rect, Label: index, Items: make([]Item, 0, 12)}
	if reason := checkTag(label.Tag); reason != "" {
		return &LabelError{Index: index, Tag: label.Tag, Reason: reason}
	}
	label = c.clean(label)
	set := c.card
	if rect.H <= stripHeight {
		set = c.strip
	}
	if err := set(label); err != nil {
		return &LabelError{Index: index, Tag: label.Tag, Reason: err.Error()}
	}
	if len(c.doc.Pages) <= page {
		c.doc.Pages = append(c.doc.Pages, Page{W: c.stock.PageW, H: c.stock.PageH})
	}
	last := &c.doc.Pages[len(c.doc.Pages)-1]
	if c.stock.Tape {
		last.W = c.cell.W
	}
	last.Cells = append(last.Cells, *c.cell)
	return nil
}

// clean makes every text of a label printable, and adds a note for characters that
// cannot be printed.
func (c *composer) clean(l Label) Label {
	var lost []rune
	wash := func(f fonts.Face, text *string) {
		var n []rune
		var cut bool
		*text, n, cut = c.set.clean(f, *text)
		lost = append(lost, n...)
		if cut {
			c.note(fmt.Sprintf("the text %q is longer than %d characters and is cut", *text, maxText))
		}
	}
	lines := make([]string, 0, len(l.Lines))
	for _, line := range l.Lines {
		wash(fonts.TextRegular, &line)
		if line != "" {
			lines = append(lines, line)
		}
	}
	l.Lines = lines
	wash(fonts.MonoBold, &l.Name)
	wash(fonts.MonoBold, &l.Place)
	wash(fonts.MonoBold, &l.Beware.Name)
	for _, text := range []*string{&l.Title, &l.PlacePath, &l.Beware.Why, &l.Due, &l.Later} {
		wash(fonts.TextRegular, text)
	}
	if len(lost) > 0 {
		c.note(lostWords(lost))
	}
	return l
}

// mostLost is how many characters that cannot be printed are named.
const mostLost = 12

// lostWords says which characters cannot be printed.
func lostWords(lost []rune) string {
	var names []string
	for _, r := range lost {
		name := string(r)
		if r == unicode.ReplacementChar || unicode.Is(unicode.M, r) || !unicode.IsPrint(r) {
			name = fmt.Sprintf("U+%04X", r)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) > mostLost {
		names = append(names[:mostLost], "and others")
	}
	list := strings.Join(names, " ")
	if len(lost) == 1 {
		return "one character is not in the typeface and prints as a question mark: " + list
	}
	return fmt.Sprintf("%d characters are not in the typeface and print as question marks: %s", len(lost), list)
}

// note says something about a label, once for all of its copies.
func (c *composer) note(text string) {
	note := Note{Label: c.cell.Label, Text: text}
	if !slices.Contains(c.doc.Notes[c.noted:], note) {
		c.doc.Notes = append(c.doc.Notes, note)
	}
}

func (c *composer) add(items ...Item) { c.cell.Items = append(c.cell.Items, items...) }

// text adds one line of text with its left end at x.
func (c *composer) text(f fonts.Face, size, x, baseline float64, text string) {
	if text == "" {
		return
	}
	c.add(Text{X: x, Y: baseline, Size: size, Width: c.set.width(f, size, text), Face: f, Text: text})
}

// textRight adds one line of text with its right end at x.
func (c *composer) textRight(f fonts.Face, size, x, baseline float64, text string) {
	c.text(f, size, x-c.set.width(f, size, text), baseline, text)
}

// margins are the distances that content keeps from the edges of its cell.
type margins struct{ left, top, right, bottom float64 }

// marginsOf is the padding of a cell, and more where the cell touches the border that
// the printer cannot print on.
func (c *composer) marginsOf(pad float64) margins {
	r := c.cell.Rect
	edge := c.stock.Edge
	right := c.stock.PageW
	if c.stock.Tape {
		right = r.Right()
	}
	return margins{
		left:   math.Max(pad, edge-r.X),
		top:    math.Max(pad, edge-r.Y),
		right:  math.Max(pad, edge-(right-r.Right())),
		bottom: math.Max(pad, edge-(c.stock.PageH-r.Bottom())),
	}
}

// code adds the code of a tag with its first module at a point.
func (c *composer) code(tag string, x, y, module float64) error {
	runs, ok := c.runs[tag]
	if !ok {
		var err error
		if runs, err = runsOf(tag); err != nil {
			return err
		}
		c.runs[tag] = runs
	}
	c.add(Code{X: x, Y: y, Module: module, Size: codeModules, Runs: runs, Text: tag})
	if c.doc.Module == 0 || module < c.doc.Module {
		c.doc.Module = module
	}
	return nil
}

// Least room for a label inside its margins, in millimetres.
const leastW, leastH = 8.0, 4.0

// column is what the margins leave of the cell, or an error when that is nothing
// to print on.
func (c *composer) column(m margins) (Rect, error) {
	r := c.cell.Rect
	col := Rect{r.X + m.left, r.Y + m.top, r.W - m.left - m.right, r.H - m.top - m.bottom}
	if col.W < leastW || col.H < leastH {
		return col, fmt.Errorf("%s leaves no room inside its margins; pick larger stock", c.stock)
	}
	return col, nil
}

// tooSmall is the error for a cell that is too small for a code.
func (c *composer) tooSmall() error {
	return fmt.Errorf("%s is too small for a code with modules of %.2f mm; pick larger stock", c.stock, MinModule)
}

const (
	furnitureSize = 2.2 // em of the footer of a sheet, mm
	hairline      = 0.1 // pen of cut marks, mm
	cutMark       = 2.0 // arm of a cut mark, mm
)

// furnish adds the footer (the caution, and which sheet it is) where the bottom margin
// has room, and cut marks.
func (c *composer) furnish(p *Page, number int, cutMarks bool) {
	if cutMarks {
		for _, cell := range p.Cells {
			p.Items = append(p.Items, corners(cell.Rect)...)
		}
	}
	s := c.stock
	grid := s.Cell(s.PerPage() - 1)
	room := Rect{math.Max(s.Left, s.Edge), grid.Bottom(), 0, s.PageH - s.Edge - grid.Bottom()}
	room.W = math.Min(grid.Right(), s.PageW-s.Edge) - room.X
	if room.H < furnitureSize*1.5 {
		if number == 0 && s.PerPage() > 1 {
			c.doc.Notes = append(c.doc.Notes, Note{-1, "this stock has no margin for the caution: " + Caution})
		}
		return
	}
	baseline := room.Y + (room.H+capHeight*furnitureSize)/2
	add := func(x float64, text string) {
		p.Items = append(p.Items, Text{
			X: x, Y: baseline, Size: furnitureSize, Width: c.set.width(fonts.TextRegular, furnitureSize, text),
			Face: fonts.TextRegular, Ink: Quiet, Text: text,
		})
	}
	if c.set.width(fonts.TextRegular, furnitureSize, Caution) > room.W {
		return
	}
	add(room.X, Caution)
	about := fmt.Sprintf("%s · sheet %d of %d · print at actual size, 100 %%", s, number+1, len(c.doc.Pages))
	w := c.set.width(fonts.TextRegular, furnitureSize, about)
	if w+c.set.width(fonts.TextRegular, furnitureSize, Caution)+4 <= room.W {
		add(room.X+room.W-w, about)
	}
}

// corners are the four cut marks of a cell, drawn just inside its edge: it may be
// the edge of the paper.
func corners(r Rect) []Item {
	r = Rect{r.X + hairline/2, r.Y + hairline/2, r.W - hairline, r.H - hairline}
	var items []Item
	for _, x := range []float64{r.X, r.Right()} {
		for _, y := range []float64{r.Y, r.Bottom()} {
			dx, dy := cutMark, cutMark
			if x > r.X {
				dx = -dx
			}
			if y > r.Y {
				dy = -dy
			}
			items = append(items, Path{Points: []Point{{x + dx, y}, {x, y}, {x, y + dy}}, Pen: hairline, Ink: Quiet})
		}
	}
	return items
}
