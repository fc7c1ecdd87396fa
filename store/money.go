package store

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"

	"github.com/bojanz/currency"

	"stowright/store/measure"
	"stowright/store/phrase"
)

// Money is an amount with its currency, "4.50 USD" in JSON. The zero Money is an amount
// that nobody knows, which is not the same as one that costs nothing.
type Money struct{ currency.Amount }

// moneyForm is a figure as prices have it: bounded, so that no text makes a number of a
// million digits.
var moneyForm = regexp.MustCompile(`^([0-9]{0,12}(?:\.[0-9]{1,6})?) ?([A-Za-z]{3})?$`)

// ParseMoney reads "4.50 USD", "48.00" or ".45"; without a currency in it, it is of
// the one that is given. Empty is the zero Money.
func ParseMoney(s, code string) (Money, error) {
	text := strings.Join(strings.Fields(s), " ")
	if text == "" {
		return Money{}, nil
	}
	m := moneyForm.FindStringSubmatch(text)
	if m == nil || m[1] == "" {
		return Money{}, fail(Invalid, s, "%s is not an amount of money: write it like 4.50 USD.", phrase.Quote(s))
	}
	if m[2] != "" {
		code = strings.ToUpper(m[2])
	}
	if code == "" {
		return Money{}, fail(Invalid, s, "%s says no currency: write it like %s USD.", phrase.Quote(s), m[1])
	}
	a, err := currency.NewAmount(m[1], code)
	if err != nil {
		return Money{}, fail(Invalid, s, "%s is no currency that is known here: give its code of three letters, as in 4.50 USD.", phrase.Quote(code))
	}
	return Money{a}, nil
}

// Equal reports whether two amounts are the same, or both unknown.
func (m Money) Equal(other Money) bool { return m.Amount.Equal(other.Amount) }

// Times is what so much costs, at a price of one unit, rounded as the currency is paid;
// nothing where the price is not known.
func (m Money) Times(q measure.Quantity) (Money, error) {
	if !m.Known() {
		return Money{}, nil
	}
	a, err := m.Mul(q.Plain())
	if err != nil {
		return Money{}, fmt.Errorf("%s times %s: %w", m, q, err)
	}
	return Money{a.Round()}, nil
}

// Known reports whether there is an amount at all.
func (m Money) Known() bool { return m.CurrencyCode() != "" }

// IsZero reports whether nobody knows the amount; a known one of nothing is not zero.
func (m Money) IsZero() bool { return !m.Known() }

// String is "4.50 USD", and nothing for an amount that nobody knows.
func (m Money) String() string {
	if !m.Known() {
		return ""
	}
	if digits, ok := currency.GetDigits(m.CurrencyCode()); ok {
		if places := strings.IndexByte(m.Number(), '.'); places < 0 || len(m.Number())-places-1 < int(digits) {
			return m.RoundTo(digits, currency.RoundHalfUp).String()
		}
	}
	return m.Amount.String()
}

// MarshalJSON writes it as a text.
func (m Money) MarshalJSON() ([]byte, error) { return json.Marshal(m.String()) }

// UnmarshalJSON reads what MarshalJSON wrote.
func (m *Money) UnmarshalJSON(body []byte) error {
	var text string
	if err := json.Unmarshal(body, &text); err != nil {
		return fmt.Errorf("an amount of money: %w", err)
	}
	var err error
	*m, err = ParseMoney(text, "")
	return err
}
