package copies

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stowright/app/demo"
	"stowright/app/loop"
	"stowright/app/session/sessiontest"
	"stowright/store"
	storecopies "stowright/store/copies"
	"stowright/store/storetest"
)

// wreck is the page's model on a shop file that cannot be opened.
type wreck struct {
	*loop.Queue
	t      *testing.T
	m      *RescueModel
	file   string
	all    []string // its journal before it was damaged, the newest entry first
	copied []string // that of its newest copy that is whole; nil for none
	shown  []RescueState
	opened []string // where the damaged file is kept, for each time it was restored
}

// newWreck makes a shop with a copy, an entry after it, and a damage.
func newWreck(t *testing.T, spoil func(t *testing.T, file string)) *wreck {
	t.Helper()
	b := sessiontest.Open(t, demo.Unpacked)
	w := &wreck{Queue: &loop.Queue{}, t: t, file: b.Shop.File(), copied: journalOf(t, b.Shop)}
	if _, err := b.Copies.Make(context.Background(), "", storecopies.ByHand); err != nil {
		t.Fatal(err)
	}
	newRig(t, b).count("A-12", 3)
	w.all = journalOf(t, b.Shop)
	if err := b.Shop.Close(); err != nil {
		t.Fatal(err)
	}
	spoil(t, w.file)
	w.m = NewRescueModel(w.file, errors.New("the file is damaged"), w.Loop(),
		func(s RescueState) { w.shown = append(w.shown, s) }, func(aside string) { w.opened = append(w.opened, aside) })
	return w
}

func (w *wreck) do(f func()) RescueState {
	w.t.Helper()
	f()
	w.Drain()
	if len(w.shown) == 0 {
		w.t.Fatal("nothing was shown")
	}
	return w.shown[len(w.shown)-1]
}

// noCopies takes the copies of a shop file away.
func noCopies(t *testing.T, file string) {
	t.Helper()
	if err := os.RemoveAll(storecopies.Folder(file)); err != nil {
		t.Fatal(err)
	}
}

// theCopy is the one copy of a shop file.
func theCopy(t *testing.T, file string) string {
	t.Helper()
	copies, err := storecopies.List(file, storecopies.Folder(file))
	if err != nil || len(copies) != 1 {
		t.Fatalf("copies %v, %v; want one", copies, err)
	}
	return copies[0].File
}

// What can be saved of a damaged file, and what the shop is then.
func TestRescue(t *testing.T) {
	for _, row := range []struct {
		name    string
		spoil   func(t *testing.T, file string)
		canDo   bool
		older   bool // the copy alone is offered too
		rows    int  // entries that are shown
		putBack bool
		all     bool // everything is there again
	}{
		{"first pages lost, later entries put back", behead, true, true, 1, true, true},
		{"first pages lost, the copy alone", behead, true, true, 1, false, false},
		{"deleted", func(t *testing.T, file string) { must(t, os.Remove(file)) }, true, false, 0, true, false},
		{"emptied", func(t *testing.T, file string) { must(t, os.Truncate(file, 0)) }, true, false, 0, true, false},
		{"no copy", func(t *testing.T, file string) { behead(t, file); noCopies(t, file) }, true, false, -1, true, true},
		{"nothing at all", func(t *testing.T, file string) { must(t, os.Truncate(file, 0)); noCopies(t, file) }, false, false, 0, true, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWreck(t, row.spoil)
			if row.rows < 0 {
				row.rows = len(w.all)
			}
			s := w.do(w.m.Load)
			if s.Problem != "The file is damaged." {
				t.Errorf("the problem is said as %q", s.Problem)
			}
			if s.CanDo != row.canDo || s.Older != row.older || len(s.Rows) != row.rows {
				t.Errorf("can restore %v, the copy alone %v, %d entries; want %v, %v, %d", s.CanDo, s.Older, len(s.Rows), row.canDo, row.older, row.rows)
			}
			if row.canDo != (s.Error == "") || row.canDo != strings.HasSuffix(s.Text, " The file as it is now is kept beside it.") {
				t.Errorf("it says %q and the error %q", s.Text, s.Error)
			}
			was, readErr := os.ReadFile(w.file)
			w.do(func() { w.m.Restore(row.putBack) })
			if !row.canDo {
				if len(w.opened) != 0 || len(files(t, filepath.Dir(w.file))) != 1 {
					t.Error("something was done where nothing can be")
				}
				return
			}
			if len(w.opened) != 1 {
				t.Fatalf("opened %d times: %q", len(w.opened), w.shown[len(w.shown)-1].Error)
			}
			if readErr == nil {
				if kept, err := os.ReadFile(w.opened[0]); err != nil || !slices.Equal(kept, was) {
					t.Errorf("the damaged file is not kept as it was: %v", err)
				}
			}
			want := w.copied
			if row.all {
				want = w.all
			}
			if got := journalOf(t, storetest.OpenFile(t, w.file, store.Options{})); !slices.Equal(got, want) {
				t.Errorf("restored there are %d entries, want %d", len(got), len(want))
			}
		})
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// Looking at a damaged file changes nothing in its folder.
func TestRescueOnlyLooks(t *testing.T) {
	w := newWreck(t, behead)
	folder := filepath.Dir(w.file)
	before, was := files(t, folder), read(t, w.file)
	w.m.Load()
	if w.Waiting() != 1 || w.shown[0].Job.Title == "" {
		t.Errorf("%d pieces of work wait; the first thing shown is %+v", w.Waiting(), w.shown[0])
	}
	s := w.do(func() {})
	if s.Job != (loop.Progress{}) {
		t.Errorf("still at work: %+v", s.Job)
	}
	if got := s.Rows[0].Cells[0]; !strings.Contains(got.Text, "A-12") || !strings.HasSuffix(got.Sub, ", 18 March 2026 10:00") {
		t.Errorf("the later entry is shown as %+v", got)
	}
	if !slices.Equal(files(t, folder), before) || !slices.Equal(read(t, w.file), was) {
		t.Error("looking has changed the folder or the file")
	}
}

func read(t *testing.T, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	must(t, err)
	return data
}

// A copy that is damaged itself is named, and the one before it is taken.
func TestRescueNamesBadCopies(t *testing.T) {
	w := newWreck(t, behead)
	good := theCopy(t, w.file)
	bad := strings.Replace(good, "20260318T100000Z", "20260318T110000Z", 1)
	must(t, os.WriteFile(bad, read(t, good)[:5000], 0o600))
	s := w.do(w.m.Load)
	if want := " The copy " + filepath.Base(bad) + " is damaged itself."; !strings.Contains(s.Text, want) || !s.CanDo {
		t.Errorf("it says %q, want it to contain %q", s.Text, want)
	}
	w.do(func() { w.m.Restore(false) })
	if got := journalOf(t, storetest.OpenFile(t, w.file, store.Options{})); !slices.Equal(got, w.copied) {
		t.Errorf("restored there are %d entries, want the %d of the good copy", len(got), len(w.copied))
	}
}

// A copy that is named is looked at instead; one that is no copy leaves what was found.
func TestRescueUse(t *testing.T) {
	w := newWreck(t, behead)
	elsewhere := filepath.Join(storetest.Folder(t), "old.stow")
	must(t, os.Rename(theCopy(t, w.file), elsewhere))
	first := w.do(w.m.Load)
	if first.Older || len(first.Rows) != len(w.all) {
		t.Fatalf("without a copy: the copy alone %v, %d entries", first.Older, len(first.Rows))
	}
	damaged := filepath.Join(t.TempDir(), "bad.stow")
	must(t, os.WriteFile(damaged, read(t, elsewhere)[:9000], 0o600))
	for _, file := range []string{damaged, filepath.Join(t.TempDir(), "none.stow")} {
		s := w.do(func() { w.m.Use(file) })
		if !strings.Contains(s.Error, file) || s.Text != first.Text || !s.CanDo {
			t.Errorf("of %s it says %q; what was found before: %v, %q", filepath.Base(file), s.Error, s.CanDo, s.Text)
		}
	}
	s := w.do(func() { w.m.Use(elsewhere) })
	if s.Error != "" || !s.Older || len(s.Rows) != 1 {
		t.Errorf("of a good copy: error %q, the copy alone %v, %d entries", s.Error, s.Older, len(s.Rows))
	}
	w.do(func() { w.m.Restore(true) })
	if got := journalOf(t, storetest.OpenFile(t, w.file, store.Options{})); !slices.Equal(got, w.all) {
		t.Errorf("restored there are %d entries, want all %d", len(got), len(w.all))
	}
}

// A file that can be read says what would be lost, not what can be put back: another
// shop has taken its name, and the copies are of the one that was there.
func TestRescueOfAnotherShop(t *testing.T) {
	w := newWreck(t, func(t *testing.T, file string) {
		must(t, os.Remove(file))
		shop, err := store.Open(file, store.Options{Create: true, Clock: demo.NewClock(demo.Today, true).Now})
		must(t, err)
		_, _, err = shop.AddPlace(store.Place{Name: "Barn", Kind: store.Room})
		must(t, errors.Join(err, shop.Close()))
	})
	s := w.do(w.m.Load)
	if !s.CanDo || s.Older || len(s.Rows) != 1 || !strings.Contains(s.Rows[0].Cells[0].Text, "Barn") {
		t.Errorf("restore %v, the copy alone %v, entries %+v; want the entry that would be lost", s.CanDo, s.Older, s.Rows)
	}
	plan, err := storecopies.PlanRestore(context.Background(), w.file, storecopies.Folder(w.file))
	must(t, err)
	if !strings.Contains(s.Text, plan.Difference.Sentence()) {
		t.Errorf("it says %q, want the difference too", s.Text)
	}
}

// Stopped at any time, the file is as it was and can be looked at again.
func TestRescueStop(t *testing.T) {
	w := newWreck(t, behead)
	was := read(t, w.file)
	s := w.do(func() {
		w.m.Load()
		if !w.m.Key("Esc") {
			t.Error("Esc does not stop looking")
		}
	})
	if s.Error != "Stopped: nothing was changed." || s.CanDo {
		t.Errorf("stopped while looking: %+v", s)
	}
	if s = w.do(w.m.Load); s.Error != "" || !s.CanDo {
		t.Errorf("looked again: error %q, can restore %v", s.Error, s.CanDo)
	}
	s = w.do(func() {
		w.m.Restore(true)
		w.m.Key("Esc")
	})
	if s.Error != "Stopped: nothing was changed." || len(w.opened) != 0 || !slices.Equal(read(t, w.file), was) {
		t.Errorf("stopped while restoring: error %q, opened %d times", s.Error, len(w.opened))
	}
	wantFiles(t, "stopped", storecopies.Folder(w.file), 1)
	wantFiles(t, "stopped", filepath.Dir(w.file), len(files(t, filepath.Dir(w.file))))
}

// A file that changed after it was looked at is not replaced.
func TestRescueAfterChange(t *testing.T) {
	w := newWreck(t, behead)
	w.do(w.m.Load)
	must(t, os.WriteFile(w.file, []byte("something else"), 0o600))
	s := w.do(func() { w.m.Restore(true) })
	if len(w.opened) != 0 || !strings.Contains(s.Error, "has changed since you looked") {
		t.Errorf("opened %d times, error %q", len(w.opened), s.Error)
	}
	if got := string(read(t, w.file)); got != "something else" {
		t.Errorf("the file is %q now", got)
	}
}

// Esc is taken at any time, as there is nowhere to go back to; no other key is.
func TestRescueKeys(t *testing.T) {
	w := newWreck(t, behead)
	for key, want := range map[string]bool{"Esc": true, "Enter": false, "Up": false, "Q": false} {
		if got := w.m.Key(key); got != want {
			t.Errorf("Key(%q) reports %v, want %v", key, got, want)
		}
	}
	w.m.Load()
	if w.m.Key("Enter") || w.Waiting() != 1 {
		t.Error("Enter is taken while it looks")
	}
	w.Drain()
}
