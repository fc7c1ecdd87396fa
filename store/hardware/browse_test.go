package hardware

import (
	"slices"
	"strings"
	"testing"
)

// TestFamilies: every series of the tables is in one family, and every number
// it lists is real.
func TestFamilies(t *testing.T) {
	c := Standard()
	seen := map[string]bool{}
	for _, f := range c.Families() {
		if f.Name == "" || f.Kind == "" || f.Source == "" {
			t.Errorf("unfinished: %+v", f)
		}
		for _, s := range f.Series {
			if seen[s] {
				t.Errorf("%s is in two families", s)
			}
			seen[s] = true
			for _, d := range c.Numbers(s, "") {
				if again, ok := c.Canonical(d); !ok || again != d {
					t.Fatalf("%s: %q reads as %q", s, d, again)
				}
			}
		}
	}
	if fams := c.Families(); fams[0].Name != "AN3 to AN20: Bolt" || len(fams[0].Series) != 13 || fams[0].Counts != "eighths" {
		t.Errorf("got %+v first, want the thirteen AN bolts", fams[0])
	}
	if len(seen) != len(c.names) {
		t.Errorf("%d series of %d are in a family", len(seen), len(c.names))
	}
}

func TestNumbers(t *testing.T) {
	tests := []struct {
		name, series, first string
		has                 []string
	}{
		{"bolt", "AN3", "", []string{"AN3-3", "AN3-7", "AN3-10"}},
		{"rivet of one diameter", "AN470", "4", []string{"AN470AD4-3.5", "AN470AD4-7"}},
		{"screw", "AN507", "832", []string{"AN507-832R8"}},
		{"known by name", "MS24694", "", nil},
		{"no series", "AN9999", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Standard().Numbers(tt.series, tt.first)
			if (got == nil) != (tt.has == nil) {
				t.Fatalf("%s: got %q", tt.series, got)
			}
			for _, want := range tt.has {
				if !slices.Contains(got, want) {
					t.Errorf("%s: %q is not in %q", tt.series, want, got)
				}
			}
			if slices.Contains(got, "AN3-8") || slices.Contains(got, "AN470AD3-7") {
				t.Errorf("%s: too much in %q", tt.series, got)
			}
		})
	}
}

// TestPairs: pins seen in real assemblies, holes of TM 1-1520-240-BD par. 2-6.
func TestPairs(t *testing.T) {
	nut := Decode("AN310-3")
	var pins []string
	for _, f := range nut.Fields {
		if f.Name == CotterPinField {
			pins = append(pins, f.Text)
		}
	}
	if got := strings.Join(pins, "; "); got != "AN380-2-2, 1/16 thick; MS24665-132 seen with AN3-6" {
		t.Errorf("AN310-3: got pins %q", got)
	}
	if f, ok := Decode("AN3-5A").Field(Hole); !ok || f.Text != "0.191 to 0.197" || f.Checked != 1 {
		t.Errorf("AN3-5A: got hole %+v", f)
	}
}
