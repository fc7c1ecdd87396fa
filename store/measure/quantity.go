package measure

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Unit is what a quantity counts: pieces, a length, a weight or a volume.
type Unit string

// The units that packing lists and shops use.
const (
	Each       Unit = "ea"
	Feet       Unit = "ft"
	InchUnit   Unit = "in"
	Yard       Unit = "yd"
	Metre      Unit = "m"
	Millimeter Unit = "mm"
	Pound      Unit = "lb"
	Ounce      Unit = "oz"
	Gram       Unit = "g"
	Kilogram   Unit = "kg"
	FluidOunce Unit = "fl oz"
	Pint       Unit = "pt"
	Quart      Unit = "qt"
	Gallon     Unit = "gal"
	Millilitre Unit = "ml"
	Litre      Unit = "l"
	Set        Unit = "set"
	Pair       Unit = "pair"
	Roll       Unit = "roll"
	Sheet      Unit = "sheet"
)

// unitWords are the ways a unit is written on packing lists (common practice).
var unitWords = map[string]Unit{
	"ea": Each, "each": Each, "eaches": Each, "pc": Each, "pcs": Each, "pce": Each, "pces": Each, "piece": Each, "pieces": Each, "nos": Each, "ct": Each, "": Each,
	"ft": Feet, "foot": Feet, "feet": Feet, "'": Feet,
	"in": InchUnit, "inch": InchUnit, "inches": InchUnit, "\"": InchUnit,
	"yd": Yard, "yds": Yard, "yard": Yard, "yards": Yard, "m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre, "mm": Millimeter,
	"lb": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound, "#": Pound,
	"oz": Ounce, "ounce": Ounce, "ounces": Ounce, "g": Gram, "gram": Gram, "grams": Gram, "kg": Kilogram, "kgs": Kilogram, "kilogram": Kilogram, "kilograms": Kilogram,
	"fl oz": FluidOunce, "fl. oz": FluidOunce, "fl.oz": FluidOunce, "floz": FluidOunce, "fluid ounce": FluidOunce, "fluid ounces": FluidOunce, "pts": Pint, "pt": Pint, "pint": Pint, "pints": Pint,
	"qt": Quart, "qts": Quart, "quart": Quart, "quarts": Quart, "gal": Gallon, "gals": Gallon, "gallon": Gallon, "gallons": Gallon,
	"ml": Millilitre, "millilitre": Millilitre, "millilitres": Millilitre, "milliliter": Millilitre, "milliliters": Millilitre,
	"l": Litre, "litre": Litre, "litres": Litre, "liter": Litre, "liters": Litre,
	"set": Set, "sets": Set, "pair": Pair, "pairs": Pair, "pr": Pair, "roll": Roll, "rolls": Roll, "sheet": Sheet, "sheets": Sheet, "sht": Sheet,
}

// ParseUnit reads a unit as packing lists write it; nothing at all is pieces.
func ParseUnit(s string) (Unit, error) {
	u, ok := unitWords[strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), ".")]
	if !ok {
		return "", fmt.Errorf("unit %q is not one of ea, ft, in, lb, oz, qt, ml and the like", clip(s))
	}
	return u, nil
}

// Whole reports whether there is no fraction of the unit: pieces, sets and pairs
// are counted.
func (u Unit) Whole() bool { return u == Each || u == Set || u == Pair }

// Quantity is so many of a unit, exact to a millionth. The zero value is
// nothing of no unit and may be added to a quantity of any unit.
type Quantity struct {
	Micro int64 // millionths of the unit
	Unit  Unit
}

const one = 1_000_000

// MaxQuantity bounds what ParseQuantity accepts, in whole units.
const MaxQuantity = 100_000_000

// ErrUnits is returned when two quantities of different units are added or
// compared: nothing is converted silently.
var ErrUnits = errors.New("the units differ")

// ErrPiece is returned for a fraction of what is counted in pieces.
var ErrPiece = errors.New("a piece is never a fraction")

// ErrOverflow is returned when a sum leaves the range of a quantity.
var ErrOverflow = errors.New("the quantity is too large")

// Of returns n whole units.
func Of(n int64, u Unit) Quantity { return Quantity{Micro: n * one, Unit: u} }

// Pieces returns n pieces.
func Pieces(n int64) Quantity { return Of(n, Each) }

// grouped is a number with its thousands parted by commas. Any other comma may
// be a decimal mark: "0,30" is not 30.
var grouped = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]*)?$`)

// ParseQuantity reads a decimal or a fraction such as "0.30", "12", "1,680" or
// "1/2" of the unit; at most six decimal places, no sign. A fraction of a piece,
// a set or a pair is ErrPiece.
func ParseQuantity(s string, u Unit) (Quantity, error) {
	q, err := parseQuantity(s, u)
	if err == nil && u.Whole() && q.Micro%one != 0 {
		return Quantity{}, fmt.Errorf("quantity %q: %w", clip(s), ErrPiece)
	}
	return q, err
}

// parseQuantity reads fractions of any unit: a shop file may hold some of before.
func parseQuantity(s string, u Unit) (Quantity, error) {
	text := strings.TrimSpace(s)
	if micro, ok := plainMicro(text); ok {
		return Quantity{Micro: micro, Unit: u}, nil
	}
	if grouped.MatchString(text) {
		text = strings.ReplaceAll(text, ",", "")
	}
	if len(text) > 24 || strings.Contains(text, "-") {
		return Quantity{}, fmt.Errorf("quantity %q is not a plain number", clip(s))
	}
	value, ok := parseMixed(text)
	if !ok {
		return Quantity{}, fmt.Errorf("quantity %q is not a plain number", clip(s))
	}
	value.Mul(value, big.NewRat(one, 1))
	if !value.IsInt() {
		return Quantity{}, fmt.Errorf("quantity %q has more than six decimal places", clip(s))
	}
	if value.Cmp(big.NewRat(MaxQuantity*one, 1)) > 0 {
		return Quantity{}, fmt.Errorf("quantity %q: %w", clip(s), ErrOverflow)
	}
	return Quantity{Micro: value.Num().Int64(), Unit: u}, nil
}

// plainMicro reads a figure that is written as nearly all are, digits with at most six of them
// behind a point, and leaves any other to big numbers, which take ten times as long: a
// check of a shop reads every amount of its journal.
func plainMicro(s string) (micro int64, ok bool) {
	whole, frac, _ := strings.Cut(s, ".")
	if whole == "" || len(whole) > 8 || len(frac) > 6 { // 8 digits are less than MaxQuantity
		return 0, false
	}
	for _, digits := range [...]string{whole, frac} {
		for i := range len(digits) {
			if digits[i] < '0' || digits[i] > '9' {
				return 0, false
			}
			micro = micro*10 + int64(digits[i]-'0')
		}
	}
	for range 6 - len(frac) {
		micro *= 10
	}
	return micro, true
}

// Add returns q+r.
func (q Quantity) Add(r Quantity) (Quantity, error) {
	u, err := q.sameUnit(r)
	if err != nil {
		return Quantity{}, err
	}
	if (r.Micro > 0 && q.Micro > math.MaxInt64-r.Micro) || (r.Micro < 0 && q.Micro < math.MinInt64-r.Micro) {
		return Quantity{}, ErrOverflow
	}
	return Quantity{Micro: q.Micro + r.Micro, Unit: u}, nil
}

// Sub returns q-r; it may be negative.
func (q Quantity) Sub(r Quantity) (Quantity, error) { return q.Add(r.Neg()) }

// Neg returns -q.
func (q Quantity) Neg() Quantity { return Quantity{Micro: -q.Micro, Unit: q.Unit} }

// Cmp compares q and r: -1, 0 or 1.
func (q Quantity) Cmp(r Quantity) (int, error) {
	if _, err := q.sameUnit(r); err != nil {
		return 0, err
	}
	switch {
	case q.Micro < r.Micro:
		return -1, nil
	case q.Micro > r.Micro:
		return 1, nil
	}
	return 0, nil
}

func (q Quantity) sameUnit(r Quantity) (Unit, error) {
	switch {
	case q.Unit == r.Unit, r.Unit == "" && r.Micro == 0:
		return q.Unit, nil
	case q.Unit == "" && q.Micro == 0:
		return r.Unit, nil
	}
	return "", fmt.Errorf("%s and %s: %w", q, r, ErrUnits)
}

// IsZero says that there is nothing.
func (q Quantity) IsZero() bool { return q.Micro == 0 }

// Sign is -1, 0 or 1.
func (q Quantity) Sign() int {
	switch {
	case q.Micro < 0:
		return -1
	case q.Micro > 0:
		return 1
	}
	return 0
}

// Number is the figure without its unit, with thousands separated: "1,680" or "0.3".
func (q Quantity) Number() string {
	s := q.Plain()
	sign, rest := "", s
	if strings.HasPrefix(s, "-") {
		sign, rest = "-", s[1:]
	}
	whole, frac, found := strings.Cut(rest, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if found {
		whole += "." + frac
	}
	return sign + whole
}

// String is the figure with its unit, as a person reads it: "24 ea", "0.3 lb".
func (q Quantity) String() string { return strings.TrimSpace(q.Number() + " " + string(q.Unit)) }

// Plain is the figure without its unit or separators, as ParseQuantity reads it: "1680", "0.3".
func (q Quantity) Plain() string {
	if q.Micro%one == 0 {
		return strconv.FormatInt(q.Micro/one, 10)
	}
	return trimDecimal(new(big.Rat).SetFrac64(q.Micro, one).FloatString(6))
}

// MarshalText writes "0.3 lb".
func (q Quantity) MarshalText() ([]byte, error) {
	return []byte(strings.TrimSpace(q.Plain() + " " + string(q.Unit))), nil
}

// UnmarshalText reads what MarshalText writes; a sign is allowed.
func (q *Quantity) UnmarshalText(b []byte) error {
	number, unit, _ := strings.Cut(string(b), " ")
	number, neg := strings.CutPrefix(number, "-")
	v, err := parseQuantity(number, Unit(unit))
	if err != nil {
		return err
	}
	if unit != "" {
		if known, err := ParseUnit(unit); err != nil || known != v.Unit {
			return fmt.Errorf("quantity %q: unknown unit", clip(string(b)))
		}
	}
	if neg {
		v = v.Neg()
	}
	*q = v
	return nil
}

func clip(s string) string {
	if len(s) > 40 {
		return s[:40] + "…"
	}
	return s
}
