package viewfinder

import (
	"math"

	"stowright/app/session"
	"stowright/labels/scan"
)

// lattice is how the rows and columns of a piece of furniture lie in a picture, by the codes
// of it that were read: (column, row) is seen at (ax + by + c) / (gx + hy + 1) across and
// (dx + ey + f) / (gx + hy + 1) down. That is any plane as a camera sees it.
type lattice [8]float64 // a b c d e f g h

// placed is a code that was read, with the cell of its place.
type placed struct {
	cell        session.Cell
	name        string     // of the place
	at          scan.Point // the middle of the code
	right, down scan.Point // its upper and its left edge, as long as they are seen
}

func placedAt(cell session.Cell, r session.Reading) placed {
	c := &r.Code.Corners
	p := placed{cell: cell, name: r.Place.Name, right: scan.Point{X: c[1].X - c[0].X, Y: c[1].Y - c[0].Y}, down: scan.Point{X: c[3].X - c[0].X, Y: c[3].Y - c[0].Y}}
	for _, corner := range c {
		p.at.X += corner.X / float64(len(c))
		p.at.Y += corner.Y / float64(len(c))
	}
	return p
}

// The limits of a lattice.
const (
	// manyPlaced is how many codes it takes for the perspective, of which two rows have two
	// each: with fewer, the small errors of each would bend it.
	manyPlaced = 6
	// mostAstray is how far a code may lie from where the lattice has it, in cells: farther,
	// and the drawers do not stand as the shop has them.
	mostAstray = 0.35
	// farthest is how many cells beyond the codes that were read the lattice is believed.
	farthest = 4
)

// latticeOf is the lattice that fits codes best, by least squares. It is not ok where they
// lie in one line, or not as their cells do.
func latticeOf(codes []placed) (l lattice, ok bool) {
	rows := make([][9]float64, 0, 2*len(codes))
	unknowns := 6
	if len(codes) >= manyPlaced && spanning(codes) {
		unknowns = 8
	}
	origin, scale := normal(codes)
	for _, c := range codes {
		x, y := float64(c.cell.Column), float64(c.cell.Row)
		u, v := (c.at.X-origin.X)/scale, (c.at.Y-origin.Y)/scale
		rows = append(rows, [9]float64{x, y, 1, 0, 0, 0, -u * x, -u * y, u}, [9]float64{0, 0, 0, x, y, 1, -v * x, -v * y, v})
	}
	solved, ok := leastSquares(rows, unknowns)
	if !ok {
		return l, false
	}
	l = solved.scaled(origin, scale)
	for _, c := range codes {
		if !l.holds(c) {
			return l, false
		}
	}
	return l, true
}

// spanning reports whether two rows have two codes each.
func spanning(codes []placed) bool {
	inRow, rows := map[int]int{}, 0
	for _, c := range codes {
		if inRow[c.cell.Row]++; inRow[c.cell.Row] == 2 {
			rows++
		}
	}
	return rows >= 2
}

// holds reports whether a code lies where the lattice has it, and is as upright as its labels
// are: where drawers have changed places, that is seen by one or the other.
func (l *lattice) holds(c placed) bool {
	x, y := float64(c.cell.Column), float64(c.cell.Row)
	at, inFront := l.at(x, y)
	right, rightInFront := l.at(x+1, y)
	below, belowInFront := l.at(x, y+1)
	if !inFront || !rightInFront || !belowInFront || math.Hypot(at.X-c.at.X, at.Y-c.at.Y) > mostAstray*l.pitch(c.cell) {
		return false
	}
	along := func(edge, to scan.Point) float64 { return edge.X*(to.X-at.X) + edge.Y*(to.Y-at.Y) }
	return along(c.right, right) > 0 && along(c.down, below) > 0
}

// normal is the middle of codes and how far they are spread: figures around 1 are what
// solving is exact with.
func normal(codes []placed) (origin scan.Point, scale float64) {
	for _, c := range codes {
		origin.X += c.at.X / float64(len(codes))
		origin.Y += c.at.Y / float64(len(codes))
	}
	for _, c := range codes {
		scale = max(scale, math.Abs(c.at.X-origin.X), math.Abs(c.at.Y-origin.Y))
	}
	return origin, max(scale, 1)
}

// scaled is a lattice of normal figures in pixels.
func (l lattice) scaled(origin scan.Point, scale float64) lattice {
	for i, o := range []float64{origin.X, origin.Y} {
		row := l[3*i : 3*i+3]
		row[0], row[1], row[2] = row[0]*scale+o*l[6], row[1]*scale+o*l[7], row[2]*scale+o
	}
	return l
}

// at is where a place of the plane is seen; inFront is false for one behind the camera.
func (l *lattice) at(column, row float64) (p scan.Point, inFront bool) {
	d := l[6]*column + l[7]*row + 1
	if d < 1e-6 {
		return p, false
	}
	return scan.Point{X: (l[0]*column + l[1]*row + l[2]) / d, Y: (l[3]*column + l[4]*row + l[5]) / d}, true
}

// pitch is how large a cell is seen: the shorter of the ways to the next column and row.
func (l *lattice) pitch(c session.Cell) float64 {
	x, y := float64(c.Column), float64(c.Row)
	here, _ := l.at(x, y)
	right, _ := l.at(x+1, y)
	below, _ := l.at(x, y+1)
	return min(math.Hypot(right.X-here.X, right.Y-here.Y), math.Hypot(below.X-here.X, below.Y-here.Y))
}

// outline is a cell as it is seen, around where the code of its label is; ok is false for
// one of which a part would be behind the camera.
func (l *lattice) outline(c session.Cell) (corners [4]scan.Point, ok bool) {
	for i, by := range [4][2]float64{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}} {
		if corners[i], ok = l.at(float64(c.Column)+by[0], float64(c.Row)+by[1]); !ok {
			return corners, false
		}
	}
	return corners, true
}

// leastSquares solves equations of up to eight unknowns, whose last column is what they
// come to, for the first of the unknowns: by the normal equations and elimination with
// pivots. It is not ok where they do not say enough.
func leastSquares(equations [][9]float64, unknowns int) (x lattice, ok bool) {
	if len(equations) < unknowns {
		return x, false
	}
	var a [8][9]float64
	for _, e := range equations {
		for i := range unknowns {
			for j := range unknowns {
				a[i][j] += e[i] * e[j]
			}
			a[i][8] += e[i] * e[8]
		}
	}
	for i := range unknowns {
		pivot := i
		for r := i + 1; r < unknowns; r++ {
			if math.Abs(a[r][i]) > math.Abs(a[pivot][i]) {
				pivot = r
			}
		}
		if math.Abs(a[pivot][i]) < 1e-9 {
			return x, false
		}
		a[i], a[pivot] = a[pivot], a[i]
		for r := i + 1; r < unknowns; r++ {
			by := a[r][i] / a[i][i]
			for j := i; j < 9; j++ {
				a[r][j] -= by * a[i][j]
			}
		}
	}
	for i := unknowns - 1; i >= 0; i-- {
		x[i] = a[i][8]
		for j := i + 1; j < unknowns; j++ {
			x[i] -= a[i][j] * x[j]
		}
		x[i] /= a[i][i]
	}
	return x, true
}
