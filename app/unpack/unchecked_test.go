package unpack

import (
	"strings"
	"testing"

	"stowright/app/demo"
)

// A line that is never going to be checked is said to be just that: it is not due, is no part
// of what its bag is booked with, and the claim says that nothing is claimed there.
func TestALineIsNeverChecked(t *testing.T) {
	b := newBench(t, demo.Arrived)
	b.to(41)
	b.keys("Y", "Enter")
	if p := b.m.State().Prompt; p == nil || p.Error != "Say why: the journal keeps the reason." {
		t.Fatalf("without a reason: %+v", p)
	}
	b.keys(`"given away"`, "Enter")
	s := b.m.State()
	if b.word(41) != "never checked" || s.Progress.Words != "0 of 54 lines" || s.Current.Number != 42 {
		t.Errorf("line 41 is %q, %s, line %d in hand", b.word(41), s.Progress.Words, s.Current.Number)
	}
	if last := s.Side.Tallies[len(s.Side.Tallies)-1]; last.Words != "never checked" || last.Figure != "1" {
		t.Errorf("the totals end with %+v", last)
	}
	line := b.m.data.line(41)
	if row := b.m.data.bagRow(scope{crate: line.Crate, group: line.Group}); row.Cells[1].Text != "0/5" {
		t.Errorf("of its bag %q is checked", row.Cells[1].Text)
	}
	if note := b.m.data.claimNote(); !strings.Contains(note, "1 line is never going to be checked, and nothing is claimed there.") {
		t.Errorf("the claim says %q", note)
	}
	b.to(41)
	if got := b.m.State().Current.Hint; !strings.HasPrefix(got, "Never going to be checked: given away.") {
		t.Errorf("of the line it says %q", got)
	}
	b.keys("B")
	if got := b.option(); got != "All 5 lines are here" {
		t.Errorf("the whole bag is %q", got)
	}
	b.keys("Esc", "Y", `""`, "Enter")
	if b.word(41) != "to check" {
		t.Errorf("taken back, it is %q", b.word(41))
	}
	b.to(19)
	b.m.Key("Y")
	b.queue.Drain()
	if s := b.m.State(); s.Prompt != nil || !strings.Contains(s.Error, "Line 19 is back-ordered") {
		t.Errorf("of what is back-ordered: %+v, %q", s.Prompt, s.Error)
	}
}
