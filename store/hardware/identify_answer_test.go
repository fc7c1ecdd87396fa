package hardware

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestMerge: a number and its successor are one piece, by the number that is at hand;
// what is listed twice stands once.
func TestMerge(t *testing.T) {
	one := func(text string, shop bool) Candidate {
		p := mustParse(t, text)
		return Candidate{Designation: p.canonical(), piece: p, InShop: shop, Fits: true}
	}
	for _, tt := range []struct {
		name string
		list []Candidate
		want []string // with what each is called as well
	}{
		{"old and new", []Candidate{one("AN470AD4-7", false), one("MS20470AD4-7", false)}, []string{"AN470AD4-7 MS20470AD4-7"}},
		{"new and old", []Candidate{one("MS20470AD4-7", false), one("AN470AD4-7", false)}, []string{"AN470AD4-7 MS20470AD4-7"}},
		{"the new one at hand", []Candidate{one("MS20470AD4-7", true), one("AN470AD4-7", false)}, []string{"MS20470AD4-7 AN470AD4-7"}},
		{"both at hand", []Candidate{one("AN470AD4-7", true), one("MS20470AD4-7", true)}, []string{"AN470AD4-7 MS20470AD4-7"}},
		{"twice", []Candidate{one("AN3-5A", true), one("AN3-5A", false)}, []string{"AN3-5A"}},
		{"another length", []Candidate{one("AN470AD4-7", false), one("MS20470AD4-6", false)}, []string{"AN470AD4-7", "MS20470AD4-6"}},
		{"the finish of a washer cannot be measured", []Candidate{one("AN960-10", false), one("NAS1149F0363", false)}, []string{"AN960-10 NAS1149F0363P"}},
		{"at hand with its finish", []Candidate{one("NAS1149F0363P", true), one("AN960-10", false)}, []string{"NAS1149F0363P AN960-10"}},
		{"none", nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, k := range merge(slices.Clone(tt.list)) {
				got = append(got, strings.Join(append([]string{k.Designation}, k.Also...), " "))
				if tt.name != "twice" && k.InShop != slices.ContainsFunc(tt.list, func(l Candidate) bool { return l.InShop }) {
					t.Errorf("%s: at hand %v", k.Designation, k.InShop)
				}
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// TestHowManyAreLeft: the sentence on what the readings leave open.
func TestHowManyAreLeft(t *testing.T) {
	tests := []struct {
		name  string
		r     Readings
		want  string // part of what cannot be told, "" for nothing
		first string
	}{
		{
			"two of one drilling",
			Readings{Kind: Bolt, Diameter: 188 * thou, Grip: measure.Inches(1, 4), Length: measure.Inches(21, 32), Head: "hex head"},
			"AN3-5A differs: no cotter-pin hole", "AN3-5",
		},
		{"one", Readings{Kind: Rivet, Diameter: measure.Inches(1, 8), Length: measure.Inches(1, 4), Head: "universal", Marking: "dimple"}, "", "AN470AD4-4"},
		{"near miss", Readings{Kind: CotterPin, Diameter: 110 * thou, Length: measure.Inches(1, 2)}, "nothing in the tables fits within its tolerance; the nearest is", ""},
		{"nothing to compare", Readings{Kind: Hinge, Thickness: 50 * thou}, "nothing in the tables comes near these readings", ""},
		{"many", Readings{Kind: Rivet, Diameter: measure.Inches(1, 8)}, "more than", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			id, err := Standard().Identify(tt.r, nil)
			if err != nil {
				t.Fatal(err)
			}
			if (id.CannotTell == "") != (tt.want == "") || !strings.Contains(id.CannotTell, tt.want) {
				t.Errorf("got %q, want %q", id.CannotTell, tt.want)
			}
			if tt.first != "" && (len(id.Candidates) == 0 || id.Candidates[0].Designation != tt.first) {
				t.Errorf("got %+v first, want %s", id.Candidates, tt.first)
			}
			for i, k := range id.Candidates {
				if k.RuledOut != "" && k.Fits || k.RuledOut == "" && !k.Fits {
					t.Errorf("%s fits %v and is ruled out by %q", k.Designation, k.Fits, k.RuledOut)
				}
				if i > 0 && k.Fits && !id.Candidates[i-1].Fits {
					t.Errorf("%s fits and stands behind %s", k.Designation, id.Candidates[i-1].Designation)
				}
			}
		})
	}
}

// TestUndecided: the words for two, three and more, and for those of which no figure
// shows that they fit.
func TestUndecided(t *testing.T) {
	make1 := func(open bool, texts ...string) []Candidate {
		var out []Candidate
		for _, text := range texts {
			p := mustParse(t, text)
			out = append(out, Candidate{Designation: p.canonical(), piece: p, Fits: true, Incomplete: open})
		}
		return out
	}
	for _, tt := range []struct {
		list []Candidate
		more bool
		want string
	}{
		{make1(false, "AN3-5", "AN3-5A"), false, "AN3-5 and AN3-5A both fit; AN3-5A differs: no cotter-pin hole"},
		{make1(true, "AN3-5", "AN3-5A"), false, "neither AN3-5 nor AN3-5A can be excluded; AN3-5A differs: no cotter-pin hole"},
		{make1(false, "AN3-5", "AN3-5A", "AN3H-5"), false, "3 pieces fit; AN3-5A differs: no cotter-pin hole"},
		{make1(false, "AN3-5", "AN3-5A", "AN3H-5", "AN3H-5A"), false, "4 pieces fit: look for a cotter-pin hole"},
		{make1(false, "AN3-5", "AN3H-5", "AN3-5", "AN3H-5"), false, "4 pieces fit: look for a lockwire hole in the head"},
		{make1(false, "AN3-5", "AN3-6", "AN3-7", "AN3-10"), true, "more than 4 pieces fit: measure the grip next"},
		{make1(true, "AN3-5", "AN3-6", "AN3-7", "AN3-10"), false, "4 pieces cannot be excluded: measure the grip next"},
		{make1(false, "AN470AD4-4", "AN426AD4-4"), false, "AN470AD4-4 and AN426AD4-4 both fit: say what shape the head has"},
		{make1(false, "AN470AD4-4", "AN470A4-4", "AN470D4-4", "AN470B4-4"), false, "4 pieces fit: look at the marking on the head and try a magnet"},
		{make1(false, "MS21919DG6", "MS21919CH6", "MS21919F6", "MS21919G6"), false, "4 pieces fit: look at the colour of the cushion"},
		{make1(false, "M83248/1-012", "AS568-012", "MS29513-012", "M83248/2-012"), false, "4 pieces fit: these readings cannot separate them; compare with a known piece"},
	} {
		if got := undecided(tt.list, &Readings{}, tt.more); !strings.HasPrefix(got, tt.want) {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
	// What was measured is not asked for again.
	r := Readings{Grip: measure.Inches(1, 4)}
	if got := undecided(make1(false, "AN3-5", "AN3-6", "AN3-7", "AN3-10"), &r, false); !strings.HasSuffix(got, "measure the length next") {
		t.Errorf("got %q", got)
	}
}

// TestMarkingJudged: what a marking says of a piece: of one that has none of its own,
// of one whose marking no source gives, and of one that could have none.
func TestMarkingJudged(t *testing.T) {
	r := Readings{Marking: "triangle"}
	for number, want := range map[string]string{
		"NAS6204-8":  "",
		"AN525-10R8": "no published head marking to compare with",
		"AN960-10":   "a washer has no head to be marked",
		"AN3-5A":     "head marked: raised dash or cross",
		"MS21919DG6": "a clamp has no head to be marked",
	} {
		got := ""
		for _, j := range judgeFeatures(&[]piece{mustParse(t, number)}[0], &r) {
			if strings.Contains(j.Text, "mark") {
				got = j.Text
			}
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", number, got, want)
		}
	}
}

// TestJudgedToTheTenth: how many tolerances a reading is out, at each edge. The band
// of a rivet's length is 0.010 on either side (half sizes are 1/32 apart), a caliper
// may be 0.002 off, and a tolerance is 1/64.
func TestJudgedToTheTenth(t *testing.T) {
	p := mustParse(t, "AN470AD4-4")
	q := &quantities[4]
	for _, tt := range []struct {
		read measure.Length
		away Tolerances
	}{
		{measure.Inches(1, 4), 0},
		{262 * thou, 0},
		{263 * thou, 1},
		{238 * thou, 0},
		{237 * thou, 1},
		{262*thou + sixtyFourth, 10},
		{262*thou + sixtyFourth + 1, 11},
		{262*thou + 3*sixtyFourth, 30},
	} {
		j := judgeLength(&p, q, tt.read)
		if j.Away != tt.away || j.Unknown || (tt.away == 0) != strings.HasSuffix(j.Text, ": within 1/4 (0.250)") {
			t.Errorf("%s: got %s tolerances, %q; want %s", tt.read, j.Away, j.Text, tt.away)
		}
		if tt.away > 0 && !strings.Contains(j.Text, fmt.Sprintf("%s tolerances from 1/4 (0.250)", tt.away)) {
			t.Errorf("%s: got %q", tt.read, j.Text)
		}
	}
	if got := Tolerances(15).String() + " " + Tolerances(0).String() + " " + Tolerances(104).String(); got != "1.5 0.0 10.4" {
		t.Errorf("got %q", got)
	}
}

// TestShownAtMost: no more than twelve that fit are shown, three of those that lack a
// figure, and six near misses.
func TestShownAtMost(t *testing.T) {
	for _, tt := range []struct {
		name      string
		r         Readings
		fit, open int
		none      int
	}{
		{"many fit", Readings{Kind: Rivet, Diameter: measure.Inches(1, 8)}, maxShown, 0, 0},
		{"a few with all figures and some without", Readings{Kind: Screw, Head: "pan", ThreadsPerInch: 32, ThreadSize: 190 * thou, Length: measure.Inches(5, 8)}, 1, maxOpen, 0},
		{"none", Readings{Kind: Bolt, Diameter: 2900 * thou}, 0, 0, maxShown / 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			id, err := Standard().Identify(tt.r, nil)
			if err != nil {
				t.Fatal(err)
			}
			fit, open, none := 0, 0, 0
			for _, k := range id.Candidates {
				switch {
				case k.Fits && k.Incomplete:
					open++
				case k.Fits:
					fit++
				case !slices.ContainsFunc(id.LookAlikes, func(l LookAlike) bool { return l.Designation == k.Designation }):
					none++
				}
			}
			if fit != tt.fit || open != tt.open || none > tt.none || tt.none > 0 && len(id.Candidates) < tt.none {
				t.Errorf("%d fit, %d are open, %d do not fit; want %d, %d, %d", fit, open, none, tt.fit, tt.open, tt.none)
			}
		})
	}
}
