package operation

import (
	"context"

	"stowright/app/session"
	"stowright/store"
)

// ChangePlans applies a bulletin or a revised plan.
type ChangePlans struct {
	Change store.PlanChange
	Edit   store.PlanEdit
}

// Do applies it.
func (o ChangePlans) Do(_ context.Context, s *session.Session) (Result, error) {
	edit := store.PlanEdit{Add: calledHere(s, o.Edit.Add), End: o.Edit.End, Replace: map[string]store.Requirement{}}
	for name, with := range o.Edit.Replace {
		edit.Replace[name] = calledHere(s, []store.Requirement{with})[0]
	}
	_, e, err := s.Shop.ChangePlans(o.Change, edit)
	return did(e, err)
}
