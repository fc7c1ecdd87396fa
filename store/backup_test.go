package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/exchange"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// journal is the whole journal, in words.
func journal(t *testing.T, shop *store.Shop) []string {
	t.Helper()
	entries, err := shop.Entries(0, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	slices.Reverse(entries)
	var lines []string
	for _, e := range entries {
		lines = append(lines, fmt.Sprintf("%d %s %s %s %s", e.Seq, e.At, e.Hand, e.Verb, e.Text))
	}
	return lines
}

func names(t *testing.T, folder string) []string {
	t.Helper()
	files, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	list := []string{}
	for _, f := range files {
		list = append(list, f.Name())
	}
	return list
}

// A copy made while others write is a whole shop of some moment.
func TestBackupWhileInUse(t *testing.T) {
	w := newWorld(t)
	folder := filepath.Join(t.TempDir(), "safe", "copies")
	stop, done := make(chan struct{}), make(chan error, 1)
	go func() {
		for n := int64(1); ; n++ {
			if _, err := w.Count(store.StockKey{Item: "AN3-5A", Place: w.place["A-01"]}, measure.Pieces(n)); err != nil {
				done <- err
				return
			}
			select {
			case <-stop:
				done <- nil
				return
			default:
			}
		}
	}()
	var made []copies.Copy
	for range 3 {
		c, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), folder, copies.ByHand)
		w.must(err)
		made = append(made, c)
	}
	close(stop)
	w.must(<-done)
	whole := journal(t, w.Shop)
	for _, c := range made {
		for path, want := range map[string]os.FileMode{c.File: 0o600, folder: 0o700} {
			if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
				t.Errorf("%s has mode %v, %v; want %o", path, info.Mode(), err, want)
			}
		}
		shop := storetest.OpenFile(t, c.File, store.Options{})
		if d := cmp.Diff(whole[:c.Entries], journal(t, shop)); d != "" {
			t.Errorf("the copy of %s (-shop +copy):\n%s", c, d)
		}
	}
	listed, err := copies.List(w.File(), folder)
	w.must(err)
	slices.Reverse(made)
	if d := cmp.Diff(made, listed); d != "" {
		t.Errorf("the list of made (-made +listed):\n%s", d)
	}
}

// Only made of this shop are listed, and nothing else in the folder is touched.
func TestBackupsOfOthers(t *testing.T) {
	w := newWorld(t)
	folder := t.TempDir()
	foreign := []string{"notes.txt", "other-20260314T090000Z-7.stow", "shop-20260314T090000Z.stow", "shop-2026-7.stow", "shop-20269914T090000Z-7.stow", ".shop-unfinished-1"}
	for _, name := range foreign {
		w.must(os.WriteFile(filepath.Join(folder, name), []byte("x"), 0o600))
	}
	c, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), folder, copies.ByHand)
	w.must(err)
	want := append(slices.Clone(foreign[:5]), filepath.Base(c.File)) // what an interrupted program left is gone
	slices.Sort(want)
	if d := cmp.Diff(want, names(t, folder)); d != "" {
		t.Errorf("files in the folder (-want +got):\n%s", d)
	}
	again, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), folder, copies.ByHand)
	w.must(err)
	if again.File == c.File {
		t.Errorf("a copy of the same second took the name of the first, %s", c.File)
	}
	made, err := copies.List(w.File(), folder)
	w.must(err)
	if len(made) != 2 {
		t.Errorf("made %v", made)
	}
	if none, err := copies.List(w.File(), filepath.Join(folder, "not there")); err != nil || len(none) != 0 {
		t.Errorf("no folder: %v, %v", none, err)
	}
}

func TestBackupFails(t *testing.T) {
	w := newWorld(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	folder := t.TempDir()
	if _, err := copies.NewKeeper(w.Shop, "").Make(ctx, folder, copies.ByHand); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled backup says %v", err)
	}
	if left := names(t, folder); len(left) != 0 {
		t.Errorf("a cancelled backup leaves %v", left)
	}
	file := filepath.Join(folder, "file")
	w.must(os.WriteFile(file, nil, 0o600))
	_, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), file, copies.ByHand)
	wantRefusal(t, err, store.Internal, "No safe copy could be made in "+file+": see that the folder may be written and its disk has room.")
}

func TestBackupWhenDue(t *testing.T) {
	w := newWorld(t)
	for _, row := range []struct {
		name, day string
		work      bool // something is done first
		due       bool
	}{
		{"never copied", "2026-03-14", false, true},
		{"a copy of today", "2026-03-14", true, false},
		{"a copy of yesterday", "2026-03-15", false, true},
		{"nothing done since", "2026-03-20", false, false},
		{"a clock that was ahead", "2026-03-10", true, true},
	} {
		w.clock.Set(t, row.day)
		if row.work {
			w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(int64(newestSeq(w))))))
		}
		c, due, err := copies.NewKeeper(w.Shop, "").MakeWhenDue(context.Background())
		w.must(err)
		if due != row.due || filepath.Dir(c.File) != copies.Folder(w.File()) {
			t.Errorf("%s: due %v, %s; want %v", row.name, due, c.File, row.due)
		}
	}
}

// A shop in which nothing was ever done is not copied.
func TestBackupOfAnEmptyShop(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	if c, due, err := copies.NewKeeper(shop, "").MakeWhenDue(context.Background()); err != nil || due || c.File != "" {
		t.Errorf("due %v, %v, %v", due, c, err)
	}
}

// spoiled is a closed shop of which there are two made, the newer one damaged,
// and some entries after both, its file spoilt in some way.
func spoiled(t *testing.T, spoil func(file string) error) (file string, all []string, good copies.Copy) {
	t.Helper()
	w := newWorld(t)
	folder := copies.Folder(w.File())
	w.receive(1, found(24))
	good, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), folder, copies.ByHand)
	w.must(err)
	w.clock.Set(t, "2026-03-15")
	w.must(second(w.Stow(w.to("AN3-5A", "H103", 20, "A-01"))))
	bad, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), folder, copies.ByHand)
	w.must(err)
	w.must(second(w.Undo()))
	w.must(second(w.Redo()))
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(19))))
	all = journal(t, w.Shop)
	w.must(w.Close())
	w.must(os.Truncate(bad.File, 5000))
	w.must(spoil(w.File()))
	return w.File(), all, good
}

func TestRestore(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	cut := func(file string) error {
		info, err := os.Stat(file)
		if err != nil {
			return err
		}
		return os.Truncate(file, info.Size()/2)
	}
	headless := func(file string) error {
		f, err := os.OpenFile(file, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		_, err = f.WriteAt(make([]byte, 8192), 0)
		return errors.Join(err, f.Close())
	}
	for _, row := range []struct {
		name    string
		spoil   func(file string) error
		putBack bool
		all     bool // everything is there again
	}{
		{"both first pages lost", headless, true, true},
		{"both first pages lost, and not put back", headless, false, false},
		{"not damaged at all", func(string) error { return nil }, true, true},
		{"not damaged, and not put back", func(string) error { return nil }, false, false},
		{"deleted", os.Remove, true, false},
		{"empty", func(file string) error { return os.Truncate(file, 0) }, true, false},
	} {
		t.Run(row.name, func(t *testing.T) {
			file, all, good := spoiled(t, row.spoil)
			was, readErr := os.ReadFile(file)
			plan, err := copies.PlanRestore(ctx, file, copies.Folder(file))
			if err != nil {
				t.Fatal(err)
			}
			if plan.Copy != good || len(plan.Bad) != 1 {
				t.Errorf("the plan is %s, of copy %v, bad %v; want copy %v and one bad", plan.Sentence(), plan.Copy, plan.Bad, good)
			}
			if row.all && len(plan.Missing) != len(all)-int(good.Entries) {
				t.Errorf("%d entries missing, want %d: %s", len(plan.Missing), len(all)-int(good.Entries), plan.Sentence())
			}
			aside, err := copies.Restore(ctx, plan, row.putBack)
			if err != nil {
				t.Fatal(err)
			}
			if kept, err := os.ReadFile(aside); readErr == nil && (err != nil || string(kept) != string(was)) {
				t.Errorf("the file as it was is not kept as it was: %v", err)
			}
			want := all[:good.Entries]
			if row.all {
				want = all
			}
			if d := cmp.Diff(want, journal(t, storetest.OpenFile(t, file, store.Options{}))); d != "" {
				t.Errorf("restored (-want +got):\n%s", d)
			}
			for _, name := range names(t, filepath.Dir(file)) {
				if strings.Contains(name, "unfinished") {
					t.Errorf("%s is left", name)
				}
			}
		})
	}
	t.Run("cut in half", func(t *testing.T) {
		file, all, good := spoiled(t, cut)
		plan, err := copies.PlanRestore(ctx, file, copies.Folder(file))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := copies.Restore(ctx, plan, true); err != nil {
			t.Fatal(err)
		}
		got := journal(t, storetest.OpenFile(t, file, store.Options{}))
		if len(got) < int(good.Entries) || cmp.Diff(all[:len(got)], got) != "" {
			t.Errorf("restored to %d entries of %d, the copy had %d", len(got), len(all), good.Entries)
		}
	})
}

// Without a single copy the shop is made again from the entries in the file.
func TestRestoreWithoutCopies(t *testing.T) {
	file, all, _ := spoiled(t, func(file string) error { return os.RemoveAll(copies.Folder(file)) })
	plan, err := copies.PlanRestore(context.Background(), file, copies.Folder(file))
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf("There is no good copy. %d later entries can be read in shop.stow and put back: from %q to %q.", len(all), "room Garage made", "counted AN3-5A in A-01: 19 ea (was 20 ea)"); plan.Sentence() != want {
		t.Errorf("the plan says %q, want %q", plan.Sentence(), want)
	}
	if _, err := copies.Restore(context.Background(), plan, false); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(all, journal(t, storetest.OpenFile(t, file, store.Options{}))); d != "" {
		t.Errorf("made anew (-want +got):\n%s", d)
	}
}

func TestRestoreRefuses(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	file := filepath.Join(dir, "shop.stow")
	_, err := copies.PlanRestore(context.Background(), file, dir)
	wantRefusal(t, err, store.NotFound, "There is no good copy of shop.stow in "+dir+", and no entry can be read in it: look for a copy elsewhere, and name it.")

	w := newWorld(t)
	c, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), dir, copies.ByHand)
	w.must(err)
	plan, err := copies.PlanRestoreFrom(context.Background(), w.File(), c.File)
	w.must(err)
	_, err = copies.Restore(context.Background(), plan, true)
	wantRefusal(t, err, store.Busy, "Another program has the shop file "+w.File()+" open: close it there, then try again.")

	w.must(os.Truncate(c.File, 4096))
	if _, err := copies.PlanRestoreFrom(context.Background(), w.File(), c.File); store.KindOf(err) != store.Corrupt {
		t.Errorf("a damaged copy: %v", err)
	}
}

// The words of a plan.
func TestRestorePlanSentence(t *testing.T) {
	c := copies.Copy{File: "x", At: time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC), Entries: 123}
	for _, row := range []struct {
		plan copies.Plan
		want string
	}{
		{copies.Plan{File: "/a/shop.stow", Copy: c}, "The newest good copy is of 14 March 2026 09:00, 123 entries. No later entry can be read in shop.stow."},
		{
			copies.Plan{File: "/a/shop.stow", Copy: c, Missing: []store.Entry{{Text: "S1 moved to Hangar"}}},
			"The newest good copy is of 14 March 2026 09:00, 123 entries. One later entry can be read in shop.stow and put back: S1 moved to Hangar.",
		},
	} {
		if got := row.plan.Sentence(); got != row.want {
			t.Errorf("got %q, want %q", got, row.want)
		}
	}
}

// Restored on another machine from a copy, everything is there: its export is the same.
func TestRestoreElsewhere(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	c, err := copies.NewKeeper(w.Shop, "").Make(context.Background(), t.TempDir(), copies.ByHand)
	w.must(err)
	elsewhere := filepath.Join(t.TempDir(), "home", "shop.stow")
	plan, err := copies.PlanRestoreFrom(context.Background(), elsewhere, c.File)
	w.must(err)
	aside, err := copies.Restore(context.Background(), plan, true)
	w.must(err)
	if aside != "" {
		t.Errorf("something was set aside: %s", aside)
	}
	other, err := store.Open(elsewhere, store.Options{})
	w.must(err)
	defer other.Close()
	var texts []string
	for i, shop := range []*store.Shop{w.Shop, other} {
		file := filepath.Join(t.TempDir(), "export.jsonl")
		w.must(exchange.ExportFile(context.Background(), shop, file, false))
		text, err := os.ReadFile(file)
		w.must(err)
		texts = append(texts, string(text))
		if len(texts[i]) == 0 {
			t.Error("an empty export")
		}
	}
	if d := cmp.Diff(texts[0], texts[1]); d != "" {
		t.Errorf("exports (-here +elsewhere):\n%s", d)
	}
}
