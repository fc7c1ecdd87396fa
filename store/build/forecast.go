package build

import (
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// LeadTimes are the days that deliveries took, by supplier, as this shop saw them.
type LeadTimes map[string][]int

// LeadTimesFrom is how many deliveries a lead time is told from at least.
const LeadTimesFrom = 5

// typical is the median of the days a supplier took, and what 9 of 10 deliveries did not
// exceed, both by nearest rank; ok is false where too few were seen.
func (l LeadTimes) typical(supplier string) (median, nine int, ok bool) {
	seen := slices.Clone(l[supplier])
	if len(seen) < LeadTimesFrom {
		return 0, 0, false
	}
	slices.Sort(seen)
	rank := func(tenths int) int { return seen[(tenths*len(seen)+9)/10-1] }
	return rank(5), rank(9), true
}

// Forecast is when a sub-assembly will have all it needs, as far as anything says so.
type Forecast struct {
	Code string
	// From and To are the days between which it is likely; the same where a day was
	// promised or nothing is missing. Both are zero where it is unknown.
	From, To measure.Date
	Unknown  bool
	Reasons  []string // by blocker: "OQ-30-033: promised for 2 April 2026"
}

// arrival is a quantity that comes between two days.
type arrival struct {
	micro    int64
	from, to measure.Date
	words    string // "promised for 2 April 2026"; why it is unknown
	unknown  bool
}

// Forecast says for every sub-assembly that is not closed when it can be started: by
// promised days, else by the lead times seen of the supplier, else it is unknown. The
// latest blocker decides, and unknown wins. What is owed goes to the first that waits.
func (b *Board) Forecast(leads LeadTimes) []Forecast {
	coming := map[string][]arrival{}
	var out []Forecast
	for i := range b.statuses {
		s := &b.statuses[i]
		if s.State == Closed {
			continue
		}
		f := Forecast{Code: s.Code, From: b.reading.Today, To: b.reading.Today, Unknown: s.State == Unlisted}
		for _, blocker := range s.Blockers {
			if _, known := coming[blocker.Item]; !known {
				coming[blocker.Item] = b.arrivals(blocker.Item, leads)
			}
			f.take(b.waits(i, blocker, coming))
		}
		if f.Unknown {
			f.From, f.To = measure.Date{}, measure.Date{}
		}
		out = append(out, f)
	}
	return out
}

// take works a blocker into a forecast.
func (f *Forecast) take(item string, a arrival) {
	f.Reasons = append(f.Reasons, item+": "+a.words)
	f.Unknown = f.Unknown || a.unknown
	if a.unknown {
		return
	}
	if f.From.DaysUntil(a.from) > 0 {
		f.From = a.from
	}
	if f.To.DaysUntil(a.to) > 0 {
		f.To = a.to
	}
}

// waits is when a blocker ends, out of what is coming and not taken by an earlier one.
func (b *Board) waits(i int, blocker *Blocker, coming map[string][]arrival) (string, arrival) {
	today := b.reading.Today
	if blocker.CannotTell {
		return blocker.Item, arrival{from: today, to: today, words: "counting tells"}
	}
	k := slices.IndexFunc(b.statuses[i].Needs, func(n Need) bool {
		return n.Requirement == blocker.Requirement && n.Item == blocker.Item
	})
	missing := blocker.Need.Micro
	for _, share := range b.statuses[i].Needs[k].Promised {
		missing -= share.Quantity.Micro
	}
	last := arrival{from: today, to: today}
	list := coming[blocker.Item]
	for n := range list {
		if missing <= 0 {
			break
		}
		got := min(missing, list[n].micro)
		if got == 0 {
			continue
		}
		list[n].micro -= got
		missing -= got
		if last.words == "" || list[n].unknown || last.to.DaysUntil(list[n].to) > 0 {
			last = list[n]
		}
	}
	if missing > 0 {
		return blocker.Item, arrival{unknown: true, words: "nobody owes " + measure.Quantity{Micro: missing, Unit: blocker.Need.Unit}.Number() + " of them"}
	}
	return blocker.Item, last
}

// arrivals are what is expected of an item, what comes first at first and what is
// unknown at the end.
func (b *Board) arrivals(item string, leads LeadTimes) []arrival {
	var out []arrival
	for _, e := range b.reading.Expected[item] {
		if e.By.Owed() {
			out = append(out, b.arrival(e, leads))
		}
	}
	slices.SortStableFunc(out, func(x, y arrival) int {
		if x.unknown != y.unknown {
			if x.unknown {
				return 1
			}
			return -1
		}
		return y.to.DaysUntil(x.to)
	})
	return out
}

// arrival is when an expected quantity comes.
func (b *Board) arrival(e Expected, leads LeadTimes) arrival {
	today := b.reading.Today
	a := arrival{micro: e.Quantity.Micro, from: today, to: today}
	median, nine, seen := leads.typical(e.Supplier)
	switch {
	case e.By == NotChecked || e.By == Unopened:
		a.words = "in " + phrase.Crate(e.Crate) + ", which is here"
	case !e.Until.IsZero() && e.Until.DaysUntil(today) > 0:
		a.unknown, a.words = true, fmt.Sprintf("was promised for %s, which has passed", e.Until)
	case !e.Until.IsZero():
		a.from, a.to, a.words = e.Until, e.Until, "promised for "+e.Until.String()
	case e.Since.IsZero() || !seen:
		a.unknown, a.words = true, "no day was promised, and too few deliveries were seen to tell"
	case e.Since.AddDays(nine).DaysUntil(today) > 0:
		a.unknown, a.words = true, fmt.Sprintf("owed since %s, longer than 9 of 10 deliveries of %s took", e.Since, e.Supplier)
	default:
		a.from, a.to = e.Since.AddDays(median), e.Since.AddDays(nine)
		if a.from.DaysUntil(today) > 0 {
			a.from = today
		}
		a.words = fmt.Sprintf("by %d deliveries of %s, between %s and %s", len(leads[e.Supplier]), e.Supplier, a.from, a.to)
	}
	return a
}

// Worked is hours that were logged on a day.
type Worked struct {
	Day   measure.Date
	Hours Hours
}

// paceWeeks is over how many weeks back a pace is seen.
const paceWeeks = 8

// Pace is when planned hours are done at the pace of the last eight weeks: as in the
// four that most was done in, and as in the four others.
type Pace struct {
	Left         Hours // planned and not logged
	Week         Hours // a week, over the eight
	First, Last  measure.Date
	LastUnknown  bool // at the slower pace it never ends
	FirstUnknown bool // nothing was logged in eight weeks
}

// PaceOf holds what is left of the planned hours against what was logged.
func PaceOf(today measure.Date, planned Hours, log []Worked) Pace {
	var weeks [paceWeeks]Hours
	p := Pace{Left: planned}
	for _, w := range log {
		p.Left -= w.Hours
		if ago := w.Day.DaysUntil(today); ago >= 0 && ago < 7*paceWeeks {
			weeks[ago/7] += w.Hours
		}
	}
	p.Left = max(0, p.Left)
	slices.Sort(weeks[:])
	var slow, fast Hours
	for i, h := range weeks {
		p.Week += h
		if i < paceWeeks/2 {
			slow += h
		} else {
			fast += h
		}
	}
	p.Week /= paceWeeks
	p.First, p.FirstUnknown = done(today, p.Left, fast)
	p.Last, p.LastUnknown = done(today, p.Left, slow)
	return p
}

// done is the day on which hours are done at so many in four weeks.
func done(today measure.Date, left, fourWeeks Hours) (measure.Date, bool) {
	const days = 7 * paceWeeks / 2
	switch {
	case left == 0:
		return today, false
	case fourWeeks == 0:
		return measure.Date{}, true
	}
	return today.AddDays(int((left*days + fourWeeks - 1) / fourWeeks)), false
}

// String is "1,872 h left; 12 h a week: between ... and ...".
func (p Pace) String() string {
	words := fmt.Sprintf("%s left, %s a week", p.Left, p.Week)
	switch {
	case p.FirstUnknown:
		return words + ": nothing was logged in eight weeks, so no day can be told"
	case p.LastUnknown:
		return fmt.Sprintf("%s: not before %s", words, p.First)
	case p.First == p.Last:
		return strings.Join([]string{words, p.First.String()}, ": ")
	}
	return fmt.Sprintf("%s: between %s and %s", words, p.First, p.Last)
}
