package hardware

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"stowright/store/measure"
)

func length(t *testing.T, text string) measure.Length {
	t.Helper()
	if text == "" {
		return 0
	}
	l, err := measure.ParseLength(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestIdentify(t *testing.T) {
	type reading struct{ diameter, length, grip, inside, outside, thick string }
	tests := []struct {
		name   string
		kind   Kind
		lens   reading
		other  Readings
		first  string
		also   string // another number of the same piece
		ruled  string // a candidate that is ruled out
		why    string // by this
		cannot string // part of the sentence; "" for one left
	}{
		// NASM3-20 table: AN3-5 is 21/32 long with grip 1/4, AN3-6 25/32 with grip 3/8.
		{"from the AN3-6A bag", Bolt, reading{diameter: "3/16", length: ".656"}, Readings{ShankDrilled: No, Head: "hex head", Magnetic: Yes, Marking: "cross"}, "AN3-5A", "", "AN3-6A", "length 0.656: 6.9 tolerances from 25/32 (0.78125)", ""},
		{"in millimetres", Bolt, reading{diameter: "4.76 mm", length: "16.7 mm"}, Readings{ShankDrilled: No, Head: "hex head", Marking: "cross", Magnetic: Yes}, "AN3-5A", "", "AN3-4A", "", ""},
		{"drilled", Bolt, reading{diameter: "#10", length: "1-5/32", grip: "3/4"}, Readings{ShankDrilled: Yes, Head: "hex head", Marking: "cross", Magnetic: Yes}, "AN3-11", "", "AN3-11A", "it has no cotter-pin hole", ""},
		{"shank not looked at", Bolt, reading{diameter: "#10", length: "1-5/32", grip: "3/4"}, Readings{Head: "hex head", Marking: "cross", Magnetic: Yes}, "AN3-11", "", "AN3-12", "", "no cotter-pin hole"},
		{"two dash numbers of one grip", Bolt, reading{diameter: ".248", grip: "1/16"}, Readings{ShankDrilled: No, Head: "hex head", Marking: "cross", Magnetic: Yes}, "AN4-3A", "", "", "", "AN4-3A and AN4-4A both fit; AN4-4A differs: 1/16 longer"},
		// AC 43.13-1B par. 7-2: 2117 has a dimple.
		{"dome rivet", Rivet, reading{diameter: "1/8", length: "7/16"}, Readings{Head: "universal", Marking: "dimple", Magnetic: No}, "AN470AD4-7", "MS20470AD4-7", "AN470AD4-6.5", "", ""},
		{"soft rivet", Rivet, reading{diameter: "1/8", length: "7/16"}, Readings{Head: "universal", Marking: "plain"}, "AN470A4-7", "MS20470A4-7", "AN470AD4-7", "head marked: dimple", ""},
		// NAS1149 size 03 read in an assembly drawing.
		{"thin washer", Washer, reading{inside: ".203", outside: ".438", thick: ".032"}, Readings{Magnetic: Yes}, "AN960-10L", "NAS1149F0332P", "AN960-10", "thickness 0.032: 6.0 tolerances from 0.063", ""},
		{"lock nut by its thread", Nut, reading{diameter: ".190"}, Readings{ThreadsPerInch: 32}, "AN310-3", "", "", "", "pieces fit"},
		{"pitch gauge in millimetres", Screw, reading{diameter: ".164", length: "1/2"}, Readings{ThreadPitch: 79 * measure.Millimetre / 100, Head: "100 degree countersunk head with full"}, "AN507-832R8", "", "AN507-832R7", "length 0.5", "3 pieces fit: try a magnet and look at the colour of the metal"},
		{"triangle on the head", Bolt, reading{diameter: ".189", grip: "1/4", length: ".573"}, Readings{Marking: "triangle", Head: "hex head"}, "NAS6203-4", "", "NAS6203-3", "grip 0.25", "6 pieces fit: look for a cotter-pin hole"},
		{"kind not said", "", reading{diameter: "3/16", length: ".656"}, Readings{ShankDrilled: No, Head: "hex head", Marking: "cross", Magnetic: Yes}, "AN3-5A", "", "AN3-6A", "", ""},
		{"a pin, not a washer", "", reading{diameter: "1/16", length: "1/2"}, Readings{Magnetic: Yes}, "AN380-2-2", "MS24665-132", "AN380-2-1", "", "pieces fit"},
		{"nothing near", Bolt, reading{diameter: "3", length: "9"}, Readings{}, "", "", "", "", "nothing in the tables"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := tt.other
			r.Kind = tt.kind
			r.Diameter, r.Length, r.Grip = length(t, tt.lens.diameter), length(t, tt.lens.length), length(t, tt.lens.grip)
			r.Inside, r.Outside, r.Thickness = length(t, tt.lens.inside), length(t, tt.lens.outside), length(t, tt.lens.thick)
			id, err := Standard().Identify(r, nil)
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			for _, k := range id.Candidates {
				lines = append(lines, strings.Join([]string{k.Designation, strings.Join(k.Also, "+"), k.Away.String(), k.RuledOut}, " | "))
			}
			list := strings.Join(lines, "\n")
			if tt.first != "" && (len(id.Candidates) == 0 || id.Candidates[0].Designation != tt.first || !id.Candidates[0].Fits) {
				t.Fatalf("got\n%s\nwant %s first", list, tt.first)
			}
			if tt.also != "" && !slices.Contains(id.Candidates[0].Also, tt.also) {
				t.Errorf("got also %q, want %q", id.Candidates[0].Also, tt.also)
			}
			if tt.ruled != "" {
				i := slices.IndexFunc(id.Candidates, func(k Candidate) bool { return k.Designation == tt.ruled })
				if i < 0 || id.Candidates[i].Fits || !strings.Contains(id.Candidates[i].RuledOut, tt.why) {
					t.Errorf("got\n%s\nwant %s ruled out by %q", list, tt.ruled, tt.why)
				}
			}
			if (id.CannotTell == "") != (tt.cannot == "") || !strings.Contains(id.CannotTell, tt.cannot) {
				t.Errorf("got cannot tell %q, want %q; list\n%s", id.CannotTell, tt.cannot, list)
			}
		})
	}
}

func TestIdentifyPrefersTheShop(t *testing.T) {
	r := Readings{Kind: Nut, Diameter: 190 * thou, ThreadsPerInch: 32}
	id, err := Standard().Identify(r, []string{"AN3-5A", "MS21042-3", "OQ-10-001"})
	if err != nil {
		t.Fatal(err)
	}
	if got := id.Candidates[0]; got.Designation != "MS21042-3" || !got.InShop {
		t.Errorf("got %+v first, want MS21042-3 of the shop", got)
	}
	if len(id.Candidates) < 5 {
		t.Errorf("got %d candidates, want the rest shown too", len(id.Candidates))
	}
}

func TestIdentifyRefuses(t *testing.T) {
	if _, err := Standard().Identify(Readings{Kind: Bolt}, nil); !errors.Is(err, ErrNoReadings) {
		t.Errorf("got %v, want %v", err, ErrNoReadings)
	}
	if _, err := Standard().Identify(Readings{Diameter: 200 * measure.Inch}, nil); err == nil {
		t.Error("a diameter of 200 in was taken")
	}
}

// TestEveryRowIdentifiesItself: a piece that measures what its row says is
// among the fits.
func TestEveryRowIdentifiesItself(t *testing.T) {
	c := Standard()
	for i, e := range c.entries() {
		if i%37 != 0 || e.s.kind == Fitting || e.s.kind == CablePart {
			continue
		}
		p := piece{s: e.s, nums: e.nums}
		r := Readings{Kind: e.s.kind, Head: e.s.style}
		for _, q := range quantities {
			*q.of(&r) = p.figure(q.field)
		}
		if n := p.nums[0].nominal; n != 0 {
			r.Length = n + measure.Inch/16
		}
		asked, err := r.asked()
		if err != nil || len(asked) == 0 && r.ThreadsPerInch == 0 {
			continue // no figure of it can be measured
		}
		found, _ := c.nearest(&r, asked)
		if !slices.ContainsFunc(found, func(f *entry) bool { return f.s.look == e.s.look && f.nums == e.nums }) {
			t.Errorf("%s with %+v is not among the %d nearest", p.canonical(), r, len(found))
		}
	}
}

func BenchmarkIdentify(b *testing.B) {
	c := Standard()
	b.Logf("%d rows", len(c.entries()))
	r := Readings{Diameter: 1875 * thou / 10, Length: 656 * thou, ShankDrilled: No}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Identify(r, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkIndex(b *testing.B) {
	for b.Loop() {
		c, err := load()
		if err != nil {
			b.Fatal(err)
		}
		c.entries()
	}
}

// Where nothing fits, the near misses come before pieces of which the tables lack the
// measured figure: those would fit anything.
func TestNearMissesBeforeUnknown(t *testing.T) {
	id, err := Standard().Identify(Readings{AcrossFlats: measure.Inches(41, 100)}, nil)
	if err != nil || len(id.Candidates) == 0 {
		t.Fatalf("%+v, %v", id, err)
	}
	if first := id.Candidates[0]; first.Fits || first.RuledOut == "" || !strings.Contains(id.CannotTell, "the nearest is "+first.Designation) {
		t.Errorf("first %s, fits %v, %q; %s", first.Designation, first.Fits, first.RuledOut, id.CannotTell)
	}
	id, err = Standard().Identify(Readings{Kind: CotterPin, AcrossFlats: measure.Inches(41, 100)}, nil)
	if err != nil || len(id.Candidates) > 0 && id.Candidates[0].Fits && !id.Candidates[0].Incomplete {
		t.Errorf("a cotter pin across the flats: %+v, %v", id, err)
	}
}
