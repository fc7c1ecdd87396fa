package drawing

import (
	"math"
	"slices"
	"strings"
	"testing"

	"stowright/store/hardware"
	"stowright/store/measure"
)

func TestDrawerNames(t *testing.T) {
	for _, row := range []struct{ name, want string }{
		{"A-07", "07"}, {"S1", "S1"}, {"A-", "A-"}, {"-1", "-1"}, {"", ""}, {"RACK-2-03", "03"},
	} {
		if got := (Drawer{Name: row.name}).Short(); got != row.want {
			t.Errorf("short name of %q: got %q, want %q", row.name, got, row.want)
		}
	}
	if got := (Drawer{Name: "A-07"}).Key(); got != "A-07" {
		t.Errorf("key without an ID: got %q, want A-07", got)
	}
	if got := (Drawer{Name: "A-07", ID: "p7"}).Key(); got != "p7" {
		t.Errorf("key with an ID: got %q, want p7", got)
	}
}

func TestBlankCabinet(t *testing.T) {
	c := Blank("A", 5, 8)
	if len(c.Drawers) != 40 || c.Drawers[0].Name != "A-01" || c.Drawers[39].Name != "A-40" || !c.Drawers[7].Empty {
		t.Errorf("blank 5 x 8: got %d drawers from %q to %q", len(c.Drawers), c.Drawers[0].Name, c.Drawers[len(c.Drawers)-1].Name)
	}
	if c.Lit() != -1 {
		t.Errorf("nothing lit: got %d, want -1", c.Lit())
	}
	c.Drawers[6].Lit = true
	if c.Lit() != 6 {
		t.Errorf("lit: got %d, want 6", c.Lit())
	}
}

// AN3-5A is .656 long with .250 grip (the shop's own rules; the tables name their
// source): the drawing has both, in millimetres, with the thread hatched beyond
// the grip only.
func TestPieceOfBolt(t *testing.T) {
	p := PieceOf(hardware.Decode("AN3-5A"), measure.InInches)
	if p == nil {
		t.Fatal("AN3-5A: no drawing")
	}
	hatch := 0
	for _, path := range p.Paths {
		if path.Stroke == Thread {
			hatch++
			if x := path.Points[0].X; x < 6.35 {
				t.Errorf("hatching at %.2f mm, within the grip of 6.35", x)
			}
		}
	}
	if hatch < 8 {
		t.Errorf("hatching: got %d lines, want 8 or more", hatch)
	}
	lengths := map[string]float64{"grip": 6.35, "length": 16.66}
	for _, d := range p.Dimensions {
		word, _, _ := strings.Cut(d.Text, " ")
		want, ok := lengths[word]
		if !ok {
			continue
		}
		delete(lengths, word)
		if got := math.Abs(d.B.X - d.A.X); math.Abs(got-want) > 0.02 {
			t.Errorf("%s: got %.3f mm, want %.3f", d.Text, got, want)
		}
		if d.Upright() {
			t.Errorf("%s: runs up and down", d.Text)
		}
	}
	if len(lengths) > 0 {
		t.Errorf("dimensions missing: %v of %+v", lengths, p.Dimensions)
	}
}

func TestPieceOfUnknown(t *testing.T) {
	if p := PieceOf(hardware.Decode("OQ-10-001"), measure.InInches); p != nil {
		t.Errorf("a kit part: got a drawing of %d paths, want none", len(p.Paths))
	}
}

func TestBounds(t *testing.T) {
	least, greatest := (Piece{}).Bounds()
	if least != (Point{}) || greatest != (Point{}) {
		t.Errorf("empty: got %v %v, want zero", least, greatest)
	}
	p := Piece{Paths: []Path{{Points: []Point{{2, 3}, {-1, 5}}}, {Points: []Point{{0, 9}}}}}
	least, greatest = p.Bounds()
	if least != (Point{-1, 3}) || greatest != (Point{2, 9}) {
		t.Errorf("got %v %v, want {-1 3} {2 9}", least, greatest)
	}
}

// In millimetres each measure has its length behind the published figure.
func TestMeasuresInMillimetres(t *testing.T) {
	var got []string
	for _, d := range PieceOf(hardware.Decode("AN3-5A"), measure.InMillimetres).Dimensions {
		got = append(got, d.Text)
	}
	slices.Sort(got)
	want := []string{"0.190 = 4.826 mm", "grip 1/4 = 6.35 mm", "length 21/32 = 16.6688 mm"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Every measure that is drawn of a number of the tables is converted: none stays in inches alone.
func TestEveryMeasureIsConverted(t *testing.T) {
	for _, name := range []string{"AN3-5A", "AN4-12A", "AN310-3", "AN365-1032A", "NAS1149F0363P", "AN960-10L", "AN470AD4-7", "AN426AD3-3.5", "MS24665-132", "MS21042-3", "AN507-832R8", "MS20392-2C15"} {
		piece := PieceOf(hardware.Decode(name), measure.InMillimetres)
		if piece == nil {
			continue
		}
		for _, d := range piece.Dimensions {
			if !strings.Contains(d.Text, " mm") {
				t.Errorf("%s: %q", name, d.Text)
			}
		}
	}
}
