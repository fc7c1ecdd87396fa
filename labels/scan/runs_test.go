package scan

import (
	"math"
	"slices"
	"testing"
)

// finderLine is a line through the middle of a finder pattern whose five runs have the
// given lengths in modules of ten pixels, dark on light, with light outside.
func finderLine(lengths [5]float64, levels [7]float32) (line []float32) {
	add := func(n int, v float32) {
		for range n {
			line = append(line, v)
		}
	}
	add(20, levels[0])
	for i, l := range lengths {
		add(int(math.Round(10*l)), levels[i+1])
	}
	add(20, levels[6])
	return line
}

// plainLevels are the brightness of paper and ink along a finder pattern.
var plainLevels = [7]float32{200, 40, 200, 40, 200, 40, 200}

// Five runs are a finder pattern when each is one module long and the middle three, up
// to the deviation allowed for one run, and for the middle 1.6 times that.
func TestFinderRunLengths(t *testing.T) {
	for _, row := range []struct {
		name    string
		lengths [5]float64
		loose   float32
		want    bool
	}{
		{"exact", [5]float64{1, 1, 3, 1, 1}, 0.1, true},
		{"one run half a module longer, allowed", [5]float64{1.5, 1, 3, 1, 1}, 0.5, true},
		{"one run half a module longer, not allowed", [5]float64{1.5, 1, 3, 1, 1}, 0.3, false},
		{"one run shorter, allowed", [5]float64{1, 0.5, 3, 1, 1}, 0.5, true},
		{"one run shorter, not allowed", [5]float64{1, 0.5, 3, 1, 1}, 0.3, false},
		{"the middle a module longer, allowed", [5]float64{1, 1, 4, 1, 1}, 0.5, true},
		{"the middle a module longer, not allowed", [5]float64{1, 1, 4, 1, 1}, 0.25, false},
		{"the middle a module shorter, not allowed", [5]float64{1, 1, 2, 1, 1}, 0.3, false},
		{"all alike", [5]float64{1, 1, 1, 1, 1}, 0.75, false},
		{"the last run too long", [5]float64{1, 1, 3, 1, 2}, 0.4, false},
		{"the fourth too long", [5]float64{1, 1, 3, 2, 1}, 0.4, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := runs{swing: 20}
			r.scan(finderLine(row.lengths, plainLevels))
			if len(r.edge) != 6 {
				t.Fatalf("%d edges, want 6: %v", len(r.edge), r.edge)
			}
			middle, module, ok := r.finderRun(5, row.loose)
			if ok != row.want {
				t.Fatalf("a finder: %v, want %v", ok, row.want)
			}
			if !ok {
				return
			}
			sum := 0.0
			for _, l := range row.lengths {
				sum += l
			}
			at := 20 + 10*(row.lengths[0]+row.lengths[1]+row.lengths[2]/2) - 0.5
			if math.Abs(float64(module)-10*sum/7) > 0.01 || math.Abs(float64(middle)-at) > 0.6 {
				t.Errorf("a module of %.2f pixels, the middle at %.2f; want %.2f and %.2f", module, middle, 10*sum/7, at)
			}
		})
	}
}

// The middle of a finder stands out from what is around by far more than noise does, and
// its rings are about as dark as it is.
func TestFinderLevels(t *testing.T) {
	for _, row := range []struct {
		name   string
		levels [7]float32
		swing  float32
		want   bool
	}{
		{"dark on light", plainLevels, 20, true},
		{"light on dark", [7]float32{40, 200, 40, 200, 40, 200, 40}, 20, true},
		{"pale gaps, as blur makes them", [7]float32{200, 60, 120, 40, 120, 60, 200}, 20, true},
		{"just over 2.2 swings deep", [7]float32{200, 155, 200, 155, 200, 155, 200}, 20, true},
		{"less than 2.2 swings deep", [7]float32{200, 157, 200, 157, 200, 157, 200}, 20, false},
		{"a ring somewhat darker than the middle", [7]float32{200, 40, 200, 80, 200, 80, 200}, 20, true},
		{"a ring far darker than the middle", [7]float32{200, 10, 200, 120, 200, 120, 200}, 20, false},
		{"the other ring far darker", [7]float32{200, 120, 200, 120, 200, 10, 200}, 20, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			r := runs{swing: row.swing}
			r.scan(finderLine([5]float64{1, 1, 3, 1, 1}, row.levels))
			if len(r.edge) != 6 {
				t.Fatalf("%d edges, want 6: %v", len(r.edge), r.edge)
			}
			if _, _, ok := r.finderRun(5, 0.3); ok != row.want {
				t.Errorf("a finder: %v, want %v", ok, row.want)
			}
		})
	}
}

// A change as large as the swing is none; one that is larger is an edge. Slow light makes
// none that stands alone, and what a line was scanned for before is forgotten.
func TestRunsSwing(t *testing.T) {
	r := runs{swing: 10}
	for _, row := range []struct {
		name string
		line []float32
		want []float32
	}{
		{"a bar as deep as the swing", []float32{100, 90, 100}, nil},
		{"a bar deeper than the swing", []float32{100, 89, 100}, []float32{0.5, 1.5}},
		{"a bar as high as the swing", []float32{90, 100, 90}, nil},
		{"a bar higher than the swing", []float32{89, 100, 89}, []float32{0.5, 1.5}},
		{"two steps down are one edge", []float32{100, 80, 60, 60}, []float32{1}},
		{"a small rise within a fall is none", []float32{100, 70, 75, 20, 20}, []float32{2.2727273}},
		{"nothing", nil, nil},
		{"one value", []float32{7}, nil},
	} {
		r.scan(row.line)
		if len(r.edge) != len(row.want) || len(r.fall) != len(row.want) || len(r.level) != len(row.want) {
			t.Errorf("%s: %d edges %v, want %v", row.name, len(r.edge), r.edge, row.want)
			continue
		}
		for i := range row.want {
			if math.Abs(float64(r.edge[i]-row.want[i])) > 1e-4 {
				t.Errorf("%s: edges at %v, want %v", row.name, r.edge, row.want)
			}
		}
	}
}

// The brightness of the turning point after each edge is kept.
func TestRunsLevels(t *testing.T) {
	r := runs{swing: 10}
	r.scan([]float32{200, 200, 50, 40, 60, 180, 190, 20, 20})
	if want := []float32{40, 190, 20}; !slices.Equal(r.level, want) {
		t.Errorf("levels %v, want %v", r.level, want)
	}
	if want := []bool{true, false, true}; !slices.Equal(r.fall, want) {
		t.Errorf("falling %v, want %v", r.fall, want)
	}
}
