package store_test

import (
	"fmt"
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
				e, err = w.CountLineBlind(w.ship, 1, store.Exact(measure.Pieces(c.n)))
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
			_, err := w.CountLineBlind(w.ship, 1, store.Exact(measure.Pieces(row.n)))
			wantRefusal(t, err, row.kind, row.sentence)
		})
	}
}
