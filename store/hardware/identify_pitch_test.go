package hardware

import (
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestWrongPitch: which counts of threads speak against families of coarse and of fine
// thread. Pitches: AC 43.13-1B Table 7-1, below No. 8 ASME B1.1.
func TestWrongPitch(t *testing.T) {
	coarse, fine, neither := &series{style: "pan head with coarse thread"}, &series{style: "pan head with fine thread"}, &series{style: "pan head"}
	for _, tt := range []struct {
		name   string
		across measure.Length
		tpi    int
		coarse bool // the count speaks against coarse
		fine   bool
	}{
		{"4-40", 112 * thou, 40, false, true},
		{"4-48", 112 * thou, 48, true, false},
		{"6-32", 138 * thou, 32, false, true},
		{"6-40", 138 * thou, 40, true, false},
		{"8-32", 164 * thou, 32, false, true},
		{"8-36", 164 * thou, 36, true, false},
		{"10-24", 190 * thou, 24, false, true},
		{"10-32", 190 * thou, 32, true, false},
		{"1/4-20", 250 * thou, 20, false, true},
		{"1/4-28", 250 * thou, 28, true, false},
		{"5/16-18", 312 * thou, 18, false, true},
		{"5/16-24", 312 * thou, 24, true, false},
		{"3/8-16", 375 * thou, 16, false, true},
		{"3/8-24", 375 * thou, 24, true, false},
		{"10 worn to its least", 180 * thou, 32, true, false},
		{"neither of the two", 190 * thou, 28, true, true},
		{"no size of the table", 220 * thou, 32, false, false},
		{"not counted", 190 * thou, 0, false, false},
		{"not measured", 0, 32, false, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, r := range []Readings{{Diameter: tt.across, ThreadsPerInch: tt.tpi}, {ThreadSize: tt.across, ThreadsPerInch: tt.tpi}} {
				if got := r.wrongPitch(coarse); got != tt.coarse {
					t.Errorf("coarse: got %v", got)
				}
				if got := r.wrongPitch(fine); got != tt.fine {
					t.Errorf("fine: got %v", got)
				}
				if r.wrongPitch(neither) {
					t.Error("a family of no pitch is ruled out by one")
				}
			}
		})
	}
}

// TestNextWhenAllIsMeasured: what is asked for where no length separates, and that it
// is not asked for again.
func TestNextWhenAllIsMeasured(t *testing.T) {
	of := func(texts ...string) []Candidate {
		var out []Candidate
		for _, text := range texts {
			out = append(out, Candidate{piece: mustParse(t, text)})
		}
		return out
	}
	for _, tt := range []struct {
		name string
		list []Candidate
		r    Readings
		want string
	}{
		{"threads", of("AN73-5", "AN73A-5"), Readings{}, "count the threads per inch"},
		{"threads that were counted", of("AN73-5", "AN73A-5"), Readings{ThreadsPerInch: 32}, ""},
		{"pin hole", of("AN3-5", "AN3-5A"), Readings{}, "look for a cotter-pin hole"},
		{"pin hole that was looked for", of("AN3-5", "AN3-5A"), Readings{ShankDrilled: Yes}, ""},
		{"hole in the head", of("AN3-5", "AN3H-5"), Readings{}, "look for a lockwire hole in the head"},
		{"hole in the head that was looked for", of("AN3-5", "AN3H-5"), Readings{HeadDrilled: No}, ""},
		{"metal of a bolt", of("AN3-5", "AN3DD5"), Readings{}, "look at the marking on the head and try a magnet"},
		{"a magnet alone was tried", of("AN3-5", "AN3DD5"), Readings{Magnetic: Yes}, "look at the marking on the head and try a magnet"},
		{"both were", of("AN3-5", "AN3DD5"), Readings{Magnetic: Yes, Marking: "dash"}, ""},
		{"metal of a nut", of("AN310-3", "AN310D3"), Readings{}, "try a magnet and look at the colour of the metal"},
		{"shape of the head", of("AN470AD4-4", "AN426AD4-4"), Readings{}, "say what shape the head has"},
		{"shape that was said", of("AN470AD4-4", "AN426AD4-4"), Readings{Head: "u"}, ""},
		{"grip before length", of("AN3-5", "AN3-6"), Readings{}, "measure the grip next"},
		{"length where the grip was measured", of("AN3-5", "AN3-6"), Readings{Grip: measure.Inches(1, 4)}, "measure the length next"},
		{"the height of a nut", of("AN310-3", "AN365-1032A"), Readings{}, "measure the height next"},
		{"the section of a ring", of("AS568-012", "AS568-110", "AS568-111"), Readings{Inside: 364 * thou}, "measure the section next"},
		{"the thickness of a washer", of("AN960-10", "AN960-10L"), Readings{}, "measure the thickness next"},
		{"nothing left", of("AN3-5", "AN3-5"), Readings{}, ""},
	} {
		if got := tt.r.next(tt.list); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, got, tt.want)
		}
	}
}

// TestKnownByName: of a series that is not understood, what stands behind its number
// is kept letter by letter, and of the dashes those between digits.
func TestKnownByName(t *testing.T) {
	for text, want := range map[string]string{
		"NAS43DD3-16": "NAS43DD3-16", "NAS43-DD3-16": "NAS43DD3-16", "AN912-2-1D": "AN912-2-1D", "AN912-2-1-D": "AN912-2-1D",
		"AN490-HT-5-P": "AN490HT5P", "AN919-6D": "AN919-6D", "AN737TW22": "AN737TW22", "AN737-TW-22": "AN737TW22", "NAS75-3-010": "NAS75-3-010",
		"AN490HT5P x 4": "AN490HT5P", "AN490HT5P (4)": "AN490HT5P",
	} {
		r := Decode(text)
		if r.Designation != want {
			t.Errorf("%q: got %q (%s), want %s", text, r.Designation, r.Problem, want)
		}
		if r.Known && (len(r.LookAlikes) > 0 || !slices.ContainsFunc(r.Warnings, func(w string) bool { return strings.HasPrefix(w, "known by its series only") })) {
			t.Errorf("%q: got look-alikes %v, warnings %q", text, r.LookAlikes, r.Warnings)
		}
	}
	for _, text := range []string{"AN490", "AN490HT", "AN490-", "AN490HTPQRSTUVWXYZABCDEFG5", "AN490HT5P.5", "AN490HT5P/6"} {
		if r := Decode(text); r.Known || r.Problem == "" {
			t.Errorf("%q: got %q", text, r.Designation)
		}
	}
}

// TestFindingOfAShortRivet: a rivet of which less than a diameter stands past the
// sheets is ruled out (AC 43.13-1B par. 4-57), and not one of just a diameter.
func TestFindingOfAShortRivet(t *testing.T) {
	d := measure.Inches(1, 8)
	for past, bad := range map[measure.Length]bool{d - 1: true, d: false, d + thou: false, 0: true} {
		r := RivetChoice{Diameter: d, Past: past, EdgeDistance: 2 * d}
		got := false
		for _, f := range r.findings() {
			got = got || f.Bad && f.Text == "too short: less than one diameter stands past the sheets"
			if f.Source == "" {
				t.Errorf("%q has no source", f.Text)
			}
		}
		if got != bad {
			t.Errorf("%s past the sheets: ruled out %v, want %v", past, got, bad)
		}
	}
	// By the rule of one and a half diameters none that is proposed is too short.
	for thick := 20; thick < 400; thick += 3 {
		half := measure.Length(thick) * thou / 2
		got, err := Standard().ChooseRivet(Seam{Layers: []Ply{{Thickness: half}, {Thickness: half}}, Diameter: d})
		if err != nil {
			t.Fatal(err)
		}
		if k := got.Choices[0]; k.Past < d || k.Past > 2*d || abs(k.Length-k.Wanted) > measure.Inch/64 {
			t.Errorf("%d thousandths: %s leaves %s to drive, wanted %s long", thick, k.Designation, k.Past, k.Wanted)
		}
	}
}

// TestPlaceOfTheThread: where letters give another thread, that is what a piece is told
// by; the same table names pieces that differ by a nought or by the 16 behind it.
func TestPlaceOfTheThread(t *testing.T) {
	if d, ok := Standard().Alike("AN73-5", "AN73A-5"); ok && strings.Contains(d, "almost") {
		t.Errorf("got %q", d)
	}
	for _, tt := range [][3]string{
		{"AN960-4", "AN960-416", "almost the same number for another size"},
		{"AN960-6", "AN960-616", "almost the same number for another size"},
		{"MS21042-06", "MS21042-6", "almost the same number for another size: 3/8-24, not 6-32"},
		{"MS21042-6", "MS21042-06", "almost the same number for another size: 6-32, not 3/8-24"},
		{"MS21047L08", "MS21047L3", ""},
		{"AN960-10", "AN960-1016", "almost the same number for another size"},
	} {
		d, ok := Standard().Alike(tt[0], tt[1])
		if ok != (tt[2] != "") || !strings.HasPrefix(d, tt[2]) {
			t.Errorf("%s and %s: got %q, want %q", tt[0], tt[1], d, tt[2])
		}
	}
}
