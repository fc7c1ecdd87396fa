package labels

import (
	"math"

	"stowright/assets/fonts"
)

// Ink is how dark something is drawn.
type Ink uint8

// The inks. Labels themselves are all black: thermal printers have no grey.
const (
	Black Ink = iota // what a label says
	Quiet            // the footer of a sheet and cut marks; about 60 % black
	White            // ground under something dark
)

// Rect is an upright rectangle in millimetres, X and Y its top left corner.
type Rect struct{ X, Y, W, H float64 }

// Right and Bottom are the far edges.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Inside reports whether r is inside o, with a tolerance of a hundredth of a millimetre.
func (r Rect) Inside(o Rect) bool {
	const near = 0.01
	return r.X >= o.X-near && r.Y >= o.Y-near && r.Right() <= o.Right()+near && r.Bottom() <= o.Bottom()+near
}

func boundsOf(points []Point) Rect {
	if len(points) == 0 {
		return Rect{}
	}
	lo, hi := points[0], points[0]
	for _, p := range points[1:] {
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
		hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
	}
	return Rect{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

// Item is an element of the display list: a Fill, a Box, a Path, a Text, a Code or an Image. All
// lengths are millimetres on the page. Items are drawn in order.
type Item interface {
	// Bounds is a rectangle that holds all that is drawn, pens included.
	Bounds() Rect
}

var _ = []Item{Fill{}, Box{}, Path{}, Text{}, Code{}, Image{}}

// Fill is a filled rectangle.
type Fill struct {
	Rect
	Ink Ink
}

// Bounds is the rectangle itself.
func (f Fill) Bounds() Rect { return f.Rect }

// Box is the outline of a rectangle with rounded corners; the pen runs along
// the middle of the edge.
type Box struct {
	Rect
	Radius float64 // of the corners
	Pen    float64 // width of the line
	Ink    Ink
}

// Bounds is the rectangle and half a pen around it.
func (b Box) Bounds() Rect {
	return Rect{b.X - b.Pen/2, b.Y - b.Pen/2, b.W + b.Pen, b.H + b.Pen}
}

// Path is a line through points, or the polygon they enclose.
type Path struct {
	Points []Point
	Closed bool    // the last point is joined to the first
	Filled bool    // the enclosed area is filled and no line is drawn
	Dashed bool    // the line is broken: hidden, or not to a published figure
	Pen    float64 // width of the line
	Ink    Ink
}

// Bounds is the smallest rectangle around the points and half a pen.
func (p Path) Bounds() Rect {
	r := boundsOf(p.Points)
	if p.Filled {
		return r
	}
	return Rect{r.X - p.Pen/2, r.Y - p.Pen/2, r.W + p.Pen, r.H + p.Pen}
}

// Lengths of the strokes and gaps of a dashed line, in millimetres on paper.
const (
	dashStroke = 1.0
	dashGap    = 0.6
)

// segments are the straight lines of a path, dashes cut.
func (p Path) segments() [][2]Point {
	points := p.Points
	if p.Closed && len(points) > 0 {
		points = append(points[:len(points):len(points)], points[0])
	}
	var lines [][2]Point
	along := 0.0 // the path, in millimetres
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if !p.Dashed || !(length < 1e5) {
			lines = append(lines, [2]Point{a, b})
			continue
		}
		at := func(d float64) Point { return Point{a.X + (b.X-a.X)*d/length, a.Y + (b.Y-a.Y)*d/length} }
		// Strokes are counted, not stepped through: steps would add up to less than
		// a stroke for ever.
		const period = dashStroke + dashGap
		for n := math.Floor(along / period); n*period < along+length; n++ {
			from := math.Max(n*period-along, 0)
			to := math.Min(n*period+dashStroke-along, length)
			if from < to {
				lines = append(lines, [2]Point{at(from), at(to)})
			}
		}
		along += length
	}
	return lines
}

// Text is one line of text.
type Text struct {
	X, Y  float64 // left end of the baseline
	Size  float64 // height of the em; 1 mm is 72/25.4 points
	Width float64 // advance width of the whole line
	Face  fonts.Face
	Ink   Ink
	Text  string
}

// Heights of both families as parts of the em, from the hhea and OS/2 tables of
// the embedded files.
const (
	ascent    = 0.984
	descent   = 0.316
	capHeight = 0.668
)

// Bounds is the advance width by the ascent and descent of the face, which hold
// every accent.
func (t Text) Bounds() Rect {
	return Rect{t.X, t.Y - ascent*t.Size, t.Width, (ascent + descent) * t.Size}
}

// Code is a QR code. Its dark modules are given as horizontal runs in whole
// modules, so every drawing of it can be exact in its own units.
type Code struct {
	X, Y   float64 // top left corner of the first module, quiet zone outside
	Module float64 // side of one module
	Size   int     // modules along one side, without the quiet zone
	Runs   []Run
	Text   string // what the code says
}

// Image is a photograph, stretched to its rectangle: a JPEG file, or one that is read when it
// is needed, so that a document with hundreds of them can be made.
type Image struct {
	Rect
	JPEG []byte
	Name string                 // with Read: tells it from others
	Read func() ([]byte, error) // nil: it is JPEG
}

// file is the JPEG file itself.
func (i Image) file() ([]byte, error) {
	if i.Read != nil {
		return i.Read()
	}
	return i.JPEG, nil
}

// Bounds is the rectangle itself.
func (i Image) Bounds() Rect { return i.Rect }

// Run is a horizontal row of dark modules: its row, its first column, its length.
type Run struct{ Row, Col, Len uint8 }

// Bounds is the code without its quiet zone.
func (c Code) Bounds() Rect {
	side := float64(c.Size) * c.Module
	return Rect{c.X, c.Y, side, side}
}

// Quiet is the code with the quiet zone of four modules that must stay white.
func (c Code) Quiet() Rect {
	b, q := c.Bounds(), QuietModules*c.Module
	return Rect{b.X - q, b.Y - q, b.W + 2*q, b.H + 2*q}
}

// Rects are the dark runs as rectangles on the page.
func (c Code) Rects() []Rect {
	rects := make([]Rect, len(c.Runs))
	for i, r := range c.Runs {
		rects[i] = Rect{c.X + float64(r.Col)*c.Module, c.Y + float64(r.Row)*c.Module, float64(r.Len) * c.Module, c.Module}
	}
	return rects
}

// Cell is one label on a page: where it is and what is drawn there.
type Cell struct {
	Rect
	Label int // index of the label in the labels given
	Items []Item
}

// Page is one sheet, or one piece of roll or tape.
type Page struct {
	W, H  float64 // size of the paper in millimetres
	Cells []Cell  // the labels, in the order given
	Items []Item  // footer and cut marks
}

// Note is something the user should know before printing.
type Note struct {
	Label int    // index of the label, or -1 for all of them
	Text  string // one sentence
}

// Document is pages ready to be drawn, in order.
type Document struct {
	Stock Stock
	Title string // of the file; empty for "Labels"
	Pages []Page
	Notes []Note
	// Module is the side of one module of the smallest code, in millimetres;
	// 0 when no label has a code.
	Module float64
}

// Labels counts the labels on all pages.
func (d Document) Labels() int {
	n := 0
	for _, p := range d.Pages {
		n += len(p.Cells)
	}
	return n
}
