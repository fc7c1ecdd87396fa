package labels

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"stowright/assets/fonts"
)

// near compares lengths to a millionth of a millimetre.
var near = cmpopts.EquateApprox(0, 1e-6)

func TestRectInside(t *testing.T) {
	paper := Rect{10, 20, 100, 50}
	for _, row := range []struct {
		name string
		r    Rect
		want bool
	}{
		{"itself", paper, true},
		{"smaller", Rect{11, 21, 98, 48}, true},
		{"nothing, in a corner", Rect{110, 70, 0, 0}, true},
		{"a rounding over each edge", Rect{9.991, 19.991, 100.018, 50.018}, true},
		{"over the left edge", Rect{9.98, 21, 5, 5}, false},
		{"over the top edge", Rect{11, 19.98, 5, 5}, false},
		{"over the right edge", Rect{11, 21, 99.02, 5}, false},
		{"over the bottom edge", Rect{11, 21, 5, 49.02}, false},
		{"beside", Rect{200, 21, 5, 5}, false},
		{"not a number", Rect{math.NaN(), 21, 5, 5}, false},
	} {
		if got := row.r.Inside(paper); got != row.want {
			t.Errorf("%s: %+v inside %+v is %v, want %v", row.name, row.r, paper, got, row.want)
		}
	}
	if paper.Right() != 110 || paper.Bottom() != 70 {
		t.Errorf("the far edges of %+v are %g and %g, want 110 and 70", paper, paper.Right(), paper.Bottom())
	}
}

// The bounds of each item hold its pen, and no more.
func TestBounds(t *testing.T) {
	corner := []Point{{3, 8}, {1, 2}, {5, 4}}
	for _, row := range []struct {
		name string
		item Item
		want Rect
	}{
		{"a filled rectangle", Fill{Rect: Rect{1, 2, 3, 4}}, Rect{1, 2, 3, 4}},
		{"an outline, with half its pen outside", Box{Rect: Rect{1, 2, 3, 4}, Pen: 0.4}, Rect{0.8, 1.8, 3.4, 4.4}},
		{"a line, with half its pen outside", Path{Points: corner, Pen: 0.2}, Rect{0.9, 1.9, 4.2, 6.2}},
		{"a filled path, which has no pen", Path{Points: corner, Pen: 0.2, Filled: true}, Rect{1, 2, 4, 6}},
		{"no points", Path{}, Rect{}},
		{"text, by the ascent and descent of its face", Text{X: 10, Y: 20, Size: 5, Width: 30, Face: fonts.MonoBold}, Rect{10, 15.08, 30, 6.5}},
		{"a code, without its quiet zone", Code{X: 10, Y: 20, Module: 0.5, Size: 21}, Rect{10, 20, 10.5, 10.5}},
	} {
		if d := cmp.Diff(row.want, row.item.Bounds(), near); d != "" {
			t.Errorf("%s: bounds (-want +got):\n%s", row.name, d)
		}
	}
}

// The quiet zone is four modules on each side. Source: ISO/IEC 18004, 9.1.
func TestQuietZone(t *testing.T) {
	c := Code{X: 10, Y: 20, Module: 0.5, Size: 21}
	if d := cmp.Diff(Rect{8, 18, 14.5, 14.5}, c.Quiet(), near); d != "" {
		t.Errorf("quiet zone (-want +got):\n%s", d)
	}
}

// Dark runs become rectangles one module high.
func TestCodeRects(t *testing.T) {
	c := Code{X: 10, Y: 20, Module: 0.5, Size: 21, Runs: []Run{{Row: 0, Col: 0, Len: 7}, {Row: 20, Col: 4, Len: 1}}}
	want := []Rect{{10, 20, 3.5, 0.5}, {12, 30, 0.5, 0.5}}
	if d := cmp.Diff(want, c.Rects(), near); d != "" {
		t.Errorf("rectangles (-want +got):\n%s", d)
	}
}

// The lines that a path is drawn of.
func TestSegments(t *testing.T) {
	elbow := []Point{{0, 0}, {4, 0}, {4, 2}}
	for _, row := range []struct {
		name string
		path Path
		want [][2]Point
	}{
		{"open", Path{Points: elbow}, [][2]Point{{{0, 0}, {4, 0}}, {{4, 0}, {4, 2}}}},
		{"closed", Path{Points: elbow, Closed: true}, [][2]Point{{{0, 0}, {4, 0}}, {{4, 0}, {4, 2}}, {{4, 2}, {0, 0}}}},
		{"a point", Path{Points: elbow[:1]}, nil},
		{"a closed point", Path{Points: elbow[:1], Closed: true}, [][2]Point{{{0, 0}, {0, 0}}}},
		{"nothing, closed", Path{Closed: true}, nil},
		{
			"dashed: strokes of 1.0 and gaps of 0.6, going on around the corner",
			Path{Points: elbow, Dashed: true},
			[][2]Point{{{0, 0}, {1, 0}}, {{1.6, 0}, {2.6, 0}}, {{3.2, 0}, {4, 0}}, {{4, 0}, {4, 0.2}}, {{4, 0.8}, {4, 1.8}}},
		},
		{"dashed and shorter than a stroke", Path{Points: []Point{{0, 0}, {0, 0.7}}, Dashed: true}, [][2]Point{{{0, 0}, {0, 0.7}}}},
		{"dashed, far too long to count", Path{Points: []Point{{0, 0}, {1e5, 0}}, Dashed: true}, [][2]Point{{{0, 0}, {1e5, 0}}}},
		{"dashed, not a number", Path{Points: []Point{{0, 0}, {math.Inf(1), 0}}, Dashed: true}, [][2]Point{{{0, 0}, {math.Inf(1), 0}}}},
	} {
		if d := cmp.Diff(row.want, row.path.segments(), near); d != "" {
			t.Errorf("%s: lines (-want +got):\n%s", row.name, d)
		}
	}
	if points := (Path{Points: elbow[:2:3], Closed: true}).segments(); len(points) != 2 || elbow[2] != (Point{4, 2}) {
		t.Error("closing a path has changed the points of the caller")
	}
}

func TestDrawingBounds(t *testing.T) {
	d := Drawing{Strokes: []Path{{Points: []Point{{-1, 2}, {3, 2}}, Pen: 1}, {Points: []Point{{0, -5}}}, {}}}
	if diff := cmp.Diff(Rect{-1, -5, 4, 7}, d.Bounds(), near); diff != "" {
		t.Errorf("bounds, by the points and not the pens (-want +got):\n%s", diff)
	}
	if got := (&Drawing{}).Bounds(); got != (Rect{}) {
		t.Errorf("the bounds of nothing are %+v", got)
	}
}

func TestDocumentLabels(t *testing.T) {
	doc := Document{Pages: []Page{{Cells: make([]Cell, 3)}, {}, {Cells: make([]Cell, 2)}}}
	if got := doc.Labels(); got != 5 {
		t.Errorf("%d labels on three pages, want 5", got)
	}
}

// Cut marks are four corners whose pen stays inside the cell: beside it may be the
// edge of the paper.
func TestCorners(t *testing.T) {
	cell := Rect{10, 20, 60, 25}
	want := [][]Point{
		{{12.05, 20.05}, {10.05, 20.05}, {10.05, 22.05}},
		{{12.05, 44.95}, {10.05, 44.95}, {10.05, 42.95}},
		{{67.95, 20.05}, {69.95, 20.05}, {69.95, 22.05}},
		{{67.95, 44.95}, {69.95, 44.95}, {69.95, 42.95}},
	}
	items := corners(cell)
	if len(items) != len(want) {
		t.Fatalf("%d cut marks, want 4", len(items))
	}
	for i, it := range items {
		path := it.(Path)
		if d := cmp.Diff(want[i], path.Points, near); d != "" {
			t.Errorf("cut mark %d (-want +got):\n%s", i, d)
		}
		if path.Pen != 0.1 || path.Ink != Quiet || path.Closed || path.Filled || path.Dashed {
			t.Errorf("cut mark %d is drawn as %+v", i, path)
		}
		if !it.Bounds().Inside(cell) {
			t.Errorf("cut mark %d leaves its cell: %+v", i, it.Bounds())
		}
	}
}

// How dark the inks are: the PDF and the picture ask the same function.
func TestInks(t *testing.T) {
	for ink, want := range map[Ink]int{Black: 0, Quiet: 95, White: 255} {
		if got := ink.grey(); got != want {
			t.Errorf("ink %d has grey %d, want %d", ink, got, want)
		}
	}
}
