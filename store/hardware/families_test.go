package hardware

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

const familiesFile = "../../assets/standards/FAMILIES.md"

// familyTable is the table of what is known of each family, made from the tables.
func familyTable(c *Catalog) string {
	var b strings.Builder
	b.WriteString("# The families of hardware\n\n" +
		"Made from the tables by a test (`go test ./store/hardware -run Families -update`); do not write in it by hand. A number\n" +
		"in brackets is how many independent published sources were seen to agree on the figure for this family, from the least\n" +
		"to the best known of its numbers; \"from memory\" is none, and shown as not cross-checked. What is unknown is said to be\n" +
		"unknown wherever the piece is shown.\n")
	kind := Kind("")
	families := c.Families()
	var kinds []Kind
	for _, f := range families {
		if !slices.Contains(kinds, f.Kind) {
			kinds = append(kinds, f.Kind)
		}
	}
	slices.SortStableFunc(families, func(a, b Family) int { return slices.Index(kinds, a.Kind) - slices.Index(kinds, b.Kind) })
	for _, f := range families {
		if f.Kind != kind {
			kind = f.Kind
			fmt.Fprintf(&b, "\n## %s%s\n\n| family | how it is written | figures and their sources | unknown |\n|---|---|---|---|\n", strings.ToUpper(string(kind[:1])), kind[1:])
		}
		br := c.Breadth(f.Series...)
		var figures, unknown []string
		for _, g := range br.Figures {
			figures = append(figures, g.String())
		}
		for _, u := range br.Unknown {
			unknown = append(unknown, strings.ReplaceAll(u, "_", " "))
		}
		name := f.Name
		if f.Style != "" {
			name += ", " + f.Style
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", name, strings.ReplaceAll(br.Grammar, "|", "\\|"), strings.Join(figures, ", "), strings.Join(unknown, ", "))
	}
	return b.String()
}

// TestFamiliesTable: assets/standards/FAMILIES.md is what the tables say.
func TestFamiliesTable(t *testing.T) {
	got := familyTable(Standard())
	if *update {
		if err := os.WriteFile(familiesFile, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(familiesFile)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is not what the tables say: run with -update and look at the difference", familiesFile)
	}
}

// TestBreadth: grammar, counts and what is unknown, of families whose tables are
// known from elsewhere in these tests.
func TestBreadth(t *testing.T) {
	tests := []struct{ series, grammar, figure, unknown string }{
		{"AN3", "AN3 [C | DD] [H] number [A]", "grip (0 to 2)", Listed},
		{"AN3 AN7", "AN3 [C | DD] [H] number [A]", "grip (0 to 2)", Grip},
		{"AN816", "AN816 number [D | B | Z] [second number] [D | B | Z]", "tube diameter (4)", "second_end"},
		{"MS35206", "MS35206 number", "", "size"},
		{"NAS1738", "NAS1738 (", "diameter (from memory)", shankField},
		{"MS20470", "MS20470 (", "diameter (3)", Listed},
		{"AN490", "not understood", "", Size},
		{"NAS144 NAS158", "not understood", "head style (1)", Size},
		{"MS171401", "the standard number alone", "", "size"},
	}
	for _, tt := range tests {
		t.Run(tt.series, func(t *testing.T) {
			b := Standard().Breadth(strings.Fields(tt.series)...)
			if !strings.Contains(b.Grammar, tt.grammar) || !strings.Contains(fmt.Sprint(b.Figures), tt.figure) || !strings.Contains(strings.Join(b.Unknown, " "), tt.unknown) {
				t.Errorf("got %+v", b)
			}
		})
	}
	if b := Standard().Breadth("AN9999"); b.Grammar != "" {
		t.Errorf("a series that is not there: %+v", b)
	}
}
