package hardware

import (
	"strings"
	"testing"

	"stowright/store/measure"
)

// TestOutlineIsAtSize: the side of a bolt spans its head and its length, and
// the grip is where the thread begins.
func TestOutlineIsAtSize(t *testing.T) {
	tests := []struct {
		name, text   string
		view         string
		wide, high   measure.Length
		labels, note string
	}{
		// NASM3-20: AN3-5A is 21/32 long with grip 1/4; head 1/8 high, 3/8 across flats.
		{"bolt side", "AN3-5A", "side", measure.Inches(21, 32) + measure.Inches(1, 8), corners(measure.Inches(3, 8)), "length 21/32|grip 1/4|0.19", ""},
		{"bolt head", "AN3-5A", "head", corners(measure.Inches(3, 8)), measure.Inches(3, 8), "across flats 3/8", ""},
		{"unknown grip", "AN7-10A", "side", measure.Inches(35, 32) + measure.Inches(1, 4), corners(measure.Inches(5, 8)), "length 1-3/32", "grip unknown"},
		{"washer", "NAS1149F0363P", "top", measure.Inches(438, 1000), measure.Inches(438, 1000), "outside 0.438|inside 0.203", ""},
		{"washer edge", "NAS1149F0363P", "side", measure.Inches(63, 1000), measure.Inches(438, 1000), "thick 0.063", ""},
		{"flush rivet over all", "AN426AD3-3", "side", measure.Inches(3, 16), 19 * measure.Inches(3, 32) / 10, "3/16 over all", "in proportion"},
		{"dome rivet under the head", "AN470AD4-7", "side", measure.Inches(7, 16) + 2*measure.Inches(1, 8)/5, measure.Inches(1, 4), "7/16 under the head", "in proportion"},
		{"O-ring", "AS568-012", "top", measure.Inches(504, 1000), measure.Inches(504, 1000), "inside 0.364", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			o, ok := Decode(tt.text).Outline()
			if !ok {
				t.Fatalf("%s: no outline", tt.text)
			}
			var v *View
			for i := range o.Views {
				if o.Views[i].Name == tt.view {
					v = &o.Views[i]
				}
			}
			if v == nil {
				t.Fatalf("%s: no view %q", tt.text, tt.view)
			}
			var low, high Point
			first := true
			for _, s := range v.Shapes {
				if s.Layer == LayerCentre {
					continue
				}
				points := s.Points
				if s.Radius != 0 {
					points = []Point{{s.Centre.X - s.Radius, s.Centre.Y - s.Radius}, {s.Centre.X + s.Radius, s.Centre.Y + s.Radius}}
				}
				for _, p := range points {
					if first {
						low, high, first = p, p, false
					}
					low.X, low.Y, high.X, high.Y = min(low.X, p.X), min(low.Y, p.Y), max(high.X, p.X), max(high.Y, p.Y)
				}
			}
			if wide, tall := high.X-low.X, high.Y-low.Y; abs(wide-tt.wide) > 2 || abs(tall-tt.high) > 2 {
				t.Errorf("%s %s: got %s by %s, want %s by %s", tt.text, tt.view, wide, tall, tt.wide, tt.high)
			}
			if v.Min.X > low.X || v.Min.Y > low.Y || v.Max.X < high.X || v.Max.Y < high.Y {
				t.Errorf("%s %s: got bounds %v to %v, want them to hold %v to %v", tt.text, tt.view, v.Min, v.Max, low, high)
			}
			var labels []string
			for _, d := range v.Dimensions {
				labels = append(labels, d.Label)
			}
			if got := strings.Join(labels, "|"); !strings.HasPrefix(got, tt.labels) {
				t.Errorf("%s %s: got dimensions %q, want %q", tt.text, tt.view, got, tt.labels)
			}
			if notes := strings.Join(o.Notes, " "); !strings.Contains(notes, tt.note) {
				t.Errorf("%s: got notes %q, want %q", tt.text, notes, tt.note)
			}
		})
	}
}

func abs(l measure.Length) measure.Length { return max(l, -l) }

func TestNothingToDraw(t *testing.T) {
	for _, text := range []string{"OQ-10-001", "AN3-8", "MS24694S5", "AN9-12"} {
		if o, ok := Decode(text).Outline(); ok {
			t.Errorf("%s: got %d views, want none", text, len(o.Views))
		}
	}
}
