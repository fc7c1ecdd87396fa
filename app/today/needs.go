package today

import (
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
)

// needs are what blocks each sub-assembly, by item, and the ones that are ready.
func needs(s *session.Session, lists []list) (Section, []card.Route, error) {
	section := Section{ID: Needs, Title: "What blocks the build", Clear: "No sub-assembly has its needs entered yet."}
	var routes []card.Route
	subs, err := s.Shop.SubAssemblies()
	if err != nil {
		return section, nil, err
	}
	var ready []string
	var found []blocker
	for _, sub := range subs {
		blocked := false
		for _, r := range sub.Requirements {
			b, short, err := need(s, lists, sub, r)
			if err != nil {
				return section, nil, err
			}
			if short {
				blocked = true
				found = append(found, b)
			}
		}
		if !blocked && len(sub.Requirements) > 0 {
			ready = append(ready, sub.Code+" "+sub.Name)
		}
	}
	slices.SortStableFunc(found, func(a, b blocker) int { return int(a.ease - b.ease) })
	for _, b := range found {
		section.Rows = append(section.Rows, b.row)
		routes = append(routes, card.Route{Screen: card.Find, About: b.item})
	}
	if len(ready) > 0 {
		section.Title += " · ready: " + strings.Join(ready, ", ")
	}
	if len(subs) > 0 {
		section.Clear = "Nothing: every sub-assembly has what it needs."
	}
	return section.cut(routes)
}

// blocker is an item that a sub-assembly lacks.
type blocker struct {
	item string
	row  card.Row
	ease ease
}

// ease is how little it takes to have an item after all: what only the supplier can
// mend comes first.
type ease int

const (
	supplier  ease = iota // back-ordered, short, damaged, on no list
	delivery              // its crate has not come
	checking              // it may be in a crate that is here
	reckoning             // it is here, and only not counted in the unit that is needed
)

// need is a requirement that good stock does not meet; short is false where it does.
func need(s *session.Session, lists []list, sub store.SubAssembly, r store.Requirement) (b blocker, short bool, err error) {
	have, err := goodFor(s.Shop, sub, r)
	if err != nil {
		return b, false, err
	}
	reason, ease := why(lists, r.Item)
	words := card.Cell{Text: fmt.Sprintf("need %s, have %s", r.Needed.Number(), have.Figure()), Sub: reason}
	mark := card.Mark{Word: "not ready", Tone: card.Stop}
	low, err := have.Low.Cmp(r.Needed)
	switch {
	case err != nil: // listed by weight, needed by piece: nothing is converted unasked
		words = card.Cell{Text: fmt.Sprintf("need %s, have %s", r.Needed, have), Sub: "weigh a sample to count them"}
		mark, ease = card.Mark{Word: "cannot tell", Tone: card.Warn}, reckoning
	case low >= 0:
		return b, false, nil
	default:
		if high, err := have.High.Cmp(r.Needed); err == nil && high >= 0 {
			words.Sub = "about: count them to be sure"
			mark, ease = card.Mark{Word: "perhaps", Tone: card.Warn}, reckoning
		}
	}
	item, title := r.Item, session.Title(store.Item{}, s.Catalog().Decode(r.Item))
	if record, err := s.Shop.Item(item); err == nil {
		title = session.Title(record, s.Catalog().Decode(item))
	}
	row := card.Row{ID: sub.Code + item, Cells: []card.Cell{card.Name(item, title), {Text: sub.Name, Sub: sub.Code}, words, {Mark: mark}}}
	return blocker{item, row, ease}, true, nil
}

// goodFor is the good stock of an item that is free, or pulled for the sub-assembly.
func goodFor(shop *store.Shop, sub store.SubAssembly, r store.Requirement) (store.Amount, error) {
	var sum store.Amount
	holdings, err := shop.Holdings(r.Item)
	if err != nil {
		return sum, err
	}
	for _, h := range holdings {
		if h.Condition != store.Good {
			continue
		}
		place, err := shop.Place(h.Place)
		if err != nil {
			return sum, err
		}
		if place.Kind == store.SubAssemblyKind && place.ID != sub.Place {
			continue
		}
		if sum, err = sum.Add(h.Amount); err != nil {
			return sum, err
		}
	}
	if len(holdings) == 0 {
		sum = store.Exact(sum.Quantity)
		sum.Unit, sum.Low.Unit, sum.High.Unit = r.Needed.Unit, r.Needed.Unit, r.Needed.Unit
	}
	return sum, nil
}

// why is what the packing lists say of an item that is missing, and how little mends it.
func why(lists []list, item string) (string, ease) {
	for _, l := range lists {
		for _, line := range l.lines {
			if line.Designation != item {
				continue
			}
			switch l.state(line) {
			case store.BackOrder:
				return "back-ordered", supplier
			case store.NotArrived:
				return "crate " + line.Crate + " has not come", delivery
			case store.ToCheck:
				return fmt.Sprintf("line %d is to be checked", line.Number), checking
			case store.Short:
				return fmt.Sprintf("short on line %d", line.Number), supplier
			case store.DamagedState, store.WrongRevision:
				return fmt.Sprintf("%s on line %d", l.state(line), line.Number), supplier
			}
		}
	}
	return "on no packing list", supplier
}
