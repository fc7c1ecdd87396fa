package look

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"stowright/app/drawing"
)

// PieceView draws a piece as a thin ink outline with its dimension lines, as
// large as its room allows up to a limit, or at true size where the scale of the
// screen is known. Fyne has no path object and no true size, so the outline is
// drawn by a pen on a raster.
type PieceView struct {
	widget.BaseWidget
	piece drawing.Piece
	pxmm  float64 // points per millimetre; 0 fits the room
}

// NewPieceView draws that piece to fit.
func NewPieceView(p drawing.Piece) *PieceView {
	w := &PieceView{piece: p}
	w.ExtendBaseWidget(w)
	return w
}

// SetTrueSize draws at that many points to the millimetre; 0 fits the room again.
func (w *PieceView) SetTrueSize(pointsPerMM float64) {
	w.pxmm = pointsPerMM
	w.Refresh()
}

// Room that the picture takes.
const (
	pieceHeight  = 104 // points at normal size, dimension lines included
	dimensionGap = 25  // points from the piece to a dimension line, and between two
	piecePerMM   = 14  // points per millimetre at most, so that a washer stays small
)

// HeightFor is how high the picture wants to be.
func (w *PieceView) HeightFor(width float32) float32 {
	if w.pxmm > 0 {
		least, greatest := w.piece.Bounds()
		above, below := w.levels()
		return float32((greatest.Y-least.Y)*w.pxmm) + Px(dimensionGap)*float32(above+below+1)
	}
	least, greatest := w.piece.Bounds()
	above, below := w.levels()
	scale := w.widthScale(float64(width), greatest.X-least.X)
	h := float32((greatest.Y-least.Y)*scale) + Px(dimensionGap)*float32(above+below) + Px(6)
	return min(Px(pieceHeight), h)
}

// leastWidth is the whole width at a given scale, with the room of its dimensions.
func (w *PieceView) leastWidth() float32 {
	if w.pxmm <= 0 {
		return Px(120)
	}
	least, greatest := w.piece.Bounds()
	wide := (greatest.X - least.X) * w.pxmm
	for _, d := range w.piece.Dimensions {
		if !d.Upright() {
			wide = max(wide, float64(roleFoot().width(d.Text)))
		}
	}
	left, right := w.sides()
	return float32(wide + left + right)
}

// widthScale is the largest scale at which a piece that long fits the width.
func (w *PieceView) widthScale(width, length float64) float64 {
	left, right := w.sides()
	return min((width-left-right)/max(length, 0.1), piecePerMM*float64(Px(1)))
}

// levels is how many dimension lines lie above and below the piece.
func (w *PieceView) levels() (above, below int) {
	for _, d := range w.piece.Dimensions {
		if d.Upright() {
			continue
		}
		if d.Offset < 0 {
			above++
		} else {
			below++
		}
	}
	return above, below
}

// projection maps millimetres to points.
type projection struct{ scale, dx, dy float64 }

func (j projection) at(p drawing.Point) xy { return xy{p.X*j.scale + j.dx, p.Y*j.scale + j.dy} }

// project fits the piece and its dimension lines into a size.
func (w *PieceView) project(size fyne.Size) projection {
	least, greatest := w.piece.Bounds()
	pw, ph := max(greatest.X-least.X, 0.1), max(greatest.Y-least.Y, 0.1)
	above, below := w.levels()
	gap := float64(Px(dimensionGap))
	room := float64(size.Height) - gap*float64(above+below) - 4
	scale := w.pxmm
	if scale <= 0 {
		scale = min(room/ph, w.widthScale(float64(size.Width), pw))
	}
	scale = max(scale, 0.01)
	left, right := w.sides()
	x := min((float64(size.Width)-pw*scale)/2, float64(size.Width)-right-pw*scale) // in the middle, where its measures have room
	return projection{
		scale: scale,
		dx:    max(x, left) - least.X*scale,
		dy:    gap*float64(above) + 2 + (room-ph*scale)/2 - least.Y*scale,
	}
}

// sides is the room to keep at each side for the upright dimensions there.
func (w *PieceView) sides() (left, right float64) {
	left, right = 8, 8
	for _, d := range w.piece.Dimensions {
		room := float64(Px(dimensionGap) + roleFoot().width(d.Text))
		switch {
		case !d.Upright():
		case d.Offset < 0:
			left = max(left, room)
		default:
			right = max(right, room)
		}
	}
	return left, right
}

// CreateRenderer draws the piece.
func (w *PieceView) CreateRenderer() fyne.WidgetRenderer {
	drawing := newDrawing(w.draw)
	var texts []*canvas.Text
	r := &drawn{}
	r.min = func() fyne.Size { return fyne.NewSize(w.leastWidth(), w.HeightFor(Px(200))) }
	r.layout = func(size fyne.Size) {
		place(drawing, 0, 0, size.Width, size.Height)
		j := w.project(size)
		for i, d := range w.dimensions(j) {
			w.putText(texts[i], d)
		}
	}
	r.refresh = func() {
		for len(texts) < len(w.piece.Dimensions) {
			texts = append(texts, newText())
		}
		texts = texts[:len(w.piece.Dimensions)]
		r.objects = append(r.objects[:0], drawing)
		for i, t := range texts {
			roleFoot().set(t, w.piece.Dimensions[i].Text, ColorInk)
			r.objects = append(r.objects, t)
		}
		drawing.Refresh()
	}
	return r.ready(w)
}

// draw draws paths and dimension lines with a pen.
func (w *PieceView) draw(p *pen) {
	ink, quiet := named(ColorInk), named(ColorQuiet)
	j := w.project(p.size)
	unit := float64(Px(1))
	for _, path := range w.piece.Paths {
		if path.Closed && path.Stroke == drawing.Outline {
			p.fill(j.all(path.Points), named(ColorGround))
		}
	}
	for _, path := range w.piece.Paths {
		points := j.all(path.Points)
		switch path.Stroke {
		case drawing.Outline:
			p.stroke(points, path.Closed, 1.6*unit, ink)
		case drawing.Inner:
			p.stroke(points, path.Closed, 1.2*unit, ink)
		case drawing.Thread:
			p.stroke(points, path.Closed, 0.8*unit, ink)
		case drawing.Centre:
			p.dashed(points, 0.9*unit, 9*unit, 4*unit, quiet)
		default:
			if path.Closed && len(points) > 0 {
				points = append(points, points[0])
			}
			p.dashed(points, 1.2*unit, 4*unit, 3*unit, ink)
		}
	}
	for _, d := range w.dimensions(j) {
		d.draw(p, unit, ink)
	}
}

func (j projection) all(points []drawing.Point) []xy {
	out := make([]xy, len(points))
	for i, p := range points {
		out[i] = j.at(p)
	}
	return out
}

// dimensionLine is a dimension line as drawn: from a to b, with ticks, its text
// on the side away from the piece.
type dimensionLine struct {
	a, b    xy
	upright bool
	out     float64 // -1 above or left of the piece, 1 below or right
}

// dimensions places the dimension lines outside the piece, one beyond another.
func (w *PieceView) dimensions(j projection) []dimensionLine {
	least, greatest := w.piece.Bounds()
	top, bottom := j.at(least), j.at(greatest)
	gap := float64(Px(dimensionGap))
	out := make([]dimensionLine, len(w.piece.Dimensions))
	for i, d := range w.piece.Dimensions {
		line := dimensionLine{a: j.at(d.A), b: j.at(d.B), out: 1}
		edge := bottom
		if d.Offset < 0 {
			line.out, edge = -1, top
		}
		far := line.out * gap * (float64(w.level(i)) + 0.26)
		if line.upright = d.Upright(); line.upright {
			x := edge.x + far*2
			line.a.x, line.b.x = x, x
		} else {
			y := edge.y + far
			line.a.y, line.b.y = y, y
		}
		out[i] = line
	}
	return out
}

// level is how many dimension lines on the same side lie between the piece and
// this one: those with a smaller offset, and earlier ones with the same.
func (w *PieceView) level(index int) int {
	d, n := w.piece.Dimensions[index], 0
	for i, other := range w.piece.Dimensions {
		same := other.Upright() == d.Upright() && (other.Offset < 0) == (d.Offset < 0)
		nearer := math.Abs(other.Offset) < math.Abs(d.Offset) || (other.Offset == d.Offset && i < index)
		if same && nearer {
			n++
		}
	}
	return n
}

// draw draws the line and its two ticks.
func (d dimensionLine) draw(p *pen, unit float64, ink color.Color) {
	p.stroke([]xy{d.a, d.b}, false, 1.1*unit, ink)
	for _, end := range []xy{d.a, d.b} {
		tick := []xy{{end.x, end.y - 4*unit}, {end.x, end.y + 4*unit}}
		if d.upright {
			tick = []xy{{end.x - 4*unit, end.y}, {end.x + 4*unit, end.y}}
		}
		p.stroke(tick, false, 1.1*unit, ink)
	}
}

// putText writes the text of a dimension beside the middle of its line.
func (w *PieceView) putText(t *canvas.Text, d dimensionLine) {
	size := t.MinSize()
	x, y := float32(d.a.x+d.b.x)/2-size.Width/2, float32(d.a.y)
	switch {
	case d.upright:
		y = float32(d.a.y+d.b.y)/2 - size.Height/2
		x = float32(d.a.x) + Px(6)
		if d.out < 0 {
			x = float32(d.a.x) - Px(6) - size.Width
		}
	case d.out < 0:
		y -= size.Height
	}
	x = max(0, min(x, w.Size().Width-size.Width))
	place(t, x, float32(math.Round(float64(y))), size.Width, size.Height)
}
