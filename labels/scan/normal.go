package scan

import "math"

// normal are the normal equations of one Gauss-Newton step of a grid.
type normal struct {
	a     [8][8]float64
	b     [8]float64
	prior [8]float64 // weight of the prior of a parameter, in units of the noise power
	from  [8]float64 // difference of the parameter from its prior value
	power float64    // sum of squared residuals and of weights
	count float64
}

// add0 adds the prior that a symbol is seen with little perspective.
func (n *normal) add0(g *grid, usual float64) {
	for i := 6; i < 8; i++ {
		n.prior[i], n.from[i] = 1/(usual*usual), g[i]
	}
}

// add adds one sample: the derivatives of its brightness by each parameter, and its
// residual.
func (n *normal) add(j [8]float64, off, weight float64) {
	for i := range 8 {
		k := weight * j[i]
		for l := i; l < 8; l++ {
			n.a[i][l] += k * j[l]
		}
		n.b[i] -= k * off
	}
	n.power += weight * off * off
	n.count += weight
}

// solve gives the step.
func (n *normal) solve(depth float64) (step [8]float64, ok bool) {
	if n.count < 20 || depth == 0 {
		return step, false
	}
	noise := n.power/n.count + 1e-4*depth*depth
	for i := range 8 {
		n.a[i][i] = n.a[i][i]*1.001 + n.prior[i]*noise
		n.b[i] -= n.prior[i] * noise * n.from[i]
	}
	return cholesky(&n.a, n.b)
}

// cholesky solves a x = b for the upper half of a symmetric positive a.
func cholesky(a *[8][8]float64, b [8]float64) (x [8]float64, ok bool) {
	for i := range 8 {
		for j := range i {
			a[i][i] -= a[j][i] * a[j][i]
		}
		if a[i][i] <= 1e-12 {
			return x, false
		}
		a[i][i] = math.Sqrt(a[i][i])
		for k := i + 1; k < 8; k++ {
			for j := range i {
				a[i][k] -= a[j][i] * a[j][k]
			}
			a[i][k] /= a[i][i]
		}
	}
	for i := range 8 {
		for j := range i {
			b[i] -= a[j][i] * b[j]
		}
		b[i] /= a[i][i]
	}
	for i := 7; i >= 0; i-- {
		for j := i + 1; j < 8; j++ {
			b[i] -= a[i][j] * b[j]
		}
		b[i] /= a[i][i]
	}
	return b, true
}

// solve4 solves four equations by elimination with the largest pivot.
func solve4(a *[4][5]float64) (x [4]float64, ok bool) {
	for i := range 4 {
		best := i
		for j := i + 1; j < 4; j++ {
			if math.Abs(a[j][i]) > math.Abs(a[best][i]) {
				best = j
			}
		}
		a[i], a[best] = a[best], a[i]
		if math.Abs(a[i][i]) < 1e-9 {
			return x, false
		}
		for j := i + 1; j < 4; j++ {
			k := a[j][i] / a[i][i]
			for l := i; l < 5; l++ {
				a[j][l] -= k * a[i][l]
			}
		}
	}
	for i := 3; i >= 0; i-- {
		x[i] = a[i][4]
		for j := i + 1; j < 4; j++ {
			x[i] -= a[i][j] * x[j]
		}
		x[i] /= a[i][i]
	}
	return x, true
}
