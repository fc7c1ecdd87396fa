package hardware

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestHowFarApart: the last step at which pieces of a kind are still confused, and
// the first at which they are not.
func TestHowFarApart(t *testing.T) {
	tests := []struct{ name, piece, near, difference, far string }{
		{"bolts, an eighth", "AN4-10", "AN4-11", "1/8 longer in the grip", "AN4-12"},
		{"bolts, an eighth shorter", "AN4-12", "AN4-11", "1/8 shorter in the grip", "AN4-10"},
		{"bolts across the gap of the dash numbers", "AN5-7A", "AN5-10A", "1/8 longer in the grip", "AN5-11A"},
		{"bolts of nominal length", "AN9-12", "AN9-11", "1/8 shorter", "AN9-10"},
		{"close-tolerance bolts, an eighth of grip", "NAS6204-8", "NAS6204-10", "1/8 longer in the grip", "NAS6204-11"},
		{"rivets, three sixteenths", "AN470AD4-4", "AN470AD4-7", "3/16 longer", "AN470AD4-7.5"},
		{"flush rivets", "AN426AD3-3", "AN426AD3-6", "3/16 longer", "AN426AD3-6.5"},
		{"blind rivets, a sixteenth", "MS20600AD4-3", "MS20600AD4-2", "1/16 shorter in the grip", "MS20600AD4-1"},
		{"cotter pins, a quarter", "AN380-2-2", "AN380-2-3", "1/4 longer", "AN380-2-4"},
		{"clevis pins, a quarter", "AN393-9", "AN393-17", "1/4 longer", "AN393-18"},
		{"lockwire, a hundredth", "MS20995C41", "MS20995C51", "0.010 larger", "MS20995C60"},
		{"lockwire the other way", "MS20995C51", "MS20995C41", "0.010 smaller", "MS20995C32"},
		{"clamps, a sixteenth", "MS21919DG8", "MS21919DG9", "1/16 larger", "MS21919DG10"},
		{"rings of one section", "AS568-012", "AS568-013", "0.062 larger", "AS568-014"},
		{"cotter pins of one length, a 64th", "MS24665-132", "MS24665-208", "1/64 larger", "MS24665-285"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if d, ok := Standard().Alike(tt.piece, tt.near); !ok || d != tt.difference {
				t.Errorf("%s and %s: got %q %v, want %q", tt.piece, tt.near, d, ok, tt.difference)
			}
			if d, ok := Standard().Alike(tt.piece, tt.far); ok {
				t.Errorf("%s and %s are alike: %q", tt.piece, tt.far, d)
			}
		})
	}
}

// TestWhatLettersSay: how two pieces of one size differ by their letters or by the
// tell of their series.
func TestWhatLettersSay(t *testing.T) {
	for _, tt := range []struct{ piece, other, difference string }{
		{"AN3-5A", "AN3H-5A", "drilled head"},
		{"AN3H-5A", "AN3-5A", "no drilled head"},
		{"AN3-5A", "AN3DD5A", "aluminium, not steel"},
		{"AN3C5A", "AN3-5", "steel, not corrosion-resistant steel, cotter-pin hole"},
		{"AN365-1032A", "AN365-1032C", "all metal, not insert"},
		{"AN365-1032", "AN365-1032A", "insert, not insert or all metal"},
		{"AN310-4", "AN320-4", "thin for shear, not full height"},
		{"AN507-832R8", "AN507-832-8", "slotted"},
		{"AN316-4L", "AN316-4R", "no left-hand thread"},
		{"AN470AD4-4", "AN470DD4-4", "2024 aluminium, not 2117 aluminium"},
		{"AN470AD4-4", "AN470DD4-5", "1/16 longer, 2024 aluminium, not 2117 aluminium"},
		{"MS21919DG6", "MS21919CG6", "corrosion-resistant steel with chloroprene cushion, not aluminium with chloroprene cushion"},
	} {
		if d, ok := Standard().Alike(tt.piece, tt.other); !ok || d != tt.difference {
			t.Errorf("%s and %s: got %q %v, want %q", tt.piece, tt.other, d, ok, tt.difference)
		}
	}
	for _, tt := range [][2]string{ // never confused: another look, or only known by name
		{"AN3-5A", "AN960-10"},
		{"AN365-1032A", "AN310-3"},
		{"AN470AD4-4", "AN426AD4-4"},
		{"AN481-3", "AN481-4"},
		{"AN490HT5P", "AN490HT6P"},
		{"MS35206-243", "MS35206-244"},
		{"AN3-5A", "bolt"},
		{"bolt", "AN3-5A"},
		{"AN3-8A", "AN3-7A"},
		{"AN365-1032A", "AN365-428A"},
	} {
		if d, ok := Standard().Alike(tt[0], tt[1]); ok {
			t.Errorf("%s and %s are alike: %q", tt[0], tt[1], d)
		}
	}
}

// differs finds how much a difference says.
var differs = regexp.MustCompile(`^(\S+) (longer|shorter|larger|smaller)`)

var otherWay = map[string]string{"longer": "shorter", "shorter": "longer", "larger": "smaller", "smaller": "larger"}

// TestAlikeBothWays: of every piece, each look-alike that it names is alike the other
// way round as well, by the same measure; at most eight are named, none twice, and
// never the piece itself.
func TestAlikeBothWays(t *testing.T) {
	c := Standard()
	pairs, measured := 0, 0
	for i, e := range c.entries() {
		if i%41 != 0 {
			continue
		}
		for _, k := range e.candidates(&Readings{}, nil) {
			var named []string
			for _, l := range Decode(k.Designation).LookAlikes {
				if l.Designation == k.Designation || slices.Contains(named, l.Designation) || len(named) == 8 {
					t.Errorf("%s names %s, after %q", k.Designation, l.Designation, named)
				}
				named = append(named, l.Designation)
				back, ok := c.Alike(l.Designation, k.Designation)
				if !ok || back == "" {
					t.Errorf("%s: %q from %s and not the other way", l.Designation, l.Difference, k.Designation)
				}
				pairs++
				m := differs.FindStringSubmatch(l.Difference)
				if m == nil {
					continue
				}
				measured++
				if want := m[1] + " " + otherWay[m[2]]; !strings.HasPrefix(back, want) {
					t.Errorf("%s from %s: %q, and back %q", l.Designation, k.Designation, l.Difference, back)
				}
			}
		}
	}
	if pairs < 2000 || measured < 1000 {
		t.Errorf("only %d pairs were looked at, %d with a measure", pairs, measured)
	}
}
