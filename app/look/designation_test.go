package look

import (
	"slices"
	"testing"
)

// A designation is broken after its prefix first, then after its dashes, and not at its
// ends.
func TestBreaksOfADesignation(t *testing.T) {
	for text, want := range map[string][]int{
		"AN470AD4-7": {5, 9}, "NAS1149F0363P": {7}, "OQ-10-031": {3, 6}, "A-1-2": {4}, "AN3": nil, "AN3-": nil, "-": nil, "": nil,
	} {
		if got := breaks(text); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
	for text, want := range map[string]int{"AN470AD4-7": 5, "470": 0, "AN": 0, "OQ-10": 0, "": 0} {
		if got := prefix(text); got != want {
			t.Errorf("the prefix of %q: %d, want %d", text, got, want)
		}
	}
}
