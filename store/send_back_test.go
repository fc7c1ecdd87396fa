package store_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// What is sent back is no longer in the shop, of whatever condition it was, and the lot says
// so; nothing is scrapped by it, and nothing owed.
func TestSendBack(t *testing.T) {
	w := newWorld(t)
	w.receive(1, store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(2), Counted: true})
	heaps, err := w.Holdings("AN3-5A")
	w.must(err)
	back := func(h store.Holding, n int64, to, reason string) error {
		return second(w.SendBack(store.Transfer{StockKey: h.StockKey, Quantity: measure.Pieces(n)}, to, reason))
	}
	good, damaged := heaps[0], heaps[1]
	if damaged.Condition != store.Damaged {
		good, damaged = damaged, good
	}
	e, err := w.SendBack(store.Transfer{StockKey: damaged.StockKey}, " Bolt  works", "bent heads")
	w.must(err)
	if e.Text != "AN3-5A: 2 ea sent back to Bolt works, bent heads" || e.Reason != "bent heads" || e.Verb != store.VerbSendBack {
		t.Errorf("%q, because %q", e.Text, e.Reason)
	}
	if taken, _ := e.Scrapped(); len(taken) > 0 {
		t.Errorf("it is counted as waste: %v", taken)
	}
	w.must(back(good, 4, "Bolt works", "wrong finish"))
	w.wantStock("AN3-5A in C1, H103: 18 ea")
	gone, err := w.Gone("AN3-5A")
	w.must(err)
	if d := cmp.Diff([]store.Gone{{Item: "AN3-5A", Lot: good.Lot, How: "sent back", Amount: store.Exact(measure.Pieces(6))}}, gone); d != "" {
		t.Errorf("gone (-want +got):\n%s", d)
	}
	lost, err := w.Scrapped()
	w.must(err)
	if len(lost) > 0 {
		t.Errorf("scrapped: %+v", lost)
	}
	line, err := w.Line(w.ship, 1)
	w.must(err)
	ship, err := w.Shipment(w.ship)
	w.must(err)
	if due, why := ship.Due(line); !due.IsZero() {
		t.Errorf("%s is owed: %s", due, why)
	}
	before := newestSeq(w)
	wantRefusal(t, back(good, 19, "Bolt works", "spare"), store.Conflict, "There is 18 ea of AN3-5A there, and 19 ea cannot be taken: count it, or take less.")
	wantRefusal(t, back(good, 1, " ", "spare"), store.Invalid, "Whom it is sent back to is empty: type it.")
	wantRefusal(t, back(good, 1, "Bolt works", ""), store.Invalid, "The reason is empty: type it.")
	if newestSeq(w) != before {
		t.Error("a refusal made an entry")
	}
	w.must(second(w.Undo()))
	w.must(second(w.Undo()))
	if gone, err := w.Gone("AN3-5A"); err != nil || len(gone) > 0 {
		t.Errorf("both undone, gone: %v, %v", gone, err)
	}
}
