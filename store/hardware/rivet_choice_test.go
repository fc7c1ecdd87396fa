package hardware

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

func TestChooseRivet(t *testing.T) {
	tests := []struct {
		name   string
		seam   Seam
		sheets []string
		first  string
		flush  string // the flush rivet of the same diameter
		edge   string
		says   string
	}{
		// AC 43.13-1B par. 4-57: length is thickness and 1.5 D, shop head 1.5 D by
		// 0.5 D. 0.064 and 0.1875 is 0.2515: AN470AD4-4.
		{"two sheets of .032", Seam{Diameter: measure.Inch / 8}, []string{".032", ".032"}, "AN470AD4-4", "AN426AD4-4", "1/4", "length by rule 0.2515; 1/4 is the nearest half sixteenth and leaves 0.186 to drive"},
		// 0.032 x 3 is 0.096: the nearest size is 3/32.
		{"diameter by rule", Seam{}, []string{".032", ".032"}, "AN470AD3-3.5", "AN426AD3-3.5", "3/16", "pitch 3/8 to 9/16 is usual, never less than 9/32, about 3/4 at most"},
		// 0.063 x 3 is 0.189: 3/16 and never 7/32.
		{"no 7/32", Seam{}, []string{".032", ".063"}, "AN470AD6-6", "AN426AD6-6", "3/8", "rows apart about 75 % of the pitch, never less than 15/32"},
		{"rivets to the inch (AC 43.13-1B Tables 4-10 and 4-11)", Seam{Diameter: measure.Inch / 8}, []string{".040", ".040"}, "AN470AD4-4.5", "AN426AD4-4.5", "1/4", "a splice in 2017 or 2024-T3 alclad takes 6.2 rivets an inch of width"},
		{"and in the other sheet", Seam{Diameter: measure.Inch / 8}, []string{".040", ".040"}, "AN470AD4-4.5", "AN426AD4-4.5", "1/4", "a splice in 5052 of any hardness takes 4.7 rivets"},
		// 0.064 and 0.140625 is 0.204625, nearest 7/32.
		{"half size", Seam{Diameter: 3 * measure.Inch / 32}, []string{".032", ".032"}, "AN470AD3-3.5", "AN426AD3-3.5", "3/16", "a good shop head is 0.120 to 0.160 wide and 0.030 to 0.060 high"},
		{"thin sheet takes 3/32", Seam{}, []string{".016", ".020"}, "AN470AD3-3", "AN426AD3-3", "3/16", "length by rule"},
		{"newer number at hand", Seam{Diameter: measure.Inch / 8, Shop: []string{"MS20470AD4-4"}}, []string{".032", ".032"}, "MS20470AD4-4", "AN426AD4-4", "1/4", ""},
		{"flush at hand comes first", Seam{Diameter: measure.Inch / 8, Shop: []string{"AN426AD4-4"}}, []string{".032", ".032"}, "AN426AD4-4", "AN426AD4-4", "5/16", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.seam.Layers = stack(t, tt.sheets...)
			got, err := Standard().ChooseRivet(tt.seam)
			if err != nil {
				t.Fatal(err)
			}
			k := got.Choices[0]
			var says []string
			for _, f := range k.Findings {
				says = append(says, f.Text)
			}
			if k.Designation != tt.first || short(k.EdgeDistance) != tt.edge || !strings.Contains(strings.Join(says, "; "), tt.says) {
				t.Errorf("got %s edge %s %q, want %s edge %s %q", k.Designation, short(k.EdgeDistance), says, tt.first, tt.edge, tt.says)
			}
			found := false
			for _, k := range got.Choices {
				found = found || k.Flush && k.ByRule && k.Designation == tt.flush
				if len(k.Section.Views) != 1 {
					t.Errorf("%s: no section", k.Designation)
				}
			}
			if !found {
				t.Errorf("no flush %s", tt.flush)
			}
		})
	}
}

// TestRivetSizes: no answer of the rule is a size that Table 4-11 lacks, and the
// first is the nearest to three times the thickest sheet.
func TestRivetSizes(t *testing.T) {
	for thick := 10; thick <= 93; thick++ {
		got, err := Standard().ChooseRivet(Seam{Layers: []Ply{{Thickness: measure.Length(thick) * thou}, {Thickness: 16 * thou}}})
		if err != nil {
			t.Fatalf("0.0%d: %v", thick, err)
		}
		want := 3 * measure.Length(max(thick, 16)) * thou
		for _, k := range got.Choices {
			sixtyFourths := k.Diameter * 64 / measure.Inch
			if sixtyFourths != 6 && sixtyFourths != 8 && sixtyFourths != 10 && sixtyFourths != 12 && sixtyFourths != 16 {
				t.Errorf("0.0%d: %s of %s", thick, k.Designation, k.Diameter)
			}
			off, than := k.Diameter-want, got.Choices[0].Diameter-want
			if max(off, -off) < max(than, -than) {
				t.Errorf("0.0%d: %s is nearer than %s, which comes first", thick, k.Designation, got.Choices[0].Designation)
			}
		}
	}
	if _, err := Standard().ChooseRivet(Seam{Layers: stack(t, ".1")}); err == nil {
		t.Error("0.1 in has a rivet of the rule")
	}
}

// TestDimpleOrCountersink: TM 9-2320-363-34-2 Table 4 has 0.050 for 1/8.
func TestDimpleOrCountersink(t *testing.T) {
	for _, tt := range []struct {
		sheets []string
		dia    measure.Length
		says   string
	}{
		{[]string{".032", ".050"}, measure.Inch / 8, "is too thin to be machine countersunk (the least is 0.050): dimple it"},
		{[]string{".050", ".032"}, measure.Inch / 8, "can be machine countersunk: the least is 0.050"},
		{[]string{".050", ".032"}, 7 * measure.Inch / 32, "unknown, no published least sheet"},
	} {
		got, err := Standard().ChooseRivet(Seam{Layers: stack(t, tt.sheets...), Diameter: tt.dia})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, k := range got.Choices {
			for _, f := range k.Findings {
				if k.Flush && k.ByRule && strings.Contains(f.Text, "countersunk") || strings.HasPrefix(f.Text, "dimple or") {
					said = f.Text
				}
				if !k.Flush && strings.Contains(f.Text, "dimple") {
					t.Errorf("%s: %s", k.Designation, f.Text)
				}
			}
		}
		if !strings.Contains(said, tt.says) {
			t.Errorf("%v: got %q, want %q", tt.sheets, said, tt.says)
		}
	}
}

func TestChooseRivetRefuses(t *testing.T) {
	tests := []struct {
		name string
		seam Seam
		want string
	}{
		{"no sheets", Seam{}, "0 sheets"},
		{"too thick a sheet", Seam{Layers: stack(t, "3")}, "is not a sheet for a rivet"},
		{"no rivet so thick", Seam{Layers: stack(t, "1/4")}, "asks for a bolt"},
		{"foil", Seam{Layers: stack(t, ".0005", ".0005")}, "is not a sheet for a rivet"},
		{"no such diameter", Seam{Layers: stack(t, ".032"), Diameter: 100 * thou}, "not a rivet of the tables"},
		{"no such material", Seam{Layers: stack(t, ".032"), Material: "Q"}, `material "Q"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := Standard().ChooseRivet(tt.seam); err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, want %q", err, tt.want)
			}
		})
	}
}

// TestTorques: figures of AC 43.13-1B Table 7-1, three copies of which read alike.
func TestTorques(t *testing.T) {
	tests := []struct {
		thread          string
		tension, shear  string
		most, mostShear InchPounds
	}{
		{"10-32", "20 to 25 in-lb", "12 to 15 in-lb", 40, 25},
		{"1/4-28 UNF", "50 to 70 in-lb", "30 to 40 in-lb", 100, 60},
		{"3/8-24", "160 to 190 in-lb", "95 to 110 in-lb", 390, 240},
		{"1/2-20", "480 to 690 in-lb", "290 to 410 in-lb", 1100, 660},
	}
	for _, tt := range tests {
		t.Run(tt.thread, func(t *testing.T) {
			got, ok := Standard().Torque(tt.thread)
			if !ok || got.Tension.String() != tt.tension || got.Shear.String() != tt.shear || got.MaxTension != tt.most || got.MaxShear != tt.mostShear {
				t.Errorf("got %+v, want %+v", got, tt)
			}
			if got.Checked < 1 || got.Source != "AC 43.13-1B Table 7-1" {
				t.Errorf("got source %q checked %d", got.Source, got.Checked)
			}
		})
	}
	if _, ok := Standard().Torque("10-33"); ok {
		t.Error("10-33 has a torque")
	}
	if n := len(Standard().Torques()); n != 25 {
		t.Errorf("got %d rows, want 25", n)
	}
	for _, f := range TorqueCautions() {
		if f.Text == "" || f.Source == "" {
			t.Errorf("caution %+v lacks a text or a source", f)
		}
	}
}
