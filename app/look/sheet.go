package look

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"stowright/labels"
)

// SheetView draws one page of labels exactly as it will print, as large as its
// room allows: the same rectangles, lines, codes and letters in millimetres. It is
// paper, so it is white with black ink in every theme. Fyne has nothing that draws
// in millimetres.
type SheetView struct {
	widget.BaseWidget
	// OnTapped is called with the point where the page was tapped, in millimetres from its top
	// left corner.
	OnTapped func(x, y float64)

	page   labels.Page
	part   labels.Rect   // the part of the page that is shown; zero for all of it
	ghosts []labels.Rect // cells that are used up: hatched
	chosen labels.Rect   // the cell that is chosen; zero for none
}

// NewSheetView draws that page.
func NewSheetView(page labels.Page) *SheetView {
	s := &SheetView{page: page}
	s.ExtendBaseWidget(s)
	return s
}

// SetPage draws another page. Ghosts are cells of the stock that are used up
// already, chosen is the cell to mark; both may be empty.
func (s *SheetView) SetPage(page labels.Page, ghosts []labels.Rect, chosen labels.Rect) {
	s.page, s.part, s.ghosts, s.chosen = page, labels.Rect{}, ghosts, chosen
	s.Refresh()
}

// SetPart draws only a part of a page, enlarged to the room there is: one label.
func (s *SheetView) SetPart(page labels.Page, part labels.Rect) {
	s.page, s.part, s.ghosts, s.chosen = page, part, nil, labels.Rect{}
	s.Refresh()
}

// shown is the part of the page that is drawn.
func (s *SheetView) shown() labels.Rect {
	if s.part.W > 0 && s.part.H > 0 {
		return s.part
	}
	return labels.Rect{W: s.page.W, H: s.page.H}
}

func (s *SheetView) stretches() {}

// HeightFor is the height at which what is shown has that width.
func (s *SheetView) HeightFor(width float32) float32 {
	part := s.shown()
	if part.W <= 0 {
		return Px(rowHeight)
	}
	return width * float32(part.H/part.W)
}

// paper is where the paper is drawn, and how many points a millimetre has.
func (s *SheetView) paper(size fyne.Size) (x, y, scale float64) {
	part := s.shown()
	if part.W <= 0 || part.H <= 0 {
		return 0, 0, 1
	}
	const edge = 1
	w, h := float64(size.Width)-2*edge, float64(size.Height)-2*edge
	scale = min(w/part.W, h/part.H)
	return edge + (w-part.W*scale)/2, edge, scale
}

// Tapped tells where the page was tapped.
func (s *SheetView) Tapped(e *fyne.PointEvent) {
	if s.OnTapped == nil {
		return
	}
	part := s.shown()
	x, y, scale := s.paper(s.Size())
	mx, my := (float64(e.Position.X)-x)/scale, (float64(e.Position.Y)-y)/scale
	if mx >= 0 && my >= 0 && mx <= part.W && my <= part.H {
		s.OnTapped(part.X+mx, part.Y+my)
	}
}

// Cursor is a hand where a tap does something.
func (s *SheetView) Cursor() desktop.Cursor {
	if s.OnTapped == nil {
		return desktop.DefaultCursor
	}
	return desktop.PointerCursor
}

// CreateRenderer draws the page.
func (s *SheetView) CreateRenderer() fyne.WidgetRenderer {
	drawing := newDrawing(s.draw)
	r := &drawn{objects: []fyne.CanvasObject{drawing}}
	r.min = func() fyne.Size { return fyne.NewSize(Px(120), Px(120)) }
	r.layout = func(size fyne.Size) { place(drawing, 0, 0, size.Width, size.Height) }
	r.refresh = drawing.Refresh
	return r.ready(s)
}

func (s *SheetView) draw(p *pen) {
	x, y, mm := s.paper(p.size)
	part := s.shown()
	if part.W <= 0 {
		return
	}
	at := func(mx, my float64) xy { return xy{x + (mx-part.X)*mm, y + (my-part.Y)*mm} }
	corners := func(r labels.Rect) []xy {
		return []xy{at(r.X, r.Y), at(r.Right(), r.Y), at(r.Right(), r.Bottom()), at(r.X, r.Bottom())}
	}
	p.fill(corners(part), rgb(0xFFFFFF))
	s.print(p, x, y, mm)
	p.stroke(corners(part), true, 1, named(ColorLine))
	used := p.rasterizer()
	for _, g := range s.ghosts {
		c := corners(g)
		p.addStroke(used, c, true, 1)
		p.addStroke(used, []xy{c[0], c[2]}, false, 1)
		p.addStroke(used, []xy{c[3], c[1]}, false, 1)
	}
	p.paint(used, rgb(0xC4C0B4))
	if s.chosen.W > 0 {
		p.stroke(corners(s.chosen), true, 2.5, rgb(0x2B6649))
	}
}

// print draws what the printer will: the page's own display list. A page that is
// too small or too large for a picture stays blank paper.
func (s *SheetView) print(p *pen, x, y, mm float64) {
	part, perMM := s.shown(), mm*p.scale
	printed, err := labels.Picture(s.page, perMM)
	if err != nil {
		return
	}
	pixel := func(v float64) int { return int(math.Round(v)) }
	from := image.Pt(pixel(part.X*perMM), pixel(part.Y*perMM))
	to := image.Rect(0, 0, pixel(part.W*perMM), pixel(part.H*perMM)).Add(image.Pt(pixel(x*p.scale), pixel(y*p.scale)))
	draw.Draw(p.img, to, printed, from, draw.Src)
}
