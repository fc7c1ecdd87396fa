package hardware

import (
	"strings"
	"testing"
)

// TestLockwire: the numbers of MS20995 are thousandths of an inch, the letters the
// metal. N32, N20, N47 and CU20 are in TM 9-254 Table 6-2; the others are from memory,
// which is said of them.
func TestLockwire(t *testing.T) {
	tests := []struct {
		number, diameter, material string
		checked                    int
	}{
		{"MS20995N20", "0.020", "nickel-chromium-iron alloy", 1},
		{"MS20995N32", "0.032", "nickel-chromium-iron alloy", 1},
		{"MS20995N47", "0.047", "listed as corrosion-resistant steel", 1},
		{"MS20995CU20", "0.020", "copper", 1},
		{"MS20995C32", "0.032", "corrosion-resistant steel", 0},
		{"MS20995C41", "0.041", "corrosion-resistant steel", 0},
		{"MS20995F32", "0.032", "zinc coated carbon steel", 0},
		{"MS20995NC32", "0.032", "nickel-copper alloy", 0},
		{"MS20995-C32", "0.032", "corrosion-resistant steel", 0},
		{"ms20995 nc 40", "0.040", "nickel-copper alloy", 0},
		{"lockwire .032 MS20995C32", "", "", 0}, // another word in front is another thing
	}
	for _, tt := range tests {
		t.Run(tt.number, func(t *testing.T) {
			r := Decode(tt.number)
			if r.Known != (tt.diameter != "") {
				t.Fatalf("got %q %q", r.Title, r.Problem)
			}
			d, _ := r.Field(Diameter)
			m, _ := r.Field(Material)
			if d.Text != tt.diameter || !strings.HasPrefix(m.Text, tt.material) || d.Checked != tt.checked || (r.Mark() == NotCrossChecked) != (tt.checked == 0 && r.Known) {
				t.Errorf("got %s of %s, %d sources, marked %q; want %s of %s, %d", d.Text, m.Text, d.Checked, r.Mark(), tt.diameter, tt.material, tt.checked)
			}
		})
	}
	for text, want := range map[string]string{
		"MS20995-32": "is not in the tables here", "MS20995C33": "the nearest are MS20995C32 and MS20995C41", "MS20995": "MS20995 needs a dash number", "MS20995X32": "is not in the tables here",
	} {
		if r := Decode(text); r.Known || !strings.Contains(r.Problem, want) {
			t.Errorf("%s: got %q, want %q", text, r.Problem, want)
		}
	}
}

// TestCushions: band and cushion by the letters of MS21919, and how hot each may get,
// as the standard's own table has them. W in front is a wedge.
func TestCushions(t *testing.T) {
	for letters, want := range map[string][2]string{
		"DE": {"aluminium with ethylene propylene cushion", "212 F"},
		"DF": {"aluminium with nitrile cushion", "212 F"},
		"DG": {"aluminium with chloroprene cushion", "212 F"},
		"CE": {"corrosion-resistant steel with ethylene propylene cushion", "275 F"},
		"CF": {"corrosion-resistant steel with nitrile cushion", "200 F"},
		"CH": {"corrosion-resistant steel with silicone cushion", "400 F"},
		"CG": {"corrosion-resistant steel with chloroprene cushion", "212 F"},
		"CJ": {"corrosion-resistant steel with fluorosilicone cushion", "450 F"},
		"F":  {"low carbon steel with nitrile cushion", "212 F"},
		"G":  {"low carbon steel with chloroprene cushion", "212 F"},
		"H":  {"low carbon steel with silicone cushion", "400 F"},
	} {
		r := Decode("MS21919" + letters + "8")
		m, _ := r.Field(Material)
		if !strings.Contains(r.Title, want[0]+",") || !strings.Contains(m.Text, "to "+want[1]) {
			t.Errorf("MS21919%s8: got %q and %q, want %q", letters, r.Title, m.Text, want)
		}
		if d, ok := r.Field(InsideDiameter); !ok || short(d.Length) != "1/2" {
			t.Errorf("MS21919%s8: got %s, want 1/2: the number counts sixteenths", letters, d.Text)
		}
		if wedge := Decode("MS21919W" + letters + "8"); !wedge.Known || !strings.HasSuffix(wedge.Title, ", wedge") || wedge.Designation != "MS21919W"+letters+"8" {
			t.Errorf("MS21919W%s8: got %q", letters, wedge.Title)
		}
	}
	if r := Decode("MS21919DH8"); r.Known || !strings.Contains(r.Problem, "DE, DF, DG") {
		t.Errorf("MS21919DH8: got %q %q", r.Title, r.Problem)
	}
}

// The limits of a good shop head, of a published repair-course table, in inches:
// rivet, width from and to, height from and to. AC 43.13-1B par. 4-57 aims at one and
// a half diameters wide and half a diameter high.
const publishedShopHeads = `
3/32 .120 .160 .030 .060
1/8  .160 .210 .040 .080
5/32 .200 .270 .050 .100
3/16 .240 .320 .060 .120
1/4  .330 .430 .080 .170
`

func TestPublishedShopHeads(t *testing.T) {
	for line := range strings.Lines(strings.TrimSpace(publishedShopHeads)) {
		cells := strings.Fields(line)
		d := length(t, cells[0])
		got, err := Standard().ChooseRivet(Seam{Layers: stack(t, ".064", ".064"), Diameter: d})
		if err != nil {
			t.Fatal(err)
		}
		k := got.Choices[0]
		if k.Diameter != d || !k.ByRule {
			t.Fatalf("%s: got %s first", cells[0], k.Designation)
		}
		for i, l := range []string{k.WideLeast.Printed(), k.WideMost.Printed(), k.HighLeast.Printed(), k.HighMost.Printed()} {
			if l != "0"+cells[1+i] {
				t.Errorf("%s: limit %d is %s, printed %s", cells[0], i+1, l, cells[1+i])
			}
		}
		if k.HeadWide != 3*d/2 || k.HeadHigh != d/2 || k.HeadWide < k.WideLeast || k.HeadWide > k.WideMost || k.HeadHigh < k.HighLeast || k.HeadHigh > k.HighMost {
			t.Errorf("%s: aims at %s by %s, outside the limits or the rule", cells[0], k.HeadWide, k.HeadHigh)
		}
		if k.EdgeDistance != 2*d {
			t.Errorf("%s: edge distance %s, want twice the diameter", cells[0], k.EdgeDistance)
		}
	}
}

// TestUsedOnce: AC 43.13-1B par. 7-38 speaks of cotter pins and safety wire, by
// whatever number, one that the tables lack too; what was never said to be used once is not.
func TestUsedOnce(t *testing.T) {
	for number, once := range map[string]bool{
		"MS24665-132": true, "AN380-2-2": true, "AN381-2-8": true, "NASM24665-132": true, "ms24665 132": true, "MS20995C32": true, "MS20995NC32": true,
		"AN900-10": true, "AN365-1032A": false, "AN310-3": false, "AN3-5A": false, "AN470AD4-4": false, "MS20392-2C11": false, "AN393-9": false,
		"AS568-012": false, "MS35338-43": false, "MS24665-1": true, "": false, "cotter pin": false,
	} {
		source, ok := SingleUse(number)
		if ok != once || (source != "") != once {
			t.Errorf("%s: got %q, %v", number, source, ok)
		}
	}
}

// TestPulledRivets: the chart of TM 10-5410-221-14/1 (Table 4-3): the first figure is
// the diameter in 32nds, the second the longest grip in sixteenths.
func TestPulledRivets(t *testing.T) {
	for number, want := range map[string][3]string{ // diameter, grip, hole
		"32": {"3/32", "0.020 to 0.125", "0.096 to 0.100"},
		"34": {"3/32", "0.126 to 0.250", "0.096 to 0.100"},
		"42": {"1/8", "0.063 to 0.125", "0.128 to 0.132"},
		"48": {"1/8", "0.376 to 0.500", "0.128 to 0.132"},
		"53": {"5/32", "0.126 to 0.187", "0.160 to 0.164"},
		"84": {"1/4", "0.125 to 0.250", "0.257 to 0.261"},
	} {
		for _, text := range []string{"blind rivet " + number, "Pulled Rivets-" + number} {
			r := Decode(text)
			d, _ := r.Field(Diameter)
			g, _ := r.Field(Grip)
			h, _ := r.Field(Hole)
			if !r.Known || short(d.Length) != want[0] || g.Text != want[1] || h.Text != want[2] || len(r.Warnings) != 1 {
				t.Errorf("%s: got %s, grip %s, hole %s, %q; want %q", text, d.Text, g.Text, h.Text, r.Warnings, want)
			}
			if g.Length-g.Minus != length(t, strings.Fields(want[1])[0]) || g.Length+g.Plus != length(t, strings.Fields(want[1])[2]) {
				t.Errorf("%s: the grip is from %s to %s", text, g.Length-g.Minus, g.Length+g.Plus)
			}
		}
	}
	for _, text := range []string{"blind rivet 47", "blind rivet", "rivet 42", "blind 42", "solid rivet 42", "blind rivet 42 x", "pop rivet 42"} {
		if r := Decode(text); r.Known {
			t.Errorf("%q: got %s", text, r.Title)
		}
	}
}
