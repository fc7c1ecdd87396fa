package drawing

import (
	"math"
	"strings"

	"stowright/store/hardware"
	"stowright/store/measure"
)

// arcStep is how many degrees one straight piece of a drawn arc covers.
const arcStep = 6

// PieceOf is the drawing of a decoded piece: its first view, or nil when nothing
// can be drawn, with its measures as they are read in a unit. What is not drawn to a published
// figure is said in the caption.
func PieceOf(r hardware.Result, in measure.System) *Piece {
	outline, ok := r.Outline()
	if !ok || len(outline.Views) == 0 {
		return nil
	}
	p := PieceOfView(outline.Views[0], in)
	p.Caption = strings.Join(outline.Notes, "; ")
	return &p
}

// PieceOfView is one view of an outline as a drawing: millimetres, y down.
func PieceOfView(v hardware.View, in measure.System) Piece {
	var p Piece
	for _, s := range v.Shapes {
		path := Path{Stroke: strokeOf(s.Layer), Closed: s.Closed}
		if s.Radius != 0 {
			path.Points = arc(s)
			path.Closed = s.To-s.From >= 360
		}
		for _, q := range s.Points {
			path.Points = append(path.Points, pointOf(q))
		}
		p.Paths = append(p.Paths, path)
	}
	p.Paths = append(p.Paths, threadHatch(v)...)
	for _, d := range v.Dimensions {
		p.Dimensions = append(p.Dimensions, dimensionOf(d, in))
	}
	return p
}

// strokeOf is how a layer is drawn. Notional lines are dashed like hidden ones:
// nobody should measure against them.
func strokeOf(l hardware.Layer) Stroke {
	switch l {
	case hardware.LayerOutline:
		return Outline
	case hardware.LayerThread:
		return Inner
	case hardware.LayerHatch:
		return Thread
	case hardware.LayerCentre:
		return Centre
	default:
		return Hidden
	}
}

// Hatching of a thread, in millimetres: lines this far apart, leaning by this much.
const (
	hatchPitch = 0.75
	hatchLean  = 0.5
)

// threadHatch fills the room between the two lines of a thread seen from the side,
// so that thread and grip are distinguished at a glance.
func threadHatch(v hardware.View) []Path {
	var lines []hardware.Shape
	for _, s := range v.Shapes {
		if s.Layer == hardware.LayerThread && len(s.Points) == 2 {
			lines = append(lines, s)
		}
	}
	if len(lines) != 2 {
		return nil
	}
	a, b := pointOf(lines[0].Points[0]), pointOf(lines[0].Points[1])
	c := pointOf(lines[1].Points[0])
	left, right := min(a.X, b.X), max(a.X, b.X)
	top, bottom := min(a.Y, c.Y), max(a.Y, c.Y)
	var out []Path
	for x := left + hatchPitch/2; x+hatchLean < right; x += hatchPitch {
		out = append(out, Path{Points: []Point{{X: x, Y: top}, {X: x + hatchLean, Y: bottom}}, Stroke: Thread})
	}
	return out
}

func millimetres(l measure.Length) float64 { return float64(l) / 1e6 }

// pointOf turns the drawing over: outlines have y up.
func pointOf(p hardware.Point) Point { return Point{X: millimetres(p.X), Y: -millimetres(p.Y)} }

// arc is an arc as straight pieces.
func arc(s hardware.Shape) []Point {
	centre, radius := pointOf(s.Centre), millimetres(s.Radius)
	var out []Point
	for angle := s.From; ; angle += arcStep {
		angle = min(angle, s.To)
		a := float64(angle) * math.Pi / 180
		out = append(out, Point{X: centre.X + radius*math.Cos(a), Y: centre.Y - radius*math.Sin(a)})
		if angle >= s.To {
			return out
		}
	}
}

// dimensionOf keeps the side of a dimension: an outline sets it off to the left of
// the way from one point to the other, a drawing above or below, left or right.
func dimensionOf(d hardware.Dimension, in measure.System) Dimension {
	out := Dimension{A: pointOf(d.From), B: pointOf(d.To), Text: d.In(in)}
	dx, dy := float64(d.To.X-d.From.X), float64(d.To.Y-d.From.Y)
	offset := millimetres(d.Offset)
	if math.Abs(dx) >= math.Abs(dy) {
		out.Offset = -math.Copysign(offset, offset*dx) // left of a way to the right is above
	} else {
		out.Offset = -math.Copysign(offset, offset*dy) // left of a way upwards is left
	}
	return out
}
