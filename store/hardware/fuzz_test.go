package hardware

import (
	"strings"
	"testing"
)

// FuzzDecode: nothing panics; what is known prints back the same and parses to
// the same; its standard number stands in the text; what is longer than 64 characters is not looked at.
func FuzzDecode(f *testing.F) {
	for _, text := range []string{
		"AN3-5A", "an5h 27a", "AN470AD4-3-5", "24 x AN960-10L (bag H103)", "NAS1149FN632P", "MS27039-0806", "MS21251-B3S",
		"AN324A", "AN742-6", "AN41-4", "M83248/1-012", "MS171436", "2024-T3 .032", "4130 tube 3/4 x .049", "blind rivet 42", "AN816-6-4D", "MS24693S272", "NAS1329S3K130", "AN53-3A", "AN100C4", "AN565D10H4", "AN365-10-32A", "AN3-8", "OQ-10-001", "MS24693S272", "AN380-2-2", "NASM20470AD4-6", "AN43B-5", "AN-", "AN3-", "AN3-5..5", "×AN3",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := Decode(text)
		if len(text) > maxText && (r.Known || r.Designation != "") {
			t.Errorf("%q: looked at", text)
		}
		if !r.Known {
			if len(r.Fields) > 0 || r.Title != "" {
				t.Errorf("%q: not known and yet described: %+v", text, r)
			}
			return
		}
		if !ofItsBase(text, r.Designation) {
			t.Errorf("%q: read as %s, whose standard number is not in it", text, r.Designation)
		}
		again := Decode(r.Designation)
		if !again.Known || again.Designation != r.Designation || again.Title != r.Title {
			t.Errorf("%q: %q decodes to %q: %s", text, r.Designation, again.Designation, again.Problem)
		}
		named := r.Kind == Stock || strings.HasPrefix(r.Designation, "BLIND RIVET ") // called by words, not by a number
		if len(r.Designation) > maxText || !named && strings.ContainsAny(r.Designation, " \t") {
			t.Errorf("%q: canonical %q", text, r.Designation)
		}
		for _, l := range r.LookAlikes {
			if d, ok := Standard().Alike(r.Designation, l.Designation); !ok || d != l.Difference || l.Designation == r.Designation {
				t.Errorf("%s: look-alike %+v: got %q %v", r.Designation, l, d, ok)
			}
		}
		r.Outline()
	})
}
