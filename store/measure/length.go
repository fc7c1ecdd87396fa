package measure

import (
	"cmp"
	"fmt"
	"math/big"
	"strconv"
	"strings"
)

// Length is an exact length in nanometres, so that every published fraction of
// an inch down to 1/64 and every decimal down to 0.0001 in is a whole number.
// The zero value is no length. It marshals as text that reads back the same.
type Length int64

// Units of length.
const (
	Nanometre  Length = 1
	Micrometre        = 1000 * Nanometre
	Millimetre        = 1000 * Micrometre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// MaxLength bounds what ParseLength accepts: longer than any stock in a shop.
const MaxLength = 1000 * Foot

// screwNumbers are the diameters of numbered machine screws.
// Source: ASME B1.1, nominal size = 0.060 in + 0.013 in x number.
const (
	screwZero = 600 * Inch / 10_000
	screwStep = 130 * Inch / 10_000
)

// Inches returns n/d inches. It panics when d is not a divisor that keeps the
// result whole, since that is a mistake in the program and not in its input.
func Inches(n, d int64) Length {
	nm := n * int64(Inch)
	if d == 0 || nm%d != 0 {
		panic(fmt.Sprintf("measure: %d/%d in is not a whole number of nanometres", n, d))
	}
	return Length(nm / d)
}

// Millimetres is the length in millimetres for drawing; never for deciding.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// LengthError says why a length was not understood.
type LengthError struct {
	Input  string
	Reason string
}

func (e *LengthError) Error() string {
	return fmt.Sprintf("length %q: %s", e.Input, e.Reason)
}

// ParseLength reads a length as people write it: ".190", "0.190 in", `3/16"`,
// "1-1/4", "1 1/4 in", "#10", "No. 10", "14.3 mm", "2 ft". A number without a
// unit is in inches. The result is exact or an error: a decimal finer than a
// nanometre is refused.
func ParseLength(s string) (Length, error) {
	fail := func(reason string) (Length, error) { return 0, &LengthError{Input: s, Reason: reason} }
	if len(s) > 40 {
		return fail("too long to be a length")
	}
	text, unit, screw := splitLength(s)
	if text == "" {
		return fail("write it like .190, 3/16, 1-1/4, #10 or 4.8 mm")
	}
	if l, ok := parseShort(text, unit); ok && !screw {
		return l, nil
	}
	value, ok := parseMixed(text)
	if !ok {
		return fail("write it like .190, 3/16, 1-1/4, #10 or 4.8 mm")
	}
	if screw {
		if !value.IsInt() || value.Sign() < 0 || value.Cmp(big.NewRat(14, 1)) > 0 {
			return fail("screw numbers run from #0 to #14")
		}
		return screwZero + screwStep*Length(value.Num().Int64()), nil
	}
	value.Mul(value, new(big.Rat).SetInt64(int64(unit)))
	if !value.IsInt() {
		return fail("finer than a millionth of a millimetre")
	}
	if value.Sign() < 0 || value.Cmp(new(big.Rat).SetInt64(int64(MaxLength))) > 0 {
		return fail("must lie between 0 and 1000 ft")
	}
	return Length(value.Num().Int64()), nil
}

// parseShort reads the lengths that tables are full of, ".190", "3/16" and "1-3/16"
// of few digits, without a fraction of any size. It leaves to the long way what it
// cannot read and what is not a whole number of nanometres.
func parseShort(s string, unit Length) (Length, bool) {
	const most = 8 // digits: 99,999,999 ft are still within an int64 of nanometres
	value, parts := int64(0), int64(1)
	count, point := 0, false
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9' && count < most:
			count++
			value = value*10 + int64(c-'0')
			if point {
				parts *= 10
			}
		case c == '.' && !point:
			point = true
		case (c == '-' || c == '/') && !point && count > 0:
			return parseShortFraction(s, unit)
		default:
			return 0, false
		}
	}
	value *= int64(unit)
	l := Length(value / parts)
	return l, count > 0 && value%parts == 0 && l <= MaxLength
}

// parseShortFraction reads "3/16" and "1-3/16" of at most four digits each.
func parseShortFraction(s string, unit Length) (Length, bool) {
	whole, frac, mixed := strings.Cut(s, "-")
	if !mixed {
		whole, frac = "0", s
	}
	num, den, ok := strings.Cut(frac, "/")
	w, n, d := fewDigits(whole), fewDigits(num), fewDigits(den)
	if !ok || w < 0 || n < 0 || d <= 0 {
		return 0, false
	}
	nm := (w*d + n) * int64(unit)
	l := Length(nm / d)
	return l, nm%d == 0 && l <= MaxLength
}

// fewDigits is the number that at most four digits write, -1 for other text.
func fewDigits(s string) int64 {
	if s == "" || len(s) > 4 {
		return -1
	}
	n := int64(0)
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return -1
		}
		n = n*10 + int64(s[i]-'0')
	}
	return n
}

// splitLength takes the unit and the screw-number mark off a length.
func splitLength(s string) (number string, unit Length, screw bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	for _, mark := range []string{"#", "no.", "no "} {
		if rest, ok := strings.CutPrefix(s, mark); ok {
			return strings.TrimSpace(rest), Inch, true
		}
	}
	for _, u := range []struct {
		name string
		unit Length
	}{{"inches", Inch}, {"inch", Inch}, {"in.", Inch}, {"in", Inch}, {"\"", Inch}, {"″", Inch}, {"”", Inch}, {"mm", Millimetre}, {"cm", 10 * Millimetre}, {"ft", Foot}, {"'", Foot}} {
		if rest, ok := strings.CutSuffix(s, u.name); ok {
			return strings.TrimSpace(rest), u.unit, false
		}
	}
	return s, Inch, false
}

// parseMixed reads "1.5", "3/16", "1-3/16" and "1 3/16".
func parseMixed(s string) (*big.Rat, bool) {
	whole, frac := "", s
	if i := strings.IndexAny(s, "- "); i > 0 {
		whole, frac = s[:i], strings.TrimLeft(s[i:], "- ")
	}
	num, den, isFraction := strings.Cut(frac, "/")
	if whole != "" && (!isFraction || !digits(whole)) {
		return nil, false
	}
	if !isFraction {
		return parseDecimal(frac)
	}
	if !digits(num) || !digits(den) || strings.Trim(den, "0") == "" {
		return nil, false
	}
	// Without zeros before it, which big.Rat takes for the mark of an octal number.
	value, ok := new(big.Rat).SetString(cmp.Or(strings.TrimLeft(num, "0"), "0") + "/" + strings.TrimLeft(den, "0"))
	if !ok {
		return nil, false
	}
	if whole != "" {
		w, ok := new(big.Rat).SetString(whole)
		if !ok {
			return nil, false
		}
		value.Add(value, w)
	}
	return value, true
}

func parseDecimal(s string) (*big.Rat, bool) {
	whole, frac, _ := strings.Cut(s, ".")
	if whole+frac == "" || (whole != "" && !digits(whole)) || (frac != "" && !digits(frac)) {
		return nil, false
	}
	return new(big.Rat).SetString("0" + whole + "." + frac + "0")
}

func digits(s string) bool {
	return s != "" && len(s) <= 18 && strings.Trim(s, "0123456789") == ""
}

// Decimal is the length in inches as a decimal with at most nine places and no
// trailing zeros: "0.5625". Lengths made of published figures are exact in it.
func (l Length) Decimal() string {
	var buf [32]byte
	return string(l.appendDecimal(buf[:0], 0))
}

// Printed is the decimal with three places at least, as tables and drawings print
// a length: "0.190", "0.5625".
func (l Length) Printed() string {
	var buf [32]byte
	return string(l.appendDecimal(buf[:0], 3))
}

// appendDecimal writes the decimal with so many places at least.
func (l Length) appendDecimal(b []byte, least int) []byte {
	const one = 1_000_000_000 // nine places
	n := l
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	whole := int64(n / Inch)
	frac := (int64(n%Inch)*one + int64(Inch)/2) / int64(Inch)
	if frac == one {
		whole, frac = whole+1, 0
	}
	b = strconv.AppendInt(b, whole, 10)
	point := len(b)
	b = strconv.AppendInt(b, one+frac, 10) // the 1 in front takes the place of the point
	b[point] = '.'
	for len(b) > point+1+least && b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if len(b) == point+1 {
		b = b[:point]
	}
	return b
}

// Fraction is the length in inches as a fraction of 64ths or coarser, "9/16" or
// "1-1/4", and whether it is one.
func (l Length) Fraction() (string, bool) {
	var buf [32]byte
	b := l.appendFraction(buf[:0])
	return string(b), len(b) > 0
}

// appendFraction writes the fraction, or nothing where the length is none.
func (l Length) appendFraction(b []byte) []byte {
	const step = Inch / 64
	if l <= 0 || l%step != 0 {
		return b
	}
	n, d := int64(l/step), int64(64)
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	if d == 1 {
		return strconv.AppendInt(b, n, 10)
	}
	if n > d {
		b = append(strconv.AppendInt(b, n/d, 10), '-')
		n %= d
	}
	return strconv.AppendInt(append(strconv.AppendInt(b, n, 10), '/'), d, 10)
}

// String shows the length both ways where it is a fraction: "9/16 (0.5625)";
// a whole number and anything else once: "2", "0.190".
func (l Length) String() string {
	var buf [64]byte
	b := l.appendFraction(buf[:0])
	switch {
	case l == 0 || len(b) > 0 && l%Inch == 0:
		return l.Decimal()
	case len(b) > 0:
		return string(append(l.appendDecimal(append(b, " ("...), 3), ')'))
	}
	return l.Printed()
}

// MarshalText writes the decimal in inches where that is exact, as it is for
// every published inch figure, and otherwise millimetres: "4.8 mm".
func (l Length) MarshalText() ([]byte, error) {
	text := l.Decimal()
	if exact, ok := parseDecimal(strings.TrimPrefix(text, "-")); ok {
		exact.Mul(exact, new(big.Rat).SetInt64(int64(Inch)))
		if exact.IsInt() {
			return []byte(text), nil
		}
	}
	return []byte(trimDecimal(new(big.Rat).SetFrac64(int64(l), int64(Millimetre)).FloatString(6)) + " mm"), nil
}

// UnmarshalText reads what MarshalText writes, and everything ParseLength does.
func (l *Length) UnmarshalText(b []byte) error {
	v, err := ParseLength(string(b))
	if err != nil {
		return err
	}
	*l = v
	return nil
}

func trimDecimal(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
