package session

import (
	"stowright/app/card"
	"stowright/labels"
	"stowright/store/hardware"
)

// Pens of a printed outline, in millimetres on paper.
const (
	edgePen = 0.25
	finePen = 0.12
)

// labelPiece is a piece as a label draws it, at true size and without measures;
// nil where the tables do not suffice for a drawing.
func labelPiece(piece hardware.Result) *labels.Drawing {
	drawn := card.PieceOf(piece)
	if drawn == nil {
		return nil
	}
	var d labels.Drawing
	for _, p := range drawn.Paths {
		path := labels.Path{Closed: p.Closed, Pen: finePen, Dashed: p.Stroke == card.Hidden}
		if p.Stroke == card.Outline {
			path.Pen = edgePen
		}
		for _, at := range p.Points {
			path.Points = append(path.Points, labels.Point{X: at.X, Y: at.Y})
		}
		d.Strokes = append(d.Strokes, path)
	}
	return &d
}
