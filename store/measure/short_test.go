package measure

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// TestShortWay: a length read the short way is the one that exact fractions of
// any size give, and what they refuse the short way leaves alone.
func TestShortWay(t *testing.T) {
	units := []Length{Inch, Millimetre, 10 * Millimetre, Foot}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{0,9}[-/.]?[0-9]{0,9}(/[0-9]{0,5})?`).Draw(t, "text")
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		got, short := parseShort(text, unit)
		if !short {
			return
		}
		want, ok := parseMixed(text)
		if !ok {
			t.Fatalf("%q is read as %d nm; the long way refuses it", text, got)
		}
		want.Mul(want, new(big.Rat).SetInt64(int64(unit)))
		if want.Cmp(new(big.Rat).SetInt64(int64(got))) != 0 || got > MaxLength {
			t.Fatalf("%q in units of %d nm: got %d nm, want %s", text, unit, got, want)
		}
	})
}

// TestShortWayIsTaken: what the tables are full of does not go the long way, and
// what must go there does.
func TestShortWayIsTaken(t *testing.T) {
	for text, want := range map[string]Length{
		".190": 4_826_000, "0.015625": 396_875, "3/16": 4_762_500, "1-3/16": 30_162_500, "2": 2 * Inch, "2.": 2 * Inch, "0": 0, "12000": MaxLength,
	} {
		if got, ok := parseShort(text, Inch); !ok || got != want {
			t.Errorf("%q: got %d nm %v, want %d", text, got, ok, want)
		}
	}
	for _, text := range []string{"", ".", "1.2.3", "-1", "/2", "1/0", "1/7", "1-", "1-2", "1-1/", "1.5-1/2", "123456789", "0.000000001", "12345/64", "12001", "1 1/4", "1e3"} {
		if got, ok := parseShort(text, Inch); ok {
			t.Errorf("%q is read as %d nm", text, got)
		}
	}
}
