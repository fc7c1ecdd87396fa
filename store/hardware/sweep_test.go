package hardware

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// suffixes are what commonly stands behind a standard number.
var suffixes = []string{
	"", "-3", "-4", "-5", "-6", "-8", "-10", "-3A", "-5A", "-10A", "-12", "-416", "-1032", "-1032A", "-08", "-012", "-4D", "-4-4", "-6-4D",
	"A5", "A10", "B10", "C4", "C1032A", "D4", "D6", "D6-4", "H5A", "H27A", "L3", "N3", "R8", "-832R8", "-10R8", "AD4", "AD4-4", "AD3-3.5",
	"DG6", "HT5P", "C32", "P4A10", "5A", "35A", "S3LH", "-S3RH", "-B3S", "-16S", "-1-08", "F0363P",
}

// TestNoSeriesIsSwallowed: over all AN, NAS and MS numbers with common suffixes,
// a number is known only where the tables have its series, and as a number of
// that series. AN742-6 is a clamp and was read as AN74H2-6, AN41-4 as AN4-14.
func TestNoSeriesIsSwallowed(t *testing.T) {
	c := Standard()
	known, wrong := 0, 0
	sweep := func(prefix string, from, to int) {
		for n := from; n <= to; n++ {
			base := fmt.Sprintf("%s%d", prefix, n)
			s := c.series[base]
			for _, suffix := range suffixes {
				if suffix != "" && digit(suffix[0]) {
					continue // no dash: another standard number
				}
				r := c.Decode(base + suffix)
				if !r.Known {
					continue
				}
				whole := s == nil && c.inRange(prefix, []byte(base[len(prefix):])) != nil && r.Designation == base
				if known++; whole || s != nil && strings.HasPrefix(r.Designation+".", base) && !digit((r.Designation + ".")[len(base)]) {
					continue
				}
				if wrong++; wrong < 20 {
					t.Errorf("%s%s is read as %s", base, suffix, r.Designation)
				}
			}
		}
	}
	sweep("AN", 1, 9999)
	sweep("NAS", 1, 9999)
	for _, part := range [][2]int{{1, 1200}, {3000, 3600}, {5000, 5700}, {9000, 9999}, {14000, 14400}, {16500, 17999}, {20000, 29999}, {33500, 36000}, {51800, 52000}, {171400, 172300}} {
		sweep("MS", part[0], part[1])
	}
	if known < 1000 {
		t.Errorf("only %d known: the sweep does not look where the tables are", known)
	}
	t.Logf("%d known", known)
}

// standardNumber is an independent reading of which standard a text names.
var standardNumber = regexp.MustCompile(`(NASM|NAS|AN|MS|AS|M)[ \t\n\r\x{a0}_‐‑–—−-]*([0-9]+)`)

// ofItsBase says that a designation belongs to a standard number that stands in
// the text.
func ofItsBase(text, designation string) bool {
	own := standardNumber.FindStringSubmatch(designation)
	if own == nil {
		// Stock and commercial rivets are not of a standard number.
		k := Decode(designation).Kind
		return k == Stock || k == BlindRivet
	}
	for _, m := range standardNumber.FindAllStringSubmatch(strings.ToUpper(text), -1) {
		if m[1] == own[1] && m[2] == own[2] {
			return true
		}
	}
	return false
}

// TestSwallowedNumbers: the numbers that were told as another piece.
func TestSwallowedNumbers(t *testing.T) {
	for _, text := range []string{
		"AN742-6", "AN481-3", "AN221-4", "AN125-4", "AN41-4", "AN53-3A", "AN5016-4", "AN100C4", "AN490HT5P", "AN6227B10", "AN894D6-4", "AN565D10H4",
	} {
		t.Run(text, func(t *testing.T) {
			r := Decode(text)
			if base := standardNumber.FindString(text); Standard().series[base] == nil {
				if r.Known || !strings.HasPrefix(r.Problem, base+" is not a series in the tables here") || len(r.Nearest) > 0 {
					t.Errorf("got %v %q %q %q", r.Known, r.Designation, r.Problem, r.Nearest)
				}
			} else if r.Known && !ofItsBase(text, r.Designation) {
				t.Errorf("read as %s", r.Designation)
			}
			if strings.Contains(r.Problem, "does not exist") {
				t.Errorf("denied: %q", r.Problem)
			}
		})
	}
}

// TestNoDashIsCrossed: digits on both sides of a written dash are never taken
// together, but for the dash of a thread's own name.
func TestNoDashIsCrossed(t *testing.T) {
	for text, want := range map[string]string{
		"AN365-10-32A": "AN365-1032A", "AN365 10-32": "AN365-1032", "AN960-4-16": "", "AN3-1-0": "", "MS24665-1-32": "", "AN365-4-28": "", "AN3-1 4A": "", "AN3 10-5A": "",
	} {
		t.Run(text, func(t *testing.T) {
			if got, _ := Standard().Canonical(text); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// TestExistence: that a number does not exist is said only where a source lists
// the numbers (NASM3-20, AN3 to AN6), and that one is made is said of none
// that is read by rule alone.
func TestExistence(t *testing.T) {
	tests := []struct {
		text    string
		known   bool
		unsaid  bool   // whether it is made is said to be unknown
		problem string // part of it
	}{
		{"AN3-5A", true, false, ""},
		{"AN6-14", true, false, ""},
		{"AN3-16A", true, true, ""}, // beyond the published rows
		{"AN7-5", true, true, ""},
		{"AN8-5", true, true, ""},
		{"AN10-6", true, true, ""}, // shorter than its own thread can be
		{"AN12-6", true, true, ""},
		{"AN49-3", true, true, ""},
		{"AN174-20", true, true, ""},
		{"NAS6204-8", true, true, ""},
		{"AN23-10", true, true, ""},
		{"AN393-9", true, true, ""},
		{"AN507-832R8", true, true, ""},
		{"NAS1149F0363P", true, true, ""},
		{"AN365-1032A", true, false, ""},
		{"AN3-8", false, false, "AN3-8 does not exist: dash numbers count eighths"},
		{"AN3-2", false, false, "AN3-2 does not exist"},
		{"AN5-3", false, false, "AN5-3 is not in the published table, which begins with AN5-4"},
		{"AN7-8", false, false, "AN7-8 cannot be read: dash numbers count eighths"},
		{"AN74-19", false, false, "AN74-19 cannot be read"},
		{"AN3-70", false, false, "AN3-70 is not in the tables here"},
		{"AN470AD9-4", false, false, "AN470AD9 is not in the tables here"},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			r := Decode(tt.text)
			f, unsaid := r.Field(Listed)
			if r.Known != tt.known || unsaid != tt.unsaid || unsaid && !f.Unknown || !strings.Contains(r.Problem, tt.problem) {
				t.Errorf("got known %v, %+v, %q", r.Known, f, r.Problem)
			}
			if strings.HasPrefix(tt.text, "AN1") && !strings.Contains(strings.Join(r.Warnings, "; "), "whether "+tt.text+" is one of them is not known here") {
				t.Errorf("no warning: %q", r.Warnings)
			}
		})
	}
	for _, s := range Standard().series {
		for slot, cs := range s.nums {
			if cs != nil && strings.Contains(cs.lacks("8", s), "exist") && (slot > 0 || s.kind != Bolt || !strings.Contains("AN3 AN4 AN5 AN6", s.name)) {
				t.Errorf("%s denies that a number exists", s.name)
			}
		}
	}
}

// TestCountsAreOfTheFamily: a count of sources is that of the family it is shown
// for. NAS1738 was shown with three sources about solid rivets.
func TestCountsAreOfTheFamily(t *testing.T) {
	tests := []struct {
		text, field string
		checked     int
	}{
		{"NAS1738B4-3", Diameter, 0},
		{"NAS1738B4-3", Grip, 0},
		{"MS20600AD4-3", Diameter, 0},
		{"AN470AD4-4", Diameter, 3},
		{"MS20470AD4-4", Diameter, 3},
		{"MS20470E4-4", Material, 1},
		{"AN426E4-4", Material, 0},
		{"NAS1097AD4-4", Diameter, 0},
		{"NAS1097AD4-4", Material, 4}, // the table of letters speaks of rivets, not of a head
		{"AN430AD4-4", LengthField, 0},
		{"AN425AD4-4", Material, 0}, // known from memory altogether
		{"AN310-3R", Hand, 1},
		{"MS21044C3", Material, 0}, // the sheet is that of MS21083
		{"MS21083C5", Material, 1},
		{"NAS6204-8", Grip, 1},
		{"NAS1304-8", Grip, 0},
		{"MS28775-012", InsideDiameter, 0},
		{"AN820-6", TubeDiameter, 0},
		{"AN818-6", TubeDiameter, 4},
		{"AN500C8-8", Material, 0},
		{"AN526C632-8", Material, 1},
	}
	for _, tt := range tests {
		t.Run(tt.text+" "+tt.field, func(t *testing.T) {
			f, ok := Decode(tt.text).Field(tt.field)
			if !ok || f.Checked != tt.checked {
				t.Errorf("got %d sources, want %d: %s", f.Checked, tt.checked, f.Source)
			}
		})
	}
	every(Standard(), func(p piece) {
		r := p.result()
		for _, f := range r.Fields {
			if f.Checked > 0 && strings.Contains(f.Source, "said of other families") {
				t.Errorf("%s %s: %d sources of other families", r.Designation, f.Name, f.Checked)
			}
		}
	})
}

func TestNamedInSources(t *testing.T) {
	ld := testLoader()
	ld.namings = map[string][]span{}
	for source, want := range map[string]string{
		"AN470/AN426 part number system (NAVEDTRA 14315)": "AN470 AN426",
		"NAS6203-6220, NAS464: grip = dash / 16":          "NAS6203-NAS6220 NAS464",
		"AN500 to AN526 series; AC 43.13-1B par. 7-16":    "AN500-AN526",
		"NASM3-20 (AN3-AN20)":                             "MS3-MS20 AN3-AN20",
		"AN42B-5 seen in use":                             "AN42",
		"TM 1-1500-204-23-6 Table 2-17":                   "",
	} {
		t.Run(source, func(t *testing.T) {
			var labels []string
			for _, sp := range ld.named(source) {
				labels = append(labels, sp.label)
			}
			if got := strings.Join(labels, " "); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}
