package store_test

import (
	"bytes"
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/disk"
	"stowright/store/phototest"
)

// upgrading opens a file of an older layout as the program does.
func upgrading() store.Options {
	return store.Options{BeforeUpgrade: copies.BeforeUpgrade(context.Background(), "")}
}

// Every layout that the file ever had is brought up to date, after a copy was made
// that the older program could still open.
func TestMigrations(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		file    string
		format  int
		entries uint64
		heap    string // something that must still be there
		needs   int    // requirements that were in the records of sub-assemblies
	}{
		{"format1.stow", 1, 141, "about 1,680 ea (1,668 to 1,692)", 11},
		{"format2.stow", 2, 143, "about 1,680 ea (1,668 to 1,692)", 11},
		{"format3.stow", 3, 147, "about 1,680 ea (1,668 to 1,692)", 11},
		{"format4.stow", 4, 153, "about 1,680 ea (1,668 to 1,692)", 11},
		{"format4-unclosed.stow", 4, 153, "33 ea", 11},
		{"format5.stow", 5, 137, "22 ea", 12},
	} {
		t.Run(row.file, func(t *testing.T) {
			path := store.UnpackKept(t, row.file)
			shop, err := store.Open(path, upgrading())
			if err != nil {
				t.Fatal(err)
			}
			defer shop.Close()
			report, err := shop.Check(context.Background(), nil)
			if err != nil || !report.OK || report.Entries != row.entries+1 || store.FormatOf(t, path) != store.Format {
				t.Errorf("format %d, check %+v, %v; want format %d and %d entries", store.FormatOf(t, path), report, err, store.Format, row.entries+1)
			}
			wantUpgraded(t, shop, row.needs)
			heaps, err := shop.Stock()
			if err != nil || !slices.ContainsFunc(heaps, func(h store.Holding) bool { return h.Amount.String() == row.heap }) {
				t.Errorf("no heap of %s: %v", row.heap, err)
			}
			made, err := copies.List(path, copies.Folder(path))
			if err != nil || len(made) != 1 || made[0].Entries != row.entries {
				t.Fatalf("copies %v, %v", made, err)
			}
			if format := store.FormatOf(t, made[0].File); format != row.format {
				t.Errorf("the copy has format %d, want %d", format, row.format)
			}
			// The last thing done in the shop of format 5 was to list what was moved since.
			if _, err := shop.Undo(); (err != nil) != (row.format == 5) || err != nil && store.KindOf(err) != store.Conflict {
				t.Errorf("an undo in the migrated file: %v", err)
			}
			picture := phototest.JPEG(40, 30, 1)
			p, _, err := shop.AddPhoto(store.OfItem("AN3-5A"), "", picture)
			if err != nil {
				t.Errorf("a photograph in the migrated file: %v", err)
			}
			if got, err := shop.Picture(p.Number); err != nil || !bytes.Equal(got, picture) {
				t.Errorf("its picture has %d bytes of %d, %v", len(got), len(picture), err)
			}
			// Opened again, there is nothing to do.
			if err := shop.Close(); err != nil {
				t.Fatal(err)
			}
			again, err := store.Open(path, upgrading())
			if err != nil {
				t.Fatal(err)
			}
			defer again.Close()
			if made, err := copies.List(path, copies.Folder(path)); err != nil || len(made) != 1 {
				t.Errorf("opened again: copies %v, %v", made, err)
			}
		})
	}
}

// wantUpgraded sees that requirements were moved into their table by the one entry that
// brings older records up to date, and that it cannot be undone.
func wantUpgraded(t *testing.T, shop *store.Shop, needs int) {
	t.Helper()
	list, err := shop.Requirements("")
	if err != nil || len(list) != needs {
		t.Errorf("%d requirements, %v; want %d", len(list), err, needs)
	}
	subs, err := shop.SubAssemblies()
	if err != nil {
		t.Fatal(err)
	}
	for i, sub := range subs {
		if len(sub.Old) > 0 || sub.Order != i+1 {
			t.Errorf("%s is number %d in the order and lists %v in its own record", sub.Code, sub.Order, sub.Old)
		}
	}
	washers := slices.IndexFunc(list, func(r store.Requirement) bool { return r.Called == "AN960-10" })
	if washers < 0 || list[washers].Item != "NAS1149F0363P" || len(list[washers].Via) != 1 || list[washers].Via[0].Source != "Osterhollow cover letter" {
		t.Errorf("the washers of SA-10 are not called by the plans' number: %+v", list)
	}
	if cowling := slices.IndexFunc(list, func(r store.Requirement) bool { return r.SubAssembly == "SA-60" }); cowling >= 0 && list[cowling].Callout.Text != "drawing 60, figure 2" {
		t.Errorf("the callout became %+v", list[cowling].Callout)
	}
	e, err := shop.Entries(0, 1)
	if err != nil || e[0].Verb != store.VerbUpgrade {
		t.Errorf("the newest entry is %+v, %v", e, err)
	}
	undo, _, err := shop.Undoable()
	if err != nil || undo.Seq >= e[0].Seq {
		t.Errorf("undo would be of %+v, %v", undo, err)
	}
}

// What asks for an item is found in a shop whose layout had no index of it, and nothing is
// written in its journal for that.
func TestMigrationFillsAnIndex(t *testing.T) {
	t.Parallel()
	path := store.UnpackKept(t, "format6.stow")
	shop, err := store.Open(path, upgrading())
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	report, err := shop.Check(context.Background(), nil)
	if err != nil || !report.OK || report.Entries != 139 || store.FormatOf(t, path) != store.Format {
		t.Errorf("format %d, check %+v, %v", store.FormatOf(t, path), report, err)
	}
	asked, err := shop.RequirementsFor("AN3-5A")
	var lines []string
	for _, r := range asked {
		lines = append(lines, r.SubAssembly+" "+r.Quantity())
	}
	if d := cmp.Diff([]string{"SA-10 6 ea", "SA-21 20 ea", "SA-41 8 ea"}, lines); d != "" || err != nil {
		t.Errorf("what asks for AN3-5A (-want +got):\n%s%v", d, err)
	}
}

// The chain of hashes goes on from what an older program wrote: the first entry after that
// covers all of it, which is said, and what was printed before is still answered.
func TestMigrationBeginsTheChain(t *testing.T) {
	t.Parallel()
	path := store.UnpackKept(t, "format6.stow")
	shop, err := store.Open(path, upgrading())
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	want := ""
	for seq := uint64(1); seq <= 139; seq++ {
		want = disk.Hash(want, store.BodyOf(t, shop, seq))
	}
	before, err := shop.Head()
	if err != nil || before.Entry != 139 || before.SHA256 != want {
		t.Errorf("the head is %+v, %v; want %s", before, err, want)
	}
	report, err := shop.Check(context.Background(), nil)
	if err != nil || !report.OK || report.Begun != 0 || report.Head.SHA256 != want {
		t.Errorf("before a change: %+v, %v", report, err)
	}
	if _, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 99"}); err != nil {
		t.Fatal(err)
	}
	e, err := shop.Entry(140)
	if err != nil || e.PrevSHA256 != want {
		t.Errorf("entry 140 carries %q, %v; want %s", e.PrevSHA256, err, want)
	}
	paper, err := store.ReadPaper(139, before.SHA256[:16])
	if err != nil {
		t.Fatal(err)
	}
	report, err = shop.CheckPaper(context.Background(), paper, nil)
	if err != nil || !report.OK || report.Begun != 140 || report.Paper.Answer != store.AsPrinted {
		t.Errorf("after a change: %+v, %v", report, err)
	}
}

// Without a copy there is no migration, and the file stays as it is.
func TestMigrationNeedsACopy(t *testing.T) {
	path := store.UnpackKept(t, "format1.stow")
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	notAFolder := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(notAFolder, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(path, store.Options{BeforeUpgrade: copies.BeforeUpgrade(context.Background(), notAFolder)}); err == nil || !strings.HasPrefix(err.Error(), "No safe copy could be made in ") {
		t.Errorf("without a copy: %v", err)
	}
	if after, err := os.ReadFile(path); err != nil || string(after) != string(before) {
		t.Errorf("the file was changed, %v", err)
	}
}

// A copy of an older layout is restored, and brought up to date on the way.
func TestRestoreOfAnOlderLayout(t *testing.T) {
	path := store.UnpackKept(t, "format1.stow")
	target := filepath.Join(t.TempDir(), "shop.stow")
	plan, err := copies.PlanRestoreFrom(context.Background(), target, path)
	if err != nil {
		t.Fatal(err)
	}
	if aside, err := copies.Restore(context.Background(), plan, true); err != nil || aside != "" {
		t.Fatalf("aside %q, %v", aside, err)
	}
	if got := store.FormatOf(t, target); got != store.Format {
		t.Errorf("restored with format %d, want %d", got, store.Format)
	}
	if got := store.FormatOf(t, path); got != 1 {
		t.Errorf("the copy itself was changed to format %d", got)
	}
}

// Whatever happened to the file, restoring from a copy of a while ago gives a whole
// shop with at least what the copy has, and never an entry that was not made.
func TestRestoreAfterDamage(t *testing.T) {
	t.Parallel()
	good, _ := store.KeptShop(t)
	dir := t.TempDir()
	early := filepath.Join(dir, "early.stow")
	full := filepath.Join(dir, "full.stow")
	if err := os.WriteFile(full, good, 0o600); err != nil {
		t.Fatal(err)
	}
	carved, err := disk.Carve(full, 0, func(int64, int64) error { return nil })
	if err != nil {
		t.Fatal(err)
	}
	run := carved.Follow(disk.End{})
	if err := store.Rebuild(context.Background(), early, run[:100], nil); err != nil {
		t.Fatal(err)
	}
	if len(run) != 209 {
		t.Fatalf("%d entries can be read in the good file, want 209", len(run))
	}
	back, rounds := 0, uint64(8)
	if testing.Short() {
		rounds = 3
	}
	for name, spoil := range store.Damagers() {
		for seed := range rounds {
			path := filepath.Join(dir, "shop.stow")
			if err := os.WriteFile(path, spoil(slices.Clone(good), rand.New(rand.NewPCG(seed, 2))), 0o600); err != nil {
				t.Fatal(err)
			}
			plan, err := copies.PlanRestoreFrom(context.Background(), path, early)
			if err != nil {
				t.Fatal(err)
			}
			for i, e := range plan.Missing {
				want, err := store.EntryOf(run[100+i])
				if err != nil || !reflect.DeepEqual(want, e) { // many times faster than a diff that is empty
					t.Fatalf("%s, seed %d: an entry that was not made, %v (-want +got):\n%s", name, seed, err, cmp.Diff(want, e))
				}
			}
			if _, err := copies.Restore(context.Background(), plan, true); err != nil {
				t.Errorf("%s, seed %d: %v", name, seed, err)
			}
			if end, err := store.Verify(context.Background(), path); err != nil || end.Seq != uint64(100+len(plan.Missing)) {
				t.Errorf("%s, seed %d: restored to entry %d of %d, %v", name, seed, end.Seq, 100+len(plan.Missing), err)
			}
			back += len(plan.Missing)
		}
	}
	t.Logf("of %d entries after the copy %d were put back", 7*109*rounds, back)
}
