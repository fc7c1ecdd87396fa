package build

import (
	"math/rand/v2"
	"testing"
)

// Story 14: two lots in a drawer.
func TestStory14Mix(t *testing.T) {
	drawer := Pour(Plain("L-39", Exactly(22)), Plain("F-1", Exactly(10)))
	fitted, left := drawer.Take(20)
	for _, row := range []struct {
		where string
		mix   Mix
		lot   string
		want  string
	}{
		{"A-12", left, "F-1", "0 to 10"},
		{"SA-21", fitted, "F-1", "0 to 10"},
		{"A-12", left, "L-39", "2 to 12"},
		{"SA-21", fitted, "L-39", "10 to 20"},
	} {
		if got := row.mix.Lots[row.lot].String(); got != row.want {
			t.Errorf("%s in %s: %s, want %s", row.lot, row.where, got, row.want)
		}
	}
	if left.Total != Exactly(12) || fitted.Total != Exactly(20) {
		t.Errorf("12 and 20 are %s and %s", left.Total, fitted.Total)
	}
	// Kept apart and pulled from A-12: nothing is uncertain.
	fitted, _ = Plain("L-39", Exactly(22)).Take(20)
	if len(fitted.Lots) != 1 || fitted.Lots["L-39"] != Exactly(20) {
		t.Errorf("kept apart: %v", fitted.Lots)
	}
}

// Over 10,000 random histories of real pieces with hidden lots the true number always
// lies within the bounds, and where nothing was mixed the bounds are the number.
func TestMixBoundsHold(t *testing.T) {
	type pile struct {
		pieces []string // the lot of each, which nobody sees
		mix    Mix
	}
	for seed := range uint64(10_000) {
		rnd := rand.New(rand.NewPCG(seed, 14))
		lots := []string{"a", "b", "c"}[:1+rnd.IntN(3)]
		piles := make([]pile, 4)
		for range 4 + rnd.IntN(12) {
			i, k := rnd.IntN(len(piles)), rnd.IntN(len(piles))
			switch rnd.IntN(3) {
			case 0: // a lot arrives
				lot, n := lots[rnd.IntN(len(lots))], 1+rnd.IntN(12)
				for range n {
					piles[i].pieces = append(piles[i].pieces, lot)
				}
				guess := Exactly(int64(n))
				if rnd.IntN(3) == 0 { // weighed: known within a range
					guess = Span{int64(max(0, n-2)), int64(n + 2)}
				}
				piles[i].mix = Pour(piles[i].mix, Plain(lot, guess))
			default: // some are taken at random into another pile
				if i == k || len(piles[i].pieces) == 0 {
					continue
				}
				rnd.Shuffle(len(piles[i].pieces), func(x, y int) {
					piles[i].pieces[x], piles[i].pieces[y] = piles[i].pieces[y], piles[i].pieces[x]
				})
				n := 1 + rnd.IntN(len(piles[i].pieces))
				piles[k].pieces = append(piles[k].pieces, piles[i].pieces[:n]...)
				piles[i].pieces = piles[i].pieces[n:]
				taken, rest := piles[i].mix.Take(int64(n))
				piles[i].mix, piles[k].mix = rest, Pour(piles[k].mix, taken)
			}
		}
		for _, p := range piles {
			count := map[string]int64{}
			for _, lot := range p.pieces {
				count[lot]++
			}
			total := int64(len(p.pieces))
			if total < p.mix.Total.Low || total > p.mix.Total.High {
				t.Fatalf("seed %d: %d pieces, bounds %s", seed, total, p.mix.Total)
			}
			for _, lot := range lots {
				s := p.mix.Lots[lot]
				if count[lot] < s.Low || count[lot] > s.High {
					t.Fatalf("seed %d: %d of lot %s, bounds %s", seed, count[lot], lot, s)
				}
				if len(lots) == 1 && p.mix.Total.Low == p.mix.Total.High && s != p.mix.Total {
					t.Fatalf("seed %d: one lot alone, and %s of %s", seed, s, p.mix.Total)
				}
			}
		}
	}
}
