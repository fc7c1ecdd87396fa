package store

import (
	"bytes"
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// lookup reads one record and whether it is there.
func lookup[T any](l ledger, table, key string) (T, bool, error) {
	var none T
	body, err := l.get(table, key)
	if err != nil || body == nil {
		return none, false, err
	}
	v, err := decode[T](body)
	return v, err == nil, err
}

// one reads one record in a transaction of its own. What it is called by people is
// what and name; name is empty where they know it by no name.
func one[T any](r *Reader, table, key, what, name string) (T, error) {
	var v T
	err := r.view(func(tx *disk.Tx) error {
		var found bool
		var err error
		if v, found, err = lookup[T](fileLedger{tx}, table, key); err == nil && !found {
			return fail(NotFound, name, "There is no %s in this shop: look for it by another name.", strings.TrimSpace(what+" "+name))
		}
		return err
	})
	return v, err
}

// scan calls do with every record of a table whose key starts with prefix, in key order.
func scan[T any](tx *disk.Tx, table, prefix string, do func(key string, v T) error) error {
	b, err := tx.Bucket(table)
	if err != nil {
		return err
	}
	return b.Scan([]byte(prefix), decodedTo(do))
}

// decodedTo decodes each record for do.
func decodedTo[T any](do func(key string, v T) error) func(key, body []byte) error {
	return func(key, body []byte) error {
		v, err := decode[T](body)
		if err != nil {
			return err
		}
		return do(string(key), v)
	}
}

// all reads the records of a table whose key starts with prefix, in key order.
func all[T any](r *Reader, table, prefix string) ([]T, error) {
	var list []T
	err := r.view(func(tx *disk.Tx) error {
		return scanAll(tx, table, prefix, func(_ string, v T) error {
			list = append(list, v)
			return nil
		})
	})
	return list, err
}

// scanAll is scan for much of a table, or all of it, without bbolt's map of the file.
func scanAll[T any](tx *disk.Tx, table, prefix string, do func(key string, v T) error) error {
	b, err := tx.Bucket(table)
	if err != nil {
		return err
	}
	return b.ScanUnmapped([]byte(prefix), decodedTo(do))
}

// Items are all items by designation, archived ones too.
func (r *Reader) Items() ([]Item, error) { return all[Item](r, tableItems, "") }

// Item is the item of a designation.
func (r *Reader) Item(designation string) (Item, error) {
	return one[Item](r, tableItems, designation, "item", phrase.Quote(designation))
}

// Equivalents are all old numbers, by old number.
func (r *Reader) Equivalents() ([]Equivalent, error) { return all[Equivalent](r, tableEquivalents, "") }

// Shipments are all shipments, the oldest first.
func (r *Reader) Shipments() ([]Shipment, error) { return all[Shipment](r, tableShipments, "") }

// Shipment is the shipment of an id.
func (r *Reader) Shipment(id string) (Shipment, error) {
	return one[Shipment](r, tableShipments, id, "such packing list", "")
}

// Lines are the lines of a shipment by number, extras last.
func (r *Reader) Lines(shipment string) ([]Line, error) {
	lines, err := all[Line](r, tableLines, shipment+keySeparator)
	return byNumber(lines), err
}

// LinesOf are the lines of each of several shipments, as Lines gives them. They are read
// one after the other and decoded side by side, since that is what takes the time.
func (r *Reader) LinesOf(shipments []string) ([][]Line, error) {
	all, errs := make([][]Line, len(shipments)), make([]error, len(shipments))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	err := r.view(func(tx *disk.Tx) error {
		b, err := tx.Bucket(tableLines)
		if err != nil {
			return err
		}
		for i, id := range shipments {
			slots <- struct{}{}
			var bodies [][]byte
			err := b.ScanUnmapped([]byte(id+keySeparator), func(_, body []byte) error {
				bodies = append(bodies, bytes.Clone(body))
				return nil
			})
			if err != nil {
				return err
			}
			wait.Go(func() {
				defer func() { <-slots }()
				all[i], errs[i] = decodeAll[Line](bodies)
				byNumber(all[i])
			})
		}
		return nil
	})
	wait.Wait()
	for _, err := range append([]error{err}, errs...) {
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}

func decodeAll[T any](bodies [][]byte) ([]T, error) {
	var list []T
	for _, body := range bodies {
		v, err := decode[T](body)
		if err != nil {
			return nil, err
		}
		list = append(list, v)
	}
	return list, nil
}

// Line is one line of a shipment.
func (r *Reader) Line(shipment string, line LineID) (Line, error) {
	return one[Line](r, tableLines, lineKey(shipment, line), "packing list line", fmt.Sprint(line))
}

// LineNumbered is the line of a shipment that has a number on the list as it is now.
func (r *Reader) LineNumbered(shipment string, number int) (Line, error) {
	var line Line
	found := false
	err := r.view(func(tx *disk.Tx) error {
		l, _, err := lookup[Line](fileLedger{tx}, tableLines, lineKey(shipment, LineID(number)))
		if found = err == nil && l.Number() == number; found || err != nil {
			line = l
			return err
		}
		return scanAll(tx, tableLines, shipment+keySeparator, func(_ string, l Line) error {
			if l.Number() == number {
				line, found = l, true
			}
			return nil
		})
	})
	if err == nil && !found {
		err = fail(NotFound, fmt.Sprint(number), "There is no packing list line %d in this shop: look for it by another name.", number)
	}
	return line, err
}

// Settings are the shop's settings; all zero in a new shop.
func (r *Reader) Settings() (Settings, error) {
	var v Settings
	err := r.view(func(tx *disk.Tx) error {
		var err error
		v, _, err = lookup[Settings](fileLedger{tx}, tableSettings, settingsKey)
		return err
	})
	return v, err
}

const settingsKey = "shop"

// Totals are how many listed lines of a shipment stand in each state, extras not counted.
func (r *Reader) Totals(shipment string) (map[State]int, error) {
	totals := map[State]int{}
	err := r.Read(func(r *Reader) error {
		ship, err := r.Shipment(shipment)
		if err != nil {
			return err
		}
		lines, err := r.Lines(shipment)
		for _, l := range lines {
			if l.Extra {
				continue
			}
			_, arrived := ship.Delivery(l.Crate)
			totals[l.State(arrived)]++
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	return totals, nil
}

// Clocks are the claim clocks of all shipments by the shop's own day, the nearest
// that has not passed first and those that have passed last; without those that a
// claim that was sent has settled.
func (r *Reader) Clocks() ([]Clock, error) {
	var clocks []Clock
	err := r.Read(func(r *Reader) error {
		ships, err := r.Shipments()
		if err != nil {
			return err
		}
		for _, ship := range ships {
			running, err := r.running(ship)
			if err != nil {
				return err
			}
			clocks = append(clocks, running...)
		}
		return nil
	})
	slices.SortStableFunc(clocks, func(a, b Clock) int {
		if past := boolOrder(a.DaysLeft < 0, b.DaysLeft < 0); past != 0 {
			return past
		}
		return cmp.Compare(a.DaysLeft, b.DaysLeft)
	})
	return clocks, err
}

// running are the claim clocks of a shipment that no claim has settled.
func (r *Reader) running(ship Shipment) ([]Clock, error) {
	clocks := ship.Clocks(r.Today())
	if len(ship.Claims) == 0 {
		return clocks, nil
	}
	lines, err := r.Lines(ship.ID)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(clocks, func(c Clock) bool { return ship.Settled(Delivery{Crates: c.Crates}, c.For, lines) }), nil
}

// Overdue reports whether a claim clock has passed before all was sent that there is to claim
// by it.
func (r *Reader) Overdue(c Clock) (overdue bool, err error) {
	if c.DaysLeft >= 0 {
		return false, nil
	}
	err = r.Read(func(r *Reader) error {
		ship, err := r.Shipment(c.Shipment)
		if err != nil {
			return err
		}
		lines, err := r.Lines(c.Shipment)
		overdue = ship.UnsentFor(c.For, c.Crates, lines) > 0
		return err
	})
	return overdue, err
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// Holdings are all heaps of an item, wherever they are, by place.
func (r *Reader) Holdings(item string) ([]Holding, error) {
	var list []Holding
	err := r.view(func(tx *disk.Tx) error {
		return scan(tx, tableStock, item+keySeparator, func(key string, a Amount) error {
			k, err := parseStockKey(key)
			list = append(list, Holding{StockKey: k, Amount: a})
			return err
		})
	})
	return list, err
}

// Stock is every heap of the shop, by item.
func (r *Reader) Stock() ([]Holding, error) {
	var list []Holding
	err := r.view(func(tx *disk.Tx) error {
		return scanAll(tx, tableStock, "", func(key string, a Amount) error {
			k, err := parseStockKey(key)
			list = append(list, Holding{StockKey: k, Amount: a})
			return err
		})
	})
	return list, err
}

// StockKeys are the keys of every heap of the shop, by item: what lies where, without
// how much, which takes a fraction of the time of Stock.
func (r *Reader) StockKeys() ([]StockKey, error) {
	var list []StockKey
	err := r.view(func(tx *disk.Tx) error {
		b, err := tx.Bucket(tableStock)
		if err != nil {
			return err
		}
		return b.ScanUnmapped(nil, func(key, _ []byte) error {
			k, err := parseStockKey(string(key))
			list = append(list, k)
			return err
		})
	})
	return list, err
}

// ItemsInStock are the designations of all that has a heap, in whatever condition, in the
// order of their characters.
func (r *Reader) ItemsInStock() ([]string, error) {
	var list []string
	err := r.view(func(tx *disk.Tx) error {
		b, err := tx.Bucket(tableStock)
		if err != nil {
			return err
		}
		return b.ScanUnmapped(nil, func(key, _ []byte) error {
			item, _, ok := bytes.Cut(key, []byte(keySeparator))
			if !ok {
				return fmt.Errorf("%q is no key of stock", key)
			}
			if len(list) == 0 || list[len(list)-1] != string(item) {
				list = append(list, string(item))
			}
			return nil
		})
	})
	return list, err
}

// Contents are the heaps that lie in a place itself, by item; what lies in the
// places within it is not among them.
func (r *Reader) Contents(place string) ([]Holding, error) {
	var list []Holding
	err := r.view(func(tx *disk.Tx) error {
		var err error
		list, err = contents(tx, place)
		return err
	})
	return list, err
}

func contents(tx *disk.Tx, place string) ([]Holding, error) {
	byPlace, err := tx.Bucket(indexByPlace)
	if err != nil {
		return nil, err
	}
	var list []Holding
	prefix := []byte(place + keySeparator)
	err = byPlace.Scan(prefix, func(k, _ []byte) error {
		key := string(k[len(prefix):])
		a, _, err := lookup[Amount](fileLedger{tx}, tableStock, key)
		if err != nil {
			return err
		}
		stock, err := parseStockKey(key)
		if err != nil {
			return err
		}
		list = append(list, Holding{StockKey: stock, Amount: a})
		return nil
	})
	return list, err
}

// LastCounted is when and by whom a heap was last counted, if it ever was.
func (r *Reader) LastCounted(k StockKey) (Counted, bool, error) {
	var v Counted
	var found bool
	err := r.view(func(tx *disk.Tx) error {
		var err error
		if k, err = meant(tx, k); err != nil {
			return err
		}
		v, found, err = lookup[Counted](fileLedger{tx}, tableCounted, k.key())
		return err
	})
	return v, found && !v.At.IsZero(), err
}

// CountingBlind are the counts of a heap by several hands, and whether there are any.
func (r *Reader) CountingBlind(k StockKey) (Blind, bool, error) {
	var v Counted
	err := r.view(func(tx *disk.Tx) error {
		var err error
		if k, err = meant(tx, k); err != nil {
			return err
		}
		v, _, err = lookup[Counted](fileLedger{tx}, tableCounted, k.key())
		return err
	})
	if err != nil || v.Blind == nil {
		return Blind{}, false, err
	}
	return *v.Blind, true, nil
}
