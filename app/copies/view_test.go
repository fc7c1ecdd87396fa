package copies

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app"
	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/routes"
	"stowright/app/session/sessiontest"
	storecopies "stowright/store/copies"
	"stowright/store/storetest"
)

// window is the window as the page sees it: it keeps what it is asked.
type window struct {
	app.Host // nil: the rest is not asked for

	canvas fyne.Canvas // on which questions are opened
	dialog *look.Dialog
	first  fyne.Focusable
	hidden int // how often the card was hidden
	shown  []string
}

// newWindow is a window of the test's own.
func newWindow(t *testing.T) *window {
	t.Helper()
	look.Theme{Mode: look.Light}.Apply()
	return &window{canvas: test.NewTempWindow(t, look.NewText("")).Canvas()}
}

func (w *window) HideCard() { w.hidden++ }

func (w *window) Ask(d *look.Dialog, first fyne.Focusable) {
	w.dialog, w.first = d, first
	d.Open(w.canvas, first)
}

func (w *window) Shown(text string) { w.shown = append(w.shown, text) }

// answer types a path into the question that is open, and presses Enter.
func (w *window) answer(t *testing.T, path string) {
	t.Helper()
	entry, ok := w.first.(*look.Entry)
	if !ok {
		t.Fatalf("no path is asked for: %T has the focus", w.first)
	}
	entry.SetText(path)
	w.dialog.Key("Enter")
}

// bench is the page on a shop, in a window of the test's own.
type bench struct {
	*sessiontest.Bench
	t        *testing.T
	w        *window
	p        *Page
	replaced []*storecopies.Restored
}

func newBench(t *testing.T, b *sessiontest.Bench) *bench {
	t.Helper()
	v := &bench{Bench: b, t: t, w: newWindow(t)}
	v.p = New(b.Session, v.w, routes.Route{}, Options{
		Replace: func(r *storecopies.Restored, _ string) { v.replaced = append(v.replaced, r) }, Shown: v.w.Shown,
	})
	t.Cleanup(func() {
		for _, r := range v.replaced {
			r.Discard()
		}
	})
	v.Drain()
	return v
}

// press does what a key does: the button of the page with it, or the page's own.
func (v *bench) press(key string) {
	v.t.Helper()
	if !look.PressKey(v.p.Object(), key) && !v.p.HandleKey(key) {
		v.t.Errorf("no button and no key %q", key)
	}
	v.Drain()
}

// has are those of some keys that a button shows.
func has(o fyne.CanvasObject, keys string) string {
	var found []string
	for _, key := range strings.Fields(keys) {
		if look.HasKey(o, key) {
			found = append(found, key)
		}
	}
	return strings.Join(found, " ")
}

const allKeys = "Enter W N O X H I"

// Which buttons there are, by what there is to copy and to restore.
func TestPageButtons(t *testing.T) {
	v := newBench(t, sessiontest.Empty(t))
	if got := has(v.p.Object(), allKeys); got != "H I" {
		t.Errorf("an empty shop has the keys %q, want to check it and to bring an export in", got)
	}
	v = newBench(t, sessiontest.Open(t, demo.Unpacked))
	if got := has(v.p.Object(), allKeys); got != "N O X H" {
		t.Errorf("a shop without copies has the keys %q", got)
	}
	v.press("N")
	if got := has(v.p.Object(), allKeys); got != "Enter W N O X H" {
		t.Errorf("a shop with a copy has the keys %q", got)
	}
	if v.p.list.Len() != 1 || !strings.Contains(v.p.note.Text(), "nothing missing") {
		t.Errorf("%d rows, %q", v.p.list.Len(), v.p.note.Text())
	}
	if v.p.said.Hidden || !strings.Contains(v.p.said.Text(), "demo-") {
		t.Errorf("what was done is not said: %q", v.p.said.Text())
	}
	if v.w.hidden == 0 {
		t.Error("the card of the page before is still there")
	}
}

// While work is under way only it is shown, and Esc stops it.
func TestPageWorking(t *testing.T) {
	v := newBench(t, sessiontest.Open(t, demo.Unpacked))
	look.PressKey(v.p.Object(), "N")
	if v.p.root.Objects[0] != v.p.working || has(v.p.Object(), allKeys) != "" {
		t.Errorf("while it works the keys are %q", has(v.p.Object(), allKeys))
	}
	v.press("Esc")
	if v.p.root.Objects[0] != v.p.lasting || !strings.Contains(v.p.said.Text(), "Nothing was changed") {
		t.Errorf("stopped, it says %q", v.p.said.Text())
	}
	wantFiles(t, "stopped", v.Copies.Folder(), 0)
}

// What a restore would change stands alone on the page until it is answered.
func TestPageRestores(t *testing.T) {
	v := newBench(t, sessiontest.Open(t, demo.Unpacked))
	v.press("N")
	newRig(t, v.Bench).count("A-12", 3)
	v.p.Changed()
	v.Drain()
	v.press("Enter")
	if v.p.root.Objects[0] != v.p.planning || v.p.planRows.Len() != 1 || v.p.planRows.Hidden {
		t.Fatalf("%d heaps are listed, hidden %v", v.p.planRows.Len(), v.p.planRows.Hidden)
	}
	if v.p.planHead.Text() != "Restore the copy of 18 March 2026 10:00?" || !slices.Contains(v.w.shown, v.p.planText.Text()) {
		t.Errorf("asked %q, %q", v.p.planHead.Text(), v.p.planText.Text())
	}
	v.press("Esc")
	if v.p.root.Objects[0] != v.p.lasting || len(v.replaced) != 0 {
		t.Error("Esc does not leave the shop as it is")
	}
	v.press("Enter")
	v.press("Enter")
	if len(v.replaced) != 1 {
		t.Errorf("%d files are handed on, want 1", len(v.replaced))
	}
}

// Where a copy or an export goes is asked for, and refused in the question where it cannot.
func TestPageAsksForFolders(t *testing.T) {
	v := newBench(t, sessiontest.Open(t, demo.Unpacked))
	disk := t.TempDir()
	v.press("O")
	v.w.answer(t, disk)
	v.Drain()
	wantFiles(t, "copied elsewhere", disk, 1)
	v.press("X")
	v.w.answer(t, disk)
	v.Drain()
	wantFiles(t, "exported", disk, 2)

	file := filepath.Join(disk, "file")
	if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	v.press("O")
	v.w.answer(t, file)
	v.Drain()
	if data, err := os.ReadFile(file); string(data) != "mine" || err != nil {
		t.Errorf("the file that was named for a folder is %q, %v", data, err)
	}
	wantFiles(t, "a file is not a folder", disk, 3)
}

// An export that was asked for becomes the shop.
func TestPageBringsIn(t *testing.T) {
	from := full(t)
	dir := t.TempDir()
	from.do(func() { from.m.Export(dir) })
	v := newBench(t, sessiontest.Empty(t))
	v.press("I")
	v.w.answer(t, filepath.Join(dir, files(t, dir)[0]))
	v.Drain()
	if len(v.replaced) != 1 {
		t.Errorf("%d files are handed on: %q", len(v.replaced), v.p.said.Text())
	}
}

// A tap chooses a copy; a page that was left shows nothing more.
func TestPageLeaves(t *testing.T) {
	v := newBench(t, sessiontest.Open(t, demo.Unpacked))
	v.press("N")
	newRig(t, v.Bench).count("A-12", 3)
	v.press("N")
	v.p.list.OnTapped(1, v.p.model.State().Rows[1])
	if row, ok := v.p.list.Chosen(); !ok || row.ID != v.p.model.State().Rows[1].ID {
		t.Errorf("after a tap on the second copy %q is chosen", row.ID)
	}
	if v.p.Title() != "Safe copies" {
		t.Errorf("the title is %q", v.p.Title())
	}
	look.PressKey(v.p.Object(), "H")
	v.p.Leave()
	v.Drain()
	if strings.Contains(v.p.said.Text(), "Whole") {
		t.Error("a page that was left says what came of its work")
	}
}

// The page of a damaged file: what is wrong, what can be done, and its keys.
func TestRescuePage(t *testing.T) {
	for _, row := range []struct {
		name  string
		spoil func(t *testing.T, file string)
		asIs  bool
		keys  string
	}{
		{"a copy and later entries", behead, false, "Enter O A"},
		{"a copy alone", func(t *testing.T, file string) { must(t, os.Remove(file)) }, false, "Enter A"},
		{"nothing", func(t *testing.T, file string) { must(t, os.Truncate(file, 0)); noCopies(t, file) }, false, "A"},
		{"to be used as it is", behead, true, "Enter O A U"},
	} {
		t.Run(row.name, func(t *testing.T) {
			wreck, host, used := newWreck(t, row.spoil), newWindow(t), 0
			var queue loop.Queue
			var asIs func()
			if row.asIs {
				asIs = func() { used++ }
			}
			opened := 0
			p := NewRescue(wreck.file, errors.New("the file is damaged"), queue.Loop(), host, func(string) { opened++ }, asIs)
			if p.root.Objects[0] != p.working || len(host.shown) != 0 {
				t.Errorf("it does not say that it looks, but %q", host.shown)
			}
			queue.Drain()
			if len(host.shown) == 0 || host.shown[len(host.shown)-1] != p.text.Text() {
				t.Errorf("a script is told %q, and the page says %q", host.shown, p.text.Text())
			}
			if got := has(p.Object(), "Enter O A U"); got != row.keys {
				t.Errorf("the keys are %q, want %q", got, row.keys)
			}
			if p.problem.Text() != "The file is damaged." || p.Title() != "Damaged" {
				t.Errorf("it says %q under %q", p.problem.Text(), p.Title())
			}
			if p.list.Hidden != (p.list.Len() == 0) || p.trouble.Hidden != (row.keys != "A") {
				t.Errorf("list hidden %v of %d, trouble hidden %v", p.list.Hidden, p.list.Len(), p.trouble.Hidden)
			}
			if row.asIs && (!look.PressKey(p.Object(), "U") || used != 1) {
				t.Errorf("used as it is %d times", used)
			}
			if look.PressKey(p.Object(), "Enter") {
				queue.Drain()
				if opened != 1 {
					t.Errorf("opened %d times: %q", opened, p.trouble.Text())
				}
			}
			if !p.HandleKey("Esc") || p.HandleKey("Q") {
				t.Error("Esc is to be taken, and no other key")
			}
			p.Leave()
		})
	}
}

// Another copy that is named is looked at, and can be restored.
func TestRescuePageTakesAnotherCopy(t *testing.T) {
	w, host := newWreck(t, behead), newWindow(t)
	elsewhere := filepath.Join(storetest.Folder(t), "old.stow")
	must(t, os.Rename(theCopy(t, w.file), elsewhere))
	must(t, os.Truncate(w.file, 0)) // nothing is left in the file itself
	var queue loop.Queue
	p := NewRescue(w.file, errors.New("the file is damaged"), queue.Loop(), host, func(string) {}, nil)
	queue.Drain()
	if has(p.Object(), "Enter") != "" {
		t.Fatal("there is something to restore from")
	}
	look.PressKey(p.Object(), "A")
	host.answer(t, elsewhere)
	queue.Drain()
	if has(p.Object(), "Enter") != "Enter" || !p.trouble.Hidden {
		t.Errorf("a copy was named, and there is nothing to restore: %q", p.trouble.Text())
	}
}
