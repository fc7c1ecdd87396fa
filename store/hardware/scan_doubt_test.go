package hardware

import (
	"slices"
	"strings"
	"testing"
)

// TestTwoReadingsAreAsked: a text that can be meant in two ways is taken in
// neither; both are named.
func TestTwoReadingsAreAsked(t *testing.T) {
	tests := []struct {
		text    string
		problem string   // part of it
		nearest []string // what may be meant
	}{
		{"AN3-5(A)", `"(A)" may be part of the number or a note`, []string{"AN3-5A", "AN3-5"}},
		{"AN3-5 (A) x 12", `"(A)" may be part of the number or a note`, []string{"AN3-5A", "AN3-5"}},
		{"AN365-1032(A)", "may be part of the number", []string{"AN365-1032A", "AN365-1032"}},
		{"AN426AD3-4 .5", `".5" may be half a length more`, []string{"AN426AD3-4.5", "AN426AD3-4"}},
		{"AN470AD4-5 - 1/2", `"1/2" may be half a length more`, []string{"AN470AD4-5.5", "AN470AD4-5"}},
		{"AN470AD4x5", `"X5" may be that or how many`, []string{"AN470AD4-5"}},
		{"AN470AD4 x 5", `"X 5" may be that or how many`, []string{"AN470AD4-5"}},
		{"AN509-10 x 8", `"X 8" may be that or how many`, []string{"AN509-10-8"}},
		{"AN470AD45", "if AN470AD4-5 is meant", []string{"AN470AD4-5"}},
		{"AN470AD1012", "if AN470AD10-12 is meant", []string{"AN470AD10-12"}},
		{"AN470AD4-35", "if AN470AD4-3.5 is meant", []string{"AN470AD4-3.5"}},
		{"MS27039-08-06", "if MS27039-0806 is meant", []string{"MS27039-0806"}},
		{"NAS1149F03-63P", "if NAS1149F0363P is meant", []string{"NAS1149F0363P"}},
		{"AN365-4-28A", "if AN365-428A is meant", []string{"AN365-428A"}},
	}
	for _, tt := range tests {
		r := Decode(tt.text)
		if r.Known || !strings.Contains(r.Problem, tt.problem) || !slices.Equal(r.Nearest, tt.nearest) {
			t.Errorf("%q: got %q %q, nearest %q; want %q, nearest %q", tt.text, r.Designation, r.Problem, r.Nearest, tt.problem, tt.nearest)
		}
	}
}

// TestOneReadingIsTaken: what looks like the cases above and can be meant in one
// way only.
func TestOneReadingIsTaken(t *testing.T) {
	for text, want := range map[string]string{
		"AN3-5(12)":             "AN3-5",
		"AN3-5 (EA)":            "AN3-5",
		"AN470AD4-5 1/2 lb":     "AN470AD4-5",
		"AN470AD4-5 .5 lb":      "AN470AD4-5",
		"AN470AD4-5 1/2":        "AN470AD4-5.5",
		"AN470AD4-5 1/2 x 100":  "AN470AD4-5.5",
		"AN470AD4-5x100":        "AN470AD4-5",
		"AN3-5A x 1/2":          "AN3-5A",
		"MS35207-263 10-32x1/2": "MS35207-263",
		"AN525-10R8, 10-32X1/2": "AN525-10R8",
	} {
		if r := Decode(text); r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
	}
	// A number that is refused with what may be meant is written as it was given.
	if r := Decode("MS20995-32"); r.Known || !strings.HasPrefix(r.Problem, "MS20995-32 is not in the tables here") {
		t.Errorf("MS20995-32: got %q", r.Problem)
	}
}
