package scan

// runs follows a line of brightness values and finds the edges between dark and
// light: half way between each turning point and the next. A turning point is
// one that the line leaves again by more than swing, so blur moves edges little
// and light that changes slowly not at all.
type runs struct {
	swing float32
	edge  []float32 // places of the edges; the first value's middle is at 0
	fall  []bool    // whether the line gets darker there
	level []float32 // brightness of the turning point after each edge
}

// scan finds the edges of line.
func (r *runs) scan(line []float32) {
	r.edge, r.fall, r.level = r.edge[:0], r.fall[:0], r.level[:0]
	if len(line) == 0 {
		return
	}
	// The turning point before the last edge, and the one being looked for.
	lastAt, last := 0, line[0]
	lowAt, low, highAt, high := 0, line[0], 0, line[0]
	rising, falling := false, false
	for i, v := range line {
		switch {
		case rising:
			if v > high {
				high, highAt = v, i
			} else if v < high-r.swing {
				r.add(line, lastAt, last, highAt, high)
				lastAt, last = highAt, high
				low, lowAt, rising, falling = v, i, false, true
			}
		case falling:
			if v < low {
				low, lowAt = v, i
			} else if v > low+r.swing {
				r.add(line, lastAt, last, lowAt, low)
				lastAt, last = lowAt, low
				high, highAt, rising, falling = v, i, true, false
			}
		default: // before the first turning point
			if v < low {
				low, lowAt = v, i
			}
			if v > high {
				high, highAt = v, i
			}
			if v > low+r.swing {
				lastAt, last, rising = lowAt, low, true
				high, highAt = v, i
			} else if v < high-r.swing {
				lastAt, last, falling = highAt, high, true
				low, lowAt = v, i
			}
		}
	}
	if rising {
		r.add(line, lastAt, last, highAt, high)
	} else if falling {
		r.add(line, lastAt, last, lowAt, low)
	}
}

// add puts the edge between two turning points where the line crosses half way.
func (r *runs) add(line []float32, from int, a float32, to int, b float32) {
	half := (a + b) / 2
	i := to
	if b > a {
		for i > from+1 && line[i-1] > half {
			i--
		}
	} else {
		for i > from+1 && line[i-1] < half {
			i--
		}
	}
	at := float32(i)
	if step := line[i] - line[i-1]; step != 0 {
		at = float32(i-1) + (half-line[i-1])/step
	}
	r.edge = append(r.edge, at)
	r.fall = append(r.fall, b < a)
	r.level = append(r.level, b)
}

// finderRun reports whether the five runs that end at edge k are those through the
// middle of a finder pattern, 1:1:3:1:1, and returns its middle and the length of a
// module. loose is the tolerance for a single run, in modules.
func (r *runs) finderRun(k int, loose float32) (middle, module float32, ok bool) {
	e := r.edge[k-5 : k+1]
	module = (e[5] - e[0]) / 7
	one := loose * module
	if d := e[3] - e[2] - 3*module; d > 1.6*one || d < -1.6*one {
		return 0, 0, false
	}
	for _, i := range [4]int{0, 1, 3, 4} {
		if d := e[i+1] - e[i] - module; d > one || d < -one {
			return 0, 0, false
		}
	}
	return (e[2] + e[3]) / 2, module, r.finderLevels(k)
}

// finderLevels reports whether the brightness of those runs is that of a finder
// pattern: its middle stands out from what is around by far more than noise, and no
// ring by much more than the middle.
func (r *runs) finderLevels(k int) bool {
	l := r.level[k-5 : k+1] // ring, gap, middle, gap, ring, outside
	sign := float32(1)
	if !r.fall[k-5] {
		sign = -1
	}
	outside := sign * l[5]
	if k >= 6 {
		outside = min(outside, sign*r.level[k-6])
	}
	middle := sign * l[2]
	depth := outside - middle
	if depth < standOut*r.swing {
		return false
	}
	return min(sign*l[0], sign*l[4]) > middle-0.4*depth
}

// standOut is how many swings the middle of a finder is darker than what is
// outside.
const standOut = 2.2
