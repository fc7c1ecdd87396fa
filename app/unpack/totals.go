package unpack

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/app/card"
	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
)

// progress is how far the lines that are due are checked.
func (d delivery) progress() Progress {
	n := map[notice.Tone]int{}
	due := 0
	for _, l := range d.lines {
		s := d.state(l)
		if l.Extra || s == store.BackOrder || s == store.NotArrived {
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
	side := Side{Clocks: clockNotices(d.clocks()), Others: d.next != ""}
	n := map[store.State]int{}
	extras := 0
	for _, l := range d.lines {
		if l.Extra {
			extras++
			continue
		}
		n[d.state(l)]++
	}
	for _, s := range states {
		side.Tallies = append(side.Tallies, card.Tally{Words: string(s), Figure: fmt.Sprint(n[s])})
	}
	if extras > 0 {
		side.Tallies = append(side.Tallies, card.Tally{Words: "not listed", Figure: fmt.Sprint(extras)})
	}
	if missing := d.notCome(); len(missing) > 0 {
		side.Crates = strings.Join(missing, ", ")
	}
	if w := d.waitingToStow(); w > 0 {
		side.Waiting = wording.Plural(w, "line", "lines") + " to stow"
	}
	return side
}

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

// soon is how many days before its end a claim clock begins to warn.
const soon = 7

// clockNotices are claim clocks as sentences.
func clockNotices(clocks []store.Clock) []notice.Notice {
	var out []notice.Notice
	for _, c := range clocks {
		lead := "Damage:"
		if c.For == store.ForShortage {
			lead = "Shortages:"
		}
		n := notice.Notice{Lead: lead, Text: fmt.Sprintf("by %s, %s", day(c.Due), daysLeft(c.DaysLeft))}
		if len(clocks) > 2 {
			n.Lead = strings.Join(c.Crates, ", ") + " " + strings.ToLower(lead)
		}
		switch {
		case c.DaysLeft <= 0:
			n.Tone = notice.Stop
		case c.DaysLeft <= soon:
			n.Tone = notice.Warn
		}
		out = append(out, n)
	}
	return out
}

// day is a date with its weekday, without the year: "Thu 19 March".
func day(d store.Date) string {
	return fmt.Sprintf("%s %d %s", weekday(d), d.Day, d.Month)
}

func daysLeft(n int) string {
	switch {
	case n < 0:
		return wording.Plural(-n, "day", "days") + " past"
	case n == 0:
		return "last day today"
	}
	return wording.Plural(n, "day", "days") + " left"
}

func weekday(d store.Date) string {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday().String()[:3]
}

// clocks are the claim clocks that no claim that was sent has settled.
func (d delivery) clocks() []store.Clock {
	return slices.DeleteFunc(d.ship.Clocks(d.today), func(c store.Clock) bool {
		return d.ship.Settled(store.Delivery{Crates: c.Crates}, c.For, d.lines)
	})
}
