package store

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Receive records what was found of a packing list line. Good pieces become stock
// in the line's bag, damaged ones stock that is not to be used, and what came in
// place of the listed number stock of its own number, set apart. A finding
// replaces the one before it: the stock changes by the difference. It is refused
// with Conflict when that would take away what has been stowed already.
func (s *Shop) Receive(shipment string, line LineID, f Finding) (Entry, error) {
	return s.commit(VerbReceive, func(w *writer) (string, error) { return w.receiveLine(shipment, line, f) })
}

// ReceiveAll records the findings of several lines as one entry: a bag that holds more
// than one number is split in one go, and undone in one go. Each line comes with its
// finding; one without an id is a find that is on no line, and becomes one after the last.
// All of it happens or none.
func (s *Shop) ReceiveAll(lines []Line) (Entry, error) {
	return s.commit(VerbReceive, func(w *writer) (string, error) {
		var texts []string
		for _, l := range lines {
			if l.Finding == nil {
				return "", fail(Invalid, l.Designation, "Say how many %s were found: count them.", l.Designation)
			}
			text, err := "", error(nil)
			if l.ID == 0 {
				text, err = w.extra(l)
			} else {
				text, err = w.receiveLine(l.Shipment, l.ID, *l.Finding)
			}
			if err != nil {
				return "", err
			}
			texts = append(texts, text)
		}
		if len(texts) == 0 {
			return "", fail(Invalid, "", "Nothing was found: say what the bag holds.")
		}
		return strings.Join(texts, "; "), nil
	})
}

func (w *writer) receiveLine(shipment string, line LineID, f Finding) (string, error) {
	l, err := w.line(shipment, line)
	if err != nil {
		return "", err
	}
	if err := w.mayReceive(l); err != nil {
		return "", err
	}
	return w.receive(l, f)
}

// extra makes a line of a find that is on none of the packing list.
func (w *writer) extra(l Line) (text string, err error) {
	finding := l.Finding
	if finding == nil || finding.Found.Sign() == 0 && finding.Came == nil {
		return "", fail(Invalid, l.Designation, "Say how many %s were found: count them.", l.Designation)
	}
	if l.Designation, err = cleanName("A part number", l.Designation); err != nil {
		return "", err
	}
	if l.Lot, err = cleanOptional("The lot", l.Lot); err != nil {
		return "", err
	}
	id, number, err := w.nextLine(l.Shipment)
	if err != nil {
		return "", err
	}
	l.ID = id
	l = l.numbered(number)
	l.Extra, l.Finding = true, nil
	l.Listed = measure.Quantity{Unit: finding.Found.Unit}
	if err := w.mayReceive(l); err != nil {
		return "", err
	}
	if err := w.ensureItem(Item{Designation: l.Designation, Title: l.Title, Unit: finding.Found.Unit}); err != nil {
		return "", err
	}
	return w.receive(l, *finding)
}

// mayReceive refuses findings in a crate that has not come and in a bag that is not there.
func (w *writer) mayReceive(l Line) error {
	ship, found, err := lookup[Shipment](w.ledger, tableShipments, l.Shipment)
	if err != nil {
		return err
	}
	if !found {
		return fail(NotFound, "", "That packing list is not in this shop: bring it in first.")
	}
	if _, arrived := ship.Delivery(l.Crate); !arrived && l.Status != BackOrdered {
		return fail(Conflict, l.Crate, "%s has not arrived: enter its day of arrival first.", phrase.Upper(phrase.Crate(l.Crate)))
	}
	return w.reopen(l)
}

// reopen brings the bag of a line, and the crate that it is in, back into use when
// they were retired: a part that turns up late has to be somewhere until it is stowed.
func (w *writer) reopen(l Line) error {
	path, err := pathOf(w.ledger, l.Place)
	if err != nil {
		return err
	}
	if len(path) == 0 {
		return fail(Invalid, l.Designation, "Say where %s was found: in which crate or bag.", l.Designation)
	}
	for _, p := range path {
		if !p.Retired {
			continue
		}
		p.Retired = false
		if err := w.put(tablePlaces, p.ID, p); err != nil {
			return err
		}
		if err := w.put(tableTags, string(p.Tag), tagRecord{Place: p.ID}); err != nil {
			return err
		}
	}
	return nil
}

// nextLine is what a line that is added to a shipment is filed under, and its number.
func (w *writer) nextLine(shipment string) (id LineID, number int, err error) {
	err = scan(w.ledger.tx, tableLines, shipment+keySeparator, func(_ string, l Line) error {
		id, number = l.ID, max(number, l.Number())
		return nil
	})
	return id + 1, number + 1, err
}

// line is a line of a packing list.
func (w *writer) line(shipment string, id LineID) (Line, error) {
	l, found, err := lookup[Line](w.ledger, tableLines, lineKey(shipment, id))
	if err == nil && !found {
		err = noLine(id)
	}
	return l, err
}

func noLine(line LineID) error {
	return fail(NotFound, fmt.Sprint(line), "The packing list has no line %d: see its lines.", line)
}

func (w *writer) receive(l Line, f Finding) (string, error) {
	if err := checkFinding(l, &f); err != nil {
		return "", err
	}
	keepLots(l.Finding, &f)
	l.Unchecked = "" // it was checked after all
	if changed, err := w.receiveUnit(l, f); err != nil {
		return "", err
	} else if changed {
		l.Finding = nil // what was found before is taken out already
	}
	counted, err := w.countedOtherwise(l, f)
	if err != nil {
		return "", err
	}
	if err := w.ensureFound(l, f, counted != ""); err != nil {
		return "", err
	}
	if err := w.receiptLots(l, &f, counted != ""); err != nil {
		return "", err
	}
	deltas, err := findingStock(l, &f)
	if err != nil {
		return "", err
	}
	if counted != "" {
		deltas = slices.DeleteFunc(deltas, func(d Holding) bool { return d.Item == l.Designation })
	}
	for _, d := range deltas {
		if err := w.stock(d.StockKey, d.Amount); err != nil {
			if errors.Is(err, errBelowZero) {
				return "", fail(Conflict, l.Designation, "Some %s of line %d have left their bag already: count them where they are, or move them back first.", l.Designation, l.Number())
			}
			return "", err
		}
	}
	text := fmt.Sprintf("line %d, %s: found %s", l.Number(), l.Designation, f.words())
	good := StockKey{Item: l.Designation, Place: l.Place, Lot: heapLot(l, &f)}
	if counted != "" {
		text += fmt.Sprintf("; its stock is kept by %s and stays as it was counted", counted)
		if err := w.noteCounted(good, Finding{}, deltas); err != nil {
			return "", err
		}
		l.Finding = &f
		return text, w.put(tableLines, lineKey(l.Shipment, l.ID), l)
	}
	if err := w.noteCounted(good, f, deltas); err != nil {
		return "", err
	}
	l.Finding = &f
	if f.Weighing != nil {
		if err := w.rememberWeighing(l.Designation, *f.Weighing); err != nil {
			return "", err
		}
	}
	return text, w.put(tableLines, lineKey(l.Shipment, l.ID), l)
}

// ensureFound makes the items of what a finding brings where the shop does not know them.
// What is kept by another unit is there already.
func (w *writer) ensureFound(l Line, f Finding, otherUnit bool) error {
	if f.Found.Sign() > 0 && !otherUnit {
		if err := w.ensureItem(Item{Designation: l.Designation, Title: l.Title, Unit: f.Amount().Unit}); err != nil {
			return err
		}
	}
	if f.Came == nil {
		return nil
	}
	return w.ensureItem(Item{Designation: f.Came.Designation, Title: l.Title, Unit: f.Came.Quantity.Unit})
}

// countedOtherwise is the unit that the stock of a line's item is kept by, where that is
// another one than the list's: rivets that are listed by the pound and were weighed to
// a number of pieces. What is found of them by the pound is noted on the line, and the
// stock is left alone, since nothing is converted: it is counted or weighed for itself.
func (w *writer) countedOtherwise(l Line, f Finding) (measure.Unit, error) {
	item, found, err := lookup[Item](w.ledger, tableItems, l.Designation)
	if err != nil || !found || item.Unit == f.Amount().Unit || l.Extra {
		return "", err
	}
	if used, err := w.inUse(l.Designation); err != nil || !used {
		return "", err // nothing was counted by the other unit yet: it is said to be wrong
	}
	if f.Damaged.Sign() > 0 {
		return "", fail(Conflict, l.Designation, "%s is kept by %s here, and line %d says %s: nothing is converted, so move what is damaged by %s.", l.Designation, item.Unit, l.Number(), f.Found.Unit, item.Unit)
	}
	return item.Unit, nil
}

// noteCounted records that the good pieces of a finding were counted, and drops the
// record of an earlier count of every other heap that the finding changes: of damaged
// pieces, of strays, and of the lot that it was taken for before.
func (w *writer) noteCounted(good StockKey, f Finding, deltas []Holding) error {
	counted := f.Counted && f.Found.Sign() > 0
	for _, d := range deltas {
		if d.Amount.IsZero() || counted && d.StockKey == good {
			continue
		}
		if err := w.forgetCounted(d.StockKey); err != nil {
			return err
		}
	}
	if !counted {
		return nil
	}
	return w.putCounted(good)
}

func checkFinding(l Line, f *Finding) error {
	if err := checkHow(l, f); err != nil {
		return err
	}
	if _, err := l.Listed.Cmp(f.Found); err != nil {
		return fail(Invalid, l.Designation, "Line %d is listed by %s: give what was found in %s too.", l.Number(), l.Listed.Unit, l.Listed.Unit)
	}
	if c, err := f.Damaged.Cmp(f.Found); err != nil || c > 0 || f.Found.Sign() < 0 || f.Damaged.Sign() < 0 {
		return fail(Invalid, l.Designation, "Of line %d, %s were found: that many at most can be damaged.", l.Number(), f.Found)
	}
	if !wholePieces(f.Found) || !wholePieces(f.Damaged) || f.Came != nil && !wholePieces(f.Came.Quantity) {
		return fail(Invalid, l.Designation, "A part of a piece cannot be found of line %d: count whole pieces.", l.Number())
	}
	if !canBeKept(f.Found) || f.Came != nil && !canBeKept(f.Came.Quantity) {
		return fail(Invalid, l.Designation, "That is more of line %d than can be kept: correct the figure.", l.Number())
	}
	var err error
	if f.Lot, err = cleanOptional("The lot", f.Lot); err != nil {
		return err
	}
	if f.Note, err = cleanOptional("The note", f.Note); err != nil || f.Came == nil {
		return err
	}
	if f.Came.Designation, err = cleanName("The part number that came", f.Came.Designation); err != nil {
		return err
	}
	if f.Came.Quantity.Sign() <= 0 || f.Came.Designation == l.Designation {
		return fail(Invalid, l.Designation, "Say how many of which other number came in place of %s: as it is marked.", l.Designation)
	}
	return nil
}

// findingStock is how the stock in the line's bag changes when its finding does.
func findingStock(l Line, f *Finding) ([]Holding, error) {
	var deltas []Holding
	for _, side := range []struct {
		finding *Finding
		sign    int
	}{{l.Finding, -1}, {f, 1}} {
		if side.finding == nil {
			continue
		}
		good, err := side.finding.Amount().Add(Exact(side.finding.Damaged.Neg()))
		if err != nil {
			return nil, err
		}
		lot := heapLot(l, side.finding)
		parts := []Holding{
			{StockKey{Item: l.Designation, Place: l.Place, Lot: lot}, good},
			{StockKey{Item: l.Designation, Place: l.Place, Lot: lot, Condition: Damaged}, Exact(side.finding.Damaged)},
		}
		if came := side.finding.Came; came != nil {
			parts = append(parts, Holding{StockKey{Item: came.Designation, Place: l.Place, Lot: came.LotName, Condition: SetApart}, Exact(came.Quantity)})
		}
		for _, p := range parts {
			if side.sign < 0 {
				p.Amount = p.Amount.Neg()
			}
			deltas = append(deltas, p)
		}
	}
	return net(deltas)
}

// net adds up the deltas of one heap, so that more of a thing never takes the old
// away first: that could not be done where some of it has been stowed.
func net(deltas []Holding) ([]Holding, error) {
	var out []Holding
next:
	for _, d := range deltas {
		for i := range out {
			if out[i].StockKey == d.StockKey {
				sum, err := out[i].Amount.Add(d.Amount)
				if err != nil {
					return nil, err
				}
				out[i].Amount = sum
				continue next
			}
		}
		out = append(out, d)
	}
	return out, nil
}
