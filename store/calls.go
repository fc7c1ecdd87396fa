package store

import (
	"errors"
	"fmt"
	"slices"

	"stowright/store/measure"
)

// ErrReason is in the chain of an error that says what is done against a list and goes all
// the same when a reason is given.
var ErrReason = errors.New("a reason is asked for")

// called is one line of a sub-assembly that an item may be fitted for: a requirement, or
// what a decision asks for with it.
type called struct {
	requirement Requirement
	decision    string // that allows the item; "" where the plans call it
	needed      int64  // millionths
	open        int64  // of needed, what is not fitted yet
	free        bool   // as required: any quantity
}

// calls are the lines of a sub-assembly that an item may be fitted for, in their order.
type calls struct {
	sub    SubAssembly
	lines  []called
	listed bool // something is listed at all

	origins []Decision // in force, that let a lot in whatever its origin
}

// calls finds what a sub-assembly calls an item for, today.
func (w *writer) calls(sub SubAssembly, item string) (calls, error) {
	c := calls{sub: sub}
	all, err := requirementsOf(w.ledger.tx, sub.Code)
	if err != nil {
		return c, err
	}
	decisions, err := w.decisionsInForce()
	if err != nil {
		return c, err
	}
	c.origins = slices.DeleteFunc(slices.Clone(decisions), func(d Decision) bool { return d.Kind != AnyOrigin })
	fitted, err := fittedIn(w.ledger.tx, sub.Code)
	if err != nil {
		return c, err
	}
	loose := int64(0) // of the item, fitted for no requirement
	for _, f := range fitted {
		if f.Item == item && f.Requirement == "" {
			loose += f.Amount.Micro
		}
	}
	for _, r := range all {
		if !r.InForce() {
			continue
		}
		c.listed = true
		line, ok := calledFor(r, item, decisions)
		if !ok || r.Kind == Temporary {
			continue
		}
		for _, f := range fitted {
			if f.Requirement != "" && successor(all, f.Requirement) == r.Name() && line.counts(f.Item, item, decisions) {
				line.open -= f.Amount.Micro
			}
		}
		line.open = max(0, line.open)
		by := min(loose, line.open)
		line.open, loose = line.open-by, loose-by
		c.lines = append(c.lines, line)
	}
	return c, nil
}

// calledFor is the line by which a requirement asks for an item, and whether it does.
func calledFor(r Requirement, item string, decisions []Decision) (called, bool) {
	line := called{requirement: r, needed: r.Needed.Micro, open: r.Needed.Micro, free: r.Kind == AsRequired}
	for _, d := range decisions {
		if !slices.Contains(d.Requirements, r.Name()) || d.Item == "" {
			continue
		}
		if d.Item == item {
			line.decision = d.Name()
			return line, true
		}
		for _, x := range d.Extra {
			if x.Item == item {
				return called{requirement: r, decision: d.Name(), needed: x.Quantity.Micro, open: x.Quantity.Micro}, true
			}
		}
	}
	return line, r.Item == item || r.Called == item
}

// counts reports whether a fitted item counts for the line of an item: what a decision asks
// for besides is counted by itself, all else together.
func (c called) counts(fitted, item string, decisions []Decision) bool {
	extra := func(of string) bool {
		for _, d := range decisions {
			if !slices.Contains(d.Requirements, c.requirement.Name()) {
				continue
			}
			if slices.ContainsFunc(d.Extra, func(x Extra) bool { return x.Item == of }) {
				return true
			}
		}
		return false
	}
	if extra(item) || extra(fitted) {
		return fitted == item
	}
	return true
}

// successor is the name of the requirement that took the place of another in the end.
func successor(all []Requirement, name string) string {
	for range all {
		i := slices.IndexFunc(all, func(r Requirement) bool { return r.Name() == name })
		if i < 0 || all[i].ReplacedBy == "" {
			break
		}
		name = all[i].ReplacedBy
	}
	return name
}

// share makes events of what goes in: each line gets what it still needs, and the last one
// the rest, for which a reason is asked.
func (c calls) share(f Fitting, went Amount) ([]Fit, error) {
	event := Fit{
		SubAssembly: c.sub.Code, Item: f.Item, Lot: f.Lot, Amount: went, Position: f.Position, Reason: f.Reason, Note: f.Note,
	}
	lines := c.lines
	if f.Requirement != "" {
		key := requirementKey(f.Requirement)
		lines = slices.DeleteFunc(slices.Clone(lines), func(l called) bool { return l.requirement.key() != key })
	}
	if len(lines) == 0 {
		if c.listed && f.Reason == "" || f.Requirement != "" {
			return nil, c.stranger(f)
		}
		return []Fit{event}, nil
	}
	if err := c.excess(lines, f, went); err != nil {
		return nil, err
	}
	var parts []Fit
	rest := went
	for i, line := range lines {
		part := rest
		if i < len(lines)-1 && !rest.Estimate() && rest.Micro > line.open && !line.free {
			part = Exact(measure.Quantity{Micro: line.open, Unit: rest.Unit})
		}
		if part.IsZero() {
			continue
		}
		parts = append(parts, c.decided(line.event(event, part)))
		var err error
		if rest, err = rest.Add(part.Neg()); err != nil {
			return nil, err
		}
		if rest.IsZero() {
			break
		}
	}
	return parts, nil
}

// event is the event of what goes in for a line.
func (c called) event(f Fit, part Amount) Fit {
	f.Requirement, f.Decision, f.Amount = c.requirement.Name(), c.decision, part
	if f.Position == "" {
		f.Position = c.requirement.Position
	}
	return f
}

// decided is an event with the newest decision that lets its lot in whatever its origin,
// where none is named already.
func (c calls) decided(f Fit) Fit {
	if f.Decision != "" {
		return f
	}
	for _, d := range c.origins {
		if slices.Contains(d.Requirements, f.Requirement) && slices.Contains(d.Lots, f.Lot) {
			f.Decision = d.Name()
		}
	}
	return f
}

// stranger is what is said of an item that is not called.
func (c calls) stranger(f Fitting) error {
	if f.Requirement != "" {
		return fail(Conflict, f.Item, "%s of %s does not ask for %s: leave it out, or have a decision say so.", f.Requirement, c.sub.Code, f.Item)
	}
	return asks(f.Item, "%s is not called in %s: say why it goes in.", f.Item, c.sub.Code)
}

// excess asks for a reason where more goes in than the lines still call for.
func (c calls) excess(lines []called, f Fitting, went Amount) error {
	needed, open := int64(0), int64(0)
	for _, l := range lines {
		if l.free || l.requirement.Needed.Unit != went.Unit && l.decision == "" {
			return nil // any quantity, or one that cannot be compared
		}
		needed, open = needed+l.needed, open+l.open
	}
	if went.Micro <= open || f.Reason != "" {
		return nil
	}
	q := func(micro int64) string { return measure.Quantity{Micro: micro, Unit: went.Unit}.Number() }
	return asks(f.Item, "%s of %s called in %s, %s fitted: say why %s more.", q(needed), f.Item, c.sub.Code, q(needed-open), q(went.Micro-open))
}

// asks is an error that goes away when a reason is given.
func asks(where, format string, args ...any) error {
	return &Error{Kind: Conflict, Where: where, Message: fmt.Sprintf(format, args...), Err: ErrReason}
}
