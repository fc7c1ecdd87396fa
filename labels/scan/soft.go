package scan

import "math"

// softSide is the number of modules a side that are read, with the quiet ring.
const softSide = symbolSize + 2

// soft are the soft values of the modules of a symbol: 1 for dark, -1 for light, 0 for
// undecided. Row and column 0 are in the quiet zone.
type soft [softSide][softSide]float64

func (s *soft) of(c cell) float64 { return s[c.row+1][c.col+1] }

// readSoft samples every module at its middle, with the illumination taken out.
func readSoft(g *grid, from view, f *fit, s *soft) {
	inverse := 1 / from.scale
	for row := range softSide {
		v := float64(row) - 1 + 0.5 - symbolSize/2.0
		for col := range softSide {
			u := float64(col) - 1 + 0.5 - symbolSize/2.0
			x, y, _ := g.near(u, v)
			value := (f.light[0] + f.light[1]*u + f.light[2]*v - from.at(x*inverse, y*inverse)) / f.depth
			s[row][col] = math.Max(-2, math.Min(2, value))
		}
	}
}

// sharpen deblurs: each module becomes a weighted sum of itself and its neighbours,
// with the weights that fit the modules of known colour best (least squares, damped
// towards the module alone). It returns the mean squared error of the known modules.
func sharpen(from, to *soft, known []knownCell) float64 {
	const pull = 0.03 // damping towards the module alone
	usual := [4]float64{1, 0, 0, 0}
	var a [4][5]float64
	for _, k := range known {
		x := from.around(int(k.row)+1, int(k.col)+1)
		want := -1.0
		if k.dark {
			want = 1
		}
		for i := range 4 {
			for j := range 4 {
				a[i][j] += x[i] * x[j]
			}
			a[i][4] += x[i] * want
		}
	}
	for i := range 4 {
		a[i][i] += pull * float64(len(known))
		a[i][4] += pull * float64(len(known)) * usual[i]
	}
	w, ok := solve4(&a)
	if !ok {
		w = usual
	}
	for row := range softSide {
		for col := range softSide {
			x := from.around(row, col)
			value := w[0]*x[0] + w[1]*x[1] + w[2]*x[2] + w[3]*x[3]
			to[row][col] = math.Max(-1.4, math.Min(1.4, value))
		}
	}
	power := 0.0
	for _, k := range known {
		off := to.of(k.cell) - 1
		if !k.dark {
			off = to.of(k.cell) + 1
		}
		power += off * off
	}
	return power / float64(len(known))
}

// around is a module, the sums of its neighbours beside and above, and that of
// its diagonal neighbours. Beyond the quiet ring all is light.
func (s *soft) around(row, col int) [4]float64 {
	get := func(r, c int) float64 {
		if r < 0 || c < 0 || r >= softSide || c >= softSide {
			return -1
		}
		return s[r][c]
	}
	if row > 0 && col > 0 && row < softSide-1 && col < softSide-1 {
		up, mid, low := &s[row-1], &s[row], &s[row+1]
		return [4]float64{mid[col], mid[col-1] + mid[col+1], up[col] + low[col], up[col-1] + up[col+1] + low[col-1] + low[col+1]}
	}
	return [4]float64{
		get(row, col), get(row, col-1) + get(row, col+1), get(row-1, col) + get(row+1, col),
		get(row-1, col-1) + get(row-1, col+1) + get(row+1, col-1) + get(row+1, col+1),
	}
}

// bestMasks orders the masks by how well the format information of each fits,
// with the fit as a correlation.
func (t *tables) bestMasks(s *soft) (order [maskCount]int, match [maskCount]float64) {
	norm := 1e-9
	for _, places := range t.places {
		for _, c := range places {
			v := s.of(c)
			norm += v * v
		}
	}
	for mask := range maskCount {
		sum := 0.0
		for _, places := range t.places {
			for i, c := range places {
				if t.format[mask][i] {
					sum += s.of(c)
				} else {
					sum -= s.of(c)
				}
			}
		}
		match[mask] = sum / math.Sqrt(norm*2*formatLength)
		order[mask] = mask
		for i := mask; i > 0 && match[order[i]] > match[order[i-1]]; i-- {
			order[i], order[i-1] = order[i-1], order[i]
		}
	}
	return order, match
}
