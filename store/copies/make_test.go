package copies

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
	"pgregory.net/rapid"

	"stowright/store"
	"stowright/store/disk"
)

// Whatever copies there are: the newest five stay, keeping takes no more once it was done,
// each of the newest fourteen days keeps its newest copy, and all fits, or only five stay.
func TestUnneededOfAnyCopies(t *testing.T) {
	start := time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC)
	rapid.Check(t, func(t *rapid.T) {
		var copies []Copy
		at := start
		for range rapid.IntRange(0, 60).Draw(t, "copies") {
			at = at.Add(-time.Duration(rapid.IntRange(1, 100).Draw(t, "hours")) * time.Hour)
			copies = append(copies, Copy{At: at, Bytes: int64(rapid.SampledFrom([]int{1, 100, 900, 5000}).Draw(t, "MB")) << 20})
		}
		drop := unneeded(copies)
		kept := slices.DeleteFunc(slices.Clone(copies), func(c Copy) bool { return slices.Contains(drop, c) })
		if len(kept)+len(drop) != len(copies) || !slices.Equal(kept[:min(5, len(kept))], copies[:min(5, len(copies))]) {
			t.Fatalf("of %d copies %d are kept and %d are not", len(copies), len(kept), len(drop))
		}
		if again := unneeded(kept); len(again) > 0 {
			t.Fatalf("of those kept %d are not needed", len(again))
		}
		var bytes int64
		for _, c := range kept {
			bytes += c.Bytes
		}
		if bytes > mostCopies && len(kept) > 5 {
			t.Fatalf("%d copies of %d bytes are kept", len(kept), bytes)
		}
		days := map[string]bool{}
		for _, c := range copies {
			day := c.At.Format(time.DateOnly)
			if !days[day] && len(days) < 14 && bytes+c.Bytes <= mostCopies && !slices.Contains(kept, c) {
				t.Fatalf("the newest of %s is not kept", day)
			}
			days[day] = true
		}
	})
}

// Of one copy a day those of fourteen days, nine weeks and two years of months are kept: the
// newest of each.
func TestUnneededToTheDay(t *testing.T) {
	newest := time.Date(2028, 3, 14, 12, 0, 0, 0, time.UTC) // a Tuesday
	var days, months []Copy
	for i := range 100 {
		days = append(days, Copy{At: newest.AddDate(0, 0, -i)})
	}
	for i := range 30 {
		months = append(months, Copy{At: time.Date(2028, time.Month(3-i), 1, 12, 0, 0, 0, time.UTC)})
	}
	kept := func(copies []Copy) (dates []string) {
		drop := unneeded(copies)
		for _, c := range copies {
			if !slices.Contains(drop, c) {
				dates = append(dates, c.At.Format("01-02"))
			}
		}
		return dates
	}
	want := strings.Fields("03-14 03-13 03-12 03-11 03-10 03-09 03-08 03-07 03-06 03-05 03-04 03-03 03-02 03-01 02-29 02-27 02-20 02-13 02-06 01-31 01-30 01-23 12-31")
	if d := cmp.Diff(want, kept(days)); d != "" {
		t.Errorf("of one a day (-want +got):\n%s", d)
	}
	if got := kept(months); len(got) != 24 {
		t.Errorf("of one a month %d are kept, want 24", len(got))
	}
}

// The newest copy is one that the shop went on from: not one of another way with more entries.
func TestNewestThatIsContinued(t *testing.T) {
	other, _ := parting(t, 9)
	shop, _ := smallShop(t)
	keeper := NewKeeper(shop, "")
	ours, err := keeper.Make(context.Background(), "", ByHand)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(other)
	if err != nil {
		t.Fatal(err)
	}
	theirs := Copy{At: ours.At, Entries: 11, Why: Daily}
	writeFile(t, copyStem(shop.File(), keeper.Folder(), theirs)+disk.Ext, string(data))
	if list, err := keeper.List(); err != nil || len(list) != 2 || list[0].Entries != 11 {
		t.Fatalf("listed %v, %v", list, err)
	}
	if c, found, err := keeper.newest(); err != nil || !found || c != ours {
		t.Errorf("the newest is %v, %t, %v; want %v", c, found, err, ours)
	}
	if c, due, err := keeper.MakeWhenDue(context.Background()); err != nil || due || c != ours {
		t.Errorf("due %t: %v, %v", due, c, err)
	}
}

// A copy that ends elsewhere than the shop did is not taken, nor one that proof finds wrong.
func TestCopyIsProven(t *testing.T) {
	shop, _ := smallShop(t)
	keeper := NewKeeper(shop, "")
	for name, row := range map[string]struct {
		proof proof
		want  string
	}{
		"one entry less": {func(context.Context, string) (disk.End, error) { return disk.End{Seq: 1}, nil }, "(the copy has 1 entries of 2)"},
		"an error": {func(_ context.Context, path string) (disk.End, error) {
			return disk.End{}, fmt.Errorf("%s is wrong", path)
		}, "(" + shop.File() + " is wrong)"},
	} {
		_, err := keeper.into(context.Background(), keeper.Folder(), ByHand, row.proof)
		if store.KindOf(err) != store.Internal || !strings.HasSuffix(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", name, err, row.want)
		}
		if names := tree(t, keeper.Folder()); len(names) != 0 {
			t.Errorf("%s: %v is left", name, names)
		}
	}
}

// A copy is listed as it was named, whatever there is to say of it.
func TestNamesOfCopies(t *testing.T) {
	folder := t.TempDir()
	shop := filepath.Join(folder, "my shop (2).stow")
	rapid.Check(t, func(r *rapid.T) {
		sub := filepath.Join(folder, "copies")
		if err := errors.Join(os.RemoveAll(sub), os.Mkdir(sub, disk.FolderPerm)); err != nil {
			r.Fatal(err)
		}
		want := Copy{
			At:      time.Unix(rapid.Int64Range(0, 4e9).Draw(r, "at"), 0).UTC(),
			Entries: uint64(rapid.Int64Range(1, 1<<62).Draw(r, "entries")),
			Why:     rapid.SampledFrom([]Why{ByHand, Daily, Import, Upgrade, Replaced, ""}).Draw(r, "why"), Bytes: 3,
		}
		for n := range 3 {
			want.File = disk.UnusedName(copyStem(shop, sub, want), disk.Ext)
			if err := os.WriteFile(want.File, []byte("abc"), disk.FilePerm); err != nil {
				r.Fatal(err)
			}
			list, err := List(shop, sub)
			if err != nil || len(list) != n+1 || list[0] != want {
				r.Fatalf("listed %+v, %v; want %+v first of %d", list, err, want, n+1)
			}
		}
	})
}

// A copy is due a day after the newest one, to the second, or before one of a time to come.
func TestDueToTheSecond(t *testing.T) {
	now := time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)
	shop, err := store.Open(filepath.Join(t.TempDir(), "shop.stow"), store.Options{Create: true, Clock: func() time.Time { return now }})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	keeper := NewKeeper(shop, "")
	n := 0
	work := func() {
		n++
		if _, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", n)}); err != nil {
			t.Fatal(err)
		}
	}
	work()
	newest, due, err := keeper.MakeWhenDue(context.Background())
	if err != nil || !due {
		t.Fatalf("the first: %t, %v", due, err)
	}
	for _, row := range []struct {
		after time.Duration
		due   bool
	}{{0, false}, {copyEvery - time.Second, false}, {copyEvery, true}, {-time.Second, true}} {
		now = newest.At.Add(row.after)
		work()
		c, due, err := keeper.MakeWhenDue(context.Background())
		if err != nil || due != row.due || !due && c != newest {
			t.Errorf("%v after the newest: due %t, %v, %v", row.after, due, c, err)
		}
		if due {
			newest = c
		}
	}
}

// Where no copy can be made it is said in which folder, and nothing is left.
func TestCopyIntoNowhere(t *testing.T) {
	shop, _ := smallShop(t)
	blocked := filepath.Join(t.TempDir(), "file")
	writeFile(t, blocked, "text")
	folder := filepath.Join(blocked, "copies")
	_, err := NewKeeper(shop, folder).Make(context.Background(), "", ByHand)
	if store.KindOf(err) != store.Internal || !strings.HasPrefix(err.Error(), "No safe copy could be made in "+folder+": see that the folder may be written and its disk has room.") {
		t.Errorf("it says %v", err)
	}
	if _, err := List(shop.File(), blocked); store.KindOf(err) != store.Invalid || !strings.HasPrefix(err.Error(), "The folder "+blocked+" cannot be read") {
		t.Errorf("listing: %v", err)
	}
	stopped, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := NewKeeper(shop, "").Make(stopped, "", ByHand); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if names := tree(t, filepath.Dir(shop.File())); slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, "backups") }) {
		t.Errorf("what is left is %v", names)
	}
}
