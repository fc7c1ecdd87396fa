package hardware

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestGolden prints everything that is said of one piece of each family, so
// that a change of a table or of a word is seen in review.
func TestGolden(t *testing.T) {
	families := map[string][]string{
		"bolts":   {"AN3-5A", "AN3-3", "AN4DD5A", "AN5H-27A", "AN3-16A", "AN7-10A", "AN9-41", "AN16-20", "AN42B-5", "AN73A-10", "AN174-20", "AN23-10A", "NAS6203-4", "NAS6303D12", "NAS6403U14D", "NAS1306-58", "NAS464-5L20"},
		"nuts":    {"AN310-3", "AN310D5R", "AN320-4", "AN315-3R", "AN316-4L", "AN365-1032A", "AN365-1032", "AN364-1032A", "MS21042-3", "MS21044N3", "MS21045L3", "MS21083N5", "MS17825-4", "MS21047L08", "MS21049L08", "AN366F1032"},
		"washers": {"AN960-10", "AN960-10L", "AN960PD416L", "NAS1149F0363P", "NAS1149CN632R", "AN970-3", "MS35338-43", "AN936A10"},
		"rivets":  {"AN426AD3-3.5", "AN470AD4-7", "AN470A4-4", "NAS1097AD3-3", "AN442AD4-6", "MS20615-4M4", "MS20600AD4-3", "NAS1738M4-4"},
		"pins":    {"MS24665-132", "MS24665-353", "AN380-2-2", "AN381-2-8", "AN393-9", "MS20392-1C9"},
		"screws":  {"AN507-832R8", "AN509-10R11", "AN525-10R7", "AN526C632R8", "AN500-10-8", "MS27039-1-08", "NAS514P632-8P", "NAS5315V06A19D", "MS24694S72", "MS35206-213"},
		"others":  {"AN818-6D", "AN816-6D", "AN911-1D", "MS21919WDG8", "MS20995C32", "AS568-012", "AN931-6-16", "AN667-3", "MS21251-B3S", "AN155-16S", "MS20257P3"},
		"refused": {"AN3-8", "AN4-19A", "AN3-70", "AN3", "AN3-5B", "AN470-4-7", "AN9999-1", "AN324A", "MS21042-05", "OQ-10-001", "bracket for AN3-5A"},
	}
	for name, designations := range families {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			for _, d := range designations {
				b.WriteString(said(Decode(d)) + "\n")
			}
			compare(t, name, b.String())
		})
	}
}

// said prints a result with all its marks.
func said(r Result) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", r.Input)
	if !r.Known {
		fmt.Fprintf(&b, "  not known; %s\n", r.Problem)
		return b.String()
	}
	fmt.Fprintf(&b, "  %s: %s\n  short: %s\n  %s, %s", r.Designation, r.Title, r.Short, r.Kind, r.Family)
	if m := r.Mark(); m != "" {
		fmt.Fprintf(&b, ", %s", m)
	}
	b.WriteString("\n")
	for _, f := range r.Fields {
		fmt.Fprintf(&b, "  %s: %s", f.Name, f)
		if f.Unit == "deg" {
			b.WriteString(" deg")
		}
		fmt.Fprintf(&b, " [%s; %d]\n", f.Source, f.Checked)
	}
	if s := r.SupersededBy; s != nil {
		fmt.Fprintf(&b, "  later number: %s, %s [%s; %d]\n", s.Designation, s.Note, s.Source, s.Checked)
	}
	for _, l := range r.LookAlikes {
		fmt.Fprintf(&b, "  like %s: %s\n", l.Designation, l.Difference)
	}
	for _, w := range r.Warnings {
		fmt.Fprintf(&b, "  caution: %s\n", w)
	}
	if o, ok := r.Outline(); ok {
		for _, v := range o.Views {
			fmt.Fprintf(&b, "  drawn %s: %s by %s", v.Name, (v.Max.X - v.Min.X).Decimal(), (v.Max.Y - v.Min.Y).Decimal())
			for _, d := range v.Dimensions {
				fmt.Fprintf(&b, "; %s", d.Label)
			}
			b.WriteString("\n")
		}
		for _, n := range o.Notes {
			fmt.Fprintf(&b, "  note: %s\n", n)
		}
	}
	return b.String()
}

func compare(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run with -update to write it)", err)
	}
	a, b := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(a), len(b)) {
		x, y := "", ""
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			t.Fatalf("%s line %d:\n got %s\nwant %s\n(run with -update if this is meant)", path, i+1, x, y)
		}
	}
}
