package measure

import (
	"encoding/json"
	"fmt"
	"math/big"
)

// Amount is how much there is. A counted amount is exact: Low and High equal the
// Quantity. An estimate, such as a weighed count, has the range it lies in, and
// whatever is added to or taken from it leaves it an estimate.
type Amount struct {
	Quantity
	Low, High Quantity
}

// Exact is a counted amount.
func Exact(q Quantity) Amount { return Amount{Quantity: q, Low: q, High: q} }

// Estimate says whether the amount is only known within a range.
func (a Amount) Estimate() bool { return a.Low != a.High }

// String is "12 ea", or "about 1,680 ea (1,668 to 1,692)".
func (a Amount) String() string {
	if !a.Estimate() {
		return a.Quantity.String()
	}
	low := a.Low
	if low.Sign() < 0 {
		low.Micro = 0
	}
	return fmt.Sprintf("about %s (%s to %s)", a.Quantity, low.Number(), a.High.Number())
}

// Figure is the number without its unit: "12", or "about 1,680". What is shown
// without its range is at least shown as an estimate.
func (a Amount) Figure() string {
	if a.Estimate() {
		return "about " + a.Number()
	}
	return a.Number()
}

// Add returns a+b with their ranges added.
func (a Amount) Add(b Amount) (Amount, error) {
	q, err := a.Quantity.Add(b.Quantity)
	if err != nil {
		return Amount{}, err
	}
	low, err := a.Low.Add(b.Low)
	if err != nil {
		return Amount{}, err
	}
	high, err := a.High.Add(b.High)
	if err != nil {
		return Amount{}, err
	}
	return Amount{Quantity: q, Low: low, High: high}, nil
}

// Neg returns -a; adding a and its negative leaves exactly nothing.
func (a Amount) Neg() Amount {
	return Amount{Quantity: a.Quantity.Neg(), Low: a.Low.Neg(), High: a.High.Neg()}
}

// Amount is what a weighing found: an estimate, in pieces.
func (w Weighed) Amount() Amount {
	return Amount{Quantity: Pieces(w.Pieces), Low: Pieces(w.Low), High: Pieces(w.High)}
}

// In is what a weighing found of what is kept by that unit: its net weight, a step of the
// scale either way, where it is kept by weight, and else pieces.
func (w Weighed) In(unit Unit) (Amount, error) {
	if !unit.IsWeight() {
		return w.Amount(), nil
	}
	at := func(micro int64) *big.Int {
		return new(big.Int).Mul(big.NewInt(max(0, micro)), big.NewInt(nanograms[w.Net.Unit]))
	}
	into := big.NewInt(nanograms[unit])
	low, high := new(big.Int).Quo(at(w.Net.Micro-w.Step.Micro), into).Int64(), up(at(w.Net.Micro+w.Step.Micro), into)
	var q Quantity
	for decimals := 2; decimals <= 6; decimals++ { // as few as tell it
		var err error
		if q, err = Convert(w.Net, unit, decimals); err != nil {
			return Amount{}, err
		}
		if low <= q.Micro && q.Micro <= high {
			break
		}
	}
	return Amount{Quantity: q, Low: Quantity{low, unit}, High: Quantity{high, unit}}, nil
}

// IsZero says that there is nothing, and that this is certain.
func (a Amount) IsZero() bool { return a.Quantity.IsZero() && a.Low.IsZero() && a.High.IsZero() }

type amountJSON struct {
	Quantity Quantity  `json:"q"`
	Low      *Quantity `json:"low,omitempty"`
	High     *Quantity `json:"high,omitempty"`
}

// MarshalJSON writes {"q":"12 ea"}, with "low" and "high" for an estimate.
func (a Amount) MarshalJSON() ([]byte, error) {
	j := amountJSON{Quantity: a.Quantity}
	if a.Low != a.Quantity || a.High != a.Quantity {
		j.Low, j.High = &a.Low, &a.High
	}
	return json.Marshal(j)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (a *Amount) UnmarshalJSON(b []byte) error {
	var j amountJSON
	if err := json.Unmarshal(b, &j); err != nil {
		return err
	}
	*a = Exact(j.Quantity)
	if j.Low != nil {
		a.Low = *j.Low
	}
	if j.High != nil {
		a.High = *j.High
	}
	return nil
}
