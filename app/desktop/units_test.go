package desktop

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
)

// unitsOf are the units that the fields of an object show.
func unitsOf(o fyne.CanvasObject) (units []string) {
	if o == nil || !o.Visible() {
		return nil
	}
	var inner []fyne.CanvasObject
	switch c := o.(type) {
	case *look.Entry:
		if unit := c.Unit(); unit != "" {
			units = append(units, unit)
		}
		return units
	case *container.Scroll:
		inner = []fyne.CanvasObject{c.Content}
	case *fyne.Container:
		inner = c.Objects
	case fyne.Widget:
		inner = test.WidgetRenderer(c).Objects()
	}
	for _, child := range inner {
		units = append(units, unitsOf(child)...)
	}
	return units
}

// A field for an amount shows in what that is counted, in every question that asks for one.
func TestFieldsShowTheirUnit(t *testing.T) {
	const pounds, pieces = "an470ad4-4", "an3-5a"
	for _, row := range []struct {
		name  string
		scene demo.Scene
		reach func(b *bench)
		want  string
	}{
		{"count pounds", demo.Unpacked, keysOf("Ctrl+K", `"`+pounds+`"`, "Down", "C"), "pounds"},
		{"move pounds", demo.Unpacked, keysOf("Ctrl+K", `"`+pounds+`"`, "Down", "M"), "pounds"},
		{"take pounds", demo.Unpacked, keysOf("Ctrl+K", `"`+pounds+`"`, "Down", "T"), "pounds"},
		{"take pieces", demo.Unpacked, keysOf("Ctrl+K", `"`+pieces+`"`, "Down", "T"), "pieces"},
		{"count by several hands", demo.Unpacked, keysOf("Ctrl+K", `"`+pounds+`"`, "Down", "C", "F10"), "pounds"},
		{"put in pounds", demo.Unpacked, func(b *bench) { b.drawer("A-02"); b.press("P", `"`+pounds+`"`) }, "pounds"},
		{"put in what is new", demo.Unpacked, func(b *bench) { b.drawer("A-02"); b.press("P", `"an4-6a"`) }, "pieces"},
		{"some of a line", demo.Unpacking, keysOf("Ctrl+2", "S"), "pieces"},
		{"damaged of a line", demo.Unpacking, keysOf("Ctrl+2", "D"), "pieces"},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := sit(t, row.scene)
			row.reach(b)
			shown := b.w.Canvas().Overlays().Top()
			if shown == nil {
				shown = b.d.Object()
			}
			if got := unitsOf(shown); len(got) != 1 || got[0] != row.want {
				t.Errorf("the fields show %q, want %q; the window says %s", got, row.want, b.texts())
			}
		})
	}
}
