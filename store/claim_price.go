package store

import "fmt"

// PriceLine keeps what one unit of a line of a packing list costs where the list does not
// say, for what its claim is worth. Of says where the price is from, in words that stand
// behind it: "as typed by Builder". A price of the list itself is not written over, since the
// supplier asked it.
func (s *Shop) PriceLine(shipment string, line LineID, price Money, of string) (Entry, error) {
	return s.commit(VerbClaim, func(w *writer) (string, error) {
		l, err := w.line(shipment, line)
		if err != nil {
			return "", err
		}
		if of, err = cleanOptional("Where the price is from", of); err != nil {
			return "", err
		}
		switch {
		case l.Price.Known() && l.Priced == "":
			return "", fail(Conflict, l.Designation, "The packing list says %s for line %d: that is what its claim is worth.", l.Price, l.Number())
		case !price.Known() || price.IsNegative():
			return "", fail(Invalid, l.Designation, "Nobody said what one unit of line %d costs: give it with its currency, as in 4.50 USD.", l.Number())
		case of == "":
			return "", fail(Invalid, l.Designation, "Say where the price of line %d is from: the claim says it.", l.Number())
		}
		l.Price, l.Priced = price, of
		text := fmt.Sprintf("line %d, %s: %s for 1 %s, %s", l.Number(), l.Designation, price, l.Listed.Unit, of)
		return text, w.put(tableLines, lineKey(shipment, line), l)
	})
}
