package disk

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"stowright/store/disk/disktest"
	"stowright/store/fault"
)

// Any bit of a branch that is flipped while the file is open, of its keys, of the numbers
// of pages that it leads to, of what it says of itself: what is read is right or refused.
func TestFlippedBranchesAreNotReadWrongly(t *testing.T) {
	t.Parallel()
	f := newBranches(t)
	refused, harmless := 0, 0
	for _, page := range f.pages {
		for bit := range 8 * page.Length {
			inKeys := bit >= 8*(pageHeader+elementSize*len(page.Keys))
			if skipped := 1 + f.r.IntN(40); inKeys && skipped > 1 || !inKeys && testing.Short() && skipped > 3 {
				continue
			}
			f.flip(page, bit)
			switch wrong, no := f.ask(page); {
			case wrong != nil:
				t.Errorf("%s: %v", f.name(page, bit), wrong)
			case no:
				refused++
			default:
				harmless++
			}
			f.flip(page, bit)
			if f.broken.Load() {
				f.again()
			}
		}
	}
	t.Logf("%d bits refused, %d did no harm", refused, harmless)
	if refused < harmless/4 || refused == 0 {
		t.Error("so nothing is proven")
	}
}

// The same while the file is closed: it is refused when it is opened, or read right.
func TestFlippedBranchesAreNotOpenedWrongly(t *testing.T) {
	t.Parallel()
	f := newBranches(t)
	refused := 0
	flips := 300
	if testing.Short() {
		flips = 120
	}
	for i := range flips {
		page := f.pages[i%len(f.pages)]
		bit := f.r.IntN(8 * page.Length)
		if i%3 > 0 {
			bit = f.r.IntN(8 * (pageHeader + elementSize*len(page.Keys)))
		}
		f.flip(page, bit)
		f.again()
		if !f.isOpen {
			refused++
		} else if wrong, _ := f.ask(page); wrong != nil {
			t.Errorf("%s: %v", f.name(page, bit), wrong)
		}
		f.restore()
	}
	if t.Logf("%d refused", refused); refused == 0 {
		t.Error("so nothing is proven")
	}
}

// The same, and something is written then: it is refused, or all is there afterwards.
func TestFlippedBranchesAreNotWrittenOn(t *testing.T) {
	t.Parallel()
	f := newBranches(t)
	flips := 2500
	if testing.Short() {
		flips = 250
	}
	f.writes(flips)
}

func (f *branches) writes(flips int) {
	refused, done := 0, 0
	for i := range flips {
		page := f.pages[i%len(f.pages)]
		bit := f.r.IntN(8 * page.Length)
		if i%3 > 0 { // more often what is not a key
			bit = f.r.IntN(8 * (pageHeader + elementSize*len(page.Keys)))
		}
		want := f.model
		f.flip(page, bit)
		changed, err := f.write(page)
		if err != nil && fault.KindOf(err) != fault.Corrupt {
			f.t.Fatalf("%s: writing: %v", f.name(page, bit), err)
		}
		if err != nil {
			refused++
			f.flip(page, bit) // so nothing else has changed
		} else {
			done++
			f.model = changed
		}
		if err == nil || f.broken.Load() {
			f.again()
		}
		if !f.isOpen || i%10 == 0 || err == nil {
			f.wantAll(f.name(page, bit))
		}
		f.model = want
		if err == nil {
			f.restore()
		}
	}
	f.t.Logf("%d writings refused, %d done", refused, done)
	if refused == 0 || done == 0 {
		f.t.Error("so nothing is proven")
	}
}

// branches is a toy with branches over branches, and pages that hold what was there before.
type branches struct {
	*toy
	t      *testing.T
	r      *rand.Rand
	model  map[string]string
	keys   []string // of model, in order
	good   []byte
	raw    *os.File
	pages  []disktest.Page // the branches
	isOpen bool
}

func newBranches(t *testing.T) *branches {
	t.Helper()
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	f := &branches{toy: quietToy(t), t: t, r: rand.New(rand.NewPCG(seed, 0)), model: map[string]string{"P-1": `"some"`}}
	for range 40 {
		err := f.Update(writing(outsideThings, func(b *Bucket) error {
			for range 12 {
				key := f.drawn()
				f.model[key] = strings.Repeat("x", 1+f.r.IntN(60))
				if err := b.Put([]byte(key), []byte(f.model[key])); err != nil {
					return err
				}
			}
			return nil
		}))
		if err != nil {
			t.Fatal(err)
		}
		f.put(1)
		f.model[fmt.Sprint("P-", f.end())] = `"some"`
	}
	f.remember()
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	var err error
	if f.good, err = os.ReadFile(f.path); err != nil {
		t.Fatal(err)
	}
	all, err := disktest.Pages(f.good)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range all {
		if p.Branch {
			f.pages = append(f.pages, p)
		}
	}
	if len(f.pages) < 4 {
		t.Fatalf("%d branches: nothing is proven", len(f.pages))
	}
	f.again()
	return f
}

func (f *branches) end() (seq uint64) {
	f.t.Helper()
	err := f.View(func(tx *Tx) error {
		end, err := tx.End()
		seq = end.Seq
		return err
	})
	if err != nil {
		f.t.Fatal(err)
	}
	return seq
}

func (f *branches) remember() {
	f.keys = f.keys[:0]
	for k := range f.model {
		f.keys = append(f.keys, k)
	}
	slices.Sort(f.keys)
}

// drawn is a key that takes so much room that few go into a page.
func (f *branches) drawn() string {
	return fmt.Sprintf("%c%03d%s", 'a'+f.r.IntN(4), f.r.IntN(999), strings.Repeat("k", 180))
}

func (f *branches) name(page disktest.Page, bit int) string {
	what := fmt.Sprintf("of key %d", bit)
	if at := bit/8 - pageHeader; at < 0 {
		what = fmt.Sprintf("%d of the head", bit)
	} else if at < elementSize*len(page.Keys) {
		what = fmt.Sprintf("%d of entry %d of %d", bit-8*(pageHeader+at/elementSize*elementSize), at/elementSize, len(page.Keys))
	}
	return fmt.Sprintf("bit %s in the branch at %d of %s", what, page.Offset, page.Bucket)
}

// flip flips a bit of a page in the file.
func (f *branches) flip(page disktest.Page, bit int) {
	f.t.Helper()
	one := make([]byte, 1)
	at := int64(page.Offset + bit/8)
	if _, err := f.raw.ReadAt(one, at); err != nil {
		f.t.Fatal(err)
	}
	one[0] ^= 1 << (bit % 8)
	if _, err := f.raw.WriteAt(one, at); err != nil {
		f.t.Fatal(err)
	}
}

// again closes the file and opens it, if it is not refused as damaged.
func (f *branches) again() {
	f.t.Helper()
	_ = f.Close()
	file, err := Open(f.path, toyOptions())
	if err != nil && fault.KindOf(err) != fault.Corrupt {
		f.t.Fatal(err)
	}
	if f.isOpen = err == nil; !f.isOpen {
		return
	}
	f.File = file
	f.SetUnsynced(true)
	f.t.Cleanup(func() { _ = file.Close() })
	if f.raw != nil {
		_ = f.raw.Close()
	}
	if f.raw, err = os.OpenFile(f.path, os.O_RDWR, 0); err != nil {
		f.t.Fatal(err)
	}
}

// restore puts the good file back.
func (f *branches) restore() {
	f.t.Helper()
	_ = f.Close()
	if err := errors.Join(Remove(f.path), os.WriteFile(f.path, f.good, 0o600)); err != nil {
		f.t.Fatal(err)
	}
	f.again()
	if !f.isOpen {
		f.t.Fatal("the good file is refused")
	}
}

// ask asks for what lies about the entries of a branch, in every way. It says what is
// wrong, and whether something was refused.
func (f *branches) ask(page disktest.Page) (wrong error, refused bool) {
	hear := func(name string, err error) {
		if err != nil && fault.KindOf(err) == fault.Corrupt {
			refused = true
		} else if err != nil && wrong == nil {
			wrong = fmt.Errorf("%s: %w", name, err)
		}
	}
	err := f.View(func(tx *Tx) error {
		if page.Bucket == bucketJournal {
			hear("the records", f.askRecords(tx, page))
			return nil
		}
		b, err := tx.Bucket(page.Bucket)
		if err != nil {
			return err
		}
		if page.Bucket == toyThings {
			for _, key := range f.near(page) {
				hear("Get", f.get(b, key))
			}
		}
		for name, way := range map[string]func([]byte, func(k, v []byte) error) error{"scan": b.Scan, "unmapped": b.ScanUnmapped} {
			for _, prefix := range []string{"", page.Keys[f.r.IntN(len(page.Keys))].Text[:2]} {
				hear(name, f.scanned(page.Bucket, way, prefix))
			}
		}
		last, err := b.Last()
		if err == nil && page.Bucket == toyThings && string(last) != f.keys[len(f.keys)-1] {
			err = fmt.Errorf("the last is %q", last)
		}
		hear("Last", err)
		return nil
	})
	hear("the transaction", err)
	return wrong, refused
}

// near are keys that a branch leads to, those beside them, and some between that are not there.
func (f *branches) near(page disktest.Page) (near []string) {
	for _, k := range page.Keys {
		at, _ := slices.BinarySearch(f.keys, k.Text)
		for i := max(0, at-2); i < min(len(f.keys), at+3); i++ {
			near = append(near, f.keys[i], f.keys[i]+"+", f.keys[i][:len(f.keys[i])-1])
		}
	}
	return near
}

func (f *branches) get(b *Bucket, key string) error {
	got, err := b.Get([]byte(key))
	want, there := f.model[key]
	if err == nil && (string(got) != want || there != (got != nil)) {
		err = fmt.Errorf("%.5q of %d is %q, not %q", key, len(key), got, want)
	}
	return err
}

func (f *branches) scanned(bucket string, way func([]byte, func(k, v []byte) error) error, prefix string) error {
	var list []string
	err := way([]byte(prefix), func(k, _ []byte) error {
		list = append(list, string(k))
		return nil
	})
	if err != nil || bucket != toyThings {
		return err
	}
	want := f.keys
	if prefix != "" {
		want = slices.Collect(func(yield func(string) bool) {
			for _, k := range f.keys {
				if strings.HasPrefix(k, prefix) && !yield(k) {
					return
				}
			}
		})
	}
	if !slices.Equal(list, want) {
		return fmt.Errorf("%d keys that start with %q, not %d", len(list), prefix, len(want))
	}
	return nil
}

func (f *branches) askRecords(tx *Tx, page disktest.Page) error {
	end, err := tx.End()
	if err != nil {
		return err
	}
	if end.Seq != 41 {
		return fmt.Errorf("the journal ends at %d", end.Seq)
	}
	for _, k := range page.Keys {
		seq := SeqOf([]byte(k.Text))
		for s := max(1, seq-1); s <= seq+1; s++ {
			if _, found, err := tx.Record(s); err != nil || found != (s <= end.Seq) {
				return fmt.Errorf("record %d is found: %t, %w", s, found, err)
			}
		}
	}
	n := 0
	err = tx.RecordsBefore(0, func(Record) (bool, error) { n++; return true, nil })
	if err == nil && n != 41 {
		err = fmt.Errorf("%d records", n)
	}
	return err
}

// write puts or takes away something near the keys of a branch, and says what there is then.
func (f *branches) write(page disktest.Page) (changed map[string]string, err error) {
	changed = map[string]string{}
	for k, v := range f.model {
		changed[k] = v
	}
	near := []string{"P-2"}
	if page.Bucket == toyThings {
		near = f.near(page)
	}
	err = f.Update(func(tx *Tx) error {
		b, err := tx.Bucket(toyThings)
		if err != nil {
			return err
		}
		for range 1 + f.r.IntN(3) {
			key := near[f.r.IntN(len(near))]
			if f.r.IntN(3) == 0 {
				delete(changed, key)
				err = b.Delete([]byte(key))
			} else {
				changed[key] = "written"
				err = b.Put([]byte(key), []byte("written"))
			}
			if err != nil {
				return err
			}
		}
		name := fmt.Sprint("Z-", f.r.IntN(100))
		changed[name] = `"some"`
		return putting(tx, map[string]string{name: "some"})
	})
	return changed, err
}

// wantAll holds all that can be read of the file against the model: it is right or refused.
func (f *branches) wantAll(what string) {
	f.t.Helper()
	if !f.isOpen {
		return
	}
	f.remember()
	err := f.View(func(tx *Tx) error {
		b, err := tx.Bucket(toyThings)
		if err != nil {
			return err
		}
		for _, key := range f.keys {
			if err := f.get(b, key); err != nil && fault.KindOf(err) != fault.Corrupt {
				return err
			}
		}
		if err := f.scanned(toyThings, b.Scan, ""); err != nil && fault.KindOf(err) != fault.Corrupt {
			return err
		}
		return nil
	})
	if err != nil && fault.KindOf(err) != fault.Corrupt {
		f.t.Errorf("%s, after something was written: %v", what, err)
	}
}
