package hardware

import (
	"strings"
	"testing"
)

// TestWaysOfWriting: each canonical designation in the ways people write it.
func TestWaysOfWriting(t *testing.T) {
	tests := map[string][]string{
		"AN3-5A":         {"an3-5a", "AN 3-5A", "AN3 5A", "AN3-5 A", "AN-3-5A", "AN3--5A", "AN3 - 5 - A", " AN3-5A ", "AN3-05A", "AN3-5A.", "(AN3-5A)", "\"AN3-5A\"", "AN3_5A"},
		"AN5H-27A":       {"AN5H27A", "an5h-27a", "AN5-H-27A", "AN 5 H 27 A"},
		"AN3C5A":         {"AN3-C5A", "AN3C-5A", "AN3 C 5 A"},
		"AN4DD5":         {"AN4-DD-5", "AN4DD-5"},
		"AN470AD4-3.5":   {"AN470AD4-3-5", "AN470AD-4-3.5", "AN470-AD4-3.5", "an470 ad 4 3.5", "AN470AD4-3½", "AN470AD4-3-1/2", "AN470AD4-3 1/2"},
		"MS20426AD3-3":   {"MS20426AD3-3", "MS 20426 AD 3-3", "ms20426-ad3-3"},
		"AN960-10L":      {"AN960-10-L", "AN960 10L", "AN960-10 L"},
		"AN960C10L":      {"AN960-C10L", "AN960C-10L"},
		"NAS1149F0363P":  {"NAS1149-F0363P", "NAS 1149 F 0363 P", "nas1149f0363p"},
		"NAS1149FN832P":  {"NAS1149F-N832P", "NAS1149 FN 832 P"},
		"AN365-1032A":    {"AN365-1032-A", "AN365 10-32 A", "AN365-10-32A"},
		"MS21042-3":      {"MS21042 3"},
		"MS21042L3":      {"MS21042-L3", "MS21042 L 3"},
		"MS21044N3":      {"MS21044-N3", "MS21044 N 3"},
		"AN315-3R":       {"AN315-3-R"},
		"AN380-2-2":      {"AN380 2-2", "AN380-2 2"},
		"MS20392-1C9":    {"MS20392-1-C-9", "MS20392 1C9"},
		"AN507-832R8":    {"AN507-832-R-8", "AN507 832R8"},
		"MS27039-1-08":   {"MS27039-1-8", "MS27039 1 08"},
		"NAS6403U14D":    {"NAS6403-U14D", "NAS6403 U 14 D"},
		"MS21919WDG8":    {"MS21919-WDG8", "MS21919 WDG 8"},
		"MS20995C32":     {"MS20995-C32", "MS20995 C 32"},
		"AS568-012":      {"AS568-12", "AS568 012"},
		"AN818-6D":       {"AN818D6", "AN818-6-D", "AN818 6 D"},
		"MS21251-B3S":    {"MS21251B3S", "MS21251-B-3-S"},
		"NASM20470AD4-6": {"NASM 20470 AD4-6"},
	}
	around := []string{"%", "24 x %", "24x %", "% x24", "%, 24 ea", "(24) %", "% (24)", "bag H103: %", "qty 6 %", "P/N %", "% - 24 pcs", "#%"}
	for want, ways := range tests {
		t.Run(want, func(t *testing.T) {
			for _, way := range append(ways, want) {
				for _, frame := range around {
					text := strings.Replace(frame, "%", way, 1)
					if len(text) > maxText || strings.HasPrefix(way, "\"") && frame != "%" {
						continue
					}
					if got, ok := Standard().Canonical(text); !ok || got != want {
						t.Errorf("%q: got %q (%s)", text, got, Decode(text).Problem)
					}
				}
			}
		})
	}
}

// TestLettersMean: the letters of each grammar, one at a time.
func TestLettersMean(t *testing.T) {
	tests := []struct{ designation, field, want string }{
		{"AN3-5", ShankDrilled, "yes, for a cotter pin"},
		{"AN3-5A", ShankDrilled, "no"},
		{"AN3H-5A", HeadDrilled, "yes, for lockwire"},
		{"AN3-5A", HeadDrilled, "no"},
		{"AN3C5", Material, "corrosion-resistant steel"},
		{"AN73-5", HeadDrilled, "yes, for lockwire"},
		{"AN23-10", ShankDrilled, "yes, for a cotter pin"},
		{"AN23-10A", ShankDrilled, "no"},
		{"NAS6403U14D", Finish, "unplated"},
		{"NAS6403U14D", ShankDrilled, "yes, for a cotter pin"},
		{"AN310C4", Material, "corrosion-resistant steel"},
		{"AN310DD4", Material, "aluminium alloy 2024"},
		{"AN310B4", Material, "brass"},
		{"AN316-4L", Hand, "left-hand thread"},
		{"AN365-1032A", Lock, "non-metallic insert"},
		{"AN365-1032C", Lock, "all metal"},
		{"AN365-1032", Lock, "either an insert or all metal: the number does not say"},
		{"AN365D1032", Material, "aluminium alloy"},
		{"AN365C1032", Material, "corrosion-resistant steel"},
		{"AN365C1032", Lock, "either an insert or all metal: the number does not say"},
		{"AN365C1032A", Lock, "non-metallic insert"},
		{"AN365-1032C", Material, "steel"},
		{"AN364C428A", Material, "corrosion-resistant steel"},
		{"AN365B1032A", Material, "brass"},
		{"AN73A5", Thread, "10-24"},
		{"AN74A10", Thread, "1/4-20"},
		{"AN74-10", Thread, "1/4-28"},
		{"AN73A5", Diameter, "No. 10 (0.190)"},
		{"MS21042L3", Finish, "dry-film lubricated"},
		{"MS21042-3", Finish, "without dry-film lubricant"},
		{"MS21083C5", Material, "corrosion-resistant steel"},
		{"AN960-10", Finish, "cadmium plated"},
		{"AN960C10", Material, "corrosion-resistant steel"},
		{"AN960PD10", Finish, "chemical film"},
		{"NAS1149E0363", Material, "A286 corrosion-resistant steel"},
		{"NAS1149C0363R", Finish, "passivated"},
		{"AN507-832R8", Recess, "cross"},
		{"AN507-832-8", Recess, "slot"},
		{"AN501B416-7", Material, "brass"},
		{"NAS514P632-8P", Recess, "cross"},
		{"NAS5315E3-10", Material, "corrosion-resistant steel"},
		{"MS24665-153", Material, "corrosion-resistant steel"},
		{"AN380-2-2", Material, "carbon steel"},
		{"MS20995N47", Material, "listed as corrosion-resistant steel 302 in the manual"},
		{"MS21919CH6", Material, "corrosion-resistant steel band with silicone cushion to 400 F"},
		{"MS21251-B3S", "barrel", "short"},
	}
	for _, tt := range tests {
		t.Run(tt.designation+" "+tt.field, func(t *testing.T) {
			r := Decode(tt.designation)
			f, ok := r.Field(tt.field)
			if !ok || f.Text != tt.want {
				t.Errorf("%s: got %s %q, want %q (%s)", tt.designation, tt.field, f.Text, tt.want, r.Problem)
			}
		})
	}
}

// TestNotQuite: nearly right is refused with one sentence, and what it names is real.
func TestNotQuite(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"letter twice", "AN3-5AA", "the tables here have no "},
		{"material twice", "AN3CDD5A", "AN3"},
		{"unknown letter in front", "AN3X5A", "AN3"},
		{"second number missing", "AN470AD4", "needs its second number"},
		{"second number of a pin missing", "AN380-2", "needs its second number"},
		{"number too long", "AN3-1234567", "needs a dash number"},
		{"third of a size", "AN470AD4-3.7", "the tables here have no \".7\" behind AN470AD4-3"},
		{"thickness that is none", "NAS1149F0399P", "not in the tables"},
		{"size that is none", "AN365-999", "not in the tables"},
		{"hand missing", "AN315-3", "needs its hand letter after the 3: R or L"},
		{"material missing", "MS21044-3", "needs its material letter"},
		{"number behind the number", "AN3-5-7", "the tables here have no "},
		{"words behind", "AN3-5A LONGER", "the tables here have no "},
		{"decimal dash", "AN3-5.5", "the tables here have no \".5\" behind AN3-5"},
		{"rivet diameter that is none", "AN470AD9-4", "AN470AD9 is not in the tables here; the nearest are AN470AD8 and AN470AD10"},
		{"below the first", "AN6-3", "AN6-3 is not in the published table, which begins with AN6-5"},
		{"name alone", "AN565", "only by name"},
		{"name alone, numbers unknown", "MS35206", "MS35206 needs a number behind it; it is a pan-head screw"},
		{"dash left out", "AN35A", "AN35 is not a series in the tables here; if AN3-5A is meant, write the dash"},
		{"dash of a nut left out", "an3651032a", "if AN365-1032A is meant, write the dash"},
		{"dash left out and wrong", "AN38", "AN38 is not a series"},
		{"dash behind an unknown series", "AN38-5", "AN38 is not a series"},
		{"dash at the end of a series known by name", "AN565-", "only by name"},
		{"nought and one", "AN3-0", "does not exist"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Decode(tt.text)
			if r.Known || !strings.Contains(r.Problem, tt.says) || strings.Count(r.Problem, ". ") > 0 {
				t.Errorf("%q: got %v %q, want one sentence with %q", tt.text, r.Known, r.Problem, tt.says)
			}
			for _, near := range r.Nearest {
				if c, ok := Standard().Canonical(near); ok && c != near {
					t.Errorf("%q names %q, which reads as %q", tt.text, near, c)
				}
			}
		})
	}
}

// TestLookAlikesOfTheTrade: what a shop confuses stands in the list.
func TestLookAlikesOfTheTrade(t *testing.T) {
	tests := []struct{ designation, like, difference string }{
		{"AN3-5A", "AN3-6A", "1/8 longer in the grip"},
		{"AN3-11", "AN3-11A", "no cotter-pin hole"},
		{"AN426AD3-3", "AN426AD3-3.5", "1/32 longer"},
		{"AN426AD3-3", "NAS1097AD3-3", "smaller head, not full-size head"},
		{"AN470AD4-7", "AN470A4-7", "1100 aluminium, not 2117 aluminium"},
		{"AN470A4-7", "AN470AD4-7", "2117 aluminium, not 1100 aluminium"},
		{"NAS1149F0363P", "NAS1149F0332P", "thinner: 0.032, not 0.063"},
		{"AN960-10L", "AN960-10", "thicker: 0.063, not 0.032"},
		{"AN365-1032A", "AN364-1032A", "thin for shear, not full height"},
		{"AN310-3", "AN320-3", "thin for shear, not full height"},
		{"MS21047L08", "MS21049L08", "countersunk, not plain steel"},
		{"MS21051L08", "MS21053L08", "countersunk, not full rivet spacing"},
		{"AN507-832R8", "AN509-8R8", "structural with grip, not full thread without grip"},
		{"MS24665-132", "MS24665-134", "1/4 longer"},
		{"AN7-10A", "AN7-11A", "1/8 longer"},
		{"AN9-12", "AN9-13", "1/8 longer"},
		{"MS20995C32", "MS20995C41", "0.009 larger"},
		{"MS20600AD4-3", "MS20600AD4-4", "1/16 longer in the grip"},
	}
	for _, tt := range tests {
		t.Run(tt.designation, func(t *testing.T) {
			for _, l := range Decode(tt.designation).LookAlikes {
				if l.Designation == tt.like {
					if l.Difference != tt.difference {
						t.Errorf("%s: %s is %q, want %q", tt.designation, l.Designation, l.Difference, tt.difference)
					}
					return
				}
			}
			t.Errorf("%s: %s is not in %v", tt.designation, tt.like, Decode(tt.designation).LookAlikes)
		})
	}
}
