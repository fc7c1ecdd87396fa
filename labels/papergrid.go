package labels

// PaperGrid is a cabinet as it looks from the front, with the drawer that is meant. The
// zero value is none.
type PaperGrid struct {
	Rows, Cols int
	Lit        int // in reading order, from 0; below 0 for none
}

// Sizes of a grid, in millimetres: that of a drawer, and of the whole at most.
const (
	gridDrawerW = 3.0
	gridDrawerH = 2.0
	gridMostW   = 20.0
	gridMostH   = 18.0
	gridEdge    = 1.2 // above and below
)

// drawer is the size of one drawer, smaller where there are many.
func (g PaperGrid) drawer() (w, h float64) {
	return min(gridDrawerW, gridMostW/float64(max(1, g.Cols))), min(gridDrawerH, gridMostH/float64(max(1, g.Rows)))
}

// height is how high the row of a table has to be for it.
func (g PaperGrid) height() float64 {
	if g.Rows <= 0 || g.Cols <= 0 {
		return 0
	}
	_, h := g.drawer()
	return h*float64(g.Rows) + 2*gridEdge
}

// grid is that of a row.
func (b Block) grid(row int) PaperGrid {
	if row >= len(b.Grids) {
		return PaperGrid{}
	}
	return b.Grids[row]
}

// grid adds a cabinet at x: its fronts as thin lines, the drawer that is meant all black.
func (s *paperSheet) grid(g PaperGrid, x float64) {
	if g.height() == 0 {
		return
	}
	w, h := g.drawer()
	top, wide, high := s.y+gridEdge, w*float64(g.Cols), h*float64(g.Rows)
	s.add(Box{Rect: Rect{x, top, wide, high}, Pen: paperPen})
	for i := 1; i < g.Rows; i++ {
		y := top + float64(i)*h
		s.add(Path{Points: []Point{{x, y}, {x + wide, y}}, Pen: paperPen / 2, Ink: Quiet})
	}
	for i := 1; i < g.Cols; i++ {
		at := x + float64(i)*w
		s.add(Path{Points: []Point{{at, top}, {at, top + high}}, Pen: paperPen / 2, Ink: Quiet})
	}
	if g.Lit >= 0 && g.Lit < g.Rows*g.Cols {
		l, t := x+float64(g.Lit%g.Cols)*w, top+float64(g.Lit/g.Cols)*h
		s.add(Path{Points: []Point{{l, t}, {l + w, t}, {l + w, t + h}, {l, t + h}}, Closed: true, Filled: true})
	}
}
