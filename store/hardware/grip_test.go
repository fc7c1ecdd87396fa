package hardware

import (
	"errors"
	"strings"
	"testing"

	"stowright/store/measure"
)

func stack(t *testing.T, texts ...string) []Ply {
	t.Helper()
	var out []Ply
	for _, s := range texts {
		out = append(out, Ply{Thickness: length(t, s)})
	}
	return out
}

func TestChooseBolt(t *testing.T) {
	tests := []struct {
		name    string
		joint   Joint
		layers  []string
		first   string
		washers string // under the nut
		says    string
	}{
		// NASM3-20: AN3-5 grip 1/4, length 21/32; a 0.063 washer and a 0.249 nut
		// leave 0.094, three threads of 1/32, past the nut.
		{"grip equals the stack", Joint{Series: "AN3", Nut: "AN365-1032A"}, []string{"1/8", ".125"}, "AN3-5A", "NAS1149F0363P", "past the nut: 0.09425, 3.0 threads"},
		// AN4-15A grip 1-3/16 (published worked example).
		{"AN4-15A", Joint{Series: "an4", Nut: "AN365-428A"}, []string{"1-3/16"}, "AN4-15A", "NAS1149F0463P", "no thread in the hole"},
		{"castle nut wants a drilled shank", Joint{Series: "AN3", Nut: "AN310-3"}, []string{"3/4"}, "AN3-11", "NAS1149F0363P", "no thread in the hole"},
		{"between two grips", Joint{Series: "AN3", Nut: "AN365-1032A"}, []string{".281"}, "AN3-6A", "NAS1149F0363P NAS1149F0363P", "no thread in the hole"},
		// .312 in AN3-5A would put two threads in the hole: NAVEDTRA 14014 allows
		// no more, and AN3-6A with two washers has none.
		{"washers make up the rest", Joint{Series: "AN3", Nut: "AN365-1032A", Shop: []string{"AN3-6A"}}, []string{".312"}, "AN3-6A", "NAS1149F0363P NAS1149F0363P", "the nut can be drawn up 0.063 past the shank"},
		{"drilled head", Joint{Series: "AN5", DrilledHead: true}, []string{"2-7/16"}, "AN5H-27A", "NAS1149F0563P", "unknown while no nut is named"},
		{"close tolerance", Joint{Series: "NAS6604", Nut: "MS21042-4"}, []string{"3/4"}, "NAS6604-12", "NAS1149F0463P", "no thread in the hole"},
		{"old washers in the shop", Joint{Series: "AN3", Nut: "AN365-1032A", Shop: []string{"AN960-10"}}, []string{"1/4"}, "AN3-5A", "AN960-10", "no thread"},
		{"plate nut", Joint{Series: "AN3", Nut: "MS21047L3"}, []string{"1/4"}, "AN3-5A", "", "thread past the plate nut: unknown"},
		// AN4-10A grip 9/16 has no thread in the hole; AN4-7A grip 7/16 has 1.8 threads.
		{"no thread in the hole comes first", Joint{Series: "AN4", Nut: "AN365-428A"}, []string{".5"}, "AN4-10A", "NAS1149F0463P NAS1149F0463P", "no thread in the hole"},
		{"even before what is at hand", Joint{Series: "AN4", Nut: "AN365-428A", Shop: []string{"AN4-7A"}}, []string{".5"}, "AN4-10A", "NAS1149F0463P NAS1149F0463P", "no thread in the hole"},
		{"measured nut", Joint{Series: "AN3", Nut: "MS21042-3", NutHeight: 190 * thou}, []string{"1/4"}, "AN3-5A", "NAS1149F0363P", "past the nut: 0.15325, 4.9 threads"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.joint.Layers = stack(t, tt.layers...)
			got, err := Standard().ChooseBolt(tt.joint)
			if err != nil {
				t.Fatal(err)
			}
			if len(got.Choices) == 0 {
				t.Fatal("no choice")
			}
			b := got.Choices[0]
			var washers, says []string
			for _, w := range b.NutWashers {
				washers = append(washers, w.Designation)
			}
			for _, f := range b.Findings {
				says = append(says, f.Text)
				if f.Source == "" {
					t.Errorf("%q has no source", f.Text)
				}
			}
			_, _, unknown := strings.Cut(strings.Join(says, "; "), "thread past the ")
			if b.Fits == unknown || b.CannotTell != unknown {
				t.Errorf("%s: fits %v, cannot tell %v; %q", b.Designation, b.Fits, b.CannotTell, says)
			}
			if b.Designation != tt.first || strings.Join(washers, " ") != tt.washers {
				t.Errorf("got %s fits %v with %q, want %s with %q; %q", b.Designation, b.Fits, washers, tt.first, tt.washers, says)
			}
			if !strings.Contains(strings.Join(says, "; "), tt.says) {
				t.Errorf("got %q, want it to say %q", says, tt.says)
			}
			if len(b.Section.Views) != 1 || len(b.Section.Views[0].Dimensions) < 3 {
				t.Errorf("got section %+v, want one view with grip, stack and length", b.Section)
			}
		})
	}
}

// TestPlateNut: nothing is put under a plate nut; a washer goes under the head,
// and shims are spoken of (AC 43.13-1B par. 7-37).
func TestPlateNut(t *testing.T) {
	got, err := Standard().ChooseBolt(Joint{Series: "AN3", Nut: "MS21047L3", Layers: stack(t, "1/4")})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range got.Choices {
		if len(b.NutWashers) > 0 {
			t.Errorf("%s: %v under the plate nut", b.Designation, b.NutWashers)
		}
	}
	if first := got.Choices[0]; !first.CannotTell || len(first.HeadWashers) != 1 || first.HeadWashers[0].Designation != "NAS1149F0332P" {
		t.Errorf("got %+v, want one thin washer under the head and no verdict", first)
	}
	said := false
	for _, f := range got.Cautions {
		said = said || strings.Contains(f.Text, "shims go under the plate")
	}
	if !said {
		t.Errorf("shims are not spoken of: %+v", got.Cautions)
	}
}

// TestTorqueOnAnswers: AC 43.13-1B Table 7-1, 10-32: 20 to 25 in-lb with a
// tension nut, most allowable 40; it is for plated steel.
func TestTorqueOnAnswers(t *testing.T) {
	got, err := Standard().ChooseBolt(Joint{Series: "AN3", Nut: "AN365-1032A", Layers: stack(t, "1/4")})
	if err != nil || !got.HasTorque || got.Torque.Tension != (TorqueRange{20, 25}) || got.Torque.MaxTension != 40 || len(got.TorqueCautions) == 0 {
		t.Errorf("got %+v, %v", got.Torque, err)
	}
	for text, want := range map[string]string{
		"AN3-5A": "20 to 25 in-lb, most allowable 40 in-lb", "AN365-1032A": "20 to 25", "AN310-4": "50 to 70", "AN23-10A": "", "AN364-1032A": "", "AN3DD5A": "", "AN3C5A": "", "AN310C4": "", "AN73-5": "", "AN16-20": "", "AN960-10": "",
	} {
		f, ok := Decode(text).Field(TorqueTension)
		if ok != (want != "") || !strings.HasPrefix(f.Text, want) || ok && !strings.Contains(f.Text, "the kit maker's torque governs") {
			t.Errorf("%s: got %q, want %q", text, f.Text, want)
		}
	}
	for text, want := range map[string]string{"AN364-1032A": "12 to 15", "AN23-10A": "12 to 15", "AN320-4": "30 to 40", "AN310-4": ""} {
		if f, _ := Decode(text).Field(TorqueShear); !strings.HasPrefix(f.Text, want) || (f.Text == "") != (want == "") {
			t.Errorf("%s: got %q, want %q", text, f.Text, want)
		}
	}
}

// TestCotterHole: the NAS6303 sheet gives the hole 0.154 to 0.174 from the end;
// of AN bolts no source does, and none is drawn.
func TestCotterHole(t *testing.T) {
	for _, tt := range []struct {
		series, says string
		hidden       bool
	}{{"NAS6303", "cotter-pin hole 0.154 to 0.174 from the end", true}, {"AN3", "", false}} {
		t.Run(tt.series, func(t *testing.T) {
			got, err := Standard().ChooseBolt(Joint{Series: tt.series, Nut: "AN310-3", Layers: stack(t, "3/4")})
			if err != nil {
				t.Fatal(err)
			}
			b := got.Choices[0]
			hidden := false
			for _, s := range b.Section.Views[0].Shapes {
				if s.Layer == LayerHidden {
					hidden = true
					if at := b.Length - s.Centre.X; at != 164*thou {
						t.Errorf("hole drawn %s from the end, want 0.164", at)
					}
				}
			}
			says := ""
			for _, f := range b.Findings {
				if strings.HasPrefix(f.Text, "cotter-pin hole") {
					says = f.Text
				}
			}
			if hidden != tt.hidden || !strings.Contains(says, tt.says) || (says == "") != (tt.says == "") {
				t.Errorf("%s: hole drawn %v, says %q, want %v, %q", b.Designation, hidden, says, tt.hidden, tt.says)
			}
		})
	}
}

// TestChooseBoltRulesOut: the neighbours are shown with what is wrong with them.
func TestChooseBoltRulesOut(t *testing.T) {
	got, err := Standard().ChooseBolt(Joint{Series: "AN3", Nut: "AN365-1032A", Layers: stack(t, ".25")})
	if err != nil {
		t.Fatal(err)
	}
	// 0.318 puts 2.2 threads of AN3-5A in the hole, which is one too many.
	deep, err := Standard().ChooseBolt(Joint{Series: "AN3", Nut: "AN365-1032A", Layers: stack(t, ".318")})
	if err != nil || deep.Choices[0].Designation != "AN3-6A" {
		t.Errorf("got %+v, %v, want AN3-6A", deep.Choices[0], err)
	}
	for _, b := range deep.Choices {
		if b.Designation == "AN3-5A" && b.Fits {
			t.Errorf("AN3-5A fits with %s of thread in the hole", b.ThreadInHole)
		}
	}
	// Three washers of 1/16 are more than the 1/8 that washers may be together.
	high, err := Standard().ChooseBolt(Joint{Series: "AN3", NutWashers: []string{"AN960-10", "AN960-10", "AN960-10"}, Layers: stack(t, ".2")})
	if err != nil || high.Choices[0].Fits {
		t.Errorf("got %+v, %v, want nothing that fits under three washers", high.Choices[0], err)
	}
	// A short-thread bolt cannot hold a full-height nut over a thick washer.
	short, err := Standard().ChooseBolt(Joint{Series: "NAS6204", Nut: "AN365-428A", Layers: stack(t, "3/4")})
	if err != nil || short.Choices[0].Fits {
		t.Errorf("got %+v, %v, want nothing that fits", short.Choices[0], err)
	}
	want := map[string]string{"AN3-4A": "the grip is too short", "AN3-7A": "too long"}
	for _, b := range got.Choices {
		why := want[b.Designation]
		if why == "" {
			continue
		}
		delete(want, b.Designation)
		ok := false
		for _, f := range b.Findings {
			ok = ok || f.Bad && strings.Contains(f.Text, why)
		}
		if b.Fits || !ok {
			t.Errorf("%s: got fits %v, %+v, want %q", b.Designation, b.Fits, b.Findings, why)
		}
	}
	if len(want) > 0 {
		t.Errorf("not shown: %v", want)
	}
}

func TestChooseBoltRefuses(t *testing.T) {
	tests := []struct {
		name  string
		joint Joint
		want  string
	}{
		{"no layers", Joint{Series: "AN3"}, "0 layers"},
		{"thick layer", Joint{Series: "AN3", Layers: []Ply{{Thickness: 13 * measure.Inch}}}, "not between"},
		{"no bolt", Joint{Series: "AN960", Layers: stack(t, "1/4")}, "not a bolt series"},
		{"another thread", Joint{Series: "AN3", Nut: "AN365-428A", Layers: stack(t, "1/4")}, "nut AN365-428A has thread 1/4-28, the bolt 10-32"},
		{"a washer for a nut", Joint{Series: "AN3", Nut: "AN960-10", Layers: stack(t, "1/4")}, "is not a nut of the tables"},
		{"no nut", Joint{Series: "AN3", Nut: "AN365-999", Layers: stack(t, "1/4")}, "not in the tables"},
		{"another washer", Joint{Series: "AN3", NutWashers: []string{"AN960-416"}, Layers: stack(t, "1/4")}, "washer AN960-416 is for a 1/4 bolt, not for AN3"},
		{"too many washers", Joint{Series: "AN3", NutWashers: []string{"AN960-10", "AN960-10", "AN960-10", "AN960-10"}, Layers: stack(t, "1/4")}, "4 washers"},
		{"washer under a plate nut", Joint{Series: "AN3", Nut: "MS21047L3", NutWashers: []string{"AN960-10"}, Layers: stack(t, "1/4")}, "no washer goes under it, shims go under the plate"},
		{"grip unknown", Joint{Series: "AN7", Layers: stack(t, "1/4")}, "AN7: no published table"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Standard().ChooseBolt(tt.joint)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
	if _, err := Standard().ChooseBolt(Joint{Series: "AN9", Layers: stack(t, "1")}); !errors.Is(err, ErrNoGrip) {
		t.Errorf("got %v, want %v", err, ErrNoGrip)
	}
}
