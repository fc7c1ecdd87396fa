package desktop

import (
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"stowright/app/demo"
	"stowright/app/look"
	"stowright/app/session/sessiontest"
	"stowright/store"
	storecopies "stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/progress"
)

// older makes a safe copy, and then takes six bolts of one drawer to another.
func (b *bench) older() {
	b.t.Helper()
	if _, err := b.Copies.Make(context.Background(), "", storecopies.Daily); err != nil {
		b.t.Fatal(err)
	}
	heap := b.Heap("A-12")
	move := store.Transfer{StockKey: heap.StockKey, To: b.Place("A-40").ID, Quantity: measure.Pieces(6)}
	if _, err := b.Shop.Move(move); err != nil {
		b.t.Fatal(err)
	}
	b.Elapse()
}

// onWindow is the program's window on the file of a shop, which is closed first and
// may be spoilt then.
func onWindow(t *testing.T, s *sessiontest.Bench, spoil func(file string)) (*bench, *Window) {
	t.Helper()
	b, all, open := newOnWindow(t, s, spoil)
	shop, err := open(nil)
	all.Start(shop, err)
	b.Drain()
	return b, all
}

func newOnWindow(t *testing.T, s *sessiontest.Bench, spoil func(file string)) (*bench, *Window, func(progress.Func) (*store.Shop, error)) {
	t.Helper()
	file := s.Shop.File()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if spoil != nil {
		spoil(file)
	}
	look.Theme{Mode: look.Light}.Apply()
	w := test.NewTempWindow(t, nil)
	b := &bench{Bench: s, t: t, w: &keyWindow{w, &keyCanvas{Canvas: w.Canvas()}}}
	open := func(p progress.Func) (*store.Shop, error) {
		later := func() time.Time { return demo.NewClock(demo.Today, true).Now().Add(time.Hour) }
		return store.Open(file, store.Options{Clock: later, Create: true, BeforeUpgrade: storecopies.BeforeUpgrade(progress.With(context.Background(), p), "")})
	}
	all := NewWindow(t.Context(), b.w, b.Session.Loop, file, Options{Open: noCamera}, open)
	b.w.Resize(Size)
	t.Cleanup(func() {
		if err := all.Close(); err != nil {
			t.Error(err)
		}
	})
	return b, all, open
}

// has fails unless the window shows all of the texts.
func (b *bench) has(texts ...string) {
	b.t.Helper()
	shown := b.texts()
	for _, text := range texts {
		if !strings.Contains(shown, text) {
			b.t.Errorf("the window does not say %q; it shows:\n%s", text, shown)
		}
	}
}

// An older copy is restored by keys: it says what that changes, and the window then
// shows the shop as it was. The way back is a copy like any other.
func TestRestoreInTheWindow(t *testing.T) {
	s := sessiontest.Open(t, demo.Unpacked)
	at := sitAt(t, s)
	at.older()
	b, all := onWindow(t, s, nil)
	b.press("F12")
	b.has("Safe copies", "1 entry behind", "once a day", "whole when made")
	b.press("Enter")
	b.has("1 entry would go missing", "moved to A-40", "AN3-5A", "28 ea", "22 ea")
	b.press("Esc")
	b.has("1 entry behind")
	b.press("Enter", "Enter")
	b.d = all.desktop
	b.said("Restored.")
	b.press("Ctrl+K", `"an3-5a"`)
	if got := b.d.Card(); got.Quantity != "28" {
		t.Errorf("after restoring there are %q AN3-5A on the card, want 28", got.Quantity)
	}
	before := b.place(all, "A-40")
	b.press("Esc", "Esc", "F12")
	b.has("before a restore", "1 entry more than now")
	b.press("Down", "Enter") // what was replaced comes after the copies of the shop
	b.has("1 entry would come back")
	b.press("Enter")
	b.d = all.desktop
	b.said("Restored.")
	if got := b.place(all, "A-40"); got != before+1 {
		t.Errorf("gone back, %d heaps lie in A-40, want %d", got, before+1)
	}
}

// place is how many heaps lie in a place of the shop that the window is on.
func (b *bench) place(all *Window, name string) int {
	b.t.Helper()
	heaps, err := all.desktop.session.Shop.Contents(b.onceAt(all, name))
	if err != nil {
		b.t.Fatal(err)
	}
	return len(heaps)
}

func (b *bench) onceAt(all *Window, name string) string {
	b.t.Helper()
	places, err := all.desktop.session.Shop.Places()
	if err != nil {
		b.t.Fatal(err)
	}
	for _, p := range places {
		if p.Name == name {
			return p.ID
		}
	}
	b.t.Fatalf("no place is called %q", name)
	return ""
}

// However a file is spoilt, the window opens on a page that says so, and Enter brings
// back all that can be read.
func TestDamagedInTheWindow(t *testing.T) {
	zeroed := func(from, length int64) func(t *testing.T) func(string) {
		return func(t *testing.T) func(string) {
			return func(file string) {
				f, err := os.OpenFile(file, os.O_WRONLY, 0)
				if err != nil {
					t.Fatal(err)
				}
				defer f.Close()
				if _, err := f.WriteAt(make([]byte, length), from); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	for _, row := range []struct {
		name, says string
		spoil      func(t *testing.T) func(file string)
	}{
		{"the first pages zeroed", "is damaged, or is not a shop file", zeroed(0, 8192)},
		{"a page zeroed that says what is newest", "is damaged where it says what its last change was", zeroed(4096, 4096)},
		{"cut short", "was cut short", func(t *testing.T) func(string) {
			return func(file string) {
				info, err := os.Stat(file)
				if err != nil {
					t.Fatal(err)
				}
				if err := os.Truncate(file, info.Size()/2); err != nil {
					t.Fatal(err)
				}
			}
		}},
		{"another program's file", "is damaged, or is not a shop file", func(t *testing.T) func(string) {
			return func(file string) {
				if err := os.WriteFile(file, []byte(strings.Repeat("not a shop\n", 5000)), 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := sessiontest.Open(t, demo.Unpacked)
			sitAt(t, s).older()
			file := s.Shop.File()
			b, all := onWindow(t, s, row.spoil(t))
			if all.desktop != nil {
				t.Fatal("the window shows a shop")
			}
			b.has(row.says, "The newest good copy is of 18 March 2026", "kept beside it")
			b.picture("see-rescue-" + row.name[:3])
			b.press("/", "Esc", "Enter")
			if all.desktop == nil {
				t.Fatalf("Enter does not restore it:\n%s", b.texts())
			}
			b.d = all.desktop
			b.said("Restored.")
			if _, err := os.Stat(file + ".before-restore"); err != nil {
				t.Errorf("the damaged file is not kept: %v", err)
			}
			b.press("Ctrl+K", `"an470ad4-7"`)
			if got := b.d.Card().Designation; got != "AN470AD4-7" {
				t.Errorf("after restoring the card is of %q", got)
			}
		})
	}
}

// A file of an earlier version says what is done with it, and opens by itself.
func TestUpdateInTheWindow(t *testing.T) {
	older := func(file string) {
		f, err := os.Open(filepath.Join("..", "..", "testdata", "store", "format2.stow.gz"))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		z, err := gzip.NewReader(f)
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(z)
		if err == nil {
			err = os.WriteFile(file, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
		if !store.UpdateDue(file) {
			t.Error("nothing is due for a file of the second layout")
		}
	}
	b, all, _ := newOnWindow(t, sessiontest.Empty(t), older)
	all.Update(func(err error) { t.Error(err) })
	b.has("An earlier version of Stowright made this shop file", "Bringing the shop up to date", "starting")
	b.picture("see-update")
	b.press("/", "Esc", "Enter")
	b.Drain()
	if all.desktop == nil {
		t.Fatalf("the shop has not opened:\n%s", b.texts())
	}
	shop := all.desktop.session.Shop
	if store.UpdateDue(shop.File()) {
		t.Error("it is still due")
	}
	if copies, err := storecopies.List(shop.File(), storecopies.Folder(shop.File())); err != nil || len(copies) == 0 || copies[len(copies)-1].Why != storecopies.Upgrade {
		t.Errorf("copies %v, %v", copies, err)
	}
}

// What is wrong other than with the file is not taken for damage.
func TestUpdateFails(t *testing.T) {
	b, all, _ := newOnWindow(t, sessiontest.Empty(t), nil)
	all.open = func(progress.Func) (*store.Shop, error) {
		return nil, &store.Error{Kind: store.Busy, Message: "It is busy."}
	}
	var failed error
	all.Update(func(err error) { failed = err })
	b.Drain()
	if store.KindOf(failed) != store.Busy || all.desktop != nil {
		t.Errorf("failed with %v", failed)
	}
}

// Where there is neither a copy nor an entry, the page says where to look.
func TestDamagedWithoutCopies(t *testing.T) {
	s := sessiontest.Open(t, demo.Unpacked)
	good := filepath.Join(t.TempDir(), "mine.stow")
	data, err := os.ReadFile(s.Shop.File())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(good, data, 0o600); err != nil {
		t.Fatal(err)
	}
	b, all := onWindow(t, s, func(file string) {
		if err := os.WriteFile(file, []byte(strings.Repeat("x", 9000)), 0o600); err != nil {
			t.Fatal(err)
		}
	})
	b.has("There is no good copy of demo.stow", "look for a copy elsewhere")
	b.press("Enter")
	if all.desktop != nil {
		t.Fatal("Enter did something")
	}
	b.press("A", "F5")
	b.asks("Choose a file")
	b.press("Esc", `"`+good+`"`, "Enter", "Enter")
	if all.desktop == nil {
		t.Fatalf("the named copy was not restored:\n%s", b.texts())
	}
}

// An export comes back into an empty shop, whole; into any other one it does not.
func TestBringAnExportIn(t *testing.T) {
	dir := t.TempDir()
	full := sit(t, demo.Unpacked)
	full.press("F12", "X")
	full.write(dir)
	full.press("Enter")
	full.has("Exported:")
	exports, err := filepath.Glob(filepath.Join(dir, "demo-*.zip"))
	if err != nil || len(exports) != 1 {
		t.Fatalf("exports %v, %v", exports, err)
	}
	b, all := onWindow(t, sessiontest.Empty(t), nil)
	b.press("E", "I", `"`+exports[0]+`"`, "Enter")
	b.d = all.desktop
	b.said("is the shop now")
	again := filepath.Join(dir, "again.zip")
	if err := exchange.ExportArchiveFile(context.Background(), all.desktop.session.Shop, again, false); err != nil {
		t.Fatal(err)
	}
	want, err1 := os.ReadFile(exports[0])
	got, err2 := os.ReadFile(again)
	if err1 != nil || err2 != nil || string(got) != string(want) {
		t.Errorf("exported again it is another file: %d bytes of %d, %v, %v", len(got), len(want), err1, err2)
	}
}

// The other work of the page: a copy now, one elsewhere, looking at one, the check.
func TestCopiesByKeys(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("Ctrl+K", `"copies"`, "Enter", "N")
	b.has("Copied, and the copy is whole", "nothing missing", "by hand")
	b.press("W")
	b.has("whole, checked now")
	b.press("H")
	b.has("Whole:", "entries add up to what the shop says")
	copies, err := b.Copies.List()
	if err != nil || len(copies) != 1 {
		t.Fatalf("copies %v, %v", copies, err)
	}
	if err := os.Truncate(copies[0].File, 5000); err != nil {
		t.Fatal(err)
	}
	b.press("W")
	b.has("damaged")
	b.press("Enter")
	b.has("was cut short")
}

// Long work shows how far it is and can be stopped: then nothing has happened.
func TestCopiesStopped(t *testing.T) {
	b := sit(t, demo.Unpacked)
	b.press("F12")
	b.write("N")
	b.has("Making a safe copy", "Stop")
	b.w.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	b.Elapse()
	b.has("Stopped.", "There is no safe copy yet")
	if copies, err := b.Copies.List(); err != nil || len(copies) != 0 {
		t.Errorf("copies %v, %v", copies, err)
	}
}

// Another shop's file in the place of ours is noticed: the copies are of another shop.
// Restoring one keeps the stranger; using it as it is makes the next copies its own.
func TestSwappedInTheWindow(t *testing.T) {
	for _, row := range []struct {
		name, key string
		rooms     string
	}{{"restored", "Enter", "Garage"}, {"used as it is", "U", "Barn"}} {
		t.Run(row.name, func(t *testing.T) {
			s := sessiontest.Open(t, demo.Unpacked)
			sitAt(t, s).older()
			other := sessiontest.Empty(t)
			if _, _, err := other.Shop.AddPlace(store.Place{Kind: store.Room, Name: "Barn"}); err != nil {
				t.Fatal(err)
			}
			if err := other.Close(); err != nil {
				t.Fatal(err)
			}
			b, all := onWindow(t, s, func(file string) {
				if err := os.Rename(other.Shop.File(), file); err != nil {
					t.Fatal(err)
				}
			})
			if all.desktop != nil {
				t.Fatal("the window shows another shop as if it were ours")
			}
			b.has("is not the shop that its safe copies are of", "would go missing", "room Barn made")
			b.press(row.key)
			if all.desktop == nil {
				t.Fatalf("the window shows no shop:\n%s", b.texts())
			}
			b.onceAt(all, row.rooms)
			if err := all.desktop.session.Copies.Strange(); row.key == "U" && err != nil {
				t.Errorf("used as it is, it still says %v", err)
			}
		})
	}
}

// In the window's own size the buttons of the safe copies stand in one row, whatever
// there is to copy.
func TestCopiesButtonsInOneRow(t *testing.T) {
	for name, open := range map[string]func(*testing.T) *sessiontest.Bench{"nothing done yet": empty, "with a copy": at(demo.Unpacked)} {
		t.Run(name, func(t *testing.T) {
			b := sitAt(t, open(t))
			b.press("F12", "N")
			driver := fyne.CurrentApp().Driver()
			buttons := shownOf[*look.KeyButton](t, b.d.Page().Object())
			first := driver.AbsolutePositionForObject(buttons[0])
			for _, button := range buttons {
				if at := driver.AbsolutePositionForObject(button); at.Y != first.Y {
					t.Errorf("%q stands at %v, and the first one at %v", button.Label(), at, first)
				}
			}
		})
	}
}
