package store_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// differs is a plan's difference, in words.
func differs(d store.Difference) []string {
	lines := []string{d.Sentence()}
	for _, heap := range d.Stock {
		lines = append(lines, heap.String())
	}
	return lines
}

// What restoring a copy changes is said before, for an open shop and for a closed
// one alike: what was taken back again is no difference.
func TestRestoreDifference(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	w := newWorld(t)
	w.receive(1, found(24))
	w.must(second(w.Stow(w.to("AN3-5A", "H103", 20, "A-01"))))
	c, err := copies.NewKeeper(w.Shop, "").Make(ctx, copies.Folder(w.File()), copies.ByHand)
	w.must(err)

	none, err := copies.NewKeeper(w.Shop, "").PlanRestore(ctx, c.File)
	w.must(err)
	if got := differs(none.Difference); !slices.Equal(got, []string{"Nothing would change."}) || !none.Difference.None() {
		t.Errorf("nothing was done since, and it says %q", got)
	}
	w.must(second(w.Move(w.to("AN3-5A", "A-01", 5, "A-02"))))
	w.must(second(w.Undo()))
	undone, err := copies.NewKeeper(w.Shop, "").PlanRestore(ctx, c.File)
	w.must(err)
	if got := differs(undone.Difference); len(got) != 1 || !strings.HasSuffix(got[0], "What they did was undone again: no record changes.") {
		t.Errorf("what was done is undone, and it says %q", got)
	}
	w.clock.Set(t, "2026-03-15")
	w.must(second(w.Move(w.to("AN3-5A", "A-01", 6, "S1"))))
	w.receive(2, found(12))
	made, _, err := w.AddPlace(store.Place{Parent: w.place["Hangar"], Kind: store.Bin, Name: "Tray"})
	w.must(err)
	w.must(second(w.Count(store.StockKey{Item: "AN4-12A", Place: made.ID}, measure.Pieces(3))))
	w.must(second(w.PutSettings(store.Settings{Title: "Type Q"})))

	plan, err := copies.NewKeeper(w.Shop, "").PlanRestore(ctx, c.File)
	w.must(err)
	want := []string{
		"7 entries would go missing, from 14 March 2026 09:00 (AN3-5A: 5 ea moved to A-02) to 15 March 2026 09:00 (the shop's settings). " +
			"That changes 1 item, 1 place, 1 line of a packing list, 4 heaps of stock and 3 other records.",
		"AN3-5A in Garage, Cabinet A, A-01: 14 ea now, 20 ea then",
		"AN3-5A in Garage, S1: 6 ea now, 0 ea then",
		"AN3-6A in C1, H103: 12 ea now, 0 ea then",
		"AN4-12A in Hangar, Tray: 3 ea now, 0 ea then",
	}
	if d := cmp.Diff(want, differs(plan.Difference)); d != "" {
		t.Errorf("of the open shop (-want +got):\n%s", d)
	}
	w.must(w.Close())
	closed, err := copies.PlanRestoreFrom(ctx, w.File(), c.File)
	w.must(err)
	if d := cmp.Diff(plan.Difference, closed.Difference); d != "" {
		t.Errorf("of the closed shop (-open +closed):\n%s", d)
	}
	w.must(os.WriteFile(w.File(), spoilHead(t, w.File()), 0o600))
	spoilt, err := copies.PlanRestoreFrom(ctx, w.File(), c.File)
	w.must(err)
	if d := cmp.Diff(plan.Difference, spoilt.Difference); d != "" {
		t.Errorf("of the damaged shop (-open +damaged):\n%s", d)
	}
	_, err = copies.Restore(ctx, spoilt, true) // so that the world is whole at its end
	w.must(err)
}

// spoilHead is a file without its first two pages: all entries can still be read.
func spoilHead(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	clear(data[:8192])
	return data
}

// A restored older copy and what was done since are two ways: going back to the other
// one says what is lost and what comes back.
func TestRestoreForthAndBack(t *testing.T) {
	ctx := context.Background()
	w := newWorld(t)
	file, folder := w.File(), copies.Folder(w.File())
	early, err := copies.NewKeeper(w.Shop, "").Make(ctx, folder, copies.Daily)
	w.must(err)
	w.receive(1, found(24))
	w.must(w.Close())

	plan, err := copies.PlanRestoreFrom(ctx, file, early.File)
	w.must(err)
	aside, err := copies.Restore(ctx, plan, false)
	w.must(err)
	made, err := copies.List(file, folder)
	w.must(err)
	if len(made) != 2 || made[1].File != aside || made[1].Why != copies.Replaced || made[1].Entries != early.Entries+1 {
		t.Fatalf("the file as it was is not among the copies, after those of the shop as it goes on: %v, aside %s", made, aside)
	}
	shop, err := store.Open(file, store.Options{})
	w.must(err)
	after, due, err := copies.NewKeeper(shop, "").MakeWhenDue(ctx)
	if err != nil || due || after != early {
		t.Errorf("after a restore the copy that it came from is not the newest: due %v, %v, %v", due, after, err)
	}
	w.must(second(shop.Receive(w.ship, 1, found(23))))
	back, err := copies.NewKeeper(shop, "").PlanRestore(ctx, aside)
	w.must(err)
	if len(back.Difference.Lost) != 1 || len(back.Difference.Gained) != 1 || len(back.Missing) != 0 {
		t.Errorf("lost %v, gained %v, to put back %v", back.Difference.Lost, back.Difference.Gained, back.Missing)
	}
	if got, want := differs(back.Difference)[1:], []string{"AN3-5A in C1, H103: 23 ea now, 24 ea then"}; !slices.Equal(got, want) {
		t.Errorf("stock differs by %q, want %q", got, want)
	}
	// The file is made while the shop is in use; what is done meanwhile is not lost.
	r, err := back.Prepare(ctx, false)
	w.must(err)
	defer r.Discard()
	w.must(second(shop.Receive(w.ship, 2, found(16))))
	w.must(shop.Close())
	_, err = r.Replace()
	wantRefusal(t, err, store.Conflict, file+" has changed since you looked at what restoring does: look again, then decide.")
	again, err := copies.PlanRestoreFrom(ctx, file, aside)
	w.must(err)
	_, err = copies.Restore(ctx, again, false)
	w.must(err)
	if got := journal(t, storetest.OpenFile(t, file, store.Options{})); len(got) != int(early.Entries)+1 || !strings.HasSuffix(got[len(got)-1], "found 24 ea") {
		t.Errorf("back again there are %d entries, the last is %s", len(got), got[len(got)-1])
	}
}

// Another shop's file in the place of ours is nothing that the copies go on from.
func TestRestoreOverAnotherShop(t *testing.T) {
	ctx := context.Background()
	w := newWorld(t)
	c, err := copies.NewKeeper(w.Shop, "").Make(ctx, copies.Folder(w.File()), copies.ByHand)
	w.must(err)
	w.must(w.Close())
	other := storetest.Open(t, store.Options{})
	if _, _, err := other.AddPlace(store.Place{Kind: store.Room, Name: "Barn"}); err != nil {
		t.Fatal(err)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	w.must(os.Rename(other.File(), w.File()))
	plan, err := copies.PlanRestoreFrom(ctx, w.File(), c.File)
	w.must(err)
	if len(plan.Difference.Lost) != 1 || len(plan.Difference.Gained) != int(c.Entries) || plan.Difference.Places != 17 {
		t.Errorf("the difference is %s", plan.Difference.Sentence())
	}
	aside, err := copies.Restore(ctx, plan, true)
	w.must(err)
	if filepath.Dir(aside) != copies.Folder(w.File()) {
		t.Errorf("the other shop is kept as %s", aside)
	}
}
