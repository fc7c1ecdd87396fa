package store_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// told are the numbers of the entries that a history tells of, and the last of them.
func (w world) told(about store.About) (seqs []uint64, last store.Done) {
	w.t.Helper()
	w.must(w.History(w.t.Context(), about, func(d store.Done) error {
		seqs, last = append(seqs, d.Seq), d
		return nil
	}))
	return seqs, last
}

// slow is what History looks for, by decoding every entry and asking its changes.
func (w world) slow(about func(c store.Change) bool) []uint64 {
	w.t.Helper()
	all, err := w.Entries(0, 1_000_000)
	w.must(err)
	undone := map[uint64]bool{}
	for _, e := range all { // the newest first: an undo that was undone itself undoes nothing
		if (e.Verb == store.VerbUndo || e.Verb == store.VerbRedo) && !undone[e.Seq] {
			undone[e.Undoes] = true
		}
	}
	var seqs []uint64
	for _, e := range all {
		if e.Verb != store.VerbUndo && e.Verb != store.VerbRedo && !undone[e.Seq] && slices.ContainsFunc(e.Changes, about) {
			seqs = append(seqs, e.Seq)
		}
	}
	slices.Sort(seqs)
	return seqs
}

// A history tells of every entry that is about what is asked for, and of no other but those
// of decisions and alerts; what was undone is none of it, until it is done again.
func TestHistory(t *testing.T) {
	w, lot := nuts(t)
	name := store.LotName(lot)
	_, _, err := w.Note(store.Note{Kind: store.LookNote, SubAssembly: "SA-20", Second: "Partner"})
	w.must(err)
	w.must(second(w.Move(w.to("MS21042-3", "A-01", 2, "A-02"))))
	w.must(second(w.Undo()))
	about := func(what string) func(c store.Change) bool {
		return func(c store.Change) bool { return slices.Contains(splitKey(c.Key), what) }
	}
	seqs, _ := w.told(store.About{Lots: []string{name}})
	if d := cmp.Diff(w.slow(about(name)), seqs); d != "" || len(seqs) != 4 { // received, stowed, pulled, fitted
		t.Errorf("of %s (-want +got):\n%s", name, d)
	}
	w.must(second(w.Redo()))
	again, last := w.told(store.About{Lots: []string{name}})
	if len(again) != 5 || last.Verb != store.VerbMove || !slices.Equal(last.Lots, []string{name}) || len(last.Moved) != 2 {
		t.Errorf("done again, it is %v, at last %+v", again, last)
	}
	subs, last := w.told(store.About{SubAssemblies: []string{"SA-20"}})
	if len(subs) != 4 || len(last.Notes) != 1 || last.Notes[0].Second != "Partner" { // made, pulled, fitted, noted
		t.Errorf("of SA-20: %v, at last %+v", subs, last)
	}
	items, _ := w.told(store.About{Items: []string{"MS21042-3"}})
	if d := cmp.Diff(w.slow(about("MS21042-3")), items); d != "" {
		t.Errorf("of the item (-want +got):\n%s", d)
	}
	if none, _ := w.told(store.About{Items: []string{"AN99"}}); none != nil {
		t.Errorf("of an item that is not: %v", none)
	}
}

func splitKey(key string) []string {
	var parts []string
	for {
		i := slices.Index([]byte(key), 0)
		if i < 0 {
			return append(parts, key)
		}
		parts, key = append(parts, key[:i]), key[i+1:]
	}
}

// A name is found however the journal spells it.
func TestHistoryOfAnOddName(t *testing.T) {
	w := newWorld(t)
	const odd = `5 < "6" & ä\`
	w.must(second(w.PutItem(store.Item{Designation: odd, Unit: measure.Each})))
	seqs, _ := w.told(store.About{Items: []string{odd}})
	if len(seqs) != 1 {
		t.Errorf("%v", seqs)
	}
}

func TestHistoryStops(t *testing.T) {
	w, _ := nuts(t)
	enough := errors.New("enough")
	if err := w.History(t.Context(), store.About{Items: []string{"MS21042-3"}}, func(store.Done) error { return enough }); !errors.Is(err, enough) {
		t.Errorf("%v", err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if err := w.History(ended, store.About{}, func(store.Done) error { return nil }); err != nil {
		t.Errorf("a short journal is gone over in one go: %v", err)
	}
}

// What LotHeaps says of each heap is what Whereabouts says of each lot.
func TestLotHeapsAreTheWhereabouts(t *testing.T) {
	w, kit, later := twoLots(t)
	stow := w.to("AN3-5A", "F1", 0, "A-01")
	stow.Meeting = store.PourLots
	w.must(second(w.Stow(stow)))
	w.must(second(w.Pull("SA-21", w.to("AN3-5A", "A-01", 20, "SA-21"))))
	w.learnPlaces()
	w.must(second(w.Fit("SA-21", fitting(store.Transfer{StockKey: w.in("AN3-5A", "SA-21")}))))
	w.must(second(w.Scrap(w.to("AN3-5A", "A-01", 1, "A-01"), "spoiled")))
	got := map[string][]string{}
	heaps := 0
	w.must(w.LotHeaps(func(h store.LotHeap) error {
		heaps++
		for _, share := range h.Of {
			if h.Item == "AN3-5A" {
				got[share.Lot.Name()] = append(got[share.Lot.Name()], fmt.Sprint(share.Bounds, " of ", h.All, " ", h.Place, h.SubAssembly, h.Gone))
			}
		}
		return nil
	}))
	for _, lot := range []string{kit, later} {
		where, err := w.Whereabouts("AN3-5A", lot)
		w.must(err)
		var want []string
		for _, at := range where.At {
			want = append(want, fmt.Sprint(at.Bounds, " of ", at.All, " ", at.Place, at.SubAssembly, at.Gone))
		}
		slices.Sort(want)
		slices.Sort(got[lot])
		if d := cmp.Diff(want, got[lot]); d != "" {
			t.Errorf("%s (-whereabouts +heaps):\n%s", lot, d)
		}
	}
	stock, err := w.Stock()
	w.must(err)
	if heaps <= len(stock) {
		t.Errorf("%d heaps, and %d are in stock alone", heaps, len(stock))
	}
}

// A lot that an issue names is named, though another one in it is one digit away.
func TestNamedIsNotNear(t *testing.T) {
	w, _ := nuts(t)
	n := w.alert(0, store.Issue{Item: "MS21042-3", Printed: []string{"q7714", "Q7715"}})
	w.wantFound(n, "named: 14 quarantined (A-1)", "named: 6 SA-20")
}
