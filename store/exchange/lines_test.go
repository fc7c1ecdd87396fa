package exchange

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/storetest"
)

// kept writes a shop that is kept for tests to a file of the test's own.
func kept(t testing.TB, name string) string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "store", name+".gz"))
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
	path := filepath.Join(t.TempDir(), "shop.stow")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// noCopy lets a file of an older layout be upgraded that a test has a copy of.
func noCopy(*store.Shop) error { return nil }

// counted is a shop with a bin of bolts, which were counted, of which one count was undone.
func counted(t *testing.T) (shop *store.Shop, heap store.StockKey) {
	t.Helper()
	shop = storetest.Open(t, store.Options{})
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	heap = store.StockKey{Item: "AN3-5A", Place: bin.ID}
	for _, n := range []int64{20, 24} {
		if err == nil {
			_, err = shop.Count(heap, measure.Pieces(n))
		}
	}
	if err == nil {
		_, err = shop.Undo()
	}
	if err != nil {
		t.Fatal(err)
	}
	return shop, heap
}

// exported is the export of the demo shop, opened from the file that is kept, with
// something fitted.
func exported(t testing.TB) (shop *store.Shop, export []byte) {
	t.Helper()
	path := kept(t, "format1.stow")
	shop, err := store.Open(path, store.Options{BeforeUpgrade: noCopy})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = shop.Close() })
	subs, err := shop.SubAssemblies()
	if err != nil {
		t.Fatal(err)
	}
	heaps, err := shop.Contents(subs[0].Place)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shop.PutAircraft(store.Aircraft{Name: "Q", Build: true, Inspectors: []store.Inspector{{Who: "Partner", Paper: "certificate 7"}}}); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.LogHours("Q", store.Date{Year: 2026, Month: 3, Day: 18}, 120); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.Note(store.Note{Kind: store.TorqueNote, SubAssembly: subs[0].Code, Text: "25 in-lb"}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.ChangePlans(store.PlanChange{Title: "Bulletin 4"}, store.PlanEdit{Add: []store.Requirement{{SubAssembly: subs[0].Code, Called: "AN3-7A", Needed: measure.Pieces(2)}}}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.Decide(store.Decision{Kind: store.Deviation, Who: "kit maker", Note: "one hole more"}); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.Fit(subs[0].Code, store.Fitting{Transfer: store.Transfer{StockKey: heaps[0].StockKey, Quantity: measure.Pieces(2), Reason: "as a spare"}}); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.PutPosition(store.Position{Name: "Tailplane / left / hinge 2", Aircraft: "Q", Access: "panel 3"}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.PutComponent(store.Component{Item: "OQ-PROP", Serial: "0007"}); err != nil {
		t.Fatal(err)
	}
	if _, err := shop.MountComponent("CO-1", store.Mounting{Aircraft: "Q"}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := shop.PutDue(store.Due{What: "Condition inspection", Aircraft: "Q", Rule: "12 calendar months", Months: 12}); err != nil {
		t.Fatal(err)
	}
	row := hardware.OwnRow{Designation: "AN7-10", Source: "printed sheet page 2", Figures: []hardware.OwnFigure{{Name: hardware.Grip, Length: measure.Inches(7, 16)}}}
	if _, err := shop.PutFigures([]hardware.OwnRow{row}); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := Export(context.Background(), shop, &out); err != nil {
		t.Fatal(err)
	}
	return shop, out.Bytes()
}

// An export brought into an empty shop gives the same export, and the same shop.
func TestExportAndBack(t *testing.T) {
	shop, export := exported(t)
	var again bytes.Buffer
	if err := Export(context.Background(), shop, &again); err != nil || !bytes.Equal(export, again.Bytes()) {
		t.Errorf("a second export differs from the first, %v", err)
	}
	path := filepath.Join(t.TempDir(), "new", "shop.stow")
	if err := Import(context.Background(), path, bytes.NewReader(export)); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file has mode %v, %v", info.Mode(), err)
	}
	back, err := store.Open(path, store.Options{BeforeUpgrade: noCopy})
	if err != nil {
		t.Fatal(err)
	}
	defer back.Close()
	again.Reset()
	if err := Export(context.Background(), back, &again); err != nil || !bytes.Equal(export, again.Bytes()) {
		t.Errorf("the export of what was brought in differs, %v", err)
	}
	if report, err := back.Check(context.Background(), nil); err != nil || !report.OK {
		t.Errorf("check: %+v, %v", report, err)
	}
	want, _ := shop.Stock()
	got, err := back.Stock()
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("stock (-shop +brought in), %v:\n%s", err, d)
	}
	for _, do := range []func() (store.Entry, error){back.Undo, back.Undo, back.Redo} { // the undo index is there too
		if _, err := do(); err != nil {
			t.Error(err)
		}
	}
}

// An empty shop and one of many entries export too.
func TestExportOfOtherShops(t *testing.T) {
	for _, entries := range []int{0, 2500} {
		shop, heap := counted(t)
		err := shop.Together(func(group *store.Shop) error {
			for i := range entries {
				if _, err := group.Count(heap, measure.Pieces(int64(i))); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if entries == 0 {
			var err error
			if shop, err = store.Open(filepath.Join(t.TempDir(), "empty.stow"), store.Options{Create: true}); err != nil {
				t.Fatal(err)
			}
			defer shop.Close()
		}
		file := filepath.Join(t.TempDir(), "shop.jsonl")
		if err := ExportFile(context.Background(), shop, file, false); err != nil {
			t.Fatal(err)
		}
		export, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "shop.stow")
		if err := Import(context.Background(), path, bytes.NewReader(export)); err != nil {
			t.Fatal(err)
		}
		if err := ExportFile(context.Background(), shop, file, false); store.KindOf(err) != store.Conflict {
			t.Errorf("over a file that is there: %v", err)
		}
		if err := Import(context.Background(), path, bytes.NewReader(export)); store.KindOf(err) != store.Conflict {
			t.Errorf("over a shop that is there: %v", err)
		}
	}
}

// reseal makes the end of an export fit its lines, as somebody who forges would.
func reseal(lines []string) []byte {
	body := strings.Join(lines[:len(lines)-1], "\n") + "\n"
	entries, records := 0, 0
	for _, l := range lines {
		switch {
		case strings.HasPrefix(l, entryLine):
			entries++
		case strings.HasPrefix(l, recordLine):
			records++
		}
	}
	return fmt.Appendf([]byte(body), `{"end":{"entries":%d,"records":%d,"crc32c":"%s"}}`+"\n", entries, records, disk.Checksum([]byte(body)))
}

func countRecords(lines []string) int {
	n := 0
	for _, l := range lines {
		if strings.HasPrefix(l, recordLine) {
			n++
		}
	}
	return n
}

// Hostile and damaged exports are refused whole, with the line where that is known.
func TestImportExportRefuses(t *testing.T) {
	_, export := exported(t)
	lines := strings.Split(strings.TrimSuffix(string(export), "\n"), "\n")
	change := func(do func(lines []string) []string) func() []byte {
		return func() []byte { return reseal(do(slices.Clone(lines))) }
	}
	replace := func(start, old, new string) func() []byte {
		return change(func(l []string) []string {
			for i := range l {
				if strings.HasPrefix(l[i], start) && strings.Contains(l[i], old) {
					l[i] = strings.Replace(l[i], old, new, 1)
					return l
				}
			}
			t.Fatalf("no line of the export holds %q", old)
			return nil
		})
	}
	last := len(lines) - 2 - countRecords(lines) // entry
	firstRecord := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, recordLine) })
	for _, row := range []struct {
		name string
		make func() []byte
		want string // a part of the error
	}{
		{"nothing", func() []byte { return nil }, "line 1"},
		{"no export", func() []byte { return []byte("part number,quantity\n") }, "line 1"},
		{"a newer version", replace(`{"stowright"`, `"version":2`, `"version":3`), "The export has version 3, and this program reads versions 1 to 2: update the program."},
		{"cut in a line", func() []byte { return export[:len(export)/2] }, "cut short"},
		{"cut at a line", func() []byte { return []byte(strings.Join(lines[:10], "\n") + "\n") }, "line 11"},
		{"without its end", func() []byte { return []byte(strings.Join(lines[:len(lines)-1], "\n") + "\n") }, "cut short"},
		{"something after its end", func() []byte { return append(slices.Clone(export), lines[1]...) }, "something follows the end"},
		{"a flipped figure", func() []byte { return bytes.Replace(export, []byte("1680 ea"), []byte("1690 ea"), 1) }, "entry 135 is not what entry 136 was written after"},
		{"an entry lost", change(func(l []string) []string { return slices.Delete(l, 5, 6) }), "line 6"},
		{"an entry twice", change(func(l []string) []string { return slices.Insert(l, 5, l[5]) }), "line 7"},
		{"the entries in another order", change(func(l []string) []string { l[5], l[6] = l[6], l[5]; return l }), "line 6"},
		{"a record forged", replace(recordLine+`"stock"`, " ea", "0 ea"), "not what the entries add up to"},
		{"a record lost", change(func(l []string) []string { return slices.Delete(l, firstRecord, firstRecord+1) }), "not what the entries add up to"},
		{"an entry among the records", change(func(l []string) []string { return slices.Insert(l, firstRecord+1, l[1]) }), "neither an entry nor a record"},
		{"spaces within", replace(entryLine, `"seq":1,`, `"seq": 1,`), "it is no entry"},
		{"a field that is none", replace(entryLine, `"seq":1,`, `"seq":1,"exec":"rm",`), "it is no entry"},
		{"a table that is none", replace(entryLine, `"table":"settings"`, `"table":"passwords"`), "there is no table"},
		{"a record under another key", replace(entryLine, `"key":"shop"`, `"key":"../../shop"`), "filed under"},
		{"an undo of what is to come", replace(entryLine, `"verb":"undo"`, `"verb":"undo","undoes":999999`), "line"},
		{"a count that undoes", func() []byte {
			e, err := strictly[store.Entry]([]byte(strings.TrimSuffix(strings.TrimPrefix(lines[last], entryLine), "}")))
			if err != nil {
				t.Fatal(err)
			}
			e.Undoes = 3
			body, err := encode(e)
			if err != nil {
				t.Fatal(err)
			}
			l := slices.Clone(lines)
			l[last] = entryLine + string(body) + "}"
			return reseal(l)
		}, "undoes entry 3"},
		{"too many entries said", replace(`{"stowright"`, `"entries":1`, `"entries":9`), "the end says"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			err := Import(context.Background(), filepath.Join(dir, "shop.stow"), bytes.NewReader(row.make()))
			if store.KindOf(err) != store.Invalid || !strings.Contains(err.Error(), row.want) {
				t.Errorf("got %v, want an error with %q", err, row.want)
			}
			if left, _ := os.ReadDir(dir); len(left) != 0 {
				t.Errorf("%v is left", left)
			}
		})
	}
}

// A line without end is given up early, and a cancelled import leaves nothing.
func TestImportExportIsBounded(t *testing.T) {
	shop, err := store.Open(filepath.Join(t.TempDir(), "shop.stow"), store.Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shop.Close()
	err = store.NewFile(context.Background(), filepath.Join(t.TempDir(), "new.stow"), func(d *store.Draft) error {
		in := newExportReader(context.Background(), strings.NewReader(strings.Repeat("x", 3<<20)), d)
		in.longest = 2 << 20
		return in.read()
	})
	if err == nil || !strings.Contains(err.Error(), "longer than") {
		t.Errorf("a line without end: %v", err)
	}
	_, export := exported(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	dir := t.TempDir()
	if err := Import(ctx, filepath.Join(dir, "shop.stow"), bytes.NewReader(export)); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 0 {
		t.Errorf("%v is left", left)
	}
	if err := Export(ctx, shop, &bytes.Buffer{}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled export: %v", err)
	}
}

// Whatever is read as an export, it is refused or gives the same export again.
func FuzzImport(f *testing.F) {
	shop, err := store.Open(filepath.Join(f.TempDir(), "shop.stow"), store.Options{Create: true})
	if err != nil {
		f.Fatal(err)
	}
	bin, _, err := shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 1"})
	if err == nil {
		_, err = shop.Count(store.StockKey{Item: "AN3-5A", Place: bin.ID}, measure.Pieces(4))
	}
	if err == nil {
		_, err = shop.Undo()
	}
	var out bytes.Buffer
	if err := errors.Join(err, Export(context.Background(), shop, &out), shop.Close()); err != nil {
		f.Fatal(err)
	}
	f.Add(out.Bytes())
	f.Add([]byte(`{"stowright":"export","version":1,"entries":0}` + "\n" + `{"end":{"entries":0,"records":0,"crc32c":"00000000"}}` + "\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
		for _, data := range [][]byte{data, reseal(lines)} {
			path := filepath.Join(t.TempDir(), "shop.stow")
			if err := Import(context.Background(), path, bytes.NewReader(data)); err != nil {
				if store.KindOf(err) != store.Invalid {
					t.Fatalf("%q: %v", data, err)
				}
				continue
			}
			shop, err := store.Open(path, store.Options{BeforeUpgrade: noCopy})
			if err != nil {
				t.Fatal(err)
			}
			var again bytes.Buffer
			if err := errors.Join(Export(context.Background(), shop, &again), shop.Close()); err != nil || !bytes.Equal(within(again.Bytes()), within(data)) {
				t.Fatalf("%q was taken, and gives %q, %v", data, again.Bytes(), err)
			}
		}
	})
}

// within are the lines between the first, which has the version, and the last, which has the
// checksum of all before it.
func within(export []byte) []byte {
	_, lines, _ := bytes.Cut(export, []byte("\n"))
	end := bytes.LastIndexByte(bytes.TrimSuffix(lines, []byte("\n")), '\n')
	return lines[:end+1]
}

// buy fills everything in that is known of buying.
func buy(t *testing.T, shop *store.Shop) {
	t.Helper()
	day := shop.Today()
	price, err := store.ParseMoney("0.45 USD", "")
	if err != nil {
		t.Fatal(err)
	}
	_, supplier := shop.PutSupplier(store.Supplier{Name: "Bolt shop", Minimum: price, Currency: "USD", Note: "by telephone"})
	_, supply := shop.PutSupply(store.Supply{
		Item: "AN3-5A", Supplier: "Bolt shop", Pack: 10, Least: measure.Pieces(20), Price: price, Priced: day, Percent: 10, Spare: measure.Pieces(1), ByWaste: true,
	}, measure.Pieces(5))
	order := store.NewOrder{
		Order: store.Order{Supplier: "Bolt shop", Reference: "77-A", Note: "by telephone"},
		Lines: []store.OrderLine{{Item: "AN3-5A", Quantity: measure.Pieces(20), Pack: 10, Price: price, Promised: day}},
	}
	_, _, undone := shop.Order(order)
	_, undo := shop.Undo()
	_, _, ordered := shop.Order(order)
	ships, err := shop.Shipments()
	if err != nil {
		t.Fatal(err)
	}
	lists, err := shop.Lines(ships[0].ID)
	if err != nil {
		t.Fatal(err)
	}
	line := lists[slices.IndexFunc(lists, func(l store.Line) bool { return l.Designation == "AN3-5A" })].ID
	_, match := shop.Match(ships[0].ID, line, store.OrderRef{Order: 2, Line: 1})
	_, cancel := shop.Cancel(2, nil, "sold out")
	if err := errors.Join(supplier, supply, undone, undo, ordered, match, cancel); err != nil {
		t.Fatal(err)
	}
}
