package store_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stowright/store"
	"stowright/store/measure"
)

// claimed is what is to be claimed and was not sent, in words.
func (w world) unsent() []string {
	w.t.Helper()
	lines, err := w.Lines(w.ship)
	w.must(err)
	list := []string{}
	for _, c := range w.shipment().Unsent(lines) {
		list = append(list, string(c.Kind)+": "+c.Words)
	}
	return list
}

func (w world) shipment() store.Shipment {
	w.t.Helper()
	ship, err := w.Shipment(w.ship)
	w.must(err)
	return ship
}

func (w world) running() []string {
	w.t.Helper()
	clocks, err := w.Clocks()
	w.must(err)
	list := []string{}
	for _, c := range clocks {
		list = append(list, c.String())
	}
	return list
}

// A claim that was sent ends the clocks of what it covered; what is found later is
// unsent, and its clock runs again. One Undo takes the mark back.
func TestClaimSent(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.clock.Set(t, "2026-03-18")
	both := []string{"Damage claim: 1 day left", "Shortages: 26 days left"}
	on := store.Date{Year: 2026, Month: 3, Day: 18}
	_, err := w.ClaimSent(w.ship, on, "")
	wantRefusal(t, err, store.Conflict, "There is nothing to claim that was not sent before: check lines off first.")

	dented := store.Finding{Found: measure.Pieces(1), Damaged: measure.Pieces(1), Counted: true, Note: "dented"}
	w.receive(5, dented)
	e, err := w.ClaimSent(w.ship, on, "by e-mail to the parts desk")
	w.must(err)
	if want := "claim sent on 18 March 2026: 1 line, by e-mail to the parts desk"; e.Text != want || e.Verb != store.VerbClaim {
		t.Errorf("the entry is %s %q, want %q", e.Verb, e.Text, want)
	}
	if d := cmp.Diff(both, w.running()); d != "" {
		t.Errorf("lines are still to check, and the clocks are (-want +got):\n%s", d)
	}
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	w.receive(5, dented)
	if len(w.unsent()) == 0 {
		t.Error("what was found after the claim was sent is not unsent")
	}
	w.must(second(w.ClaimSent(w.ship, on, "")))
	if got := append(w.unsent(), w.running()...); len(got) != 0 {
		t.Errorf("all is sent, and there is %q", got)
	}
	w.receive(38, found(11))
	if d := cmp.Diff([]string{"short: listed 12, found 11: 1 short"}, w.unsent()); d != "" {
		t.Errorf("found later (-want +got):\n%s", d)
	}
	if d := cmp.Diff(both[1:], w.running()); d != "" {
		t.Errorf("found short later, and the clocks are (-want +got):\n%s", d)
	}
	w.must(second(w.Undo())) // the finding
	w.must(second(w.Undo())) // the second claim
	if d := cmp.Diff(both, w.running()); d != "" {
		t.Errorf("the mark taken back, and the clocks are (-want +got):\n%s", d)
	}
	if claims := w.shipment().Claims; len(claims) != 1 || claims[0].Hand != "Builder" {
		t.Errorf("claims %+v, want the first one", claims)
	}
}

// What is given up is in sight no more, its clocks end, and it waits for no answer; the
// reason is kept. What is found of it later is claimed anew, and one Undo claims it again.
func TestClaimGivenUp(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	w.clock.Set(t, "2026-05-02")
	was := w.unsent()
	e, err := w.ClaimGivenUp(w.ship, []store.LineID{7, 28}, "too little to ask for")
	w.must(err)
	if want := "claim given up: 2 lines, too little to ask for"; e.Text != want || e.Verb != store.VerbClaim {
		t.Errorf("the entry is %s %q, want %q", e.Verb, e.Text, want)
	}
	if got := w.unsent(); len(got) != len(was)-2 {
		t.Errorf("%d lines are unsent, want two fewer than %d", len(got), len(was))
	}
	_, err = w.ClaimGivenUp(w.ship, []store.LineID{7}, "again")
	wantRefusal(t, err, store.Conflict, "There is nothing of line 7 to give up: it is not claimed, or that was sent or given up before.")
	_, err = w.ClaimAnswered(w.ship, []store.LineID{7}, store.ClaimAnswer{Reply: store.Credit})
	wantRefusal(t, err, store.Conflict, "Line 7 is on no claim that was sent: mark the claim as sent first.")
	_, err = w.ClaimGivenUp(w.ship, nil, "  ")
	wantRefusal(t, err, store.Invalid, "Say why the claim is given up: the journal keeps the reason.")
	w.must(second(w.ClaimGivenUp(w.ship, nil, "the supplier is gone")))
	_, err = w.ClaimGivenUp(w.ship, nil, "once more")
	wantRefusal(t, err, store.Conflict, "There is nothing to give up: nothing is claimed that was not sent before.")
	if got := append(w.unsent(), w.running()...); len(got) != 0 {
		t.Errorf("all is given up, and there is %q", got)
	}
	ship := w.shipment()
	if n, _ := ship.Waits(); n != 0 {
		t.Errorf("%d lines wait for an answer", n)
	}
	if c := ship.Claims[0]; c.GivenUp != "too little to ask for" || c.Sent.String() != "2 May 2026" || len(c.Lines) != 2 {
		t.Errorf("kept: %+v", c)
	}
	w.receive(38, found(11))
	if d := cmp.Diff([]string{"short: listed 12, found 11: 1 short"}, w.unsent()); d != "" {
		t.Errorf("found later (-want +got):\n%s", d)
	}
	for range 3 {
		w.must(second(w.Undo()))
	}
	if d := cmp.Diff(was, w.unsent()); d != "" {
		t.Errorf("taken back (-want +got):\n%s", d)
	}
}

// A claim is sent on any day from the arrival of what it names until today.
func TestClaimSentOnAnotherDay(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.clock.Set(t, "2026-03-18")
	w.receive(5, store.Finding{Found: measure.Pieces(1), Damaged: measure.Pieces(1), Counted: true, Note: "dented"})
	for _, row := range []struct {
		day    int
		refuse string
	}{
		{19, "The claim cannot have been sent on 19 March 2026: that day is still to come."},
		{13, "The claim cannot have been sent on 13 March 2026: it names line 5 of crate C1, which arrived on 14 March 2026."},
		{14, ""},
		{18, ""},
	} {
		_, err := w.ClaimSent(w.ship, store.Date{Year: 2026, Month: 3, Day: row.day}, "")
		if row.refuse != "" {
			wantRefusal(t, err, store.Invalid, row.refuse)
			continue
		}
		w.must(err)
		if got := w.shipment().Claims[0].Sent.Day; got != row.day {
			t.Errorf("sent on %d March, want %d", got, row.day)
		}
		w.must(second(w.Undo()))
	}
}

// What the supplier answered is kept with the line that was sent.
func TestClaimAnswered(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.clock.Set(t, "2026-03-18")
	_, err := w.ClaimAnswered(w.ship, nil, store.ClaimAnswer{Reply: store.Credit})
	wantRefusal(t, err, store.Conflict, "No line of a sent claim waits for an answer: mark the claim as sent first.")
	w.checkOff(map[string]bool{"C1": true, "C2": true})
	w.must(second(w.ClaimSent(w.ship, store.Date{Year: 2026, Month: 3, Day: 18}, "")))
	e, err := w.ClaimAnswered(w.ship, []store.LineID{7, 28}, store.ClaimAnswer{Reply: store.Replacement, Note: "in the next crate"})
	w.must(err)
	if want := "claim answered: 2 lines, replacement coming, in the next crate"; e.Text != want {
		t.Errorf("the entry says %q, want %q", e.Text, want)
	}
	w.must(second(w.ClaimAnswered(w.ship, nil, store.ClaimAnswer{Reply: store.Credit})))
	answers := map[store.Reply]int{}
	for _, l := range w.shipment().Claims[0].Lines {
		answers[l.Answer]++
	}
	if answers[store.Replacement] != 2 || answers[store.NoAnswer] != 0 || answers[store.Credit] == 0 {
		t.Errorf("the answers are %v", answers)
	}
	_, err = w.ClaimAnswered(w.ship, []store.LineID{1}, store.ClaimAnswer{Reply: store.Credit})
	wantRefusal(t, err, store.Conflict, "Line 1 is on no claim that was sent: mark the claim as sent first.")
	_, err = w.ClaimAnswered(w.ship, nil, store.ClaimAnswer{Reply: "perhaps", Note: ""})
	wantRefusal(t, err, store.Invalid, `“perhaps” is not an answer: it is replacement coming, credit or refused.`)
}

// A clock is overdue where there is something to claim by it, of its own crates and its own
// kind, that was not sent by its day.
func TestOverdue(t *testing.T) {
	w := tailKit(t)
	w.arrive("C1", "C2")
	w.arrive("C3")
	w.clock.Set(t, "2026-07-01")
	check := func(what string, want ...string) {
		t.Helper()
		clocks, err := w.Clocks()
		w.must(err)
		got := []string{}
		for _, c := range clocks {
			overdue, err := w.Overdue(c)
			w.must(err)
			if overdue {
				got = append(got, strings.Join(c.Crates, "+")+" "+string(c.For))
			}
			c.DaysLeft = 0
			if overdue, err = w.Overdue(c); overdue || err != nil {
				t.Errorf("on its last day %v is overdue: %t, %v", c, overdue, err)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s: overdue are %q, want %q", what, got, want)
		}
	}
	check("nothing found")
	w.receive(5, store.Finding{Found: measure.Pieces(1), Damaged: measure.Pieces(1), Counted: true, Note: "dented"})
	check("one dented", "C1+C2 damage")
	w.receive(7, store.Finding{Found: measure.Pieces(2), Counted: true})
	check("one short", "C1+C2 damage", "C1+C2 shortages")
	_, err := w.ClaimSent(w.ship, store.Date{Year: 2026, Month: 7, Day: 1}, "by e-mail")
	w.must(err)
	check("sent")
}
