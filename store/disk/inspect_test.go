package disk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"stowright/store/fault"
)

// toyBytes is a closed file of a few hundred things.
func toyBytes(t testing.TB) []byte {
	t.Helper()
	y := quietToy(t)
	y.put(200)
	if err := errors.Join(y.Sync(), y.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(y.path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// What is wrong with a file is said as it is.
func TestInspect(t *testing.T) {
	good := toyBytes(t)
	const page = 4096
	for _, row := range []struct {
		name  string
		spoil func(f []byte) []byte
		want  string // with %s for the file; empty: nothing is wrong
	}{
		{"nothing", func(f []byte) []byte { return f }, ""},
		{"empty", func([]byte) []byte { return nil }, "%s is empty, and what was in it is lost: keep it, and open a copy made earlier."},
		{
			"the first page that says what is newest", func(f []byte) []byte { clear(f[:page]); return f },
			"%s is damaged where it says what its last change was: keep it, and open a copy made earlier.",
		},
		{
			"the second one", func(f []byte) []byte { f[page+40] ^= 1; return f },
			"%s is damaged where it says what its last change was: keep it, and open a copy made earlier.",
		},
		{
			"both", func(f []byte) []byte { clear(f[:2*page]); return f },
			"%s is damaged, or is not a shop file: keep it, and open a copy made earlier.",
		},
		{"cut", func(f []byte) []byte { return f[:3*page] }, "%s was cut short: keep it, and open a copy made earlier."},
		{"cut within a page", func(f []byte) []byte { return f[:5*page+7] }, "%s was cut short: keep it, and open a copy made earlier."},
		{"the page of the tables", func(f []byte) []byte {
			meta, err := newestMeta("", bytes.NewReader(f), int64(len(f)))
			if err != nil {
				t.Fatal(err)
			}
			clear(f[binary.NativeEndian.Uint64(meta.raw[metaRoot:])*page:][:page])
			return f
		}, "%s is damaged: keep it, and open a copy made earlier."},
		{"a branch that leads to itself", func(f []byte) []byte {
			for id := 2; id < len(f)/page; id++ {
				p := f[id*page:][:page]
				if binary.NativeEndian.Uint64(p) == uint64(id) && binary.NativeEndian.Uint16(p[8:]) == branchPage {
					binary.NativeEndian.PutUint64(p[pageHeader+8:], uint64(id))
				}
			}
			return f
		}, "%s is damaged: keep it, and open a copy made earlier."},
		{"a key out of order", func(f []byte) []byte {
			for i := range len(f) - 7 { // in every page, since some are free
				if string(f[i:i+5]) == "P-150" {
					copy(f[i:], "P-152")
				}
			}
			return f
		}, "%s is damaged: keep it, and open a copy made earlier."},
		{"a page as the list of free ones", func(f []byte) []byte {
			meta, err := newestMeta("", bytes.NewReader(f), int64(len(f)))
			if err != nil {
				t.Fatal(err)
			}
			at := binary.NativeEndian.Uint64(meta.raw[metaFree:]) * page
			binary.NativeEndian.PutUint64(f[at+pageHeader:], binary.NativeEndian.Uint64(meta.raw[metaRoot:])) // the root is free
			return f
		}, "%s is damaged: keep it, and open a copy made earlier."},
	} {
		t.Run(row.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.stow")
			if err := os.WriteFile(path, row.spoil(slices.Clone(good)), 0o600); err != nil {
				t.Fatal(err)
			}
			got, want := "", ""
			if err := inspect(path); err != nil {
				var e *fault.Error
				if errors.As(err, &e) {
					got = e.Message
				}
			}
			if row.want != "" {
				want = fmt.Sprintf(row.want, path)
			}
			if got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// A panic that has nothing to do with the file is not hidden.
func TestOtherPanicsGoOn(t *testing.T) {
	for name, do := range map[string]func(){
		"ours":       func() { panic("ours") },
		"an index":   func() { var none []int; _ = none[len(os.Args)] },
		"a nil":      func() { var none *File; _ = none.path },
		"a nil call": func() { var none func(); none() },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("the panic was hidden")
				}
			}()
			_ = guarded("shop.stow", func() error { do(); return nil })
		})
	}
}

// BenchmarkInspect looks at the pages of a file of 100,000 records.
func BenchmarkInspect(b *testing.B) {
	y := quietToy(b)
	for i := range 100 {
		err := y.Update(func(tx *Tx) error {
			for n := range 1000 {
				if err := putting(tx, map[string]string{fmt.Sprintf("P-%d", (i*1000+n)%5000): "some"}); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	if err := errors.Join(y.Sync(), y.Close()); err != nil {
		b.Fatal(err)
	}
	info, err := os.Stat(y.path)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(info.Size())
	for b.Loop() {
		if err := inspect(y.path); err != nil {
			b.Fatal(err)
		}
	}
}
