package session

import (
	"cmp"
	"slices"

	"stowright/app/notice"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
)

// Dues are what is due by when, with what it takes to say how long that is from now.
type Dues struct {
	All    []store.Due // ended ones too
	Pieces []store.Component
	Times  store.Times
	Today  store.Date
}

// Dues are what is due in the shop.
func (s *Reader) Dues() (u Dues, err error) {
	u.Today = s.Shop.Today()
	if u.Times, err = s.Shop.Times(); err != nil {
		return u, err
	}
	if u.Pieces, err = s.Shop.Components(); err != nil {
		return u, err
	}
	u.All, err = s.Shop.Dues()
	return u, err
}

// soon are days before something is due from which on it is marked, and soonHours the same
// in hours: a month of evenings. No rule says so.
const (
	soon      = 30
	soonHours = 100 // tenths
)

// Mark is how long it is until something is due, by what comes first.
func (u Dues) Mark(d store.Due) notice.Mark {
	day, at := d.Next()
	mark := notice.Mark{Word: "by when is not known", Tone: notice.Quiet}
	worst := -1
	take := func(words string, past, near bool) {
		rank, tone := 0, notice.Quiet
		switch {
		case past:
			rank, tone = 2, notice.Stop
		case near:
			rank, tone = 1, notice.Warn
		}
		if rank > worst {
			worst, mark = rank, notice.Mark{Word: words, Tone: tone}
		}
	}
	if d.Ended != nil {
		return notice.Mark{Word: "ended", Tone: notice.Quiet}
	}
	if !day.IsZero() {
		left := u.Today.DaysUntil(day)
		take(wording.DaysLeft(left), left < 0, left <= soon)
	}
	if at == nil {
		return mark
	}
	if now := u.Times.Due(d); now != nil {
		left := *at - *now
		take(hoursLeft(left), left < 0, left <= soonHours)
	} else {
		take("at "+at.String(), false, false)
	}
	return mark
}

// hoursLeft is "12.5 h left", or "3 h past".
func hoursLeft(left build.Hours) string {
	if left < 0 {
		return (-left).String() + " past"
	}
	return left.String() + " left"
}

// Pressing is what is overdue, or due soon, the next first.
func (u Dues) Pressing() []store.Due {
	return slices.DeleteFunc(u.InOrder(), func(d store.Due) bool {
		tone := u.Mark(d).Tone
		return d.Ended != nil || tone != notice.Stop && tone != notice.Warn
	})
}

// InOrder is what is due, the next first, what has no day after it, what ended last.
func (u Dues) InOrder() []store.Due {
	all := slices.Clone(u.All)
	rank := func(d store.Due) int {
		m := u.Mark(d)
		switch {
		case d.Ended != nil:
			return 4
		case m.Tone == notice.Stop:
			return 0
		case m.Tone == notice.Warn:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b store.Due) int {
		ranks := cmp.Compare(rank(a), rank(b))
		day, _ := a.Next()
		other, _ := b.Next()
		switch {
		case ranks != 0 || day.IsZero() && other.IsZero():
			return ranks
		case day.IsZero():
			return 1
		case other.IsZero():
			return -1
		}
		return other.DaysUntil(day)
	})
	return all
}

// Of is what something is due of: "Q", "CO-1 OQ-PROP 0007", "wrench 2".
func (u Dues) Of(d store.Due) string {
	for _, c := range u.Pieces {
		if c.Name() == d.Component {
			return c.Item + " " + c.Serial
		}
	}
	return d.Of()
}
