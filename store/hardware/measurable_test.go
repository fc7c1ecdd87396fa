package hardware

import (
	"slices"
	"testing"

	"stowright/store/measure"
)

// What the tables give a figure of can be measured on a piece, and is held against a
// reading: a kind that lacked it would be ruled out by every reading of it.
func TestWhatHasAFigureIsMeasurable(t *testing.T) {
	given := map[Kind]map[string]string{} // by kind and field: a piece that has the figure
	for _, e := range Standard().entries() {
		p := piece{s: e.s, nums: e.nums}
		for i := range quantities {
			field := quantities[i].field
			if f := p.fact(field); f == nil || f.Length == 0 {
				continue
			}
			if given[e.s.kind] == nil {
				given[e.s.kind] = map[string]string{}
			}
			given[e.s.kind][field] = p.canonical()
		}
	}
	for kind, fields := range given {
		for field, of := range fields {
			if !slices.Contains(measurable[kind], field) {
				t.Errorf("%s has a figure for its %s, and a %s is said to have none", of, field, kind)
			}
		}
	}
	for _, must := range []struct {
		kind  Kind
		field string
	}{{Washer, InsideDiameter}, {Washer, OutsideDiameter}, {Washer, Thickness}} {
		if given[must.kind][must.field] == "" {
			t.Errorf("no %s in the tables has a figure for its %s: this test shows nothing", must.kind, must.field)
		}
	}
}

// How many tolerances a reading is off, on either side of the published figure. The
// bands and the tolerances are common practice: 0.005 of thickness either way, two
// thousandths of the caliper itself, and four thousandths to a tolerance.
func TestThicknessOfAWasher(t *testing.T) {
	for _, row := range []struct {
		read string
		want string
		fits bool
	}{
		{".063", "thickness 0.063: within 0.063", true},
		{".056", "thickness 0.056: within 0.063", true}, // 0.063 - 0.005 - 0.002
		{".070", "thickness 0.070: within 0.063", true}, // 0.063 + 0.005 + 0.002
		{".055", "thickness 0.055: 0.3 tolerances from 0.063", true},
		{".052", "thickness 0.052: 1.0 tolerances from 0.063", true},
		{".074", "thickness 0.074: 1.0 tolerances from 0.063", true},
		{".051", "thickness 0.051: 1.3 tolerances from 0.063", false},
		{".075", "thickness 0.075: 1.3 tolerances from 0.063", false},
		{".032", "thickness 0.032: 6.0 tolerances from 0.063", false},
	} {
		t.Run(row.read, func(t *testing.T) {
			p, no := Standard().parse("NAS1149F0363P")
			if no != nil {
				t.Fatal(no.problem)
			}
			r := Readings{Thickness: length(t, row.read)}
			asked, err := r.asked()
			if err != nil {
				t.Fatal(err)
			}
			k := judge(p, &r, asked)
			if len(k.Judged) != 1 || k.Judged[0].Text != row.want || k.Fits != row.fits {
				t.Errorf("got %+v, fits %v; want %q, %v", k.Judged, k.Fits, row.want, row.fits)
			}
		})
	}
}

// A reading of what a kind does not have at all rules the piece out.
func TestWhatAKindDoesNotHave(t *testing.T) {
	p, no := Standard().parse("NAS1149F0363P")
	if no != nil {
		t.Fatal(no.problem)
	}
	r := Readings{Grip: measure.Inch / 4}
	asked, err := r.asked()
	if err != nil {
		t.Fatal(err)
	}
	if k := judge(p, &r, asked); k.Fits || k.RuledOut != "a washer has no grip" {
		t.Errorf("a washer with a grip: fits %v, %q", k.Fits, k.RuledOut)
	}
}
