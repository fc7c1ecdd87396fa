package build

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/bojanz/currency"

	"stowright/store/measure"
)

// Order lists what is to be bought: what sub-assemblies need on their days, less what is
// promised to them and what is owed, and what rules want to have left over. It buys
// nothing that counting may find, and asks for the counting. The error is of prices in
// currencies that cannot be added.
func (b *Board) Order() (OrderList, error) {
	var list OrderList
	bySupplier := map[string]*SupplierOrder{}
	for _, item := range b.wantedItems() {
		line, ask, ok := b.orderLine(item)
		list.Ask = append(list.Ask, ask...)
		if !ok {
			continue
		}
		supply := b.reading.Supply[item]
		if err := line.price(supply); err != nil {
			return OrderList{}, fmt.Errorf("the price of %s: %w", item, err)
		}
		s := bySupplier[supply.Supplier]
		if s == nil {
			s = &SupplierOrder{Name: supply.Supplier}
			bySupplier[supply.Supplier] = s
		}
		s.Lines = append(s.Lines, line)
	}
	for _, s := range bySupplier {
		if err := s.total(b.reading.Suppliers[s.Name].MinimumOrder); err != nil {
			return OrderList{}, fmt.Errorf("the order of %q: %w", s.Name, err)
		}
		list.Suppliers = append(list.Suppliers, *s)
	}
	slices.SortFunc(list.Suppliers, func(x, y SupplierOrder) int {
		if (x.Name == "") != (y.Name == "") {
			return len(y.Name) - len(x.Name)
		}
		return strings.Compare(x.Name, y.Name)
	})
	return list, list.total()
}

// wantedItems are all that are asked for or have a minimum, in the builder's order of
// asking and then by name.
func (b *Board) wantedItems() []string {
	var items, kept []string
	seen := map[string]bool{}
	for i := range b.statuses {
		for k := range b.statuses[i].Needs {
			if item := b.statuses[i].Needs[k].Item; !seen[item] {
				seen[item] = true
				items = append(items, item)
			}
		}
	}
	for item, supply := range b.reading.Supply {
		if !seen[item] && supply.Minimum.Sign() > 0 {
			kept = append(kept, item)
		}
	}
	slices.Sort(kept)
	return append(items, kept...)
}

// demand is what sub-assemblies want of an item, in millionths of its unit.
type demand struct {
	unit            measure.Unit
	needed          int64
	promised        int64
	first           measure.Date // the first day on which some is short; zero: none planned
	waiting         []string     // codes that it is short for
	alone           []string     // of them those that wait for nothing else
	cannotTell      []*Blocker
	day             measure.Date // the last day that somebody needs it
	lateness        []string     // what lies here and expires before a job
	temporaryNeeded int64
}

// demandOf sums up who asks for an item.
func (b *Board) demandOf(item string) demand {
	var d demand
	for _, a := range b.pools[item] {
		s := &b.statuses[a.sub]
		n := &s.Needs[a.need]
		if s.State == Closed || n.Kind == AsRequired {
			continue
		}
		d.unit = cmp.Or(d.unit, n.Needed.Unit)
		if d.unit != n.Needed.Unit {
			continue // two units of one item: nothing is added up that does not add up
		}
		if n.Kind == Temporary { // it comes back: one job after the other uses it
			d.temporaryNeeded = max(d.temporaryNeeded, n.Open.Micro)
		} else {
			d.needed += n.Open.Micro
		}
		if d.day.IsZero() || d.day.DaysUntil(s.Day) > 0 {
			d.day = s.Day
		}
		for _, share := range n.Promised {
			d.promised += share.Quantity.Micro
		}
		blocker := b.blockers[a.sub][a.need]
		switch {
		case blocker == nil:
		case blocker.CannotTell:
			d.cannotTell = append(d.cannotTell, blocker)
		default:
			d.short(b, s, blocker)
		}
	}
	d.needed += d.temporaryNeeded
	d.promised = min(d.promised, d.needed)
	return d
}

// short takes in a sub-assembly that waits for the item.
func (d *demand) short(b *Board, s *Status, blocker *Blocker) {
	if !slices.Contains(d.waiting, s.Code) {
		d.waiting = append(d.waiting, s.Code)
		if onlyItem(s.Blockers, blocker.Item) {
			d.alone = append(d.alone, s.Code)
		}
	}
	if planned := b.reading.SubAssemblies[b.index[s.Code]].Planned; !planned.IsZero() && (d.first.IsZero() || planned.DaysUntil(d.first) > 0) {
		d.first = planned
	}
	for _, r := range blocker.Reasons {
		if r.Kind != Expired {
			continue
		}
		words := expiredWords(r.Quantity.Number()+" here", "", r.Until, s.Day, b.reading.Today)
		if !slices.Contains(d.lateness, words) {
			d.lateness = append(d.lateness, words)
		}
	}
}

func onlyItem(blockers []*Blocker, item string) bool {
	return !slices.ContainsFunc(blockers, func(x *Blocker) bool { return x.Item != item })
}

// orderLine is the line of an item, and whether any is to be bought.
func (b *Board) orderLine(item string) (line OrderLine, ask []Question, ok bool) {
	d := b.demandOf(item)
	supply := b.reading.Supply[item]
	unit := cmp.Or(d.unit, supply.Minimum.Unit)
	of := func(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: unit} }
	if len(d.cannotTell) > 0 {
		return line, []Question{{
			Code: d.cannotTell[0].Code, Requirement: d.cannotTell[0].Requirement, Item: item, Place: d.cannotTell[0].Reasons[0].Place,
			Sentence: item + ": " + b.toDo(d.cannotTell) + " before it is ordered",
		}}, false
	}
	spare, by := supply.Spare.wanted(of(d.needed))
	owed, late := b.owed(item, unit, d.first)
	free := b.unpromised(item, unit, d.day)
	short := max(0, d.needed-d.promised)
	left := spare.Micro
	if supply.Minimum.Unit == unit {
		left = max(left, supply.Minimum.Micro)
	}
	buy := short + max(0, left-free.Low.Micro) - owed
	if buy <= 0 {
		return line, nil, false
	}
	line = OrderLine{
		Item: item, Needed: of(d.needed), Spare: spare, By: by, Have: of(d.promised + free.Low.Micro), Owed: of(owed), Buy: of(buy), NeededBy: d.first,
	}
	line.pack(supply)
	var notes []string
	notes = append(notes, d.lateness...)
	if under := supply.Minimum.Micro - free.Low.Micro; supply.Minimum.Unit == unit && under > 0 && left > spare.Micro {
		notes = append(notes, fmt.Sprintf("%s under the minimum of %s", of(under).Number(), supply.Minimum.Number()))
	}
	if short > owed { // what is owed is not enough: buying ends the waiting
		line.Unblocks, line.Helps = d.alone, without(d.waiting, d.alone)
	}
	line.Note = strings.Join(append(notes, late...), "; ")
	return line, nil, true
}

func without(all, some []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(s string) bool { return slices.Contains(some, s) })
}

// unpromised is what of an item is promised to nobody and may be used on a day; today
// where none is given.
func (b *Board) unpromised(item string, unit measure.Unit, day measure.Date) measure.Amount {
	if day.IsZero() {
		day = b.reading.Today
	}
	stock := unpromised(b.reading.Stock[item])
	if s := b.spare[item]; s != nil {
		stock = s.end
	}
	_, free := b.usable(stock, wish{day: day, unit: unit})
	return free
}

// owed is how much of an item somebody is to deliver, with what is to be said of it.
func (b *Board) owed(item string, unit measure.Unit, first measure.Date) (sum int64, notes []string) {
	for _, e := range b.reading.Expected[item] {
		if !e.By.Owed() || e.Quantity.Unit != unit {
			continue
		}
		sum += e.Quantity.Micro
		at := ""
		if e.Line > 0 {
			at = fmt.Sprintf(" on line %d", e.Line)
		}
		are, their := "are", "their"
		if e.Quantity == measure.Of(1, unit) {
			are, their = "is", "its"
		}
		words := fmt.Sprintf("%s %s owed%s: nothing is unblocked by %s being owed", e.Quantity.Number(), are, at, their)
		if !first.IsZero() && !e.Until.IsZero() && first.DaysUntil(e.Until) > 0 {
			words = fmt.Sprintf("%s %s owed%s, promised for %s: after the job on %s", e.Quantity.Number(), are, at, e.Until, first)
		}
		notes = append(notes, words)
	}
	return sum, notes
}

// pack rounds what is bought up to whole packs, and to the fewest that are sold.
func (l *OrderLine) pack(supply Supply) {
	l.Pack = max(1, supply.Pack)
	const one = 1_000_000
	micro, want := l.Pack*one, l.Buy.Micro
	if supply.Least.Unit == l.Buy.Unit {
		want = max(want, supply.Least.Micro)
	}
	l.Packs = (want + micro - 1) / micro
	l.Order = measure.Quantity{Micro: l.Packs * micro, Unit: l.Buy.Unit}
}

// price is that of all packs.
func (l *OrderLine) price(supply Supply) (err error) {
	if supply.Price.CurrencyCode() == "" {
		return nil
	}
	l.Price, err = supply.Price.Mul(strconv.FormatInt(l.Packs*l.Pack, 10))
	l.Price = l.Price.Round()
	return err
}

// total adds the lines of a supplier up and holds them against the minimum order.
func (s *SupplierOrder) total(minimum currency.Amount) (err error) {
	for _, l := range s.Lines {
		if l.Price.CurrencyCode() == "" {
			s.Unpriced++
			continue
		}
		if s.Total, err = s.Total.Add(l.Price); err != nil {
			return err
		}
	}
	if minimum.CurrencyCode() == "" || s.Unpriced == len(s.Lines) {
		return nil
	}
	under, err := minimum.Sub(s.Total)
	if err == nil && under.IsPositive() {
		s.UnderMinimum = under
	}
	return err
}

// total adds the suppliers up, one sum for every currency.
func (list *OrderList) total() error {
	for _, s := range list.Suppliers {
		list.Unpriced += s.Unpriced
		code := s.Total.CurrencyCode()
		if code == "" {
			continue
		}
		i := slices.IndexFunc(list.Totals, func(a currency.Amount) bool { return a.CurrencyCode() == code })
		if i < 0 {
			list.Totals = append(list.Totals, s.Total)
			continue
		}
		sum, err := list.Totals[i].Add(s.Total)
		if err != nil {
			return err
		}
		list.Totals[i] = sum
	}
	slices.SortFunc(list.Totals, func(a, b currency.Amount) int { return strings.Compare(a.CurrencyCode(), b.CurrencyCode()) })
	return nil
}
