package look

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"stowright/app/drawing"
)

// A front looks as it is: lit, empty, like another, filled to its level.
func TestDrawerFronts(t *testing.T) {
	start(t, Theme{Mode: Light})
	for _, row := range []struct {
		name                          string
		d                             drawing.Drawer
		small, cursor                 bool
		dashes, unlike, level, ringed bool
		ink                           fyne.ThemeColorName
	}{
		{"holds something", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: 0.5}, false, false, false, false, true, false, ColorInk},
		{"unknown level", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: -1}, false, false, false, false, false, false, ColorInk},
		{"empty", drawing.Drawer{Name: "A-01", Empty: true, Level: 0.5}, false, false, true, false, false, false, ColorQuiet},
		{"lit and empty", drawing.Drawer{Name: "A-01", Empty: true, Lit: true}, false, false, false, false, false, false, ColorLitInk},
		{"lit", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Lit: true}, false, false, false, false, true, false, ColorLitInk},
		{"like another", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", LookAlike: true}, false, false, false, true, true, false, ColorInk},
		{"like another, small", drawing.Drawer{Name: "A-01", Designation: "AN3-5A", LookAlike: true}, true, false, false, false, false, false, ColorInk},
		{"at the cursor", drawing.Drawer{Name: "A-01", Designation: "AN3-5A"}, false, true, false, false, true, true, ColorInk},
	} {
		f := newDrawerParts()
		f.set(row.d, row.small, row.cursor)
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, 90))
		if f.dashes.Visible() != row.dashes || f.notEqual.Visible() != row.unlike || f.track.Visible() != row.level || f.level.Visible() != row.level || f.ring.Visible() != row.ringed || f.ink() != row.ink {
			t.Errorf("%s: dashes %v, unlike %v, level %v, ring %v, ink %q", row.name, f.dashes.Visible(), f.notEqual.Visible(), f.track.Visible(), f.ring.Visible(), f.ink())
		}
	}
	f := newDrawerParts()
	for level, part := range map[float64]float32{0: 0, 0.25: 0.25, 1: 1, 1.5: 1} {
		f.set(drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: level}, false, false)
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, 90))
		if got, want := f.level.Size().Width, f.track.Size().Width*part; got < want-0.01 || got > want+0.01 {
			t.Errorf("level %v: %.1f of %.1f", level, got, f.track.Size().Width)
		}
	}
	f.set(drawing.Drawer{Name: "A-01", Designation: "AN3-5A", Level: -1, Count: "about 1,680"}, false, false)
	for height, want := range map[float32]string{110: "about 1,680", 50: ""} {
		f.layout(fyne.NewPos(0, 0), fyne.NewSize(120, height))
		if f.count.Text != want {
			t.Errorf("%v high: the count says %q, want %q", height, f.count.Text, want)
		}
	}
	if f.layout(fyne.NewPos(0, 0), fyne.NewSize(50, 110)); f.count.Text != "" {
		t.Errorf("too narrow for the count: %q", f.count.Text)
	}
}

// A cabinet has a ring around the front where the keyboard is, and none without it.
func TestCabinetRing(t *testing.T) {
	start(t, Theme{})
	p := NewCabinetView(drawing.Blank("A", 1, 3))
	c := window(t, p, 400, 100)
	rings := func() (n int) {
		for _, o := range test.WidgetRenderer(p).Objects() {
			if box, ok := o.(*canvas.Rectangle); ok && box.Visible() && box.StrokeColor == theme.Color(ColorAction) {
				n++
			}
		}
		return n
	}
	for _, step := range []struct {
		name string
		do   func()
		want int
	}{
		{"at first", func() {}, 0},
		{"focused", func() { c.Focus(p) }, 1},
		{"one on", func() { press(c, fyne.KeyRight) }, 1},
		{"left", func() { c.Unfocus() }, 0},
	} {
		if step.do(); rings() != step.want {
			t.Errorf("%s: %d rings, want %d", step.name, rings(), step.want)
		}
	}
}

// In shop mode the fronts of a cabinet are as readable as in the normal size: what has no
// room for that scrolls, and the drawer at the cursor, lit or moved to, comes into sight.
func TestCabinetScrollsRatherThanShrinks(t *testing.T) {
	start(t, Theme{Shop: true})
	c := drawing.Blank("A", 5, 8)
	c.Drawers[39] = drawing.Drawer{Name: "A-40", Designation: "AN3-5A", Count: "24 ea", Level: -1, Lit: true}
	c.Drawers[38] = drawing.Drawer{Name: "A-39", Designation: "NAS1149F0363P", Count: "150 ea", Level: -1}
	view := NewCabinetView(c)
	s := NewCabinetScroller(view)
	window(t, s, 680, 450)
	for text, least := range map[string]float32{"A-40": Px(13), "AN3-5A": Px(15), "NAS1149": Px(12), "F0363P": Px(12), "24 ea": Px(13), "150 ea": Px(13), "empty": Px(13)} {
		if w := written(view, text); w == nil || w.TextSize < least {
			t.Errorf("%q is drawn as %+v, want %.1f and more", text, w, least)
		}
	}
	inSight := func(i int) bool {
		at, size := view.cell(i, view.Size())
		at = at.Subtract(s.scroll.Offset)
		return at.X >= 0 && at.Y >= 0 && at.X+size.Width <= s.scroll.Size().Width && at.Y+size.Height <= s.scroll.Size().Height
	}
	if !inSight(39) || inSight(0) {
		t.Errorf("at first: the lit one in sight %v, the first one %v", inSight(39), inSight(0))
	}
	for _, i := range []int{0, 7, 32, 20, 39} {
		if view.choose(i); !inSight(i) {
			t.Errorf("drawer %d is not in sight at %v", i, s.scroll.Offset)
		}
	}
	normal := NewCabinetScroller(NewCabinetView(c))
	start(t, Theme{})
	if window(t, normal, 804, 560); normal.view.Size() != normal.scroll.Size() {
		t.Errorf("with room for all the picture is %v in %v", normal.view.Size(), normal.scroll.Size())
	}
}
