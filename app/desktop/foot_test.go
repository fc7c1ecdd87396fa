package desktop

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

// tappedAt is what a tap on a point of the window reaches, found as the toolkit finds it: the
// last of the tappable objects there, where a scroller hides what lies outside of it, but not
// what lies outside of a scroller around it.
func tappedAt(o fyne.CanvasObject, point, at fyne.Position, clipAt fyne.Position, clip fyne.Size) (found fyne.CanvasObject) {
	if o == nil || !o.Visible() {
		return nil
	}
	at = at.Add(o.Position())
	if within(point, at, o.Size()) && within(point, clipAt, clip) {
		if _, ok := o.(fyne.Tappable); ok {
			found = o
		}
	}
	if _, ok := o.(fyne.Scrollable); ok {
		clipAt, clip = at, o.Size()
	}
	for _, i := range parts(o) {
		if is := tappedAt(i, point, at, clipAt, clip); is != nil {
			found = is
		}
	}
	return found
}

// parts are the objects that another one is drawn of.
func parts(o fyne.CanvasObject) []fyne.CanvasObject {
	switch c := o.(type) {
	case *fyne.Container:
		return c.Objects
	case fyne.Widget:
		return test.WidgetRenderer(c).Objects()
	}
	return nil
}

// allOf notes an object and all that it is drawn of.
func allOf(o fyne.CanvasObject, all map[fyne.CanvasObject]bool) {
	all[o] = true
	for _, part := range parts(o) {
		allOf(part, all)
	}
}

func within(point, at fyne.Position, size fyne.Size) bool {
	return point.X >= at.X && point.Y >= at.Y && point.X < at.X+size.Width && point.Y < at.Y+size.Height
}

// In the smallest window and the larger size pages scroll, with lists that scroll in them.
func TestBarsTakeTaps(t *testing.T) {
	crowded := []string{"tables", "tables-rivets", "own-rows", "labels-tape", "camera-photo", "claim-sent", "copies", "torque"}
	for _, s := range slices.Concat(scenes(), handbookScenes()) {
		if !slices.Contains(crowded, s.name) || testing.Short() && s.name != crowded[0] {
			continue
		}
		t.Run(s.name, func(t *testing.T) {
			b := sitAt(t, s.shop(t))
			b.w.Resize(fyne.NewSize(1000, 640))
			s.reach(b)
			b.press("F8")
			b.Elapse()
			b.footTakesTaps("larger")
		})
	}
}

// footTakesTaps taps every row of pixels of the foot and of the top bar: what of the page is
// scrolled away under them is not reached.
func (b *bench) footTakesTaps(mode string) {
	b.t.Helper()
	if b.w.Canvas().Overlays().Top() != nil {
		return
	}
	page := map[fyne.CanvasObject]bool{}
	allOf(b.d.Page().Object(), page)
	size := b.w.Canvas().Size()
	for _, x := range []float32{200, 300, 500, 640, 800, 1100} {
		for y := float32(0); y < size.Height; y++ {
			if y > 60 && y < size.Height-30 { // as high as the bars are in the normal size
				continue
			}
			if is := tappedAt(b.w.Canvas().Content(), fyne.NewPos(x, y), fyne.NewPos(0, 0), fyne.NewPos(0, 0), size); page[is] {
				b.t.Errorf("%s: a tap on the bar at %v, %v reaches a %T of the page", mode, x, y, is)
			}
		}
	}
}
