package operation

import (
	"context"
	"errors"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// PullStop takes what a stop of a pull list holds into the trays that it is for, as one entry.
type PullStop struct {
	Stop   build.Stop
	Amount string // "": as the list says; of several trays the first ones get theirs first
	Reason string // why it is more than is called; "" none is given
}

// Do takes it, or none of it where the rules of building refuse a part of it.
func (o PullStop) Do(_ context.Context, s *session.Session) (Result, error) {
	takes, err := o.takes(s)
	if err != nil {
		return Result{}, err
	}
	return pullAll(s, takes)
}

// pullAll books several takes as one entry, or none of them.
func pullAll(s *session.Session, takes []Take) (Result, error) {
	var pulls []store.TrayPull
	for _, take := range takes {
		code, t, err := take.transfer(s)
		if err != nil {
			return Result{}, err
		}
		i := slices.IndexFunc(pulls, func(p store.TrayPull) bool { return p.Code == code })
		if i < 0 {
			i, pulls = len(pulls), append(pulls, store.TrayPull{Code: code})
		}
		pulls[i].Transfers = append(pulls[i].Transfers, t)
	}
	return did(s.Shop.PullAll(pulls...))
}

// takes are the bookings, what is more than the trays call with the last.
func (o PullStop) takes(s *session.Session) ([]Take, error) {
	q := o.Stop.Quantity
	if strings.TrimSpace(o.Amount) != "" {
		var err error
		if q, err = s.ParseAmount(o.Amount, q.Unit); err != nil {
			return nil, err
		}
		if q.Sign() <= 0 {
			return nil, invalid("Type how many, as a number above zero.")
		}
	}
	heap := Heap{Key: store.StockKey{Item: o.Stop.Item, Place: o.Stop.Place.ID, Lot: o.Stop.Lot}}
	var all []Take
	for i, f := range o.Stop.For {
		part := measure.Quantity{Micro: min(q.Micro, f.Quantity.Micro), Unit: q.Unit}
		if i == len(o.Stop.For)-1 {
			part.Micro = q.Micro
		}
		if q.Micro -= part.Micro; part.Micro > 0 {
			all = append(all, Take{Heap: heap, Amount: s.Typed(part), For: f.Code, Reason: o.Reason})
		}
	}
	return all, nil
}

// TakeDecided takes something of which the origin asks for a decision, by one that is recorded
// with it: both happen or none.
type TakeDecided struct {
	Take
	Who   string // decided
	Why   string
	Paper string // in words; ""
}

// Do decides and takes.
func (o TakeDecided) Do(_ context.Context, s *session.Session) (Result, error) {
	if strings.TrimSpace(o.Why) == "" {
		return Result{}, invalid("Say why it may go in: what was looked at, and what was found.")
	}
	code, t, err := o.transfer(s)
	if err != nil && !errors.Is(err, store.ErrOrigin) {
		return Result{}, err
	}
	heap, err := s.Shop.Heap(t.StockKey)
	if err != nil {
		return Result{}, err
	}
	need, err := requirementCalled(s, code, t.Item)
	if err != nil {
		return Result{}, err
	}
	d := store.Decision{Kind: store.AnyOrigin, Who: o.Who, Note: strings.TrimSpace(o.Why), Paper: o.Paper, Requirements: []string{need}, Lots: []string{heap.Lot}}
	var e store.Entry
	err = s.Shop.Together(func(group *store.Shop) error {
		if _, _, err := group.Decide(d); err != nil {
			return err
		}
		e, err = group.PullAll(store.TrayPull{Code: code, Transfers: []store.Transfer{t}})
		return err
	})
	return did(e, err)
}

// PullTicked takes what was ticked on a printed list.
type PullTicked struct {
	Codes []string // of the list
	All   bool     // all of the list was taken, as it says
	// Ticked are places by name, with how many were taken where it is not what the list
	// says: "A-03", "A-12=4"; a place with several stops with the item too: "A-12/AN3-5A=4".
	Ticked []string
}

// Do takes them in the order in which they were ticked. Nothing is taken where one of them
// is not on the list.
func (o PullTicked) Do(ctx context.Context, s *session.Session) (Result, error) {
	list, err := session.Answer(s, func(r *session.Reader) (build.PullList, error) { return r.PullList(o.Codes...) })
	if err != nil {
		return Result{}, err
	}
	stops, err := o.stops(list)
	if err != nil {
		return Result{}, err
	}
	return PullColumn{Stops: stops}.Do(ctx, s)
}

// PullColumn takes what stands in the column of a printed list, as one entry.
type PullColumn struct {
	Stops []PullStop
	// Reason is why more than is called was taken, for the stops that give none; "" none
	// is given.
	Reason string
}

// Do takes them all, or nothing where one of them is refused.
func (o PullColumn) Do(_ context.Context, s *session.Session) (Result, error) {
	if len(o.Stops) == 0 {
		return Result{}, invalid("Nothing is ticked: type how many were taken, or a for all.")
	}
	var all []Take
	for _, stop := range o.Stops {
		if stop.Reason == "" && stop.more(s) {
			stop.Reason = o.Reason
		}
		takes, err := stop.takes(s)
		if err != nil {
			return Result{}, err
		}
		all = append(all, takes...)
	}
	return pullAll(s, all)
}

// TickedStop reads what was written at a stop of a printed list: a number, "a" or "." for
// what is listed, "n" for none. Nothing written is no tick: taken is false then, as for none.
func TickedStop(s *session.Session, stop build.Stop, text string) (taken bool, out PullStop, err error) {
	out = PullStop{Stop: stop}
	switch text = strings.TrimSpace(text); {
	case text == "", strings.EqualFold(text, "n"):
		return false, out, nil
	case text == ".", strings.EqualFold(text, "a"):
		return true, out, nil
	}
	out.Amount = text
	_, err = out.takes(s)
	return err == nil, out, err
}

// more reports whether more is taken than the list says.
func (o PullStop) more(s *session.Session) bool {
	q, err := s.ParseAmount(o.Amount, o.Stop.Quantity.Unit)
	return o.Amount != "" && err == nil && q.Micro > o.Stop.Quantity.Micro
}

func (o PullTicked) stops(list build.PullList) ([]PullStop, error) {
	var stops []PullStop
	if o.All {
		for _, s := range list.Stops {
			stops = append(stops, PullStop{Stop: s})
		}
		if len(stops) == 0 {
			return nil, invalid("Nothing is left to pull for %s.", strings.Join(list.For, ", "))
		}
		return stops, nil
	}
	for _, tick := range o.Ticked {
		where, amount, _ := strings.Cut(tick, "=")
		place, item, _ := strings.Cut(strings.TrimSpace(where), "/")
		found := slices.DeleteFunc(slices.Clone(list.Stops), func(s build.Stop) bool {
			return !strings.EqualFold(s.Place.Name, strings.TrimSpace(place)) || item != "" && !strings.EqualFold(s.Item, strings.TrimSpace(item))
		})
		switch {
		case len(found) == 0:
			return nil, missing(where, "%s is not on the list of %s any more: see what is left.", where, strings.Join(list.For, ", "))
		case len(found) > 1:
			return nil, invalid("%s has %d stops: say which, as in %s/%s.", where, len(found), where, found[0].Item)
		}
		stop := PullStop{Stop: found[0], Amount: amount}
		if slices.ContainsFunc(stops, func(s PullStop) bool { return s.Stop.Place == stop.Stop.Place && s.Stop.Item == stop.Stop.Item }) {
			return nil, invalid("%s is ticked twice: tick it once, with how many there are.", where)
		}
		stops = append(stops, stop)
	}
	return stops, nil
}
