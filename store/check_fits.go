package store

import (
	"maps"
	"slices"

	"stowright/store/disk"
)

// noteFitted adds up what entries of programs before format 6 fitted, which made no events.
func (c *checker) noteFitted(e Entry) {
	if slices.ContainsFunc(e.Changes, func(change Change) bool { return change.Table == tableFits }) {
		return
	}
	for _, change := range e.Changes {
		if change.Table == tableFitted && change.Delta != nil {
			c.fittedBefore.add(change.Key, *change.Delta)
		}
	}
}

// sums are amounts by key; one that cannot be added up is nothing.
type sums map[string]Amount

func (s sums) add(key string, a Amount) {
	sum, err := s[key].Add(a)
	if err != nil {
		sum = Amount{}
	}
	s[key] = sum
}

// fits holds what is fitted against the events that it is the sum of.
func (c *checker) fits(*disk.Tx) error {
	sum := maps.Clone(c.fittedBefore)
	for _, key := range slices.Sorted(maps.Keys(c.replayed[tableFits])) {
		f, err := decode[Fit](c.replayed[tableFits][key])
		if err != nil {
			if err := c.problem("%s: %v", disk.RecordName(tableFits, key), err); err != nil {
				return err
			}
			continue
		}
		if !f.Undone {
			sum.add(f.fitted().key(), f.Amount)
		}
	}
	for key := range c.replayed[tableFitted] {
		if _, known := sum[key]; !known {
			sum[key] = Amount{}
		}
	}
	for _, key := range slices.Sorted(maps.Keys(sum)) {
		var is Amount
		if body := c.replayed[tableFitted][key]; body != nil {
			var err error
			if is, err = decode[Amount](body); err != nil {
				return err
			}
		}
		if d, err := is.Add(sum[key].Neg()); err == nil && d.IsZero() && d.Low.IsZero() && d.High.IsZero() {
			continue
		}
		if err := c.problem("%s: %s is fitted, and the events add up to %s", disk.RecordName(tableFitted, key), is, sum[key]); err != nil {
			return err
		}
	}
	return nil
}
