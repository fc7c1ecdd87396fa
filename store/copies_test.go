package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/phototest"
)

// Which copies are kept after two years of one at six, at nine and at noon every day.
func TestUnneeded(t *testing.T) {
	newest := time.Date(2028, 3, 14, 12, 0, 0, 0, time.UTC)
	var kept []Copy // as a program would do it that copies three times a day
	for day := range 800 {
		for _, hour := range []int{-6, -3, 0} {
			at := newest.AddDate(0, 0, day-799).Add(time.Duration(hour) * time.Hour)
			kept = slices.Insert(kept, 0, Copy{At: at, Entries: uint64(day)})
			drop := unneeded(kept)
			kept = slices.DeleteFunc(kept, func(c Copy) bool { return slices.Contains(drop, c) })
			if kept[0].At != at {
				t.Fatalf("the copy of %s was not kept itself", at)
			}
		}
	}
	days := 0
	for back := range 14 {
		day := newest.AddDate(0, 0, -back)
		if slices.ContainsFunc(kept, func(c Copy) bool { return DateOf(c.At) == DateOf(day) }) {
			days++
		}
	}
	months := map[string]bool{}
	for _, c := range kept {
		months[c.At.Format("2006-01")] = true
	}
	if days != 14 || len(months) < 23 || len(months) > 25 || len(kept) > 52 {
		t.Errorf("kept %d copies: of %d of the last 14 days, of %d months", len(kept), days, len(months))
	}
	for i, hours := range []int{0, 3, 6, 24, 27} {
		if want := newest.Add(-time.Duration(hours) * time.Hour); !kept[i].At.Equal(want) {
			t.Errorf("copy %d is of %s, want %s", i, kept[i].At, want)
		}
	}
	if drop := unneeded(kept[:5]); len(drop) != 0 {
		t.Errorf("of five copies %v are dropped", drop)
	}
}

// Copies of a large shop do not fill the disk: the newest five stay whatever they
// take, then as many as fit, and small ones of before the photographs beside them.
func TestUnneededOfLargeShops(t *testing.T) {
	newest := time.Date(2028, 3, 14, 12, 0, 0, 0, time.UTC)
	for _, row := range []struct {
		mb   int64 // of the newest twelve; the two before them have 1
		want int
	}{{1, 14}, {700, 11 + 2}, {1000, 8 + 2}, {3000, 5}} {
		var copies []Copy
		for day := range 14 {
			c := Copy{At: newest.AddDate(0, 0, -day), Bytes: 1 << 20}
			if day < 12 {
				c.Bytes = row.mb << 20
			}
			copies = append(copies, c)
		}
		drop := unneeded(copies)
		if got := len(copies) - len(drop); got != row.want || slices.ContainsFunc(copies[:5], func(c Copy) bool { return slices.Contains(drop, c) }) {
			t.Errorf("of copies of %d MB %d are kept, want %d with the newest five", row.mb, got, row.want)
		}
	}
}

// unpackKept writes a shop that is kept for tests to a file, with its log if it has one.
func unpackKept(t testing.TB, name string) string {
	t.Helper()
	kept := filepath.Join("..", "testdata", "store", name)
	path := filepath.Join(t.TempDir(), "shop.stow")
	unzip(t, kept+".gz", path)
	if disktest.There(disk.LogPath(kept) + ".gz") {
		unzip(t, disk.LogPath(kept)+".gz", disk.LogPath(path))
	}
	return path
}

func unzip(t testing.TB, kept, path string) {
	t.Helper()
	f, err := os.Open(kept)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// Every layout that the file ever had is brought up to date, after a copy was made
// that the older program could still open.
func TestMigrations(t *testing.T) {
	for _, row := range []struct {
		file    string
		format  int
		entries uint64
		heap    string // something that must still be there
	}{
		{"format1.stow", 1, 141, "about 1,680 ea (1,668 to 1,692)"},
		{"format2.stow", 2, 143, "about 1,680 ea (1,668 to 1,692)"},
		{"format3.stow", 3, 147, "about 1,680 ea (1,668 to 1,692)"},
		{"format4.stow", 4, 153, "about 1,680 ea (1,668 to 1,692)"},
		{"format4-unclosed.stow", 4, 153, "33 ea"},
	} {
		t.Run(row.file, func(t *testing.T) {
			path := unpackKept(t, row.file)
			shop, err := Open(path, Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer shop.Close()
			report, err := shop.Check(context.Background(), nil)
			if err != nil || !report.OK || report.Entries != row.entries || shop.file.Format() != formatVersion {
				t.Errorf("format %d, check %+v, %v; want format %d and %d entries", shop.file.Format(), report, err, formatVersion, row.entries)
			}
			heaps, err := shop.Stock()
			if err != nil || !slices.ContainsFunc(heaps, func(h Holding) bool { return h.Amount.String() == row.heap }) {
				t.Errorf("no heap of %s: %v", row.heap, err)
			}
			copies, err := Backups(path, BackupFolder(path))
			if err != nil || len(copies) != 1 || copies[0].Entries != row.entries {
				t.Fatalf("copies %v, %v", copies, err)
			}
			if format := formatOf(t, copies[0].File); format != row.format {
				t.Errorf("the copy has format %d, want %d", format, row.format)
			}
			if _, err := shop.Undo(); err != nil {
				t.Errorf("an undo in the migrated file: %v", err)
			}
			picture := phototest.JPEG(40, 30, 1)
			p, _, err := shop.AddPhoto(OfItem("AN3-5A"), "", picture)
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
			again, err := Open(path, Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer again.Close()
			if copies, err := Backups(path, BackupFolder(path)); err != nil || len(copies) != 1 {
				t.Errorf("opened again: copies %v, %v", copies, err)
			}
		})
	}
	last := 1
	for _, m := range migrations() {
		if m.to != last+1 || m.name == "" {
			t.Errorf("migration %q leads to %d after %d", m.name, m.to, last)
		}
		last = m.to
	}
	if last != formatVersion {
		t.Errorf("the migrations lead to %d, the program writes %d", last, formatVersion)
	}
}

func formatOf(t *testing.T, path string) int {
	t.Helper()
	format, ok := disk.FormatOf(path)
	if !ok {
		t.Fatalf("%s says no format", path)
	}
	return format
}

// Without a copy there is no migration, and the file stays as it is.
func TestMigrationNeedsACopy(t *testing.T) {
	path := unpackKept(t, "format1.stow")
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	notAFolder := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(notAFolder, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(path, Options{Backups: notAFolder}); err == nil || !strings.HasPrefix(err.Error(), "No safe copy could be made in ") {
		t.Errorf("without a copy: %v", err)
	}
	if after, err := os.ReadFile(path); err != nil || string(after) != string(before) {
		t.Errorf("the file was changed, %v", err)
	}
}

// A copy of an older layout is restored, and brought up to date on the way.
func TestRestoreOfAnOlderLayout(t *testing.T) {
	path := unpackKept(t, "format1.stow")
	target := filepath.Join(t.TempDir(), "shop.stow")
	plan, err := PlanRestoreFrom(context.Background(), target, path)
	if err != nil {
		t.Fatal(err)
	}
	if aside, err := Restore(context.Background(), plan, true); err != nil || aside != "" {
		t.Fatalf("aside %q, %v", aside, err)
	}
	if got := formatOf(t, target); got != formatVersion {
		t.Errorf("restored with format %d, want %d", got, formatVersion)
	}
	if got := formatOf(t, path); got != 1 {
		t.Errorf("the copy itself was changed to format %d", got)
	}
}

// Whatever happened to the file, restoring from a copy of a while ago gives a whole
// shop with at least what the copy has, and never an entry that was not made.
func TestRestoreAfterDamage(t *testing.T) {
	good, _ := keptShop(t)
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
	s, err := Open(early, Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.file.Replay(run[:100], func() error { return nil }); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if len(run) != 209 {
		t.Fatalf("%d entries can be read in the good file, want 209", len(run))
	}
	back := 0
	for name, spoil := range damagers() {
		for seed := range uint64(8) {
			path := filepath.Join(dir, "shop.stow")
			if err := os.WriteFile(path, spoil(slices.Clone(good), rand.New(rand.NewPCG(seed, 2))), 0o600); err != nil {
				t.Fatal(err)
			}
			plan, err := PlanRestoreFrom(context.Background(), path, early)
			if err != nil {
				t.Fatal(err)
			}
			for i, e := range plan.Missing {
				if want := run[100+i]; e.Seq != want.Seq || plan.read[i].Sum != want.Sum {
					t.Fatalf("%s, seed %d: entry %d is %s, want %s", name, seed, e.Seq, plan.read[i].Body, want.Body)
				}
			}
			if _, err := Restore(context.Background(), plan, true); err != nil {
				t.Errorf("%s, seed %d: %v", name, seed, err)
			}
			if end, err := verify(context.Background(), path); err != nil || end.Seq != uint64(100+len(plan.Missing)) {
				t.Errorf("%s, seed %d: restored to entry %d of %d, %v", name, seed, end.Seq, 100+len(plan.Missing), err)
			}
			back += len(plan.Missing)
		}
	}
	t.Logf("of %d entries after the copy %d were put back", 56*109, back)
}

// A copy of which a record was written wrong is not taken, by either look at it.
func TestLooksAtCopies(t *testing.T) {
	for name, look := range map[string]func(context.Context, string) (disk.End, error){"verify": verify, "readAll": readAll} {
		t.Run(name, func(t *testing.T) {
			shop, _, heap := smallShop(t)
			path := shop.File()
			if err := shop.Close(); err != nil {
				t.Fatal(err)
			}
			if end, err := look(context.Background(), path); err != nil || end.Seq != 7 {
				t.Errorf("a good copy: %v, %v", end, err)
			}
			shop, err := Open(path, Options{})
			if err != nil {
				t.Fatal(err)
			}
			shop.behindBack(t, overwrite(tableStock, []byte(heap.key()), func(sealed []byte) { sealed[len(sealed)-3] ^= 1 }))
			if err := shop.Close(); err != nil {
				t.Fatal(err)
			}
			if _, err := look(context.Background(), path); KindOf(err) != Corrupt {
				t.Errorf("a copy with a wrong record: %v", err)
			}
			ctx, cancel := context.WithCancel(context.Background())
			cancel()
			if _, err := look(ctx, path); err == nil {
				t.Error("it cannot be cancelled")
			}
		})
	}
}
