package operation

import (
	"context"
	"slices"

	"stowright/app/session"
	"stowright/store"
)

// FitTray records that all of what lies in the tray of a sub-assembly was fitted, as one
// entry. What is temporary, and what is not good, stays there.
type FitTray struct {
	For    string // code of the sub-assembly
	Reason string // why it is more than is called; "" none is given
}

// Do fits.
func (o FitTray) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	heaps, err := s.Shop.Contents(sub.Place)
	if err != nil {
		return Result{}, err
	}
	listed, err := s.Shop.Requirements(sub.Code)
	if err != nil {
		return Result{}, err
	}
	var all []store.Fitting
	for _, h := range heaps {
		temporary := slices.ContainsFunc(listed, func(r store.Requirement) bool {
			return r.InForce() && r.Item == h.Item && r.Kind == store.Temporary
		})
		if h.Condition == store.Good && !temporary {
			all = append(all, store.Fitting{Transfer: store.Transfer{StockKey: h.StockKey, Reason: o.Reason}})
		}
	}
	if len(all) == 0 {
		return Result{}, invalid("Nothing lies in the tray of %s that could be fitted: pull it first.", sub.Code)
	}
	return did(s.Shop.Fit(sub.Code, all...))
}

// PutTrayBack takes all that is left in the tray of a sub-assembly back to where it was
// pulled from, each heap as an entry of its own: what has no home any more is told apart.
type PutTrayBack struct {
	From string // code of the sub-assembly
	// Meetings say by item what becomes of two lots of it that would lie in one place.
	Meetings map[string]store.Meeting
}

// Do puts back. What went back before something was refused stays there.
func (o PutTrayBack) Do(ctx context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.From)
	if err != nil {
		return Result{}, err
	}
	heaps, err := s.Shop.Contents(sub.Place)
	if err != nil {
		return Result{}, err
	}
	var last Result
	for _, h := range heaps {
		if h.Condition != store.Good {
			continue
		}
		if last, err = (PutBack{Heap: Heap{Key: h.StockKey}, From: sub.Code, Meeting: o.Meetings[h.Item]}).Do(ctx, s); err != nil {
			return last, err
		}
	}
	if last.Entry.Seq == 0 {
		return last, invalid("Nothing is left in the tray of %s.", sub.Code)
	}
	return last, nil
}
