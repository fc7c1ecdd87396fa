package store

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/store/disk"
	"stowright/store/disk/disktest"
	"stowright/store/measure"
)

// smallShop is a shop with a bin of bolts in a room, seven entries long.
func smallShop(t *testing.T) (shop *Shop, bin Place, heap StockKey) {
	t.Helper()
	shop, err := Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true, Clock: func() time.Time { return time.Date(2026, 3, 14, 9, 0, 0, 0, time.UTC) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = shop.Close() })
	room, _, err := shop.AddPlace(Place{Kind: Room, Name: "Garage"})
	if err == nil {
		bin, _, err = shop.AddPlace(Place{Parent: room.ID, Kind: Bin, Name: "Bin 1"})
	}
	heap = StockKey{Item: "AN3-5A", Place: bin.ID}
	for _, n := range []int64{20, 24, 30} {
		if err == nil {
			_, err = shop.Count(heap, measure.Pieces(n))
		}
	}
	if err == nil {
		_, err = shop.Undo()
	}
	if err == nil {
		_, err = shop.PutItem(Item{Designation: "AN3-6A", Unit: measure.Each})
	}
	if err != nil {
		t.Fatal(err)
	}
	heap.Lot = LotName(1)
	return shop, bin, heap
}

// behindBack does something to the buckets of the file behind the shop's back.
func (s *Shop) behindBack(t *testing.T, do func(raw disktest.Raw) error) {
	t.Helper()
	if err := s.file.Close(); err != nil {
		t.Fatal(err)
	}
	disktest.Change(t, s.File(), do)
	again, err := Open(s.File(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	s.file = again.file
}

// overwrite changes what lies under a key in the file, seal and all.
func overwrite(bucket string, key []byte, change func(sealed []byte)) func(disktest.Raw) error {
	return func(raw disktest.Raw) error {
		sealed := raw.Get(bucket, key)
		change(sealed)
		return raw.Put(bucket, key, sealed)
	}
}

// lie does something to a bucket that no verb does, properly sealed.
func (s *Shop) lie(t *testing.T, bucket string, do func(b *disk.Bucket) error) {
	t.Helper()
	err := s.update(func(tx *disk.Tx) error {
		b, err := tx.Bucket(bucket)
		if err != nil {
			return err
		}
		return do(b)
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestCheckFinds(t *testing.T) {
	t.Parallel()
	lie := func(bucket string, do func(b *disk.Bucket) error) func(*testing.T, *Shop) {
		return func(t *testing.T, s *Shop) { s.lie(t, bucket, do) }
	}
	back := func(do func(raw disktest.Raw) error) func(*testing.T, *Shop) {
		return func(t *testing.T, s *Shop) { s.behindBack(t, do) }
	}
	forge := func(seq uint64, change func(e *Entry)) func(*testing.T, *Shop) {
		return func(t *testing.T, s *Shop) {
			e, err := s.Entry(seq)
			if err != nil {
				t.Fatal(err)
			}
			change(&e)
			body, err := encode(e)
			if err != nil {
				t.Fatal(err)
			}
			s.behindBack(t, func(raw disktest.Raw) error { return raw.Put("journal", disk.SeqKey(seq), disk.Seal(body)) })
		}
	}
	for _, row := range []struct {
		name   string
		damage func(bin Place, heap StockKey) func(t *testing.T, s *Shop)
		want   string // a part of a problem
	}{
		{"a flipped byte of stock", func(_ Place, heap StockKey) func(*testing.T, *Shop) {
			return back(overwrite(tableStock, []byte(heap.key()), func(sealed []byte) { sealed[bytes.Index(sealed, []byte("24 ea"))] = '9' }))
		}, "checksum is"},
		{"stock that was never so", func(_ Place, heap StockKey) func(*testing.T, *Shop) {
			return lie(tableStock, func(b *disk.Bucket) error { return b.Put([]byte(heap.key()), []byte(`{"q":"25 ea"}`)) })
		}, `the file says {"q":"25 ea"}, the journal adds up to {"q":"24 ea"}`},
		{"a record lost", func(Place, StockKey) func(*testing.T, *Shop) {
			return lie(tableItems, func(b *disk.Bucket) error { return b.Delete([]byte("AN3-6A")) })
		}, "items AN3-6A: the journal adds up to it, the file lacks it"},
		{"a record too many", func(Place, StockKey) func(*testing.T, *Shop) {
			return lie(tableItems, func(b *disk.Bucket) error {
				return b.Put([]byte("AN9-9"), []byte(`{"designation":"AN9-9","unit":"ea"}`))
			})
		}, "items AN9-9: the file has it, the journal does not"},
		{"a record that is no record", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(func(raw disktest.Raw) error { return raw.Put(tableItems, []byte("AN3-6A"), []byte("{}")) })
		}, "items AN3-6A: record of 2 bytes has no version 2 envelope"},
		{"an entry rewritten", func(Place, StockKey) func(*testing.T, *Shop) {
			return forge(3, func(e *Entry) { e.Hand = "Nobody" })
		}, "journal: entry 3 is not what entry 4 was written after"},
		{"an entry lost", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(func(raw disktest.Raw) error { return raw.Delete("journal", disk.SeqKey(4)) })
		}, "journal: entry 5 does not follow the one before it"},
		{"the last entry lost", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(func(raw disktest.Raw) error { return raw.Delete("journal", disk.SeqKey(7)) })
		}, "items AN3-6A: the file has it, the journal does not"},
		{"a flipped byte of the journal", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(overwrite("journal", disk.SeqKey(5), func(sealed []byte) { sealed[len(sealed)/2] ^= 1 }))
		}, "journal: An entry of the journal is damaged"},
		{"an entry under another number", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(func(raw disktest.Raw) error {
				return raw.Put("journal", disk.SeqKey(8), raw.Get("journal", disk.SeqKey(7)))
			})
		}, "entry 7 is filed under"},
		{"a key of the journal that is none", func(Place, StockKey) func(*testing.T, *Shop) {
			return back(func(raw disktest.Raw) error {
				return raw.Put("journal", []byte("x"), raw.Get("journal", disk.SeqKey(7)))
			})
		}, "is filed under 78"},
		{"an entry that takes more than there is", func(_ Place, heap StockKey) func(*testing.T, *Shop) {
			return forge(7, func(e *Entry) {
				less := Exact(measure.Pieces(-100))
				e.Changes = append(e.Changes, Change{Table: tableStock, Key: heap.key(), Delta: &less})
			})
		}, "journal: entry 7 cannot be replayed"},
		{"an index that lost a heap", func(bin Place, heap StockKey) func(*testing.T, *Shop) {
			return lie(indexByPlace, func(b *disk.Bucket) error { return b.Delete([]byte(bin.ID + keySeparator + heap.key())) })
		}, "index by_place lacks 1 of its 1 keys"},
		{"an index with a heap too many", func(bin Place, _ StockKey) func(*testing.T, *Shop) {
			return lie(indexByPlace, func(b *disk.Bucket) error { return b.Put([]byte(bin.ID+keySeparator+"AN3-6A"), nil) })
		}, "AN3-6A: the file has it, the journal does not call for it"},
		{"an index that lost a place", func(bin Place, _ StockKey) func(*testing.T, *Shop) {
			return lie(indexChildren, func(b *disk.Bucket) error { return b.Delete([]byte(bin.Parent + keySeparator + bin.ID)) })
		}, "index children lacks 1 of its 2 keys"},
		{"an undo forgotten", func(Place, StockKey) func(*testing.T, *Shop) {
			return lie(indexUndone, func(b *disk.Bucket) error { return b.Delete(disk.SeqKey(5)) })
		}, "index undone lacks 1 of its 1 keys"},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop, bin, heap := smallShop(t)
			if report, err := shop.Check(context.Background(), nil); err != nil || !report.OK || report.Entries != 7 {
				t.Fatalf("before the damage: %+v, %v", report, err)
			}
			row.damage(bin, heap)(t, shop)
			report, err := shop.Check(context.Background(), nil)
			if err != nil {
				t.Fatal(err)
			}
			if report.OK || !slices.ContainsFunc(report.Problems, func(p string) bool { return strings.Contains(p, row.want) }) {
				t.Errorf("problems %q, want one with %q", report.Problems, row.want)
			}
			for _, p := range report.Problems {
				if strings.ContainsRune(p, 0) {
					t.Errorf("problem %q shows a separator of keys", p)
				}
			}
		})
	}
}

// What no verb does can still be in a journal that adds up: references are
// looked at too.
func TestCheckFindsReferences(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name   string
		change func(w *writer, bin Place) error
		want   string
	}{
		{"stock of no item", func(w *writer, bin Place) error {
			return w.stock(StockKey{Item: "AN9-9", Place: bin.ID}, Exact(measure.Pieces(1)))
		}, `there is no item "AN9-9"`},
		{"stock in no place", func(w *writer, _ Place) error {
			return w.stock(StockKey{Item: "AN3-5A", Place: "nowhere"}, Exact(measure.Pieces(1)))
		}, `stock AN3-5A / nowhere: there is no place "nowhere"`},
		{"a place in itself", func(w *writer, bin Place) error {
			room := Place{ID: bin.Parent, Parent: bin.ID, Kind: Room, Name: "Garage", Tag: bin.Tag}
			return w.put(tablePlaces, room.ID, room)
		}, "nest in a circle"},
		{"a tag that was never issued", func(w *writer, bin Place) error {
			bin.Tag = "SP00000000"
			return w.put(tablePlaces, bin.ID, bin)
		}, `: there is no tag "SP00000000"`},
		{
			"a tag of no place", func(w *writer, _ Place) error { return w.put(tableTags, "SP00000000", tagRecord{Place: "nowhere"}) },
			`tags SP00000000: there is no place "nowhere"`,
		},
		{"a line of no item", func(w *writer, bin Place) error {
			return forgeLine(w, Line{Shipment: "s", ID: 1, Place: bin.ID, Designation: "AN9-9"})
		}, `lines s / 000001: there is no item "AN9-9"`},
		{"a line in no place", func(w *writer, _ Place) error {
			return forgeLine(w, Line{Shipment: "s", ID: 1, Place: "nowhere", Designation: "AN3-5A"})
		}, `lines s / 000001: there is no place "nowhere"`},
		{"fitted of no item", func(w *writer, bin Place) error {
			return forgeFitted(w, bin, "SA-10", "AN9-9")
		}, `fitted SA-10 / AN9-9: there is no item "AN9-9"`},
		{"fitted in no sub-assembly", func(w *writer, bin Place) error {
			return forgeFitted(w, bin, "SA-99", "AN3-5A")
		}, `fitted SA-99 / AN3-5A: there is no sub-assembly "SA-99"`},
		{"two lines of one number", func(w *writer, bin Place) error {
			if err := forgeLine(w, Line{Shipment: "s", ID: 1, Printed: 2, Place: bin.ID, Designation: "AN3-5A"}); err != nil {
				return err
			}
			return forgeLine(w, Line{Shipment: "s", ID: 2, Place: bin.ID, Designation: "AN3-5A"})
		}, `lines s / 000002: it is line 2, as lines s / 000001 is`},
		{"a lot of another number than its line", func(w *writer, bin Place) error {
			if err := forgeLine(w, Line{Shipment: "s", ID: 1, Printed: 2, Place: bin.ID, Designation: "AN3-5A"}); err != nil {
				return err
			}
			_, err := w.newLot(Lot{Item: "AN3-5A", Came: Exact(measure.Quantity{Unit: measure.Each}), Receipt: &Receipt{Shipment: "s", Line: 1}})
			return err
		}, `it says line 1, and that line is 2`},
		{"a line of no shipment", func(w *writer, bin Place) error {
			return w.put(tableLines, lineKey("s", 1), Line{Shipment: "s", ID: 1, Place: bin.ID, Designation: "AN3-5A"})
		}, `lines s / 000001: there is no packing list "s"`},
	} {
		t.Run(row.name, func(t *testing.T) {
			shop, bin, _ := smallShop(t)
			if _, err := shop.commit(VerbRecord, func(w *writer) (string, error) { return "forged", row.change(w, bin) }); err != nil {
				t.Fatal(err)
			}
			report, err := shop.Check(context.Background(), nil)
			if err != nil {
				t.Fatal(err)
			}
			other := func(p string) bool { return !strings.Contains(p, row.want) }
			if len(report.Problems) == 0 || slices.ContainsFunc(report.Problems, other) {
				t.Errorf("problems %q, want %q and no other", report.Problems, row.want)
			}
		})
	}
}

// forgeLine puts a line beside a shipment that is there.
func forgeLine(w *writer, l Line) error {
	if err := w.put(tableShipments, "s", Shipment{ID: "s", File: "list.csv"}); err != nil {
		return err
	}
	return w.put(tableLines, lineKey(l.Shipment, l.ID), l)
}

// forgeFitted has one of an item fitted, beside a sub-assembly SA-10 that is there.
func forgeFitted(w *writer, bin Place, code, item string) error {
	if err := w.put(tableSubAssemblies, "SA-10", SubAssembly{Code: "SA-10", Place: bin.ID}); err != nil {
		return err
	}
	one := Exact(measure.Pieces(1))
	return w.change(Change{Table: tableFitted, Key: Fitted{SubAssembly: code, Item: item, old: true}.key(), Delta: &one})
}

func TestCheckStopsAtEnoughProblems(t *testing.T) {
	shop, _, _ := smallShop(t)
	shop.behindBack(t, func(raw disktest.Raw) error {
		for i := range 3 * maxProblems {
			if err := raw.Put(tableItems, []byte{'X', byte(i), byte(i >> 8)}, []byte("junk")); err != nil {
				return err
			}
		}
		return nil
	})
	report, err := shop.Check(context.Background(), nil)
	if err != nil || report.OK || len(report.Problems) != maxProblems {
		t.Errorf("%d problems, %v; want %d", len(report.Problems), err, maxProblems)
	}
}

func TestCheckIsCancelled(t *testing.T) {
	shop, _, _ := smallShop(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := shop.Check(ctx, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled check says %v", err)
	}
}

func TestCheckShowsProgress(t *testing.T) {
	t.Parallel()
	shop, _, heap := smallShop(t)
	err := shop.Together(func(group *Shop) error {
		for i := range int64(2 * progressEvery) {
			if _, err := group.Count(heap, measure.Pieces(i)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	var seen []uint64
	report, err := shop.Check(context.Background(), func(done, total uint64) {
		if total != 2*progressEvery+7 {
			t.Errorf("of %d entries in all, want %d", total, 2*progressEvery+7)
		}
		seen = append(seen, done)
	})
	if err != nil || !report.OK || !slices.Equal(seen, []uint64{progressEvery, 2 * progressEvery}) {
		t.Errorf("progress at %v, %v %v", seen, report, err)
	}
}

// Reading a damaged record says so, and is never taken for stock.
func TestDamagedRecordIsNeverShown(t *testing.T) {
	shop, bin, heap := smallShop(t)
	shop.behindBack(t, overwrite(tableStock, []byte(heap.key()), func(sealed []byte) { sealed[len(sealed)-5] ^= 2 }))
	for name, read := range map[string]func() error{
		"Stock":    func() error { _, err := shop.Stock(); return err },
		"Holdings": func() error { _, err := shop.Holdings(heap.Item); return err },
		"Contents": func() error { _, err := shop.Contents(bin.ID); return err },
		"Resolve":  func() error { _, err := shop.Resolve(string(bin.Tag)); return err },
		"Count":    func() error { _, err := shop.Count(heap, measure.Pieces(1)); return err },
		"Move":     func() error { _, err := shop.Move(Transfer{StockKey: heap, To: bin.Parent}); return err },
	} {
		if err := read(); KindOf(err) != Corrupt || !strings.Contains(err.Error(), "open a copy made earlier") {
			t.Errorf("%s of a damaged record: %v", name, err)
		}
	}
}
