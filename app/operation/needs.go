package operation

import (
	"cmp"
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/measure"
)

// PutNeeds lists what several sub-assemblies need, and makes those that are not there.
type PutNeeds struct {
	Source string // where the list comes from, for the journal; "" is not said
	Lists  []store.Needs
}

// Do lists them.
func (o PutNeeds) Do(_ context.Context, s *session.Session) (Result, error) {
	lists := make([]store.Needs, len(o.Lists))
	for i, list := range o.Lists {
		lists[i] = store.Needs{SubAssembly: list.SubAssembly, Requirements: calledHere(s, list.Requirements)}
	}
	_, e, err := s.Shop.PutNeeds(o.Source, lists...)
	return did(e, err)
}

// calledHere are requirements with their part numbers as the shop's catalog writes them.
func calledHere(s *session.Session, needs []store.Requirement) []store.Requirement {
	out := make([]store.Requirement, len(needs))
	for i, r := range needs {
		if r.Called != "" {
			r.Called = spelled(s, r.Called)
		}
		if r.Item != "" {
			r.Item = spelled(s, r.Item)
		}
		out[i] = r
	}
	return out
}

// EndRequirement ends a requirement, for a reason that is kept.
type EndRequirement struct {
	Requirement string // "R-31"
	Why         string
}

// Do ends it.
func (o EndRequirement) Do(_ context.Context, s *session.Session) (Result, error) {
	return did(s.Shop.EndRequirement(o.Requirement, o.Why))
}

// ReplaceRequirement puts a requirement in the place of another. What is not said stays
// as the other one has it, but for the torque of another number.
type ReplaceRequirement struct {
	Requirement string // "R-31"
	By          string // the number that the plans call now
	Quantity    string // as printed: "10 x 2 sides"
	Revision    string
	Note        string
}

// Do replaces it.
func (o ReplaceRequirement) Do(_ context.Context, s *session.Session) (Result, error) {
	with, err := requirementNamed(s, o.Requirement)
	if err != nil {
		return Result{}, err
	}
	old := with
	with.Called, with.Item, with.Via = spelled(s, o.By), "", nil
	if with.Called != old.Called {
		with.Torque, with.TorqueSource = "", ""
	}
	if quantity := strings.TrimSpace(o.Quantity); quantity != "" {
		with.Expression, with.Needed = quantity, measure.Quantity{Unit: cmp.Or(old.Needed.Unit, measure.Each)}
		if with.Kind == store.AsRequired {
			with.Kind = store.ExactNeed
		}
	}
	said(&with.Revision, o.Revision)
	said(&with.Note, o.Note)
	switch known, err := s.Shop.Item(with.Called); {
	case err != nil && store.KindOf(err) != store.NotFound:
		return Result{}, err
	case err == nil && with.Needed.Unit != "" && !mayCall(with.Needed.Unit, known.Unit):
		return Result{}, invalid("%s is kept by %s here, and %s asks for %s: ask which is meant.", with.Called, known.Unit, old.Name(), with.Needed.Unit)
	case with.Called == old.Called && o.Quantity == "" && with.Revision == old.Revision && with.Note == old.Note:
		return Result{}, invalid("%s calls %s already: say what differs.", old.Name(), old.Called)
	}
	_, e, err := s.Shop.ReplaceRequirement(old.Name(), with)
	return did(e, err)
}

// requirementNamed is the requirement of a name such as R-31, in any case.
func requirementNamed(s *session.Session, name string) (store.Requirement, error) {
	all, err := s.Shop.Requirements("")
	if err != nil {
		return store.Requirement{}, err
	}
	return session.RequirementNamed(all, name)
}

// OrderSubAssemblies sets the builder's order: those that are named come first.
type OrderSubAssemblies struct {
	Codes []string
}

// Do sets the order.
func (o OrderSubAssemblies) Do(_ context.Context, s *session.Session) (Result, error) {
	codes := make([]string, len(o.Codes))
	for i, code := range o.Codes {
		sub, err := subAssembly(s, code)
		if err != nil {
			return Result{}, err
		}
		codes[i] = sub.Code
	}
	return did(s.Shop.OrderSubAssemblies(codes...))
}

// LetGo lets the hold of a sub-assembly on stock go, so that others are promised first.
type LetGo struct {
	For  string // code of the sub-assembly
	Hold bool   // it holds again what it needs
}

// Do lets go.
func (o LetGo) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	return did(s.Shop.LetGo(sub.Code, !o.Hold))
}
