package copies

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phototest"
)

// smallShop is a shop with a bin of bolts that were counted.
func smallShop(t *testing.T) (shop *store.Shop, heap store.StockKey) {
	t.Helper()
	shop, err := store.Open(filepath.Join(t.TempDir(), "shop.stow"), store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = shop.Close() })
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err != nil {
		t.Fatal(err)
	}
	heap = store.StockKey{Item: "AN3-5A", Place: bin.ID}
	if _, err := shop.Count(heap, measure.Pieces(24)); err != nil {
		t.Fatal(err)
	}
	return shop, heap
}

// parting is a closed shop that was copied after two entries, and after which more were made.
func parting(t *testing.T, more int) (path string, copied Copy) {
	t.Helper()
	shop, heap := smallShop(t)
	copied, err := NewKeeper(shop, "").Make(context.Background(), "", ByHand)
	if err != nil {
		t.Fatal(err)
	}
	for i := range more {
		if _, err := shop.Count(heap, measure.Pieces(int64(100+i))); err != nil {
			t.Fatal(err)
		}
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	return shop.File(), copied
}

// entries are how many a file has that must be whole.
func entries(t *testing.T, path string) uint64 {
	t.Helper()
	end, err := store.Verify(context.Background(), path)
	if err != nil {
		t.Errorf("%s: %v", filepath.Base(path), err)
	}
	return end.Seq
}

// Whatever stood in the place of the restored file is kept: a whole shop among the copies,
// anything else beside it, with its log; and nothing hidden stays.
func TestWhatRestoringKeeps(t *testing.T) {
	for _, row := range []struct {
		name string
		make func(t *testing.T, path string)
		want []string // beside the shop file, after the restore; dates as DATE
	}{
		{"a whole shop", func(*testing.T, string) {}, []string{"backups/shop-DATE-2-hand.stow", "backups/shop-DATE-4-restore.stow", "shop.stow"}},
		{"a damaged one", func(t *testing.T, path string) { spoil(t, path) }, []string{"backups/shop-DATE-2-hand.stow", "shop.stow", "shop.stow.before-restore"}},
		{"a damaged one, and one was kept before", func(t *testing.T, path string) {
			spoil(t, path)
			writeFile(t, path+".before-restore", "earlier")
		}, []string{"backups/shop-DATE-2-hand.stow", "shop.stow", "shop.stow.before-restore", "shop.stow.before-restore-2"}},
		{"a damaged one with its log", func(t *testing.T, path string) {
			spoil(t, path)
			writeFile(t, disk.LogPath(path), "log")
		}, []string{"backups/shop-DATE-2-hand.stow", "shop.stow", "shop.stow.before-restore", "shop.stow.before-restore.recent"}},
		{"nothing", func(t *testing.T, path string) { remove(t, path) }, []string{"backups/shop-DATE-2-hand.stow", "shop.stow"}},
		{"nothing but its log", func(t *testing.T, path string) {
			remove(t, path)
			writeFile(t, disk.LogPath(path), "log")
		}, []string{"backups/shop-DATE-2-hand.stow", "shop.stow", "shop.stow.before-restore.recent"}},
		{"an empty file", func(t *testing.T, path string) { writeFile(t, path, "") }, []string{"backups/shop-DATE-2-hand.stow", "shop.stow", "shop.stow.before-restore"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			path, copied := parting(t, 2)
			row.make(t, path)
			was, _ := os.ReadFile(path) // where there is one
			plan, err := PlanRestoreFrom(context.Background(), path, copied.File)
			if err != nil {
				t.Fatal(err)
			}
			aside, err := Restore(context.Background(), plan, false)
			if err != nil {
				t.Fatal(err)
			}
			if kept, err := os.ReadFile(aside); (aside != "") != (was != nil) || was != nil && (err != nil || !bytes.Equal(kept, was)) {
				t.Errorf("%d bytes are kept as %q, %v; want %d", len(kept), aside, err, len(was))
			}
			if d := cmp.Diff(row.want, tree(t, filepath.Dir(path))); d != "" {
				t.Errorf("files (-want +got):\n%s", d)
			}
			if n := entries(t, path); n != 2 {
				t.Errorf("%d entries, want 2", n)
			}
		})
	}
}

// tree are the files under a folder, with DATE for the time in the names of copies.
func tree(t *testing.T, folder string) (names []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			name, relErr := filepath.Rel(folder, path)
			parts := strings.Split(filepath.ToSlash(name), "-")
			for i, part := range parts {
				if _, err := time.Parse(copyTime, part); err == nil {
					parts[i] = "DATE"
				}
			}
			names, err = append(names, strings.Join(parts, "-")), relErr
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// spoil damages a file so that it cannot be opened.
func spoil(t *testing.T, path string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	clear(data[:len(data)/4])
	writeFile(t, path, string(data))
}

// forge puts other text of the same length into a file, wherever it is.
func forge(t *testing.T, path, was, now string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte(was)) {
		t.Fatalf("%s is not in the file: nothing is proven", was)
	}
	writeFile(t, path, string(bytes.ReplaceAll(data, []byte(was), []byte(now))))
}

func writeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), disk.FilePerm); err != nil {
		t.Fatal(err)
	}
}

func remove(t *testing.T, path string) {
	t.Helper()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
}

// A restore that is stopped, or whose copy is gone by then, leaves all as it was.
func TestRestoreThatFails(t *testing.T) {
	for name, row := range map[string]struct {
		spoil func(t *testing.T, p *Plan, cancel func())
		want  string
	}{
		"stopped":                           {func(_ *testing.T, _ *Plan, cancel func()) { cancel() }, "context canceled"},
		"the copy is gone":                  {func(t *testing.T, p *Plan, _ func()) { remove(t, p.Copy.File) }, "could not be restored, and is as it was"},
		"the copy is damaged now":           {func(t *testing.T, p *Plan, _ func()) { spoil(t, p.Copy.File) }, "is damaged"},
		"a record of the copy is wrong now": {func(t *testing.T, p *Plan, _ func()) { forge(t, p.Copy.File, `"q":"24 ea"`, `"q":"23 ea"`) }, "is damaged"},
		"another program has the file": {func(t *testing.T, p *Plan, _ func()) {
			unlock, err := disk.Lock(p.File)
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(unlock)
		}, "Another program has the shop file"},
		"the file was written":     {func(t *testing.T, p *Plan, _ func()) { writeFile(t, p.File, "other") }, "has changed since you looked"},
		"the file is gone by then": {func(t *testing.T, p *Plan, _ func()) { remove(t, p.File) }, "cannot be read: see that its disk is there"},
	} {
		t.Run(name, func(t *testing.T) {
			path, copied := parting(t, 1)
			plan, err := PlanRestoreFrom(context.Background(), path, copied.File)
			if err != nil {
				t.Fatal(err)
			}
			ctx, cancel := context.WithCancel(context.Background())
			defer cancel()
			row.spoil(t, &plan, cancel)
			before := tree(t, filepath.Dir(path))
			was, _ := os.ReadFile(path) // where there is one
			aside, err := Restore(ctx, plan, true)
			if err == nil || !strings.Contains(err.Error(), row.want) || aside != "" {
				t.Errorf("kept as %q, %v; want %q", aside, err, row.want)
			}
			if strings.Contains(fmt.Sprint(err), "unfinished") {
				t.Errorf("it shows a hidden name: %v", err)
			}
			now, _ := os.ReadFile(path)
			if d := cmp.Diff(before, tree(t, filepath.Dir(path))); d != "" || !bytes.Equal(was, now) {
				t.Errorf("the file is the same: %t; files (-before +after):\n%s", bytes.Equal(was, now), d)
			}
		})
	}
}

// Photographs among the entries that are put back come with their pictures; those whose
// pictures cannot be read are named before.
func TestRestorePutsPicturesBack(t *testing.T) {
	for _, damaged := range []bool{false, true} {
		shop, heap := smallShop(t)
		copied, err := NewKeeper(shop, "").Make(context.Background(), "", ByHand)
		if err != nil {
			t.Fatal(err)
		}
		picture := phototest.JPEG(300, 200, 7)
		photo, _, err := shop.AddPhoto(store.OfPlace(heap.Place), "the bin", picture)
		if err != nil {
			t.Fatal(err)
		}
		if err := shop.Close(); err != nil {
			t.Fatal(err)
		}
		path := shop.File()
		if damaged {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			tail := picture[len(picture)-40:]
			for at := bytes.Index(data, tail); at >= 0; at = bytes.Index(data, tail) {
				data[at] ^= 1
			}
			writeFile(t, path, string(data))
		}
		plan, err := PlanRestoreFrom(context.Background(), path, copied.File)
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Missing) != 1 || (len(plan.Lost) == 1) != damaged || strings.Contains(plan.Sentence(), "What is on photograph "+photo.Name()+" cannot be read any more.") != damaged {
			t.Errorf("damaged %t: %d lost of %d entries: %s", damaged, len(plan.Lost), len(plan.Missing), plan.Sentence())
		}
		if _, err := Restore(context.Background(), plan, true); err != nil {
			t.Fatal(err)
		}
		again, err := store.Open(path, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := again.Picture(photo.Number)
		if damaged == (err == nil) || !damaged && !bytes.Equal(got, picture) {
			t.Errorf("damaged %t: the picture has %d bytes of %d, %v", damaged, len(got), len(picture), err)
		}
		if err := again.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

// Entries that follow one that cannot be read are counted, and cannot be put back.
func TestEntriesThatAreCutOff(t *testing.T) {
	path, copied := parting(t, 5) // entries 3 to 7
	forge(t, path, `{"seq":5,`, `{"seq":5;`)
	plan, err := PlanRestoreFrom(context.Background(), path, copied.File)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Missing) != 2 || plan.Cut != 3 || !strings.HasSuffix(plan.Sentence(), " 3 entries after those cannot be put back: what they follow cannot be read.") {
		t.Errorf("%d can be put back and %d not: %s", len(plan.Missing), plan.Cut, plan.Sentence())
	}
	if _, err := Restore(context.Background(), plan, true); err != nil {
		t.Fatal(err)
	}
	if n := entries(t, path); n != 4 {
		t.Errorf("%d entries, want 4", n)
	}
}

// Two shops that went different ways from one copy are told apart from their last common
// entry on, however far each went.
func TestPartedWays(t *testing.T) {
	for _, ways := range [][2]int{{0, 0}, {1, 0}, {0, 1}, {3, 2}, {1, 7}} {
		path, copied := parting(t, ways[0])
		other := filepath.Join(t.TempDir(), "other.stow")
		data, err := os.ReadFile(copied.File)
		if err != nil {
			t.Fatal(err)
		}
		writeFile(t, other, string(data))
		then, err := store.Open(other, store.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range ways[1] {
			if _, _, err := then.AddPlace(store.Place{Kind: store.Bin, Name: fmt.Sprint("Bin ", i+2)}); err != nil {
				t.Fatal(err)
			}
		}
		now, err := store.OpenCopy(path)
		if err != nil {
			t.Fatal(err)
		}
		lost, gained, err := parted(context.Background(), now, then)
		if err != nil || len(lost) != ways[0] || len(gained) != ways[1] {
			t.Errorf("%v: %d lost and %d gained, %v", ways, len(lost), len(gained), err)
		}
		for i, list := range [][]store.Entry{lost, gained} {
			for n, e := range list {
				if e.Seq != uint64(3+n) {
					t.Errorf("%v: entry %d of side %d is %d", ways, n, i, e.Seq)
				}
			}
		}
		if err := errors.Join(now.Close(), then.Close()); err != nil {
			t.Fatal(err)
		}
	}
}

// One state of a file is told from another by its length, its time and what it starts with.
func TestFingerprint(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.stow")
	if fingerprint(path) != nil {
		t.Error("a file that is not there has one")
	}
	at := time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC)
	of := func(data []byte, at time.Time) string {
		writeFile(t, path, string(data))
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
		return string(fingerprint(path))
	}
	data := make([]byte, fingerprinted+10)
	first := of(data, at)
	changed := func(i int) []byte { c := bytes.Clone(data); c[i] = 1; return c }
	for _, row := range []struct {
		name string
		data []byte
		at   time.Time
		same bool
	}{
		{"the same", data, at, true},
		{"later", data, at.Add(1), false},
		{"longer", append(bytes.Clone(data), 0), at, false},
		{"shorter", data[:100], at, false},
		{"empty", nil, at, false},
		{"the first byte", changed(0), at, false},
		{"the last of the pages that each transaction writes", changed(fingerprinted - 1), at, false},
		{"one behind them", changed(fingerprinted), at, true},
	} {
		if got := of(row.data, row.at) == first; got != row.same {
			t.Errorf("%s: taken for the same: %t", row.name, got)
		}
	}
}

// Check tells a good copy from one of which a byte is wrong.
func TestCheckCopy(t *testing.T) {
	_, copied := parting(t, 0)
	if err := Check(context.Background(), copied.File); err != nil {
		t.Errorf("a good copy: %v", err)
	}
	spoil(t, copied.File)
	if err := Check(context.Background(), copied.File); store.KindOf(err) != store.Corrupt {
		t.Errorf("a damaged one: %v", err)
	}
}

func ExampleFolder() {
	fmt.Println(Folder(filepath.Join("garage", "kit.stow")) == filepath.Join("garage", "backups"))
	// Output: true
}

func ExampleCopy_String() {
	c := Copy{At: time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC), Entries: 123, Why: Daily}
	fmt.Printf("%s, %s\n", c, c.Why)
	// Output: 14 March 2026 09:00, 123 entries, once a day
}
