package desktop

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
)

// shownIn is what the person can click on: the open question, or else the window.
func (b *bench) shownIn() fyne.CanvasObject {
	if top := b.w.Canvas().Overlays().Top(); top != nil {
		return top
	}
	return b.d.Object()
}

// click clicks on the button with that label.
func (b *bench) click(label string) {
	b.t.Helper()
	for _, button := range shownOf[*look.KeyButton](b.t, b.shownIn()) {
		if button.Label() == label && !button.Off() {
			test.Tap(button)
			b.Elapse()
			return
		}
	}
	b.t.Fatalf("no button says %q:\n%s", label, b.texts())
}

// clickAt clicks on the window as the mouse does, with a button of it.
func (b *bench) clickAt(o fyne.CanvasObject, right bool) {
	b.t.Helper()
	at := &fyne.PointEvent{Position: fyne.NewPos(8, 8)}
	if right {
		o.(fyne.SecondaryTappable).TappedSecondary(at)
	} else {
		o.(fyne.Tappable).Tapped(at)
	}
	b.Elapse()
}

// row is the row of a list that says something.
func (b *bench) row(text string) fyne.CanvasObject {
	b.t.Helper()
	for _, list := range shownOf[*look.RowList](b.t, b.shownIn()) {
		for _, o := range list.DrawnRows() {
			var words []string
			collect(o, &words)
			if strings.Contains(strings.Join(words, " "), text) {
				return o
			}
		}
	}
	b.t.Fatalf("no row says %q:\n%s", text, b.texts())
	return nil
}

// Stories by the mouse alone: rail, rows, buttons, the right click; the keyboard only types what a
// field asks for.
func TestStoriesByTheMouse(t *testing.T) {
	for _, row := range []struct {
		name  string
		scene demo.Scene
		do    func(b *bench)
		entry string
	}{
		{"check off", demo.Unpacking, func(b *bench) { b.rail(1); b.click("Some"); b.write("12"); b.click("Count it") }, "found 12 ea"},
		{"count, from a right click", demo.Unpacked, func(b *bench) {
			b.rail(2)
			b.clickAt(b.row("AN3-5A"), true)
			b.clickAt(b.row("Count"), false) // a click does it: it is a list of what can be done
			b.write("27")
			b.click("Counted")
		}, "counted AN3-5A in A-12: 27 ea"},
		{"a place, looked into by a double click and renamed", demo.Unpacked, func(b *bench) {
			b.rail(3)
			b.clickAt(b.row("Shelf"), false)
			b.clickAt(b.row("Shelf"), false)
			if !strings.Contains(b.texts(), "Garage · Shelf") {
				b.t.Fatalf("a double click does not look into the shelf:\n%s", b.texts())
			}
			b.click("Up")
			b.clickAt(b.row("Shelf"), false)
			b.click("More")
			b.clickAt(b.row("Rename"), false)
			b.write("Wall")
			b.click("Rename")
		}, "Wall"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, row.scene)
			row.do(b)
			entries, err := b.Shop.Entries(0, 1)
			if err != nil || len(entries) == 0 || !strings.Contains(entries[0].Text, row.entry) {
				t.Errorf("the last entry is not %q, %v\n%s", row.entry, err, b.texts())
			}
		})
	}
}

// rail clicks on a screen of the rail, counted from nothing.
func (b *bench) rail(index int) {
	b.t.Helper()
	test.TapCanvas(b.w.Window.Canvas(), fyne.NewPos(46, 64+8+70*float32(index)+35))
	b.Elapse()
	if got, want := b.d.Route().Screen, railEntries()[index].Name; got != want {
		b.t.Fatalf("the rail leads to %q, want %q", got, want)
	}
}
