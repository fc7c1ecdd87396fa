package hardware

import (
	"strings"
	"testing"

	"stowright/assets/standards"
	"stowright/store/measure"
)

// TestPublishedHoles: TM 1-1520-240-BD par. 2-6, for hex and clevis bolts of one
// diameter alike; of larger ones the page has none.
func TestPublishedHoles(t *testing.T) {
	for numbers, want := range map[string]string{
		"AN3-5A AN3DD5A AN23-10": "0.191 to 0.197", "AN4-7A AN24-16": "0.250 to 0.257", "AN5-7 AN25-10": "0.3125 to 0.3195", "AN6-10 AN26-17": "0.375 to 0.382",
		"AN7-10 AN8-10 AN27-10 AN22-10 AN42-10 NAS6203-8 AN525-10R8 AN960-10": "",
	} {
		for number := range strings.FieldsSeq(numbers) {
			f, ok := Decode(number).Field(Hole)
			if ok != (want != "") || f.Text != want || ok && (f.Checked != 1 || f.Source != "TM 1-1520-240-BD par. 2-6") {
				t.Errorf("%s: got %q, %d, %q; want %q", number, f.Text, f.Checked, f.Source, want)
			}
		}
	}
}

// TestPinsSeen: the cotter pins that real assemblies have with a nut, each said as seen
// and by how many; where they disagree both stand there.
func TestPinsSeen(t *testing.T) {
	for _, tt := range []struct {
		nut, pin string
		checked  int
	}{
		{"AN310-3", "MS24665-132 seen with AN3-6", 2},
		{"AN310-4", "MS24665-208 seen with AN4-21", 1},
		{"AN310-4", "MS24665-132 seen with AN4", 1},
		{"AN320-4", "MS24665-208 seen with AN174-20", 1},
		{"AN320-4", "MS24665-134 seen with AN24-16", 1},
		{"AN310-5", "MS24665-134 seen with AN5", 1},
		{"AN310-5", "MS24665-210 seen with servo output shaft", 1},
		{"AN310-6", "MS24665-283 seen with AN6-25 / AN6-26", 2},
		{"AN310-3", "AN380-2-2, 1/16 thick", 0},
		{"AN320-6", "AN380-3-3, 3/32 thick", 1},
		{"AN310-9", "AN380-4-4, 1/8 thick", 0},
	} {
		found := false
		for _, f := range Decode(tt.nut).Fields {
			if f.Name == CotterPinField && f.Text == tt.pin {
				found = true
				if f.Checked != tt.checked || f.Source == "" {
					t.Errorf("%s: %q has %d sources, want %d", tt.nut, f.Text, f.Checked, tt.checked)
				}
			}
		}
		if !found {
			t.Errorf("%s: %q is not said", tt.nut, tt.pin)
		}
	}
	for _, nut := range []string{"AN365-1032A", "AN315-3R", "MS21042-3", "AN960-10"} {
		if f, ok := Decode(nut).Field(CotterPinField); ok {
			t.Errorf("%s: %q", nut, f.Text)
		}
	}
}

// The dash numbers of flared ends: tube in sixteenths (TM 1-1500-204-23-6 par. 2-16) and
// the thread of the end, as tables of flared fittings print them.
const publishedFlares = `
2 1/8 5/16-24   3 3/16 3/8-24   4 1/4 7/16-20    5 5/16 1/2-20     6 3/8 9/16-18    8 1/2 3/4-16
10 5/8 7/8-14   12 3/4 1-1/16-12   16 1 1-5/16-12   20 1-1/4 1-5/8-12   24 1-1/2 1-7/8-12   32 2 2-1/2-12
`

func TestPublishedFlares(t *testing.T) {
	cells := strings.Fields(publishedFlares)
	for i := 0; i+2 < len(cells); i += 3 {
		for _, series := range []string{"AN815", "AN816", "AN818", "AN819", "AN821", "AN832", "AN924"} {
			r := Decode(series + "-" + cells[i] + "D")
			tube, _ := r.Field(TubeDiameter)
			thread, _ := r.Field(Thread)
			if short(tube.Length) != cells[i+1] || thread.Text != cells[i+2] {
				t.Errorf("%s-%sD: got %s tube, thread %s; want %s, %s", series, cells[i], tube.Text, thread.Text, cells[i+1], cells[i+2])
			}
		}
	}
	for _, number := range []string{"AN815-7D", "AN818-9", "AN815-1D", "AN815-14", "AN818-33", "AN815-0"} { // no such tube
		if r := Decode(number); r.Known {
			t.Errorf("%s: got %s", number, r.Title)
		}
	}
}

// TestPipeNumbers: pipe thread fittings count eighths (TM 1-1500-204-23-6 par. 2-16).
func TestPipeNumbers(t *testing.T) {
	for dash, size := range map[string]string{"1": "1/8", "2": "1/4", "3": "3/8", "4": "1/2", "6": "3/4", "8": "1", "12": "1-1/2"} {
		for _, series := range []string{"AN910", "AN911", "AN913", "AN914", "AN916", "AN917", "AN932"} {
			f, ok := Decode(series + "-" + dash + "D").Field(PipeSize)
			if !ok || short(f.Length) != size {
				t.Errorf("%s-%sD: got %s, want %s", series, dash, f.Text, size)
			}
		}
	}
	// The second number of a fitting with a pipe end counts sixteenths (from memory).
	for number, end := range map[string]string{"AN816-6-4D": "1/4 pipe thread", "AN822-4-2D": "1/8 pipe thread", "AN840-8-6D": "3/8 pipe thread", "AN823-8-8": "1/2 pipe thread"} {
		f, ok := Decode(number).Field("second_end")
		if !ok || f.Text != end || f.Checked != 0 {
			t.Errorf("%s: got %q, %d sources; want %q from memory", number, f.Text, f.Checked, end)
		}
	}
	for _, number := range []string{"AN816-6-3D", "AN816-6-5D", "AN816-6-10D", "AN816-6-7D"} { // no pipe has that size
		if r := Decode(number); r.Known {
			t.Errorf("%s: got %s", number, r.Title)
		}
	}
}

// TestEveryCautionIsSaid: each row of the table of cautions stands beside a piece of
// its series, number and letter, with its source, and not beside one without them.
func TestEveryCautionIsSaid(t *testing.T) {
	table, err := standards.Read("cautions")
	if err != nil {
		t.Fatal(err)
	}
	c := Standard()
	for _, r := range table.Rows {
		want := r.Get("text") + " (" + r.Source() + ")"
		series, _, _ := strings.Cut(r.Get("series"), "-")
		s := c.series[series]
		if s == nil {
			t.Errorf("line %d: %s is not a series", r.Line, series)
			continue
		}
		with, without := 0, 0
		for _, e := range c.entries() {
			if e.s != s {
				continue
			}
			for _, k := range e.candidates(&Readings{Magnetic: No}, nil) {
				p := k.piece
				said := strings.Contains(strings.Join(p.warnings(), "\n"), want)
				meant := (r.Get("number") == "" || p.nums[0].text == r.Get("number")) && (r.Get("letter") == "" || hasLetter(&p, r.Get("letter")))
				if said != meant {
					t.Errorf("line %d: %s: said %v, want %v: %s", r.Line, k.Designation, said, meant, want)
				}
				if said {
					with++
				} else {
					without++
				}
			}
			if with > 3 && without > 3 {
				break
			}
		}
		if with == 0 && !s.openFamily() && r.Get("letter") == "" {
			t.Errorf("line %d: no piece of %s is told: %s", r.Line, series, want)
		}
	}
}

func hasLetter(p *piece, letter string) bool {
	for i := range p.let {
		for _, l := range p.let[i] {
			if l != nil && l.text == letter {
				return true
			}
		}
	}
	return false
}

// TestSuccessorsRunOneWay: no number names one as its successor that names it again,
// whole series and single numbers alike, and every successor of a full number is real.
func TestSuccessorsRunOneWay(t *testing.T) {
	c := Standard()
	followed := 0
	for i, e := range c.entries() {
		if i%29 != 0 {
			continue
		}
		p := e.candidates(&Readings{}, nil)[0].piece
		seen := map[string]bool{p.s.name: true}
		next := p.successor()
		for next != nil {
			followed++
			r := c.Decode(next.Designation)
			if r.Problem != "" && strings.ContainsAny(next.Designation, "-") {
				t.Errorf("%s: its successor %s is none: %s", p.canonical(), next.Designation, r.Problem)
			}
			q, no := c.parse(next.Designation)
			if no != nil || q.s == nil {
				break
			}
			if seen[q.s.name] {
				t.Errorf("%s comes back to %s", p.canonical(), q.s.name)
				break
			}
			seen[q.s.name] = true
			next = q.successor()
		}
	}
	if followed < 200 {
		t.Errorf("only %d successors were followed", followed)
	}
}

// TestUsualBands: where a figure without a published tolerance may measure, kind by
// kind: the tolerances of common practice around it, a thickness as an example.
func TestUsualBands(t *testing.T) {
	for _, tt := range []struct {
		number, field string
		low, high     measure.Length
	}{
		{"AN960-10", InsideDiameter, 198 * thou, 213 * thou},
		{"AN960-10", OutsideDiameter, 428 * thou, 448 * thou},
		{"AN960-10", Thickness, 58 * thou, 68 * thou},
		{"MS24665-353", Diameter, 120 * thou, 126 * thou},
		{"MS24665-353", LengthField, measure.Inch - sixtyFourth, measure.Inch + sixtyFourth},
		{"AN470AD4-8", LengthField, 490 * thou, 510 * thou},
		{"MS20600AD4-4", Grip, measure.Inch/4 - sixtyFourth, measure.Inch/4 + sixtyFourth},
		{"AN310-4", Height, measure.Inches(9, 32) - 20*thou, measure.Inches(9, 32) + 5*thou},
		{"AN4-7A", AcrossFlats, measure.Inches(7, 16) - 12*thou, measure.Inches(7, 16) + 3*thou},
		{"AS568-012", InsideDiameter, 359 * thou, 374 * thou},
		{"AS568-012", OutsideDiameter, (504 - 10) * thou, (504 + 10) * thou},
		{"AS568-012", CrossSection, 65 * thou, 75 * thou},
		{"MS21919DG8", InsideDiameter, 495 * thou, 510 * thou},
	} {
		p := mustParse(t, tt.number)
		found := false
		for i := range quantities {
			if field, _ := quantities[i].fieldOf(p.s.kind); field == tt.field {
				found = true
				if b := bandOf(&p, &quantities[i]); b.low != tt.low || b.high != tt.high {
					t.Errorf("%s %s: got %s to %s, want %s to %s", tt.number, tt.field, b.low, b.high, tt.low, tt.high)
				}
			}
		}
		if !found {
			t.Errorf("%s: no reading is of its %s", tt.number, tt.field)
		}
	}
}
