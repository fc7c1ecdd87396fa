package operation

import (
	"context"
	"strings"

	"stowright/app/session"
	"stowright/store"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// PutJoint says which lines of the list of a sub-assembly are one joint, and what its bolt
// goes through. Empty fields stay as they are.
type PutJoint struct {
	For   string   // code of the sub-assembly
	Name  string   // of the joint
	Of    []string // "R-31": its bolt, nut and washers
	Stack string   // from the head to the nut: "spar .125, plate .063"
	None  bool     // it is a joint no more
}

// Do puts it together.
func (o PutJoint) Do(_ context.Context, s *session.Session) (Result, error) {
	sub, err := subAssembly(s, o.For)
	if err != nil {
		return Result{}, err
	}
	if o.None {
		return did(s.Shop.PutJoint(sub.Code, o.Name, nil, nil))
	}
	names, stack, err := jointNow(s, sub.Code, o.Name)
	if err != nil {
		return Result{}, err
	}
	if len(o.Of) > 0 {
		names = o.Of
	}
	if strings.TrimSpace(o.Stack) != "" {
		if stack, err = layersTyped(s.Lengths(), o.Stack); err != nil {
			return Result{}, invalid("%v.", err)
		}
	}
	switch {
	case len(names) == 0:
		return Result{}, invalid("There is no joint of that name in %s: say which lines of its list are to be one, its bolt first, as in R-31.", sub.Code)
	case len(stack) == 0:
		return Result{}, invalid("Type what the bolt goes through from the head to the nut, as in spar .125, plate .063.")
	}
	return did(s.Shop.PutJoint(sub.Code, o.Name, names, stack))
}

// jointNow are the lines of a joint and what it goes through, as the shop has them.
func jointNow(s *session.Session, code, name string) (names []string, stack []store.Layer, err error) {
	listed, err := s.Shop.Requirements(code)
	for _, r := range listed {
		if !r.InForce() || r.Joint == "" || !strings.EqualFold(r.Joint, strings.TrimSpace(name)) {
			continue
		}
		names = append(names, r.Name())
		if len(stack) == 0 {
			stack = r.Stack
		}
	}
	return names, stack, err
}

// layersTyped are the parts that a bolt goes through, as they were typed.
func layersTyped(in measure.System, text string) ([]store.Layer, error) {
	plies, err := hardware.ParsePliesIn(in, text)
	if err != nil {
		return nil, err
	}
	layers := make([]store.Layer, len(plies))
	for i, p := range plies {
		layers[i] = store.Layer{Name: p.Name, Thickness: p.Thickness}
	}
	return layers, nil
}
