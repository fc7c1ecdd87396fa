package store_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// Undo and redo as a person presses them: u and r, and a digit counts that many
// bolts into A-01. The last stock and what may be undone and redone are as said.
func TestUndoRedoChains(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		keys       string
		stock      string // pieces in A-01
		undo, redo string // the count that Undo and Redo would be about; empty: neither
	}{
		{"1", "1", "1", ""},
		{"1u", "", "", "1"},
		{"1ur", "1", "1", ""},
		{"1uru", "", "", "1"},
		{"1ururur", "1", "1", ""},
		{"12u", "1", "1", "2"},
		{"12uu", "", "", "1"},
		{"12uur", "1", "1", "2"},
		{"12uurr", "2", "2", ""},
		{"12uurru", "1", "1", "2"},
		{"1u2", "2", "2", ""},   // after another entry there is nothing to redo
		{"1u2u", "", "", "2"},   // and undoing that one does not bring it back
		{"1u2ur", "2", "2", ""}, // nor does redoing that one
		{"12u3uu", "", "", "1"}, // an undo goes past what is undone already
		{"12u3uur", "1", "1", "3"},
		{"12u3uurr", "3", "3", ""},
		{"123uuurrr", "3", "3", ""},
		{"123uurur", "2", "2", "3"},
	} {
		t.Run(row.keys, func(t *testing.T) {
			w := newWorld(t)
			base, _, err := w.Undoable()
			w.must(err)
			k := w.in("AN3-5A", "A-01")
			for _, key := range row.keys {
				switch key {
				case 'u':
					w.must(second(w.Undo()))
				case 'r':
					w.must(second(w.Redo()))
				default:
					w.must(second(w.Count(k, measure.Pieces(int64(key-'0')))))
				}
			}
			got := ""
			for _, line := range w.stock() {
				got += strings.TrimSuffix(strings.TrimPrefix(line, "AN3-5A in Garage, Cabinet A, A-01: "), " ea")
			}
			if got != row.stock {
				t.Errorf("%s: the stock is %q, want %q", row.keys, got, row.stock)
			}
			undo, ok, err := w.Undoable()
			w.must(err)
			if text := countedFigure(undo.Text); undo.Seq > base.Seq && text != row.undo || undo.Seq == base.Seq && row.undo != "" || !ok {
				t.Errorf("%s: Undo would undo %q, want count %q", row.keys, undo.Text, row.undo)
			}
			redo, ok, err := w.Redoable()
			w.must(err)
			if text := countedFigure(redo.Text); ok != (row.redo != "") || ok && text != row.redo {
				t.Errorf("%s: Redo would redo %q (%v), want count %q", row.keys, redo.Text, ok, row.redo)
			}
			if row.redo == "" {
				_, err := w.Redo()
				wantRefusal(t, err, store.NotFound, "There is nothing to redo: either nothing was undone, or something else was done since.")
			}
		})
	}
}

// countedFigure is the figure in "counted AN3-5A in A-01: 2 ea (was 1 ea)".
func countedFigure(text string) string {
	_, figure, _ := strings.Cut(text, ": ")
	figure, _, _ = strings.Cut(figure, " ")
	return figure
}

func TestNothingToUndo(t *testing.T) {
	w := newWorld(t)
	for {
		if _, ok, err := w.Undoable(); err != nil || !ok {
			w.must(err)
			break
		}
		w.must(second(w.Undo()))
	}
	_, err := w.Undo()
	wantRefusal(t, err, store.NotFound, "There is nothing to undo: no entry is left that is not undone.")
	places, err := w.Places()
	w.must(err)
	items, err := w.Items()
	w.must(err)
	tags, err := w.Tags()
	w.must(err)
	if len(places)+len(items)+len(tags) != 0 {
		t.Errorf("with everything undone there are %d places, %d items and %d tags in use", len(places), len(items), len(tags))
	}
}

// Undoing takes a place away, but its label may be printed: the tag stays known as
// retired, and redoing brings it back as it was.
func TestUndoOfAPlaceRetiresItsTag(t *testing.T) {
	w := newWorld(t)
	bin, _, err := w.AddPlace(store.Place{Kind: store.Bin, Name: "Bin 7"})
	w.must(err)
	for _, step := range []struct {
		name     string
		do       func() (store.Entry, error)
		answer   store.Answer
		sentence string
	}{
		{"made", nil, store.TagFound, "Bin 7"},
		{"undone", w.Undo, store.TagRetired, "The tag " + bin.Tag.Spaced() + " was of something that was undone and is not in this shop any more: take the label off."},
		{"redone", w.Redo, store.TagFound, "Bin 7"},
		{"retired", func() (store.Entry, error) { return w.RetirePlace(bin.ID) }, store.TagRetired, "The tag " + bin.Tag.Spaced() + " was of Bin 7, which is out of use: take the label off."},
		{"not retired after all", w.Undo, store.TagFound, "Bin 7"},
	} {
		if step.do != nil {
			w.must(second(step.do()))
		}
		r, err := w.Resolve(string(bin.Tag))
		w.must(err)
		if r.Answer != step.answer || r.Sentence() != step.sentence {
			t.Errorf("%s: the tag is %s, %q; want %s, %q", step.name, r.Answer, r.Sentence(), step.answer, step.sentence)
		}
	}
}

// A packing list that was brought in by mistake goes again, with its places and
// items; the labels printed of it say that they are out of use; the list can be
// brought in once more and gets new tags.
func TestUndoOfAnImport(t *testing.T) {
	w := newWorld(t)
	before := w.stock()
	tagsBefore, err := w.Tags()
	w.must(err)
	list := smallList()
	list.Fingerprint, list.File = "other", "other.csv"
	list.Lines[0].Designation = "AN9-99A"
	ship, fresh, err := w.Import(list)
	w.must(err)
	if !fresh {
		t.Fatal("another list was taken for the first")
	}
	w.must(second(w.Arrive(ship.ID, arrival("C1", 5, 30))))
	w.must(second(w.Receive(ship.ID, 1, found(24))))
	crate, err := w.Place(ship.Crates[0].Place)
	w.must(err)
	for range 3 {
		w.must(second(w.Undo()))
	}
	w.wantStock(before...)
	if _, err := w.Item("AN9-99A"); store.KindOf(err) != store.NotFound {
		t.Errorf("the item of the list is still there: %v", err)
	}
	tags, err := w.Tags()
	w.must(err)
	if d := cmp.Diff(tagsBefore, tags); d != "" {
		t.Errorf("tags in use (-before +after):\n%s", d)
	}
	r, err := w.Resolve(string(crate.Tag))
	w.must(err)
	if r.Answer != store.TagRetired {
		t.Errorf("the tag of the crate is %s, want %s", r.Answer, store.TagRetired)
	}
	again, fresh, err := w.Import(list)
	w.must(err)
	if !fresh || again.ID == ship.ID {
		t.Errorf("the list once more: fresh %v, id %s", fresh, again.ID)
	}
}

// An entry that changed nothing is not what a person wants to undo.
func TestUndoPassesEntriesWithoutAChange(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(3))))
	w.must(second(w.PutItem(store.Item{Designation: "AN3-5A", Title: "Bolt", Unit: measure.Each})))
	e, err := w.Undo()
	w.must(err)
	if want := "counted AN3-5A in A-01: 3 ea"; e.Text != want {
		t.Errorf("undone: %q, want %q", e.Text, want)
	}
	w.wantStock()
}

// The journal, newest first, page by page, is the journal.
func TestEntriesByPage(t *testing.T) {
	t.Parallel()
	w := newWorld(t)
	for i := range int64(200) {
		w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(i))))
	}
	newest := newestSeq(w)
	for _, size := range []int{1, 7, 64, 1000} {
		next, before := newest, uint64(0)
		for {
			page, err := w.Entries(before, size)
			w.must(err)
			for _, e := range page {
				if e.Seq != next {
					t.Fatalf("pages of %d: entry %d, want %d", size, e.Seq, next)
				}
				next--
			}
			if len(page) < size {
				break
			}
			before = page[len(page)-1].Seq
		}
		if next != 0 {
			t.Errorf("pages of %d ended at entry %d", size, next+1)
		}
	}
	for _, before := range []uint64{newest + 1, newest + 1000} {
		page, err := w.Entries(before, 1)
		w.must(err)
		if len(page) != 1 || page[0].Seq != newest {
			t.Errorf("before %d: %v, want the newest, %d", before, page, newest)
		}
	}
	if page, err := w.Entries(0, 0); err != nil || len(page) != 0 {
		t.Errorf("no entries at all: %v, %v", page, err)
	}
}

// What an entry says that it touched is what changed.
func TestTouched(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	e, err := w.Stow(w.to("AN3-5A", "H103", 0, "A-01"))
	w.must(err)
	if d := cmp.Diff([]string{"AN3-5A"}, e.Items()); d != "" || e.Shipments() || len(e.Places()) != 0 {
		t.Errorf("a stow touched items %v, places %v, shipments %v", e.Items(), e.Places(), e.Shipments())
	}
	if e, err = w.Undo(); err != nil || len(e.Items()) != 1 {
		t.Errorf("its undo touched %v, %v", e.Items(), err)
	}
	if e, err = w.Undo(); err != nil || !e.Shipments() {
		t.Errorf("the undo of a finding touched no shipment: %v", err)
	}
	e, err = w.MovePlace(w.place["Cabinet A"], w.place["Hangar"])
	w.must(err)
	if d := cmp.Diff([]string{w.place["Cabinet A"]}, e.Places()); d != "" {
		t.Errorf("a move touched (-want +got):\n%s", d)
	}
	e, err = w.PutEquivalent(store.Equivalent{Old: "AN960-10", New: "NAS1149F0363P", Source: "letter"})
	w.must(err)
	if d := cmp.Diff([]string{"NAS1149F0363P"}, e.Items()); d != "" {
		t.Errorf("a new number touched (-want +got):\n%s", d)
	}
}

// Whoever hears of entries hears of each once, in order, when it is on disk.
func TestListen(t *testing.T) {
	w := newWorld(t)
	var heard []uint64
	w.Listen(func(e store.Entry) {
		if kept, err := w.Entry(e.Seq); err != nil || kept.Text != e.Text {
			t.Errorf("entry %d is told before it is kept: %v", e.Seq, err)
		}
		heard = append(heard, e.Seq)
	})
	last := newestSeq(w)
	w.receive(1, found(24))
	if _, err := w.Stow(); err == nil {
		t.Error("stowing nothing was taken")
	}
	w.must(second(w.Undo()))
	if d := cmp.Diff([]uint64{last + 1, last + 2}, heard); d != "" {
		t.Errorf("heard (-want +got):\n%s", d)
	}
}
