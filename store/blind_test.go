package store_test

import (
	"strings"
	"testing"
	"time"

	"stowright/store"
	"stowright/store/measure"
)

// counter counts one heap blind, by several hands.
type counter struct {
	world
	heap store.StockKey
}

func newCounter(t *testing.T) counter {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.receive(50, store.Finding{Found: measure.Pieces(150), Counted: true})
	heaps, err := w.Holdings("NAS1149F0363P")
	w.must(err)
	if len(heaps) != 1 {
		t.Fatalf("heaps of washers: %+v", heaps)
	}
	return counter{w, heaps[0].StockKey}
}

func (c counter) count(hand string, n int64) store.Entry {
	c.t.Helper()
	e, err := c.by(hand, store.Exact(measure.Pieces(n)))
	c.must(err)
	return e
}

func (c counter) by(hand string, a store.Amount) (store.Entry, error) {
	c.SetHand(hand)
	return c.CountBlind(c.heap, a)
}

func (c counter) has() string {
	heaps, err := c.Holdings(c.heap.Item)
	c.must(err)
	return heaps[0].Amount.String()
}

// Story 8: Partner counts 150 and Youngster 148, neither seeing the other's figure; a third
// count of 150 settles it, and all three are kept, with hands and times.
func TestStoryEight(t *testing.T) {
	c := newCounter(t)
	if e := c.count("Partner", 150); strings.Contains(e.Text, "150") || !strings.Contains(e.Text, "another hand counts next") {
		t.Errorf("the first count says %q", e.Text)
	}
	_, err := c.by("Partner", store.Exact(measure.Pieces(150)))
	wantRefusal(t, err, store.Conflict, "Partner counted NAS1149F0363P in "+c.placeName()+" already: another hand counts now, who has not seen it.")
	if e := c.count("Youngster", 148); !strings.Contains(e.Text, "counts differ: count again") || strings.Contains(e.Text, "148") || strings.Contains(e.Text, "150") {
		t.Errorf("the second count says %q", e.Text)
	}
	if got := c.has(); got != "150 ea" {
		t.Errorf("while counts differ there are %s", got)
	}
	e := c.count("Builder", 150)
	if !strings.Contains(e.Text, "150 ea (150 by Partner, ") || !strings.Contains(e.Text, "; 148 by Youngster, ") || !strings.Contains(e.Text, "; 150 by Builder, ") || e.Verb != store.VerbCount {
		t.Errorf("the third count says %q", e.Text)
	}
	blind, found, err := c.CountingBlind(c.heap)
	c.must(err)
	if !found || !blind.Settled || len(blind.Counts) != 3 || c.has() != "150 ea" {
		t.Fatalf("kept: %+v, %v; %s", blind, found, c.has())
	}
	for i, want := range []struct {
		hand string
		n    int64
	}{{"Partner", 150}, {"Youngster", 148}, {"Builder", 150}} {
		if got := blind.Counts[i]; got.Hand != want.hand || got.Amount != store.Exact(measure.Pieces(want.n)) || got.At.IsZero() {
			t.Errorf("count %d: %+v, want %d by %s", i+1, got, want.n, want.hand)
		}
	}
	last, found, err := c.LastCounted(c.heap)
	c.must(err)
	if !found || last.Hand != "Builder" || last.At.Equal(time.Time{}) {
		t.Errorf("last counted: %+v, %v", last, found)
	}
	c.must(second(c.Undo()))
	if blind, _, err := c.CountingBlind(c.heap); err != nil || blind.Settled || len(blind.Counts) != 2 {
		t.Errorf("the third undone: %+v, %v", blind, err)
	}
}

func (c counter) placeName() string {
	p, err := c.Place(c.heap.Place)
	c.must(err)
	return p.Name
}

// Two that agree settle it, whatever the shop thought; what is between is corrected.
func TestTwoThatAgree(t *testing.T) {
	c := newCounter(t)
	c.count("Partner", 147)
	if e := c.count("Youngster", 147); !strings.Contains(e.Text, "counted blind") || c.has() != "147 ea" {
		t.Errorf("%q, %s", e.Text, c.has())
	}
	c.count("Partner", 1) // a fresh one
	if blind, _, err := c.CountingBlind(c.heap); err != nil || blind.Settled || len(blind.Counts) != 1 {
		t.Errorf("begun anew: %+v, %v", blind, err)
	}
}

// A count goes before a newer weighing that agrees too, and weighings with one number in
// common stay a weighing: the newer one.
func TestCountsBeforeWeighings(t *testing.T) {
	about := func(n int64) store.Amount {
		return store.Amount{Quantity: measure.Pieces(n), Low: measure.Pieces(n - 1), High: measure.Pieces(n + 1)}
	}
	for _, row := range []struct {
		counts []store.Amount // by one hand after the other
		want   string
	}{
		{[]store.Amount{store.Exact(measure.Pieces(24)), about(22), about(24)}, "24 ea"},
		{[]store.Amount{about(22), about(30), about(24)}, "about 24 ea (23 to 25)"},
		{[]store.Amount{about(22), about(30), about(21)}, "about 22 ea (21 to 22)"},
	} {
		c := newCounter(t)
		for i, n := range row.counts {
			c.SetHand([]string{"Builder", "Partner", "Youngster"}[i])
			c.must(second(c.CountBlind(c.heap, n)))
		}
		if got := c.has(); got != row.want {
			t.Errorf("%v: got %s, want %s", row.counts, got, row.want)
		}
	}
}

// Counts before the stock changed say nothing of what is there now.
func TestBlindCountsOfChangedStock(t *testing.T) {
	c := newCounter(t)
	c.count("Partner", 150)
	c.must(second(c.Count(c.heap, measure.Pieces(140))))
	c.count("Youngster", 150)
	if blind, _, err := c.CountingBlind(c.heap); err != nil || len(blind.Counts) != 1 || c.has() != "140 ea" {
		t.Errorf("after the stock changed: %+v, %v, %s", blind, err, c.has())
	}
}

// A weighing takes part: pieces that a hand counted within its range agree with it, and
// two weighings leave what both allow.
func TestWeighingIsACount(t *testing.T) {
	t.Parallel()
	about := func(n, low, high int64) store.Amount {
		return store.Amount{Quantity: measure.Pieces(n), Low: measure.Pieces(low), High: measure.Pieces(high)}
	}
	for _, row := range []struct {
		name          string
		first, second store.Amount
		want          string // empty: they differ
	}{
		{"weighed, then counted within", about(150, 148, 152), store.Exact(measure.Pieces(149)), "149 ea"},
		{"counted, then weighed around it", store.Exact(measure.Pieces(149)), about(150, 148, 152), "149 ea"},
		{"counted outside", about(150, 148, 152), store.Exact(measure.Pieces(153)), ""},
		{"two weighings", about(150, 148, 152), about(153, 151, 155), "about 151 ea (151 to 152)"},
		{"two weighings apart", about(150, 148, 152), about(156, 153, 158), ""},
	} {
		c := newCounter(t)
		for hand, a := range map[string]store.Amount{"Partner": row.first} {
			_, err := c.by(hand, a)
			c.must(err)
		}
		e, err := c.by("Youngster", row.second)
		c.must(err)
		if differ := strings.Contains(e.Text, "counts differ"); differ != (row.want == "") || row.want != "" && c.has() != row.want {
			t.Errorf("%s: %q, %s; want %q", row.name, e.Text, c.has(), row.want)
		}
	}
}

// What is no count of a heap is refused.
func TestBlindCountRefuses(t *testing.T) {
	c := newCounter(t)
	half := measure.Pieces(1)
	half.Micro /= 2
	for _, row := range []struct {
		amount store.Amount
		want   string
	}{
		{store.Exact(measure.Pieces(-1)), "NAS1149F0363P cannot be less than zero: type what is there."},
		{store.Exact(half), "0.5 is not a whole number of pieces: count NAS1149F0363P again."},
		{store.Exact(measure.Of(1, measure.Pound)), "NAS1149F0363P is kept by ea here: count it so."},
	} {
		_, err := c.by("Partner", row.amount)
		wantRefusal(t, err, store.Invalid, row.want)
	}
	nothing := c.heap
	nothing.Item, nothing.Lot = "AN3-99A", ""
	_, err := c.CountBlind(nothing, store.Exact(measure.Pieces(1)))
	wantRefusal(t, err, store.NotFound, "Nothing of AN3-99A is known in "+c.placeName()+": count it, and then count it blind.")
}
