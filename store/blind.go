package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/measure"
)

// Blind are counts of a heap by hands that do not see each other's figures, nor what the
// shop thought to be there.
type Blind struct {
	Had     Amount       `json:"had"`               // of the stock while they were made: they are of one heap
	Counts  []BlindCount `json:"counts"`            // in the order in which they were made
	Settled bool         `json:"settled,omitempty"` // two of them agree, and the stock is what they say
}

// BlindCount is one of them.
type BlindCount struct {
	At     time.Time `json:"at"`
	Hand   string    `json:"hand"`
	Amount Amount    `json:"amount"` // an estimate where it was weighed
}

// fewestHands is how many hands a blind count needs.
const fewestHands = 2

// CountBlind records what a hand counted or weighed in a heap, without saying it in words:
// the next hand must not know. Where it agrees with an earlier count by another hand, the
// stock is what they say; where it does not, another count is asked for. All are kept, and
// the last entry names them. Counts start anew when the stock has changed since. A second
// count by the hand of the first is refused.
func (s *Shop) CountBlind(k StockKey, counted Amount) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		place, err := w.usablePlace(k.Place)
		if err != nil {
			return "", err
		}
		if k, err = cleanKey(k); err != nil {
			return "", err
		}
		if k, err = w.meant(k); err != nil {
			return "", err
		}
		had, err := w.amount(k)
		if err != nil {
			return "", err
		}
		if err := mayCountBlind(k, place, had, counted); err != nil {
			return "", err
		}
		record, _, err := lookup[Counted](w.ledger, tableCounted, k.key())
		if err != nil {
			return "", err
		}
		blind := Blind{Had: had}
		if b := record.Blind; b != nil && !b.Settled && b.Had == had {
			blind.Counts = slices.Clone(b.Counts)
		}
		if len(blind.Counts) == 1 && blind.Counts[0].Hand == w.hand {
			return "", fail(Conflict, k.Item, "%s counted %s in %s already: another hand counts now, who has not seen it.", w.hand, k.Item, place.Name)
		}
		blind.Counts = append(blind.Counts, BlindCount{At: w.at, Hand: w.hand, Amount: counted})
		settled, agreed := blind.agreed()
		if !agreed {
			record.Blind = &blind
			return blind.words(k.Item, place.Name), w.put(tableCounted, k.key(), record)
		}
		if _, err := w.count(k, settled, "counted"); err != nil {
			return "", err
		}
		blind.Settled, blind.Had = true, settled
		text := fmt.Sprintf("counted blind %s in %s: %s (%s)", k.Item, place.Name, settled, blind.history())
		return text, w.put(tableCounted, k.key(), Counted{At: w.at, Hand: w.hand, Blind: &blind})
	})
}

// mayCountBlind refuses what is no count of a heap.
func mayCountBlind(k StockKey, place Place, had, counted Amount) error {
	switch {
	case had.IsZero():
		return fail(NotFound, k.Item, "Nothing of %s is known in %s: count it, and then count it blind.", k.Item, place.Name)
	case had.Unit != counted.Unit:
		return fail(Invalid, k.Item, "%s is kept by %s here: count it so.", k.Item, had.Unit)
	case counted.Quantity.Sign() < 0 || counted.Low.Sign() < 0:
		return fail(Invalid, k.Item, "%s cannot be less than zero: type what is there.", k.Item)
	case !wholePieces(counted.Quantity):
		return fail(Invalid, k.Item, "%s is not a whole number of pieces: count %s again.", counted.Quantity.Number(), k.Item)
	case !canBeKept(counted.Quantity):
		return fail(Invalid, k.Item, "That is more of %s than can be kept: correct the figure.", k.Item)
	}
	return nil
}

// agreed is what the newest count comes to with an earlier one by another hand that agrees
// with it: the newest of those that were counted out, or else of those that were weighed. A
// hand that counts a third time breaks a tie of two.
func (b Blind) agreed() (weighed Amount, agreed bool) {
	if len(b.Counts) < fewestHands {
		return Amount{}, false
	}
	last := b.Counts[len(b.Counts)-1]
	for _, c := range slices.Backward(b.Counts[:len(b.Counts)-1]) {
		if c.Hand == last.Hand && len(b.Counts) < 3 {
			continue
		}
		switch both, ok := both(c.Amount, last.Amount); {
		case ok && !both.Estimate():
			return both, true
		case ok && !agreed:
			weighed, agreed = both, true
		}
	}
	return weighed, agreed
}

// both is an amount that two counts allow: pieces that a hand counted within what was
// weighed, or what two weighings have in common. Where that is one number it is no count
// yet, and the newer weighing stays.
func both(a, b Amount) (Amount, bool) {
	low, high := max(a.Low.Micro, b.Low.Micro), min(a.High.Micro, b.High.Micro)
	if a.Unit != b.Unit || low > high {
		return Amount{}, false
	}
	switch {
	case !a.Estimate():
		return a, true
	case !b.Estimate():
		return b, true
	}
	if low == high {
		return b, true
	}
	middle := min(max(a.Quantity.Micro, low), high)
	q := func(micro int64) measure.Quantity { return measure.Quantity{Micro: micro, Unit: a.Unit} }
	return Amount{Quantity: q(middle), Low: q(low), High: q(high)}, true
}

// words say how far the counts are, and no figure.
func (b Blind) words(item, place string) string {
	if len(b.Counts) == 1 {
		return fmt.Sprintf("counted %s in %s blind: the first count is in, another hand counts next", item, place)
	}
	return fmt.Sprintf("counted %s in %s blind: counts differ: count again", item, place)
}

// history names all counts: "150 by Partner, 148 by Youngster, 150 by Builder".
func (b Blind) history() string {
	var words []string
	for _, c := range b.Counts {
		figure := c.Amount.Quantity.Number()
		if c.Amount.Estimate() {
			figure = fmt.Sprintf("about %s (%s to %s)", figure, c.Amount.Low.Number(), c.Amount.High.Number())
		}
		words = append(words, fmt.Sprintf("%s by %s, %s", figure, cmp.Or(c.Hand, "nobody"), c.At.Format("15:04")))
	}
	return strings.Join(words, "; ")
}
