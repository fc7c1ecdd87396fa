package disk

import (
	"encoding/binary"
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
