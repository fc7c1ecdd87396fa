package store

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store/measure"
	"stowright/store/phototest"
)

// keptShop is the bytes of a shop with a few hundred records, and its stock. It is made once,
// and neither is to be changed.
func keptShop(t testing.TB) (file []byte, stock []Holding) {
	t.Helper()
	kept.once.Do(func() { kept.file, kept.stock = makeKeptShop(t) })
	if kept.file == nil {
		t.Fatal("the shop could not be made")
	}
	return kept.file, kept.stock
}

var kept struct {
	once  sync.Once
	file  []byte
	stock []Holding
}

func makeKeptShop(t testing.TB) (file []byte, stock []Holding) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.stow")
	shop, err := Open(path, Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	cabinet, _, err := shop.AddCabinet(CabinetSpec{Name: "Cabinet A", Prefix: "A", Rows: 5, Columns: 8})
	if err != nil {
		t.Fatal(err)
	}
	drawers, err := shop.Children(cabinet.ID)
	if err != nil {
		t.Fatal(err)
	}
	shop.file.SetUnsynced(true)
	for i := range 200 {
		if _, err := shop.Count(StockKey{Item: fmt.Sprintf("WL-%03d", i), Place: drawers[i%len(drawers)].ID}, measure.Pieces(int64(i+1))); err != nil {
			t.Fatal(err)
		}
	}
	for range 5 {
		if _, err := shop.Undo(); err != nil {
			t.Fatal(err)
		}
	}
	for i := range keptPictures {
		if _, _, err := shop.AddPhoto(OfPlace(cabinet.ID), "", keptPicture(i)); err != nil {
			t.Fatal(err)
		}
	}
	if stock, err = shop.Stock(); err != nil {
		t.Fatal(err)
	}
	if err := shop.Close(); err != nil {
		t.Fatal(err)
	}
	if file, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	return file, stock
}

// keptPictures is how many photographs the shop has.
const keptPictures = 3

func keptPicture(i int) []byte { return phototest.JPEG(120, 90, uint64(i)) }

// damagers are ways in which a file can be spoilt.
func damagers() map[string]func(file []byte, r *rand.Rand) []byte {
	const page = 4096
	return map[string]func([]byte, *rand.Rand) []byte{
		"a byte flipped": func(f []byte, r *rand.Rand) []byte {
			f[r.IntN(len(f))] ^= 1 << r.IntN(8)
			return f
		},
		"a byte of a page's head flipped": func(f []byte, r *rand.Rand) []byte {
			f[r.IntN(len(f)/page)*page+r.IntN(64)] ^= 1 << r.IntN(8)
			return f
		},
		"cut": func(f []byte, r *rand.Rand) []byte { return f[:1+r.IntN(len(f)-1)] },
		"cut at a page": func(f []byte, r *rand.Rand) []byte {
			return f[:page*(1+r.IntN(len(f)/page-1))]
		},
		"a page zeroed": func(f []byte, r *rand.Rand) []byte {
			clear(f[r.IntN(len(f)/page)*page:][:page])
			return f
		},
		"a page in place of another": func(f []byte, r *rand.Rand) []byte {
			copy(f[r.IntN(len(f)/page)*page:][:page], f[r.IntN(len(f)/page)*page:][:page])
			return f
		},
		"noise": func(f []byte, r *rand.Rand) []byte {
			for i := range f[:64+r.IntN(512)] {
				f[min(len(f)-1, r.IntN(len(f))+i)] = byte(r.Uint32())
			}
			return f
		},
	}
}

// However a file is spoilt, opening it does not crash, and no stock and no picture that
// is shown is wrong: it is refused, or check finds something, or the damage hit nothing
// that is in use.
func TestDamagedFiles(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		damageFiles(t, 15)
		return
	}
	damageFiles(t, 60)
}

// damageFiles spoils so many files in each way.
func damageFiles(t *testing.T, rounds int) {
	good, stock := keptShop(t)
	for name, spoil := range damagers() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			refused, found, unharmed := 0, 0, 0
			path := filepath.Join(t.TempDir(), "shop.stow")
			for seed := range uint64(rounds) {
				if err := os.WriteFile(path, spoil(slices.Clone(good), rand.New(rand.NewPCG(seed, 1))), 0o600); err != nil {
					t.Fatal(err)
				}
				shop, err := Open(path, Options{})
				if err != nil {
					if KindOf(err) != Corrupt {
						t.Errorf("seed %d: refused as %s: %v", seed, KindOf(err), err)
					}
					refused++
					continue
				}
				report, err := shop.Check(context.Background(), nil)
				if err != nil {
					t.Errorf("seed %d: check: %v", seed, err)
				}
				shown, err := shop.Stock()
				switch {
				case err == nil && cmp.Diff(stock, shown) != "" && report.OK:
					t.Errorf("seed %d: wrong stock, and check finds nothing:\n%s", seed, cmp.Diff(stock, shown))
				case report.OK:
					unharmed++
				default:
					found++
				}
				for i := range keptPictures {
					if shown, err := shop.Picture(uint64(i + 1)); err == nil && !bytes.Equal(shown, keptPicture(i)) {
						t.Errorf("seed %d: a wrong picture is shown", seed)
					}
				}
				_ = shop.Close()
			}
			t.Logf("%d refused, %d found by check, %d unharmed", refused, found, unharmed)
			if refused+found == 0 && !testing.Short() {
				t.Error("no damage was noticed at all")
			}
		})
	}
}

// A file that is cut while it is open does not end the program either.
func TestFileCutWhileOpen(t *testing.T) {
	good, _ := keptShop(t)
	path := filepath.Join(t.TempDir(), "shop.stow")
	if err := os.WriteFile(path, good, 0o600); err != nil {
		t.Fatal(err)
	}
	shop, err := Open(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 8192); err != nil {
		t.Fatal(err)
	}
	for name, do := range map[string]func() error{
		"Stock":  func() error { _, err := shop.Stock(); return err },
		"Places": func() error { _, err := shop.Places(); return err },
		"Count": func() error {
			_, err := shop.Count(StockKey{Item: "WL-001", Place: "nowhere"}, measure.Pieces(1))
			return err
		},
	} {
		if err := do(); KindOf(err) != Corrupt {
			t.Errorf("%s: %v", name, err)
		}
	}
	if report, err := shop.Check(context.Background(), nil); err != nil || report.OK {
		t.Errorf("check says %+v, %v", report, err)
	}
	_ = shop.Close() // returns, whatever it says
}

// What is written to a file that is gone would be lost: it is refused.
func TestFileGoneWhileOpen(t *testing.T) {
	for name, vanish := range map[string]func(path string) error{
		"deleted": os.Remove,
		"renamed": func(path string) error { return os.Rename(path, path+".old") },
		"replaced": func(path string) error {
			f, err := os.Open(path)
			if err != nil {
				return err
			}
			defer f.Close()
			other, err := os.Create(path + ".new")
			if err != nil {
				return err
			}
			if _, err := io.Copy(other, f); err != nil {
				return err
			}
			return os.Rename(path+".new", path)
		},
	} {
		t.Run(name, func(t *testing.T) {
			shop, _, heap := smallShop(t)
			if err := vanish(shop.File()); err != nil {
				t.Fatal(err)
			}
			_, err := shop.Count(heap, measure.Pieces(1))
			want := "The shop file " + shop.File() + " is gone or was replaced, and nothing was written: make a backup now, then open the shop again."
			if e := asError(err).(*Error); e.Kind != Corrupt || e.Message != want {
				t.Errorf("counting says %v, want %q", err, want)
			}
			if stock, err := shop.Stock(); err != nil || len(stock) != 1 || stock[0].Amount != Exact(measure.Pieces(24)) {
				t.Errorf("reading still works: %v, %v", stock, err)
			}
		})
	}
}
