package measure

import (
	"math/big"
	"strings"
)

// System says in what unit a person types and reads lengths. The zero value is inches, which
// nearly all published figures are in.
type System int

// The systems.
const (
	InInches System = iota
	InMillimetres
)

// Parse reads a length like [ParseLength]. With a unit behind it, as a fraction or as the number
// of a screw it means the same in both systems; a plain number is in the system's own unit.
func (s System) Parse(text string) (Length, error) {
	if s == InMillimetres {
		if _, plain := parseDecimal(strings.TrimSpace(text)); plain {
			return ParseLength(text + " mm")
		}
	}
	return ParseLength(text)
}

// Unit is the unit of a plain number: "in" or "mm".
func (s System) Unit() string {
	if s == InMillimetres {
		return "mm"
	}
	return "in"
}

// Example is how a length is typed: "as .190, 3/16, #10 or 4.8 mm".
func (s System) Example() string {
	if s == InMillimetres {
		return "4.8, 3/16, #10 or .190 in"
	}
	return ".190, 3/16, #10 or 4.8 mm"
}

// Metric is the length in millimetres to a ten-thousandth, "14.2875 mm".
func (l Length) Metric() string {
	return trimDecimal(new(big.Rat).SetFrac64(int64(l), int64(Millimetre)).FloatString(4)) + " mm"
}

// Beside is what stands beside a figure that is published in inches, and says that it is
// converted: ", 14.2875 mm converted". In inches it is empty: the published figure is never
// replaced.
func (s System) Beside(l Length) string {
	if s != InMillimetres || l <= 0 {
		return ""
	}
	return ", " + l.Metric() + " converted"
}
