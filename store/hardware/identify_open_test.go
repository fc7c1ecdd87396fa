package hardware

import (
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestNothingIsDropped: families that the readings do not speak against are
// named, with or without figures.
func TestNothingIsDropped(t *testing.T) {
	tests := []struct {
		name     string
		r        Readings
		first    string // the first candidate, any letters
		open     string // part of what is not excluded
		openNot  string // what must not be in it
		cannot   string // part of what cannot be told
		fitsMany []string
	}{
		{
			"a pan head is not the structural one alone",
			Readings{Kind: Screw, Head: "pan", Diameter: 190 * thou, ThreadsPerInch: 32, Length: measure.Inches(5, 8)},
			"MS27039-1-10", "not ruled out: no published table here of the numbers of MS35207", "MS35206", "", nil,
		},
		{
			"coarse",
			Readings{Kind: Screw, Head: "pan", Diameter: 190 * thou, ThreadsPerInch: 24, Length: measure.Inches(5, 8)},
			"", "MS35206", "MS35207", "", nil,
		},
		{
			"every cushion of a clamp",
			Readings{Kind: Clamp, Inside: measure.Inches(3, 8)},
			"MS21919DE6", "", "no aircraft piece", "colour of the cushion",
			[]string{"MS21919DG6", "MS21919CH6", "MS21919G6"},
		},
		{
			"a cap screw of the trade",
			Readings{Kind: Bolt, Diameter: 189 * thou, Grip: measure.Inches(1, 4)},
			"", "or no aircraft piece at all: look for the marking on the head", "", "", nil,
		},
		{
			"marked",
			Readings{Kind: Bolt, Diameter: 189 * thou, Grip: measure.Inches(1, 4), Marking: "triangle"},
			"NAS6203-4", "", "no aircraft piece", "", nil,
		},
		{"the section of an O-ring", Readings{Kind: ORing, Inside: 364 * thou, Thickness: 70 * thou}, "AS568-012", "", "", "", nil},
		{"and its outside", Readings{Kind: ORing, Outside: 504 * thou, Thickness: 70 * thou}, "AS568-012", "", "", "", nil},
		{"the height of a nut", Readings{Kind: Nut, Diameter: 190 * thou, ThreadsPerInch: 32, Thickness: 240 * thou}, "", "AN364", "", "", []string{"AN365-1032", "AN310-3"}},
		{"flats of a nut", Readings{Kind: Nut, Diameter: 250 * thou, AcrossFlats: measure.Inches(7, 16)}, "", "not excluded, because the tables lack a figure", "", "", nil},
		{"a clevis bolt by its name", Readings{Kind: Bolt, Head: "clevis", Diameter: 190 * thou, Length: measure.Inches(5, 8)}, "AN23-10", "", "", "", nil},
		{
			"a thread of another size is not the one that was given",
			Readings{Kind: Screw, Head: "pan", ThreadSize: 190 * thou, ThreadsPerInch: 32, Length: measure.Inches(5, 8)},
			"MS27039-1-10", "no published table here of the numbers of MS35207", "MS35206", "", nil,
		},
		{"nor one of the same size", Readings{Kind: Bolt, Head: "deep hex", ThreadSize: 190 * thou, ThreadsPerInch: 24}, "AN73A-3", "", "", "", nil},
		{"a marking without a kind", Readings{Marking: "double dash", Diameter: measure.Inches(1, 8)}, "AN470DD4-2", "", "no aircraft piece", "more than", nil},
		{"a marking alone", Readings{Marking: "double dash", Kind: Rivet}, "AN470DD2-2", "", "no aircraft piece", "more than 40 pieces fit: measure the", nil},
		{"a head alone", Readings{Head: "clevis", Kind: Bolt}, "AN21-4", "", "", "more than", nil},
		{
			"a marking of no table",
			Readings{Kind: Bolt, Diameter: 250 * thou, Marking: "three radial lines"},
			"", "or no aircraft piece at all: no piece of these measures", "", "cannot be excluded", nil,
		},
		{"two dashes as people say it", Readings{Kind: Rivet, Head: "universal", Marking: "double dash", Diameter: measure.Inches(1, 8), Length: measure.Inches(1, 4)}, "AN470DD4-4", "", "", "", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			id, err := Standard().Identify(tt.r, nil)
			if err != nil {
				t.Fatal(err)
			}
			var fits []string
			for _, k := range id.Candidates {
				if k.Fits {
					fits = append(fits, k.Designation)
				}
			}
			if tt.first != "" && (len(fits) == 0 || fits[0] != tt.first) {
				t.Errorf("got %q, want %s first", fits, tt.first)
			}
			if !strings.Contains(id.NotExcluded, tt.open) || tt.openNot != "" && strings.Contains(id.NotExcluded, tt.openNot) {
				t.Errorf("not excluded: got %q, want %q, without %q", id.NotExcluded, tt.open, tt.openNot)
			}
			if !strings.Contains(id.CannotTell, tt.cannot) {
				t.Errorf("cannot tell: got %q, want %q", id.CannotTell, tt.cannot)
			}
			for _, want := range tt.fitsMany {
				if !slices.ContainsFunc(fits, func(f string) bool { return strings.TrimSuffix(f, "A") == want || f == want }) {
					t.Errorf("%s is not among %q", want, fits)
				}
			}
		})
	}
}

func TestMarked(t *testing.T) {
	for _, tt := range []struct {
		text, seen string
		want       bool
	}{
		{"two raised dashes", "double dash", true},
		{"two raised dashes", "two dashes", true},
		{"two raised dashes", "Dash", true},
		{"single raised dash", "double dash", false},
		{"raised dash or cross", "double dash", false},
		{"raised dash or cross", "x", true},
		{"raised dash or cross", "asterisk", true},
		{"raised dot", "dot", true},
		{"dimple", "cross", false},
		{"triangle", "triang", true},
	} {
		if got := (&Field{Text: tt.text}).marked(tt.seen); got != tt.want {
			t.Errorf("%q seen as %q: got %v", tt.text, tt.seen, got)
		}
	}
}

// TestReadThread: what is taken for a thread. Sizes of screws by number: ASME B1.1,
// 0.060 and 0.013 for each number.
func TestReadThread(t *testing.T) {
	for _, tt := range []struct {
		text string
		size measure.Length
		tpi  int
		ok   bool
	}{
		{"32", 0, 32, true},
		{" 10-32 ", 190 * thou, 32, true},
		{"#10-32", 190 * thou, 32, true},
		{"4-40", 112 * thou, 40, true},
		{"1/4-28", 250 * thou, 28, true},
		{".25-28", 250 * thou, 28, true},
		{"1-14", measure.Inch, 14, true},
		{"1-72", 73 * thou, 72, true},
		{"1-1/4-12", measure.Inches(5, 4), 12, true},
		{"3", 0, 0, false},
		{"201", 0, 0, false},
		{"-32", 0, 0, false},
		{"fine", 0, 0, false},
		{"20-32", 0, 0, false},
		{"0-80", 60 * thou, 80, true},
		{"x-32", 0, 0, false},
		{"", 0, 0, false},
	} {
		var r Readings
		if ok := r.ReadThread(tt.text); ok != tt.ok || r.ThreadSize != tt.size || r.ThreadsPerInch != tt.tpi {
			t.Errorf("%q: got %v, %s, %d; want %v, %s, %d", tt.text, ok, r.ThreadSize, r.ThreadsPerInch, tt.ok, tt.size, tt.tpi)
		}
	}
}

// TestThreadSizeRulesOut: nothing of another thread fits, whatever its pitch.
func TestThreadSizeRulesOut(t *testing.T) {
	for _, kind := range []Kind{Bolt, Screw, Nut, PlateNut, RivetNut} {
		for _, thread := range []string{"8-32", "10-32", "10-24", "1/4-28", "5/16-24"} {
			r := Readings{Kind: kind}
			if !r.ReadThread(thread) {
				t.Fatal(thread)
			}
			id, err := Standard().Identify(r, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, k := range id.Candidates {
				if f := k.piece.fact(Thread); k.Fits && (f == nil || threadKey(f.Text) != thread) {
					t.Errorf("%s %s: %s fits", kind, thread, k.Designation)
				}
			}
		}
	}
}
