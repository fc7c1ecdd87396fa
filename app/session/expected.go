package session

import (
	"slices"

	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// expected is what a line of a packing list says of what is not here.
func expected(ship store.Shipment, line store.Line) []build.Expected {
	_, arrived := ship.Delivery(line.Crate)
	e := build.Expected{Quantity: line.Listed, Line: line.Number, List: ship.Order, Crate: line.Crate, Supplier: ship.Supplier}
	switch state := line.State(arrived); state {
	case store.BackOrder:
		e.By = build.BackOrdered
	case store.NotArrived:
		e.By = build.NotCome
	case store.ToCheck:
		e.By = build.NotChecked
	case store.Short:
		e.By, e.Quantity = build.Missing, line.Difference().Neg()
		answered(&e, ship, line, store.ClaimShort)
	case store.DamagedState:
		e.By, e.Note, e.Quantity = build.Unusable, string(state), line.Finding.Damaged
		answered(&e, ship, line, store.ClaimDamaged)
		if short := line.Difference().Neg(); short.Sign() > 0 {
			also := e
			also.By, also.Note, also.Quantity, also.Claimed, also.Since = build.Missing, "", short, false, store.Date{}
			answered(&also, ship, line, store.ClaimShort)
			return []build.Expected{e, also}
		}
	case store.WrongRevision:
		e.By, e.Note, e.Quantity = build.Unusable, string(state), line.Finding.Came.Quantity
		answered(&e, ship, line, store.ClaimWrong)
	default:
		return nil
	}
	return []build.Expected{e}
}

// answered takes in what became of the claim for what is missing of a line: only where
// the supplier said that it will be sent is it owed. A line that was matched to an order
// is owed by that.
func answered(e *build.Expected, ship store.Shipment, line store.Line, kind store.ClaimKind) {
	for _, c := range line.Claims() {
		sent, as, ok := ship.Claim(c)
		if !ok || c.Kind != kind {
			continue
		}
		e.Claimed, e.Since = true, sent.Sent
		if as.Answer == store.Replacement && (kind != store.ClaimShort || line.Match == nil || len(line.Match.Lines) == 0) {
			e.By = build.Promised
		}
	}
}

// buying fills in what the shop knows of buying: what packing lists and orders say of
// what is not here, how items are bought, and the heaps of those that the shop never
// wants to run out of.
func (s *Reader) buying(r *build.Reading, ships []store.Shipment, lines [][]store.Line) error {
	if err := s.supplied(r); err != nil {
		return err
	}
	for i, ship := range ships {
		for _, line := range lines[i] {
			if _, needed := r.Stock[line.Designation]; needed {
				r.Expected[line.Designation] = append(r.Expected[line.Designation], expected(ship, line)...)
			}
		}
	}
	owing, err := s.owing(ships, lines)
	if err != nil {
		return err
	}
	for _, e := range ordered(owing, ships, lines) {
		if _, needed := r.Stock[e.item]; needed {
			r.Expected[e.item] = append(r.Expected[e.item], e.Expected)
		}
	}
	return nil
}

// supplied fills in how items are bought, and reads the heaps of those that are kept.
func (s *Reader) supplied(r *build.Reading) error {
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
	trays, err := s.trays()
	if err != nil {
		return err
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
			if r.Stock[u.Item], err = s.heaps(u.Item, trays); err != nil {
				return err
			}
		}
	}
	return nil
}

// trays are the codes of sub-assemblies by the ids of their trays.
func (s *Reader) trays() (map[string]string, error) {
	subs, err := s.Shop.SubAssemblies()
	codes := map[string]string{}
	for _, sub := range subs {
		codes[sub.Place] = sub.Code
	}
	return codes, err
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
