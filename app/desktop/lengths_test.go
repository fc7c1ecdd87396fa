package desktop

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/routes"
	"stowright/store/measure"
)

// Ctrl+U has lengths typed and read in millimetres on every page: the published figure stays, and
// what it converts to stands beside it and says so. It is remembered, and Ctrl+U changes it back.
func TestLengthsInMillimetres(t *testing.T) {
	b := sit(t, demo.Unpacked)
	var kept []measure.System
	b.d.lengthsIn = func(in measure.System) { kept = append(kept, in) }
	for _, row := range []struct {
		name         string
		reach        func()
		always, only []string // what is said in both, and in millimetres alone
	}{
		{"look up", func() { b.press("Ctrl+8", `"an3-5a"`) }, []string{"1/4 (0.250)", "0.190"}, []string{"1/4 (0.250) ±1/64; converted: 6.35 mm, 5.9531 mm to 6.7469 mm", "No. 10 (0.190); converted: 4.826 mm", "0.186 to 0.189; converted: ", "grip 1/4 = 6.35 mm"}},
		{"find", func() { b.press("Ctrl+K", `"an3-5a"`, "Down") }, []string{"grip 1/4"}, []string{"grip 6.35 mm", "grip 1/4 = 6.35 mm"}},
		{"tables", func() { b.d.Go(routes.Route{Screen: routes.Handbook, Part: "tables", About: "an3-5a"}); b.Elapse() }, []string{"grip 1/8"}, []string{"grip 1/8; converted: grip 3.175 mm"}},
	} {
		row.reach()
		for _, in := range []measure.System{measure.InInches, measure.InMillimetres} {
			if in == measure.InMillimetres {
				b.Session.SwitchLengths()
				b.Elapse()
			}
			shown := strings.ReplaceAll(b.texts(), " | ", " ")
			for _, want := range row.always {
				if !strings.Contains(shown, want) {
					t.Errorf("%s in %s: no %q in %s", row.name, in.Unit(), want, shown)
				}
			}
			for _, want := range row.only {
				if there := strings.Contains(shown, want); there != (in == measure.InMillimetres) {
					t.Errorf("%s in %s: %q is shown: %v in %s", row.name, in.Unit(), want, there, shown)
				}
			}
			for _, text := range gallery.UnreadableIn(b.w.Canvas(), gallery.LeastText, test.WidgetRenderer) {
				t.Errorf("%s in %s: %s", row.name, in.Unit(), text)
			}
			b.picture("lengths-" + row.name + "-" + in.Unit())
		}
		b.Session.SwitchLengths()
		b.press("Esc", "Esc")
	}
	kept = nil
	b.press("Ctrl+8", "Ctrl+U")
	if said := b.d.Said(); !strings.Contains(said, "Millimetres.") || b.Session.Lengths() != measure.InMillimetres {
		t.Errorf("Ctrl+U says %q", said)
	}
	if !strings.Contains(b.texts(), "In inches") {
		t.Errorf("the way back is not in sight: %s", b.texts())
	}
	b.press("Ctrl+U")
	if len(kept) != 2 || kept[0] != measure.InMillimetres || kept[1] != measure.InInches {
		t.Errorf("kept for the next time: %v, want millimetres, then inches", kept)
	}
}

// What is typed is read in the unit that is set, unless it says another one itself.
func TestTypedLengths(t *testing.T) {
	for _, row := range []struct {
		in          measure.System
		stack, want string
	}{
		{measure.InInches, ".312", "stack of 0.312"},
		{measure.InInches, "7.9248mm", "stack of 0.312"},
		{measure.InMillimetres, "7.9248", "stack of 0.312, 7.9248 mm converted"},
		{measure.InMillimetres, ".312 in", "stack of 0.312, 7.9248 mm converted"},
		{measure.InMillimetres, "5/16", "stack of 5/16 (0.3125), 7.9375 mm converted"},
	} {
		b := sit(t, demo.Unpacked)
		b.Session.SetLengths(row.in)
		b.d.Go(routes.Route{Screen: routes.Handbook, Part: "bolt", About: row.stack})
		b.Elapse()
		if shown := strings.ReplaceAll(b.texts(), " | ", " "); !strings.Contains(shown, row.want) {
			t.Errorf("%q in %s: no %q in %s", row.stack, row.in.Unit(), row.want, shown)
		}
	}
}
