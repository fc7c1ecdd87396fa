package disk

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"slices"
	"testing"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

// Pages that are whole and start with the key that leads to them are not taken for what they
// are not: that of the state before, which is free, one from another depth, and one that
// says that it goes on over its neighbour, which would be let go of with it.
func TestWholePagesThatAreOthers(t *testing.T) {
	for name, spoil := range map[string]func(f *branches, top, low []byte, before uint64){
		"the leaf of the state before": func(_ *branches, _, low []byte, before uint64) { leadTo(low, before) },
		"a leaf in a branch's place":   func(_ *branches, top, low []byte, _ uint64) { leadTo(top, mappedPage(low).child(0)) },
		"a branch in a leaf's place":   func(_ *branches, top, low []byte, _ uint64) { leadTo(low, mappedPage(top).child(0)) },
		"a root of no entries":         func(_ *branches, top, _ []byte, _ uint64) { top[10], top[11] = 0, 0 },
		"a leaf that goes on": func(f *branches, _, low []byte, _ uint64) {
			overwrite(f.t, f.path, int64(mappedPage(low).child(0))*int64(len(low)), len(low), func(leaf []byte) { leaf[12]++ })
		},
	} {
		t.Run(name, func(t *testing.T) {
			f := newBranches(t)
			size := os.Getpagesize()
			top, low := f.leftmost(f.good)
			last, _ := slices.BinarySearch(f.keys, low.Keys[1].Text)
			behind := f.keys[last-1] + "+" // so the first leaf is written anew, and the old one is free
			if err := f.Update(writing(outsideThings, func(b *Bucket) error { return b.Put([]byte(behind), []byte("new")) })); err != nil {
				t.Fatal(err)
			}
			f.model[behind] = "new"
			f.remember()
			before := mappedPage(f.good[low.Offset:]).child(0)
			now, err := os.ReadFile(f.path)
			if err != nil {
				t.Fatal(err)
			}
			top, low = f.leftmost(now)
			topNow, lowNow := now[top.Offset:][:size], now[low.Offset:][:size]
			spoil(f, topNow, lowNow, before)
			overwrite(t, f.path, int64(top.Offset), size, func(page []byte) { copy(page, topNow) })
			overwrite(t, f.path, int64(low.Offset), size, func(page []byte) { copy(page, lowNow) })
			for name, use := range map[string]func(b *Bucket) error{
				"reading":          func(b *Bucket) error { return f.get(b, behind) },
				"scanning":         func(b *Bucket) error { return f.scanned(toyThings, b.Scan, "") },
				"scanning plainly": func(b *Bucket) error { return f.scanned(toyThings, b.ScanUnmapped, "") },
			} {
				if err := f.View(writing(outsideThings, use)); err != nil && fault.KindOf(err) != fault.Corrupt {
					t.Errorf("%s: %v", name, err)
				}
			}
			err = f.Update(writing(outsideThings, func(b *Bucket) error { return b.Put([]byte(f.keys[0]), []byte("written")) }))
			if fault.KindOf(err) != fault.Corrupt || f.broken.Load() {
				t.Errorf("writing: %v, after a panic: %t", err, f.broken.Load())
			}
		})
	}
}

// leftmost is the root of the things, and the branch over their first leaf.
func (f *branches) leftmost(file []byte) (top, low disktest.Page) {
	f.t.Helper()
	pages, err := disktest.Pages(file)
	if err != nil {
		f.t.Fatal(err)
	}
	for _, p := range pages {
		switch {
		case p.Bucket != toyThings || !p.Branch:
		case top.Length == 0:
			top = p
		case p.Offset == int(mappedPage(file[top.Offset:]).child(0))*os.Getpagesize():
			low = p
		}
	}
	if low.Length == 0 {
		f.t.Fatal("there are no branches under the root")
	}
	return top, low
}

// leadTo has the first entry of a branch lead to a page.
func leadTo(branch []byte, page uint64) {
	binary.NativeEndian.PutUint64(branch[pageHeader+8:], page)
}

// Two records that are whole and have changed places are not read past each other: each is
// sealed under its own key, and only their order tells.
func TestRecordsOutOfOrder(t *testing.T) {
	y := quietToy(t)
	things := map[string]string{}
	for i := range 200 { // on pages of their own
		things[fmt.Sprintf("Q-%03d", i)] = `"same"`
	}
	fill(t, y, things)
	y.closed()
	data, err := os.ReadFile(y.path)
	if err != nil {
		t.Fatal(err)
	}
	s := newSealer(toyThings, Table, true)
	record := func(key string) []byte { return append([]byte(key), s.seal([]byte(key), []byte(`"same"`))...) }
	one, two := record("Q-050"), record("Q-051")
	y.open(y.path)
	at, behind := bytes.Index(data, append(bytes.Clone(one), two...)), len(one)
	if at < 0 {
		t.Fatal("the two do not lie beside each other: nothing is proven")
	}
	overwrite(t, y.path, int64(at), 2*behind, func(stretch []byte) { copy(stretch, two); copy(stretch[behind:], one) })
	for name, way := range map[string]func(b *Bucket) error{
		"a scan":         func(b *Bucket) error { return b.Scan(nil, func(_, _ []byte) error { return nil }) },
		"a scan of some": func(b *Bucket) error { return b.Scan([]byte("Q-05"), func(_, _ []byte) error { return nil }) },
		"a pass":         func(b *Bucket) error { return b.ScanUnmapped(nil, func(_, _ []byte) error { return nil }) },
		"a look at all":  func(b *Bucket) error { return b.Examine(func(_, _ []byte, damage error) error { return damage }) },
		"the first of them": func(b *Bucket) error {
			_, _, err := b.First(func(k []byte) bool { return string(k) == "none" })
			return err
		},
	} {
		if err := y.View(writing(outsideThings, way)); fault.KindOf(err) != fault.Corrupt {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// That the way to one leaf was proven says nothing of the way to another.
func TestEachWayIsProven(t *testing.T) {
	f := newBranches(t)
	pages, err := disktest.Pages(f.good)
	if err != nil {
		t.Fatal(err)
	}
	var last disktest.Page
	for _, p := range pages {
		if p.Branch && p.Bucket == toyThings {
			last = p // over the last leaves
		}
	}
	if len(last.Keys) < 3 {
		t.Fatalf("the last branch has %d entries: nothing is proven", len(last.Keys))
	}
	put := func(b *Bucket, key string) error { return b.Put([]byte(key), []byte("new")) }
	for _, spoilt := range []bool{false, true} {
		name := fmt.Sprintf("spoilt %t", spoilt)
		err := f.Update(writing(outsideThings, func(b *Bucket) error {
			if err := put(b, f.keys[0]+"+"); err != nil {
				t.Errorf("%s: the first: %v", name, err)
			}
			if spoilt {
				overwrite(t, f.path, int64(last.Keys[1].Offset), 1, func(stretch []byte) { stretch[0] = 0xff })
			}
			err := put(b, f.keys[len(f.keys)-1]+"+")
			if (fault.KindOf(err) == fault.Corrupt && err != nil) != spoilt {
				t.Errorf("%s: the last: %v", name, err)
			}
			return ErrStop // so nothing of it stays
		}))
		if !errors.Is(err, ErrStop) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
