package scan

import "math"

// Limits of adapting to what lies over a symbol.
const (
	cleanMatch      = 0.99 // a symbol that matches so well is not covered
	occlusionPasses = 4
	occlusionReach  = 2   // modules to each side
	leastUneven     = 0.2 // of the depth, over all modules within reach: less is noise
	mostUneven      = 0.5 // of the depth, for one module
)

// adaptToOcclusion adapts the samples to what lies over the symbol, such as a
// reflection or a finger, so that it does not bias the fit: the mean residual of the
// modules around is added to the expected value of each module, and a module that is
// still off counts little. It reports whether there is such a disturbance.
func (r *Reader) adaptToOcclusion(g *grid, v view, f *fit) bool {
	readSoft(g, v, f, &r.soft)
	r.layOut()
	for row := range softSide {
		for col := range softSide {
			r.soft[row][col] -= r.sharp[row][col]
		}
	}
	// The means over a square, row by row and then column by column.
	r.soft.along(&r.sharp, 0, 1)
	means := r.sharp
	means.along(&r.sharp, 1, 0)
	uneven := 0.0
	for row := range softSide {
		for col := range softSide {
			uneven = math.Max(uneven, math.Abs(r.sharp[row][col]))
		}
	}
	if uneven < leastUneven {
		return false
	}
	for i := range r.samples.all {
		s := &r.samples.all[i]
		mean := r.sharp[s.row+1][s.col+1]
		s.want += mean
		if math.Abs(r.soft[s.row+1][s.col+1]-mean) > mostUneven {
			s.weight *= 0.1
		}
	}
	return true
}

// along sets each module to the mean of itself and those within occlusionReach in one
// direction.
func (s *soft) along(to *soft, down, right int) {
	for row := range softSide {
		for col := range softSide {
			sum, n := 0.0, 0.0
			for i := -occlusionReach; i <= occlusionReach; i++ {
				y, x := row+i*down, col+i*right
				if y >= 0 && x >= 0 && y < softSide && x < softSide {
					sum += s[y][x]
					n++
				}
			}
			to[row][col] = sum / n
		}
	}
}
