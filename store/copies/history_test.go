package copies_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// counted is a shop whose bin was counted that many times.
func counted(t *testing.T, clock *storetest.Clock, times int) (*store.Shop, func()) {
	t.Helper()
	shop := storetest.Open(t, store.Options{Clock: clock.Now})
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		t.Fatal(err)
	}
	n := int64(0)
	count := func() {
		n++
		if _, err := shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(n)); err != nil {
			t.Fatal(err)
		}
	}
	for range times {
		count()
	}
	return shop, count
}

func copyNow(t *testing.T, shop *store.Shop) copies.Copy {
	t.Helper()
	c, err := copies.NewKeeper(shop, "").Make(context.Background(), "", copies.ByHand)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Which copy is the newest follows from the entries in it: one of entry 4 that a clock
// dated back is newer than one of entry 3.
func TestNewestIsByHistory(t *testing.T) {
	clock := storetest.NewClock(t, "2026-03-20")
	shop, count := counted(t, clock, 2)
	copyNow(t, shop)
	count()
	clock.Set(t, "2026-03-01") // the clock goes back
	newest := copyNow(t, shop)
	list, err := copies.List(shop.File(), copies.Folder(shop.File()))
	if err != nil || len(list) != 2 || list[0] != newest {
		t.Errorf("listed %v, %v; want %v first", list, err, newest)
	}
	plan, err := copies.PlanRestore(context.Background(), filepath.Join(t.TempDir(), "shop.stow"), copies.Folder(shop.File()))
	if err != nil || plan.Copy != newest {
		t.Errorf("%v would be restored, %v; want %v", plan.Copy, err, newest)
	}
}

// What a restored file took the place of is never the newest, however many entries it
// had; nor are the copies of that way.
func TestNewestAfterARestore(t *testing.T) {
	ctx := context.Background()
	clock := storetest.NewClock(t, "2026-03-20")
	shop, count := counted(t, clock, 2)
	early := copyNow(t, shop)
	for range 5 {
		count()
	}
	copyNow(t, shop)
	count()
	file := shop.File()
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	plan, err := copies.PlanRestoreFrom(ctx, file, early.File)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := copies.Restore(ctx, plan, false); err != nil {
		t.Fatal(err)
	}
	again := storetest.OpenFile(t, file, store.Options{Clock: clock.Now})
	if _, _, err := again.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 2"}); err != nil {
		t.Fatal(err)
	}
	clock.Set(t, "2026-03-01")
	want := copyNow(t, again)
	list, err := copies.List(file, copies.Folder(file))
	if err != nil || len(list) != 4 || list[0] != want || list[1] != early {
		t.Errorf("listed %v, %v; want %v, then %v, then what was replaced", list, err, want, early)
	}
}

// A shop in which nothing was done is not copied: such a copy would only be in the way.
func TestNoCopyOfNothing(t *testing.T) {
	shop := storetest.Open(t, store.Options{})
	if _, err := copies.NewKeeper(shop, "").Make(context.Background(), "", copies.ByHand); store.KindOf(err) != store.Conflict {
		t.Errorf("copied: %v", err)
	}
	if _, err := os.Stat(copies.Folder(shop.File())); !os.IsNotExist(err) {
		t.Errorf("it left a folder: %v", err)
	}
}

// A shop that is named by a symbolic link is the file that the link leads to: restoring
// replaces that file, and the link stays.
func TestRestoreThroughALink(t *testing.T) {
	ctx := context.Background()
	shop, count := counted(t, storetest.NewClock(t, "2026-03-20"), 2)
	made := copyNow(t, shop)
	count()
	file := shop.File()
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(t.TempDir(), "link.stow")
	if err := os.Symlink(file, link); err != nil {
		t.Skip("this file system has no links")
	}
	through, err := store.Open(link, store.Options{})
	if err != nil || through.File() != file {
		t.Fatalf("opened %v, %v; want %s", through, err, file)
	}
	if err := through.Close(); err != nil {
		t.Fatal(err)
	}
	plan, err := copies.PlanRestoreFrom(ctx, link, made.File)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := copies.Restore(ctx, plan, false); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
	again := storetest.OpenFile(t, file, store.Options{})
	if head, err := again.End(); err != nil || head.Seq != made.Entries {
		t.Errorf("the file has %d entries, %v; want %d", head.Seq, err, made.Entries)
	}
}

// Before a packing list comes a copy: of a shop that has entries, and once for each state.
func TestBeforeImport(t *testing.T) {
	ctx := context.Background()
	shop := storetest.Open(t, store.Options{Clock: func() time.Time { return time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC) }})
	keeper := copies.NewKeeper(shop, "")
	for i, row := range []struct {
		work bool
		want int
	}{{false, 0}, {true, 1}, {false, 1}, {true, 2}} {
		if row.work {
			if _, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", i)}); err != nil {
				t.Fatal(err)
			}
		}
		if err := keeper.BeforeImport(ctx); err != nil {
			t.Fatal(err)
		}
		if list, err := keeper.List(); err != nil || len(list) != row.want {
			t.Errorf("step %d: copies %v, %v; want %d", i, list, err, row.want)
		}
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Last"}); err != nil {
		t.Fatal(err)
	}
	if err := keeper.BeforeImport(stopped); err != context.Canceled {
		t.Errorf("it cannot be stopped: %v", err)
	}
}
