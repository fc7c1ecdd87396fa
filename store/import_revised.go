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
	r, err := ReviseList(ship, lines, clean)
	if err != nil {
		return ship, "", err
	}
	for _, c := range r.Changes {
		if err := in.takeCame(c); err != nil {
			return ship, "", err
		}
	}
	was := map[int]Line{}
	for _, l := range lines {
		was[l.Number] = l
	}
	for _, l := range r.After {
		if reflect.DeepEqual(l, was[l.Number]) {
			continue // its item may be kept by another unit by now
		}
		if err := in.keep(l); err != nil {
			return ship, "", err
		}
	}
	return ship, r.text(old.File), w.put(tableShipments, ship.ID, ship)
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

// takeCame makes good stock of what was set apart as not listed, where the list names it now.
func (w *writer) takeCame(c LineChange) error {
	if !c.came {
		return nil
	}
	came, f := c.Was.Finding.Came, c.Now.Finding
	if err := w.ensureItem(Item{Designation: c.Now.Designation, Title: c.Now.Title, Unit: c.Now.Listed.Unit}); err != nil {
		return err
	}
	apart := StockKey{Item: came.Designation, Place: c.Was.Place, Lot: came.LotName, Condition: SetApart}
	there, err := w.amount(apart)
	if err != nil {
		return err
	}
	if there != Exact(came.Quantity) {
		return fail(Conflict, came.Designation, "Some %s of line %d have left their bag already: move them back first.", came.Designation, c.Was.Number)
	}
	good := StockKey{Item: came.Designation, Place: c.Now.Place, Lot: heapLot(c.Now, f)}
	if err := w.stock(apart, there.Neg()); err != nil {
		return err
	}
	if err := w.stock(good, there); err != nil {
		return err
	}
	if err := w.forgetCounted(apart); err != nil || !f.Counted {
		return err
	}
	return w.putCounted(good)
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
	if len(parts) == 0 {
		parts = []string{"no line differs"}
	}
	return fmt.Sprintf("packing list %s takes the place of %s: %s", r.Of.File, was, strings.Join(parts, ", "))
}
