package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Order is what was ordered of one supplier in one go. Its lines are records of their own.
type Order struct {
	Number    int    `json:"number"` // for life: 3 is O-3
	Supplier  string `json:"supplier,omitempty"`
	Ordered   Date   `json:"ordered"`
	Hand      string `json:"hand"`
	Reference string `json:"reference,omitempty"` // the supplier's own number
	Note      string `json:"note,omitempty"`
	// Undone says that the order was taken back by Undo: its number is not given again.
	Undone bool `json:"undone,omitempty"`
}

// Name is what people call the order: "O-3".
func (o Order) Name() string { return orderName(o.Number) }

func orderName(number int) string { return fmt.Sprintf("O-%d", number) }

func orderKey(number int) string { return numberKey(uint64(max(0, number))) }

// OrderLine is one item that was ordered. It is owed until it has come or was canceled.
type OrderLine struct {
	Order    int              `json:"order"`
	Number   int              `json:"number"` // in its order, from 1
	Item     string           `json:"item"`
	Quantity measure.Quantity `json:"quantity"`       // whole packs
	Pack     int64            `json:"pack,omitempty"` // units in a pack; 0: singly
	Price    Money            `json:"price,omitzero"` // of all of it
	Promised Date             `json:"promised,omitzero"`
	Canceled Date             `json:"canceled,omitzero"` // what had not come by then never will
	Reason   string           `json:"reason,omitempty"`  // why it was canceled
}

// Ref names the line.
func (l OrderLine) Ref() OrderRef { return OrderRef{l.Order, l.Number} }

// OrderRef names a line of an order.
type OrderRef struct {
	Order int `json:"order"`
	Line  int `json:"line"`
}

// String is "O-3 line 2".
func (r OrderRef) String() string { return fmt.Sprintf("%s line %d", orderName(r.Order), r.Line) }

func (r OrderRef) key() string {
	return fmt.Sprintf("%s%s%06d", orderKey(r.Order), keySeparator, r.Line)
}

// OrderMatch is what a person said of a line of a packing list: which lines of orders it
// brings. Without any, it brings none: it was asked and denied.
type OrderMatch struct {
	Lines []OrderRef `json:"lines,omitempty"`
}

// NewOrder is an order to be recorded, with its lines; their numbers are given here.
type NewOrder struct {
	Order
	Lines []OrderLine
}

// maxOrderLines bounds the lines of one order.
const maxOrderLines = 10_000

// Order records that things were ordered, of one or several suppliers in one entry: from
// then on they are owed. An order without a day is of today; the hand is who works.
func (s *Shop) Order(orders ...NewOrder) ([]Order, Entry, error) {
	var made []Order
	e, err := s.commit(VerbOrder, func(w *writer) (string, error) {
		made = nil
		var texts []string
		for _, n := range orders {
			o, err := w.order(n)
			if err != nil {
				return "", err
			}
			made = append(made, o)
			text := fmt.Sprintf("%s ordered: %s", o.Name(), phrase.Count(len(n.Lines), "line", "lines"))
			if o.Supplier != "" {
				text = fmt.Sprintf("%s ordered of %s: %s", o.Name(), o.Supplier, phrase.Count(len(n.Lines), "line", "lines"))
			}
			texts = append(texts, text)
		}
		if len(texts) == 0 {
			return "", fail(Invalid, "", "Nothing is to be ordered: choose at least one line.")
		}
		return strings.Join(texts, "; "), nil
	})
	if err != nil {
		return nil, Entry{}, err
	}
	return made, e, nil
}

// order makes an order with its lines.
func (w *writer) order(n NewOrder) (Order, error) {
	o := n.Order
	number, err := w.nextNumber(tableOrders)
	if err != nil {
		return o, err
	}
	o.Number = int(number)
	o.Hand, o.Undone = w.hand, false
	today := DateOf(w.at)
	if o.Ordered.IsZero() {
		o.Ordered = today
	}
	if !o.Ordered.Valid() || today.DaysUntil(o.Ordered) > 0 {
		return o, fail(Invalid, o.Ordered.String(), "It cannot have been ordered on %s: give a day of the calendar that is not still to come.", o.Ordered)
	}
	for _, field := range []struct {
		what string
		text *string
	}{{"The name of the supplier", &o.Supplier}, {"The supplier's number of the order", &o.Reference}, {"The note on the order", &o.Note}} {
		if *field.text, err = cleanOptional(field.what, *field.text); err != nil {
			return o, err
		}
	}
	if len(n.Lines) == 0 || len(n.Lines) > maxOrderLines {
		return o, fail(Invalid, o.Supplier, "An order has 1 to %d lines, not %d: choose what is ordered.", maxOrderLines, len(n.Lines))
	}
	for _, l := range n.Lines {
		if err := w.ensureSupplier(Supply{Supplier: o.Supplier, Item: l.Item, Price: l.Price}); err != nil {
			return o, err
		}
	}
	if err := w.put(tableOrders, orderKey(o.Number), o); err != nil {
		return o, err
	}
	for i, l := range n.Lines {
		l.Order, l.Number, l.Canceled, l.Reason = o.Number, i+1, Date{}, ""
		if err := w.orderLine(o, l); err != nil {
			return o, err
		}
	}
	return o, nil
}

func (w *writer) orderLine(o Order, l OrderLine) error {
	var err error
	if l.Item, err = cleanName("A part number", l.Item); err != nil {
		return err
	}
	if l.Quantity.Sign() <= 0 || !canBeKept(l.Quantity) || !wholePieces(l.Quantity) {
		return fail(Invalid, l.Item, "%s of %s cannot be ordered: give how many, more than none.", l.Quantity, l.Item)
	}
	if l.Pack < 0 || l.Pack > MaxPack {
		return fail(Invalid, l.Item, "A pack of %s cannot hold %d: give 1 to %d.", l.Item, l.Pack, MaxPack)
	}
	if l.Price.IsNegative() {
		return fail(Invalid, l.Item, "%s cannot cost less than 0: correct the price.", l.Item)
	}
	if err := promisable(o, l.Promised); err != nil {
		return err
	}
	if err := w.ensureItem(Item{Designation: l.Item, Unit: l.Quantity.Unit}); err != nil {
		return err
	}
	return w.put(tableOrderLines, l.Ref().key(), l)
}

func promisable(o Order, day Date) error {
	if !day.IsZero() && (!day.Valid() || o.Ordered.DaysUntil(day) < 0) {
		return fail(Invalid, day.String(), "What was ordered on %s cannot be promised for %s: give that day or a later one.", o.Ordered, day)
	}
	return nil
}

// Promise records the day that lines of an order are promised for; no numbers are all its
// lines, and no day takes back what was promised.
func (s *Shop) Promise(order int, numbers []int, day Date) (Entry, error) {
	return s.commit(VerbOrder, func(w *writer) (string, error) {
		o, lines, err := w.orderLines(order, numbers)
		if err != nil {
			return "", err
		}
		if err := promisable(o, day); err != nil {
			return "", err
		}
		for _, l := range lines {
			l.Promised = day
			if err := w.put(tableOrderLines, l.Ref().key(), l); err != nil {
				return "", err
			}
		}
		if day.IsZero() {
			return fmt.Sprintf("%s: no day is promised for %s", o.Name(), lineNames(lines)), nil
		}
		return fmt.Sprintf("%s: %s promised for %s", o.Name(), lineNames(lines), day), nil
	})
}

// Cancel records that what has not come of lines of an order never will; no numbers are
// all its lines that were not canceled before.
func (s *Shop) Cancel(order int, numbers []int, reason string) (Entry, error) {
	return s.commit(VerbOrder, func(w *writer) (string, error) {
		o, lines, err := w.orderLines(order, numbers)
		if err != nil {
			return "", err
		}
		if reason, err = cleanName("The reason", reason); err != nil {
			return "", err
		}
		var done []OrderLine
		for _, l := range lines {
			if !l.Canceled.IsZero() {
				if len(numbers) > 0 {
					return "", fail(Conflict, l.Item, "%s was canceled on %s already: there is nothing left to cancel.", l.Ref(), l.Canceled)
				}
				continue
			}
			l.Canceled, l.Reason = DateOf(w.at), reason
			if err := w.put(tableOrderLines, l.Ref().key(), l); err != nil {
				return "", err
			}
			done = append(done, l)
		}
		if len(done) == 0 {
			return "", fail(Conflict, o.Name(), "Every line of %s was canceled already: there is nothing left to cancel.", o.Name())
		}
		return fmt.Sprintf("%s: %s canceled, %s", o.Name(), lineNames(done), reason), nil
	})
}

// lineNames are "AN3-5A and AN3-6A", or how many there are.
func lineNames(lines []OrderLine) string {
	const named = 3
	if len(lines) > named {
		return phrase.Count(len(lines), "line", "lines")
	}
	var items []string
	for _, l := range lines {
		items = append(items, l.Item)
	}
	return phrase.List(items)
}

// orderLines are an order and those of its lines that are numbered; without numbers all.
func (w *writer) orderLines(order int, numbers []int) (Order, []OrderLine, error) {
	o, found, err := lookup[Order](w.ledger, tableOrders, orderKey(order))
	if err != nil {
		return o, nil, err
	}
	if !found || o.Undone {
		return o, nil, fail(NotFound, orderName(order), "There is no order %s in this shop: see how it is numbered.", orderName(order))
	}
	var lines []OrderLine
	err = scan(w.ledger.tx, tableOrderLines, orderKey(order)+keySeparator, func(_ string, l OrderLine) error {
		if len(numbers) == 0 || slices.Contains(numbers, l.Number) {
			lines = append(lines, l)
		}
		return nil
	})
	if err != nil {
		return o, nil, err
	}
	for _, n := range numbers {
		if !slices.ContainsFunc(lines, func(l OrderLine) bool { return l.Number == n }) {
			return o, nil, fail(NotFound, o.Name(), "%s has no line %d: see its lines.", o.Name(), n)
		}
	}
	return o, lines, nil
}

// Match records which lines of orders a line of a packing list brings, in place of what
// was said of it before; none: it brings nothing that was ordered, and is not asked again.
// What is found of it is then owed no more.
func (s *Shop) Match(shipment string, line LineID, refs ...OrderRef) (Entry, error) {
	return s.commit(VerbOrder, func(w *writer) (string, error) {
		l, err := w.line(shipment, line)
		if err != nil {
			return "", err
		}
		if len(refs) == 0 {
			l.Match = &OrderMatch{}
			return fmt.Sprintf("line %d, %s: not of an order", l.Number(), l.Designation), w.put(tableLines, lineKey(shipment, line), l)
		}
		refs = slices.Clone(refs)
		slices.SortFunc(refs, compareRefs)
		var names []string
		for _, ref := range slices.Compact(slices.Clone(refs)) {
			_, lines, err := w.orderLines(ref.Order, []int{ref.Line})
			if err != nil {
				return "", err
			}
			if err := matches(l, lines[0]); err != nil {
				return "", err
			}
			names = append(names, ref.String())
		}
		l.Match = &OrderMatch{Lines: slices.Compact(refs)}
		return fmt.Sprintf("line %d, %s: it is %s", l.Number(), l.Designation, phrase.List(names)), w.put(tableLines, lineKey(shipment, line), l)
	})
}

func compareRefs(a, b OrderRef) int {
	return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Line, b.Line))
}

// matches refuses what cannot be one: another number, or another unit.
func matches(l Line, o OrderLine) error {
	switch {
	case l.Designation != o.Item:
		return fail(Conflict, l.Designation, "%s is %s, and line %d is %s: only the same number is what was ordered.", o.Ref(), o.Item, l.Number(), l.Designation)
	case l.Listed.Unit != o.Quantity.Unit:
		return fail(Conflict, l.Designation, "%s is in %s, and line %d is in %s: nothing is converted, so cancel what is owed once it is counted.", o.Ref(), o.Quantity.Unit, l.Number(), l.Listed.Unit)
	}
	return nil
}

// Orders are all orders by number, without those that were undone.
func (r *Reader) Orders() ([]Order, error) {
	list, err := all[Order](r, tableOrders, "")
	return slices.DeleteFunc(list, func(o Order) bool { return o.Undone }), err
}

// OrderLines are the lines of an order by number; of all orders for 0.
func (r *Reader) OrderLines(order int) ([]OrderLine, error) {
	prefix := ""
	if order > 0 {
		prefix = orderKey(order) + keySeparator
	}
	return all[OrderLine](r, tableOrderLines, prefix)
}
