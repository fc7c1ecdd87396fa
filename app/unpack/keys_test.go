package unpack

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/demo"
	"stowright/app/gallery"
	"stowright/app/look"
	"stowright/app/routes"
	demofiles "stowright/assets/demo"
	"stowright/store"
)

// typist is the screen in a window of Fyne's test driver, worked by typing alone.
type typist struct {
	*bench
	window fyne.Window
	frame  *app.Frame
}

func newTypist(t *testing.T, scene demo.Scene) *typist {
	look.Theme{}.Apply()
	k := &typist{bench: newBench(t, scene)}
	k.bench.m = nil // the page has a model of its own
	k.frame = app.NewFrame(app.Options{
		Screens: gallery.Rail(), Loop: k.queue.Loop(),
		Pages: func(r routes.Route) (app.Page, error) { return New(k.s, k.frame, r), nil },
	})
	k.window = test.NewTempWindow(t, nil)
	k.frame.Attach(k.window)
	k.window.Resize(fyne.NewSize(gallery.Width, gallery.Height))
	k.frame.Go(routes.Route{Screen: routes.Unpack})
	k.settle()
	return k
}

// settle lets all work be done, and the wait of the scanner's guard pass.
func (k *typist) settle() {
	k.queue.Drain()
	k.queue.Elapse()
}

// text types characters to whatever has the keyboard.
func (k *typist) text(s string) {
	c := k.window.Canvas()
	for _, r := range s {
		if f := c.Focused(); f != nil {
			f.TypedRune(r)
		} else {
			c.OnTypedRune()(r)
		}
		k.settle()
	}
}

// ahead types characters, and Enter ("\n"), before anything is answered.
func (k *typist) ahead(s string) {
	c := k.window.Canvas()
	for _, r := range s {
		f := c.Focused()
		switch {
		case r == '\n' && f != nil:
			f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		case r == '\n':
			c.OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyReturn})
		case f != nil:
			f.TypedRune(r)
		default:
			c.OnTypedRune()(r)
		}
	}
}

// press presses a named key on whatever has the keyboard.
func (k *typist) press(keys ...fyne.KeyName) {
	c := k.window.Canvas()
	for _, key := range keys {
		e := &fyne.KeyEvent{Name: key}
		if f := c.Focused(); f != nil {
			f.TypedKey(e)
		} else {
			c.OnTypedKey()(e)
		}
		k.settle()
	}
}

func (k *typist) check() *checkView { return k.frame.Page().(*Page).shown.(*checkView) }

// A delivery from the list's file to a stowed bolt, with nothing but the keyboard.
func TestFromTheListToTheDrawerByKeyboard(t *testing.T) {
	k := newTypist(t, demo.Furnished)
	path := filepath.Join(t.TempDir(), "list.csv")
	if err := os.WriteFile(path, demofiles.PackingList(demofiles.PackingListCSV), 0o600); err != nil {
		t.Fatal(err)
	}
	k.text("i") // bring a list in: the cursor is in the path field
	k.text(path)
	k.press(fyne.KeyReturn) // read it
	k.press(fyne.KeyReturn) // the columns are right
	if got := k.frame.Route().Part; got != ArrivalPart {
		t.Fatalf("after the list: part %q, want the arrival", got)
	}
	k.text("12")
	k.press(fyne.KeyReturn) // Enter goes to what is still to be said
	k.text("5")
	k.press(fyne.KeyReturn)
	k.text("30")
	k.press(fyne.KeyReturn)
	if k.frame.Route().Part != "" {
		t.Fatalf("after the arrival: %+v", k.frame.Page().(*Page).shown.(*arrivalView).model.State())
	}
	k.press(fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight)
	if got := k.check().name.Text(); got != "Crate C1 · bag H103" {
		t.Fatalf("six bags on: %q", got)
	}
	k.text("a")             // line 38
	k.press(fyne.KeyReturn) // into the drawer that is lit
	k.text("s")             // line 39
	k.text("20")
	k.press(fyne.KeyReturn)
	k.text("e") // elsewhere
	k.text("a40")
	k.press(fyne.KeyReturn)
	if got := k.where("AN3-4A"); got != "A-01: 12 ea" {
		t.Errorf("AN3-4A lies in %s", got)
	}
	if got := k.where("AN3-5A"); got != "A-40: 20 ea" {
		t.Errorf("AN3-5A lies in %s", got)
	}
	if got := k.check().hand.name; got == nil || k.check().model.State().Current.Number != 40 {
		t.Errorf("line in hand: %d, want 40", k.check().model.State().Current.Number)
	}
}

// A proposal is selected, so that typing replaces it; a digit that begins a count is
// gone on with; Esc gives the single keys back.
func TestPromptField(t *testing.T) {
	k := newTypist(t, demo.Unpacking)
	k.text("d")
	field := k.check().hand.prompt.field
	if field.Text != "1" || k.window.Canvas().Focused() != fyne.Focusable(field) {
		t.Fatalf("D asks with %q", field.Text)
	}
	k.text("3")
	if field.Text != "3" {
		t.Errorf("typing over a proposal: %q, want 3", field.Text)
	}
	k.press(fyne.KeyEscape)
	if k.check().model.State().Prompt != nil || k.window.Canvas().Focused() == fyne.Focusable(field) {
		t.Error("Esc leaves the question open or the keyboard in its field")
	}
	k.text("12")
	if field.Text != "12" {
		t.Errorf("a count begun with its first digit: %q, want 12", field.Text)
	}
	k.press(fyne.KeyReturn)
	if got := k.check().model.data.line(40).Finding; got == nil || got.Found.Number() != "12" {
		t.Errorf("line 40: %+v, want 12 found", got)
	}
}

// Rows and buttons can be tapped as well.
func TestTaps(t *testing.T) {
	k := newTypist(t, demo.Unpacking)
	v := k.check()
	v.lines.Choose(3)
	k.settle()
	if got := v.model.State().Current.Number; got != 41 {
		t.Fatalf("fourth line of H103: %d, want 41", got)
	}
	test.Tap(v.hand.buttons["N"])
	k.settle()
	if got := v.model.data.line(41).Finding; got == nil || !got.Found.IsZero() {
		t.Errorf("None tapped: %+v", got)
	}
}

// Back returns to the line that was left.
func TestBackReturnsToTheLine(t *testing.T) {
	k := newTypist(t, demo.Unpacking)
	k.press(fyne.KeyDown, fyne.KeyDown)
	k.frame.Go(routes.Route{Screen: routes.Unpack, Part: ClaimPart, About: k.check().model.data.ship.ID})
	k.settle()
	k.frame.Back()
	k.settle()
	if s := k.check().model.State(); s.Title != "Crate C1 · bag H103" || s.Current.Number != 42 {
		t.Errorf("back on %q, line %d; want H103, line 42", s.Title, s.Current.Number)
	}
}

// F7 weighs the line in hand, by keys alone; the line says that it is an estimate.
func TestWeighByKeys(t *testing.T) {
	k := newTypist(t, demo.Arrived)
	ships, err := k.s.Shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	k.check().model.ChooseBag(0) // all lines
	k.settle()
	k.check().model.ChooseLine(29)
	k.settle()
	k.press(fyne.KeyF7)
	for _, figure := range []string{"0.1", "100", "8.1", "24.3", "160.4"} {
		k.text(figure)
		k.press(fyne.KeyReturn)
	}
	line, err := k.s.Shop.Line(ships[0].ID, 30)
	if err != nil || line.Finding == nil {
		t.Fatalf("line 30 was not found: %v", err)
	}
	if got := line.Finding.Amount().String(); got != "about 1,680 ea (1,668 to 1,692)" || line.State(true) != store.AllHere {
		t.Errorf("line 30: %s, %s", got, line.State(true))
	}
	m := k.check().model
	row := m.State().Lines[29].Cells
	if row[1].Sub != "Flush rivet, 3/32 by 7/32 · about 1,680 by weight" || row[3].Text != "0.3" || row[3].Sub != "about" {
		t.Errorf("its row: %+v", row)
	}
	m.ChooseLine(29)
	k.settle()
	if hint := m.State().Current.Hint; hint != "By weight about 1,680 ea (1,668 to 1,692)." {
		t.Errorf("its hint: %q", hint)
	}
}
