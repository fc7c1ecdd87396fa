package operation

import (
	"context"
	"strconv"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// PutDue records by when something has to be done, or changes it. Empty fields stay as
// they are, and those that say none are taken back.
type PutDue struct {
	Name                      string // "DU-1"; "": a new one
	What                      string
	Aircraft, Component, Tool string // of one of these
	Of                        string // or in one text: an aircraft, a component as CO-1, or "tool wrench 2"
	Rule                      string // in words, as its paper has it
	Source                    string // where the rule stands
	Months                    string // calendar months after it was done
	Every                     string // hours after it was done
	By                        string // the day, as long as it was not done here
	At                        string // the hours, as long as it was not done here
	Job                       string // code of the sub-assembly that lists what it takes
}

// Do records it.
func (o PutDue) Do(_ context.Context, s *session.Session) (Result, error) {
	var d store.Due
	var err error
	if o.Name != "" {
		if d, err = dueNamed(s, o.Name); err != nil {
			return Result{}, err
		}
	}
	for _, field := range []struct {
		to    *string
		typed string
	}{{&d.What, o.What}, {&d.Tool, o.Tool}, {&d.Rule, o.Rule}, {&d.Source, o.Source}} {
		said(field.to, field.typed)
	}
	if err := o.of(s, &d); err != nil {
		return Result{}, err
	}
	if err := o.when(s, &d); err != nil {
		return Result{}, err
	}
	_, e, err := s.Shop.PutDue(d)
	return did(e, err)
}

// of is what it is for, and the job that it takes.
func (o *PutDue) of(s *session.Session, d *store.Due) error {
	if of := strings.TrimSpace(o.Of); of != "" {
		d.Aircraft, d.Component, d.Tool = "", "", ""
		if err := o.named(s, of); err != nil {
			return err
		}
		said(&d.Tool, o.Tool)
	}
	if o.Aircraft != "" {
		a, err := aircraftNamed(s, o.Aircraft)
		if err != nil {
			return err
		}
		d.Aircraft = a.Name
	}
	if o.Component != "" {
		c, err := componentNamed(s, o.Component)
		if err != nil {
			return err
		}
		d.Component = c.Name()
	}
	if said(&d.Job, o.Job); o.Job != "" && d.Job != "" {
		sub, err := subAssembly(s, d.Job)
		if err != nil {
			return err
		}
		d.Job = sub.Code
	}
	return nil
}

// when is by when it is due.
func (o PutDue) when(s *session.Session, d *store.Due) (err error) {
	if months := strings.TrimSpace(o.Months); months != "" {
		if d.Months, err = strconv.Atoi(months); err != nil {
			return invalid("%q is no number of months: type one such as 12.", months)
		}
	}
	if o.Every != "" {
		if d.Every, err = hoursTyped(s, o.Every); err != nil {
			return err
		}
	}
	if o.By != "" {
		if d.Day, err = s.ParseDay(strings.TrimSpace(o.By)); err != nil {
			return err
		}
	}
	if o.At != "" {
		d.At, err = hoursSaid(s, o.At)
	}
	return err
}

// ToolWord begins the name of a tool where it might be that of something else.
const ToolWord = "tool"

// named is what a text names. Nothing is taken for a tool that is not said to be one.
func (o *PutDue) named(s *session.Session, of string) error {
	if word, tool, _ := strings.Cut(of, " "); strings.EqualFold(word, ToolWord) && tool != "" {
		o.Tool = tool
		return nil
	}
	if a, err := aircraftNamed(s, of); err == nil {
		o.Aircraft = a.Name
		return nil
	}
	c, err := componentNamed(s, of)
	if store.KindOf(err) == store.NotFound {
		return missing(of, "There is no aircraft and no component %q in this shop: record it first, or write tool before the name of a tool.", of)
	}
	o.Component = c.Name()
	return err
}

func dueNamed(s *session.Session, name string) (store.Due, error) {
	name = strings.TrimSpace(name)
	all, err := s.Shop.Dues()
	if err != nil {
		return store.Due{}, err
	}
	for _, d := range all {
		if strings.EqualFold(d.Name(), name) {
			return d, nil
		}
	}
	return store.Due{}, missing(name, "Nothing is due under %q in this shop: see the list.", name)
}

// EnterDue enters that something was done that is due.
type EnterDue struct {
	Name  string // "DU-1"
	By    string // who did it
	On    string // the day; "": today
	Hours string // of what it is for, then; "": not known
	Note  string
}

// Do enters it.
func (o EnterDue) Do(_ context.Context, s *session.Session) (Result, error) {
	d, err := dueNamed(s, o.Name)
	if err != nil {
		return Result{}, err
	}
	done := store.DueDone{By: o.By, Note: o.Note}
	if done.Day, err = day(s, o.On, s.Shop.Today()); err != nil {
		return Result{}, err
	}
	if done.Hours, err = hoursSaid(s, o.Hours); err != nil {
		return Result{}, err
	}
	return did(s.Shop.EnterDue(d.Name(), done))
}

// EndDue records that something is due no more.
type EndDue struct {
	Name string // "DU-1"
	Why  string
}

// Do ends it.
func (o EndDue) Do(_ context.Context, s *session.Session) (Result, error) {
	d, err := dueNamed(s, o.Name)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.EndDue(d.Name(), o.Why))
}
