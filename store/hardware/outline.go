package hardware

import (
	"slices"
	"strings"

	"stowright/store/measure"
)

// Point is a place on a drawing, exact, x to the right and y up.
type Point struct{ X, Y measure.Length }

// Layer says what a line of a drawing is, so that it can be drawn as such.
type Layer string

// The layers. Notional lines complete the picture where no source gives the
// figure: draw them dashed and never measure against them.
const (
	LayerOutline  Layer = "outline"
	LayerThread   Layer = "thread"
	LayerHidden   Layer = "hidden"
	LayerCentre   Layer = "centre"
	LayerHatch    Layer = "hatch"
	LayerNotional Layer = "notional"
)

// Shape is a line through points or, where Radius is not 0, an arc.
type Shape struct {
	Layer  Layer
	Points []Point
	Closed bool // the last point joins the first

	Centre   Point
	Radius   measure.Length
	From, To int // degrees anticlockwise from the x axis; 0 to 360 is a full circle
}

// Dimension is a measure to be drawn beside the piece: from one point to
// another, set off to the left of the way between them by Offset.
type Dimension struct {
	Label    string
	From, To Point
	Offset   measure.Length
}

// In is the label as it is read in a unit: in millimetres the length stands behind the published
// figure, which is never replaced. A label that does not name the length that is drawn stays.
func (d Dimension) In(unit measure.System) string {
	long := max(size(d.To.X-d.From.X), size(d.To.Y-d.From.Y))
	words := strings.Fields(d.Label)
	if at := slices.Index(words, short(long)); unit == measure.InMillimetres && at >= 0 {
		words[at] += " = " + long.Metric()
		return strings.Join(words, " ")
	}
	return d.Label
}

func size(l measure.Length) measure.Length { return max(l, -l) }

// View is the piece seen from one direction.
type View struct {
	Name       string // "side", "head", "top", "section"
	Shapes     []Shape
	Dimensions []Dimension
	Min, Max   Point // what the shapes lie in, dimensions not counted
}

// Outline is a piece drawn in its real size.
type Outline struct {
	Views []View
	Notes []string // what is not drawn to a published figure
}

// reach widens what the view lies in to hold a point. The first point of the
// first shape begins it.
func (v *View) reach(p Point, first bool) {
	if first && len(v.Shapes) == 0 {
		v.Min, v.Max = p, p
	}
	v.Min.X, v.Min.Y = min(v.Min.X, p.X), min(v.Min.Y, p.Y)
	v.Max.X, v.Max.Y = max(v.Max.X, p.X), max(v.Max.Y, p.Y)
}

func (v *View) line(on Layer, points ...Point) {
	for i, p := range points {
		v.reach(p, i == 0)
	}
	v.Shapes = append(v.Shapes, Shape{Layer: on, Points: points})
}

func (v *View) loop(on Layer, points ...Point) {
	v.line(on, points...)
	v.Shapes[len(v.Shapes)-1].Closed = true
}

func (v *View) box(on Layer, low, high Point) {
	v.loop(on, low, Point{high.X, low.Y}, high, Point{low.X, high.Y})
}

func (v *View) circle(on Layer, centre Point, radius measure.Length) {
	v.arc(on, centre, radius, [2]int{0, 360})
}

func (v *View) arc(on Layer, centre Point, radius measure.Length, degrees [2]int) {
	v.reach(Point{centre.X - radius, centre.Y - radius}, true)
	v.reach(Point{centre.X + radius, centre.Y + radius}, false)
	v.Shapes = append(v.Shapes, Shape{Layer: on, Centre: centre, Radius: radius, From: degrees[0], To: degrees[1]})
}

// size marks a measure below (negative offset) or above the view.
func (v *View) size(label string, from, to Point, offset measure.Length) {
	v.Dimensions = append(v.Dimensions, Dimension{label, from, to, offset})
}

// hexagon draws a hexagon of that measure across flats, flats up and down.
func (v *View) hexagon(on Layer, centre Point, flats measure.Length) {
	r, h := corners(flats)/2, flats/2
	v.loop(
		on, Point{centre.X + r, centre.Y}, Point{centre.X + r/2, centre.Y + h}, Point{centre.X - r/2, centre.Y + h},
		Point{centre.X - r, centre.Y}, Point{centre.X - r/2, centre.Y - h}, Point{centre.X + r/2, centre.Y - h},
	)
}

// corners is the measure across the corners of a hexagon: flats times 2 over
// the square root of 3, to the nanometre.
func corners(flats measure.Length) measure.Length {
	return measure.Length((int64(flats)*1_154_700_538 + 500_000_000) / 1_000_000_000)
}

// Outline draws the piece in its real size from its published figures, and
// says false where they do not suffice for any drawing.
func (r Result) Outline() (Outline, bool) {
	if !r.Known {
		return Outline{}, false
	}
	d := drawing{r: r}
	draw := map[Kind]func(*drawing){
		Bolt: (*drawing).bolt, Screw: (*drawing).screw, Rivet: (*drawing).rivet, BlindRivet: (*drawing).blindRivet,
		Nut: (*drawing).nut, PlateNut: (*drawing).nut, Washer: (*drawing).washer, CotterPin: (*drawing).cotterPin,
		ClevisPin: (*drawing).clevisPin, ORing: (*drawing).ring, Grommet: (*drawing).washer, Lockwire: (*drawing).round, Clamp: (*drawing).round,
		Fitting: (*drawing).round, CablePart: (*drawing).round,
	}[r.Kind]
	if draw == nil {
		return Outline{}, false
	}
	draw(&d)
	return d.out, len(d.out.Views) > 0
}
