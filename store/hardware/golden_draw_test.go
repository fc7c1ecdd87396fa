package hardware

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestGoldenDrawings keeps the lines of a few drawings, in thousandths of an
// inch, so that a change of geometry is seen in review.
func TestGoldenDrawings(t *testing.T) {
	var b strings.Builder
	for _, d := range []string{"AN3-5A", "AN5H-27A", "AN23-10A", "AN426AD3-3", "AN470AD4-7", "NAS1149F0363P", "MS21083N5", "AN365-1032A", "MS24665-132", "AN393-9", "AN507-832R8", "AS568-012", "MS20600AD4-3"} {
		o, ok := Decode(d).Outline()
		if !ok {
			t.Fatalf("%s: not drawn", d)
		}
		b.WriteString(d + "\n" + lines(o))
	}
	bolt, err := Standard().ChooseBolt(Joint{
		Series: "NAS6303", Nut: "AN310-3", HeadWashers: []string{"AN960-10L"}, Layers: []Ply{{"plate", measure.Inches(1, 2)}, {"lug", measure.Inches(3, 16)}},
	})
	if err != nil {
		t.Fatal(err)
	}
	b.WriteString("joint of " + bolt.Choices[0].Designation + "\n" + lines(bolt.Choices[0].Section))
	rivets, err := Standard().ChooseRivet(Seam{Layers: []Ply{{Thickness: 32 * thou}, {Thickness: 40 * thou}}})
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range rivets.Choices[:2] {
		b.WriteString("seam of " + k.Designation + "\n" + lines(k.Section))
	}
	compare(t, "drawings", b.String())
}

func lines(o Outline) string {
	var b strings.Builder
	at := func(p Point) string { return mils(p.X) + "," + mils(p.Y) }
	for _, v := range o.Views {
		fmt.Fprintf(&b, "  %s from %s to %s\n", v.Name, at(v.Min), at(v.Max))
		for _, s := range v.Shapes {
			fmt.Fprintf(&b, "    %s", s.Layer)
			if s.Radius != 0 {
				fmt.Fprintf(&b, " round %s radius %s from %d to %d", at(s.Centre), mils(s.Radius), s.From, s.To)
			}
			for _, p := range s.Points {
				b.WriteString(" " + at(p))
			}
			if s.Closed {
				b.WriteString(" closed")
			}
			b.WriteString("\n")
		}
		for _, d := range v.Dimensions {
			fmt.Fprintf(&b, "    %q from %s to %s off %s\n", d.Label, at(d.From), at(d.To), mils(d.Offset))
		}
	}
	for _, n := range o.Notes {
		fmt.Fprintf(&b, "  %s\n", n)
	}
	return b.String()
}

// mils writes a length in thousandths with two places.
func mils(l measure.Length) string { return fmt.Sprintf("%.2f", float64(l)/float64(thou)) }
