package session

import (
	"errors"
	"fmt"

	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
)

// ParseAmount reads so many of a unit as typed: "12", "0.30". What is no number, and a
// part of a piece, is refused with a sentence.
func ParseAmount(text string, u measure.Unit) (measure.Quantity, error) {
	q, err := measure.ParseQuantity(text, u)
	if errors.Is(err, measure.ErrPiece) {
		return q, &store.Error{Kind: store.Invalid, Message: fmt.Sprintf("%s is not a whole number of pieces: count them again.", text)}
	}
	if err != nil {
		in := ""
		if u != measure.Each {
			in = " in " + wording.Units(u)
		}
		return q, &store.Error{Kind: store.Invalid, Message: fmt.Sprintf("%q is not an amount%s: type a number such as 12.", text, in)}
	}
	return q, nil
}
