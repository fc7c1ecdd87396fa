package store

import (
	"context"
	"fmt"
	"time"

	"stowright/store/disk"
	"stowright/store/progress"
)

// AsOf has the shop be read as it stood at the end of a day, from then on: after the last
// entry that was made on that day or before, by the day that each entry itself has. Its clock
// stands at the end of that day, and every verb is refused. Nothing is written: it goes back
// from what lies in the file, over the entries that are newer.
//
// It is called before anybody else has the shop. A day that is still to come, and one before
// the first entry, are refused.
func (s *Shop) AsOf(ctx context.Context, day Date) error {
	today := s.Today()
	if today.DaysUntil(day) > 0 {
		return fail(Invalid, day.String(), "%s is still to come: today is %s.", day, today)
	}
	p := &past{Past: disk.NewPast(), day: day, amounts: map[string]map[string]Amount{}}
	if err := s.view(func(tx *disk.Tx) error { return p.read(ctx, tx) }); err != nil {
		return err
	}
	end := time.Date(day.Year, day.Month, day.Day, 23, 59, 59, 0, s.clock().Location())
	s.past, s.clock = p, func() time.Time { return end }
	return nil
}

// past is the shop as it stood at the end of a day.
type past struct {
	*disk.Past
	day     Date
	amounts map[string]map[string]Amount // what adds up, by table and key, until it is sealed
}

// read goes back over the entries that are newer than the day.
func (p *past) read(ctx context.Context, tx *disk.Tx) error {
	end, err := tx.End()
	if err != nil {
		return err
	}
	var first Date
	err = tx.RecordsBefore(0, func(r disk.Record) (bool, error) {
		e, err := scanned(r)
		if err != nil {
			return false, err
		}
		if first = DateOf(e.At); p.day.DaysUntil(first) <= 0 {
			p.End = disk.End{Seq: r.Seq, Sum: r.Sum}
			return false, nil
		}
		if r.Seq%1024 == 0 {
			progress.Report(ctx, "going back", progress.Share(end.Seq-r.Seq, end.Seq))
			if err := ctx.Err(); err != nil {
				return false, err
			}
		}
		return true, p.without(tx, e)
	})
	switch {
	case err != nil:
		return err
	case end.Seq == 0:
		return fail(NotFound, p.day.String(), "Nothing was done in this shop yet: there is no %s to see.", p.day)
	case p.End.Seq == 0:
		return fail(NotFound, p.day.String(), "The first entry of this shop is of %s: ask for that day or a later one.", first)
	}
	return p.seal(tx)
}

// without takes one entry back, strictly: unlike an undo, it leaves nothing of it.
func (p *past) without(tx *disk.Tx, e Entry) error {
	for i := len(e.Changes) - 1; i >= 0; i-- {
		c := e.Changes[i]
		if c.Delta == nil {
			p.Put(c.Table, c.Key, c.Before)
			continue
		}
		if err := p.add(tx, c); err != nil {
			return fmt.Errorf("entry %d, %s %q: %w", e.Seq, c.Table, c.Key, err)
		}
	}
	return p.unmark(tx, e)
}

// add takes back what an entry added.
func (p *past) add(tx *disk.Tx, c Change) error {
	sums := p.amounts[c.Table]
	if sums == nil {
		sums = map[string]Amount{}
		p.amounts[c.Table] = sums
	}
	sum, known := sums[c.Key]
	if !known {
		var err error
		if sum, _, err = lookup[Amount](fileLedger{tx}, c.Table, c.Key); err != nil {
			return err
		}
	}
	sum, err := sum.Add(c.Delta.Neg())
	if err != nil {
		return err
	}
	if nothing(sum) {
		sum = Amount{} // it may have been of another unit before
	}
	sums[c.Key] = sum
	return nil
}

// unmark has the index of undone entries be as it was before an entry.
func (p *past) unmark(tx *disk.Tx, e Entry) error {
	if e.Undoes == 0 {
		return nil
	}
	p.Put(indexUndone, string(disk.SeqKey(e.Undoes)), nil)
	if e.Verb != VerbRedo {
		return nil
	}
	undo, err := entryAt(tx, e.Undoes)
	if err != nil {
		return err
	}
	p.Put(indexUndone, string(disk.SeqKey(undo.Undoes)), disk.SeqKey(undo.Seq))
	return nil
}

// seal ends the going back: amounts become records, and the indexes follow from them.
func (p *past) seal(tx *disk.Tx) error {
	for table, sums := range p.amounts {
		for key, sum := range sums {
			var body []byte
			if !nothing(sum) {
				var err error
				if body, err = encode(sum); err != nil {
					return err
				}
			}
			p.Put(table, key, body)
		}
	}
	p.amounts = nil
	for i := range tables {
		for _, index := range tables[i].indexes {
			if err := p.reindex(tx, &tables[i], index); err != nil {
				return err
			}
		}
	}
	p.Seal()
	return nil
}

// reindex has an index of a table follow from its records as they were.
func (p *past) reindex(tx *disk.Tx, t *table, index index) error {
	var were []string // which come last: where a key stays, it stands for another record
	err := p.Each(t.name, func(key string, body []byte) error {
		is, err := fileLedger{tx}.get(t.name, key)
		if err != nil {
			return err
		}
		if is != nil {
			now, err := index.key(key, is)
			if err != nil {
				return err
			}
			if now != "" {
				p.Put(index.name, now, nil)
			}
		}
		if body == nil {
			return nil
		}
		was, err := index.key(key, body)
		if was != "" {
			were = append(were, was)
		}
		return err
	})
	for _, key := range were {
		p.Put(index.name, key, []byte{})
	}
	return err
}

// nothing reports whether an amount is one that has no record.
func nothing(a Amount) bool { return a.Quantity.IsZero() && a.Low == a.High }
