package hardware

import "testing"

// Pins and wire by AC 43.13-1B 7-38, crush gaskets from memory, which is said; a lock nut
// is looked at and used again (7-64).
func TestSingleUse(t *testing.T) {
	for _, row := range []struct{ designation, source string }{
		{"MS24665-132", "AC 43.13-1B 7-38"},
		{"MS20995C32", "AC 43.13-1B 7-38"},
		{"AN900-10", "from memory, not cross-checked"},
		{"AN365-1032A", ""},
		{"AN310-3", ""},
		{"OQ-30-033", ""},
	} {
		source, ok := SingleUse(row.designation)
		if source != row.source || ok != (row.source != "") {
			t.Errorf("%s: %q, %v; want %q", row.designation, source, ok, row.source)
		}
	}
}
