package desktop

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/handbook"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// part goes to a part of the Handbook.
func part(name, about string) func(b *bench) {
	return func(b *bench) {
		b.d.Go(routes.Route{Screen: routes.Handbook, Part: name, About: about})
		b.Elapse()
	}
}

// fill types into fields, named by what stands in them while they are empty.
func (b *bench) fill(pairs ...string) {
	b.t.Helper()
	for i := 0; i+1 < len(pairs); i += 2 {
		e := entryIn(b.w.Canvas().Content(), pairs[i])
		if e == nil {
			b.t.Fatalf("no field says %q", pairs[i])
		}
		e.SetText(pairs[i+1])
		b.Elapse()
	}
}

// entryIn is the field that says a text while it is empty.
func entryIn(o fyne.CanvasObject, says string) *look.Entry {
	var children []fyne.CanvasObject
	switch c := o.(type) {
	case *look.Entry:
		if c.PlaceHolder == says {
			return c
		}
		return nil
	case *container.Scroll:
		children = []fyne.CanvasObject{c.Content}
	case *fyne.Container:
		children = c.Objects
	case fyne.Widget:
		children = test.WidgetRenderer(c).Objects()
	}
	for _, child := range children {
		if e := entryIn(child, says); e != nil && child.Visible() {
			return e
		}
	}
	return nil
}

// then types something after a part was opened.
func then(first func(b *bench), keys ...string) func(b *bench) {
	return func(b *bench) {
		first(b)
		b.press(keys...)
	}
}

// handbookScenes are states of the Handbook that are looked at.
func handbookScenes() []scene {
	shop := at(demo.Unpacked)
	return []scene{
		{"handbook-start", shop, part(handbook.LookUpPart, "")},
		{"handbook-bolt", shop, part(handbook.LookUpPart, "an3 5a")},
		{"handbook-true-size", shop, then(part(handbook.LookUpPart, "an3 5a"), "T")},
		{"handbook-washer", shop, part(handbook.LookUpPart, "AN960-10")},
		{"handbook-rivet", shop, part(handbook.LookUpPart, "MS20470AD4-3.5")},
		{"handbook-unknown-grip", shop, part(handbook.LookUpPart, "AN7-10")},
		{"handbook-no-such", shop, part(handbook.LookUpPart, "AN3-8")},
		{"handbook-kit-part", shop, part(handbook.LookUpPart, "OQ-20-040-B")},
		{"measure-start", shop, keysOf("F6")},
		{"measure-bolt", shop, func(b *bench) {
			b.press("F6")
			b.fill("3/16 or #10", ".190", "32, or 0.8mm", "32", "1/4", "1/4", "21/32", ".656")
		}},
		{"measure-washer", shop, func(b *bench) { b.press("F6"); b.fill("7/16", ".438", "13/64", ".203", "1/16", ".06") }},
		{"measure-wrong", shop, keysOf("F6", `"thick"`)},
		{"measure-nothing", shop, keysOf("F6", `"2.9"`)},
		{"choose-bolt", shop, then(part(handbook.BoltPart, ""), `".312"`)},
		{"choose-bolt-start", shop, part(handbook.BoltPart, "")},
		{"choose-bolt-wrong", shop, then(part(handbook.BoltPart, ""), `"thick"`)},
		{"choose-bolt-layers", shop, then(part(handbook.BoltPart, ""), `"spar .125, rib 3/16"`)},
		{"choose-rivet", shop, then(part(handbook.RivetPart, ""), `".032, .040"`)},
		{"tables", shop, part(handbook.TablesPart, "")},
		{"tables-rivets", shop, part(handbook.TablesPart, "rivet")},
		{"tables-nothing", shop, part(handbook.TablesPart, "zzz")},
		{"torque", shop, part(handbook.TorquePart, "")},
		{"own-none", shop, part(handbook.OwnPart, "")},
		{"own-rows", ownFigures, part(handbook.OwnPart, "")},
		{"own-wrong", shop, then(part(handbook.OwnPart, ""), "Enter")},
		{"own-used", ownFigures, part(handbook.LookUpPart, "AN7-10A")},
	}
}

// F6 measures a loose piece from anywhere, also while a field has the focus, and Esc
// comes back; what was measured is there again on the way back.
func TestMeasureFromAnywhere(t *testing.T) {
	b := sit(t, demo.Unpacked)
	for _, from := range []string{"Ctrl+1", "Ctrl+3", "Ctrl+4", "Ctrl+5", "Ctrl+6", "Ctrl+7", "Ctrl+K"} {
		b.press(from)
		was := b.d.Route()
		b.press("F6")
		if at := b.d.Route(); at.Screen != routes.Handbook || at.Part != handbook.MeasurePart {
			t.Errorf("F6 after %s leads to %+v", from, at)
		}
		b.press("F6") // once more changes nothing
		b.d.Back()
		b.Elapse()
		if b.d.Route() != was {
			t.Errorf("back from F6 after %s: at %+v, want %+v", from, b.d.Route(), was)
		}
	}
	b.press("F6", `".190"`)
	b.d.Go(routes.Route{Screen: routes.Handbook, About: "AN3-5A"})
	b.Elapse()
	b.d.Back()
	b.Elapse()
	if got := b.texts(); !strings.Contains(got, ".190") || !strings.Contains(got, "in the shop") {
		t.Errorf("on the way back the window shows\n%s", got)
	}
}

// Find leads on when nothing answers, and the card of the Handbook leads to the drawer.
func TestFindAndHandbookLeadToEachOther(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+K", `"an3-8"`)
	b.press("Enter")
	if at := b.d.Route(); at.Screen != routes.Find {
		t.Fatalf("typing leads to %+v", at)
	}
	look.PressKey(b.d.Object(), "F6")
	b.Elapse()
	if at := b.d.Route(); at.Part != handbook.MeasurePart {
		t.Errorf("the link of Find leads to %+v", at)
	}
	part(handbook.LookUpPart, "")(b)
	b.press("Ctrl+K", `"an3-5a"`, "Enter")
	if at := b.d.Route(); at.Screen != routes.Handbook || b.lit() != "A-12" {
		t.Errorf("a designation in the command bar of the Handbook leads to %+v with drawer %q lit", at, b.lit())
	}
	part(handbook.LookUpPart, "")(b)
	b.scan(string(b.Place("A-12").Tag))
	if want := (routes.Route{Screen: routes.Places, About: b.Place("A-12").ID}); b.d.Route() != want {
		t.Errorf("a tag that is scanned into the Handbook leads to %+v, want %+v", b.d.Route(), want)
	}
}

// Figures of one's own are kept, shown in the footer, and taken back by Ctrl+Z.
func TestOwnFiguresInTheWindow(t *testing.T) {
	b := sit(t, demo.Unpacked)
	part(handbook.OwnPart, "")(b)
	b.fill("AN7-10", "AN7-10", "sheet AN3-AN20, page 2", "printed sheet", "7/16", "7/16")
	b.press("Enter")
	b.said("own figures of AN7-10, from printed sheet")
	if !strings.Contains(b.texts(), "from printed sheet") {
		t.Errorf("the row is not listed:\n%s", b.texts())
	}
	b.press("Ctrl+Z")
	if !strings.Contains(b.texts(), "No figures of your own yet") {
		t.Errorf("Ctrl+Z does not take it back:\n%s", b.texts())
	}
}

// ownFigures is a shop with figures of the builder's own, made up for the test.
func ownFigures(t *testing.T) *sessiontest.Bench {
	b := sessiontest.Open(t, demo.Unpacked)
	path := filepath.Join(t.TempDir(), "an7.csv")
	sheet := "designation,grip,length,source\nAN7-10,7/16,1-3/32,printed sheet page 2\nAN7-11,9/16,1-7/32,printed sheet page 2\nAN7-12,11/16,1-11/32,printed sheet page 2\n"
	if err := os.WriteFile(path, []byte(sheet), 0o600); err != nil {
		t.Fatal(err)
	}
	m := handbook.NewOwnModel(b.Session, func(handbook.OwnState) {}, func(string) {})
	m.Bring(path)
	b.Drain()
	return b
}
