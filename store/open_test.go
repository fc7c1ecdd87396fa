package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/copies"
	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/measure"
	"stowright/store/storetest"
)

func TestFileIsPrivate(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "data", "stowright", "shop.stow")
	shop := storetest.OpenFile(t, file, store.Options{})
	for path, want := range map[string]os.FileMode{file: 0o600, filepath.Dir(file): 0o700, filepath.Join(dir, "data"): 0o700} {
		info, err := os.Stat(path)
		if err != nil || info.Mode().Perm() != want {
			t.Errorf("%s has mode %o, %v; want %o", path, info.Mode().Perm(), err, want)
		}
	}
	// A copy that somebody made with other rights is closed again, to whomever it was open.
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	for _, mode := range []os.FileMode{0o664, 0o640, 0o620, 0o660, 0o610, 0o604, 0o602, 0o601} {
		if err := os.Chmod(file, mode); err != nil {
			t.Fatal(err)
		}
		again, err := store.Open(file, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("of mode %o, opened again it has mode %o, %v; want 600", mode, info.Mode().Perm(), err)
		}
		if err := again.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	t.Parallel()
	bolt := func(path string, bucket, key, value string) error {
		disktest.Change(t, path, func(raw disktest.Raw) error { return raw.Put(bucket, []byte(key), []byte(value)) })
		return nil
	}
	newShop := func(path string) error {
		shop, err := store.Open(path, store.Options{Create: true})
		if err != nil {
			return err
		}
		return shop.Close()
	}
	for _, row := range []struct {
		name     string
		make     func(path string) error
		create   bool
		kind     store.Kind
		sentence string // with %s for the file
	}{
		{"no file", func(string) error { return nil }, false, store.NotFound, "There is no shop file %s: name another with --shop, or bring a packing list in to make it."},
		{"a folder", func(path string) error { return os.Mkdir(path, 0o700) }, true, store.Invalid, "%s is not a file: name the shop file with --shop."},
		{
			"a text", func(path string) error {
				return os.WriteFile(path, []byte(strings.Repeat("not a shop\n", 5000)), 0o600)
			}, true, store.Corrupt,
			"%s is damaged, or is not a shop file: keep it, and open a copy made earlier.",
		},
		{
			"a short text", func(path string) error { return os.WriteFile(path, []byte("x"), 0o600) }, true, store.Corrupt,
			"%s is damaged, or is not a shop file: keep it, and open a copy made earlier.",
		},
		{
			"a file of another program", func(path string) error { return bolt(path, "other", "a", "b") }, true, store.Corrupt,
			"%s is a data file of another program, not a shop: name another with --shop.",
		},
		{
			"a newer program", func(path string) error { return errJoin(newShop(path), bolt(path, "meta", "format", "99")) }, true, store.Invalid,
			fmt.Sprintf("%%s was made by a newer Stowright (format 99, this program knows %d): update the program.", store.Format),
		},
		{
			"no version", func(path string) error { return errJoin(newShop(path), bolt(path, "meta", "format", "")) }, true, store.Corrupt,
			"%s does not say which version of the program made it: keep it, and open a copy made earlier.",
		},
		{
			"a version that never was", func(path string) error { return errJoin(newShop(path), bolt(path, "meta", "format", "0")) }, true, store.Corrupt,
			"%s does not say which version of the program made it: keep it, and open a copy made earlier.",
		},
		{"a table lost", func(path string) error {
			if err := newShop(path); err != nil {
				return err
			}
			disktest.Change(t, path, func(raw disktest.Raw) error { return raw.DeleteBucket("stock") })
			return nil
		}, true, store.Corrupt, `%s is damaged, it has lost its table "stock": keep it, and open a copy made earlier.`},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.stow")
			if err := row.make(path); err != nil {
				t.Fatal(err)
			}
			before, _ := os.ReadFile(path)
			shop, err := store.Open(path, store.Options{Create: row.create})
			if err == nil {
				_ = shop.Close()
				t.Fatal("it was opened")
			}
			wantRefusal(t, err, row.kind, fmt.Sprintf(row.sentence, path))
			if after, _ := os.ReadFile(path); string(after) != string(before) {
				t.Error("the file was changed")
			}
		})
	}
}

func errJoin(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

// otherUser runs a copy of this test's program as a user that owns nothing, since the
// superuser may read and write anything. Where the test is of another user, it is that one.
func otherUser(t *testing.T, dir string) func(*exec.Cmd) {
	t.Helper()
	program, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	binary := filepath.Join(dir, "program")
	if err := os.WriteFile(binary, program, 0o755); err != nil {
		t.Fatal(err)
	}
	return func(c *exec.Cmd) {
		c.Path = binary
		if os.Geteuid() == 0 {
			asNobody(c)
		}
	}
}

// openFolder is a folder that others may enter.
func openFolder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "stowright")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700); _ = os.RemoveAll(dir) })
	return dir
}

func chmod(t *testing.T, path string, mode os.FileMode) {
	t.Helper()
	if err := os.Chmod(path, mode); err != nil {
		t.Fatal(err)
	}
}

// saysAs is the first line that another user's program says.
func saysAs(t *testing.T, other func(*exec.Cmd), role, file string) string {
	t.Helper()
	c := startChild(t, role, file, other)
	line := c.line(t)
	_ = c.Wait()
	return line
}

// A shop file that may only be read is read, and verbs are refused by a sentence; where
// nothing may be made, or nothing may even be read, a sentence says so.
func TestMayNotWrite(t *testing.T) {
	t.Parallel()
	dir := openFolder(t)
	other := otherUser(t, dir)
	file, secret := filepath.Join(dir, "shop.stow"), filepath.Join(dir, "secret.stow")
	for _, name := range []string{file, secret} {
		shop, err := store.Open(name, store.Options{Create: true})
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(third(shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})), shop.Close()); err != nil {
			t.Fatal(err)
		}
	}
	chmod(t, file, 0o444)
	chmod(t, secret, 0o000)
	chmod(t, dir, 0o555)
	for _, row := range []struct{ name, role, file, want string }{
		{"a file is read", "look", file, "1"},
		{"a file is not written", "add", file, "invalid: The shop file " + file + " may only be read, and nothing was changed: change its permissions, then open the shop again."},
		{"a file that may not be read", "look", secret, "invalid: You may not write the shop file " + secret + ": change its permissions or name another with --shop."},
		{"a folder", "hold", filepath.Join(dir, "new.stow"), "invalid: You may not write the shop file " + filepath.Join(dir, "new.stow") + ": change its permissions or name another with --shop."},
		{"a folder in it", "hold", filepath.Join(dir, "more", "new.stow"), "invalid: The folder " + filepath.Join(dir, "more") + " cannot be made: name another shop file with --shop."},
	} {
		if got := saysAs(t, other, row.role, row.file); !strings.HasPrefix(got, row.want) || strings.Contains(got, "unfinished") {
			t.Errorf("%s: %q, want %q", row.name, got, row.want)
		}
	}
}

// The entries in the log of a file that was not closed are never left out where it may
// only be read: either the file has them, or it is refused.
func TestReadOnlyHonoursTheLog(t *testing.T) {
	t.Parallel()
	shop, err := store.Open(filepath.Join(t.TempDir(), "shop.stow"), store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	add := func() {
		t.Helper()
		if err := third(shop.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", newestEntry(t, shop))})); err != nil {
			t.Fatal(err)
		}
	}
	add()
	earlier, err := os.ReadFile(shop.File())
	if err != nil {
		t.Fatal(err)
	}
	add()
	add()
	written, err := os.ReadFile(shop.File())
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(shop.File() + ".recent")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		name      string
		file, log []byte
		mode      os.FileMode // of the log
		want      string      // with %s for the file
	}{
		{"of a file that has them", written, log, 0o444, "3"},
		{"of a file that lacks them", earlier, log, 0o444, "invalid: %s was not closed, and may only be read: its newest entries in new.stow.recent can be put back only where it may be written, so change its permissions."},
		{"that may not be read", written, log, 0o000, "invalid: %s was not closed, and its newest entries in new.stow.recent cannot be read: change the permissions of both."},
		{"that is empty", written, make([]byte, len(log)), 0o444, "3"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := openFolder(t)
			other := otherUser(t, dir)
			file := filepath.Join(dir, "new.stow")
			write(t, file, row.file)
			write(t, file+".recent", row.log)
			chmod(t, file, 0o444)
			chmod(t, file+".recent", row.mode)
			chmod(t, dir, 0o555)
			want := row.want
			if strings.Contains(want, "%s") {
				want = fmt.Sprintf(want, file)
			}
			if got := saysAs(t, other, "look", file); !strings.HasPrefix(got, want) {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// An empty file where a shop was is damage, whoever opens it and whatever for.
func TestEmptyFileIsDamage(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.stow")
	write(t, file, nil)
	want := file + " is empty, and what was in it is lost: keep it, and open a copy made earlier."
	for name, open := range map[string]func() error{
		"opening":               func() error { return second(store.Open(file, store.Options{})) },
		"opening or making it":  func() error { return second(store.Open(file, store.Options{Create: true})) },
		"checking it as a copy": func() error { return copies.Check(context.Background(), file) },
	} {
		wantRefusal(t, open(), store.Corrupt, want)
		if data := read(t, file); len(data) != 0 {
			t.Errorf("%s wrote %d bytes to it", name, len(data))
		}
	}
	if got := names(t, filepath.Dir(file)); len(got) != 1 {
		t.Errorf("beside it there is %v", got)
	}
}

// What interrupted programs have left beside a shop goes when it is opened, unless a
// program that still runs holds it.
func TestLeftoversGo(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "shop.stow")
	shop, err := store.Open(file, store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{dir, copies.Folder(file)} {
		if err := os.MkdirAll(filepath.Join(folder, ".shop-unfinished-1"), 0o700); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(folder, ".shop-unfinished-1", "shop.stow"), []byte("half"))
		write(t, filepath.Join(folder, ".shop-unfinished-2"), []byte("half, of an older program"))
		write(t, filepath.Join(folder, ".shop2-unfinished-3"), []byte("of another shop"))
	}
	letGo, err := disk.Lock(filepath.Join(dir, ".shop-unfinished-2"))
	if err != nil {
		t.Fatal(err)
	}
	wants := func(folder string, want ...string) {
		t.Helper()
		if d := cmp.Diff(want, names(t, folder)); d != "" {
			t.Errorf("in %s (-want +got):\n%s", folder, d)
		}
	}
	again := storetest.OpenFile(t, file, store.Options{})
	if _, _, err := copies.NewKeeper(again, "").MakeWhenDue(context.Background()); err != nil {
		t.Fatal(err)
	}
	wants(dir, ".shop-unfinished-2", ".shop2-unfinished-3", "backups", "shop.stow")
	wants(copies.Folder(file), ".shop2-unfinished-3")
	letGo()
}

// Several goroutines write, read and listen at once; every change is kept, and
// the shop is whole. Run with -race.
func TestConcurrentUse(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	w.receive(1, found(24))
	const writers, each = 4, 10
	var mu sync.Mutex
	heard := map[uint64]bool{}
	w.Listen(func(e store.Entry) {
		mu.Lock()
		defer mu.Unlock()
		if heard[e.Seq] {
			t.Errorf("entry %d is told twice", e.Seq)
		}
		heard[e.Seq] = true
	})
	start := newestSeq(w)
	var all sync.WaitGroup
	failed := func(err error) {
		if err != nil {
			t.Error(err)
		}
	}
	done := make(chan struct{})
	for i := range writers {
		all.Go(func() {
			for n := range each {
				failed(second(w.Count(store.StockKey{Item: fmt.Sprintf("W-%d", i), Place: w.place["A-01"]}, measure.Pieces(int64(n+1)))))
				w.SetHand(fmt.Sprintf("Hand %d", i))
			}
		})
	}
	var readers sync.WaitGroup
	for range 3 {
		readers.Go(func() {
			for {
				select {
				case <-done:
					return
				default:
				}
				failed(second(w.Stock()))
				failed(second(w.Entries(0, 5)))
				failed(third(w.Undoable()))
				failed(second(w.Check(context.Background(), nil)))
			}
		})
	}
	all.Wait()
	close(done)
	readers.Wait()
	if got := newestSeq(w) - start; got != writers*each || len(heard) != writers*each {
		t.Errorf("%d entries written, %d heard; want %d", got, len(heard), writers*each)
	}
	for i := range writers {
		h, err := w.Holdings(fmt.Sprintf("W-%d", i))
		if err != nil || len(h) != 1 || h[0].Amount != store.Exact(measure.Pieces(each)) {
			t.Errorf("writer %d left %v, %v", i, h, err)
		}
	}
}

// A verb takes as long with 100,000 entries in the journal as with none.
func BenchmarkVerb(b *testing.B) {
	for _, entries := range []int{0, 100_000} {
		b.Run(fmt.Sprintf("journal=%d", entries), func(b *testing.B) {
			shop, k := longJournal(b, entries)
			n := int64(0)
			for b.Loop() { // which does not set up again
				n++
				if _, err := shop.Count(k, measure.Pieces(n%1000)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkUndo is one Undo and one Redo after 100,000 entries.
func BenchmarkUndo(b *testing.B) {
	shop, _ := longJournal(b, 100_000)
	for b.Loop() {
		if _, err := shop.Undo(); err != nil {
			b.Fatal(err)
		}
		if _, err := shop.Redo(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCheck is one check of a file of 100,000 entries.
func BenchmarkCheck(b *testing.B) {
	shop, _ := longJournal(b, 100_000)
	for b.Loop() {
		if report, err := shop.Check(context.Background(), nil); err != nil || !report.OK {
			b.Fatal(report.Problems, err)
		}
	}
}

// BenchmarkImport brings a list of 20,000 lines in.
func BenchmarkImport(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		shop, err := store.Open(filepath.Join(b.TempDir(), "shop.stow"), store.Options{Create: true})
		if err != nil {
			b.Fatal(err)
		}
		list := store.NewShipment{File: "long.csv"}
		for i := range 20_000 {
			list.Lines = append(list.Lines, store.NewLine{
				Number: i + 1, Crate: fmt.Sprintf("C%d", i/2000), Group: fmt.Sprintf("G%d", i/50), Designation: fmt.Sprintf("WL-%d", i), Listed: measure.Pieces(4), Status: store.Shipped,
			})
		}
		b.StartTimer()
		if _, _, err := shop.Import(list); err != nil {
			b.Fatal(err)
		}
		b.StopTimer()
		if err := shop.Close(); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
	}
}

// longJournal is a shop whose journal has that many entries of counts.
func longJournal(b *testing.B, entries int) (*store.Shop, store.StockKey) {
	b.Helper()
	shop, err := store.Open(filepath.Join(b.TempDir(), "shop.stow"), store.Options{Create: true, Clock: func() time.Time { return time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC) }})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = shop.Close() })
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		b.Fatal(err)
	}
	store.WithoutSync(shop, func() {
		for i := range entries {
			if _, err := shop.Count(store.StockKey{Item: fmt.Sprintf("AN%d", i%5000), Place: bin.ID}, measure.Pieces(int64(i%997))); err != nil {
				b.Fatal(err)
			}
		}
	})
	return shop, store.StockKey{Item: "AN3-5A", Place: bin.ID}
}
