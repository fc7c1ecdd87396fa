package store

import "fmt"

// LeaveUnchecked records that a line of a crate that has come is never going to be checked,
// and why: its paper is lost, it was given away. Nobody knows then whether it came: it is
// neither here nor missing, is not claimed, and no claim clock waits for it. An empty reason
// has it to be checked after all, and so has whatever is found of it.
func (s *Shop) LeaveUnchecked(shipment string, line LineID, why string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		l, err := w.line(shipment, line)
		if err != nil {
			return "", err
		}
		if why, err = cleanOptional("The reason", why); err != nil {
			return "", err
		}
		if err := w.mayLeave(l, why); err != nil {
			return "", err
		}
		l.Unchecked, w.reason = why, why
		text := fmt.Sprintf("line %d, %s: never going to be checked, %s", l.Number(), l.Designation, why)
		if why == "" {
			text = fmt.Sprintf("line %d, %s: to be checked after all", l.Number(), l.Designation)
		}
		return text, w.put(tableLines, lineKey(shipment, line), l)
	})
}

// mayLeave refuses lines that are not to be checked anyway, and those of which something was
// found: that would be forgotten.
func (w *writer) mayLeave(l Line, why string) error {
	ship, _, err := lookup[Shipment](w.ledger, tableShipments, l.Shipment)
	if err != nil {
		return err
	}
	_, arrived := ship.Delivery(l.Crate)
	switch state := l.State(arrived); {
	case l.Finding != nil:
		return fail(Conflict, l.Designation, "Something was found of line %d already: correct that instead.", l.Number())
	case why == "" && state != NeverChecked:
		return fail(Invalid, l.Designation, "Say why line %d is never going to be checked: the journal keeps the reason.", l.Number())
	case state != ToCheck && state != NeverChecked:
		return fail(Conflict, l.Designation, "Line %d is %s, and waits for no check: leave a line that is to be checked.", l.Number(), state)
	}
	return nil
}
