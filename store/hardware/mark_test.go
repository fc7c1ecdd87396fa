package hardware

import "testing"

// TestMarkOfTheTitle: what a title says from memory carries the mark, whichever
// figure it is.
func TestMarkOfTheTitle(t *testing.T) {
	for _, tt := range []struct{ text, mark, why string }{
		{"AN3-5A", "", "grip and length seen in two sources"},
		{"AN3-17A", NotCrossChecked, "grip by rule"},
		{"AN666-4", NotCrossChecked, "the cable is from memory"},
		{"AN100-3", NotCrossChecked, "the cable is from memory"},
		{"MS35338-43", NotCrossChecked, "the bolt that it fits is from memory"},
		{"AN935-10", NotCrossChecked, "the bolt that it fits is from memory"},
		{"AN960-10L", "", "its hole was seen; which bolt it goes with is beside it"},
		{"AN840-6-4D", NotCrossChecked, "hose and pipe are from memory"},
		{"AN140-16S", NotCrossChecked, "its size is from memory"},
		{"MS35489-4", "", "the title says that no table of its numbers is here"},
		{"MS35207-263", NotCrossChecked, "a family from memory"},
	} {
		if r := Decode(tt.text); !r.Known || r.Mark() != tt.mark {
			t.Errorf("%s: got %q %q; want %q: %s", tt.text, r.Title, r.Mark(), tt.mark, tt.why)
		}
	}
}

// TestUndrilledHasNoHole: a piece without a cotter-pin hole has no figure of one.
func TestUndrilledHasNoHole(t *testing.T) {
	c := Standard()
	drilled := 0
	for _, text := range []string{"AN3-5", "AN3-5A", "AN4C7", "AN4C7A", "AN5H-12A", "AN6DD10A", "NAS6203-5", "NAS6303D8"} {
		r := c.Decode(text)
		hole, has := r.Field(CotterHole)
		if shank, ok := r.Field(ShankDrilled); ok && shank.Text == "no" && has {
			t.Errorf("%s has no cotter-pin hole, and one of %s", text, hole.Text)
		}
		if has {
			drilled++
		}
	}
	if drilled < 3 {
		t.Errorf("%d with a hole: the test looks at none", drilled)
	}
}
