package hardware

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestChooseBoltAgainstOracle works the joint out again for random stacks, from
// nothing but grip, length, thread and washers, and compares.
func TestChooseBoltAgainstOracle(t *testing.T) {
	const seed = 7
	rng := rand.New(rand.NewPCG(seed, seed))
	threads := map[string]measure.Length{"AN3": 32, "AN4": 28, "AN5": 24, "AN6": 24}
	nuts := map[string]string{"AN3": "AN365-1032A", "AN4": "AN365-428A", "AN5": "AN365-524A", "AN6": "AN365-624A"}
	for range 200 {
		series := []string{"AN3", "AN4", "AN5", "AN6"}[rng.IntN(4)]
		thickness := measure.Length(100+rng.IntN(3000)) * thou
		got, err := Standard().ChooseBolt(Joint{Series: series, Nut: nuts[series], Layers: []Ply{{Thickness: thickness}}})
		if err != nil {
			t.Fatalf("seed %d: %s through %s: %v", seed, series, thickness, err)
		}
		nut, _ := Decode(nuts[series]).Field(Height)
		fitting := 0
		for _, b := range got.Choices {
			washers := measure.Length(0)
			for _, w := range b.NutWashers {
				washers += w.Thickness
			}
			inHole := max(thickness-b.Grip, 0)
			spare := thickness + washers - b.Grip
			showing := b.Length - thickness - washers - nut.Length
			if b.ThreadInHole != inHole || b.Spare != spare || b.Showing != showing {
				t.Errorf("seed %d: %s through %s: got in hole %s, spare %s, showing %s; want %s, %s, %s", seed, b.Designation, thickness, b.ThreadInHole, b.Spare, b.Showing, inHole, spare, showing)
			}
			pitch := measure.Inch / threads[series]
			want := inHole <= 2*pitch && spare >= measure.Inch/64 && showing >= pitch && washers <= washerHeight
			if b.Fits != want {
				t.Errorf("seed %d: %s through %s with %d washers: fits %v, want %v: %+v", seed, b.Designation, thickness, len(b.NutWashers), b.Fits, want, b.Findings)
			}
			if b.Fits {
				fitting++
			}
		}
		for i := 1; i < len(got.Choices); i++ {
			if got.Choices[i].Fits && !got.Choices[i-1].Fits {
				t.Errorf("seed %d: a bolt that fits stands behind one that does not", seed)
			}
		}
		if fitting == 0 {
			t.Logf("seed %d: nothing fits %s through %s", seed, series, thickness)
		}
	}
}

// TestEveryStackHasItsBolt: with washers of both thicknesses every stack from
// the shortest grip up can be bolted.
func TestEveryStackHasItsBolt(t *testing.T) {
	for thickness := 130; thickness < 2000; thickness += 7 {
		t.Run(fmt.Sprint(thickness), func(t *testing.T) {
			got, err := Standard().ChooseBolt(Joint{Series: "AN3", Nut: "AN365-1032A", Layers: []Ply{{Thickness: measure.Length(thickness) * thou}}})
			if err != nil || len(got.Choices) == 0 || !got.Choices[0].Fits {
				t.Errorf("0.%d: got %+v, %v", thickness, got.Choices, err)
			}
		})
	}
}

// TestSectionIsTheJoint: the section is as long as what it draws.
func TestSectionIsTheJoint(t *testing.T) {
	joint := Joint{
		Series: "AN4", Nut: "AN365-428A", HeadWashers: []string{"AN960-416L"},
		Layers: []Ply{{"plate", measure.Inches(1, 4)}, {"", measure.Inches(1, 8)}},
	}
	got, err := Standard().ChooseBolt(joint)
	if err != nil {
		t.Fatal(err)
	}
	b := got.Choices[0]
	v := b.Section.Views[0]
	labels := map[string]measure.Length{}
	for _, d := range v.Dimensions {
		labels[d.Label] = d.To.X - d.From.X
	}
	for label, want := range map[string]measure.Length{
		"stack 3/8": measure.Inches(3, 8), "plate 1/4": measure.Inches(1, 4),
		"grip " + short(b.Grip): b.Grip, "length " + short(b.Length): b.Length,
	} {
		if labels[label] != want {
			t.Errorf("%s: drawn %s long, want %s; have %v", label, labels[label], want, labels)
		}
	}
	hatched := 0
	for _, s := range v.Shapes {
		if s.Layer == LayerHatch {
			hatched++
		}
	}
	if want := 2 * (len(joint.Layers) + len(b.HeadWashers) + len(b.NutWashers)); hatched != want {
		t.Errorf("%d hatched pieces, want %d", hatched, want)
	}
	if b.HeadWashers[0].Designation != "AN960-416L" || !strings.HasPrefix(b.NutWashers[0].Designation, "NAS1149F04") {
		t.Errorf("got washers %v and %v", b.HeadWashers, b.NutWashers)
	}
}

func TestThreadsCounted(t *testing.T) {
	j := joint{tpi: 32}
	for text, want := range map[string]string{"0": "0.0 threads", "1/32": "1.0 threads", ".05": "1.6 threads", "1": "32.0 threads"} {
		if got := j.threads(length(t, text)); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}

// TestPastNutFindings: the words at each boundary.
func TestPastNutFindings(t *testing.T) {
	j := joint{tpi: 32, pitch: measure.Inch / 32, stack: measure.Inches(1, 4)}
	tests := []struct {
		name string
		b    BoltChoice
		f    func(*BoltChoice) Finding
		bad  bool
		says string
	}{
		{"one thread shows", BoltChoice{Showing: measure.Inch / 32, ShowingKnown: true}, j.pastNut, false, "past the nut: 1/32, 1.0 threads"},
		{"less than one", BoltChoice{Showing: measure.Inch/32 - 1, ShowingKnown: true}, j.pastNut, true, "at least one must show"},
		{"inside the nut", BoltChoice{Showing: -measure.Inch / 16, ShowingKnown: true}, j.pastNut, true, "ends 1/16 inside the nut"},
		{"height unknown", BoltChoice{}, j.pastNut, false, "unknown"},
		{"grip reaches through", BoltChoice{Grip: measure.Inches(1, 4)}, j.inHole, false, "no thread in the hole"},
		{"one thread in", BoltChoice{ThreadInHole: measure.Inch / 32}, j.inHole, false, "should be in the thicker part"},
		{"one and three quarters", BoltChoice{ThreadInHole: 7 * measure.Inch / 128}, j.inHole, false, "more than one and a half"},
		{"two threads", BoltChoice{ThreadInHole: measure.Inch / 16}, j.inHole, false, "more than one and a half"},
		{"over two", BoltChoice{ThreadInHole: measure.Inch/16 + 1}, j.inHole, true, "the grip is too short"},
		{"loose", BoltChoice{Spare: -measure.Inch / 32}, j.bottoming, true, "1/32 too long"},
		{"just at the shank", BoltChoice{Spare: 0}, j.bottoming, true, "less than the 1/64"},
		{"a 64th to go", BoltChoice{Spare: sixtyFourth}, j.bottoming, false, "can be drawn up 1/64"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := tt.f(&tt.b)
			if got.Bad != tt.bad || !strings.Contains(got.Text, tt.says) || got.Source == "" {
				t.Errorf("got %+v, want bad %v and %q", got, tt.bad, tt.says)
			}
		})
	}
}

// TestChooseRivetAgainstRule: for random seams the length is the half sixteenth
// nearest to thickness and one and a half diameters, and the diameter by rule
// is the size of AC 43.13-1B Table 4-11 nearest to three times the thickest sheet.
func TestChooseRivetAgainstRule(t *testing.T) {
	const seed = 11
	rng := rand.New(rand.NewPCG(seed, seed))
	for range 200 {
		a, b := measure.Length(16+rng.IntN(77))*thou, measure.Length(16+rng.IntN(77))*thou
		got, err := Standard().ChooseRivet(Seam{Layers: []Ply{{Thickness: a}, {Thickness: b}}})
		if err != nil {
			t.Fatalf("seed %d: %s and %s: %v", seed, a, b, err)
		}
		for _, k := range got.Choices {
			if off := k.Length - k.Wanted; max(off, -off) > measure.Inch/64 {
				t.Errorf("seed %d: %s for %s: length %s, wanted %s", seed, k.Designation, got.Thickness, k.Length, k.Wanted)
			}
			if k.Wanted != a+b+3*k.Diameter/2 || k.Past != k.Length-a-b || k.HeadWide != 3*k.Diameter/2 || k.HeadHigh != k.Diameter/2 {
				t.Errorf("seed %d: %s: %+v does not obey its rule", seed, k.Designation, k)
			}
			if k.EdgeDistance < 2*k.Diameter {
				t.Errorf("seed %d: %s: edge distance %s", seed, k.Designation, k.EdgeDistance)
			}
			if want := nearestOf(3*max(a, b), 6, 8, 10, 12, 16); k.ByRule && k.Diameter != want {
				t.Errorf("seed %d: %s for %s, want diameter %s", seed, k.Designation, max(a, b), want)
			}
			if r := Decode(k.Designation); !r.Known || r.Designation != k.Designation {
				t.Errorf("seed %d: %s: %s", seed, k.Designation, r.Problem)
			}
		}
		if !got.Choices[0].ByRule {
			t.Errorf("seed %d: the rule's own rivet does not come first", seed)
		}
	}
}

// nearestOf is the nearest of some 64ths of an inch.
func nearestOf(wanted measure.Length, sizes ...int64) measure.Length {
	best := measure.Inches(sizes[0], 64)
	for _, n := range sizes {
		if d := measure.Inches(n, 64); max(d-wanted, wanted-d) <= max(best-wanted, wanted-best) {
			best = d
		}
	}
	return best
}
