package operation

import (
	"context"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// PutAircraft makes an aircraft, or changes what is known of it but for its hours.
type PutAircraft struct {
	Aircraft store.Aircraft
}

// Do makes or changes it.
func (o PutAircraft) Do(_ context.Context, s *session.Session) (Result, error) {
	return did(s.Shop.PutAircraft(o.Aircraft))
}

// LogHours records the total time of an aircraft on a day.
type LogHours struct {
	Aircraft string
	Day      store.Date // zero: today
	Hours    build.Hours
}

// Do records it.
func (o LogHours) Do(_ context.Context, s *session.Session) (Result, error) {
	day := o.Day
	if day.IsZero() {
		day = s.Shop.Today()
	}
	return did(s.Shop.LogHours(o.Aircraft, day, o.Hours))
}

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
