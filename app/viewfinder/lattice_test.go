package viewfinder

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"stowright/app/session"
	"stowright/labels/scan"
)

// seenBy are codes in some cells as a camera sees them that looks at a plane by a homography.
func seenBy(plane lattice, cells []session.Cell) []placed {
	var codes []placed
	for _, c := range cells {
		x, y := float64(c.Column), float64(c.Row)
		at, _ := plane.at(x, y)
		right, _ := plane.at(x+0.2, y)
		down, _ := plane.at(x, y+0.2)
		codes = append(codes, placed{cell: c, at: at, right: scan.Point{X: right.X - at.X, Y: right.Y - at.Y}, down: scan.Point{X: down.X - at.X, Y: down.Y - at.Y}})
	}
	return codes
}

// aPlane draws a plane before a camera: cells of 80 to 200 pixels, turned up to 40 degrees,
// with a perspective that makes what is five cells away up to 30 % smaller.
func aPlane(t *rapid.T) lattice {
	size, turn := rapid.Float64Range(80, 200).Draw(t, "size"), rapid.Float64Range(-0.7, 0.7).Draw(t, "turn")
	high := size * rapid.Float64Range(0.5, 1.2).Draw(t, "shape")
	return lattice{
		size * math.Cos(turn), -high * math.Sin(turn), rapid.Float64Range(-300, 300).Draw(t, "x"),
		size * math.Sin(turn), high * math.Cos(turn), rapid.Float64Range(-300, 300).Draw(t, "y"),
		rapid.Float64Range(0, 0.06).Draw(t, "g"), rapid.Float64Range(0, 0.06).Draw(t, "h"),
	}
}

func cellsOf(rows, columns int) []session.Cell {
	var cells []session.Cell
	for row := range rows {
		for column := range columns {
			cells = append(cells, session.Cell{Row: row + 1, Column: column + 1})
		}
	}
	return cells
}

// Six codes or more in two rows give the plane back: exactly where they are seen exactly, and
// to a third of a cell two cells away where each is up to a pixel off.
func TestLatticeIsThePlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plane := aPlane(t)
		codes := seenBy(plane, cellsOf(2, rapid.IntRange(3, 5).Draw(t, "columns")))
		off := rapid.SampledFrom([]float64{0, 1}).Draw(t, "off")
		for i := range codes {
			codes[i].at.X += rapid.Float64Range(-off, off).Draw(t, "dx")
			codes[i].at.Y += rapid.Float64Range(-off, off).Draw(t, "dy")
		}
		l, ok := latticeOf(codes)
		if !ok {
			t.Fatalf("no lattice of %+v", codes)
		}
		to := session.Cell{Row: 4, Column: 2}
		got, inFront := l.at(2, 4)
		want, _ := plane.at(2, 4)
		most := 0.34*plane.pitch(to)*off + 1e-4
		if d := math.Hypot(got.X-want.X, got.Y-want.Y); !inFront || d > most {
			t.Errorf("two rows below it is seen %.2f pixels away, at most %.2f", d, most)
		}
	})
}

// What is not a lattice is none: codes in one line, too few, in each other's places, or
// labels upside down.
func TestNoLattice(t *testing.T) {
	plane := lattice{100, 0, 50, 0, 80, 40, 0.01, 0.02}
	swapped := seenBy(plane, cellsOf(2, 3))
	swapped[0].at, swapped[5].at = swapped[5].at, swapped[0].at
	turned := seenBy(plane, cellsOf(2, 3))
	turned[2].right, turned[2].down = scan.Point{X: -20}, scan.Point{Y: -20}
	mirrored := seenBy(plane, []session.Cell{{Row: 1, Column: 1}, {Row: 1, Column: 2}, {Row: 2, Column: 1}})
	for i := range mirrored {
		mirrored[i].at.X = -mirrored[i].at.X
	}
	for name, codes := range map[string][]placed{
		"one row":     seenBy(plane, cellsOf(1, 5)),
		"two codes":   seenBy(plane, cellsOf(1, 2)),
		"swapped":     swapped,
		"upside down": turned,
		"mirrored":    mirrored,
	} {
		if l, ok := latticeOf(codes); ok {
			t.Errorf("%s: %v", name, l)
		}
	}
	// Three codes of a plane seen from straight ahead are one.
	if _, ok := latticeOf(seenBy(lattice{100, 0, 50, 0, 80, 40}, []session.Cell{{Row: 1, Column: 1}, {Row: 1, Column: 2}, {Row: 2, Column: 1}})); !ok {
		t.Error("three codes are no lattice")
	}
}
