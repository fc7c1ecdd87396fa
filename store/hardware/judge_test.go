package hardware

import (
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"stowright/store/measure"
)

func TestAway(t *testing.T) {
	q := &quantities[4] // length: one tolerance is 1/64
	b := band{measure.Inches(1, 2), measure.Inches(5, 8)}
	tests := []struct {
		name string
		read measure.Length
		want Tolerances
	}{
		{"inside", measure.Inches(9, 16), 0},
		{"low edge", measure.Inches(1, 2), 0},
		{"high edge", measure.Inches(5, 8), 0},
		{"within the error of reading below", measure.Inches(1, 2) - readingError, 0},
		{"a hair more below", measure.Inches(1, 2) - readingError - 1, 1},
		{"one tolerance below", measure.Inches(1, 2) - readingError - sixtyFourth, 10},
		{"two and a half above", measure.Inches(5, 8) + readingError + 5*sixtyFourth/2, 25},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := q.away(b, tt.read); got != tt.want {
				t.Errorf("%s from %s to %s: got %s, want %s", tt.read, b.low, b.high, got, tt.want)
			}
		})
	}
	if got := Tolerances(15).String(); got != "1.5" {
		t.Errorf("got %q, want 1.5", got)
	}
}

func TestBandOf(t *testing.T) {
	tests := []struct{ name, designation, field, low, high string }{
		{"published shank", "AN3-5A", Diameter, "0.186", "0.19"},
		{"published grip tolerance", "AN3-5A", Grip, "15/64", "17/64"},
		{"published length tolerance", "AN3-5A", LengthField, "41/64", "11/16"},
		{"flats of a sheet", "NAS6204-8", AcrossFlats, "0.429", "0.439"},
		{"nominal length", "AN9-10", LengthField, "1", "1-3/16"},
		{"grip and thread together", "NAS6204-8", LengthField, "0.83875", "0.90125"},
		{"rivet", "AN470AD4-4", LengthField, "0.24", "0.26"},
		{"default of a washer", "NAS1149F0363P", Thickness, "0.058", "0.068"},
		{"nothing known", "AN3-5A", Thickness, "", ""},
		{"grip unknown", "AN7-10", Grip, "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, no := Standard().parse(tt.designation)
			if no != nil {
				t.Fatal(no.problem)
			}
			i := slices.IndexFunc(quantities[:], func(q quantity) bool { return q.field == tt.field })
			got := bandOf(&p, &quantities[i])
			if want := (band{length(t, tt.low), length(t, tt.high)}); got != want {
				t.Errorf("%s %s: got %s to %s, want %s to %s", tt.designation, tt.field, got.low, got.high, want.low, want.high)
			}
		})
	}
}

func TestMagnetic(t *testing.T) {
	for material, want := range map[string]Answer{
		"alloy steel": Yes, "cadmium plated carbon steel": Yes, "corrosion-resistant steel": NotLooked, "A286 corrosion-resistant steel": NotLooked,
		"Monel": NotLooked, "aluminium 2117-T4": No, "brass": No, "copper alloy": No, "titanium": No, "rubber": NotLooked,
	} {
		t.Run(material, func(t *testing.T) {
			if got := magnetic(material); got != want {
				t.Errorf("got %v, want %v", got, want)
			}
		})
	}
}

// TestJudged: what each reading says of a piece, for and against.
func TestJudged(t *testing.T) {
	tests := []struct {
		name, designation string
		r                 Readings
		fits, incomplete  bool
		says              string
	}{
		{"length fits", "AN3-5A", Readings{Length: 656 * thou}, true, false, "length 0.656: within 21/32 (0.65625)"},
		{"length does not", "AN3-6A", Readings{Length: 656 * thou}, false, false, "length 0.656: 6.9 tolerances from 25/32 (0.78125)"},
		{"length unknown but nominal", "AN9-10", Readings{Length: 1100 * thou}, true, true, "length 1.100: within about 1"},
		{"grip unknown", "AN7-10", Readings{Grip: 400 * thou}, true, true, "grip 0.400: no published figure to compare with"},
		{"a washer has no grip", "AN960-10", Readings{Grip: 400 * thou}, false, false, "a washer has no grip"},
		{"thread", "AN3-5A", Readings{ThreadsPerInch: 28}, false, false, "28 threads per inch: it is 10-32"},
		{"no thread at all", "AN470AD4-4", Readings{ThreadsPerInch: 32}, false, false, "it has no thread"},
		{"head", "AN3-5A", Readings{Length: 656 * thou, Head: "eye"}, false, false, "its head is hex head"},
		{"marking", "AN470AD4-4", Readings{Length: 250 * thou, Marking: "Cross"}, false, false, "head marked: dimple"},
		{"marking of the series", "NAS6204-8", Readings{Grip: 500 * thou, Marking: "triangle"}, true, false, "grip 0.500: within"},
		{"marking of another series", "NAS6204-8", Readings{Grip: 500 * thou, Marking: "cross"}, false, false, "head marked: triangle"},
		{"no marking known", "AN393-9", Readings{Length: 281 * thou, Marking: "dot"}, true, true, "no published head marking"},
		{"magnet on aluminium", "AN4DD5A", Readings{Length: 656 * thou, Magnetic: Yes}, false, false, "against the magnet test"},
		{"magnet on steel", "AN4-5A", Readings{Length: 656 * thou, Magnetic: Yes}, true, false, "within"},
		{"drilled", "AN4-5A", Readings{Length: 656 * thou, ShankDrilled: Yes}, false, false, "it has no cotter-pin hole"},
		{"not drilled", "AN4-5", Readings{Length: 656 * thou, ShankDrilled: No}, false, false, "it has a cotter-pin hole"},
		{"head drilled", "AN4-5A", Readings{Length: 656 * thou, HeadDrilled: Yes}, false, false, "no lockwire hole"},
		{"rivet with a hole", "AN470AD4-4", Readings{Length: 250 * thou, ShankDrilled: Yes}, false, false, "a rivet has no cotter-pin hole"},
		{"letter that is not settled", "NAS6204-8H", Readings{Grip: 500 * thou, HeadDrilled: No}, true, false, "within"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, no := Standard().parse(tt.designation)
			if no != nil {
				t.Fatal(no.problem)
			}
			asked, err := tt.r.asked()
			if err != nil {
				t.Fatal(err)
			}
			k := judge(p, &tt.r, asked)
			var says []string
			for _, j := range k.Judged {
				says = append(says, j.Text)
			}
			all := strings.Join(says, "; ")
			if k.Fits != tt.fits || k.Incomplete != tt.incomplete || !strings.Contains(all, tt.says) {
				t.Errorf("got fits %v incomplete %v %q, want %v %v %q", k.Fits, k.Incomplete, all, tt.fits, tt.incomplete, tt.says)
			}
			if (k.RuledOut == "") != tt.fits {
				t.Errorf("got ruled out by %q, fits %v", k.RuledOut, tt.fits)
			}
		})
	}
}

func TestAsked(t *testing.T) {
	tests := []struct {
		name string
		r    Readings
		tpi  int
		n    int
		ok   bool
	}{
		{"nothing", Readings{Kind: Bolt, Magnetic: Yes}, 0, 0, false},
		{"a head alone", Readings{Head: "hex"}, 0, 0, true},
		{"a marking alone", Readings{Marking: "dimple"}, 0, 0, true},
		{"thread alone", Readings{ThreadsPerInch: 32}, 32, 0, true},
		{"pitch in millimetres", Readings{ThreadPitch: 794 * measure.Micrometre}, 32, 0, true},
		{"fine pitch", Readings{ThreadPitch: 907 * measure.Micrometre}, 28, 0, true},
		{"two lengths", Readings{Diameter: 190 * thou, Length: measure.Inch}, 0, 2, true},
		{"negative", Readings{Diameter: -1}, 0, 0, false},
		{"a mile", Readings{Length: 500 * measure.Inch}, 0, 0, false},
		{"a thousand threads", Readings{ThreadsPerInch: 1000}, 0, 0, false},
		{"minus threads", Readings{ThreadsPerInch: -3}, 0, 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.r.asked()
			if (err == nil) != tt.ok || tt.ok && (len(got) != tt.n || tt.r.ThreadsPerInch != tt.tpi) {
				t.Errorf("got %d readings, %d threads, %v; want %d, %d", len(got), tt.r.ThreadsPerInch, err, tt.n, tt.tpi)
			}
		})
	}
}

func TestBetter(t *testing.T) {
	list := []Candidate{
		{Designation: "far", Away: 50, total: 50},
		{Designation: "shop but far", Away: 60, total: 60, InShop: true},
		{Designation: "open", Fits: true, Incomplete: true},
		{Designation: "second", Fits: true, Away: 3, total: 5},
		{Designation: "shop", Fits: true, InShop: true, Away: 9, total: 9},
		{Designation: "first of the table", Fits: true, Away: 3, total: 3, order: 1},
		{Designation: "later in the table", Fits: true, Away: 3, total: 3, order: 2},
	}
	slices.SortStableFunc(list, better)
	var got []string
	for _, k := range list {
		got = append(got, k.Designation)
	}
	want := []string{"shop", "first of the table", "later in the table", "second", "open", "far", "shop but far"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// TestNextReading: what is asked for has not been measured and separates.
func TestNextReading(t *testing.T) {
	tests := []struct {
		name string
		r    Readings
		want string
	}{
		{"diameter of a bolt", Readings{Kind: Bolt, Diameter: 248 * thou, Head: "hex head", ShankDrilled: No}, "measure the length next"},
		{"diameter of a rivet", Readings{Kind: Rivet, Diameter: measure.Inches(1, 8)}, "measure the length next"},
		{"rivet measured", Readings{Kind: Rivet, Diameter: measure.Inches(1, 8), Length: measure.Inches(1, 4)}, "say what shape the head has"},
		{"hole of a washer", Readings{Kind: Washer, Inside: 203 * thou}, "measure the"},
		{"length of a pin", Readings{Kind: CotterPin, Length: measure.Inches(1, 2)}, "measure the diameter next"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			id, err := Standard().Identify(tt.r, nil)
			if err != nil || !strings.Contains(id.CannotTell, tt.want) {
				t.Errorf("got %q, %v, want %q", id.CannotTell, err, tt.want)
			}
		})
	}
}

// TestIdentifyAnyPiece measures pieces taken at random, each figure somewhere in
// its published band, and asks for them back: they must be among what fits.
func TestIdentifyAnyPiece(t *testing.T) {
	const seed = 3
	rng := rand.New(rand.NewPCG(seed, seed))
	c := Standard()
	all := c.entries()
	for range 300 {
		e := all[rng.IntN(len(all))]
		p := piece{s: e.s, nums: e.nums}
		r := Readings{Kind: e.s.kind, Head: e.s.style}
		n := 0
		for i, q := range quantities {
			if b := e.bands[i]; b.high != 0 {
				*q.of(&r) = b.low + measure.Length(rng.Int64N(int64(b.high-b.low+1)))
				n++
			}
		}
		if n == 0 || e.s.kind == Fitting || e.s.kind == CablePart {
			continue
		}
		r.ThreadsPerInch = e.tpi
		variants := e.candidates(&r, nil)
		want := variants[0].Designation
		id, err := c.Identify(r, []string{want})
		if err != nil {
			t.Fatalf("seed %d: %s: %v", seed, p.canonical(), err)
		}
		if k := id.Candidates[0]; !k.Fits || !k.InShop {
			t.Errorf("seed %d: %s measured as %+v: got %s first, fits %v", seed, want, r, k.Designation, k.Fits)
		}
	}
}

// TestConcurrent: one catalog serves many goroutines from its first use on.
func TestConcurrent(t *testing.T) {
	c, err := load()
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() {
			for range 20 {
				if r := c.Decode("AN3-5A"); !r.Known {
					t.Error("AN3-5A is not known")
				}
				if _, err := c.Identify(Readings{Diameter: measure.Length(180+i) * thou}, nil); err != nil {
					t.Error(err)
				}
			}
			own := []OwnRow{{Designation: "AN7-10", Source: "sheet", Figures: []OwnFigure{{Grip, measure.Inches(7, 16)}}}}
			if _, err := c.With(own); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
}
