package store_test

import (
	"fmt"
	"strings"
	"testing"

	"stowright/store"
	"stowright/store/measure"
)

// What another hand counted of a line is held against what was found, and what two hands
// agree on is what was found. Counts are "hand number", in their order after the first one
// by Builder, who found 24 of which 2 are damaged.
func TestCountLineBlind(t *testing.T) {
	t.Parallel()
	type count struct {
		hand string
		n    int64
	}
	for _, row := range []struct {
		name   string
		counts []count
		found  int64
		stock  int64 // good ones
		says   string
	}{
		{"agrees", []count{{"Partner", 22}}, 24, 22, "line 1, AN3-5A, counted blind: 22 ea (22 by Builder, 09:00; 22 by Partner, 09:00)"},
		{"differs", []count{{"Partner", 20}}, 24, 22, "counted AN3-5A in H103 blind: counts differ: count again"},
		{"differs, and a third agrees with the first", []count{{"Partner", 20}, {"Youngster", 22}}, 24, 22, "line 1, AN3-5A, counted blind: 22 ea (22 by Builder, 09:00; 20 by Partner, 09:00; 22 by Youngster, 09:00)"},
		{"differs, and a third agrees with the second", []count{{"Partner", 20}, {"Youngster", 20}}, 22, 20, "line 1, AN3-5A, counted blind: 20 ea (22 by Builder, 09:00; 20 by Partner, 09:00; 20 by Youngster, 09:00)"},
		{"all differ", []count{{"Partner", 20}, {"Youngster", 21}}, 24, 22, "counted AN3-5A in H103 blind: counts differ: count again"},
		{"the first hand breaks the tie", []count{{"Partner", 20}, {"Builder", 20}}, 22, 20, "line 1, AN3-5A, counted blind: 20 ea (22 by Builder, 09:00; 20 by Partner, 09:00; 20 by Builder, 09:00)"},
		{"none there after all", []count{{"Partner", 0}, {"Youngster", 0}}, 2, 0, "line 1, AN3-5A, counted blind: 0 ea (22 by Builder, 09:00; 0 by Partner, 09:00; 0 by Youngster, 09:00)"},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.SetHand("Builder")
			w.must(second(w.Receive(w.ship, 1, store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(2), Counted: true})))
			var e store.Entry
			for _, c := range row.counts {
				w.SetHand(c.hand)
				var err error
				e, err = w.CountLineBlind(w.ship, 1, store.Exact(measure.Pieces(c.n)), nil)
				w.must(err)
			}
			if e.Text != row.says {
				t.Errorf("the entry says %q, want %q", e.Text, row.says)
			}
			l, err := w.Line(w.ship, 1)
			w.must(err)
			if l.Finding.Found != measure.Pieces(row.found) || l.Finding.Damaged != measure.Pieces(2) {
				t.Errorf("found %s, damaged %s; want %d, 2", l.Finding.Found, l.Finding.Damaged, row.found)
			}
			var lines []string
			if row.stock > 0 {
				lines = append(lines, fmt.Sprintf("AN3-5A in C1, H103: %d ea", row.stock))
			}
			w.wantStock(append([]string{"AN3-5A (damaged) in C1, H103: 2 ea"}, lines...)...)
		})
	}
}

func TestCountLineBlindRefusals(t *testing.T) {
	for _, row := range []struct {
		name     string
		before   func(w world) error
		n        int64
		kind     store.Kind
		sentence string
	}{
		{"not counted", func(w world) error { return nil }, 24, store.NotFound, "Nothing was counted of line 1: count it first, and then another hand does."},
		{"by the same hand", func(w world) error { return second(w.Receive(w.ship, 1, found(24))) }, 24, store.Conflict, "Builder counted line 1: another hand counts now, who has not seen it."},
		{"some have left their bag", func(w world) error {
			if err := second(w.Receive(w.ship, 1, found(24))); err != nil {
				return err
			}
			k := w.heap("AN3-5A", "", "H103")
			w.SetHand("Partner")
			return second(w.Stow(store.Transfer{StockKey: k, To: w.place["S1"], Quantity: measure.Pieces(4)}))
		}, 24, store.Conflict, "Some AN3-5A of line 1 have left their bag already: count them where they are."},
		{"less than nothing", func(w world) error {
			defer w.SetHand("Partner")
			return second(w.Receive(w.ship, 1, found(24)))
		}, -1, store.Invalid, "AN3-5A cannot be less than zero: type what is there."},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.SetHand("Builder")
			w.must(row.before(w))
			_, err := w.CountLineBlind(w.ship, 1, store.Exact(measure.Pieces(row.n)), nil)
			wantRefusal(t, err, row.kind, row.sentence)
		})
	}
}

// Weighing takes part in the second count of a line, by the piece and by the pound. A
// weighing that agrees with the first count changes nothing; one that agrees with another
// count is the finding. Line 1 is listed 24 ea, line 3 0.3 lb.
func TestWeighLineBlind(t *testing.T) {
	bolts := func(n int64) measure.Weighing { // of 5.1 g each
		m := rivetBag()
		m.Sample = measure.Sample{Pieces: 10, Net: measure.Quantity{Micro: 51_000_000, Unit: measure.Gram}, Step: m.Step}
		m.Gross.Micro = m.Tare.Micro + 5_100_000*n
		return m
	}
	rivets := func(less int64) measure.Weighing { // by so many tenths of a gram
		m := rivetBag()
		m.Gross.Micro -= 100_000 * less
		return m
	}
	type count func(w world, line int) (store.Entry, error)
	weighs := func(hand string, m measure.Weighing) count {
		return func(w world, line int) (store.Entry, error) {
			w.SetHand(hand)
			return w.CountLineBlind(w.ship, store.LineID(line), store.Amount{}, &m)
		}
	}
	counts := func(hand string, q measure.Quantity) count {
		return func(w world, line int) (store.Entry, error) {
			w.SetHand(hand)
			return w.CountLineBlind(w.ship, store.LineID(line), store.Exact(q), nil)
		}
	}
	firstWeighed := rivets(0)
	pounds := func(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: measure.Pound} }
	for _, row := range []struct {
		name  string
		line  int
		first store.Finding
		then  []count
		found string
		stock string
		says  string
	}{
		{"agrees with a count", 1, found(24), []count{weighs("Partner", bolts(24))}, "24 ea", "AN3-5A in C1, H103: 24 ea", "counted blind: 24 ea (24 by Builder, 09:00; about 24 (23 to 25) by Partner, 09:00)"},
		{"differs from a count", 1, found(24), []count{weighs("Partner", bolts(20))}, "24 ea", "AN3-5A in C1, H103: 24 ea", "counts differ: count again"},
		{
			"two weighings differ from a count", 1, found(24),
			[]count{weighs("Partner", bolts(20)), weighs("Youngster", bolts(20))},
			"20 ea", "AN3-5A in C1, H103: about 20 ea (19 to 21)", "counted blind: about 20 ea (19 to 21) (24 by Builder",
		},
		{
			"a count goes before a weighing", 1, found(24),
			[]count{weighs("Partner", bolts(22)), weighs("Youngster", bolts(24))},
			"24 ea", "AN3-5A in C1, H103: 24 ea", "counted blind: 24 ea (24 by Builder",
		},
		{
			"weighings with one number in common", 1, found(30),
			[]count{weighs("Partner", bolts(20)), weighs("Youngster", bolts(22))},
			"22 ea", "AN3-5A in C1, H103: about 22 ea (21 to 23)", "counted blind: about 22 ea (21 to 23) (30 by Builder",
		},
		{
			"a count within a weighing differs from the first", 1, found(24),
			[]count{weighs("Partner", bolts(20)), counts("Youngster", measure.Pieces(21))},
			"21 ea", "AN3-5A in C1, H103: 21 ea", "counted blind: 21 ea (24 by Builder",
		},
		{"by the pound, typed and weighed", 3, store.Finding{Found: pounds(300_000), Counted: true}, []count{weighs("Partner", rivets(0))}, "0.3 lb", "AN426AD3-3.5 in C1, H101: 0.3 lb", "counted blind: 0.3 lb (0.3 by Builder, 09:00; about 0.3 (0.299828 to 0.30027) by Partner, 09:00)"},
		{"by the pound, and less is weighed", 3, store.Finding{Found: pounds(300_000), Counted: true}, []count{weighs("Partner", rivets(360))}, "0.3 lb", "AN426AD3-3.5 in C1, H101: 0.3 lb", "counts differ: count again"},
		{
			"by the pound, and less is weighed twice", 3,
			store.Finding{Found: pounds(300_000), Counted: true},
			[]count{weighs("Partner", rivets(360)), weighs("Youngster", rivets(361))},
			"0.22 lb", "AN426AD3-3.5 in C1, H101: about 1,235 ea (1,225 to 1,244)", "counted blind: about 1,235 ea (1,225 to 1,244) (0.3 by Builder",
		},
		{"weighed, and weighed again", 3, store.Finding{Weighing: &firstWeighed, Counted: true}, []count{weighs("Partner", rivets(1))}, "0.3 lb", "AN426AD3-3.5 in C1, H101: about 1,680 ea (1,668 to 1,692)", "counted blind: about 1,680 ea (1,668 to 1,692) (about 1,680 (1,668 to 1,692) by Builder"},
		{"weighed, and then counted out", 3, store.Finding{Weighing: &firstWeighed, Counted: true}, []count{counts("Partner", measure.Pieces(1675))}, "0.3 lb", "AN426AD3-3.5 in C1, H101: 1,675 ea", "counted blind: 1,675 ea"},
	} {
		t.Run(row.name, func(t *testing.T) {
			w := newWorld(t)
			w.SetHand("Builder")
			w.must(second(w.Receive(w.ship, store.LineID(row.line), row.first)))
			var e store.Entry
			for _, count := range row.then {
				var err error
				e, err = count(w, row.line)
				w.must(err)
			}
			if !strings.Contains(e.Text, row.says) {
				t.Errorf("the entry says %q, want %q in it", e.Text, row.says)
			}
			l, err := w.Line(w.ship, store.LineID(row.line))
			w.must(err)
			if l.Finding.Found.String() != row.found {
				t.Errorf("found %s, want %s", l.Finding.Found, row.found)
			}
			w.wantStock(row.stock)
			for range row.then {
				w.must(second(w.Undo()))
			}
			if again, err := w.Line(w.ship, store.LineID(row.line)); err != nil || again.Finding.Amount() != row.first.Amount() {
				t.Errorf("after the undo: found %s, %v", again.Finding.Amount(), err)
			}
		})
	}
}

// A weighing that says too little is refused, and one that cannot be the finding where some
// are damaged.
func TestWeighLineBlindRefusals(t *testing.T) {
	w := newWorld(t)
	w.SetHand("Builder")
	w.must(second(w.Receive(w.ship, 1, store.Finding{Found: measure.Pieces(24), Damaged: measure.Pieces(2), Counted: true})))
	w.SetHand("Partner")
	small := tooSmall()
	_, err := w.CountLineBlind(w.ship, 1, store.Amount{}, &small)
	wantRefusal(t, err, store.Invalid, "A sample of 10 is too small for this scale: half a step of 0.1 g is more than 2 % of 0.8 g. Weigh about 40 pieces.")
	m := rivetBag()
	w.must(second(w.CountLineBlind(w.ship, 1, store.Amount{}, &m)))
	w.SetHand("Youngster")
	_, err = w.CountLineBlind(w.ship, 1, store.Amount{}, &m)
	wantRefusal(t, err, store.Invalid, "Of line 1 some are damaged: set them apart and count the rest by hand.")
}
