package session

import (
	"math"

	"stowright/app/card"
	"stowright/labels"
	"stowright/store/hardware"
)

// viewGap is how far apart two views of a piece are drawn, in millimetres.
const viewGap = 4.0

// arcStep is how finely an arc is drawn, in degrees: at the size of hardware the
// chord is then within 0.02 mm of it.
const arcStep = 6

// placedView is a view with where it goes on the drawing: its points are moved
// by dx and dy, in millimetres, after y was turned to run down.
type placedView struct {
	hardware.View
	dx, dy float64
}

// viewsOf are the views of a piece that a card or a label has room for, from left
// to right: of a long piece the side, of a flat one all.
func viewsOf(piece hardware.Result) []placedView {
	outline, ok := piece.Outline()
	if !ok {
		return nil
	}
	var placed []placedView
	right := 0.0
	for _, v := range outline.Views {
		if isLong(piece.Kind) && v.Name != "side" {
			continue
		}
		low, high := v.Min, v.Max
		placed = append(placed, placedView{View: v, dx: right - low.X.Millimetres(), dy: (high.Y.Millimetres() + low.Y.Millimetres()) / 2})
		right += (high.X - low.X).Millimetres() + viewGap
	}
	return placed
}

func isLong(k hardware.Kind) bool {
	switch k {
	case hardware.Bolt, hardware.Screw, hardware.Rivet, hardware.BlindRivet, hardware.CotterPin, hardware.ClevisPin:
		return true
	}
	return false
}

func (v placedView) at(p hardware.Point) card.Point {
	return card.Point{X: p.X.Millimetres() + v.dx, Y: v.dy - p.Y.Millimetres()}
}

// points are those of a shape; an arc becomes chords.
func (v placedView) points(s hardware.Shape) (points []card.Point, closed bool) {
	for _, p := range s.Points {
		points = append(points, v.at(p))
	}
	if s.Radius == 0 {
		return points, s.Closed
	}
	centre, r := v.at(s.Centre), s.Radius.Millimetres()
	for a := s.From; a <= s.To; a += arcStep {
		sin, cos := math.Sincos(float64(a) * math.Pi / 180)
		points = append(points, card.Point{X: centre.X + r*cos, Y: centre.Y - r*sin})
	}
	return points, s.To-s.From == 360
}

// Piece is a piece as a card draws it, with its published measures; nil where the
// tables do not suffice for a drawing.
func Piece(piece hardware.Result) *card.Piece {
	views := viewsOf(piece)
	if len(views) == 0 {
		return nil
	}
	var drawn card.Piece
	for _, v := range views {
		for _, s := range v.Shapes {
			points, closed := v.points(s)
			drawn.Paths = append(drawn.Paths, card.Path{Points: points, Closed: closed, Stroke: stroke(s.Layer)})
		}
		for _, d := range v.Dimensions {
			drawn.Dimensions = append(drawn.Dimensions, v.dimension(d))
		}
	}
	return &drawn
}

func stroke(l hardware.Layer) card.Stroke {
	switch l {
	case hardware.LayerThread, hardware.LayerHatch:
		return card.Thread
	case hardware.LayerHidden, hardware.LayerNotional:
		return card.Hidden
	case hardware.LayerCentre:
		return card.Inner
	}
	return card.Outline
}

// dimension turns a measure set off to the left of its way into one set off above
// or below, left or right.
func (v placedView) dimension(d hardware.Dimension) card.Dimension {
	way := d.To.X - d.From.X
	if dy := d.To.Y - d.From.Y; max(dy, -dy) > max(way, -way) {
		way = dy
	}
	offset := -d.Offset.Millimetres()
	if way < 0 {
		offset = -offset
	}
	return card.Dimension{A: v.at(d.From), B: v.at(d.To), Offset: offset, Text: d.Label}
}

// Pens of a printed outline, in millimetres.
const (
	edgePen   = 0.25
	threadPen = 0.12
)

// labelPiece is a piece as a label draws it, without measures; nil where the
// tables do not suffice for a drawing.
func labelPiece(piece hardware.Result) *labels.Drawing {
	views := viewsOf(piece)
	if len(views) == 0 {
		return nil
	}
	var drawn labels.Drawing
	for _, v := range views {
		for _, s := range v.Shapes {
			points, closed := v.points(s)
			path := labels.Path{Closed: closed, Pen: edgePen, Dashed: stroke(s.Layer) == card.Hidden}
			if stroke(s.Layer) != card.Outline {
				path.Pen = threadPen
			}
			for _, p := range points {
				path.Points = append(path.Points, labels.Point{X: p.X, Y: p.Y})
			}
			drawn.Strokes = append(drawn.Strokes, path)
		}
	}
	return &drawn
}
