package measure_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowright/store/measure"
)

func TestParseQuantity(t *testing.T) {
	for _, c := range []struct {
		name, input string
		want        int64 // millionths
	}{
		{"pieces", "24", 24_000_000},
		{"decimal", "0.30", 300_000},
		{"decimal without zero", ".25", 250_000},
		{"spaces around", " 12 ", 12_000_000},
		{"half", "1/2", 500_000},
		{"mixed", "1 1/2", 1_500_000},
		{"thousands", "1,680", 1_680_000_000},
		{"thousands with decimals", "12,500.25", 12_500_250_000},
		{"millions", "1,000,000", 1_000_000_000_000},
		{"finest", "0.000001", 1},
		{"largest", "100000000", measure.MaxQuantity * 1_000_000},
		{"nothing", "0", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := measure.ParseQuantity(c.input, measure.Pound)
			if want := (measure.Quantity{Micro: c.want, Unit: measure.Pound}); err != nil || got != want {
				t.Errorf("ParseQuantity(%q): got %v, %v; want %v", c.input, got, err, want)
			}
		})
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	for _, c := range []struct{ name, input, want string }{
		{"empty", "", "not a plain number"},
		{"words", "a few", "not a plain number"},
		{"sign", "-4", "not a plain number"},
		{"plus", "+4", "not a plain number"},
		{"range", "4-6", "not a plain number"},
		{"exponent", "1e3", "not a plain number"},
		{"the sign after the digits", "12:", "not a plain number"},
		{"the sign before the digits", "12.4/", "not a plain number"},
		{"two points", "1.2.3", "not a plain number"},
		{"decimal comma is not thousands", "0,30", "not a plain number"},
		{"comma in the wrong place", "1,68", "not a plain number"},
		{"comma before four digits", "1,6800", "not a plain number"},
		{"commas all over", "1,2,3", "not a plain number"},
		{"too fine", "0.0000001", "six decimal places"},
		{"third", "1/3", "six decimal places"},
		{"too large", "100000001", "too large"},
		{"endless", strings.Repeat("9", 400), "not a plain number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := measure.ParseQuantity(c.input, measure.Each)
			if err == nil || !strings.Contains(err.Error(), c.want) || got != (measure.Quantity{}) {
				t.Errorf("ParseQuantity(%q): got %v, %v; want an error with %q", c.input, got, err, c.want)
			}
		})
	}
	if _, err := measure.ParseQuantity("100000001", measure.Each); !errors.Is(err, measure.ErrOverflow) {
		t.Errorf("100000001: got %v, want ErrOverflow", err)
	}
}

// TestAPieceIsNeverAFraction: what is counted comes whole, what is measured may not,
// and what an older shop file holds is still read.
func TestAPieceIsNeverAFraction(t *testing.T) {
	for _, u := range []measure.Unit{measure.Each, measure.Set, measure.Pair} {
		for _, s := range []string{"0.5", "1/2", "1 1/2", "1.000001"} {
			if q, err := measure.ParseQuantity(s, u); !errors.Is(err, measure.ErrPiece) {
				t.Errorf("ParseQuantity(%q, %s): got %v, %v; want ErrPiece", s, u, q, err)
			}
		}
		if q, err := measure.ParseQuantity("2.0", u); err != nil || q != measure.Of(2, u) {
			t.Errorf("ParseQuantity(2.0, %s): got %v, %v", u, q, err)
		}
	}
	for _, u := range []measure.Unit{measure.Pound, measure.Feet, measure.Roll} {
		if _, err := measure.ParseQuantity("1/2", u); err != nil {
			t.Errorf("ParseQuantity(1/2, %s): got %v", u, err)
		}
	}
	var q measure.Quantity
	if err := q.UnmarshalText([]byte("0.5 ea")); err != nil || q.Micro != 500_000 {
		t.Errorf("of an older file: got %v, %v", q, err)
	}
}

// TestParseUnit takes the ways a unit is written on packing lists (common practice).
func TestParseUnit(t *testing.T) {
	for _, c := range []struct {
		want   measure.Unit
		inputs []string
	}{
		{measure.Each, []string{"", "ea", "EA", "Ea.", " each ", "pcs", "pc.", "Pieces", "nos"}},
		{measure.Feet, []string{"ft", "ft.", "FEET", "foot", "'"}},
		{measure.InchUnit, []string{"in", "in.", "Inches", `"`}},
		{measure.Metre, []string{"m", "metre", "meters"}},
		{measure.Pound, []string{"lb", "lbs", "LBS.", "pounds", "#"}},
		{measure.Ounce, []string{"oz", "oz.", "Ounces"}},
		{measure.Kilogram, []string{"kg", "kgs", "Kilograms"}},
		{measure.FluidOunce, []string{"fl oz", "fl. oz.", "FL.OZ.", "fluid ounces"}},
		{measure.Quart, []string{"qt", "qts", "Quart", "quarts"}},
		{measure.Gallon, []string{"gal", "gals", "gallon"}},
		{measure.Millilitre, []string{"ml", "mL", "milliliters"}},
		{measure.Litre, []string{"l", "L", "litres", "liter"}},
		{measure.Set, []string{"set", "sets"}},
		{measure.Pair, []string{"pr", "pair", "pairs"}},
		{measure.Sheet, []string{"sheet", "sht"}},
	} {
		for _, s := range c.inputs {
			if got, err := measure.ParseUnit(s); err != nil || got != c.want {
				t.Errorf("ParseUnit(%q): got %q, %v; want %q", s, got, err, c.want)
			}
		}
	}
	for _, s := range []string{"furlong", "e a", "ft lb", "12", strings.Repeat("x", 500)} {
		if got, err := measure.ParseUnit(s); err == nil || got != "" || len(err.Error()) > 200 {
			t.Errorf("ParseUnit(%.20q): got %q, %v; want a short error", s, got, err)
		}
	}
}

func TestUnitsAreNeverMixed(t *testing.T) {
	feet, inches := measure.Of(1, measure.Feet), measure.Of(12, measure.InchUnit)
	for _, c := range []struct {
		name string
		do   func() error
	}{
		{"add", func() error { _, err := feet.Add(inches); return err }},
		{"subtract", func() error { _, err := feet.Sub(inches); return err }},
		{"compare", func() error { _, err := feet.Cmp(inches); return err }},
		{"add nothing of another unit", func() error { _, err := feet.Add(measure.Of(0, measure.Pound)); return err }},
		{"add some of no unit", func() error { _, err := feet.Add(measure.Quantity{Micro: 1}); return err }},
	} {
		t.Run(c.name, func(t *testing.T) {
			if err := c.do(); !errors.Is(err, measure.ErrUnits) {
				t.Errorf("got %v, want ErrUnits", err)
			}
		})
	}
	t.Run("the zero value goes with any unit", func(t *testing.T) {
		for _, sum := range []func() (measure.Quantity, error){
			func() (measure.Quantity, error) { return feet.Add(measure.Quantity{}) },
			func() (measure.Quantity, error) { return measure.Quantity{}.Add(feet) },
		} {
			if got, err := sum(); err != nil || got != feet {
				t.Errorf("got %v, %v; want %v", got, err, feet)
			}
		}
	})
}

func TestSumsDoNotWrapAround(t *testing.T) {
	most := measure.Quantity{Micro: math.MaxInt64, Unit: measure.Each}
	if got, err := most.Add(measure.Quantity{Micro: 1, Unit: measure.Each}); !errors.Is(err, measure.ErrOverflow) {
		t.Errorf("the largest and one: got %v, %v; want ErrOverflow", got, err)
	}
	if got, err := most.Neg().Sub(measure.Quantity{Micro: 2, Unit: measure.Each}); !errors.Is(err, measure.ErrOverflow) {
		t.Errorf("the smallest less two: got %v, %v; want ErrOverflow", got, err)
	}
}

func TestQuantityShown(t *testing.T) {
	for _, c := range []struct {
		name          string
		quantity      measure.Quantity
		shown, number string
	}{
		{"pieces", measure.Pieces(24), "24 ea", "24"},
		{"thousands", measure.Pieces(1680), "1,680 ea", "1,680"},
		{"millions", measure.Pieces(12_345_678), "12,345,678 ea", "12,345,678"},
		{"weight", measure.Quantity{Micro: 300_000, Unit: measure.Pound}, "0.3 lb", "0.3"},
		{"thousands and decimals", measure.Quantity{Micro: 1_234_500_000, Unit: measure.Gram}, "1,234.5 g", "1,234.5"},
		{"less than nothing", measure.Pieces(-1680), "-1,680 ea", "-1,680"},
		{"hundreds below nothing", measure.Pieces(-168), "-168 ea", "-168"},
		{"the zero value", measure.Quantity{}, "0", "0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.quantity.String(); got != c.shown {
				t.Errorf("String: got %q, want %q", got, c.shown)
			}
			if got := c.quantity.Number(); got != c.number {
				t.Errorf("Number: got %q, want %q", got, c.number)
			}
			if want := c.quantity.Micro == 0; c.quantity.IsZero() != want || (c.quantity.Sign() == 0) != want {
				t.Errorf("IsZero, Sign: got %v, %d", c.quantity.IsZero(), c.quantity.Sign())
			}
		})
	}
}

func TestQuantityTextRefuses(t *testing.T) {
	for _, s := range []string{"", "ea", "3 furlong", "3 lbs", "x lb", "--3 lb", "0,3 lb"} {
		kept := measure.Pieces(7)
		if err := kept.UnmarshalText([]byte(s)); err == nil || kept != measure.Pieces(7) {
			t.Errorf("UnmarshalText(%q): got %v, %v; want an error and the quantity kept", s, kept, err)
		}
	}
}

// drawQuantity draws a quantity of any unit and sign that a list may hold.
func drawQuantity(t *rapid.T, label string, units ...measure.Unit) measure.Quantity {
	return measure.Quantity{
		Micro: rapid.Int64Range(-measure.MaxQuantity*1_000_000, measure.MaxQuantity*1_000_000).Draw(t, label),
		Unit:  rapid.SampledFrom(units).Draw(t, label+" unit"),
	}
}

func TestQuantityTextReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawQuantity(t, "q", "", measure.Each, measure.Pound, measure.FluidOunce, measure.InchUnit)
		text, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		var got measure.Quantity
		if err := json.Unmarshal(text, &got); err != nil || got != want {
			t.Fatalf("%#v is written %s and reads as %#v, %v", want, text, got, err)
		}
	})
}

// A figure in digits is what big numbers make of it, however many there are before and behind
// the point, or it is refused where that has no room or more than six decimal places.
func TestFiguresAreRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{0,10}(\.[0-9]{0,8})?`).Draw(t, "text")
		want, isNumber := new(big.Rat).SetString("0" + text + strings.Repeat("0", strings.Count(text, ".")))
		if strings.Trim(text, ".") == "" {
			isNumber = false
		}
		millionths := new(big.Rat).Mul(want, big.NewRat(1_000_000, 1))
		fits := millionths.IsInt() && want.Cmp(big.NewRat(measure.MaxQuantity, 1)) <= 0
		got, err := measure.ParseQuantity(text, measure.Pound)
		if (err == nil) != (isNumber && fits) || err == nil && (got.Micro != millionths.Num().Int64() || got.Unit != measure.Pound) {
			t.Fatalf("%q is read as %#v, %v; want %v millionths, a number %t", text, got, err, millionths, isNumber)
		}
	})
}

func TestSumsAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawQuantity(t, "a", measure.Pound), drawQuantity(t, "b", measure.Pound)
		sum, err := a.Add(b)
		if err != nil {
			t.Fatal(err)
		}
		want := new(big.Int).Add(big.NewInt(a.Micro), big.NewInt(b.Micro))
		if want.Cmp(big.NewInt(sum.Micro)) != 0 {
			t.Fatalf("%v + %v: got %v, want %v millionths", a, b, sum, want)
		}
		back, err := sum.Sub(b)
		if err != nil || back != a {
			t.Fatalf("%v + %v - %v: got %v, %v", a, b, b, back, err)
		}
		if order, err := a.Cmp(b); err != nil || order != big.NewInt(a.Micro).Cmp(big.NewInt(b.Micro)) {
			t.Fatalf("%v against %v: got %d, %v", a, b, order, err)
		}
	})
}

func FuzzParseQuantity(f *testing.F) {
	for _, s := range []string{"24", "0.30", "1,680", "0,30", "1 1/2", "1/3", "12,500.25", "1e3", "-4", ".", "1,", "0x10", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := measure.ParseQuantity(s, measure.Each)
		if err != nil {
			if got != (measure.Quantity{}) {
				t.Fatalf("ParseQuantity(%q): got %v with %v", s, got, err)
			}
			return
		}
		if got.Sign() < 0 || got.Micro > measure.MaxQuantity*1_000_000 {
			t.Fatalf("ParseQuantity(%q): %v is out of bounds", s, got)
		}
		for _, shown := range []string{got.Plain(), got.Number()} {
			if back, err := measure.ParseQuantity(shown, measure.Each); err != nil || back != got {
				t.Fatalf("ParseQuantity(%q) = %v, shown %q, reads as %v, %v", s, got, shown, back, err)
			}
		}
	})
}
