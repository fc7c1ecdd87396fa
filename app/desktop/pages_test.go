package desktop

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/building"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
)

// shownOf are the objects of a type that the window shows, at least one.
func shownOf[T fyne.CanvasObject](t *testing.T, o fyne.CanvasObject) (found []T) {
	t.Helper()
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		if o == nil || !o.Visible() {
			return
		}
		if is, ok := o.(T); ok {
			found = append(found, is)
			return
		}
		switch c := o.(type) {
		case *fyne.Container:
			for _, child := range c.Objects {
				walk(child)
			}
		case fyne.Widget:
			for _, child := range test.WidgetRenderer(c).Objects() {
				walk(child)
			}
		}
	}
	walk(o)
	if len(found) == 0 {
		var none T
		t.Fatalf("the window shows no %T", none)
	}
	return found
}

// Labels are picked, started on a used sheet and saved by keys and a tap.
func TestLabelsByKeys(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+5")
	if got := b.texts(); !strings.Contains(got, "40 labels on 2 sheets of 66.7 x 25.4 mm, 30 on US Letter; modules 0.76 mm") {
		t.Errorf("the page says: %s", got)
	}
	b.press("/", "Down", "Down", "Enter")
	if got := b.texts(); !strings.Contains(got, "46 labels on 2 sheets") {
		t.Errorf("with the shelves the page says: %s", got)
	}
	pictures := shownOf[*look.SheetView](t, b.d.Page().Object())
	sheet := pictures[len(pictures)-1] // the other one is of its first label
	size := sheet.Size()
	test.TapAt(sheet, fyne.NewPos(size.Width/2, size.Height*0.75))
	b.Elapse()
	if got := b.texts(); !strings.Contains(got, "46 labels on 3 sheets") {
		t.Errorf("started low on a used sheet, the page says: %s", got)
	}
	b.press(">", ">", "<")
	if got := b.texts(); !strings.Contains(got, "sheet 2 of 3") {
		t.Errorf("turned on twice and back once, the page says: %s", got)
	}
	b.press("S")
	b.press("T")
	for _, name := range []string{"labels.pdf", "labels-test.pdf"} {
		data, err := os.ReadFile(filepath.Join(home, name))
		if err != nil || !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("%s: %d bytes, %v; want a PDF", name, len(data), err)
		}
	}
	if got := b.texts(); !strings.Contains(got, "labels-test.pdf") {
		t.Errorf("after saving, the page says: %s", got)
	}
}

// On a drawer L is for its own label, and A for those of its whole cabinet.
func TestLabelKeysOfPlaces(t *testing.T) {
	b := sit(t, demo.Unpacked)
	for _, row := range []struct{ drawer, key, about string }{{"A-12", "L", "A-12"}, {"A-12", "A", "Cabinet A"}, {"A-02", "L", "A-02"}} {
		b.drawer(row.drawer)
		b.press(row.key)
		if got, want := b.d.Route(), (routes.Route{Screen: routes.Labels, About: b.Place(row.about).ID}); got != want {
			t.Errorf("%s on %s goes to %+v, want the labels of %s", row.key, row.drawer, got, row.about)
		}
	}
}

// Without a camera the page says what to use instead, and a photograph named there
// leads to its drawer.
func TestCameraByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+4", "F2")
	for _, want := range []string{"No camera here", "Read a photograph.", "Or let a phone be the camera."} {
		if got := b.texts(); !strings.Contains(got, want) {
			t.Errorf("without a camera the page says: %s; want %q", got, want)
		}
	}
	b.w.Canvas().Focus(shownOf[*look.PathPick](t, b.d.Page().Object())[0].Focusable())
	b.write(b.photo("A-12", "A-13"))
	b.press("Enter")
	if got := b.d.Card().Designation; got != "AN3-5A" {
		t.Fatalf("the photograph shows the card of %q, want AN3-5A; the page says: %s", got, b.texts())
	}
	b.d.Rest()
	b.press("Enter")
	if at := b.d.Route(); at != (routes.Route{Screen: routes.Places, About: b.Place("A-12").ID}) || b.lit() != "A-12" {
		t.Errorf("Enter goes to %+v with %q lit, want the drawer A-12", at, b.lit())
	}
	b.press("Esc")
	if got := b.d.Route().Screen; got != routes.Camera {
		t.Errorf("Esc goes back to %q, want the camera", got)
	}
}

// Esc in a field of a page leaves the field, and the next one the page.
func TestEscLeavesTheFieldFirst(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+5")
	entries := shownOf[*look.Entry](t, b.d.Object())
	b.w.Canvas().Focus(entries[len(entries)-1])
	b.press("Esc")
	if at := b.d.Route().Screen; at != routes.Labels || b.w.Canvas().Focused() != nil {
		t.Errorf("Esc in a field led to %s, with %v focused", at, b.w.Canvas().Focused())
	}
	b.press("Esc")
	if at := b.d.Route().Screen; at != routes.Today {
		t.Errorf("the second Esc led to %s", at)
	}
}

// The claim is marked as sent today, or on the day that is typed; a day on which it
// cannot have been sent is refused in the question, which stays open.
func TestClaimSentByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.d.Go(routes.Route{Screen: routes.Unpack, Part: "claim"})
	b.Elapse()
	field := func(at int, text string) {
		entries := shownOf[*look.Entry](t, b.w.Canvas().Overlays().Top())
		entries[at].SetText(text)
	}
	how := func() { field(0, "by e-mail to the order desk") }
	day := func(text string) { field(1, text) }
	b.press("M")
	b.has("18 March 2026")
	if b.press("Enter"); b.w.Canvas().Overlays().Top() == nil {
		t.Fatal("how it was sent was not said, and the question has closed")
	}
	b.has("Say how the claim was sent")
	how()
	for text, says := range map[string]string{
		"13 March 2026": "which arrived on 14 March 2026", "19 March 2026": "that day is still to come", "soon": "is not a date",
	} {
		day(text)
		if b.press("Enter"); b.w.Canvas().Overlays().Top() == nil {
			t.Fatalf("%s: the question has closed", text)
		}
		b.has(says)
	}
	b.press("Esc", "M", `"by mail"`, "Tab", `"16 March 2026"`, "Enter")
	b.has("Claim sent on 16 March 2026")
	if b.w.Canvas().Overlays().Top() != nil {
		t.Error("the question is still open")
	}
	b.press("Ctrl+Z", "M", `"by mail"`, "Enter")
	b.has("Claim sent on 18 March 2026")
}

// F8 makes everything larger, says so to whoever keeps that, and takes it back.
func TestLargerIsTold(t *testing.T) {
	var told []bool
	s := sessiontest.Open(t, demo.Unpacked)
	look.Theme{Mode: look.Light}.Apply()
	w := test.NewTempWindow(t, nil)
	b := &bench{Bench: s, t: t, d: New(s.Session, Options{Open: noCamera, Resized: func(large bool) { told = append(told, large) }}), w: &keyWindow{w, &keyCanvas{Canvas: w.Canvas()}}}
	b.d.Show(b.w)
	b.w.Resize(Size)
	b.Drain()
	for range 2 {
		b.w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyF8})
		b.Elapse()
	}
	if len(told) != 2 || !told[0] || told[1] {
		t.Errorf("told %v, want larger and then not", told)
	}
}

// The code of a printed pull list opens the list, and K there takes what was ticked.
func TestScannedPullList(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+K")
	b.scan("PULL SA-10+SA-20")
	want := routes.Route{Screen: routes.Build, Part: building.PullPart, About: "SA-10,SA-20"}
	if got := b.d.Route(); got != want {
		t.Fatalf("scanned leads to %+v, want %+v", got, want)
	}
	b.press("K")
	want.Part = building.TickPart
	if got := b.d.Route(); got != want {
		t.Errorf("K leads to %+v, want %+v", got, want)
	}

	b.d.Go(routes.Route{Screen: routes.Camera, About: b.photoOf("PULL SA-20")})
	b.Elapse()
	if got := b.texts(); !strings.Contains(got, "A printed list") || !strings.Contains(got, "Enter opens it") {
		t.Errorf("the camera says of it %s", got)
	}
	b.press("Enter")
	if got, want := b.d.Route(), (routes.Route{Screen: routes.Build, Part: building.PullPart, About: "SA-20"}); got != want {
		t.Errorf("from the camera it leads to %+v, want %+v", got, want)
	}
}
