package build

import (
	"math"
	"math/big"
	"testing"

	"stowright/store/measure"
)

// The worked figures of the trade paper: 19 spoiled of 231.
func TestLearnedWaste(t *testing.T) {
	u := Uses{Good: 212, Spoiled: 19}
	if got := u.Words(); got != "19 spoiled of 231 (8.2 %, upper bound 11.8 %)" {
		t.Errorf("it says %q", got)
	}
	// By the bound's own share at most 19 of 231 are spoiled 5 times in 100.
	p, sum := u.Bound(), 0.0
	for k := range 20 {
		of, _ := new(big.Float).SetInt(new(big.Int).Binomial(231, int64(k))).Float64()
		sum += of * math.Pow(p, float64(k)) * math.Pow(1-p, float64(231-k))
	}
	if math.Abs(sum-0.05) > 1e-9 {
		t.Errorf("bound %.6f: 19 and fewer with a chance of %.6f", p, sum)
	}
	if got := (Uses{Spoiled: 30}).Bound(); got != 1 {
		t.Errorf("all spoiled: bound %v", got)
	}
	for _, row := range []struct{ wanted, have int64 }{{46, 55}, {300, 343}, {960, 1090}} {
		if got := u.Enough(row.wanted); got != row.have {
			t.Errorf("for %d good have %d, the paper says %d (chance of the paper's %.4f, of one less %.4f)", row.wanted, got, row.have, u.chance(row.wanted, row.have), u.chance(row.wanted, row.have-1))
		}
	}
}

// The chance is that of exact fractions: the beta-binomial distribution by its products,
// shapes taken as halves of odd numbers.
func TestChanceIsExact(t *testing.T) {
	for _, u := range []Uses{{212, 19}, {30, 0}, {0, 31}, {17, 15}} {
		for _, row := range []struct{ wanted, n int64 }{{46, 55}, {46, 54}, {46, 46}, {10, 60}, {1, 1}} {
			want, _ := exactChance(u, row.wanted, row.n).Float64()
			if got := u.chance(row.wanted, row.n); math.Abs(got-want) > 1e-9 {
				t.Errorf("%+v, %d good of %d: %.12f, exactly %.12f", u, row.wanted, row.n, got, want)
			}
		}
	}
}

// exactChance sums C(n,k) B(k+a, n-k+b)/B(a,b), with rising factorials: exact.
func exactChance(u Uses, wanted, n int64) *big.Rat {
	rising := func(odd, times int64) *big.Rat { // of odd/2
		v := big.NewRat(1, 1)
		for i := range times {
			v.Mul(v, big.NewRat(odd+2*i, 2))
		}
		return v
	}
	a, b := 2*u.Spoiled+1, 2*u.Good+1
	sum := new(big.Rat)
	for k := int64(0); k <= n-wanted; k++ {
		term := new(big.Rat).SetInt(new(big.Int).Binomial(n, k))
		term.Mul(term, rising(a, k)).Mul(term, rising(b, n-k))
		sum.Add(sum, term)
	}
	return sum.Quo(sum, rising(a+b, n))
}

// Known values of the beta distribution: closed forms for whole shapes and the arcsine.
func TestBetaBelow(t *testing.T) {
	for _, row := range []struct{ x, a, b, want float64 }{
		{0.3, 1, 1, 0.3},
		{0.5, 2, 2, 0.5},
		{0.25, 2, 1, 0.0625},
		{0.25, 1, 3, 1 - 0.75*0.75*0.75},
		{0.25, 0.5, 0.5, 1.0 / 3}, // 2/pi arcsin(1/2)
		{0, 3, 4, 0},
		{1, 3, 4, 1},
		{0.9, 5, 2, 6*math.Pow(0.9, 5) - 5*math.Pow(0.9, 6)},
	} {
		if got := betaBelow(row.x, row.a, row.b); math.Abs(got-row.want) > 1e-10 {
			t.Errorf("below %v with %v and %v: %.12f, want %.12f", row.x, row.a, row.b, got, row.want)
		}
	}
}

// Under 30 uses nothing is learned; more uses of the same share tell more.
func TestLearnedFrom(t *testing.T) {
	if got := (Uses{Good: 20, Spoiled: 9}).Enough(100); got != 100 {
		t.Errorf("29 uses: have %d", got)
	}
	few, many := Uses{Good: 27, Spoiled: 3}, Uses{Good: 270, Spoiled: 30}
	if a, b := few.Enough(100), many.Enough(100); a <= b || b <= 100 {
		t.Errorf("30 uses: %d, 300 uses: %d", a, b)
	}
	if got := few.Enough(0); got != 0 {
		t.Errorf("for none have %d", got)
	}
	need := measure.Pieces(46)
	for _, row := range []struct {
		rule SpareRule
		want int64
		by   string
	}{
		{SpareRule{}, 0, ""},
		{SpareRule{Percent: 10}, 5, "10 %"},
		{SpareRule{Percent: 10, Count: measure.Pieces(8)}, 8, "8"},
		{SpareRule{Percent: 10, ByWaste: true, Uses: Uses{Good: 212, Spoiled: 19}}, 9, "learned from 19 spoiled of 231 (8.2 %, upper bound 11.8 %)"},
		{SpareRule{Percent: 10, ByWaste: true, Uses: Uses{Good: 9, Spoiled: 1}}, 5, "your own figure: 10 uses are seen, and 30 tell"},
		{SpareRule{Percent: 10, ByWaste: true, Uses: Uses{Spoiled: 31}}, 5, "your own figure: 31 spoiled of 31 tell nothing of the next ones"}, // reckoned on, it has no end
		{SpareRule{Percent: 10, ByWaste: true, Uses: Uses{Good: 15, Spoiled: 16}}, 5, "your own figure: 16 spoiled of 31 tell nothing of the next ones"},
		{SpareRule{Percent: 10, ByWaste: true, Uses: Uses{Good: 15, Spoiled: 15}}, 89, "learned from 15 spoiled of 30 (50.0 %, upper bound 66.1 %)"},
	} {
		if got, by := row.rule.wanted(need); got != measure.Pieces(row.want) || by != row.by {
			t.Errorf("%+v: %s by %q, want %d by %q", row.rule, got, by, row.want, row.by)
		}
	}
}
