package handbook

import (
	"errors"
	"strings"

	"stowright/store/measure"
)

// rulerPoints is how long the line is that a ruler is held to, in points.
const rulerPoints = 400

// errRuler asks for the length of the line.
var errRuler = errors.New("read it off the ruler: 106 mm, or 4-3/16")

// ParseScale is how many points of this screen are a millimetre, from the length
// that a ruler shows of a line of so many points.
func ParseScale(text string, points float64) (float64, error) {
	l, err := measure.ParseLength(strings.TrimSpace(text))
	if err != nil || l < 20*measure.Millimetre || l > 2000*measure.Millimetre {
		return 0, errRuler
	}
	return points / l.Millimetres(), nil
}
