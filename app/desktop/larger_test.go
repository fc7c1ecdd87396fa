package desktop

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
)

// edges are where an object begins and ends across the window.
func edges(o fyne.CanvasObject) (left, right float32) {
	left = fyne.CurrentApp().Driver().AbsolutePositionForObject(o).X
	return left, left + o.Size().Width
}

// rightOf is the last of the objects that the window shows across its width.
func rightOf[T fyne.CanvasObject](t *testing.T, o fyne.CanvasObject) T {
	t.Helper()
	var last T
	most := float32(-1)
	for _, is := range shownOf[T](t, o) {
		if left, _ := edges(is); left > most {
			last, most = is, left
		}
	}
	return last
}

// In the larger size too, what stands at the right leaves the lists of the page in
// sight, and Esc goes back as it does in the normal size.
func TestLargerHasCardBesideTheList(t *testing.T) {
	for _, row := range []struct {
		name  string
		reach func(b *bench)
		card  string // empty for a pane of the screen's own
	}{
		{"find", keysOf("Ctrl+3", "Ctrl+K", `"an3"`), "AN3-4A"},
		{"places, a room", keysOf("Ctrl+4", "/", "Down"), "Cabinet A"},
		{"places, a shelf", func(b *bench) { b.drawer("S1") }, "S1"},
		{"labels", keysOf("Ctrl+5"), ""},
		{"camera", func(b *bench) { b.d.Go(routes.Route{Screen: routes.Camera, About: b.photo("A-12", "A-13")}) }, "AN3-5A"},
		{"handbook", keysOf("Ctrl+8", `"an3-5a"`), "AN3-5A"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, demo.Unpacked)
			b.press("F8")
			row.reach(b)
			b.Elapse()
			var side fyne.CanvasObject
			if row.card != "" {
				side = rightOf[*look.CardView](t, b.d.Object())
			} else {
				side = rightOf[*look.Panel](t, b.d.Object())
			}
			if got := b.d.Card().Designation; got != row.card {
				t.Errorf("card of %q, want %q", got, row.card)
			}
			from, to := edges(side)
			if to > Size.Width {
				t.Errorf("it ends at %v, outside the window", to)
			}
			if _, end := edges(b.d.Page().Object()); end > from || b.d.SideOver() {
				t.Errorf("the page ends at %v, and what stands at the right begins at %v, over it: %v", end, from, b.d.SideOver())
			}
			at := b.d.Route()
			b.d.Rest()
			b.press("Esc")
			if b.d.Route() == at {
				t.Error("Esc does not go back")
			}
		})
	}
}

// While the check-off asks where something goes, under its list, the list shows the line in hand
// with those about it, and its card stands beside them.
func TestLargerUnpackKeepsItsLines(t *testing.T) {
	b := sit(t, demo.Unpacking)
	b.press("F8", "Ctrl+2", "A", "A")
	if shown := b.texts(); !strings.Contains(shown, "Stow all there") || b.d.SideOver() {
		t.Fatalf("nothing is asked, or it lies over the page (%v): %s", b.d.SideOver(), shown)
	}
	from, _ := edges(rightOf[*look.Panel](t, b.d.Object()))
	lists := shownOf[*look.RowList](t, b.d.Page().Object())
	if _, end := edges(lists[0]); len(lists) != 1 || end > from || lists[0].RowsInSight() < 3 {
		t.Errorf("%d lists, the lines end at %v, %d in sight; want three of the lines before %v", len(lists), end, lists[0].RowsInSight(), from)
	}
	b.picture("larger-unpack-where")
	b.press("Enter")
	if shown := b.texts(); strings.Contains(shown, "Stow all there") {
		t.Errorf("Enter does not stow it: %s", shown)
	}
}

// In the larger size, too, several lines of the check-off are in sight, with the one in hand
// among them, and the keys that answer it: on its card, which the smallest window opens with F4.
func TestLargerUnpackShowsLines(t *testing.T) {
	for _, row := range []struct {
		width, height float32
		rows          int // whole ones, at least
	}{{1280, 800, 6}, {1000, 640, 4}} {
		b := sit(t, demo.Unpacking)
		b.w.Resize(fyne.NewSize(row.width, row.height))
		b.press("F8", "Ctrl+2")
		lists := shownOf[*look.RowList](t, b.d.Page().Object())
		lines := lists[len(lists)-1]
		if got := lines.RowsInSight(); got < row.rows {
			t.Errorf("%v x %v: %d lines are in sight, want %d", row.width, row.height, got, row.rows)
		}
		if row.width < 1280 {
			b.press("F4")
		}
		shown := b.texts()
		for _, key := range []string{"All here", "Some", "None", "More", "AN3-6A", "Smaller"} {
			if !strings.Contains(shown, key) {
				t.Errorf("%v x %v: no %q in sight: %s", row.width, row.height, key, shown)
			}
		}
		for _, text := range gallery.UnreadableIn(b.w.Canvas(), gallery.LeastText, test.WidgetRenderer) {
			t.Errorf("%v x %v: %s", row.width, row.height, text)
		}
		b.picture(fmt.Sprintf("larger-unpack-%v", row.width))
		b.press("S", `"12"`)
		if shown := b.texts(); !strings.Contains(shown, "How many") {
			t.Errorf("%v x %v: S asks nothing: %s", row.width, row.height, shown)
		}
		b.picture(fmt.Sprintf("larger-unpack-some-%v", row.width))
	}
}
