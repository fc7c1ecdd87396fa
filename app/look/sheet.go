package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"stowright/assets/fonts"
	"stowright/labels"
)

// SheetPicture draws one page of labels exactly as it will print, as large as its
// room allows: the same rectangles, lines, codes and letters in millimetres. It
// is paper, so it is white with black ink in every theme.
type SheetPicture struct {
	widget.BaseWidget
	// OnTapped is told where the page was tapped, in millimetres from its top
	// left corner.
	OnTapped func(x, y float64)

	page   labels.Page
	ghosts []labels.Rect // cells that are used up: hatched
	chosen labels.Rect   // the cell that is chosen; zero for none
	faces  map[fonts.Face]*sfnt.Font
}

// NewSheetPicture draws that page.
func NewSheetPicture(page labels.Page) *SheetPicture {
	s := &SheetPicture{page: page, faces: make(map[fonts.Face]*sfnt.Font)}
	s.ExtendBaseWidget(s)
	return s
}

// SetPage draws another page. Ghosts are cells of the stock that are used up
// already, chosen is the cell to mark; both may be empty.
func (s *SheetPicture) SetPage(page labels.Page, ghosts []labels.Rect, chosen labels.Rect) {
	s.page, s.ghosts, s.chosen = page, ghosts, chosen
	s.Refresh()
}

func (s *SheetPicture) stretches() {}

// HeightFor is the height at which the page has that width.
func (s *SheetPicture) HeightFor(width float32) float32 {
	if s.page.W <= 0 {
		return Px(rowHeight)
	}
	return width * float32(s.page.H/s.page.W)
}

// paper is where the page is drawn, and how many points a millimetre has.
func (s *SheetPicture) paper(size fyne.Size) (x, y, scale float64) {
	if s.page.W <= 0 || s.page.H <= 0 {
		return 0, 0, 1
	}
	const edge = 1
	w, h := float64(size.Width)-2*edge, float64(size.Height)-2*edge
	scale = min(w/s.page.W, h/s.page.H)
	return edge + (w-s.page.W*scale)/2, edge, scale
}

// Tapped tells where the page was tapped.
func (s *SheetPicture) Tapped(e *fyne.PointEvent) {
	if s.OnTapped == nil {
		return
	}
	x, y, scale := s.paper(s.Size())
	mx, my := (float64(e.Position.X)-x)/scale, (float64(e.Position.Y)-y)/scale
	if mx >= 0 && my >= 0 && mx <= s.page.W && my <= s.page.H {
		s.OnTapped(mx, my)
	}
}

// Cursor is a hand where a tap does something.
func (s *SheetPicture) Cursor() desktop.Cursor {
	if s.OnTapped == nil {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// CreateRenderer draws the page.
func (s *SheetPicture) CreateRenderer() fyne.WidgetRenderer {
	drawing := newDrawing(s.draw)
	r := &drawn{objects: []fyne.CanvasObject{drawing}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(120), Px(120)) }
	r.layout = func(size fyne.Size) { place(drawing, 0, 0, size.Width, size.Height) }
	r.refresh = drawing.Refresh
	return r.ready(s)
}

// Colours of ink on paper, the same in every theme.
func inkColor(i labels.Ink) color.NRGBA {
	switch i {
	case labels.Quiet:
		return rgb(0x666666)
	case labels.White:
		return rgb(0xFFFFFF)
	default:
		return rgb(0x000000)
	}
}

// sheetPen draws millimetres of a page: all of one ink in one painting.
type sheetPen struct {
	*pen
	x, y, mm float64
	faces    map[fonts.Face]*sfnt.Font
	buffer   sfnt.Buffer
}

func (s *SheetPicture) draw(p *pen) {
	x, y, mm := s.paper(p.size)
	d := &sheetPen{pen: p, x: x, y: y, mm: mm, faces: s.faces}
	w, h := s.page.W*mm, s.page.H*mm
	paper := []xy{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	p.fill(paper, rgb(0xFFFFFF))
	p.stroke(paper, true, 1, named(ColorLine))
	ghosts := p.rasterizer()
	for _, g := range s.ghosts {
		d.hatch(ghosts, g)
	}
	p.paint(ghosts, rgb(0xC4C0B4))
	items := append([]labels.Item(nil), s.page.Items...)
	for _, c := range s.page.Cells {
		items = append(items, c.Items...)
	}
	for _, ink := range []labels.Ink{labels.White, labels.Quiet, labels.Black} {
		d.shapes(items, ink)
		d.texts(items, ink)
	}
	if c := s.chosen; c.W > 0 {
		p.stroke(d.corners(c), true, 2.5, rgb(0x2B6649))
	}
}

func (d *sheetPen) at(x, y float64) xy { return xy{d.x + x*d.mm, d.y + y*d.mm} }

// corners of a rectangle, winding the way that strokes do.
func (d *sheetPen) corners(r labels.Rect) []xy {
	return []xy{d.at(r.X, r.Y), d.at(r.Right(), r.Y), d.at(r.Right(), r.Bottom()), d.at(r.X, r.Bottom())}
}

// hatch strikes a used cell through.
func (d *sheetPen) hatch(z *vector.Rasterizer, r labels.Rect) {
	d.addStroke(z, d.corners(r), true, 1)
	d.addStroke(z, []xy{d.at(r.X, r.Y), d.at(r.Right(), r.Bottom())}, false, 1)
	d.addStroke(z, []xy{d.at(r.X, r.Bottom()), d.at(r.Right(), r.Y)}, false, 1)
}

// shapes paints everything of one ink but text.
func (d *sheetPen) shapes(items []labels.Item, ink labels.Ink) {
	z := d.rasterizer()
	for _, item := range items {
		switch i := item.(type) {
		case labels.Fill:
			if i.Ink == ink {
				d.trace(z, d.corners(i.Rect))
			}
		case labels.Box:
			if i.Ink == ink {
				at := d.at(i.X, i.Y)
				outline := roundedBox(at.x, at.y, i.W*d.mm, i.H*d.mm, max(i.Radius*d.mm, 0.01))
				d.addStroke(z, outline, false, d.width(i.Pen))
			}
		case labels.Path:
			if i.Ink == ink {
				d.path(z, i)
			}
		case labels.Code:
			if ink == labels.Black {
				for _, r := range i.Rects() {
					d.trace(z, d.corners(r))
				}
			}
		}
	}
	d.paint(z, inkColor(ink))
}

// width is a pen in points; thinner than this would vanish on a screen.
func (d *sheetPen) width(mm float64) float64 { return max(mm*d.mm, 0.5) }

func (d *sheetPen) path(z *vector.Rasterizer, p labels.Path) {
	points := make([]xy, len(p.Points))
	for i, q := range p.Points {
		points[i] = d.at(q.X, q.Y)
	}
	if p.Filled {
		d.trace(z, clockwise(points))
		return
	}
	d.addStroke(z, points, p.Closed, d.width(p.Pen))
}

// clockwise is the polygon winding the way that strokes do, so that a filled area
// and a line over it add up.
func clockwise(points []xy) []xy {
	var area float64
	for i, a := range points {
		b := points[(i+1)%len(points)]
		area += a.x*b.y - b.x*a.y
	}
	if area >= 0 {
		return points
	}
	out := make([]xy, len(points))
	for i, q := range points {
		out[len(points)-1-i] = q
	}
	return out
}

// texts paints the text of one ink by the outlines of its letters.
func (d *sheetPen) texts(items []labels.Item, ink labels.Ink) {
	z := d.rasterizer()
	for _, item := range items {
		if t, ok := item.(labels.Text); ok && t.Ink == ink {
			d.text(z, t)
		}
	}
	d.paint(z, inkColor(ink))
}

// face is a parsed typeface, nil when it cannot be parsed.
func (d *sheetPen) face(f fonts.Face) *sfnt.Font {
	if _, ok := d.faces[f]; !ok {
		d.faces[f], _ = sfnt.Parse(f.TrueType()) // embedded files, proven whole by their own test
	}
	return d.faces[f]
}

// emUnits is the size that glyphs are loaded at: large, so that rounding is small.
const emUnits = 1024

// text sets the letters of one line so that the line has the width it prints with.
func (d *sheetPen) text(z *vector.Rasterizer, t labels.Text) {
	f := d.face(t.Face)
	if f == nil {
		return
	}
	var whole float64
	for _, r := range t.Text {
		_, advance := d.glyph(f, r)
		whole += advance
	}
	stretch := 1.0
	if whole > 0 && t.Width > 0 {
		stretch = t.Width / (whole / emUnits * t.Size)
	}
	unit := t.Size / emUnits
	x := t.X
	for _, r := range t.Text {
		index, advance := d.glyph(f, r)
		d.outline(z, f, index, labels.Point{X: x, Y: t.Y}, unit)
		x += advance * unit * stretch
	}
}

// glyph is the index of a letter and its advance in em units.
func (d *sheetPen) glyph(f *sfnt.Font, r rune) (sfnt.GlyphIndex, float64) {
	index, err := f.GlyphIndex(&d.buffer, r)
	if err != nil {
		return 0, 0
	}
	advance, err := f.GlyphAdvance(&d.buffer, index, fixed.I(emUnits), font.HintingNone)
	if err != nil {
		return index, 0
	}
	return index, float64(advance) / 64
}

// outline adds the curves of one letter.
func (d *sheetPen) outline(z *vector.Rasterizer, f *sfnt.Font, index sfnt.GlyphIndex, at labels.Point, unit float64) {
	segments, err := f.LoadGlyph(&d.buffer, index, fixed.I(emUnits), nil)
	if err != nil {
		return
	}
	point := func(p fixed.Point26_6) (float32, float32) {
		q := d.at(at.X+float64(p.X)/64*unit, at.Y+float64(p.Y)/64*unit)
		return float32(q.x * d.scale), float32(q.y * d.scale)
	}
	for i, s := range segments {
		x, y := point(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			if i > 0 {
				z.ClosePath()
			}
			z.MoveTo(x, y)
		case sfnt.SegmentOpLineTo:
			z.LineTo(x, y)
		case sfnt.SegmentOpQuadTo:
			x1, y1 := point(s.Args[1])
			z.QuadTo(x, y, x1, y1)
		case sfnt.SegmentOpCubeTo:
			x1, y1 := point(s.Args[1])
			x2, y2 := point(s.Args[2])
			z.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	if len(segments) > 0 {
		z.ClosePath()
	}
}
