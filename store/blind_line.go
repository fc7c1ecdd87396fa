package store

import (
	"fmt"
	"slices"

	"stowright/store/measure"
)

// CountLineBlind records what another hand counted of a line of a packing list that was
// checked, or weighed, where weighed is not nil, without having seen the list or the first
// count, and says neither. What was found is the first count. Where two hands agree, that is
// what was found of the line, and so what is claimed of it; where they do not, another count
// is asked for. All are kept with the count of its heap. It is refused once some of them have
// left their bag.
func (s *Shop) CountLineBlind(shipment string, line LineID, counted Amount, weighed *measure.Weighing) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		l, k, err := w.recountable(shipment, line)
		if err != nil {
			return "", err
		}
		place, err := w.usablePlace(k.Place)
		if err != nil {
			return "", err
		}
		had, err := w.amount(k)
		if err != nil {
			return "", err
		}
		if weighed != nil {
			if counted, err = WeighedIn(k.Item, *weighed, had.Unit); err != nil {
				return "", err
			}
			if err := w.rememberWeighing(k.Item, *weighed); err != nil {
				return "", err
			}
		}
		if err := mayCountBlind(k, place, had, counted); err != nil {
			return "", err
		}
		record, _, err := lookup[Counted](w.ledger, tableCounted, k.key())
		if err != nil {
			return "", err
		}
		blind := lineCounts(record, had)
		if len(blind.Counts) == 1 && blind.Counts[0].Hand == w.hand {
			return "", fail(Conflict, l.Designation, "%s counted line %d: another hand counts now, who has not seen it.", w.hand, l.Number())
		}
		blind.Counts = append(blind.Counts, BlindCount{At: w.at, Hand: w.hand, Amount: counted})
		settled, agreed := blind.agreed()
		if !agreed {
			record.Blind = &blind
			return blind.words(l.Designation, place.Name), w.put(tableCounted, k.key(), record)
		}
		if settled, err = w.settleLine(l, k, blind, settled, weighed); err != nil {
			return "", err
		}
		blind.Settled, blind.Had = true, settled
		text := fmt.Sprintf("line %d, %s, counted blind: %s (%s)", l.Number(), l.Designation, settled, blind.history())
		return text, w.put(tableCounted, k.key(), Counted{At: w.at, Hand: w.hand, Blind: &blind})
	})
}

// recountable is a line of which all good ones lie in their bag still, and their heap.
func (w *writer) recountable(shipment string, line LineID) (l Line, k StockKey, err error) {
	if l, err = w.line(shipment, line); err != nil {
		return l, k, err
	}
	if l.Finding == nil || !l.Finding.Counted {
		return l, k, fail(NotFound, fmt.Sprint(l.Number()), "Nothing was counted of line %d: count it first, and then another hand does.", l.Number())
	}
	k = StockKey{Item: l.Designation, Place: l.Place, Lot: heapLot(l, l.Finding)}
	had, err := w.amount(k)
	if err != nil {
		return l, k, err
	}
	first, err := l.Finding.Amount().Add(Exact(l.Finding.Damaged.Neg()))
	if err != nil {
		return l, k, err
	}
	if had != first {
		return l, k, fail(Conflict, l.Designation, "Some %s of line %d have left their bag already: count them where they are.", l.Designation, l.Number())
	}
	return l, k, nil
}

// lineCounts are the counts of a line's heap so far, of which what was found is the first.
func lineCounts(record Counted, had Amount) Blind {
	if b := record.Blind; b != nil && !b.Settled && b.Had == had {
		blind := *b
		blind.Counts = slices.Clone(b.Counts)
		return blind
	}
	return Blind{Had: had, Counts: []BlindCount{{At: record.At, Hand: record.Hand, Amount: had}}}
}

// settleLine has what the newest of the counts of a line agrees on with another one be what
// was found, and returns what is there by that. An estimate that agrees with the first count
// says no more than that did; where it agrees with another, the weighing is the finding.
func (w *writer) settleLine(l Line, k StockKey, b Blind, settled Amount, weighed *measure.Weighing) (Amount, error) {
	first := b.Counts[0].Amount
	switch _, agrees := both(first, b.Counts[len(b.Counts)-1].Amount); {
	case settled == first, settled.Estimate() && agrees:
		return first, nil
	case settled.Estimate() && weighed != nil:
		f := *l.Finding
		f.Weighing = weighed
		_, err := w.receive(l, f)
		return f.Amount(), err
	case settled.Unit != l.Finding.Found.Unit: // pieces of what is listed by weight, which it stays
		_, err := w.count(k, settled, "counted")
		return settled, err
	}
	return settled, w.recounted(l, settled)
}

// recounted has what two hands agree on be what was found of a line, with what of it is
// damaged.
func (w *writer) recounted(l Line, settled Amount) error {
	f := *l.Finding
	found, err := settled.Add(Exact(f.Damaged))
	if err != nil {
		return err
	}
	f.Found, f.Weighing = found.Quantity, nil
	_, err = w.receive(l, f)
	return err
}
