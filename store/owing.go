package store

import (
	"strings"

	"github.com/oklog/ulid/v2"

	"stowright/store/measure"
)

// Owing is how a line of an order stands.
type Owing struct {
	OrderLine
	Supplier string
	Ordered  Date
	Came     measure.Quantity // of it, on lines of packing lists that were matched and counted
	Coming   measure.Quantity // on lines that were matched and are not counted yet
	Owed     measure.Quantity // neither came nor coming, and not canceled
	Days     []int            // that its arrivals took since it was ordered
}

// OrderName is "O-3".
func (w Owing) OrderName() string { return orderName(w.Order) }

// MayCome reports whether a line of a packing list may be what is owed, as far as number,
// unit, supplier and days say: a person has to say whether it is. What had come before
// the order cannot be, nor what was listed before and has not come.
func (w Owing) MayCome(ship Shipment, l Line) bool {
	if l.Match != nil || w.Owed.Sign() <= 0 || l.Designation != w.Item || l.Listed.Unit != w.Quantity.Unit {
		return false
	}
	if ship.Supplier != "" && w.Supplier != "" && !strings.EqualFold(ship.Supplier, w.Supplier) {
		return false
	}
	if listed, err := ulid.ParseStrict(ship.ID); err == nil && DateOf(ulid.Time(listed.Time())).DaysUntil(w.Ordered) > 0 {
		return false
	}
	if d, come := ship.Delivery(l.Crate); come {
		return w.Ordered.DaysUntil(d.Arrived) >= 0
	}
	return true
}

// listLine names a line of a packing list.
type listLine struct {
	shipment string
	id       LineID
}

// OwingOf holds orders against packing lists, whose lines are those of the shipments in
// their order. A line of a list that was matched to several lines of orders serves the
// oldest first, and nothing of it twice.
func OwingOf(orders []Order, ordered []OrderLine, ships []Shipment, lists [][]Line) []Owing {
	brings := map[OrderRef][]listLine{}
	left := map[listLine]measure.Quantity{}
	lines := map[listLine]Line{}
	of := map[string]Shipment{}
	for i, ship := range ships {
		of[ship.ID] = ship
		for _, l := range lists[i] {
			if l.Match == nil {
				continue
			}
			at := listLine{l.Shipment, l.ID}
			lines[at], left[at] = l, l.Listed
			if l.Finding != nil {
				left[at] = l.Finding.Found
			}
			for _, ref := range l.Match.Lines {
				brings[ref] = append(brings[ref], at)
			}
		}
	}
	heads := map[int]Order{}
	for _, o := range orders {
		heads[o.Number] = o
	}
	var out []Owing
	for _, l := range ordered {
		head, ok := heads[l.Order]
		if !ok {
			continue
		}
		w := Owing{OrderLine: l, Supplier: head.Supplier, Ordered: head.Ordered, Came: none(l), Coming: none(l), Owed: l.Quantity}
		for _, at := range brings[l.Ref()] {
			w.take(lines[at], left, at)
			if d, come := of[at.shipment].Delivery(lines[at].Crate); come && w.Came.Sign() > 0 {
				w.Days = append(w.Days, head.Ordered.DaysUntil(d.Arrived))
			}
		}
		if !l.Canceled.IsZero() {
			w.Owed = none(l)
		}
		out = append(out, w)
	}
	return out
}

func none(l OrderLine) measure.Quantity { return measure.Quantity{Unit: l.Quantity.Unit} }

// take takes what a line of a packing list brings.
func (w *Owing) take(l Line, left map[listLine]measure.Quantity, at listLine) {
	rest := left[at]
	got := min(rest.Micro, w.Owed.Micro)
	if got <= 0 || rest.Unit != w.Owed.Unit {
		return
	}
	rest.Micro -= got
	left[at] = rest
	w.Owed.Micro -= got
	if l.Finding == nil {
		w.Coming.Micro += got
		return
	}
	w.Came.Micro += got
}

// Owing is how all lines of orders stand, by order and line.
func (r *Reader) Owing() ([]Owing, error) {
	var out []Owing
	err := r.Read(func(r *Reader) error {
		orders, err := r.Orders()
		if err != nil || len(orders) == 0 {
			return err
		}
		lines, err := r.OrderLines(0)
		if err != nil {
			return err
		}
		ships, err := r.Shipments()
		if err != nil {
			return err
		}
		ids := make([]string, len(ships))
		for i, s := range ships {
			ids[i] = s.ID
		}
		lists, err := r.LinesOf(ids)
		if err != nil {
			return err
		}
		out = OwingOf(orders, lines, ships, lists)
		return nil
	})
	return out, err
}
