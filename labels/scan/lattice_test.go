package scan

import (
	"math"
	"testing"
	"time"

	"stowright/labels/scan/frames"
)

// Labels whose finders drown in noise are read where the rows and columns of the
// others say that they are, and nothing else is.
func TestNeighbours(t *testing.T) {
	inFull(t)
	frame, err := frames.Wall(21, 8, true, 1280, 720, madeTags(2000))
	if err != nil {
		t.Fatal(err)
	}
	r := New()
	report, err := r.Read(t.Context(), frame.Picture, Options{TagsOnly: true, Budget: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	if seen := checkTrue(t, &frame, report.Codes, 0.6); seen < 27 {
		t.Errorf("%d of %d labels read, want 27; 20 have finders that stand out", seen, len(frame.Labels))
	}
}

// Rows and columns are as far apart as most neighbours are, whatever is missing, and
// whatever the turn of the picture.
func TestPitch(t *testing.T) {
	const size, turn = 2.0, 0.2
	sin, cos := math.Sincos(turn)
	r := New()
	for row := range 3 {
		for col := range 5 {
			if row == 1 && col%2 == 1 {
				continue // not found
			}
			x, y := float64(col)*72*size, float64(row)*55*size
			r.detections = append(r.detections, detection{grid: grid{
				size * cos, -size * sin, 500 + cos*x - sin*y, size * sin, size * cos, 300 + sin*x + cos*y,
			}})
		}
	}
	if right, down := r.pitch(false), r.pitch(true); math.Abs(right-72) > 0.01 || math.Abs(down-55) > 0.01 {
		t.Errorf("%.2f modules to the right and %.2f down, want 72 and 55", right, down)
	}
	r.detections = r.detections[:1]
	if right, down := r.pitch(false), r.pitch(true); right != 0 || down != 0 {
		t.Errorf("of one tag: %.2f and %.2f, want none", right, down)
	}
}
