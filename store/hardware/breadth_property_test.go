package hardware

import (
	"fmt"
	"slices"
	"testing"
)

// TestBreadthIsWhatPiecesSay: what the table of families says of one is what its
// numbers say when they are decoded: no figure that it does not name, no count
// outside its bounds, and nothing unknown that it calls known.
func TestBreadthIsWhatPiecesSay(t *testing.T) {
	c := Standard()
	looked := 0
	for _, family := range c.Families() {
		b := c.Breadth(family.Series...)
		if b.Grammar == "" {
			t.Errorf("%s: no grammar", family.Name)
		}
		for _, g := range b.Figures {
			if g.Least > g.Most || g.Least < 0 || g.Most > 9 {
				t.Errorf("%s: %s from %d to %d sources", family.Name, g.Name, g.Least, g.Most)
			}
		}
		for _, series := range family.Series {
			numbers := c.Numbers(series, "")
			for _, at := range []int{0, len(numbers) / 2, len(numbers) - 1} {
				if len(numbers) == 0 {
					break
				}
				looked++
				for _, f := range Decode(numbers[at]).Fields {
					if f.Name == TorqueTension || f.Name == TorqueShear {
						continue
					}
					if why := b.denies(f); why != "" {
						t.Errorf("%s: %s says %s of %s: %+v", family.Name, numbers[at], why, f.Name, f)
					}
				}
			}
		}
	}
	if looked < 700 {
		t.Errorf("only %d numbers were looked at", looked)
	}
}

// denies is how a fact goes beyond what the family is said to know, "" where it
// does not.
func (b *Breadth) denies(f Field) string {
	if f.Unknown {
		if !slices.Contains(b.Unknown, f.Name) {
			return "an unknown"
		}
		return ""
	}
	i := slices.IndexFunc(b.Figures, func(g Figure) bool { return g.Name == f.Name })
	if i < 0 {
		return "a figure"
	}
	if g := b.Figures[i]; f.Checked < g.Least || f.Checked > g.Most {
		return fmt.Sprintf("%d sources (%d to %d)", f.Checked, g.Least, g.Most)
	}
	return ""
}

// TestFigureString: how many sources a figure has, as the table of families writes it.
func TestFigureString(t *testing.T) {
	for want, f := range map[string]Figure{
		"grip (0 to 2)":                {Grip, 0, 2},
		"thread length (2)":            {ThreadLength, 2, 2},
		"head style (from memory)":     {HeadStyle, 0, 0},
		"cotter hole from end (1)":     {CotterFromEnd, 1, 1},
		"inside diameter (1 to 3)":     {InsideDiameter, 1, 3},
		"dash numbers (from memory)":   {Listed, 0, 0},
		"head drilled (0 to 4)":        {HeadDrilled, 0, 4},
		"countersink angle (1)":        {CountersinkAngle, 1, 1},
		"outside diameter (2 to 3)":    {OutsideDiameter, 2, 3},
		"cable diameter (from memory)": {CableDiameter, 0, 0},
	} {
		if got := f.String(); got != want {
			t.Errorf("%+v: got %q, want %q", f, got, want)
		}
	}
}

// TestGrammarWritten: how a number of each sort of grammar is put together.
func TestGrammarWritten(t *testing.T) {
	for series, want := range map[string]string{
		"AN3":      "AN3 [C | DD] [H] number [A]",
		"AN365":    "AN365 [D | C | B] number [A | C]",
		"AN931":    "AN931 number [second number]",
		"AN960":    "AN960 [C | D | PD | JD | KD] number",
		"MS171401": "the standard number alone",
		"AN490":    "AN490 and what stands behind it, not understood",
		"MS20995":  "MS20995 number",
		"AS568":    "AS568 number",
	} {
		if got := Standard().Breadth(series).Grammar; got != want {
			t.Errorf("%s: got %q, want %q", series, got, want)
		}
	}
}
