package copies_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/storetest"
)

// A copy is due when something was done and the newest is a day old, and not before.
func TestMakeWhenDue(t *testing.T) {
	ctx := context.Background()
	clock := storetest.NewClock(t, "2026-03-20")
	shop, count := counted(t, clock, 0)
	keeper := copies.NewKeeper(shop, "")
	first, due, err := keeper.MakeWhenDue(ctx)
	if err != nil || !due || first.Why != copies.Daily || first.Entries != 1 {
		t.Fatalf("the first: %v, due %v, %v", first, due, err)
	}
	for _, row := range []struct {
		name  string
		day   string
		count bool
		due   bool
	}{
		{"nothing was done, and days went by", "2026-03-25", false, false},
		{"something was done, days after the newest", "2026-03-25", true, true},
		{"more was done on the same day", "2026-03-25", true, false},
		{"more was done a day later", "2026-03-26", true, true},
		{"the clock went back: the newest was made by one that was ahead", "2026-03-01", true, true},
	} {
		clock.Set(t, row.day)
		if row.count {
			count()
		}
		c, due, err := keeper.MakeWhenDue(ctx)
		if err != nil || due != row.due {
			t.Errorf("%s: due %v, %v; want %v", row.name, due, err, row.due)
		}
		if head, _ := shop.End(); due && c.Entries != head.Seq {
			t.Errorf("%s: a copy of %d entries of %d", row.name, c.Entries, head.Seq)
		}
	}
	empty := storetest.Open(t, store.Options{Clock: clock.Now})
	if c, due, err := copies.NewKeeper(empty, "").MakeWhenDue(ctx); err != nil || due || c.File != "" {
		t.Errorf("of a shop in which nothing was done: %v, %v, %v", c, due, err)
	}
}

// A copy says for what it was made, in its name and in words.
func TestWhy(t *testing.T) {
	clock := storetest.NewClock(t, "2026-03-20")
	shop, _ := counted(t, clock, 1)
	for why, words := range map[copies.Why]string{
		copies.ByHand: "by hand", copies.Daily: "once a day", copies.Import: "before a packing list",
		copies.Upgrade: "before an update", copies.Replaced: "before a restore", "": "not noted",
	} {
		c, err := copies.NewKeeper(shop, t.TempDir()).Make(context.Background(), "", why)
		if err != nil {
			t.Fatal(err)
		}
		list, err := copies.List(shop.File(), filepath.Dir(c.File))
		if err != nil || len(list) != 1 || list[0] != c {
			t.Errorf("%q: listed %v, %v; want %v", why, list, err, c)
		}
		if c.Why != why || c.Why.String() != words || c.String() != "20 March 2026 09:00, 2 entries" {
			t.Errorf("%q: %s, %s; want %q", why, c, c.Why, words)
		}
	}
}

// planned is a shop with a copy of some entries, closed after more were made.
func planned(t *testing.T, before, after int) (file string, copied copies.Copy) {
	t.Helper()
	clock := storetest.NewClock(t, "2026-03-20")
	shop, count := counted(t, clock, before)
	copied = copyNow(t, shop)
	for range after {
		count()
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	return shop.File(), copied
}

// A plan says which copy it is of and what can be put back, and restoring does just that.
func TestPlanSaysWhatRestoringDoes(t *testing.T) {
	ctx := context.Background()
	for _, row := range []struct {
		after    int
		sentence string
	}{
		{0, "The newest good copy is of 20 March 2026 09:00, 3 entries. No later entry can be read in shop.stow."},
		{1, "The newest good copy is of 20 March 2026 09:00, 3 entries. One later entry can be read in shop.stow and put back: counted AN3-5A in Bin 1: 3 ea (was 2 ea)."},
		{4, `The newest good copy is of 20 March 2026 09:00, 3 entries. 4 later entries can be read in shop.stow and put back: from "counted AN3-5A in Bin 1: 3 ea (was 2 ea)" to "counted AN3-5A in Bin 1: 6 ea (was 5 ea)".`},
	} {
		for _, putBack := range []bool{false, true} {
			file, copied := planned(t, 2, row.after)
			plan, err := copies.PlanRestore(ctx, file, copies.Folder(file))
			if err != nil || plan.Copy != copied || len(plan.Missing) != row.after || len(plan.Bad) > 0 || plan.Cut != 0 {
				t.Fatalf("%d later: %+v, %v", row.after, plan, err)
			}
			if got := plan.Sentence(); got != row.sentence {
				t.Errorf("%d later:\n%s\nwant\n%s", row.after, got, row.sentence)
			}
			aside, err := copies.Restore(ctx, plan, putBack)
			if err != nil || aside == "" {
				t.Fatalf("%d later: set aside as %q, %v", row.after, aside, err)
			}
			want := copied.Entries
			if putBack {
				want += uint64(row.after)
			}
			shop := storetest.OpenFile(t, file, store.Options{})
			if head, err := shop.End(); err != nil || head.Seq != want {
				t.Errorf("%d later, put back %v: %d entries, %v; want %d", row.after, putBack, head.Seq, err, want)
			}
		}
	}
}

// A damaged copy is passed over and named, and the one before it taken.
func TestPlanPassesDamagedCopies(t *testing.T) {
	ctx := context.Background()
	clock := storetest.NewClock(t, "2026-03-20")
	shop, count := counted(t, clock, 2)
	good := copyNow(t, shop)
	count()
	bad := copyNow(t, shop)
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(bad.File, bad.Bytes/2); err != nil {
		t.Fatal(err)
	}
	plan, err := copies.PlanRestore(ctx, shop.File(), copies.Folder(shop.File()))
	if err != nil || plan.Copy != good || len(plan.Bad) != 1 || plan.Bad[0].File != bad.File || len(plan.Missing) != 1 {
		t.Errorf("plan: %+v, %v", plan, err)
	}
	if _, err := copies.PlanRestoreFrom(ctx, shop.File(), bad.File); store.KindOf(err) != store.Corrupt {
		t.Errorf("the damaged one by name: %v", err)
	}
	if _, err := copies.PlanRestoreFrom(ctx, shop.File(), bad.File+"x"); err == nil {
		t.Error("a copy that is not there is planned with")
	}
}

// Without a copy, what can be read in the file makes the shop anew; without either it is
// said where to look.
func TestPlanWithoutCopies(t *testing.T) {
	ctx := context.Background()
	file, copied := planned(t, 2, 2)
	if err := os.Remove(copied.File); err != nil {
		t.Fatal(err)
	}
	plan, err := copies.PlanRestore(ctx, file, copies.Folder(file))
	if err != nil || plan.Copy.File != "" || len(plan.Missing) != 5 {
		t.Fatalf("plan: %+v, %v", plan, err)
	}
	if got := plan.Sentence(); !strings.HasPrefix(got, "There is no good copy. 5 later entries can be read in shop.stow and put back: from ") {
		t.Errorf("it says %q", got)
	}
	nowhere := filepath.Join(t.TempDir(), "shop.stow")
	_, err = copies.PlanRestore(ctx, nowhere, copies.Folder(nowhere))
	if store.KindOf(err) != store.NotFound || !strings.Contains(err.Error(), "look for a copy elsewhere") {
		t.Errorf("with nothing at all: %v", err)
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := copies.PlanRestore(stopped, file, copies.Folder(file)); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// A file that changed after the plan was made is not replaced by it.
func TestPlanOfAFileThatChanged(t *testing.T) {
	ctx := context.Background()
	file, copied := planned(t, 2, 1)
	plan, err := copies.PlanRestoreFrom(ctx, file, copied.File)
	if err != nil {
		t.Fatal(err)
	}
	shop := storetest.OpenFile(t, file, store.Options{})
	if _, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 2"}); err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := copies.Restore(ctx, plan, true); store.KindOf(err) != store.Conflict {
		t.Errorf("restored over a later entry: %v", err)
	}
	again := storetest.OpenFile(t, file, store.Options{})
	if head, _ := again.End(); head.Seq != 5 {
		t.Errorf("the file has %d entries, want its 5", head.Seq)
	}
}

// Another shop's file under the name is strange to the copies, until it is adopted: then
// they are of it, and those of the other shop come last.
func TestStrangeFile(t *testing.T) {
	ctx := context.Background()
	file, theirs := planned(t, 2, 0)
	clock := storetest.NewClock(t, "2026-03-21")
	other, _ := counted(t, clock, 9)
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(other.File())
	if err == nil {
		err = os.WriteFile(file, data, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	shop := storetest.OpenFile(t, file, store.Options{Clock: clock.Now})
	keeper := copies.NewKeeper(shop, "")
	if err := keeper.Strange(); store.KindOf(err) != store.Corrupt || !strings.Contains(err.Error(), "another shop's file has taken its place") {
		t.Fatalf("strange: %v", err)
	}
	if err := keeper.Adopt(ctx); err != nil {
		t.Fatal(err)
	}
	if err := keeper.Strange(); err != nil {
		t.Errorf("adopted: %v", err)
	}
	list, err := keeper.List()
	if err != nil || len(list) != 2 || list[0].Entries != 10 || list[1].Entries != theirs.Entries || list[1].Why != copies.Replaced {
		t.Errorf("listed %v, %v", list, err)
	}
	same, _ := counted(t, clock, 1)
	copyNow(t, same)
	if err := copies.NewKeeper(same, "").Strange(); err != nil {
		t.Errorf("its own copies: %v", err)
	}
}

// What lies in the folder and is no copy of this shop is not listed, whatever it is called.
func TestListTakesCopiesAlone(t *testing.T) {
	folder := t.TempDir()
	shop := filepath.Join(filepath.Dir(folder), "shop.stow")
	for _, name := range []string{
		"shop-20260320T090000Z-3-hand.stow", "shop-20260320T090000Z-3.stow", "shop-20260320T090000Z-3-hand-2.stow", // copies
		"shop-20260320T090000Z-3-other.stow", "shop-20260320T250000Z-3.stow", "shop-20260320T090000Z-x.stow",
		"shop-20260320T090000Z-3.stow.recent", "shop2-20260320T090000Z-3.stow", "shop.stow", "shop-20260320T090000Z-99999999999999999999.stow",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "shop-20260320T090000Z-4.stow"), 0o700); err != nil {
		t.Fatal(err)
	}
	list, err := copies.List(shop, folder)
	var got []string
	for _, c := range list {
		got = append(got, filepath.Base(c.File))
	}
	want := "shop-20260320T090000Z-3-hand-2.stow shop-20260320T090000Z-3.stow shop-20260320T090000Z-3-hand.stow"
	if err != nil || strings.Join(got, " ") != want {
		t.Errorf("listed %v, %v; want %s", got, err, want)
	}
	if list, err := copies.List(shop, filepath.Join(folder, "none")); err != nil || len(list) != 0 {
		t.Errorf("of a folder that is not there: %v, %v", list, err)
	}
}
