package hardware

import (
	"slices"
	"strings"
	"testing"
)

func TestDecode(t *testing.T) {
	tests := []struct {
		name, text, designation, title string
		fields                         map[string]string // name: decimal inches, or text where it is not a length
	}{
		// NASM3-20 table rows and worked examples, as published in kit manuals.
		{"AN3-4A worked example", "AN3-4A", "AN3-4A", "Bolt, steel, hex head, 10-32, grip 1/8, no cotter-pin hole", map[string]string{"length": "0.53125", "grip": "0.125", "diameter": "0.19"}},
		{"AN3-5A table row", "AN3-5 A", "AN3-5A", "Bolt, steel, hex head, 10-32, grip 1/4, no cotter-pin hole", map[string]string{"length": "0.65625", "shank_drilled": "no", "head_drilled": "no"}},
		{"AN3-14A worked example", "an3 14a", "AN3-14A", "", map[string]string{"length": "1.53125", "grip": "1.125"}},
		{"AN4-15A worked example", "AN4-15A", "AN4-15A", "", map[string]string{"grip": "1.1875"}},
		{"AN6-20 worked example", "AN6-20", "AN6-20", "", map[string]string{"grip": "1.4375", "shank_drilled": "yes, for a cotter pin"}},
		{"AN5H-27A worked example", "AN5H27A", "AN5H-27A", "Bolt, steel, hex head, 5/16-24, grip 2-7/16, drilled head, no cotter-pin hole", map[string]string{"grip": "2.4375"}},
		{"AN4-7 published length", "AN4-7", "AN4-7", "", map[string]string{"length": "0.90625", "grip": "0.4375", "thread_length": "0.46875"}},
		{"AN4DD5A by grammar", "AN4DD5A", "AN4DD5A", "", map[string]string{"material": "aluminium alloy 2024", "head_marking": "two raised dashes"}},
		{"AN3-3 exception", "AN3-3", "AN3-3", "", map[string]string{"length": "0.46875", "grip": "0.0625"}},
		{"C before the dash is the steel", "AN365C1032", "AN365C1032", "Lock nut, corrosion-resistant steel, full height hex, 10-32, insert or all metal", nil},
		// AC 43.13-1B par. 4-57.
		{"rivet half size", "MS20470AD4-3.5", "MS20470AD4-3.5", "Dome rivet, 2117 aluminium, universal head, 1/8 by 7/32", map[string]string{"diameter": "0.125", "length": "0.21875", "head_marking": "dimple"}},
		{"rivet half size with dashes", "AN470AD-4-3-5", "AN470AD4-3.5", "", map[string]string{"length": "0.21875"}},
		{"rivet half size as a fraction", "AN426AD3-3 1/2", "AN426AD3-3.5", "", map[string]string{"length": "0.21875"}},
		{"half as a character", "AN426AD3-3½", "AN426AD3-3.5", "", nil},
		{"letter on the wrong side", "AN816D6", "AN816-6D", "", nil},
		{"needless nought", "AN3-05A", "AN3-5A", "", nil},
		{"thread for a number", "AN365 10-32 A", "AN365-1032A", "", nil},
		{"letter apart", "AN960-10-L", "AN960-10L", "", nil},
		{"hinge by its name", "MS20257P3", "MS20257P3", "Hinge, piano hinge sold by length", nil},
		{"grommet, as in a kit packing list", "AN931-6-16", "AN931-6-16", "", map[string]string{"inside_diameter": "0.375", "outside_diameter": "unknown: whether the second number is the outside or the hole of the panel is not known here: measure before you drill"}},
		{"screw, as in a kit packing list", "AN515-6R8", "AN515-6R8", "", map[string]string{"thread": "6-32", "length": "0.5"}},
		{"clamp, as in a kit packing list", "MS21919WDG6", "MS21919WDG6", "", map[string]string{"inside_diameter": "0.375"}},
		{"flush rivet", "AN426AD3-3", "AN426AD3-3", "", map[string]string{"diameter": "0.09375", "length": "0.1875", "countersink_angle": "100"}},
		{"AN426DD3-5 published example", "AN426DD3-5", "AN426DD3-5", "", map[string]string{"length": "0.3125"}},
		// NAS464 and NAS6604 published examples.
		{"grip in sixteenths", "NAS464-5L20", "NAS464-5L20", "", map[string]string{"grip": "1.25", "diameter": "0.3125"}},
		{"NAS6604-19", "NAS6604-19", "NAS6604-19", "", map[string]string{"grip": "1.1875", "across_flats": "0.439"}},
		{"NAS6403U14D drawing", "NAS6403U14D", "NAS6403U14D", "", map[string]string{"grip": "0.875", "finish": "unplated"}},
		{"NAS5315V06A19D standard's example", "NAS5315V06A19D", "NAS5315V06A19D", "", map[string]string{"grip": "1.1875", "material": "titanium"}},
		// NAS1149 size 03 read in an assembly drawing.
		{"thick washer", "NAS1149F0363P", "NAS1149F0363P", "Washer, steel, flat, No. 10, 0.063 thick", map[string]string{"thickness": "0.063", "outside_diameter": "0.438", "inside_diameter": "0.203", "finish": "cadmium plated"}},
		{"thin washer", "nas1149 f0332 p", "NAS1149F0332P", "", map[string]string{"thickness": "0.032"}},
		{"old washer", "AN960 10L", "AN960-10L", "", map[string]string{"thickness": "0.032"}},
		{"lock nut", "AN365-1032A", "AN365-1032A", "Lock nut, steel, full height hex, 10-32, insert", map[string]string{"thread": "10-32", "lock": "non-metallic insert"}},
		{"NASM21083: MS21042-06 is 6-32", "MS21042-06", "MS21042-06", "", map[string]string{"thread": "6-32"}},
		{"and MS21042-6 is 3/8-24", "MS21042-6", "MS21042-6", "", map[string]string{"thread": "3/8-24"}},
		{"cotter pin", "MS24665-353", "MS24665-353", "", map[string]string{"diameter": "0.125", "length": "1"}},
		{"AN380-4-4 is the same size", "AN380-4-4", "AN380-4-4", "", map[string]string{"diameter": "0.125", "length": "1"}},
		{"AN393-9 rule of its page", "AN393-9", "AN393-9", "", map[string]string{"length": "0.28125", "diameter": "0.1875"}},
		{"flared fitting", "AN818-6D", "AN818-6D", "", map[string]string{"tube_diameter": "0.375", "thread": "9/16-18", "finish": "blue"}},
		// FAA-H-8083-30, worked example of nut coding.
		{"castle nut AN310D5R", "AN310D5R", "AN310D5R", "", map[string]string{"thread": "5/16-24", "diameter": "0.3125", "hand": "right-hand thread"}},
		{"left-hand check nut", "AN316-4L", "AN316-4L", "Check nut, steel, thin hex, 1/4-28, left-hand thread", nil},
		{"quantity in front", "24 x AN3-5A", "AN3-5A", "", nil},
		{"bag around", "bag H103: AN3-5A (24 ea)", "AN3-5A", "", nil},
		{"wing dash", "AN3–5A", "AN3-5A", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Decode(tt.text)
			if !r.Known || r.Designation != tt.designation {
				t.Fatalf("%q: got %v %q (%s), want %q", tt.text, r.Known, r.Designation, r.Problem, tt.designation)
			}
			if tt.title != "" && r.Title != tt.title {
				t.Errorf("%q: got title %q, want %q", tt.text, r.Title, tt.title)
			}
			for name, want := range tt.fields {
				f, ok := r.Field(name)
				got := f.Text
				if f.Length != 0 {
					got = f.Length.Decimal()
				}
				if !ok || got != want {
					t.Errorf("%q: field %s: got %q, want %q", tt.text, name, got, want)
				}
			}
			if _, ok := r.Outline(); !ok && r.Kind != Hinge && r.Kind != Grommet {
				t.Errorf("%q: no outline", tt.text)
			}
		})
	}
}

func TestDecodeRefuses(t *testing.T) {
	tests := []struct {
		name, text string
		problem    string   // part of the sentence; "" for no sentence at all
		nearest    []string // nil: not looked at
	}{
		{"dash 8", "AN3-8", "AN3-8 does not exist", []string{"AN3-7", "AN3-10"}},
		{"dash 19", "AN4-19A", "AN4-19A does not exist", []string{"AN4-17A", "AN4-20A"}},
		{"too short", "AN5-3", "is not in the published table, which begins with AN5-4", nil},
		{"beyond the table", "AN3-70", "AN3-70 is not in the tables here", []string{"AN3-67"}},
		{"no dash number", "AN3", "AN3 needs a dash number", nil},
		{"a nought that means another size", "MS21042-05", "MS21042-05 is not in the tables here", nil},
		{"foreign letter", "AN3-5B", `the tables here have no "B" behind AN3-5`, []string{"AN3-5"}},
		{"rivet without material", "AN470-4-7", "AN470 needs its material letter after AN470: A, AD, D, DD, B, E or KE", nil},
		{"unknown series", "AN9999-1", "AN9999 is not a series", nil},
		{"two ways to read", "AN324A", "AN324 is not a series in the tables here; if AN32-4A or AN3-24A is meant, write the dash", []string{"AN32-4A", "AN3-24A"}},
		{"too long", strings.Repeat("AN3-5A ", 10), "longer than 64", nil},
		{"kit part", "OQ-10-001", "", nil},
		{"kit part with hand", "OQ-10-031-L", "", nil},
		{"sealant", "SEAL-B2", "", nil},
		{"words", "hinge plate left", "", nil},
		{"designation inside another word", "XAN3-5A", "", nil},
		{"words in front", "bracket for AN3-5A", "", nil},
		{"nothing", "", "", nil},
		{"other alphabet", "АN3-5A", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := Decode(tt.text)
			if r.Known || (r.Problem == "") != (tt.problem == "") || !strings.Contains(r.Problem, tt.problem) {
				t.Errorf("%q: got %v %q %q, want a problem with %q", tt.text, r.Known, r.Designation, r.Problem, tt.problem)
			}
			if tt.nearest != nil && !slices.Equal(r.Nearest, tt.nearest) {
				t.Errorf("%q: got nearest %q, want %q", tt.text, r.Nearest, tt.nearest)
			}
			for _, near := range r.Nearest {
				if c, ok := Standard().Canonical(near); !ok || c != near {
					t.Errorf("%q: nearest %q is none itself", tt.text, near)
				}
			}
		})
	}
}

func TestGripUnknownAboveAN6(t *testing.T) {
	for _, text := range []string{"AN7-10A", "AN8-12", "AN9-41", "AN20-30A", "AN174-20", "AN42B-5", "AN73-10"} {
		r := Decode(text)
		f, ok := r.Field(Grip)
		if !r.Known || !ok || !f.Unknown || f.Length != 0 || !strings.HasPrefix(f.Text, "unknown: ") {
			t.Errorf("%s: got grip %+v, want it said to be unknown", text, f)
		}
		if len(r.Warnings) == 0 {
			t.Errorf("%s: no warning", text)
		}
	}
}

func TestCautions(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"aluminium under 1/4 (AC 43.13-1B par. 7-41)", "AN3DD5A", "not for primary structure (AC 43.13-1B par. 7-41"},
		{"aluminium of 1/4", "AN4DD5A", "removed often"},
		{"steel", "AN3-5A", ""},
		{"soft rivet", "AN470A4-7", "non-structural"},
		{"hard rivet", "AN470AD4-7", ""},
		{"shear nut", "AN364-1032A", "for shear only"},
		{"one number of a table", "MS24665-132", "measure it"},
		{"another number of it", "MS24665-353", ""},
		{"known by name", "MS24694S5", "known by its series only"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := strings.Join(Decode(tt.text).Warnings, "; ")
			if (got == "") != (tt.want == "") || !strings.Contains(got, tt.want) {
				t.Errorf("%s: got %q, want %q", tt.text, got, tt.want)
			}
		})
	}
}

func TestSuccessors(t *testing.T) {
	tests := []struct {
		name, text, want string
		checked          int
	}{
		{"washer, pair in kit packing lists", "AN960-10", "NAS1149F0363P", 1},
		{"thin washer", "AN960-10L", "NAS1149F0332P", 1},
		{"washer by dimension only", "AN960-1016", "NAS1149F1063P", 0},
		{"rivet keeps its numbers (AC 43.13-1B par. 4-57)", "AN470AD4-7", "MS20470AD4-7", 3},
		{"nut", "AN365-1032A", "MS20365-1032A", 2},
		{"NASM name", "MS21042-3", "NASM21042-3", 1},
		{"whole number of a cotter pin", "AN380-4-4", "MS24665-353", 1},
		{"series without a table", "AN507-832R8", "MS24693", 0},
		{"newer number", "NAS1149F0363P", "", 0},
		{"bolt", "AN3-5A", "", 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := Decode(tt.text).SupersededBy
			if s == nil {
				s = &Successor{}
			}
			if s.Designation != tt.want || s.Checked != tt.checked || tt.want != "" && s.Source == "" {
				t.Errorf("%s: got %+v, want %q checked %d", tt.text, *s, tt.want, tt.checked)
			}
			if strings.Contains(s.Note, "interchang") {
				t.Errorf("%s: called interchangeable: %q", tt.text, s.Note)
			}
		})
	}
}

func TestAlike(t *testing.T) {
	tests := []struct {
		name, first, second, want string // want "" for not alike
	}{
		{"neighbouring grip", "AN3-5A", "AN3-6A", "1/8 longer in the grip"},
		{"two steps apart", "AN3-4A", "AN3-6A", ""},
		{"drilling", "AN3-11", "AN3-11A", "no cotter-pin hole"},
		{"drilling the other way", "AN3-11A", "AN3-11", "cotter-pin hole"},
		{"both", "AN3-11", "AN3-12A", "1/8 longer in the grip, no cotter-pin hole"},
		{"another diameter", "AN3-5A", "AN4-5A", ""},
		{"dome rivets on neighbouring drawers", "AN470AD4-7", "AN470AD4-4", "3/16 shorter"},
		{"old and new rivet", "AN470AD4-7", "MS20470AD4-7", ""},
		{"soft rivet", "AN470AD4-7", "AN470A4-7", "1100 aluminium, not 2117 aluminium"},
		{"flush and dome", "AN426AD3-3", "AN470AD3-3", ""},
		{"reduced head", "AN426AD3-3", "NAS1097AD3-3", "smaller head, not full-size head"},
		{"thin washer", "NAS1149F0363P", "NAS1149F0332P", "thinner: 0.032, not 0.063"},
		{"old thin washer", "NAS1149F0363P", "AN960-10L", "thinner: 0.032, not 0.063"},
		{"same washer, old number", "NAS1149F0363P", "AN960-10", ""},
		{"another bolt size", "NAS1149F0363P", "NAS1149F0463P", ""},
		{"thin nut", "AN365-1032A", "AN364-1032A", "thin for shear, not full height"},
		{"castle and lock nut", "AN310-3", "AN365-1032A", ""},
		{"number twin", "MS21042-06", "MS21042-6", "almost the same number for another size: 3/8-24, not 6-32"},
		{"countersunk plate nut", "MS21047L08", "MS21049L08", "countersunk, not plain steel"},
		{"cotter pins of one length", "MS24665-132", "MS24665-208", "1/64 larger"},
		{"cotter pins far apart", "MS24665-132", "MS24665-353", ""},
		{"lockwire", "MS20995C32", "MS20995C41", "0.009 larger"},
		{"lockwire far apart", "MS20995C20", "MS20995C41", ""},
		{"O-rings", "AS568-012", "AS568-011", "0.063 smaller"},
		{"O-rings of another section", "AS568-012", "AS568-110", ""},
		{"clamps", "MS21919DG8", "MS21919DG7", "1/16 smaller"},
		{"close-tolerance bolt of one grip", "AN3-5A", "NAS6203-4", "close tolerance with short thread and a triangle on the head, not standard bolt"},
		{"hand of a thread", "AN316-4R", "AN316-4L", "left-hand thread"},
		{"rivets of two diameters", "AN470AD4-4", "AN470AD3-4", ""},
		{"screws of two sizes", "AN507-832R8", "AN507-1032R8", ""},
		{"pins of two diameters", "AN393-9", "AN394-9", ""},
		{"kit part", "OQ-10-001", "AN3-5A", ""},
		{"itself", "AN3-5A", "an3 5a", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, ok := Standard().Alike(tt.first, tt.second)
			if got != tt.want || ok != (tt.want != "") {
				t.Errorf("%s and %s: got %q %v, want %q", tt.first, tt.second, got, ok, tt.want)
			}
			if _, back := Standard().Alike(tt.second, tt.first); back != ok {
				t.Errorf("%s and %s: alike one way only", tt.first, tt.second)
			}
		})
	}
}

// BenchmarkDecode: under 5 microseconds each on a quiet machine.
func BenchmarkDecode(b *testing.B) {
	for _, text := range []string{"AN3-5A", "an470ad-4-3-5", "NAS1149F0363P", "AN365-1032A", "MS24665-132", "AN507-832R8", "AN3-8", "OQ-10-001"} {
		b.Run(text, func(b *testing.B) {
			Decode(text)
			b.ReportAllocs()
			for b.Loop() {
				Decode(text)
			}
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := load(); err != nil {
			b.Fatal(err)
		}
	}
}

// TestBothEnds: a fitting says each of its ends, and which of them is unknown.
func TestBothEnds(t *testing.T) {
	tests := []struct {
		text, designation string
		ends              []string // how each text begins
	}{
		{"AN816-6D", "AN816-6D", []string{"37 degree flare for 3/8 tube, thread 9/16-18", "unknown: pipe thread"}},
		{"AN816-6-4D", "AN816-6-4D", []string{"37 degree flare for 3/8 tube, thread 9/16-18", "1/4 pipe thread"}},
		{"AN816-4-4D", "AN816-4-4D", []string{"37 degree flare for 1/4 tube, thread 7/16-20", "1/4 pipe thread"}},
		{"AN816D6-4", "AN816-6-4D", []string{"37 degree", "1/4 pipe thread"}},
		{"AN816-6 4 D", "AN816-6-4D", []string{"37 degree", "1/4 pipe thread"}},
		{"AN822-4D", "AN822-4D", []string{"37 degree flare for 1/4 tube", "unknown: pipe thread"}},
		{"AN825-6-4D", "AN825-6-4D", []string{"37 degree", "37 degree", "1/4 pipe thread"}},
		{"AN826-6D", "AN826-6D", []string{"37 degree", "unknown: pipe", "37 degree"}},
		{"AN919-8D", "AN919-8D", []string{"unknown: the numbers of AN919", "unknown"}},
		{"AN815-6", "AN815-6", []string{"37 degree", "37 degree"}},
		{"AN832-6D", "AN832-6D", []string{"37 degree", "37 degree flare for 3/8 tube, thread 9/16-18, through a bulkhead"}},
		{"AN840-4D", "AN840-4D", []string{"for hose of 1/4 inside", "unknown: pipe"}},
		{"AN894D6-4", "AN894-6-4D", []string{"unknown", "1/4 tube"}},
		{"AN911-2D", "AN911-2D", []string{"1/4 pipe thread", "1/4 pipe thread"}},
		{"AN929A6", "AN929A6", []string{"37 degree flare for 3/8 tube"}},
		{"AN818-6D", "AN818-6D", nil},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			r := Decode(tt.text)
			var got []string
			for _, f := range r.Fields {
				if strings.HasSuffix(f.Name, "_end") {
					got = append(got, f.Text)
				}
			}
			if r.Designation != tt.designation || len(got) != len(tt.ends) {
				t.Fatalf("got %q with ends %q (%s)", r.Designation, got, r.Problem)
			}
			for i := range got {
				if !strings.HasPrefix(got[i], tt.ends[i]) {
					t.Errorf("end %d: got %q, want %q", i+1, got[i], tt.ends[i])
				}
			}
		})
	}
}

// TestWrittenEveryDay: numbers that people write and that were refused.
func TestWrittenEveryDay(t *testing.T) {
	tests := []struct {
		text, designation string
		fields            map[string]string // how each text begins
	}{
		{"NAS464P4A10", "NAS464P4A10", map[string]string{Grip: "5/8", ShankDrilled: "no", Thread: "1/4-28"}},
		{"MS20600AD4W4", "MS20600AD4W4", map[string]string{Material: "2117 aluminium"}},
		{"MS21260S3LH", "MS21260S3LH", map[string]string{CableDiameter: "3/32", Hand: "left-hand"}},
		{"AN669-S3RH", "AN669S3RH", map[string]string{CableDiameter: "3/32", Hand: "right-hand"}},
		{"MS20663C3", "MS20663C3", map[string]string{Material: "corrosion-resistant steel"}},
		{"AN960JD416", "AN960JD416", map[string]string{Material: "aluminium", Finish: "unknown"}},
		{"AN960KD10L", "AN960KD10L", map[string]string{Material: "aluminium", Thickness: "0.032"}},
		{"MS20995NC32", "MS20995NC32", map[string]string{Diameter: "0.032", Material: "nickel-copper"}},
		{"MS20470KE6-8", "MS20470KE6-8", map[string]string{Diameter: "3/16", LengthField: "1/2", Material: "aluminium 7050"}},
		{"NAS1097KE4-5", "NAS1097KE4-5", map[string]string{Material: "aluminium 7050"}},
		{"MS20615-4M6", "MS20615-4M6", map[string]string{Material: "Monel", Diameter: "1/8", LengthField: "3/8"}},
		{"MS20615M4-6", "MS20615-4M6", nil},
		{"AS568A-012", "AS568-012", map[string]string{InsideDiameter: "0.364"}},
		{"as568d 214", "AS568-214", nil},
		{"AS568-312", "AS568-312", map[string]string{InsideDiameter: "0.600", CrossSection: "0.210"}},
		{"AS568-380", "AS568-380", map[string]string{InsideDiameter: "unknown", CrossSection: "0.210"}},
		{"AS568-429", "AS568-429", map[string]string{InsideDiameter: "4.975", CrossSection: "0.275"}},
		{"AS568-904", "AS568-904", map[string]string{Fits: "boss of a straight thread fitting for 1/4 tube"}},
		{"AN362F428", "AN362F428", map[string]string{Thread: "1/4-28"}},
		{"AN3-5A bolt for the hinge", "AN3-5A", nil},
		{"bolt AN3-5A, hex head, steel", "AN3-5A", nil},
		{"hinge bolt AN3-5A (24 ea)", "AN3-5A", nil},
		{"AN3DD5 aluminium bolt", "AN3DD5", nil},
		{"AN470AD4-4 universal head rivet", "AN470AD4-4", nil},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			r := Decode(tt.text)
			if r.Designation != tt.designation {
				t.Fatalf("got %q (%s), want %q", r.Designation, r.Problem, tt.designation)
			}
			for name, want := range tt.fields {
				if f, ok := r.Field(name); !ok || !strings.HasPrefix(f.Text, want) {
					t.Errorf("%s: got %q, want %q", name, f.Text, want)
				}
			}
		})
	}
	for text, want := range map[string]string{
		"AN23": "AN23 needs a dash number: AN23-4 to AN23-64 are in the tables here; it is a clevis bolt, slotted domed head for shear only, 10-32",
		"AN3":  "it is a bolt, hex head, 10-32",
	} {
		if r := Decode(text); r.Known || !strings.Contains(r.Problem, want) {
			t.Errorf("%s: got %q, want %q", text, r.Problem, want)
		}
	}
	for _, text := range []string{"bracket for AN3-5A", "AN3-5A to AN3-7A", "AN3-5A longer", "for AN3-5A", "AN3-5A or AN3-6A", "nutplate AN3-5A"} {
		if r := Decode(text); r.Known {
			t.Errorf("%q is read as %s", text, r.Designation)
		}
	}
}
