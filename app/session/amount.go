package session

import (
	"errors"
	"fmt"
	"strings"

	"stowright/app/region"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// ParseAmount reads so many of a unit as typed in the region.
func (s *Session) ParseAmount(text string, u measure.Unit) (measure.Quantity, error) {
	return ParseAmount(s.Region, text, u)
}

// ParseAmount reads so many of a unit as typed in a region: "12", "0.30" or "0,30". What is no
// number, what can be read in two ways, and a part of a piece is refused with a sentence.
func ParseAmount(in region.Region, text string, u measure.Unit) (measure.Quantity, error) {
	plain, err := plainFigure(in, text)
	if err != nil {
		return measure.Quantity{}, err
	}
	q, err := measure.ParseQuantity(plain, u)
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

// PlainFigure is a figure typed in the region as the store reads it. What can be read in two ways
// is refused with a sentence that asks, and with [region.ErrTwoReadings].
func (s *Session) PlainFigure(text string) (string, error) { return plainFigure(s.Region, text) }

func plainFigure(in region.Region, text string) (string, error) {
	plain, err := in.Figure(text)
	if errors.Is(err, region.ErrTwoReadings) {
		_, both, _ := strings.Cut(err.Error(), ": ")
		return "", &store.Error{Kind: store.Invalid, Where: phrase.Quote(text), Message: both + ": type the one that is meant.", Err: err}
	}
	return plain, err
}

// Typed is a figure as a person of the region types it: what a field proposes, and what one part of
// the program hands to another as if it were typed.
func (s *Session) Typed(q measure.Quantity) string { return s.Region.Typed(q.Plain()) }

// ParseLength reads a length as typed in the region, in the unit that is set.
func (s *Session) ParseLength(text string) (measure.Length, error) {
	return s.Lengths().Parse(s.Region.Length(text))
}

// ParseDay reads a day as typed in the region: 2026-03-14, 14 March 2026, 14/3/2026. What can be
// read in two ways is refused with a sentence.
func (s *Session) ParseDay(text string) (store.Date, error) {
	return store.ParseDateBy(text, s.Region.Day)
}

// ParseMoney reads a price as typed in the region, "4.50 USD" or "4,50 EUR", as [store.ParseMoney]
// does: code is the currency of one that names none.
func (s *Session) ParseMoney(text, code string) (store.Money, error) {
	text = strings.TrimSpace(text)
	at := strings.LastIndexAny(text, "0123456789") + 1
	plain, err := s.PlainFigure(text[:at])
	if err != nil {
		return store.Money{}, err
	}
	return store.ParseMoney(plain+text[at:], code)
}
