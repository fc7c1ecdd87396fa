package hardware

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

func TestParsePlies(t *testing.T) {
	for _, row := range []struct {
		text, want string // names and thicknesses; "" is refused
	}{
		{".125", " 1/8 (0.125)"},
		{".125, 3/16", " 1/8 (0.125), 3/16 (0.1875)"},
		{"spar .125 + rib 3/16;skin 0.8 mm", "spar 1/8 (0.125), rib 3/16 (0.1875), skin 0.031496063"},
		{".125,,", " 1/8 (0.125)"},
		{"front spar .125, web 1 1/2", "front spar 1/8 (0.125), web 1-1/2 (1.500)"},
		{"", ""},
		{",", ""},
		{"thick", ""},
		{"spar", ""},
		{".125, 0", ""},
		{"-1/8", ""},
		{strings.Repeat("x", 10_000), ""},
	} {
		plies, err := ParsePlies(row.text)
		var got []string
		for _, p := range plies {
			got = append(got, strings.TrimSpace(p.Name+" "+p.Thickness.String()))
		}
		if joined := strings.Join(got, ", "); joined != strings.TrimSpace(row.want) || (err != nil) != (row.want == "") {
			t.Errorf("ParsePlies(%.40q) = %q, %v; want %q", row.text, joined, err, row.want)
		}
		if err != nil && len(err.Error()) > 150 {
			t.Errorf("ParsePlies(%.40q) says %q", row.text, err)
		}
	}
}

func FuzzParsePlies(f *testing.F) {
	for _, s := range []string{".125, 3/16", "spar .125", "a b c", ",;+", "1e9", "#10,4.8mm", "\xff 1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		plies, err := ParsePlies(s)
		if err != nil {
			return
		}
		for _, p := range plies {
			if p.Thickness <= 0 || p.Thickness > measure.MaxLength {
				t.Fatalf("ParsePlies(%q) has a thickness of %d", s, p.Thickness)
			}
		}
	})
}
