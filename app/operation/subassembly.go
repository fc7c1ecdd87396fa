package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/build"
)

// PutSubAssembly changes what is known of a sub-assembly, or makes one. Empty fields stay
// as they are, and those that say none are taken back.
type PutSubAssembly struct {
	Code     string
	Name     string // one that is new has to have it
	Hours    string // planned: "12.5"
	Planned  string // the day that the work is planned for
	Aircraft string // its name
	PartOf   string // code of the sub-assembly that it is part of
	Kind     string // build, inspection or change
}

// Do makes or changes it.
func (o PutSubAssembly) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.Code)
	if err != nil {
		if store.KindOf(err) != store.NotFound || strings.TrimSpace(o.Name) == "" {
			return Result{}, err
		}
		sub = store.SubAssembly{Code: strings.TrimSpace(o.Code)}
	}
	said(&sub.Name, o.Name)
	if err := o.plan(s, &sub); err != nil {
		return Result{}, err
	}
	if said(&sub.Parent, o.PartOf); o.PartOf != "" && sub.Parent != "" {
		parent, err := subAssembly(s, sub.Parent)
		if err != nil {
			return Result{}, err
		}
		sub.Parent = parent.Code
	}
	if said(&sub.Aircraft, o.Aircraft); sub.Aircraft != "" {
		a, err := aircraftNamed(s, sub.Aircraft)
		if err != nil {
			return Result{}, err
		}
		sub.Aircraft = a.Name
	}
	return did(s.Shop.PutSubAssembly(sub))
}

// plan reads what is planned, and the sort of work.
func (o PutSubAssembly) plan(s *session.Session, sub *store.SubAssembly) (err error) {
	switch hours := strings.TrimSpace(o.Hours); {
	case strings.EqualFold(hours, None):
		sub.Hours = 0
	case hours != "":
		if sub.Hours, err = hoursTyped(s, hours); err != nil {
			return err
		}
	}
	switch planned := strings.TrimSpace(o.Planned); {
	case strings.EqualFold(planned, None):
		sub.Planned = store.Date{}
	case planned != "":
		if sub.Planned, err = s.ParseDay(planned); err != nil {
			return err
		}
	}
	switch kind := strings.ToLower(strings.TrimSpace(o.Kind)); kind {
	case "":
	case "build", None:
		sub.Work = store.Build
	default:
		sub.Work = store.Work(kind)
	}
	return nil
}

// hoursTyped are hours as they were typed.
func hoursTyped(s *session.Session, text string) (build.Hours, error) {
	plain, err := s.PlainFigure(text)
	if err != nil {
		return 0, err
	}
	h, err := build.ParseHours(plain)
	if err != nil {
		return 0, invalid("%v.", err)
	}
	return h, nil
}

// aircraftNamed is the aircraft of a name in any case; a new one of that name, with an
// error that is NotFound, where there is none.
func aircraftNamed(s *session.Session, name string) (store.Aircraft, error) {
	name = strings.Join(strings.Fields(name), " ")
	all, err := s.Shop.Aircraft()
	if err != nil {
		return store.Aircraft{}, err
	}
	for _, a := range all {
		if strings.EqualFold(a.Name, name) {
			return a, nil
		}
	}
	return store.Aircraft{Name: name}, missing(name, "There is no aircraft %q in this shop: make it first.", name)
}
