package session

import (
	"slices"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// awaited is what packing lists and orders say of what is not in stock, by item.
func (s *Reader) awaited() (map[string][]build.Expected, error) {
	ships, err := s.Shop.Shipments()
	if err != nil {
		return nil, err
	}
	lines, err := s.AllLines(ships)
	if err != nil {
		return nil, err
	}
	return s.awaitedIn(ships, lines)
}

// awaitedIn is awaited, were the lines of the packing lists these.
func (s *Reader) awaitedIn(ships []store.Shipment, lines [][]store.Line) (map[string][]build.Expected, error) {
	all := map[string][]build.Expected{}
	for i, ship := range ships {
		for _, line := range lines[i] {
			if of := expected(ship, line); len(of) > 0 {
				all[line.Designation] = append(all[line.Designation], of...)
			}
		}
	}
	owing, err := s.owing(ships, lines)
	if err != nil {
		return nil, err
	}
	for _, e := range ordered(owing, ships, lines) {
		all[e.item] = append(all[e.item], e.Expected)
	}
	return all, nil
}

// expected is what a line of a packing list says of what is not here. Of what came short
// or unusable only that is owed which the supplier said will be sent; see [store.Shipment.Due].
func expected(ship store.Shipment, line store.Line) []build.Expected {
	_, arrived := ship.Delivery(line.Crate)
	e := build.Expected{Quantity: line.Listed, Line: line.Number(), List: ship.Order, Crate: line.Crate, Supplier: ship.Supplier}
	switch line.State(arrived) {
	case store.BackOrder:
		e.By = build.BackOrdered
	case store.NotArrived:
		e.By = build.NotCome
	case store.ToCheck:
		e.By = build.NotChecked
	case store.AllHere, store.Over, store.OffList, store.NeverChecked:
		return nil
	default:
		return lacking(ship, line, e)
	}
	return []build.Expected{e}
}

// lacking is what a line lacks that was counted: what is promised or back-ordered first,
// then what is short, then what is unusable.
func lacking(ship store.Shipment, line store.Line, e build.Expected) []build.Expected {
	short := measure.Quantity{Micro: max(0, -line.Difference().Micro), Unit: line.Listed.Unit}
	unusable := measure.Quantity{Micro: line.Finding.Damaged.Micro, Unit: line.Listed.Unit}
	note := string(store.DamagedState)
	if came := line.Finding.Came; came != nil && came.Revision {
		unusable, note = came.Quantity, string(store.WrongRevision)
		short.Micro = max(0, short.Micro-came.Quantity.Micro)
	}
	due, _ := ship.Due(line)
	if line.Match != nil && len(line.Match.Lines) > 0 { // what is short of an order is owed by that
		due.Micro = min(due.Micro, unusable.Micro)
	}
	sent, since := claimed(ship, line)
	var out []build.Expected
	add := func(by build.Source, q measure.Quantity, note string) {
		if q.Sign() > 0 {
			e.By, e.Quantity, e.Note, e.Claimed, e.Since = by, q, note, sent, since
			out = append(out, e)
		}
	}
	by := build.Promised
	if line.Status == store.BackOrdered {
		by = build.BackOrdered
	}
	add(by, due, "")
	rest := max(0, due.Micro-short.Micro)
	short.Micro = max(0, short.Micro-due.Micro)
	unusable.Micro = max(0, unusable.Micro-rest)
	add(build.Missing, short, "")
	add(build.Unusable, unusable, note)
	return out
}

// claimed reports whether a claim was sent for a line, and when the first was.
func claimed(ship store.Shipment, line store.Line) (sent bool, since store.Date) {
	for _, claim := range ship.Claims {
		if claim.GivenUp != "" {
			continue
		}
		for _, c := range claim.Lines {
			if c.Line == line.ID && c.Kind != store.ClaimSurplus {
				return true, claim.Sent
			}
		}
	}
	return false, store.Date{}
}

// supplied fills in how items are bought, and reads the heaps of those that the shop never
// wants to run out of.
func (s *Reader) supplied(f *store.Following) error {
	r := f.Of
	supplies, err := s.Shop.Supplies()
	if err != nil {
		return err
	}
	suppliers, err := s.Shop.Suppliers()
	if err != nil {
		return err
	}
	uses, err := s.uses(slices.ContainsFunc(supplies, func(u store.Supply) bool { return u.ByWaste }))
	if err != nil {
		return err
	}
	r.Supply, r.Suppliers = map[string]build.Supply{}, map[string]build.Supplier{}
	for _, u := range suppliers {
		r.Suppliers[u.Name] = build.Supplier{MinimumOrder: u.Minimum.Amount}
	}
	for _, u := range supplies {
		supply := build.Supply{
			Supplier: u.Supplier, Pack: u.Pack, Least: u.Least, Price: u.Price.Amount,
			Spare: build.SpareRule{Percent: u.Percent, Count: u.Spare, ByWaste: u.ByWaste, Uses: uses[u.Item]},
		}
		if item, err := s.Shop.Item(u.Item); err == nil {
			supply.Minimum = item.Minimum
		} else if store.KindOf(err) != store.NotFound {
			return err
		}
		r.Supply[u.Item] = supply
		if _, read := r.Stock[u.Item]; !read && supply.Minimum.Sign() > 0 {
			if r.Stock[u.Item], err = s.Shop.Heaps(u.Item, f.Trays); err != nil {
				return err
			}
		}
	}
	return nil
}

// owing is how all lines of orders stand.
func (s *Reader) owing(ships []store.Shipment, lines [][]store.Line) ([]store.Owing, error) {
	orders, err := s.Shop.Orders()
	if err != nil || len(orders) == 0 {
		return nil, err
	}
	ordered, err := s.Shop.OrderLines(0)
	if err != nil {
		return nil, err
	}
	return store.OwingOf(orders, ordered, ships, lines), nil
}

// unaskedLine is a line of a packing list of which nobody said whether it was ordered.
type unaskedLine struct {
	ship store.Shipment
	line store.Line
	left int64 // of what it brings, in millionths of its unit
}

// expectedItem is what is expected of an item.
type expectedItem struct {
	build.Expected
	item string
}

// ordered is what lines of orders still owe. What came, or is coming, on a line of a
// packing list that may be theirs, and that nobody was asked about yet, is not counted
// a second time: it is here or expected already.
func ordered(owing []store.Owing, ships []store.Shipment, lines [][]store.Line) []expectedItem {
	unasked := map[string][]*unaskedLine{}
	for _, w := range owing {
		unasked[w.Item] = nil
	}
	for i, ship := range ships {
		for _, l := range lines[i] {
			if _, owed := unasked[l.Designation]; owed {
				unasked[l.Designation] = append(unasked[l.Designation], &unaskedLine{ship, l, broughtBy(l).Micro})
			}
		}
	}
	var out []expectedItem
	for _, w := range owing {
		e := build.Expected{By: build.Ordered, Quantity: w.Owed, Line: w.Number, List: w.OrderName(), Supplier: w.Supplier, Since: w.Ordered, Until: w.Promised}
		for _, u := range unasked[w.Item] {
			if !w.MayCome(u.ship, u.line) {
				continue
			}
			got := min(u.left, e.Quantity.Micro)
			u.left -= got
			e.Quantity.Micro -= got
		}
		if e.Quantity.Sign() > 0 {
			out = append(out, expectedItem{e, w.Item})
		}
	}
	return out
}

// broughtBy is how much a line of a packing list brings: what was found, or else what is listed.
func broughtBy(l store.Line) measure.Quantity {
	if l.Finding != nil {
		return l.Finding.Found
	}
	return l.Listed
}

// leadTimes are the days that deliveries took, by supplier: one of an order counts once.
func leadTimes(owing []store.Owing) build.LeadTimes {
	type delivery struct {
		order, days int
	}
	seen := map[delivery]bool{}
	leads := build.LeadTimes{}
	for _, w := range owing {
		for _, days := range w.Days {
			if d := (delivery{w.Order, days}); days >= 0 && !seen[d] {
				seen[d] = true
				leads[w.Supplier] = append(leads[w.Supplier], days)
			}
		}
	}
	return leads
}
