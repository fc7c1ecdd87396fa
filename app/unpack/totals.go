package unpack

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// progress is how far the lines that are due are checked.
func (d delivery) progress() Progress {
	n := map[notice.Tone]int{}
	due := 0
	for _, l := range d.lines {
		s := d.state(l)
		if l.Extra || s == store.BackOrder || s == store.NotArrived || s == store.NeverChecked {
			continue
		}
		due++
		n[tone(s)]++
	}
	return Progress{
		Words:  fmt.Sprintf("%d of %d lines", due-n[notice.Quiet], due),
		Shares: []Share{{n[notice.OK], notice.OK}, {n[notice.Warn], notice.Warn}, {n[notice.Stop], notice.Stop}, {n[notice.Quiet], notice.Quiet}},
	}
}

// states are the states in the order in which totals are shown.
var states = []store.State{
	store.AllHere, store.Short, store.Over, store.DamagedState, store.WrongRevision, store.BackOrder, store.NotArrived, store.ToCheck,
}

// side is the claim clocks and the totals of a shipment.
func (d delivery) side() Side {
	side := Side{Clocks: clockNotices(d.clocks()), Others: d.next != "", Owed: d.owed()}
	if len(side.Clocks) == 0 {
		side.NoClock = d.noClock()
	}
	n := map[store.State]int{}
	extras, off := 0, 0
	for _, l := range d.lines {
		switch {
		case d.state(l) == store.OffList:
			off++
			continue
		case l.Extra:
			extras++
			continue
		}
		n[d.state(l)]++
	}
	for _, s := range states {
		side.Tallies = append(side.Tallies, card.Tally{Words: string(s), Figure: fmt.Sprint(n[s])})
	}
	for _, t := range []struct {
		words string
		n     int
	}{{"not listed", extras}, {string(store.OffList), off}, {string(store.NeverChecked), n[store.NeverChecked]}} {
		if t.n > 0 {
			side.Tallies = append(side.Tallies, card.Tally{Words: t.words, Figure: fmt.Sprint(t.n)})
		}
	}
	if missing := d.notCome(); len(missing) > 0 {
		side.Crates = strings.Join(missing, ", ")
	}
	if w := d.waitingToStow(); w > 0 {
		side.Waiting = wording.Plural(w, "line", "lines") + " to stow"
	}
	return side
}

// noClock says why no claim clock runs.
func (d delivery) noClock() string {
	if len(d.ship.Deliveries) == 0 {
		return "No claim clock runs: no crate has come."
	}
	if len(d.ship.Clocks(d.today)) == 0 {
		return "No claim clock runs: the paperwork says nothing of claims."
	}
	sent := d.ship.Claims[len(d.ship.Claims)-1].Sent // else a clock would run
	if slices.ContainsFunc(d.ship.Claims, func(c store.SentClaim) bool { return c.GivenUp != "" }) {
		return "No claim clock runs: all that there is to claim was sent or given up, last on " + sent.String() + "."
	}
	return "No claim clock runs: all that there is to claim was sent, last on " + sent.String() + "."
}

// owed are the lines of which the supplier owes something.
func (d delivery) owed() string {
	var words []string
	more := 0
	for _, l := range d.lines {
		due, why := d.ship.Due(l)
		switch {
		case due.Sign() <= 0:
		case len(words) < mostOwed:
			words = append(words, fmt.Sprintf("%s (line %d, %s)", amountOf(store.Exact(due), l.Designation), l.Number(), why))
		default:
			more++
		}
	}
	if more > 0 {
		words = append(words, wording.Plural(more, "more line", "more lines"))
	}
	return strings.Join(words, ", ")
}

// mostOwed is how many lines the side names that are owed.
const mostOwed = 3

// notCome are the crates that have not come.
func (d delivery) notCome() []string {
	var names []string
	for _, c := range d.ship.Crates {
		if _, ok := d.ship.Delivery(c.Name); !ok {
			names = append(names, c.Name)
		}
	}
	return names
}

// clockNotices are claim clocks as sentences.
func clockNotices(clocks []store.Clock) []notice.Notice {
	var out []notice.Notice
	for _, c := range clocks {
		lead := "Damage:"
		if c.For == store.ForShortage {
			lead = "Shortages:"
		}
		n := notice.Notice{Tone: session.ClaimTone(c.DaysLeft), Lead: lead, Text: wording.By(c.Due, c.DaysLeft)}
		if c.DaysLeft < 0 {
			n.Text += ", or give it up"
		}
		if len(clocks) > 2 {
			n.Lead = strings.Join(c.Crates, ", ") + " " + strings.ToLower(lead)
		}
		out = append(out, n)
	}
	return out
}

// clocks are the claim clocks that no claim that was sent has settled.
func (d delivery) clocks() []store.Clock {
	return slices.DeleteFunc(d.ship.Clocks(d.today), func(c store.Clock) bool {
		return d.ship.Settled(store.Delivery{Crates: c.Crates}, c.For, d.lines)
	})
}
