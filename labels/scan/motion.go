package scan

// motion is the similarity transform (translation, rotation and scale) from one
// picture of a camera to the next, by least squares over the tags found in both. With
// few tags, or tags close together, rotation and scale are damped towards none.
type motion struct {
	n        float64 // tags
	from, to Point   // sums of the places before and after
	square   float64 // sum of the squares of those before
	along    float64 // sum of the products of before and after, as vectors: in line,
	across   float64 // and crosswise
}

// fewTags is the damping: the spread of the tags, in square pixels, at which rotation
// and scale count half.
const fewTags = 1e4

// add adds a tag that has moved from one place to another.
func (m *motion) add(before, after Point) {
	m.n++
	m.from.X, m.from.Y = m.from.X+before.X, m.from.Y+before.Y
	m.to.X, m.to.Y = m.to.X+after.X, m.to.Y+after.Y
	m.square += before.X*before.X + before.Y*before.Y
	m.along += before.X*after.X + before.Y*after.Y
	m.across += before.X*after.Y - before.Y*after.X
}

// turn is the rotation and scale as a complex number: 1 + 0i for none.
func (m *motion) turn() (re, im float64) {
	if m.n == 0 {
		return 1, 0
	}
	spread := m.square - (m.from.X*m.from.X+m.from.Y*m.from.Y)/m.n + fewTags
	along := m.along - (m.from.X*m.to.X+m.from.Y*m.to.Y)/m.n + fewTags
	across := m.across - (m.from.X*m.to.Y-m.from.Y*m.to.X)/m.n
	return along / spread, across / spread
}

// of is where a place moves to.
func (m *motion) of(p Point) Point {
	if m.n == 0 {
		return p
	}
	re, im := m.turn()
	x, y := p.X-m.from.X/m.n, p.Y-m.from.Y/m.n
	return Point{m.to.X/m.n + re*x - im*y, m.to.Y/m.n + re*y + im*x}
}

// grid is where a grid moves to.
func (m *motion) grid(g *grid) grid {
	re, im := m.turn()
	at := m.of(Point{g[2], g[5]})
	return grid{re*g[0] - im*g[3], re*g[1] - im*g[4], at.X, re*g[3] + im*g[0], re*g[4] + im*g[1], at.Y, g[6], g[7]}
}
