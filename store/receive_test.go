package store_test

import (
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// What findings make of the stock in a bag, one after the other.
func TestReceive(t *testing.T) {
	t.Parallel()
	pieces := measure.Pieces
	for _, row := range []struct {
		name     string
		line     int
		findings []store.Finding
		state    string
		stock    []string
	}{
		{"all here", 1, []store.Finding{found(24)}, "all here", []string{"AN3-5A in C1, H103: 24 ea"}},
		{"none", 1, []store.Finding{found(0)}, "24 short", nil},
		{"some", 1, []store.Finding{found(20)}, "4 short", []string{"AN3-5A in C1, H103: 20 ea"}},
		{"over", 1, []store.Finding{found(28)}, "+4 over", []string{"AN3-5A in C1, H103: 28 ea"}},
		{
			"some damaged", 1,
			[]store.Finding{{Found: pieces(24), Damaged: pieces(1)}},
			"1 damaged",
			[]string{"AN3-5A in C1, H103: 23 ea", "AN3-5A (damaged) in C1, H103: 1 ea"},
		},
		{
			"all damaged", 1,
			[]store.Finding{{Found: pieces(24), Damaged: pieces(24)}},
			"24 damaged",
			[]string{"AN3-5A (damaged) in C1, H103: 24 ea"},
		},
		{"a second finding replaces the first", 1, []store.Finding{found(20), found(24)}, "all here", []string{"AN3-5A in C1, H103: 24 ea"}},
		{"damage that was none", 1, []store.Finding{{Found: pieces(24), Damaged: pieces(3)}, found(24)}, "all here", []string{"AN3-5A in C1, H103: 24 ea"}},
		{"found, and then nothing", 1, []store.Finding{found(20), found(0)}, "24 short", nil},
		{
			"wrong revision", 4,
			[]store.Finding{{Found: pieces(0), Came: &store.Came{Designation: "OQ-20-040-A", Quantity: pieces(1), Revision: true}}},
			"wrong revision",
			[]string{"OQ-20-040-A (set apart) in C1, SK20: 1 ea"},
		},
		{
			"another number in its place", 2,
			[]store.Finding{{Found: pieces(12), Came: &store.Came{Designation: "AN3-11A", Quantity: pieces(4)}}},
			"4 short",
			[]string{"AN3-11A (set apart) in C1, H103: 4 ea", "AN3-6A in C1, H103: 12 ea"},
		},
		{
			"no other number after all", 2,
			[]store.Finding{{Found: pieces(12), Came: &store.Came{Designation: "AN3-11A", Quantity: pieces(4)}}, found(16)},
			"all here",
			[]string{"AN3-6A in C1, H103: 16 ea"},
		},
		{"the lot of the list", 7, []store.Finding{found(20)}, "all here", []string{"MS21042-3 lot Q7714 in C1, H104: 20 ea"}},
		{"the lot of the bag", 7, []store.Finding{{Found: pieces(20), Lot: " Q7741 "}}, "all here", []string{"MS21042-3 lot Q7741 in C1, H104: 20 ea"}},
		{"the lot corrected", 7, []store.Finding{{Found: pieces(20), Lot: "Q7741"}, found(20)}, "all here", []string{"MS21042-3 lot Q7714 in C1, H104: 20 ea"}},
		{"back-ordered, and here all the same", 5, []store.Finding{found(2)}, "all here", []string{"OQ-30-033 in C1, SK30: 2 ea"}},
		{"by weight", 3, []store.Finding{{Found: measure.Quantity{Micro: 250_000, Unit: measure.Pound}}}, "0.05 lb short", []string{"AN426AD3-3.5 in C1, H101: 0.25 lb"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			for _, f := range row.findings {
				w.receive(row.line, f)
			}
			l, err := w.Line(w.ship, store.LineID(row.line))
			w.must(err)
			if got := l.Describe(true); got != row.state {
				t.Errorf("findings %+v: the line is %q, want %q", row.findings, got, row.state)
			}
			w.wantStock(row.stock...)
		})
	}
}

// A line may be looked at again after its pieces have gone to their drawers.
func TestReceiveAgainAfterStowing(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name  string
		again store.Finding
		stock []string
	}{
		{"more", found(28), []string{"AN3-5A in C1, H103: 8 ea", "AN3-5A in Garage, Cabinet A, A-01: 20 ea"}},
		{"as many as are stowed", found(20), []string{"AN3-5A in Garage, Cabinet A, A-01: 20 ea"}},
		{
			"the rest damaged",
			store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(4)},
			[]string{"AN3-5A (damaged) in C1, H103: 4 ea", "AN3-5A in Garage, Cabinet A, A-01: 20 ea"},
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.receive(1, found(24))
			_, err := w.Stow(w.to("AN3-5A", "H103", 20, "A-01"))
			w.must(err)
			w.receive(1, row.again)
			w.wantStock(row.stock...)
		})
	}
}

// A heap is as counted only until something is found that nobody counted.
func TestReceiveCounted(t *testing.T) {
	w := newWorld(t)
	counted := func(want bool) {
		t.Helper()
		c, ok, err := w.LastCounted(w.in("AN3-5A", "H103"))
		w.must(err)
		if ok != want {
			t.Errorf("counted: %v (%+v), want %v", ok, c, want)
		}
	}
	counted(false)
	w.receive(1, found(24))
	counted(true)
	w.receive(1, store.Finding{Found: measure.Pieces(24), Counted: false, Looked: true})
	counted(true)
	w.receive(1, store.Finding{Found: measure.Pieces(22), Looked: true})
	counted(false)
	w.receive(1, store.Finding{Found: measure.Pieces(22), Counted: true})
	counted(true)
}

// What is on no line becomes a line of its own after the last, and counts as over.
func TestExtra(t *testing.T) {
	w := newWorld(t)
	before, err := w.Totals(w.ship)
	w.must(err)
	f := found(4)
	_, err = w.ReceiveAll([]store.Line{{Shipment: w.ship, Crate: "C1", Group: "H103", Place: w.place["H103"], Designation: " AN3-11A", Finding: &f}})
	w.must(err)
	l, err := w.Line(w.ship, 8)
	w.must(err)
	if !l.Extra || l.Designation != "AN3-11A" {
		t.Errorf("the extra is %+v, want line 8 of AN3-11A", l)
	}
	if got := l.Describe(true); got != "+4 over" {
		t.Errorf("the extra is %q", got)
	}
	w.wantStock("AN3-11A in C1, H103: 4 ea")
	after, err := w.Totals(w.ship)
	w.must(err)
	if after[store.Over] != before[store.Over] {
		t.Errorf("the totals count an extra: %v, then %v", before, after)
	}
	w.receive(8, found(5))
	w.wantStock("AN3-11A in C1, H103: 5 ea")
	_, err = w.Undo()
	w.must(err)
	_, err = w.Undo()
	w.must(err)
	w.wantStock()
	if _, err := w.Line(w.ship, 8); store.KindOf(err) != store.NotFound {
		t.Errorf("line 8 after the undo: %v", err)
	}
}

// A crate that was unpacked and thrown away comes back into use when a part of it
// turns up late, and its label says so.
func TestReceiveAfterTheCrateIsRetired(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(24))
	_, err := w.Stow(store.Transfer{StockKey: w.in("AN3-5A", "H103"), To: w.place["A-01"]})
	w.must(err)
	e, err := w.RetirePlace(w.place["C1"])
	w.must(err)
	if want := "crate C1 taken out of use with 5 places in it"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	answer := func(place string) store.Answer {
		t.Helper()
		p, err := w.Place(w.place[place])
		w.must(err)
		r, err := w.Resolve(string(p.Tag))
		w.must(err)
		return r.Answer
	}
	if c, b := answer("C1"), answer("SK30"); c != store.TagRetired || b != store.TagRetired {
		t.Errorf("tags of the crate and a bag: %s, %s", c, b)
	}
	w.receive(5, found(2))
	w.wantStock("AN3-5A in Garage, Cabinet A, A-01: 24 ea", "OQ-30-033 in C1, SK30: 2 ea")
	if c, b, other := answer("C1"), answer("SK30"), answer("H101"); c != store.TagFound || b != store.TagFound || other != store.TagRetired {
		t.Errorf("tags of the crate, its bag and another bag: %s, %s, %s", c, b, other)
	}
}
