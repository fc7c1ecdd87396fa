package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
)

// Note keeps a note of the work on a sub-assembly, on one of its requirements or on a
// position of the aircraft.
type Note struct {
	For         string // code of the sub-assembly; "" where the requirement says it
	Kind        string // torque, paint, inspection, look, hours or other
	Requirement string // "R-31"; "" for none
	Called      string // the number that its list calls, in place of Requirement
	Position    string
	Text        string // the value as it was read, with its unit, or what was seen
	Tool        string
	Second      string // who besides
	Hours       string // worked: "3.5"
	On          string // the day; "": today
}

// Do keeps it.
func (o Note) Do(_ context.Context, s *session.Session) (Result, error) {
	n := store.Note{
		Kind: store.NoteKind(strings.ToLower(strings.TrimSpace(o.Kind))), Requirement: strings.TrimSpace(o.Requirement), Position: o.Position,
		Text: o.Text, Tool: o.Tool, Second: o.Second,
	}
	var err error
	if n.Day, err = day(s, o.On, s.Shop.Today()); err != nil {
		return Result{}, err
	}
	if hours := strings.TrimSpace(o.Hours); hours != "" {
		if n.Hours, err = hoursTyped(s, hours); err != nil {
			return Result{}, err
		}
	}
	if o.For != "" {
		sub, err := subAssembly(s, o.For)
		if err != nil {
			return Result{}, err
		}
		n.SubAssembly = sub.Code
	}
	if o.Called != "" {
		if n.Requirement != "" {
			return Result{}, invalid("Name the line of the list by its number or by what it calls, and not by both.")
		}
		if n.Requirement, err = requirementCalled(s, n.SubAssembly, o.Called); err != nil {
			return Result{}, err
		}
	}
	_, e, err := s.Shop.Note(n)
	return did(e, err)
}

// requirementCalled is the requirement of a sub-assembly that is named by what it calls.
func requirementCalled(s *session.Session, code, called string) (string, error) {
	sub, err := subAssembly(s, code)
	if err != nil {
		return "", err
	}
	listed, err := s.Shop.Requirements(sub.Code)
	if err != nil {
		return "", err
	}
	called = spelled(s, called)
	var names []string
	for _, r := range listed {
		if r.InForce() && (r.Called == called || r.Item == called) {
			names = append(names, r.Name())
		}
	}
	switch len(names) {
	case 0:
		return "", missing(called, "%s does not call %s: see its list.", sub.Code, called)
	case 1:
		return names[0], nil
	}
	return "", invalid("%s calls %s in %s: say which of them.", sub.Code, called, strings.Join(names, " and "))
}
