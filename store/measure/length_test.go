package measure_test

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stowright/store/measure"
)

func TestParseLength(t *testing.T) {
	const in, mm = measure.Inch, measure.Millimetre
	for _, c := range []struct {
		name, input string
		want        measure.Length
	}{
		{"decimal without zero", ".190", 4_826_000},
		{"decimal with unit", "0.190 in", 4_826_000},
		{"decimal with a point at the end", "2.", 2 * in},
		{"fraction", "3/16", 4_762_500},
		{"fraction with zeros before it", "010/016", 15_875_000},
		{"fraction with inch mark", `3/16"`, 4_762_500},
		{"fraction with printed inch marks", "3/16”", 4_762_500},
		{"fraction with prime", "9/16″", 14_287_500},
		{"mixed with hyphen", "1-1/4", in + in/4},
		{"mixed with space", "1 1/4 in.", in + in/4},
		{"mixed with both", "1 - 3/16 inches", in + 3*in/16},
		{"smallest published fraction", "1/64", 396_875},
		{"smallest published decimal", "0.0001", 2_540},
		{"screw number", "#10", 4_826_000},            // ASME B1.1: 0.060 + 10 x 0.013 = 0.190 in
		{"screw number zero", "#0", 1_524_000},        // ASME B1.1: 0.060 in
		{"screw number in words", "No. 8", 4_165_600}, // ASME B1.1: 0.164 in
		{"millimetres", "14.3 mm", 14_300_000},
		{"centimetres", "1.5cm", 15 * mm},
		{"feet", "2 ft", 24 * in},
		{"feet mark", "6'", 72 * in},
		{"capitals", "2 FT", 24 * in},
		{"the longest", "1000 ft", measure.MaxLength},
		{"nothing", "0", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := measure.ParseLength(c.input)
			if err != nil || got != c.want {
				t.Errorf("ParseLength(%q): got %d nm, %v; want %d nm", c.input, got, err, c.want)
			}
		})
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct{ name, input, reason string }{
		{"empty", "", "write it like"},
		{"unit alone", "in", "write it like"},
		{"words", "long", "write it like"},
		{"sign", "-1", "write it like"},
		{"exponent", "1e3", "write it like"},
		{"comma", "0,19", "write it like"},
		{"denominator zero", "3/0", "write it like"},
		{"denominator of zeros", "3/000", "write it like"},
		{"no denominator", "3/", "write it like"},
		{"two fractions", "1/2/3", "write it like"},
		{"whole and decimal", "1-0.5", "write it like"},
		{"screw number too large", "#15", "screw numbers run"},
		{"screw number between", "#1/2", "screw numbers run"},
		{"too long a length", "1000.1 ft", "must lie between"},
		{"finer than a nanometre", "0.00000001", "finer than"},
		{"third of an inch", "1/7", "finer than"},
		{"too long a text", strings.Repeat("1", 41), "too long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := measure.ParseLength(c.input)
			var le *measure.LengthError
			if !errors.As(err, &le) {
				t.Fatalf("ParseLength(%q): got %v, %v; want a LengthError", c.input, got, err)
			}
			if le.Input != c.input || !strings.Contains(le.Reason, c.reason) {
				t.Errorf("ParseLength(%q): got input %q, reason %q; want reason with %q", c.input, le.Input, le.Reason, c.reason)
			}
		})
	}
}

func TestLengthShown(t *testing.T) {
	for _, c := range []struct {
		name   string
		length measure.Length
		want   string
	}{
		{"fraction both ways", measure.Inches(9, 16), "9/16 (0.5625)"},
		{"finest fraction", measure.Inches(1, 64), "1/64 (0.015625)"},
		{"mixed", measure.Inches(5, 4), "1-1/4 (1.250)"},
		{"whole once", measure.Inches(2, 1), "2"},
		{"no fraction", measure.Inches(190, 1000), "0.190"},
		{"tenths", measure.Inches(1, 5), "0.200"},
		{"metric rounds to nine places", measure.Millimetre, "0.039370079"},
		{"nothing", 0, "0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.length.String(); got != c.want {
				t.Errorf("%d nm: got %q, want %q", c.length, got, c.want)
			}
		})
	}
	if got := measure.Inches(1, 2).Millimetres(); got != 12.7 {
		t.Errorf("1/2 in: got %v mm, want 12.7", got)
	}
}

// TestPublishedFiguresAreExact goes through every 64th to 12 in and every 0.0001
// to 1 in: exact rational arithmetic is the judge.
func TestPublishedFiguresAreExact(t *testing.T) {
	exact := func(n, d int64) *big.Rat { return big.NewRat(n*int64(measure.Inch), d) }
	for n := int64(1); n <= 12*64; n++ {
		text := fmt.Sprintf("%d/64", n)
		got, err := measure.ParseLength(text)
		if err != nil || exact(n, 64).Cmp(big.NewRat(int64(got), 1)) != 0 {
			t.Fatalf("ParseLength(%q): got %d nm, %v; want %s", text, got, err, exact(n, 64))
		}
		shown, ok := got.Fraction()
		back, err := measure.ParseLength(shown)
		if !ok || err != nil || back != got {
			t.Fatalf("%s in: Fraction gives %q, which reads as %d nm, %v; want %d", text, shown, back, err, got)
		}
	}
	for n := int64(1); n <= 10_000; n++ {
		text := fmt.Sprintf("%d.%04d", n/10_000, n%10_000)
		got, err := measure.ParseLength(text)
		if err != nil || exact(n, 10_000).Cmp(big.NewRat(int64(got), 1)) != 0 {
			t.Fatalf("ParseLength(%q): got %d nm, %v; want %s", text, got, err, exact(n, 10_000))
		}
		if back, err := measure.ParseLength(got.Decimal()); err != nil || back != got {
			t.Fatalf("%s in: Decimal gives %q, which reads as %d nm, %v; want %d", text, got.Decimal(), back, err, got)
		}
	}
}

func TestInchesPanicsOnAFractionItCannotHold(t *testing.T) {
	for _, d := range []int64{0, 7} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("Inches(1, %d): want a panic", d)
				}
			}()
			measure.Inches(1, d)
		}()
	}
}

func TestLengthTextReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := measure.Length(rapid.Int64Range(0, int64(measure.MaxLength)).Draw(t, "nm"))
		text, err := want.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var got measure.Length
		if err := got.UnmarshalText(text); err != nil || got != want {
			t.Fatalf("%d nm is written %q and reads as %d nm, %v", want, text, got, err)
		}
	})
	kept := measure.Inch
	if err := kept.UnmarshalText([]byte("long")); err == nil || kept != measure.Inch {
		t.Errorf(`UnmarshalText("long"): got %v, %v; want an error and the length kept`, kept, err)
	}
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{".190", `3/16"`, "1-1/4", "#10", "No. 8", "14.3 mm", "2 ft", "6'", "1--1/4", "1/0", "0.00000001", "9/16″", "½"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := measure.ParseLength(s)
		if err != nil {
			var le *measure.LengthError
			if !errors.As(err, &le) || got != 0 {
				t.Fatalf("ParseLength(%q): got %d, %v; want 0 and a LengthError", s, got, err)
			}
			return
		}
		if got < 0 || got > measure.MaxLength {
			t.Fatalf("ParseLength(%q): %d nm is out of bounds", s, got)
		}
		text, _ := got.MarshalText()
		if back, err := measure.ParseLength(string(text)); err != nil || back != got {
			t.Fatalf("ParseLength(%q) = %d nm, written %q, reads as %d, %v", s, got, text, back, err)
		}
		if shown, ok := got.Fraction(); ok {
			if back, err := measure.ParseLength(shown); err != nil || back != got {
				t.Fatalf("ParseLength(%q) = %d nm, shown %q, reads as %d, %v", s, got, shown, back, err)
			}
		}
	})
}
