package desktop

import (
	"testing"

	"stowright/app/demo"
	"stowright/app/look"
)

// leastTarget is how high and wide what is tapped is in the larger size, in points as drawn: a
// finger in a glove.
const leastTarget = 44

// In the larger size everything that is tapped is as large as a finger, on every page.
func TestTargetsOfTheLargerSize(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("F8")
	shots, err := Shots(b.Session)
	if err != nil {
		t.Fatal(err)
	}
	small := map[string]bool{}
	for _, shot := range shots {
		b.d.Go(shot.Route)
		b.Elapse()
		spots := look.Spots(b.d.Object(), b.w.Canvas().Size())
		if len(spots) < 8 {
			t.Errorf("%s: %d things to tap", shot.Name, len(spots))
		}
		for _, s := range spots {
			if (s.Size.Width < leastTarget || s.Size.Height < leastTarget) && !small[s.Says] {
				small[s.Says] = true
				t.Errorf("%s: %q is %.0f x %.0f", shot.Name, s.Says, s.Size.Width, s.Size.Height)
			}
		}
	}
}
