package hardware

import (
	"fmt"
	"strings"
	"testing"

	"stowright/assets/standards"
	"stowright/store/measure"
)

func tableRows(t *testing.T, name string) []standards.Row {
	t.Helper()
	table, err := standards.Read(name)
	if err != nil {
		t.Fatal(err)
	}
	return table.Rows
}

// TestWasherPairsAgree: both numbers of a pair are read, and are of one size and
// thickness, so that no answer depends on which of the two was asked for.
func TestWasherPairsAgree(t *testing.T) {
	for _, r := range tableRows(t, "washers_an960_to_nas1149") {
		old, next := Decode(r.Get("an960")), Decode(r.Get("nas1149"))
		if !old.Known || !next.Known {
			t.Errorf("line %d: %s %s, %s %s", r.Line, r.Get("an960"), old.Problem, r.Get("nas1149"), next.Problem)
			continue
		}
		for _, name := range []string{Fits, Thickness, InsideDiameter, OutsideDiameter} {
			a, okA := old.Field(name)
			b, okB := next.Field(name)
			if okA && okB && a.Length != b.Length || name == Fits && a.Text != b.Text {
				t.Errorf("line %d: %s of %s is %q, of %s %q", r.Line, name, old.Designation, a.Text, next.Designation, b.Text)
			}
		}
		if d, ok := Standard().Alike(old.Designation, next.Designation); ok && (strings.Contains(d, "thick") || strings.Contains(d, "thin") || strings.Contains(d, "wide")) {
			t.Errorf("line %d: %s and %s: %s", r.Line, old.Designation, next.Designation, d)
		}
	}
}

// TestPinNumbersAgree: the older number of a cotter pin has the sizes and the metal of
// the newer one, and names it as what took its place.
func TestPinNumbersAgree(t *testing.T) {
	pairs := 0
	for _, r := range tableRows(t, "pins_cotter_ms24665") {
		next := Decode(r.Get("part_number"))
		if !next.Known {
			t.Errorf("line %d: %s: %s", r.Line, r.Get("part_number"), next.Problem)
		}
		if r.Get("older_number") == "" {
			continue
		}
		pairs++
		old := Decode(r.Get("older_number"))
		for _, name := range []string{Diameter, LengthField} {
			a, _ := old.Field(name)
			b, _ := next.Field(name)
			if a.Length != b.Length || a.Length == 0 {
				t.Errorf("line %d: %s of %s is %q, of %s %q", r.Line, name, r.Get("older_number"), a.Text, next.Designation, b.Text)
			}
		}
		a, _ := old.Field(Material)
		if steel := r.Get("material") == "steel"; steel == strings.Contains(a.Text, "corrosion-resistant") {
			t.Errorf("line %d: %s is %q in a row of %s", r.Line, old.Designation, a.Text, r.Get("material"))
		}
		if old.SupersededBy == nil || old.SupersededBy.Designation != next.Designation {
			t.Errorf("line %d: %s gave way to %+v, want %s", r.Line, old.Designation, old.SupersededBy, next.Designation)
		}
	}
	if pairs == 0 {
		t.Error("no pair was compared")
	}
}

// TestNamedPiecesAreRead: what one table names of another's pieces is read: bolts,
// nuts and pins that go together.
func TestNamedPiecesAreRead(t *testing.T) {
	for _, tt := range []struct{ table, column, by string }{
		{"pins_cotter_pairing", "nut", " / "},
		{"pins_cotter_pairing", "usual_older_number", " / "},
		{"pins_cotter_ms24665", "part_number", " / "},
		{"wire_ms20995", "part_number", " / "},
	} {
		for _, r := range tableRows(t, tt.table) {
			for number := range strings.SplitSeq(r.Get(tt.column), tt.by) {
				if d := Decode(number); !d.Known || d.Designation != number {
					t.Errorf("%s line %d: %q: got %q %s", tt.table, r.Line, number, d.Designation, d.Problem)
				}
			}
		}
	}
	for _, r := range tableRows(t, "holes_for_an_bolts") {
		for series := range strings.SplitSeq(r.Get("bolt"), " or ") {
			if d := Decode(series + "-10A"); d.Kind != Bolt || !d.Known {
				t.Errorf("holes line %d: %s: %s", r.Line, series, d.Problem)
			}
		}
	}
}

// TestRivetTablesAgree: the sizes of the tables of heads and of seams are diameters of
// rivets, whose first number counts 32nds (NAVEDTRA 14315).
func TestRivetTablesAgree(t *testing.T) {
	dias := Standard().series["AN470"].nums[0]
	for _, r := range tableRows(t, "rivets_shop_head_limits") {
		d := length(t, r.Get("shank_dia_fraction"))
		if c := dias.index[fmt.Sprint(int(d/(2*sixtyFourth)))]; c == nil || c.fields[0].Length != d {
			t.Errorf("line %d: %s is no rivet", r.Line, r.Get("shank_dia_fraction"))
		}
	}
	for _, d := range structuralRivets {
		if c := dias.index[fmt.Sprint(int(d/(2*sixtyFourth)))]; c == nil || c.fields[0].Length != d {
			t.Errorf("%s of Table 4-11 is no rivet", d)
		}
	}
	for n, c := range dias.list {
		if c.fields[0].Length%(2*sixtyFourth) != 0 || n > 0 && c.fields[0].Length <= dias.list[n-1].fields[0].Length {
			t.Errorf("diameter %s: %s", c.text, c.fields[0].Text)
		}
	}
	for _, c := range Standard().series["AN470"].nums[1].list { // in tenths, for the halves
		if want := measure.Length(c.value) * measure.Inch / 160; c.fields[0].Length != want {
			t.Errorf("length %s: got %s, want %s", c.text, c.fields[0].Text, want)
		}
	}
}
