package drawing

import "math"

// Point is a place on a drawing, in millimetres, x to the right and y down.
type Point struct{ X, Y float64 }

// Stroke says what a line of a drawing means.
type Stroke int

// The strokes, from heavy to light.
const (
	Outline Stroke = iota // the edge of the piece
	Inner                 // an edge within it: the corner of a hexagon, the end of the grip
	Thread                // hatching of a thread
	Hidden                // what lies behind or is not published, dashed: a cotter-pin hole
	Centre                // a centre line, in long dashes
)

// Path is one line of a drawing. A closed path joins its last point to its first
// and, when it is an outline, is filled with the ground colour.
type Path struct {
	Points []Point
	Stroke Stroke
	Closed bool
}

// Dimension is a dimension line from A to B with its text, drawn Offset
// millimetres to the side: above or left of the points when negative, below or
// right when positive. It is level when A and B differ most in x.
type Dimension struct {
	A, B   Point
	Offset float64
	Text   string // "grip 1/4"
}

// Piece is the drawing of a piece at true measures, in millimetres.
type Piece struct {
	Paths      []Path
	Dimensions []Dimension
	Caption    string // "drawn to scale, 2.5 times" or "true size"
}

// Bounds is the smallest box around all paths: its least corner and its greatest
// one. Both are zero for an empty drawing.
func (p Piece) Bounds() (least, greatest Point) {
	first := true
	for _, path := range p.Paths {
		for _, q := range path.Points {
			if first {
				least, greatest, first = q, q, false
				continue
			}
			least = Point{min(least.X, q.X), min(least.Y, q.Y)}
			greatest = Point{max(greatest.X, q.X), max(greatest.Y, q.Y)}
		}
	}
	return least, greatest
}

// Upright reports whether the dimension line runs up and down.
func (d Dimension) Upright() bool {
	return math.Abs(d.A.Y-d.B.Y) > math.Abs(d.A.X-d.B.X)
}
