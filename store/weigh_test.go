package store_test

import (
	"errors"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// rivetBag is the weighing of the acceptance story: 136.1 g net, of which 100
// pieces weigh 8.1 g.
func rivetBag() measure.Weighing {
	g := func(tenths int64) measure.Quantity {
		return measure.Quantity{Micro: tenths * 100_000, Unit: measure.Gram}
	}
	return measure.Weighing{Step: g(1), Tare: g(243), Gross: g(1604), Sample: measure.Sample{Pieces: 100, Net: g(81), Step: g(1)}}
}

// tooSmall is the same with a sample that the scale cannot weigh.
func tooSmall() measure.Weighing {
	w := rivetBag()
	w.Sample.Pieces, w.Sample.Net.Micro = 10, 800_000
	return w
}

// A heap by the pound is weighed to pieces, and what a piece weighs is remembered.
func TestWeighSample(t *testing.T) {
	w := newWorld(t)
	w.receive(3, store.Finding{Found: measure.Quantity{Micro: 300_000, Unit: measure.Pound}})
	heap := w.in("AN426AD3-3.5", "H101")
	_, err := w.WeighSample(heap, tooSmall())
	wantRefusal(t, err, store.Invalid, "A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.")
	var reading *measure.WeighError
	if !errors.As(err, &reading) || reading.Reading != measure.PiecesReading {
		t.Errorf("the refusal does not say which reading: %v", err)
	}
	e, err := w.WeighSample(heap, rivetBag())
	w.must(err)
	if want := "weighed AN426AD3-3.5 in H101: about 1,680 ea (1,668 to 1,692) (was 0.3 lb)"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.wantStock("AN426AD3-3.5 in C1, H101: about 1,680 ea (1,668 to 1,692)")
	item, err := w.Item("AN426AD3-3.5")
	w.must(err)
	settings, err := w.Settings()
	w.must(err)
	if item.Sample == nil || *item.Sample != rivetBag().Sample || settings.ScaleStep != rivetBag().Step {
		t.Errorf("remembered: %+v, %s", item.Sample, settings.ScaleStep)
	}
	w.must(second(w.Undo()))
	w.wantStock("AN426AD3-3.5 in C1, H101: 0.3 lb")
	if item, err = w.Item("AN426AD3-3.5"); err != nil || item.Sample != nil || item.Unit != measure.Pound {
		t.Errorf("after the undo: %+v, %v", item, err)
	}
}

// Line 3 is listed by the pound, line 1 by the piece.
func TestReceiveWeighed(t *testing.T) {
	w := newWorld(t)
	bag := rivetBag()
	bolts := rivetBag() // about 24: 24 x 5.1 g over the tare
	bolts.Gross.Micro = bolts.Tare.Micro + 122_400_000
	bolts.Sample = measure.Sample{Pieces: 10, Net: measure.Quantity{Micro: 51_000_000, Unit: measure.Gram}, Step: bolts.Step}
	for _, row := range []struct {
		name     string
		line     int
		weigh    func() measure.Weighing
		found    string
		state    store.State
		describe string
		stock    string
	}{
		{"by the pound", 3, func() measure.Weighing { return bag }, "0.3 lb", store.AllHere, "all here", "AN426AD3-3.5 in C1, H101: about 1,680 ea (1,668 to 1,692)"},
		{
			"less by the pound", 3, func() measure.Weighing { w := bag; w.Gross.Micro -= 36_000_000; return w }, "0.22 lb", store.Short, "about 0.08 lb short",
			"AN426AD3-3.5 in C1, H101: about 1,236 ea (1,226 to 1,245)",
		},
		{"by the piece", 1, func() measure.Weighing { return bolts }, "24 ea", store.AllHere, "all here", "AN3-5A in C1, H103: about 24 ea (23 to 25)"},
		{
			"one less may be all", 1, func() measure.Weighing { w := bolts; w.Gross.Micro -= 4_900_000; return w }, "23 ea", store.AllHere, "all here",
			"AN3-5A in C1, H103: about 23 ea (22 to 24)",
		},
		{
			"four more are not", 1, func() measure.Weighing { w := bolts; w.Gross.Micro += 20_400_000; return w }, "28 ea", store.Over, "about +4 over",
			"AN3-5A in C1, H103: about 28 ea (27 to 29)",
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			m := row.weigh()
			_, err := w.Receive(w.ship, store.LineID(row.line), store.Finding{Counted: true, Weighing: &m})
			w.must(err)
			l, err := w.Line(w.ship, store.LineID(row.line))
			w.must(err)
			if l.Finding.Found.String() != row.found || l.State(true) != row.state || l.Describe(true) != row.describe {
				t.Errorf("found %s, %s, %q; want %s, %s, %q", l.Finding.Found, l.State(true), l.Describe(true), row.found, row.state, row.describe)
			}
			w.wantStock(row.stock)
			item, err := w.Item(l.Designation)
			w.must(err)
			settings, err := w.Settings()
			w.must(err)
			if item.Sample == nil || *item.Sample != m.Sample || settings.ScaleStep != m.Step {
				t.Errorf("remembered: %+v, %s; want %+v, %s", item.Sample, settings.ScaleStep, m.Sample, m.Step)
			}
			w.must(second(w.Undo()))
			w.wantStock()
			if item, err = w.Item(l.Designation); err != nil || item.Sample != nil {
				t.Errorf("after the undo: %+v, %v", item.Sample, err)
			}
		})
	}
}

// A finding by weight replaces one by hand and is replaced by one, whatever unit each
// is in; what has left its bag is not counted twice.
func TestReceiveWeighedAgain(t *testing.T) {
	w := newWorld(t)
	bag := rivetBag()
	pounds := store.Finding{Found: measure.Quantity{Micro: 300_000, Unit: measure.Pound}, Counted: true}
	weighed := store.Finding{Counted: true, Weighing: &bag}
	for range 2 {
		w.receive(3, pounds)
		w.wantStock("AN426AD3-3.5 in C1, H101: 0.3 lb")
		w.receive(3, weighed)
		w.wantStock("AN426AD3-3.5 in C1, H101: about 1,680 ea (1,668 to 1,692)")
	}
	w.receive(3, pounds)
	w.must(second(w.Stow(w.to("AN426AD3-3.5", "H101", 0, "A-01"))))
	_, err := w.Receive(w.ship, 3, weighed)
	wantRefusal(t, err, store.Conflict, "AN426AD3-3.5 is kept by lb and is in several heaps: bring them together before they are given in ea.")
	w.must(second(w.WeighSample(w.in("AN426AD3-3.5", "A-01"), bag)))
	_, err = w.Receive(w.ship, 3, weighed)
	wantRefusal(t, err, store.Conflict, "The 0.3 lb found of line 3 are no longer together in their bag: weigh AN426AD3-3.5 where it is now.")
	w.wantStock("AN426AD3-3.5 in Garage, Cabinet A, A-01: about 1,680 ea (1,668 to 1,692)")

	small := tooSmall()
	_, err = w.Receive(w.ship, 1, store.Finding{Counted: true, Weighing: &small})
	wantRefusal(t, err, store.Invalid, "A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.")
	_, err = w.Receive(w.ship, 1, store.Finding{Counted: true, Weighing: &bag, Damaged: measure.Pieces(1)})
	wantRefusal(t, err, store.Invalid, "Of line 1 some are damaged: set them apart and count the rest by hand.")
}

// What was weighed was of a lot of its own: counted by the pound after all, it is that
// lot which goes, and not the one that the list names.
func TestReceiveWeighedOfAnotherLot(t *testing.T) {
	w := newWorld(t)
	list := store.NewShipment{File: "rivets.csv", Fingerprint: "rivets", Lines: []store.NewLine{{
		Number: 1, Crate: "C9", Designation: "AN426AD3-4", Listed: measure.Quantity{Micro: 300_000, Unit: measure.Pound}, Status: store.Shipped, Lot: "P1",
	}}}
	ship, _, err := w.Import(list)
	w.must(err)
	w.must(second(w.Arrive(ship.ID, store.Delivery{Crates: []string{"C9"}, Arrived: w.Today()})))
	bag := rivetBag()
	for _, row := range []struct {
		finding store.Finding
		stock   string
	}{
		{store.Finding{Counted: true, Lot: "P2", Weighing: &bag}, "AN426AD3-4 lot P2 in C9: about 1,680 ea (1,668 to 1,692)"},
		{store.Finding{Counted: true, Found: measure.Quantity{Micro: 300_000, Unit: measure.Pound}}, "AN426AD3-4 lot P1 in C9: 0.3 lb"},
		{store.Finding{Counted: true, Weighing: &bag}, "AN426AD3-4 lot P1 in C9: about 1,680 ea (1,668 to 1,692)"},
	} {
		w.must(second(w.Receive(ship.ID, 1, row.finding)))
		w.wantStock(row.stock)
	}
}

// No part of a piece is counted, and no sample is kept that no scale showed.
func TestWholePieces(t *testing.T) {
	w := newWorld(t)
	_, err := w.Count(w.in("AN3-5A", "A-01"), measure.Quantity{Micro: 1_500_000, Unit: measure.Each})
	wantRefusal(t, err, store.Invalid, "1.5 is not a whole number of pieces: count AN3-5A again.")
	w.must(second(w.Count(w.in("AN3-5A", "A-01"), measure.Pieces(2))))
	_, err = w.Receive(w.ship, 1, store.Finding{Found: measure.Quantity{Micro: 8_100_000, Unit: measure.Each}, Counted: true})
	wantRefusal(t, err, store.Invalid, "A part of a piece cannot be found of line 1: count whole pieces.")
	small := tooSmall().Sample
	_, err = w.PutItem(store.Item{Designation: "AN3-5A", Unit: measure.Each, Sample: &small})
	wantRefusal(t, err, store.Invalid, "A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.")
}
