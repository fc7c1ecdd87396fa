package hardware

import (
	"errors"
	"fmt"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// ErrThickness is in the chain of what ParsePlies fails with.
var ErrThickness = errors.New("write each thickness like .125, 3/16 or 3mm, with commas between")

// ParsePlies reads plies whose plain numbers are inches.
func ParsePlies(text string) ([]Ply, error) { return ParsePliesIn(measure.InInches, text) }

// ParsePliesIn reads the thicknesses of parts, from the head to the nut, with commas or plus
// signs between; a name may stand before one: "front spar .125, rib .040".
func ParsePliesIn(in measure.System, text string) ([]Ply, error) {
	var plies []Ply
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == '+' || r == ';' }) {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		p, err := parsePly(in, part)
		if err != nil {
			return nil, err
		}
		plies = append(plies, p)
	}
	if len(plies) == 0 {
		return nil, ErrThickness
	}
	return plies, nil
}

// parsePly reads one part: the most of its end that is a thickness is its thickness.
func parsePly(in measure.System, part string) (Ply, error) {
	for at := 0; ; {
		l, err := in.Parse(part[at:])
		if err == nil && l > 0 {
			return Ply{Name: strings.TrimSpace(part[:at]), Thickness: l}, nil
		}
		next := strings.IndexByte(part[at:], ' ')
		if next < 0 || err == nil {
			return Ply{}, fmt.Errorf("%s: %w", phrase.Quote(part), ErrThickness)
		}
		at += next + 1
	}
}
