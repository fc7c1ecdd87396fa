package store

import (
	"bytes"
	"errors"
	"fmt"

	"stowright/store/measure"
)

// ledger is what changes are applied to: the file, or a map when Check replays
// the journal. A get of what is not there returns nil.
type ledger interface {
	get(table, key string) ([]byte, error)
	put(table, key string, body []byte) error
	drop(table, key string) error
}

// errStale means that a record is not as a change expects it: something has
// changed it since.
var errStale = errors.New("the record has changed since")

// errBelowZero means that a change would leave less than zero.
var errBelowZero = errors.New("there is not that much there")

// apply makes one change, after checking that it starts from what stands.
func apply(l ledger, c Change) error {
	current, err := l.get(c.Table, c.Key)
	if err != nil {
		return err
	}
	if c.Delta != nil {
		return applyDelta(l, c, current)
	}
	if !bytes.Equal(current, c.Before) {
		return fmt.Errorf("%s %q: %w", c.Table, c.Key, errStale)
	}
	if c.After == nil {
		return l.drop(c.Table, c.Key)
	}
	return l.put(c.Table, c.Key, c.After)
}

func applyDelta(l ledger, c Change, current []byte) error {
	var amount Amount
	if current != nil {
		var err error
		if amount, err = decode[Amount](current); err != nil {
			return err
		}
	}
	amount, err := amount.Add(*c.Delta)
	if err != nil {
		return fmt.Errorf("%s %q: %w", c.Table, c.Key, err)
	}
	if amount.Quantity.Sign() < 0 {
		return fmt.Errorf("%s %q: %w", c.Table, c.Key, errBelowZero)
	}
	for _, q := range []measure.Quantity{amount.Quantity, amount.Low, amount.High, c.Delta.Low, c.Delta.High} {
		if !canBeKept(q) {
			return fmt.Errorf("%s %q: %w", c.Table, c.Key, measure.ErrOverflow)
		}
	}
	if nothing(amount) {
		return l.drop(c.Table, c.Key)
	}
	body, err := encode(amount)
	if err != nil {
		return err
	}
	return l.put(c.Table, c.Key, body)
}

// canBeKept reports whether a quantity can be read again once it is written.
func canBeKept(q measure.Quantity) bool {
	limit := measure.Of(measure.MaxQuantity, q.Unit)
	return q.Micro <= limit.Micro && q.Micro >= -limit.Micro
}

// opposite is what undoes changes: the last one first.
func opposite(changes []Change) ([]Change, error) {
	out := make([]Change, 0, len(changes))
	for i := len(changes) - 1; i >= 0; i-- {
		c := changes[i]
		if c.Delta != nil {
			neg := c.Delta.Neg()
			out = append(out, Change{Table: c.Table, Key: c.Key, Delta: &neg})
			continue
		}
		back := Change{Table: c.Table, Key: c.Key, Before: c.After, After: c.Before}
		if c.Before == nil {
			t, err := tableOf(c.Table)
			if err != nil {
				return nil, err
			}
			if back.After, err = t.unmade(c.After); err != nil {
				return nil, err
			}
		}
		out = append(out, back)
	}
	return out, nil
}

// memory is a ledger in memory.
type memory map[string]map[string][]byte

func newMemory() memory {
	m := memory{}
	for _, t := range tables {
		m[t.name] = map[string][]byte{}
	}
	return m
}

func (m memory) get(table, key string) ([]byte, error) {
	records, ok := m[table]
	if !ok {
		return nil, fmt.Errorf("there is no table %q", table)
	}
	return records[key], nil
}

func (m memory) put(table, key string, body []byte) error {
	m[table][key] = body
	return nil
}

func (m memory) drop(table, key string) error {
	delete(m[table], key)
	return nil
}
