package look

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/folders"
	"stowright/app/loop"
)

// onDisk are the ways of a shop file beside a folder with two lists, on a queue.
func onDisk(t *testing.T) (*folders.Ways, *loop.Queue, string) {
	t.Helper()
	dir := t.TempDir()
	t.Setenv("HOME", dir)
	for _, name := range []string{"papers", "shop"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"papers/a.csv", "papers/b.csv", "papers/c.pdf"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("1"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	q := &loop.Queue{}
	return folders.New(q.Loop(), filepath.Join(dir, "shop", "my.stow")), q, dir
}

// topKeys has the window give keys to the dialog that lies on top, as the frame does.
func topKeys(c fyne.Canvas) {
	to := func(key string) {
		if d, ok := c.Overlays().Top().(*Dialog); ok {
			d.Key(key)
		}
	}
	c.SetOnTypedKey(func(k *fyne.KeyEvent) { to(KeyName(k.Name)) })
	c.SetOnTypedRune(func(r rune) { to(string(r)) })
}

// One field is filled by typing and by choosing. What is read goes on when it is chosen;
// what is written waits for Enter in the field. Esc leaves the field as it was.
func TestPathPick(t *testing.T) {
	for _, row := range []struct {
		name  string
		want  folders.Want
		typed string // in the person's own folder
		keys  []fyne.KeyName
		path  string // in the field then
		told  []string
	}{
		{"typed", folders.File(".csv"), "papers/a.csv", []fyne.KeyName{fyne.KeyReturn}, "papers/a.csv", []string{"papers/a.csv"}},
		{"chosen", folders.File(".csv"), "", []fyne.KeyName{fyne.KeyF5, fyne.KeyReturn, fyne.KeyDown, fyne.KeyReturn}, "papers/b.csv", []string{"papers/b.csv"}},
		{"from where the field is", folders.File(".csv"), "papers/b.csv", []fyne.KeyName{fyne.KeyF5, fyne.KeyUp, fyne.KeyReturn}, "papers/a.csv", []string{"papers/a.csv"}},
		{"not chosen", folders.File(".csv"), "papers/b.csv", []fyne.KeyName{fyne.KeyF5, fyne.KeyUp, fyne.KeyEscape}, "papers/b.csv", nil},
		{"where to save", folders.NewFile("x.pdf"), "papers/mine.pdf", []fyne.KeyName{fyne.KeyF5, fyne.KeyLeft, "S", fyne.KeyReturn}, "shop/mine.pdf", nil},
		{"where to save, and Enter", folders.NewFile("x.pdf"), "papers/mine.pdf", []fyne.KeyName{fyne.KeyF5, "S", "H", fyne.KeyReturn, fyne.KeyReturn}, "mine.pdf", []string{"mine.pdf"}},
		{"a folder", folders.Folder(), "shop", []fyne.KeyName{fyne.KeyF5, fyne.KeyLeft, fyne.KeyUp, fyne.KeyReturn, fyne.KeyReturn}, "papers", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			start(t, Theme{Mode: Light})
			ways, q, dir := onDisk(t)
			pick := NewPathPick(ways, row.want, "")
			var told []string
			pick.OnPicked = func(path string) { told = append(told, path) }
			c := window(t, pick, 800, 600)
			topKeys(c)
			c.Focus(pick.Focusable())
			if row.typed != "" {
				pick.SetPath(filepath.Join(dir, row.typed))
			}
			for _, key := range row.keys {
				switch focus := c.Focused(); {
				case key == fyne.KeyF5:
					pick.Choose()
				case len(key) == 1:
					focus.TypedRune(rune(key[0]))
				default:
					press(c, key)
				}
				q.Drain()
			}
			var want []string
			for _, p := range row.told {
				want = append(want, filepath.Join(dir, p))
			}
			if got := pick.Path(); got != filepath.Join(dir, row.path) || !slices.Equal(told, want) {
				t.Errorf("the field has %q, told %q; want %q and %q", got, told, row.path, row.told)
			}
			if c.Overlays().Top() != nil || c.Focused() != pick.Focusable() {
				t.Errorf("%v is still open, and %T has the keys", c.Overlays().Top(), c.Focused())
			}
		})
	}
}

// By the pointer: a tap stands on a row, and another one on the same opens it.
func TestFoldersByTaps(t *testing.T) {
	start(t, Theme{Mode: Light})
	ways, q, dir := onDisk(t)
	c := window(t, NewGround(), 800, 800)
	picked := ""
	f := NewFolders(ways, folders.File(".csv"), func(path string) { picked = path })
	f.Open(c, dir)
	q.Drain()
	tap := func(row int) {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(f.list)
		test.TapCanvas(c, at.AddXY(40, (float32(row)+0.5)*f.list.step()))
		q.Drain()
	}
	tap(1)
	if at := f.where.text; at != dir || picked != "" {
		t.Errorf("a tap on another row: in %q, picked %q", at, picked)
	}
	tap(0)
	tap(0)
	if at := f.where.text; at != filepath.Join(dir, "papers") {
		t.Fatalf("two taps on a folder lead to %q", at)
	}
	high := f.list.Size().Height
	c.Unfocus() // as a click beside the list does
	test.Tap(f.above)
	q.Drain()
	press(c, fyne.KeyReturn)
	q.Drain()
	if at := f.where.text; at != filepath.Join(dir, "papers") {
		t.Fatalf("above by the pointer and back by Enter leads to %q", at)
	}
	tap(1)
	tap(1)
	if picked != filepath.Join(dir, "papers", "b.csv") || c.Overlays().Top() != nil {
		t.Errorf("two taps on a file: picked %q, with %v open", picked, c.Overlays().Top())
	}
	if want := Px(foldersHeight); high != want {
		t.Errorf("the list is %v high with two rows, want %v as always", high, want)
	}
}

// A question for a path keeps what was typed until it can be taken, and takes it once.
func TestAskPath(t *testing.T) {
	start(t, Theme{Mode: Light})
	ways, q, dir := onDisk(t)
	c := window(t, NewGround(), 800, 600)
	topKeys(c)
	var took []string
	AskPath(ways, PathQuestion{Title: "Export", Label: "Which folder", Hint: "of a disk", Do: "Export", Want: folders.Folder(), Path: dir},
		func(d *Dialog, first fyne.Focusable) { d.Open(c, first) }, func(path string) { took = append(took, path) })
	enter := func() []string {
		press(c, fyne.KeyReturn)
		q.Drain()
		return texts(c.Overlays().Top())
	}
	test.Type(c.Focused(), filepath.Join(dir, "none", "new")) // over what was proposed
	if says := enter(); !slices.Contains(says, "There is no "+filepath.Join(dir, "none")+".") || len(took) > 0 {
		t.Errorf("no such folder: says %q, took %q", says, took)
	}
	press(c, fyne.KeyEnd)
	for range "none/new" {
		press(c, fyne.KeyBackspace)
	}
	test.Type(c.Focused(), "shop")
	press(c, fyne.KeyReturn, fyne.KeyReturn) // an impatient finger
	q.Drain()
	if want := []string{filepath.Join(dir, "shop")}; !slices.Equal(took, want) || c.Overlays().Top() != nil {
		t.Errorf("took %q with %v open, want %q", took, c.Overlays().Top(), want)
	}
}
