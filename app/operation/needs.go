package operation

import (
	"context"

	"stowright/app/session"
	"stowright/store"
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

// ReplaceRequirement puts a requirement in the place of another.
type ReplaceRequirement struct {
	Requirement string // "R-31"
	With        store.Requirement
}

// Do replaces it.
func (o ReplaceRequirement) Do(_ context.Context, s *session.Session) (Result, error) {
	_, e, err := s.Shop.ReplaceRequirement(o.Requirement, calledHere(s, []store.Requirement{o.With})[0])
	return did(e, err)
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
