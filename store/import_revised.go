package store

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"stowright/store/phrase"
)

// importRevised brings a list in that takes the place of another one.
func (w *writer) importRevised(list NewShipment) (ship Shipment, text string, err error) {
	ship, lines, err := w.shipmentLines(list.Revises)
	if err != nil {
		return ship, "", err
	}
	old := OldList{File: ship.File, Fingerprint: ship.Fingerprint, Until: DateOf(w.at)}
	ship.Revised = append(slices.Clone(ship.Revised), old)
	ship.File, ship.Fingerprint = list.File, list.Fingerprint
	if list.Supplier != "" {
		ship.Supplier = list.Supplier
	}
	if list.Shape != nil {
		ship.Shape = list.Shape
	}
	if err := ship.clean(); err != nil {
		return ship, "", err
	}
	in := importer{writer: w, ship: &ship, crates: map[string]string{}, bags: bagsOf(lines), numbers: map[int]bool{}}
	for _, c := range ship.Crates {
		in.crates[c.Name] = c.Place
	}
	clean := make([]NewLine, len(list.Lines))
	for i, l := range list.Lines {
		if clean[i], err = in.checked(l); err != nil {
			return ship, "", err
		}
	}
	photographed, err := w.photographedLines(ship.ID)
	if err != nil {
		return ship, "", err
	}
	r, err := ReviseList(OldLines{ship, lines, photographed}, clean, list.Told)
	if err == nil {
		err = in.revise(r)
	}
	if err != nil {
		return ship, "", err
	}
	return ship, r.text(old.File), w.put(tableShipments, ship.ID, ship)
}

// revise writes what a revised list makes of the lines, once nothing about it is open.
func (in importer) revise(r Revision) error {
	if len(r.Asked) > 0 {
		q := r.Asked[0]
		return fail(Conflict, fmt.Sprint(q.Was.Number()), "%s", q)
	}
	for _, c := range r.Changes {
		if err := in.takeCame(c); err != nil {
			return err
		}
	}
	was := map[LineID]Line{}
	for _, l := range r.Before {
		was[l.ID] = l
	}
	for _, l := range r.After {
		if reflect.DeepEqual(l, was[l.ID]) {
			continue // its item may be kept by another unit by now
		}
		if err := in.keep(l); err != nil {
			return err
		}
	}
	return in.renumberLots(r.After)
}

// photographedLines are the lines of a shipment that there are photographs of.
func (w *writer) photographedLines(shipment string) (map[LineID]bool, error) {
	lines := map[LineID]bool{}
	err := scan(w.ledger.tx, tablePhotos, linePhotos(shipment), func(_ string, p Photo) error {
		lines[p.Of.Line] = true
		return nil
	})
	return lines, err
}

// renumberLots has lots say the numbers that the lines have now by which they came.
func (w *writer) renumberLots(lines []Line) error {
	printed := map[LineID]int{}
	for _, l := range lines {
		printed[l.ID] = l.Printed
	}
	var stale []Lot
	err := scan(w.ledger.tx, tableLots, "", func(_ string, l Lot) error {
		if l.Receipt == nil || l.Receipt.Shipment != lines[0].Shipment {
			return nil
		}
		if number, known := printed[l.Receipt.Line]; known && number != l.Receipt.Printed {
			stale = append(stale, l)
		}
		return nil
	})
	for _, l := range stale {
		if err != nil {
			return err
		}
		receipt := *l.Receipt
		receipt.Printed = printed[receipt.Line]
		l.Receipt = &receipt
		err = w.put(tableLots, l.key(), l)
	}
	return err
}

// bagsOf are the places of the bags of a list, by crate and group.
func bagsOf(lines []Line) map[string]string {
	bags := map[string]string{}
	for _, l := range lines {
		if l.Group != "" {
			bags[l.Crate+keySeparator+l.Group] = l.Place
		}
	}
	return bags
}

// takeCame makes good stock of what was set apart as not listed, where the list names it
// now, wherever it lies by this time.
func (w *writer) takeCame(c LineChange) error {
	if !c.came {
		return nil
	}
	came := c.Was.Finding.Came
	if err := w.ensureItem(Item{Designation: c.Now.Designation, Title: c.Now.Title, Unit: c.Now.Listed.Unit}); err != nil {
		return err
	}
	var heaps []Holding
	err := scan(w.ledger.tx, tableStock, came.Designation+keySeparator, func(key string, a Amount) error {
		k, err := parseStockKey(key)
		// Pieces of an older shop have no lot that tells them from those of another line.
		if err == nil && k.Condition == SetApart && k.Lot == came.LotName && (k.Lot != "" || k.Place == c.Was.Place) {
			heaps = append(heaps, Holding{k, a})
		}
		return err
	})
	for _, h := range heaps {
		if err == nil {
			err = w.makeGood(h)
		}
	}
	return err
}

// makeGood has a heap that was set apart be good where it lies, counted as it was.
func (w *writer) makeGood(h Holding) error {
	good := h.StockKey
	good.Condition = Good
	if err := w.carryCounted(h.StockKey, good, true); err != nil {
		return err
	}
	if err := w.stock(h.StockKey, h.Amount.Neg()); err != nil {
		return err
	}
	return w.stock(good, h.Amount)
}

// text is the revision as the journal says it.
func (r Revision) text(was string) string {
	n := map[ChangeKind]int{}
	for _, c := range r.Changes {
		switch c.Kind {
		case LineAdded, LineGone:
			n[c.Kind]++
		default:
			n[LineAltered]++
		}
	}
	var parts []string
	for _, part := range []struct {
		kind  ChangeKind
		words string
	}{{LineAdded, "added"}, {LineGone, "off the list"}, {LineAltered, "changed"}} {
		if n[part.kind] > 0 {
			parts = append(parts, phrase.Count(n[part.kind], "line", "lines")+" "+part.words)
		}
	}
	if len(r.Renumbered) > 0 {
		parts = append(parts, phrase.Count(len(r.Renumbered), "line", "lines")+" renumbered")
	}
	if len(parts) == 0 {
		parts = []string{"no line differs"}
	}
	return fmt.Sprintf("packing list %s takes the place of %s: %s", r.Of.File, was, strings.Join(parts, ", "))
}
