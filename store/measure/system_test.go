package measure_test

import (
	"testing"

	"stowright/store/measure"
)

// A unit, a fraction and the number of a screw mean the same in both systems; a plain number is
// in the one that is set.
func TestSystemParse(t *testing.T) {
	for _, row := range []struct {
		text       string
		inches, mm measure.Length
	}{
		{"4.8", 48 * measure.Inch / 10, 4800 * measure.Micrometre},
		{" 3 ", 3 * measure.Inch, 3 * measure.Millimetre},
		{".190", measure.Inches(19, 100), 190 * measure.Micrometre},
		{".190 in", measure.Inches(19, 100), measure.Inches(19, 100)},
		{`1.5"`, 3 * measure.Inch / 2, 3 * measure.Inch / 2},
		{"3/16", measure.Inches(3, 16), measure.Inches(3, 16)},
		{"1-1/4", measure.Inches(5, 4), measure.Inches(5, 4)},
		{"#10", measure.Inches(190, 1000), measure.Inches(190, 1000)},
		{"14.3mm", 14300 * measure.Micrometre, 14300 * measure.Micrometre},
	} {
		for system, want := range map[measure.System]measure.Length{measure.InInches: row.inches, measure.InMillimetres: row.mm} {
			if got, err := system.Parse(row.text); err != nil || got != want {
				t.Errorf("%q in %s: %v, %v; want %v", row.text, system.Unit(), got, err, want)
			}
		}
	}
	for _, bad := range []string{"", "mm", "4,8", "-3"} {
		if got, err := measure.InMillimetres.Parse(bad); err == nil {
			t.Errorf("%q in mm: %v, want a refusal", bad, got)
		}
	}
}

// What is converted says so, and stands beside the published figure.
func TestSystemBeside(t *testing.T) {
	for _, row := range []struct {
		l    measure.Length
		want string
	}{
		{measure.Inches(9, 16), ", 14.2875 mm converted"},
		{measure.Inches(19, 100), ", 4.826 mm converted"},
		{measure.Inches(1, 64), ", 0.3969 mm converted"},
		{2 * measure.Inch, ", 50.8 mm converted"},
		{0, ""},
	} {
		if got := measure.InMillimetres.Beside(row.l); got != row.want {
			t.Errorf("%v: %q, want %q", row.l, got, row.want)
		}
		if got := measure.InInches.Beside(row.l); got != "" {
			t.Errorf("%v in inches: %q, want nothing", row.l, got)
		}
	}
}
