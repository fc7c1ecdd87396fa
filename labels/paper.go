package labels

import (
	"cmp"
	"fmt"

	"stowright/assets/fonts"
)

// Paper is a document that is read, ticked or sent, and not cut into labels: a check-off
// sheet, a claim. Its pages are numbered, and the headings of a table stand on each page
// that it goes over.
type Paper struct {
	Title  string
	Tag    string   // of what it is about, as a code at the top right; empty for none
	Opens  string   // in place of a tag: the text of the code, and what it opens when it is scanned or typed
	Under  []string // lines below the title
	Large  bool     // tables in big type, to be read at arm's length
	Foot   string   // on each page, below its number; empty for nothing
	Blocks []Block
	Anchor *PaperAnchor // nil where the paper is of no shop
}

// Block is a part of a paper: a heading, then texts, a table, pictures.
type Block struct {
	Heading  string
	Chapter  bool // it begins a page and stands in the contents, on the first page
	Texts    []string
	Columns  []PaperColumn
	Rows     [][]string  // by columns
	Grids    []PaperGrid // by rows, for the column of them
	Pictures []PaperPicture
}

// PaperColumn is a column of a table on paper.
type PaperColumn struct {
	Title string
	Width float64 // mm; 0 for an equal share of what the others leave
	Mono  bool    // numbers and part numbers
	Tick  bool    // an empty box to tick; what the row holds stands behind it
	Line  bool    // a line to write on
	Grid  bool    // the cabinet with its drawer
}

// PaperPicture is a photograph on paper, with what is written under it.
type PaperPicture struct {
	JPEG    []byte
	W, H    int // pixels
	Caption string

	// A large one has the width of the page, and all of its lines stand under it. It is read
	// when the file is written, by its name as Image says.
	Large bool
	Lines []string
	Name  string
	Read  func() ([]byte, error)
}

// Sizes of a paper, in millimetres.
const (
	paperMargin  = 15.0
	paperTitle   = 6.0
	paperChapter = 5.4
	paperHeading = 4.2
	paperText    = 3.4
	paperSmall   = 2.9
	paperLine    = 4.6
	paperRow     = 6.6 // of a table: room for a pen
	paperTick    = 3.4
	paperCode    = 0.6 // module of the code
	paperGap     = 4.0
	paperLarge   = 1.45 // how much larger a table in big type is
	paperPen     = 0.2
	pictureMost  = 75.0 // width and height of a picture at most
	mostLines    = 60   // of one text
	mostPages    = 2000
)

// Layout puts the paper on pages of that stock's size.
func (p Paper) Layout(stock Stock) (Document, error) {
	doc := Document{Stock: stock, Title: p.Title}
	set, err := newSetter()
	if err != nil {
		return doc, err
	}
	s := &paperSheet{set: set, stock: stock, scale: 1}
	if p.Anchor != nil {
		s.reserved = anchorHigh
	}
	if p.Large {
		s.scale = paperLarge
	}
	s.page()
	if err := s.head(p); err != nil {
		return doc, err
	}
	contents := s.contents(p)
	for _, b := range p.Blocks {
		s.chapter(b, contents)
		s.block(b)
		if len(s.pages) > mostPages {
			return doc, fmt.Errorf("%s has more than %d pages: print a part of it", p.Title, mostPages)
		}
	}
	s.fillContents(contents)
	s.foot(p.Title, p.Foot)
	if p.Anchor != nil {
		if err := s.anchor(*p.Anchor); err != nil {
			return doc, err
		}
	}
	doc.Pages = s.pages
	if p.Tag != "" || p.Opens != "" {
		doc.Module = paperCode
	}
	return doc, nil
}

// paperSheet fills pages from the top.
type paperSheet struct {
	set   *setter
	stock Stock
	pages []Page
	y     float64
	scale float64 // of tables

	reserved float64 // at the foot, for the anchor
}

func (s *paperSheet) page() {
	s.pages = append(s.pages, Page{W: s.stock.PageW, H: s.stock.PageH})
	s.y = paperMargin
}

func (s *paperSheet) add(items ...Item) {
	last := &s.pages[len(s.pages)-1]
	last.Items = append(last.Items, items...)
}

func (s *paperSheet) width() float64 { return s.stock.PageW - 2*paperMargin }

// room reports whether so much still fits the page.
func (s *paperSheet) room(h float64) bool {
	return s.y+h <= s.stock.PageH-paperMargin-paperLine-s.reserved
}

// text adds lines of text at x, going over to the next page.
func (s *paperSheet) text(f fonts.Face, size, x, width float64, text string) {
	clean, _, _ := s.set.clean(f, text)
	lines, _ := s.set.wrap(f, size, clean, width, mostLines)
	for _, l := range lines {
		if !s.room(paperLine) {
			s.page()
		}
		s.y += size * 1.35
		s.line(f, size, x, s.y, l)
	}
}

// line adds one line of text with its baseline at y.
func (s *paperSheet) line(f fonts.Face, size, x, y float64, text string) {
	if text != "" {
		s.add(Text{X: x, Y: y, Size: size, Width: s.set.width(f, size, text), Face: f, Text: text})
	}
}

// code is the code at the top right with its modules a side, 0 for none, and what stands
// under it.
func (p Paper) code() (runs []Run, side int, words string, err error) {
	switch {
	case p.Tag != "":
		if reason := checkTag(p.Tag); reason != "" {
			return nil, 0, "", fmt.Errorf("the tag %s: %s", p.Tag, reason)
		}
		runs, err = runsOf(p.Tag)
		return runs, codeModules, SpacedTag(p.Tag), err
	case p.Opens != "":
		runs, side, err = opensOf(p.Opens)
		return runs, side, p.Opens, err
	}
	return nil, 0, "", nil
}

// head adds the title with the code of the tag at its right.
func (s *paperSheet) head(p Paper) error {
	width, bottom := s.width(), s.y
	runs, side, words, err := p.code()
	if err != nil {
		return err
	}
	if side > 0 {
		const quiet = QuietModules * paperCode
		wide := float64(side) * paperCode
		s.add(Code{X: s.stock.PageW - paperMargin - wide - quiet, Y: s.y + quiet, Module: paperCode, Size: side, Runs: runs, Text: cmp.Or(p.Tag, p.Opens)})
		bottom += wide + 2*quiet + paperSmall
		long := s.set.width(fonts.MonoMedium, paperSmall, words)
		s.line(fonts.MonoMedium, paperSmall, s.stock.PageW-paperMargin-long, bottom, words)
		width -= max(wide+2*quiet, long) + paperGap
	}
	s.text(fonts.MonoBold, paperTitle, paperMargin, width, p.Title)
	s.y += 1
	for _, u := range p.Under {
		s.text(fonts.TextRegular, paperText, paperMargin, width, u)
	}
	s.y = max(s.y, bottom)
	return nil
}

func (s *paperSheet) block(b Block) {
	if b.Heading != "" {
		if !s.room(paperGap + paperHeading + 3*paperRow) { // no heading alone at the foot
			s.page()
		}
		size := paperHeading
		if b.Chapter {
			size = paperChapter
		}
		s.y += paperGap
		s.text(fonts.TextBold, size, paperMargin, s.width(), b.Heading)
		s.y += 1
	}
	for _, t := range b.Texts {
		s.text(fonts.TextRegular, paperText, paperMargin, s.width(), t)
	}
	if len(b.Columns) > 0 {
		s.table(b)
	}
	s.pictures(b.Pictures)
}

// table adds the rows of a table, with its headings on each page.
func (s *paperSheet) table(b Block) {
	widths := s.widths(b.Columns)
	s.headings(b.Columns, widths)
	for n, row := range b.Rows {
		lines, high := s.cells(b.Columns, widths, row)
		grid := b.grid(n)
		high = max(high, grid.height())
		if !s.room(high) {
			s.page()
			s.headings(b.Columns, widths)
		}
		x := paperMargin
		for i, c := range b.Columns {
			s.cell(c, x, widths[i], high, lines[i])
			if c.Grid {
				s.grid(grid, x)
			}
			x += widths[i]
		}
		s.y += high
		s.rule()
	}
}

// widths are those of the columns on the page.
func (s *paperSheet) widths(columns []PaperColumn) []float64 {
	left, shares := s.width(), 0
	for _, c := range columns {
		left -= c.Width
		if c.Width == 0 {
			shares++
		}
	}
	widths := make([]float64, len(columns))
	for i, c := range columns {
		if widths[i] = c.Width; c.Width == 0 {
			widths[i] = left / float64(shares)
		}
	}
	return widths
}

func (s *paperSheet) headings(columns []PaperColumn, widths []float64) {
	s.y += paperRow * 0.75 // the headings stay small
	x := paperMargin
	for i, c := range columns {
		clean, _, _ := s.set.clean(fonts.TextRegular, c.Title)
		short, _ := s.set.shorten(fonts.TextRegular, paperSmall, clean, widths[i]-1)
		s.line(fonts.TextRegular, paperSmall, x, s.y, short)
		x += widths[i]
	}
	s.y += 1.2
	s.rule()
}

func (s *paperSheet) rule() {
	s.add(Path{Points: []Point{{paperMargin, s.y}, {s.stock.PageW - paperMargin, s.y}}, Pen: paperPen / 2, Ink: Quiet})
}

// cells are the lines of the cells of a row, and how high it is.
func (s *paperSheet) cells(columns []PaperColumn, widths []float64, row []string) (lines [][]string, high float64) {
	high = paperRow * s.scale
	for i, c := range columns {
		text := ""
		if i < len(row) {
			text = row[i]
		}
		f, width := c.face(), widths[i]-1
		if c.Tick {
			width -= paperTick*s.scale + 1
		}
		clean, _, _ := s.set.clean(f, text)
		wrapped, _ := s.set.wrap(f, paperText*s.scale, clean, width, mostLines)
		lines = append(lines, wrapped)
		high = max(high, (paperRow+float64(len(wrapped)-1)*paperText*1.3)*s.scale)
	}
	return lines, high
}

func (c PaperColumn) face() fonts.Face {
	if c.Mono {
		return fonts.MonoMedium
	}
	return fonts.TextRegular
}

// cell adds one cell of a row whose top is where the page is filled to.
func (s *paperSheet) cell(c PaperColumn, x, width, high float64, lines []string) {
	row, text, tick := paperRow*s.scale, paperText*s.scale, paperTick*s.scale
	base := s.y + row*0.68
	if c.Tick {
		s.add(Box{Rect: Rect{x, s.y + (row-tick)/2, tick, tick}, Pen: paperPen})
		x += tick + 1
	}
	if c.Line {
		s.add(Path{Points: []Point{{x, s.y + high - 1.2}, {x + width - 2, s.y + high - 1.2}}, Pen: paperPen})
	}
	for i, l := range lines {
		s.line(c.face(), text, x, base+float64(i)*text*1.3, l)
	}
}

// pictures adds photographs side by side, each with what is written under it.
func (s *paperSheet) pictures(list []PaperPicture) {
	x, high := paperMargin, 0.0
	for _, p := range list {
		if p.W <= 0 || p.H <= 0 {
			continue
		}
		if p.Large {
			s.y, x, high = s.y+high, paperMargin, 0
			s.large(p)
			continue
		}
		w := min(pictureMost, pictureMost*float64(p.W)/float64(p.H))
		h := w * float64(p.H) / float64(p.W)
		if x+w > s.stock.PageW-paperMargin {
			s.y += high + paperGap
			x, high = paperMargin, 0
		}
		if !s.room(h + 2*paperLine) {
			s.page()
			x, high = paperMargin, 0
		}
		s.add(Image{Rect: Rect{x, s.y + 2, w, h}, JPEG: p.JPEG})
		clean, _, _ := s.set.clean(fonts.TextRegular, p.Caption)
		short, _ := s.set.shorten(fonts.TextRegular, paperSmall, clean, w)
		s.line(fonts.TextRegular, paperSmall, x, s.y+h+2+paperSmall*1.3, short)
		x += w + paperGap
		high = max(high, h+2+2*paperSmall)
	}
	s.y += high
}

// foot numbers the pages, and says below that what is to stand on each.
func (s *paperSheet) foot(title, below string) {
	clean, _, _ := s.set.clean(fonts.TextRegular, title)
	y := s.stock.PageH - paperMargin + paperLine
	for i := range s.pages {
		s.footLine(i, y, fmt.Sprintf("%s, page %d of %d", clean, i+1, len(s.pages)))
		s.footLine(i, y+paperSmall*1.35, below)
	}
}

func (s *paperSheet) footLine(page int, y float64, text string) {
	if text == "" {
		return
	}
	words, _ := s.set.shorten(fonts.TextRegular, paperSmall, text, s.width())
	s.pages[page].Items = append(s.pages[page].Items, Text{
		X: paperMargin, Y: y, Size: paperSmall, Width: s.set.width(fonts.TextRegular, paperSmall, words), Face: fonts.TextRegular, Ink: Quiet, Text: words,
	})
}
