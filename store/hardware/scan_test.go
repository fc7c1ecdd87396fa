package hardware

import (
	"slices"
	"strings"
	"testing"
)

// TestWrittenInParts: spaces, dashes and letters where people put them, for each sort
// of grammar; the one way it is written here stands first.
func TestWrittenInParts(t *testing.T) {
	for want, texts := range map[string]string{
		"AN3-5A":              "AN3-5A|an3-5a|AN 3-5A|AN-3-5A|AN3 5 A|AN3-5-A|AN3 - 5 - A|AN3_5A|AN3–5A|AN3-05A",
		"AN3H-5A":             "AN3H-5A|AN3H5A|AN3-H5A|AN3 H 5 A|AN3H 5A",
		"AN3DDH5A":            "AN3DDH5A|AN3DDH-5A|AN3 DD H 5 A|AN3-DDH-5A|AN3HDD5A",
		"AN470AD4-4.5":        "AN470AD4-4.5|AN470AD4-4-5|AN470AD4-4-1/2|AN470AD4-4 1/2|AN470AD4-4½|AN470 AD 4 4.5|AN470-AD-4-4.5",
		"AN426AD3-10":         "AN426AD3-10|AN426AD 3 10|an426ad3-10|AN426AD-3-10|AN426AD3 - 10",
		"AN365-1032A":         "AN365-1032A|AN365-10-32A|AN365 1032 A|AN3651032A|AN365-1032-A",
		"AN525-10R8":          "AN525-10R8|AN525-10-R8|AN525 10R8|AN525-10 R 8",
		"AN526C632R8":         "AN526C632R8|AN526C-632R8|AN526-C632R8|AN526C 632 R 8",
		"NAS1149F0363P":       "NAS1149F0363P|NAS1149-F0363P|NAS 1149 F 0363 P|nas1149f0363p",
		"AN960-10L":           "AN960-10L|AN960 10L|AN960-10-L|AN960-10 L|an960 10 l",
		"MS21044N3":           "MS21044N3|MS21044-N3|MS21044 N 3|MS21044N-3",
		"MS24665-132":         "MS24665-132|MS24665 132|ms-24665-132|MS 24665-132",
		"MS20392-2C11":        "MS20392-2C11|MS20392-2C-11|MS20392 2C11|MS20392-2 C 11",
		"AN816-4D":            "AN816-4D|AN816D4|AN816 4 D|AN816-4-D|AN816D-4",
		"AN816-6-4D":          "AN816-6-4D|AN816D6-4|AN816 6 4 D",
		"MS21919WDG6":         "MS21919WDG6|MS21919-WDG6|MS21919 W DG 6|MS21919WDG-6",
		"AS568-012":           "AS568-012|AS568-12|AS568A-012|AS568 012|as568-012",
		"M83248/1-012":        "M83248/1-012|M83248/1-12|m83248/1 012|M 83248/1-012",
		"NAS6204-8":           "NAS6204-8|NAS 6204 8|nas6204-8|NAS-6204-8",
		"MS20995C32":          "MS20995C32|MS20995-C32|MS20995 C 32|MS20995C-32",
		"NASM20470AD4-6":      "NASM20470AD4-6|NASM 20470 AD 4-6|nasm20470ad4-6",
		"AN490HT5P":           "AN490HT5P|AN490-HT5P|AN490 HT5P|AN490-HT-5P|an490ht5p",
		"MS21251-B3S":         "MS21251-B3S|MS21251B3S|MS21251 B3S|MS21251-B3-S",
		"MS27039-1-08":        "MS27039-1-08|MS27039 1 08|MS27039-1-8",
		"AN380-2-2":           "AN380-2-2|AN380 2 2|AN-380-2-2",
		"2024-T3 SHEET 0.032": "2024-T3 .032|2024-T3 0.032 sheet|2024 T3 .032|.032 2024T3|2024T3 sheet .032 thick",
	} {
		for text := range strings.SplitSeq(texts, "|") {
			r := Decode(text)
			if text == "AN3651032A" { // no digits are split from a series unasked
				if r.Known || !slices.Contains(r.Nearest, want) {
					t.Errorf("%q: got %q, nearest %q", text, r.Designation, r.Nearest)
				}
				continue
			}
			if r.Designation != want {
				t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
			}
		}
	}
}

// TestLeftOver: what is left behind a number that is complete; nothing is dropped that
// may belong to it.
func TestLeftOver(t *testing.T) {
	for _, text := range []string{
		"AN3-5AB", "AN3-5A B", "AN3-5A-1", "AN3-5A.5", "AN3-5AX", "AN3-5A X", "AN3-5AH", "AN3-5A REV C", "AN3-5A (REV C)", "AN3-5A/B", "AN3-5A & AN4-5A",
		"AN470AD4-4-4", "AN470AD4-4AD", "AN470AD4-4.75", "AN365-1032AB", "AN365-1032A2", "NAS1149F0363PP", "NAS1149F0363P1", "MS24665-132-1", "MS21044N3C",
		"AN960-10LL", "AN960-10X", "AS568-012B", "M83248/1-0121", "AN816-4D4", "AN816-4DD", "MS20392-2C11C", "MS20995C32A", "AN490HT5P.5", "AN525-10R8R",
	} {
		r := Decode(text)
		if r.Known || r.Problem == "" {
			t.Errorf("%q: got %q, %q", text, r.Designation, r.Problem)
		}
	}
	for text, want := range map[string]string{
		"AN3-5A x 4": "AN3-5A", "AN3-5A X4": "AN3-5A", "AN3-5A x .5 lb": "AN3-5A", "AN3-5A (4)": "AN3-5A", "AN3-5A, 4 ea.": "AN3-5A", "AN3-5A; 4": "AN3-5A", "AN3-5A -": "AN3-5A",
		"AN3-5A.": "AN3-5A", "4x AN3-5A": "AN3-5A", "4 AN3-5A": "AN3-5A", "(4) AN3-5A": "AN3-5A", "#4 AN3-5A": "AN3-5A", "item 7: AN3-5A": "AN3-5A", "P/N AN3-5A": "AN3-5A",
		"bag H104 AN3-5A": "AN3-5A", "\"AN3-5A\"": "AN3-5A", "[AN3-5A]": "AN3-5A", "AN3-5A*": "AN3-5A", "AN3-5A = 4": "AN3-5A", "line 12 AN3-5A lot Q7714": "AN3-5A",
	} {
		if r := Decode(text); r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
	}
}

// TestRefusedWhy: the sentence on each way in which a number can be wrong.
func TestRefusedWhy(t *testing.T) {
	for text, want := range map[string]string{
		"AN3":                         "AN3 needs a dash number: AN3-3 to AN3-67 are in the tables here; it is a bolt, hex head, 10-32",
		"AN470AD4":                    "AN470AD4 needs its second number: AN470AD4-2 to AN470AD4-20",
		"AN470-4-4":                   "AN470 needs its material letter after AN470: A, AD, D, DD, B, E or KE",
		"AN315-4":                     "AN315 needs its hand letter after the 4: R or L",
		"MS20392-2 x 11":              "MS20392 needs its material letter after the 2: C",
		"AN481":                       "AN481 needs a number behind it; it is a rod end clevis, adjustable, and the tables here have none of its numbers",
		"AN490":                       "AN490 needs the number behind it: the tables here know the series only by name",
		"AN3-9":                       "AN3-9 does not exist: dash numbers count eighths of an inch, 3 to 7, then 10 to 17, 20 to 27 and so on; the nearest are AN3-7 and AN3-10",
		"AN3-2":                       "AN3-2 does not exist",
		"AN3-1":                       "the nearest is AN3-3",
		"AN6-3":                       "AN6-3 is not in the published table, which begins with AN6-5",
		"AN9-8":                       "AN9-8 cannot be read: dash numbers count eighths",
		"AN9-9A":                      "the nearest are AN9-7A and AN9-10A",
		"AN3-71":                      "AN3-71 is not in the tables here; the nearest is AN3-67",
		"AN742":                       "AN742 needs a dash number",
		"AN7422":                      "AN7422 is not a series in the tables here; if AN742-2 or AN74-22 is meant, write the dash",
		"AN365-1032000A":              "AN365 needs a dash number: AN365-428 to AN365-1614",
		"AN365-10-32000A":             "AN365-10 is not in the tables here",
		"AN470AD4x99":                 "the nearest are AN470AD4-2 and AN470AD4-20",
		"NAS1149F0364P":               "the nearest are NAS1149F0363P and NAS1149F0390P",
		"M83248/9-012":                "M83248/9 is not a series in the tables here: they have M83248/1, with a dash and a number behind it",
		"MS99999-1":                   "MS99999 is not a series in the tables here: check the number against the plans",
		"AN123456789-1":               "is not a series in the tables here",
		"4130 3/4 x .049":             "is stock of 4130 without its form",
		strings.Repeat("AN3-5A ", 12): "longer than 64 characters: give the designation alone, such as AN3-5A",
	} {
		if r := Decode(text); r.Known || !strings.Contains(r.Problem, want) {
			t.Errorf("%q: got %q %q, want %q", text, r.Designation, r.Problem, want)
		}
	}
	for _, text := range []string{"", " ", "AN", "MS", "bolt", "OQ-10-001", "M3x20", "M", "M22759/16-22", "M22759", "AN-", "ANGLE 3/4", "MS-DOS", "NAS", "2024", "T3 .032", "\x00AN3-5A", "БАN3-5A"} {
		if r := Decode(text); r.Known || r.Problem != "" {
			t.Errorf("%q: got %q %q, want nothing", text, r.Designation, r.Problem)
		}
	}
}
