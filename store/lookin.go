package store

import "fmt"

// LookIn notes in the builder's own words where to look for a line of a packing list before
// it is claimed, such as "inside the fin skin"; empty words take the note away.
func (s *Shop) LookIn(shipment string, line LineID, words string) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		l, err := w.line(shipment, line)
		if err != nil {
			return "", err
		}
		if l.LookIn, err = cleanOptional("Where to look", words); err != nil {
			return "", err
		}
		text := fmt.Sprintf("line %d, %s: look %s", l.Number(), l.Designation, l.LookIn)
		if l.LookIn == "" {
			text = fmt.Sprintf("line %d, %s: no place to look is noted any more", l.Number(), l.Designation)
		}
		return text, w.put(tableLines, lineKey(shipment, line), l)
	})
}
