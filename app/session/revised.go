package session

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"stowright/store"
)

// Revised is a packing list of an order of which the shop has another list already: a
// revised one, or that of another part of the order. A person must say which.
type Revised struct {
	Of      store.Shipment // the newest that has the same order number
	Changes []Change       // in the order of the new list; what is gone comes last
}

// ChangeKind is how a line of a list differs from that of an earlier list.
type ChangeKind int

// The kinds of change.
const (
	Added       ChangeKind = iota // on the new list alone
	Gone                          // on the earlier list alone
	Requantity                    // the same number, another quantity
	Rerevision                    // another revision letter of the same number
	Superseding                   // another number on the same line, with the same words
)

// Change is one difference between two lists. Line is of the new list and Was of the
// earlier one, empty where there is none.
type Change struct {
	Kind ChangeKind
	Line store.NewLine
	Was  store.Line
}

// String is the change as a person reads it: "AN3-5A: 24 ea, was 20 ea".
func (c Change) String() string {
	switch c.Kind {
	case Added:
		return fmt.Sprintf("%s: added, %s", c.Line.Designation, c.Line.Listed)
	case Gone:
		return fmt.Sprintf("%s: not on this list, was %s", c.Was.Designation, c.Was.Listed)
	case Requantity:
		return fmt.Sprintf("%s: %s, was %s", c.Line.Designation, c.Line.Listed, c.Was.Listed)
	}
	return fmt.Sprintf("%s: %s, was %s, %s", c.Line.Designation, c.Line.Listed, c.Was.Designation, c.Was.Listed)
}

// FindRevised looks for an earlier list of the same order. There is none where the
// order has no number, or the shop has this very list.
func FindRevised(shop *store.Shop, ship store.NewShipment) (Revised, bool, error) {
	if ship.Order == "" {
		return Revised{}, false, nil
	}
	ships, err := shop.Shipments()
	if err != nil {
		return Revised{}, false, err
	}
	var r Revised
	for _, s := range ships {
		if s.Fingerprint == ship.Fingerprint {
			return Revised{}, false, nil
		}
		if strings.EqualFold(s.Order, ship.Order) {
			r.Of = s
		}
	}
	if r.Of.ID == "" {
		return Revised{}, false, nil
	}
	lines, err := shop.Lines(r.Of.ID)
	if err != nil {
		return Revised{}, false, err
	}
	r.Changes = changes(lines, ship.Lines)
	return r, true, nil
}

// pairing is by what two lines of two lists are the same line; empty for nothing.
type pairing struct {
	kind ChangeKind
	by   func(number int, designation, title string) string
}

// pairings are tried in this order, the surest first: the same number on the same
// line, the same number, another revision of it, the same line with the same words.
var pairings = []pairing{
	{Requantity, func(number int, designation, _ string) string { return fmt.Sprint(number, " ", designation) }},
	{Requantity, func(_ int, designation, _ string) string { return designation }},
	{Rerevision, func(_ int, designation, _ string) string { return withoutRevision(designation) }},
	{Superseding, func(number int, _, title string) string {
		if title == "" {
			return ""
		}
		return fmt.Sprint(number, " ", title)
	}},
}

// changes pairs the lines of two lists and returns those that differ. What was found
// though it was on no list takes no part.
func changes(was []store.Line, now []store.NewLine) []Change {
	was = slices.DeleteFunc(slices.Clone(was), func(l store.Line) bool { return l.Extra })
	before, kinds := make([]*store.Line, len(now)), make([]ChangeKind, len(now))
	taken := make([]bool, len(was))
	for _, p := range pairings {
		free := make(map[string][]int)
		for j, a := range was {
			if key := p.by(a.Number, a.Designation, a.Title); key != "" && !taken[j] {
				free[key] = append(free[key], j)
			}
		}
		for i, b := range now {
			key := p.by(b.Number, b.Designation, b.Title)
			if before[i] != nil || len(free[key]) == 0 {
				continue
			}
			j := free[key][0]
			free[key] = free[key][1:]
			before[i], kinds[i], taken[j] = &was[j], p.kind, true
		}
	}
	var found []Change
	for i, b := range now {
		switch {
		case before[i] == nil:
			found = append(found, Change{Kind: Added, Line: b})
		case kinds[i] != Requantity || before[i].Listed != b.Listed:
			found = append(found, Change{Kind: kinds[i], Line: b, Was: *before[i]})
		}
	}
	for j, a := range was {
		if !taken[j] {
			found = append(found, Change{Kind: Gone, Was: a})
		}
	}
	return found
}

// revision is a number with a revision letter behind it. L and R are hands, never
// revisions.
var revision = regexp.MustCompile(`^(.*\d)-[A-KM-QS-Z]$`)

// withoutRevision is a number without its revision letter, empty where it has none.
func withoutRevision(designation string) string {
	if m := revision.FindStringSubmatch(designation); m != nil {
		return m[1]
	}
	return ""
}
