package store

import (
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
	"stowright/store/measure"
)

// balances are how much more of lots there is in some account than in another, by lot and
// unit: nothing is converted.
type balances map[lotUnit]balance

type lotUnit struct {
	lot  string // name
	unit measure.Unit
}

// balance is an amount in millionths, which may be below zero.
type balance struct{ q, low, high int64 }

func (b balances) add(lot string, a Amount, sign int64) {
	at := lotUnit{lot, a.Unit}
	sum := b[at]
	b[at] = balance{sum.q + sign*a.Micro, sum.low + sign*a.Low.Micro, sum.high + sign*a.High.Micro}
}

// noteCounts adds up by how much counts found more or less of lots than there was: that
// and what came is all that stock, fitted parts and what went can be.
func (c *checker) noteCounts(tx *disk.Tx, e Entry) error {
	counted, err := isCount(tx, e)
	if err != nil || !counted {
		return err
	}
	for _, change := range e.Changes {
		switch change.Table {
		case tableStock:
			k, err := parseStockKey(change.Key)
			if err != nil || change.Delta == nil {
				return err
			}
			c.counted.add(k.Lot, *change.Delta, 1)
		case tableLots:
			for _, side := range []struct {
				body []byte
				sign int64
			}{{change.Before, 1}, {change.After, -1}} {
				if side.body == nil {
					continue
				}
				l, err := decode[Lot](side.body)
				if err != nil {
					return err
				}
				if l.Undone {
					continue
				}
				c.counted.add(l.Name(), l.Came, side.sign)
				for _, p := range l.Parents { // they were poured, and not counted away
					c.counted.add(p.Lot, p.Amount, -side.sign)
				}
			}
		}
	}
	return nil
}

// isCount reports whether an entry counted, or took a count back.
func isCount(tx *disk.Tx, e Entry) (bool, error) {
	for e.Undoes != 0 {
		var err error
		if e, err = entryAt(tx, e.Undoes); err != nil {
			return false, err
		}
	}
	return e.Verb == VerbCount, nil
}

// balanceLots holds of each lot what came of it, and what counts found more or less,
// against what of it is in stock and in trays, fitted, gone, and poured into other lots.
func (c *checker) balanceLots(*disk.Tx) error {
	there, lots, err := c.lotAccounts()
	if err != nil {
		return c.problem("lots: %v", err)
	}
	for _, at := range slices.SortedFunc(maps.Keys(there), func(a, b lotUnit) int {
		return CompareNames(a.lot+" "+string(a.unit), b.lot+" "+string(b.unit))
	}) {
		l, numbered := lots[at.lot]
		is, due := there[at], balance{}
		if !numbered || l.Came.Unit != at.unit && !l.Undone {
			continue // as an older shop has it, or what went by another unit
		}
		if !l.Undone {
			due = c.counted[at]
			due = balance{due.q + l.Came.Micro, due.low + l.Came.Low.Micro, due.high + l.Came.High.Micro}
		}
		if is == due {
			continue
		}
		if err := c.problem("lots %s: %s of it came or were counted, and %s are in stock, fitted, gone or poured", at.lot, due.words(at.unit), is.words(at.unit)); err != nil {
			return err
		}
	}
	return nil
}

func (b balance) words(unit measure.Unit) string {
	return fmt.Sprint(Amount{Quantity: measure.Quantity{Micro: b.q, Unit: unit}, Low: measure.Quantity{Micro: b.low, Unit: unit}, High: measure.Quantity{Micro: b.high, Unit: unit}})
}

// lotAccounts are all lots by name, and how much of each is anywhere.
func (c *checker) lotAccounts() (balances, map[string]Lot, error) {
	there, lots := balances{}, map[string]Lot{}
	for _, body := range c.replayed[tableLots] {
		l, err := decode[Lot](body)
		if err != nil {
			return nil, nil, err
		}
		lots[l.Name()] = l
		there.add(l.Name(), Amount{Quantity: measure.Quantity{Unit: l.Came.Unit}}, 1)
		for _, p := range l.Parents {
			if !l.Undone {
				there.add(p.Lot, p.Amount, 1)
			}
		}
	}
	for _, table := range []struct {
		name string
		lot  func(key string) (string, error)
	}{
		{tableStock, func(key string) (string, error) { k, err := parseStockKey(key); return k.Lot, err }},
		{tableFitted, func(key string) (string, error) { f, err := parseFittedKey(key); return f.Lot, err }},
		{tableGone, func(key string) (string, error) { g, err := parseGoneKey(key); return g.Lot, err }},
	} {
		for key, body := range c.replayed[table.name] {
			lot, err := table.lot(key)
			if err != nil {
				return nil, nil, err
			}
			a, err := decode[Amount](body)
			if err != nil {
				return nil, nil, err
			}
			there.add(lot, a, 1)
		}
	}
	return there, lots, nil
}
