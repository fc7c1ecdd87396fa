package hardware

import (
	"math"
	"strings"
	"testing"

	"stowright/store/measure"
)

func TestCorners(t *testing.T) {
	for _, text := range []string{"3/8", "7/16", "1/2", "1-13/16"} {
		flats := length(t, text)
		want := float64(flats) * 2 / math.Sqrt(3)
		if got := float64(corners(flats)); math.Abs(got-want) > 1 {
			t.Errorf("%s across flats: got %.0f nm across corners, want %.0f", text, got, want)
		}
	}
}

// TestHexagonIsRegular: all six corners lie on one circle, and the flats are
// the measure across.
func TestHexagonIsRegular(t *testing.T) {
	flats := measure.Inches(3, 8)
	v := View{}
	centre := Point{measure.Inch, -measure.Inch}
	v.hexagon(LayerOutline, centre, flats)
	points := v.Shapes[0].Points
	if len(points) != 6 || !v.Shapes[0].Closed {
		t.Fatalf("got %+v, want six corners closed", v.Shapes[0])
	}
	for _, p := range points {
		r := math.Hypot(float64(p.X-centre.X), float64(p.Y-centre.Y))
		if math.Abs(r-float64(corners(flats))/2) > 2 {
			t.Errorf("corner %v lies %.0f nm out, want %s", p, r, corners(flats)/2)
		}
	}
	if got := v.Max.Y - v.Min.Y; got != flats {
		t.Errorf("got %s across flats, want %s", got, flats)
	}
}

func TestViewReaches(t *testing.T) {
	v := View{}
	v.line(LayerOutline, Point{2, 3}, Point{5, 7})
	v.circle(LayerOutline, Point{0, 0}, 4)
	v.box(LayerHidden, Point{-9, 0}, Point{-8, 1})
	if v.Min != (Point{-9, -4}) || v.Max != (Point{5, 7}) {
		t.Errorf("got %v to %v, want -9,-4 to 5,7", v.Min, v.Max)
	}
	if s := v.Shapes[1]; s.From != 0 || s.To != 360 || s.Radius != 4 {
		t.Errorf("got %+v, want a full circle", s)
	}
	if s := v.Shapes[2]; len(s.Points) != 4 || !s.Closed || s.Layer != LayerHidden {
		t.Errorf("got %+v, want a closed box", s)
	}
}

func shapesOn(o Outline, view string, layer Layer) int {
	n := 0
	for _, v := range o.Views {
		for _, s := range v.Shapes {
			if v.Name == view && s.Layer == layer {
				n++
			}
		}
	}
	return n
}

// TestDrawnLayers: what is told apart on each drawing.
func TestDrawnLayers(t *testing.T) {
	tests := []struct {
		name, designation, view string
		layer                   Layer
		least                   int
	}{
		{"thread of a bolt", "AN3-5A", "side", LayerThread, 2},
		{"centre line", "AN3-5A", "side", LayerCentre, 1},
		{"no thread where the grip is unknown", "AN7-10A", "side", LayerThread, 0},
		{"lockwire hole", "AN5H-27A", "head", LayerHidden, 2},
		{"no lockwire hole", "AN5-27A", "head", LayerHidden, 0},
		{"cross on a steel head", "AN3-5A", "head", LayerOutline, 3},
		{"dash on a corrosion-resistant head", "AN3C5A", "head", LayerOutline, 2},
		{"triangle", "NAS6204-8", "head", LayerOutline, 2},
		{"dimple", "AN470AD4-7", "head", LayerOutline, 1},
		{"plain head", "AN470A4-7", "head", LayerOutline, 0},
		{"raised cross", "AN470B4-7", "head", LayerOutline, 2},
		{"two dashes", "AN470DD4-7", "head", LayerOutline, 2},
		{"head that no table gives", "AN470AD4-7", "side", LayerNotional, 1},
		{"recess", "AN507-832R8", "head", LayerOutline, 2},
		{"slot is not drawn as a cross", "AN507-832-8", "head", LayerOutline, 0},
		{"eyebolt head is notional", "AN73-5", "side", LayerNotional, 0},
		{"nut of known flats", "MS21083N5", "top", LayerOutline, 1},
		{"nut of unknown flats", "AN365-1032A", "top", LayerNotional, 1},
		{"cotter pin eye", "MS24665-132", "side", LayerNotional, 1},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o, _ := Decode(tt.designation).Outline()
			if got := shapesOn(o, tt.view, tt.layer); got != tt.least {
				t.Errorf("%s %s: got %d %s lines, want %d", tt.designation, tt.view, got, tt.layer, tt.least)
			}
		})
	}
}

// TestThreadDepth: the root lines lie 1.0825/tpi inside the diameter (ASME B1.1).
func TestThreadDepth(t *testing.T) {
	o, _ := Decode("AN4-10A").Outline()
	for _, s := range o.Views[0].Shapes {
		if s.Layer != LayerThread {
			continue
		}
		y := max(s.Points[0].Y, -s.Points[0].Y)
		want := measure.Inches(1, 8) - measure.Length(int64(measure.Inch)*10825/20000/28)
		if off := y - want; max(off, -off) > 1 {
			t.Errorf("root at %s, want %s", y, want)
		}
		if s.Points[0].X != measure.Inches(9, 16) || s.Points[1].X != measure.Inches(33, 32) {
			t.Errorf("thread from %s to %s, want from the grip 9/16 to the length 1-1/32", s.Points[0].X, s.Points[1].X)
		}
	}
}

// TestUnmeasuredIsSaid: a notional line always comes with a note.
func TestUnmeasuredIsSaid(t *testing.T) {
	every(Standard(), func(p piece) {
		if p.nums[0].at%5 != 0 {
			return
		}
		o, _ := p.result().Outline()
		notional := false
		for _, v := range o.Views {
			notional = notional || shapesOn(o, v.Name, LayerNotional) > 0
		}
		if notional && len(o.Notes) == 0 {
			t.Errorf("%s draws what no table gives and does not say so", p.canonical())
		}
	})
}

func TestPitch(t *testing.T) {
	for text, want := range map[string]int{"10-32 UNF": 32, "1/4-28": 28, "1-1/8-12": 12, "none": 0, "": 0, "1-x": 0} {
		if _, got := pitch(text); got != want {
			t.Errorf("%q: got %d, want %d", text, got, want)
		}
	}
	if size, _ := pitch("1-1/8-12"); size != "1-1/8" {
		t.Errorf("got size %q, want 1-1/8", size)
	}
}

func TestShortLengths(t *testing.T) {
	for text, want := range map[string]string{"1/4": "1/4", ".063": "0.063", "1": "1", "1-1/4": "1-1/4", "13/32": "13/32", "#10": "0.190"} {
		if got := short(length(t, text)); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
	if got := capital(""); got != "" {
		t.Errorf("got %q, want nothing", got)
	}
	if got := capital("nut, bulkhead"); !strings.HasPrefix(got, "Nut") {
		t.Errorf("got %q", got)
	}
}
