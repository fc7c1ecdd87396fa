package desktop

import (
	"context"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	fynedesktop "fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/session/sessiontest"
	"stowright/app/viewfinder"
	"stowright/labels/camera"
)

// bench is the whole desktop in a test window, worked by keys.
type bench struct {
	*sessiontest.Bench
	t *testing.T
	d *Desktop
	w *keyWindow
}

// keyWindow is a test window that keeps shortcuts, which Fyne's own does not.
type keyWindow struct {
	fyne.Window
	canvas *keyCanvas
}

func (w *keyWindow) Canvas() fyne.Canvas { return w.canvas }

type keyCanvas struct {
	fyne.Canvas
	shortcuts fyne.ShortcutHandler
}

func (c *keyCanvas) AddShortcut(s fyne.Shortcut, do func(fyne.Shortcut)) {
	c.shortcuts.AddShortcut(s, do)
}

// sit opens the desktop on the demo shop.
func sit(t *testing.T, scene demo.Scene) *bench {
	t.Helper()
	return sitAt(t, sessiontest.Open(t, scene))
}

func sitAt(t *testing.T, s *sessiontest.Bench) *bench {
	t.Helper()
	return sitIn(t, s, look.Theme{Mode: look.Light})
}

func sitIn(t *testing.T, s *sessiontest.Bench, th look.Theme) *bench {
	t.Helper()
	th.Apply()
	w := test.NewTempWindow(t, nil)
	b := &bench{Bench: s, t: t, d: New(s.Session, Options{Open: noCamera}), w: &keyWindow{w, &keyCanvas{Canvas: w.Canvas()}}}
	b.d.Show(b.w)
	b.w.Resize(Size)
	b.Drain()
	return b
}

// noCamera reads picture files as the program does, and finds no camera.
func noCamera(ctx context.Context, where string) (camera.Source, error) {
	if where == "" {
		return nil, camera.ErrNoCamera
	}
	return viewfinder.OpenSource(ctx, where)
}

// keys are those that are not characters, as KeyButtons name them.
var keys = map[string]fyne.KeyName{
	"Enter": fyne.KeyReturn, "Esc": fyne.KeyEscape, "Down": fyne.KeyDown, "Up": fyne.KeyUp, "Left": fyne.KeyLeft,
	"Right": fyne.KeyRight, "F1": fyne.KeyF1, "F2": fyne.KeyF2, "F6": fyne.KeyF6, "F9": fyne.KeyF9, "F3": fyne.KeyF3, "F4": fyne.KeyF4, "F5": fyne.KeyF5,
	"F7": fyne.KeyF7, "F8": fyne.KeyF8, "F10": fyne.KeyF10, "F11": fyne.KeyF11, "F12": fyne.KeyF12, "Del": fyne.KeyDelete, "End": fyne.KeyEnd, "Home": fyne.KeyHome,
}

// press presses keys, one after the other, and lets what they ask for happen.
// "Ctrl+4" is a shortcut, a text in quotes is typed as it stands.
func (b *bench) press(names ...string) {
	b.t.Helper()
	for _, name := range names {
		b.one(name)
		b.Elapse()
	}
}

func (b *bench) one(name string) {
	b.t.Helper()
	c := b.w.Canvas()
	switch {
	case strings.HasPrefix(name, `"`):
		b.write(strings.Trim(name, `"`))
	case strings.HasPrefix(name, "Ctrl+"):
		b.shortcut(strings.TrimPrefix(name, "Ctrl+"))
	case name == "Tab":
		if gate := c.Content().(interface{ Gate() look.Gate }).Gate(); gate.Waits() {
			look.KeepTab(c)
		}
		if f, ok := c.Focused().(fyne.Tabbable); ok && f.AcceptsTab() {
			c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyTab})
		} else {
			c.FocusNext()
		}
	case keys[name] != "":
		event := &fyne.KeyEvent{Name: keys[name]}
		if f := c.Focused(); f != nil {
			f.TypedKey(event)
		} else {
			c.OnTypedKey()(event)
		}
	case len(name) == 1:
		b.write(name)
	default:
		b.t.Fatalf("no key is called %q", name)
	}
}

// write types characters without waiting between them, as a hand scanner does.
func (b *bench) write(text string) {
	for _, r := range text {
		if f := b.w.Canvas().Focused(); f != nil {
			f.TypedRune(r)
		} else {
			b.w.Canvas().OnTypedRune()(r)
		}
	}
}

// shortcut presses a key with Ctrl.
func (b *bench) shortcut(key string) {
	b.t.Helper()
	var s fyne.Shortcut = &fynedesktop.CustomShortcut{KeyName: fyne.KeyName(key), Modifier: fyne.KeyModifierShortcutDefault}
	switch key {
	case "Z":
		s = &fyne.ShortcutUndo{}
	case "Y":
		s = &fyne.ShortcutRedo{}
	}
	if f, ok := b.w.Canvas().Focused().(fyne.Shortcutable); ok && key != "K" && key != "U" {
		f.TypedShortcut(s)
		return
	}
	b.w.canvas.shortcuts.TypedShortcut(s)
}

// scan is a hand scanner that types a text and Enter.
func (b *bench) scan(text string) {
	b.t.Helper()
	b.write(text)
	b.press("Enter")
}

// texts are all texts in the window, the open question included.
func (b *bench) texts() string {
	var out []string
	collect(b.w.Canvas().Content(), &out)
	for _, o := range b.w.Canvas().Overlays().List() {
		collect(o, &out)
	}
	return strings.Join(out, " | ")
}

func collect(o fyne.CanvasObject, out *[]string) {
	if o == nil || !o.Visible() {
		return
	}
	switch c := o.(type) {
	case *canvas.Text:
		if c.Text != "" {
			*out = append(*out, c.Text)
		}
	case *container.Scroll:
		collect(c.Content, out)
	case *fyne.Container:
		for _, child := range c.Objects {
			collect(child, out)
		}
	case fyne.Widget:
		for _, child := range test.WidgetRenderer(c).Objects() {
			collect(child, out)
		}
	}
}

// asks fails unless a question is open that says this.
func (b *bench) asks(text string) {
	b.t.Helper()
	top := b.w.Canvas().Overlays().Top()
	var out []string
	collect(top, &out)
	if got := strings.Join(out, " "); top == nil || !strings.Contains(got, text) {
		b.t.Fatalf("the open question says %q, want %q", got, text)
	}
}

// said fails unless this was said last, and no question is open.
func (b *bench) said(text string) {
	b.t.Helper()
	if got := b.d.Said(); !strings.Contains(got, text) {
		b.t.Errorf("said %q, want %q; the window shows:\n%s", got, text, b.texts())
	}
	if b.w.Canvas().Overlays().Top() != nil {
		b.t.Errorf("a question is still open after %q", text)
	}
}

// lit is the name of the drawer that is lit on the card.
func (b *bench) lit() string {
	c := b.d.Card()
	if c.Cabinet == nil || c.Cabinet.Lit() < 0 {
		return ""
	}
	return c.Cabinet.Drawers[c.Cabinet.Lit()].Name
}

// layOut lays out again what is shown: a window does before a frame where a least size has
// changed, and Fyne's test window does not.
func (b *bench) layOut() {
	layOut(b.w.Canvas().Content())
	for _, o := range b.w.Canvas().Overlays().List() {
		layOut(o)
	}
}

func layOut(o fyne.CanvasObject) {
	switch c := o.(type) {
	case *fyne.Container:
		for _, child := range c.Objects {
			layOut(child)
		}
		if c.Layout != nil {
			c.Layout.Layout(c.Objects, c.Size())
		}
	case fyne.Widget:
		r := test.WidgetRenderer(c)
		for _, child := range r.Objects() {
			layOut(child)
		}
		r.Layout(c.Size())
	}
}

// picture writes the window to the folder that STOWRIGHT_PICTURES names.
func (b *bench) picture(name string) {
	b.t.Helper()
	dir := os.Getenv("STOWRIGHT_PICTURES")
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		b.t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, b.w.Canvas().Capture()); err != nil {
		b.t.Fatal(err)
	}
}
