package operation

import (
	"context"
	"slices"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// PutAircraft changes what is known of an aircraft, or makes one. Empty fields stay as
// they are, and those that say none are taken back.
type PutAircraft struct {
	Name        string
	Certificate string // experimental, standard or other; one that is new has to have it, or none
	Inspector   string // who may inspect it
	Paper       string // by which that person may
}

// Do makes or changes it.
func (o PutAircraft) Do(_ context.Context, s *session.Session) (Result, error) {
	certificate := strings.ToLower(strings.TrimSpace(o.Certificate))
	a, err := aircraftNamed(s, o.Name)
	if err != nil {
		if store.KindOf(err) != store.NotFound || certificate == "" {
			return Result{}, err
		}
	}
	switch certificate {
	case "":
	case None, "none yet":
		a.Certificate = store.NoCertificate
	default:
		a.Certificate = store.Certificate(certificate)
	}
	who, paper := strings.Join(strings.Fields(o.Inspector), " "), strings.TrimSpace(o.Paper)
	switch {
	case who == "" && paper != "":
		return Result{}, invalid("Say who may inspect %s by %s.", a.Name, paper)
	case strings.EqualFold(who, None):
		a.Inspectors = nil
	case who != "":
		a.Inspectors = append(slices.DeleteFunc(slices.Clone(a.Inspectors), func(p store.Inspector) bool { return strings.EqualFold(p.Who, who) }),
			store.Inspector{Who: who, Paper: paper})
	}
	return did(s.Shop.PutAircraft(a))
}

// LogHours records the total time of an aircraft on a day.
type LogHours struct {
	Aircraft string
	Hours    string // "112.4"
	On       string // the day; "": today
}

// Do records it.
func (o LogHours) Do(_ context.Context, s *session.Session) (Result, error) {
	a, err := aircraftNamed(s, o.Aircraft)
	if err != nil {
		return Result{}, err
	}
	on, err := day(s, o.On, s.Shop.Today())
	if err != nil {
		return Result{}, err
	}
	hours, err := hoursTyped(s, o.Hours)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.LogHours(a.Name, on, hours))
}
