package scan

import (
	"math"
	"testing"
)

// Tags that were turned, grown and shifted together tell where any place goes; one
// alone tells the shift only, and none leaves everything where it was.
func TestMotion(t *testing.T) {
	const turn, growth = 0.05, 1.03
	sin, cos := math.Sincos(turn)
	to := func(p Point) Point {
		return Point{growth*(cos*p.X-sin*p.Y) + 7, growth*(sin*p.X+cos*p.Y) - 4}
	}
	far := Point{900, 500}
	var m motion
	if got := m.of(far); got != far {
		t.Errorf("of nothing: %v goes to %v", far, got)
	}
	m.add(Point{100, 100}, to(Point{100, 100}))
	shift := Point{to(Point{100, 100}).X - 100, to(Point{100, 100}).Y - 100}
	if got, want := m.of(far), (Point{far.X + shift.X, far.Y + shift.Y}); math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-9 {
		t.Errorf("of one tag: %v goes to %v, want %v", far, got, want)
	}
	for _, p := range []Point{{1100, 120}, {120, 650}, {1150, 640}, {600, 400}} {
		m.add(p, to(p))
	}
	got, want := m.of(far), to(far)
	if off := math.Hypot(got.X-want.X, got.Y-want.Y); off > 0.5 {
		t.Errorf("of five tags: %v goes to %v, want %v", far, got, want)
	}
	g := gridOf(Point{800, 400}, Point{842, 400}, Point{800, 442})
	moved, fresh := m.grid(&g), gridOf(to(Point{800, 400}), to(Point{842, 400}), to(Point{800, 442}))
	for i := range moved {
		if off := math.Abs(moved[i] - fresh[i]); off > 0.5 || i != 2 && i != 5 && off > 0.01 {
			t.Errorf("parameter %d of a grid: %.4f, want %.4f", i, moved[i], fresh[i])
		}
	}
}
