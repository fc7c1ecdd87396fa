package store_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// A line that is never going to be checked is neither here nor missing: it is no stock, is on
// no claim, and no clock waits for it. Undo has it as it was, and so has what is found of it.
func TestALineIsLeftUnchecked(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(20))
	w.receive(2, found(16))
	w.receive(4, found(1))
	w.receive(7, found(20))
	w.must(second(w.ClaimSent(w.ship, w.Today(), "by mail")))
	settled := func() bool {
		t.Helper()
		ship, err := w.Shipment(w.ship)
		w.must(err)
		lines, err := w.Lines(w.ship)
		w.must(err)
		return ship.Settled(ship.Deliveries[0], store.ForShortage, lines)
	}
	before, stock := w.line(3), w.stock()
	if settled() {
		t.Fatal("the clock stands still though line 3 is to be checked")
	}
	e, err := w.LeaveUnchecked(w.ship, 3, " the paper  is lost ")
	w.must(err)
	if e.Text != "line 3, AN426AD3-3.5: never going to be checked, the paper is lost" || e.Reason != "the paper is lost" {
		t.Errorf("the entry says %q, for %q", e.Text, e.Reason)
	}
	l := w.line(3)
	if l.State(true) != store.NeverChecked || l.Describe(true) != "never checked" || len(l.Claims()) != 0 || !l.Difference().IsZero() {
		t.Errorf("it is %s, %q, claims %v, differs by %s", l.State(true), l.Describe(true), l.Claims(), l.Difference())
	}
	if !settled() {
		t.Error("the clock waits for a line that nobody checks")
	}
	if diff := cmp.Diff(stock, w.stock()); diff != "" {
		t.Errorf("the stock is otherwise:\n%s", diff)
	}
	w.must(second(w.Undo()))
	if diff := cmp.Diff(before, w.line(3)); diff != "" {
		t.Errorf("undone, it is otherwise:\n%s", diff)
	}
	w.must(second(w.Redo()))
	w.must(second(w.LeaveUnchecked(w.ship, 3, "given away")))
	e, err = w.LeaveUnchecked(w.ship, 3, "")
	w.must(err)
	if diff := cmp.Diff(before, w.line(3)); diff != "" || !strings.HasSuffix(e.Text, "to be checked after all") {
		t.Errorf("taken back by %q, it is otherwise:\n%s", e.Text, diff)
	}
	w.must(second(w.LeaveUnchecked(w.ship, 3, "given away")))
	w.receive(3, store.Finding{Found: measure.Of(1, measure.Pound), Counted: true})
	if l := w.line(3); l.Unchecked != "" || l.State(true) != store.Over {
		t.Errorf("checked after all, it is %s, %q", l.State(true), l.Unchecked)
	}
}

func (w world) line(id store.LineID) store.Line {
	w.t.Helper()
	l, err := w.Line(w.ship, id)
	w.must(err)
	return l
}

// What is not to be checked anyway cannot be left, nor what was found forgotten.
func TestLeaveUncheckedRefusals(t *testing.T) {
	w := newWorld(t)
	w.receive(1, found(20))
	newest, err := w.Newest()
	w.must(err)
	for _, row := range []struct {
		name     string
		line     store.LineID
		why      string
		kind     store.Kind
		sentence string
	}{
		{"of no line", 99, "lost", store.NotFound, "The packing list has no line 99: see its lines."},
		{"something was found", 1, "lost", store.Conflict, "Something was found of line 1 already: correct that instead."},
		{"that, to be taken back", 1, "", store.Conflict, "Something was found of line 1 already: correct that instead."},
		{"for no reason", 2, "  ", store.Invalid, "Say why line 2 is never going to be checked: the journal keeps the reason."},
		{"back-ordered", 5, "lost", store.Conflict, "Line 5 is back-ordered, and waits for no check: leave a line that is to be checked."},
		{"its crate has not come", 6, "lost", store.Conflict, "Line 6 is not arrived, and waits for no check: leave a line that is to be checked."},
		{"a long reason", 2, strings.Repeat("x", store.MaxName+1), store.Invalid, "The reason is longer than 200 characters: shorten it."},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := w.LeaveUnchecked(w.ship, row.line, row.why)
			wantRefusal(t, err, row.kind, row.sentence)
		})
	}
	if now, _ := w.Newest(); now != newest {
		t.Errorf("entry %d was written all the same", now)
	}
}
