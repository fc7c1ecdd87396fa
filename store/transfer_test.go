package store_test

import (
	"testing"
	"time"

	"stowright/store"
	"stowright/store/measure"
)

func TestTransfers(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name  string
		do    func(w world) (store.Entry, error)
		text  string
		stock []string
	}{
		{
			"stow some", func(w world) (store.Entry, error) { return w.Stow(w.to("AN3-5A", "H103", 20, "A-01")) },
			"AN3-5A: 20 ea stowed in A-01",
			[]string{"AN3-5A in C1, H103: 4 ea", "AN3-5A in Garage, Cabinet A, A-01: 20 ea", "AN3-6A in C1, H103: 12 ea"},
		},
		{
			"stow all", func(w world) (store.Entry, error) { return w.Stow(w.to("AN3-5A", "H103", 0, "A-01")) },
			"AN3-5A: 24 ea stowed in A-01",
			[]string{"AN3-5A in Garage, Cabinet A, A-01: 24 ea", "AN3-6A in C1, H103: 12 ea"},
		},
		{"stow two kinds", func(w world) (store.Entry, error) {
			return w.Stow(w.to("AN3-5A", "H103", 0, "A-01"), w.to("AN3-6A", "H103", 0, "A-01"))
		}, "2 kinds of things stowed in A-01", []string{"AN3-5A in Garage, Cabinet A, A-01: 24 ea", "AN3-6A in Garage, Cabinet A, A-01: 12 ea"}},
		{"stow one kind in two places", func(w world) (store.Entry, error) {
			return w.Stow(w.to("AN3-5A", "H103", 20, "A-01"), w.to("AN3-5A", "H103", 4, "A-02"))
		}, "AN3-5A: 24 ea stowed in 2 places", []string{"AN3-5A in Garage, Cabinet A, A-01: 20 ea", "AN3-5A in Garage, Cabinet A, A-02: 4 ea", "AN3-6A in C1, H103: 12 ea"}},
		{"move on", func(w world) (store.Entry, error) {
			w.must(second(w.Stow(w.to("AN3-5A", "H103", 0, "A-01"))))
			return w.Move(w.to("AN3-5A", "A-01", 5, "S1"))
		}, "AN3-5A: 5 ea moved to S1", []string{"AN3-5A in Garage, Cabinet A, A-01: 19 ea", "AN3-5A in Garage, S1: 5 ea", "AN3-6A in C1, H103: 12 ea"}},
		{
			"pull", func(w world) (store.Entry, error) { return w.Pull("SA-10", w.to("AN3-5A", "H103", 6, "H103")) },
			"AN3-5A: 6 ea pulled for SA-10 Fin",
			[]string{"AN3-5A in C1, H103: 18 ea", "AN3-5A in SA-10: 6 ea", "AN3-6A in C1, H103: 12 ea"},
		},
		{"bring back what was pulled", func(w world) (store.Entry, error) {
			w.must(second(w.Pull("SA-10", w.to("AN3-5A", "H103", 6, "H103"))))
			return w.Move(w.to("AN3-5A", "SA-10", 2, "A-01"))
		}, "AN3-5A: 2 ea moved to A-01", []string{"AN3-5A in C1, H103: 18 ea", "AN3-5A in Garage, Cabinet A, A-01: 2 ea", "AN3-5A in SA-10: 4 ea", "AN3-6A in C1, H103: 12 ea"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.receive(1, found(24))
			w.receive(2, found(12))
			e, err := row.do(w)
			w.must(err)
			if e.Text != row.text {
				t.Errorf("the entry says %q, want %q", e.Text, row.text)
			}
			w.wantStock(row.stock...)
		})
	}
}

// Of several transfers all happen or none.
func TestTransfersAreAllOrNone(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	before := newestSeq(w)
	_, err := w.Stow(w.to("AN3-5A", "H103", 20, "A-01"), w.to("AN3-5A", "H103", 5, "A-02"))
	wantRefusal(t, err, store.Conflict, "There is 4 ea of AN3-5A there, and 5 ea cannot be taken: count it, or take less.")
	w.wantStock("AN3-5A in C1, H103: 24 ea")
	if got := newestSeq(w); got != before {
		t.Errorf("a refusal wrote entry %d", got)
	}
}

// A count goes along with a heap that moves whole, and is lost where heaps mix.
func TestCountedGoesAlong(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	counted := func(place string, want bool) {
		t.Helper()
		_, ok, err := w.LastCounted(w.in("AN3-5A", place))
		w.must(err)
		if ok != want {
			t.Errorf("counted in %s: %v, want %v", place, ok, want)
		}
	}
	w.must(second(w.Stow(w.to("AN3-5A", "H103", 0, "A-01"))))
	counted("A-01", true)
	counted("H103", false)
	w.must(second(w.Move(w.to("AN3-5A", "A-01", 4, "A-02"))))
	counted("A-01", true) // 24 were counted and 4 of them went: that is known
	counted("A-02", false)
	w.must(second(w.Move(w.to("AN3-5A", "A-02", 0, "A-01"))))
	counted("A-01", false)
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(24))))
	counted("A-01", true)
	w.must(second(w.Undo()))
	counted("A-01", false)
}

func TestCount(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, text string
		n          int64
		stock      []string
	}{
		{"as the shop thought", "counted AN3-5A in H103: 24 ea", 24, []string{"AN3-5A in C1, H103: 24 ea"}},
		{"fewer", "counted AN3-5A in H103: 22 ea (was 24 ea)", 22, []string{"AN3-5A in C1, H103: 22 ea"}},
		{"more", "counted AN3-5A in H103: 25 ea (was 24 ea)", 25, []string{"AN3-5A in C1, H103: 25 ea"}},
		{"none", "counted AN3-5A in H103: 0 ea (was 24 ea)", 0, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.receive(1, found(24))
			w.SetHand("Youngster")
			w.clock.Set(t, "2026-03-20")
			e, err := w.Count(w.in("AN3-5A", "H103"), measure.Pieces(row.n))
			w.must(err)
			if e.Text != row.text || e.Hand != "Youngster" || e.Verb != store.VerbCount {
				t.Errorf("the entry is %s %q by %s, want %q by Youngster", e.Verb, e.Text, e.Hand, row.text)
			}
			w.wantStock(row.stock...)
			c, ok, err := w.LastCounted(w.in("AN3-5A", "H103"))
			w.must(err)
			if want := (store.Counted{At: time.Date(2026, 3, 20, 9, 0, 0, 0, time.UTC), Hand: "Youngster"}); !ok || c != want {
				t.Errorf("counted %+v, %v; want %+v", c, ok, want)
			}
		})
	}
}

// Counting what the shop did not know makes the item and the heap.
func TestCountSomethingNew(t *testing.T) {
	w := newWorld(t)
	w.must(second(w.Count(store.StockKey{Item: " AN4-12A ", Place: w.place["S1"], Lot: " L1", Condition: store.Damaged}, measure.Pieces(3))))
	w.wantStock("AN4-12A lot L1 (damaged) in Garage, S1: 3 ea")
	item, err := w.Item("AN4-12A")
	w.must(err)
	if item.Unit != measure.Each {
		t.Errorf("the item made is %+v", item)
	}
}

func rivets(q, low, high int64) store.Amount {
	return store.Amount{Quantity: measure.Pieces(q), Low: measure.Pieces(low), High: measure.Pieces(high)}
}

// Rivets listed by the pound are weighed to a number of pieces; pulling counted
// pieces from them leaves an estimate, down to where nothing may be left.
func TestWeigh(t *testing.T) {
	w := newWorld(t)
	w.receive(3, store.Finding{Found: measure.Quantity{Micro: 300_000, Unit: measure.Pound}})
	e, err := w.Weigh(w.in("AN426AD3-3.5", "H101"), rivets(1680, 1668, 1692))
	w.must(err)
	if want := "weighed AN426AD3-3.5 in H101: about 1,680 ea (1,668 to 1,692) (was 0.3 lb)"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.must(second(w.Stow(w.to("AN426AD3-3.5", "H101", 0, "A-01"))))
	pull := func(n int64) error {
		return second(w.Pull("SA-10", because(w.to("AN426AD3-3.5", "A-01", n, "A-01")).Transfer))
	}
	w.must(pull(212))
	w.wantStock("AN426AD3-3.5 in Garage, Cabinet A, A-01: about 1,468 ea (1,456 to 1,480)", "AN426AD3-3.5 in SA-10: 212 ea")
	w.must(pull(1468))
	w.wantStock("AN426AD3-3.5 in Garage, Cabinet A, A-01: about 0 ea (0 to 12)", "AN426AD3-3.5 in SA-10: 1,680 ea")
	wantRefusal(t, pull(1), store.Conflict, "There is about 0 ea (0 to 12) of AN426AD3-3.5 there by the records, perhaps nothing: count it first.")
	_, err = w.RetirePlace(w.place["A-01"])
	wantRefusal(t, err, store.Conflict, "A-01 still holds AN426AD3-3.5: move that first.")
	w.must(second(w.Count(w.in("AN426AD3-3.5", "A-01"), measure.Pieces(0))))
	w.wantStock("AN426AD3-3.5 in SA-10: 1,680 ea")
	for range 5 {
		w.must(second(w.Undo()))
	}
	w.wantStock("AN426AD3-3.5 in C1, H101: 0.3 lb")
	item, err := w.Item("AN426AD3-3.5")
	w.must(err)
	if item.Unit != measure.Pound {
		t.Errorf("after the undo the item is kept by %s", item.Unit)
	}
}

// What is listed by the pound and was weighed to pieces can be received again by the
// pound: the line says so, and the stock, which is counted, is left alone.
func TestReceiveAfterWeighing(t *testing.T) {
	w := newWorld(t)
	pounds := func(micro int64) store.Finding {
		return store.Finding{Found: measure.Quantity{Micro: micro, Unit: measure.Pound}}
	}
	w.receive(3, pounds(300_000))
	w.must(second(w.Weigh(w.in("AN426AD3-3.5", "H101"), rivets(1680, 1668, 1692))))
	e, err := w.Receive(w.ship, 3, pounds(250_000))
	w.must(err)
	if want := "line 3, AN426AD3-3.5: found 0.25 lb; its stock is kept by ea and stays as it was counted"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.wantStock("AN426AD3-3.5 in C1, H101: about 1,680 ea (1,668 to 1,692)")
	l, err := w.Line(w.ship, 3)
	w.must(err)
	if got := l.Describe(true); got != "0.05 lb short" {
		t.Errorf("the line is %q", got)
	}
	bad := pounds(250_000)
	bad.Damaged = measure.Quantity{Micro: 50_000, Unit: measure.Pound}
	_, err = w.Receive(w.ship, 3, bad)
	wantRefusal(t, err, store.Conflict, "AN426AD3-3.5 is kept by ea here, and line 3 says lb: nothing is converted, so move what is damaged by ea.")
	for range 3 {
		w.must(second(w.Undo()))
	}
	w.wantStock()
}

// Several lines are one entry, and all of them happen or none.
func TestReceiveAll(t *testing.T) {
	w := newWorld(t)
	line := func(number int, n int64) store.Line {
		l, err := w.Line(w.ship, store.LineID(number))
		w.must(err)
		f := found(n)
		l.Finding = &f
		return l
	}
	before := newestSeq(w)
	extra := line(2, 4)
	extra.ID, extra.Designation = 0, "AN3-11A"
	e, err := w.ReceiveAll([]store.Line{line(2, 12), line(1, 28), extra})
	w.must(err)
	if want := "line 2, AN3-6A: found 12 ea; line 1, AN3-5A: found 28 ea; line 8, AN3-11A: found 4 ea"; e.Text != want || newestSeq(w) != before+1 {
		t.Errorf("the entry is %q, %d entries; want %q and one", e.Text, newestSeq(w)-before, want)
	}
	stock := []string{"AN3-11A in C1, H103: 4 ea", "AN3-5A in C1, H103: 28 ea", "AN3-6A in C1, H103: 12 ea"}
	w.wantStock(stock...)
	w.must(second(w.Undo()))
	w.wantStock()
	w.must(second(w.Redo()))
	w.wantStock(stock...)
	absent := line(1, 3)
	absent.ID = 77
	_, err = w.ReceiveAll([]store.Line{line(1, 1), absent})
	wantRefusal(t, err, store.NotFound, "The packing list has no line 77: see its lines.")
	w.wantStock(stock...)
	_, err = w.ReceiveAll(nil)
	wantRefusal(t, err, store.Invalid, "Nothing was found: say what the bag holds.")
	_, err = w.ReceiveAll([]store.Line{{Shipment: w.ship, ID: 1, Designation: "AN3-5A"}})
	wantRefusal(t, err, store.Invalid, "Say how many AN3-5A were found: count them.")
}
