package build

import (
	"fmt"
	"math"

	"stowright/store/measure"
)

// Uses is how pieces of an item went in this shop: how many were fitted, and how many
// were spoiled doing it.
type Uses struct{ Good, Spoiled int64 }

// LearnedFrom is how many uses a waste is learned from at least; under it the builder's
// own percentage stands.
const LearnedFrom = 30

// maxWanted bounds how many good pieces are reckoned for.
const maxWanted = 1_000_000

// enoughChance is the chance that what is bought is enough.
const enoughChance = 0.95

// The prior of the share that is spoiled is the beta distribution with both shapes one
// half (Jeffreys' prior for a share).
const priorShape = 0.5

// Learned reports whether there are enough uses to learn from. Where more were spoiled than
// came out good something was wrong with the work, and not with the pieces: reckoned on, of 31
// that were all spoiled, hundreds would be bought for one that is needed.
func (u Uses) Learned() bool { return u.Good+u.Spoiled >= LearnedFrom && u.Good >= u.Spoiled }

// Share is the part of the pieces that was spoiled, from 0 to 1.
func (u Uses) Share() float64 {
	if u.Good+u.Spoiled == 0 {
		return 0
	}
	return float64(u.Spoiled) / float64(u.Good+u.Spoiled)
}

// Words is "19 spoiled of 231 (8.2 %, upper bound 11.8 %)".
func (u Uses) Words() string {
	return fmt.Sprintf("%d spoiled of %d (%.1f %%, upper bound %.1f %%)", u.Spoiled, u.Good+u.Spoiled, 100*u.Share(), 100*u.Bound())
}

// Bound is the largest share by which so few spoiled ones are still seen 5 times in 100:
// the one-sided exact bound of Clopper and Pearson (Biometrika 26, 1934). It leans on no
// prior, and lies a little over the quantile by ours.
func (u Uses) Bound() float64 {
	if u.Good == 0 {
		return 1
	}
	a, b := float64(u.Spoiled)+1, float64(u.Good)
	low, high := 0.0, 1.0
	for range 60 {
		mid := (low + high) / 2
		if betaBelow(mid, a, b) < enoughChance {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// Enough is the smallest number of pieces of which, with a chance of 95 in 100, so many
// come out good. The number of spoiled ones among n is beta-binomial: binomial for a
// share that is itself only known as far as the uses tell. It is wanted itself where
// nothing was learned, see [Uses.Learned], or nothing is wanted.
func (u Uses) Enough(wanted int64) int64 {
	if !u.Learned() || wanted <= 0 || wanted > maxWanted {
		return wanted
	}
	low, high := wanted, 2*wanted
	for u.chance(wanted, high) < enoughChance {
		low, high = high, 2*high
		if high > 64*maxWanted {
			return high
		}
	}
	for low < high {
		mid := (low + high) / 2
		if u.chance(wanted, mid) >= enoughChance {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

// chance is the chance that of n pieces at most n-wanted are spoiled.
func (u Uses) chance(wanted, n int64) float64 {
	a, b := float64(u.Spoiled)+priorShape, float64(u.Good)+priorShape
	// The first term is the chance of none; each of the others follows from the one before.
	log := logBeta(a, float64(n)+b) - logBeta(a, b)
	sum := 0.0
	for k := int64(0); k <= n-wanted; k++ {
		sum += math.Exp(log)
		x := float64(k)
		log += math.Log((float64(n)-x)/(x+1)) + math.Log((x+a)/(float64(n)-x-1+b))
	}
	return sum
}

func logBeta(a, b float64) float64 {
	x, _ := math.Lgamma(a)
	y, _ := math.Lgamma(b)
	z, _ := math.Lgamma(a + b)
	return x + y - z
}

// betaBelow is the chance that a beta distribution with shapes a and b lies below x: the
// regularised incomplete beta function by its continued fraction (Abramowitz and
// Stegun, Handbook of Mathematical Functions, 26.5.8), evaluated by Lentz's method.
func betaBelow(x, a, b float64) float64 {
	if x <= 0 || x >= 1 {
		return math.Min(1, math.Max(0, x))
	}
	if x > (a+1)/(a+b+2) {
		return 1 - betaBelow(1-x, b, a)
	}
	front := math.Exp(a*math.Log(x)+b*math.Log1p(-x)-logBeta(a, b)) / a
	const tiny = 1e-300
	c, d := 1.0, 0.0
	f := 1.0
	for m := 0; m < 500; m++ {
		k, term := float64(m/2), 0.0
		switch {
		case m == 0:
			term = 1
		case m%2 == 0:
			term = k * (b - k) * x / ((a + 2*k - 1) * (a + 2*k))
		default:
			term = -(a + k) * (a + b + k) * x / ((a + 2*k) * (a + 2*k + 1))
		}
		d = nonZero(1+term*d, tiny)
		c = nonZero(1+term/c, tiny)
		d = 1 / d
		f *= c * d
		if math.Abs(c*d-1) < 1e-14 {
			break
		}
	}
	return front * (f - 1)
}

func nonZero(v, tiny float64) float64 {
	if math.Abs(v) < tiny {
		return tiny
	}
	return v
}

// wanted is how many more than a need are wanted by a rule, and by what: "10 %", "1",
// "learned from 19 spoiled of 231 (8.2 %, upper bound 11.8 %)".
func (r SpareRule) wanted(need measure.Quantity) (measure.Quantity, string) {
	spare, by := measure.Quantity{Unit: need.Unit}, ""
	const one = 1_000_000
	if r.Percent > 0 {
		whole := (need.Micro/100*int64(r.Percent) + need.Micro%100*int64(r.Percent)/100 + one - 1) / one * one
		spare.Micro, by = whole, fmt.Sprintf("%d %%", r.Percent)
	}
	if r.ByWaste {
		if !r.Uses.Learned() {
			return larger(spare, by, r.Count, "your own figure: "+r.Uses.untold())
		}
		if need.Micro%one == 0 {
			spare.Micro, by = (r.Uses.Enough(need.Micro/one)-need.Micro/one)*one, "learned from "+r.Uses.Words()
		}
	}
	return larger(spare, by, r.Count, "")
}

// untold says why nothing is learned.
func (u Uses) untold() string {
	if all := u.Good + u.Spoiled; all < LearnedFrom {
		return fmt.Sprintf("%d uses are seen, and %d tell", all, LearnedFrom)
	}
	return fmt.Sprintf("%d spoiled of %d tell nothing of the next ones", u.Spoiled, u.Good+u.Spoiled)
}

// larger is the larger of a share and a number, and by what.
func larger(spare measure.Quantity, by string, count measure.Quantity, mark string) (measure.Quantity, string) {
	if count.Micro > spare.Micro && count.Unit == spare.Unit {
		spare, by = count, count.Number()
	}
	if mark != "" {
		by = mark
	}
	return spare, by
}
