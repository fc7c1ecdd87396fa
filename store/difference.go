package store

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"stowright/store/disk"
	"stowright/store/measure"
	"stowright/store/phrase"
)

// Difference is what two states of a shop do not have in common: the file as it is
// now, and a copy as it would be then.
type Difference struct {
	Lost   []Entry // entries that the file has and the copy lacks, the oldest first
	Gained []Entry // entries that the copy has and the file lacks: the two went different ways
	// How many records would differ, appear or vanish.
	Items, Places, Lines, Photos, Others int
	Stock                                []StockDifference // by item and place
}

// StockDifference is a heap that would differ.
type StockDifference struct {
	StockKey
	Where     string // the place in words
	Now, Then Amount
}

// String is "AN3-5A in Garage, Cabinet A, A-22: 28 ea now, 24 ea then".
func (d StockDifference) String() string {
	return fmt.Sprintf("%s in %s: %s now, %s then", d.Item, d.Where, d.Now, d.Then)
}

// None reports whether the two are the same.
func (d Difference) None() bool { return len(d.Lost) == 0 && len(d.Gained) == 0 }

// Sentence says the difference to a person.
func (d Difference) Sentence() string {
	if d.None() {
		return "Nothing would change."
	}
	var says []string
	if len(d.Lost) > 0 {
		says = append(says, phrase.Count(len(d.Lost), "entry", "entries")+" would go missing, "+span(d.Lost)+".")
	}
	if len(d.Gained) > 0 {
		says = append(says, phrase.Count(len(d.Gained), "entry", "entries")+" would come back, "+span(d.Gained)+".")
	}
	var parts []string
	for _, part := range []struct {
		n         int
		one, many string
	}{
		{d.Items, "item", "items"},
		{d.Places, "place", "places"},
		{d.Lines, "line of a packing list", "lines of packing lists"},
		{d.Photos, "photograph", "photographs"},
		{len(d.Stock), "heap of stock", "heaps of stock"},
		{d.Others, "other record", "other records"},
	} {
		if part.n > 0 {
			parts = append(parts, phrase.Count(part.n, part.one, part.many))
		}
	}
	if len(parts) > 0 {
		says = append(says, "That changes "+phrase.List(parts)+".")
	} else {
		says = append(says, "What they did was undone again: no record changes.")
	}
	return strings.Join(says, " ")
}

const entryTime = "2 January 2006 15:04"

// span is "from 14 March 2026 09:00 (S1 moved to Hangar) to 15 March 2026 10:00 (...)".
func span(entries []Entry) string {
	first, last := entries[0], entries[len(entries)-1]
	if len(entries) == 1 {
		return fmt.Sprintf("of %s (%s)", first.At.Format(entryTime), first.Text)
	}
	return fmt.Sprintf("from %s (%s) to %s (%s)", first.At.Format(entryTime), first.Text, last.At.Format(entryTime), last.Text)
}

// recordStates are what a record says in either state; nil where it is not there.
type recordStates struct{ now, then json.RawMessage }

// contrast adds up what entries did that only one of two states has.
type contrast struct {
	records map[string]map[string]*recordStates // by table and key
	amounts map[string]map[string]Amount        // by table and key: how much more there is then
}

// Differ is the difference between two states of a shop. Then is the one of them that is
// without the lost entries, and with the gained ones.
func Differ(lost, gained []Entry, then *Shop) (d Difference, err error) {
	err = then.view(func(tx *disk.Tx) error {
		d, err = differ(lost, gained, fileLedger{tx})
		return err
	})
	return d, err
}

func differ(lost, gained []Entry, then ledger) (Difference, error) {
	d := Difference{Lost: lost, Gained: gained}
	t := contrast{records: map[string]map[string]*recordStates{}, amounts: map[string]map[string]Amount{}}
	for _, e := range lost {
		for _, c := range e.Changes {
			if err := t.lose(c); err != nil {
				return d, err
			}
		}
	}
	for _, e := range gained {
		for _, c := range e.Changes {
			if err := t.gain(c); err != nil {
				return d, err
			}
		}
	}
	t.count(&d)
	return d, t.heaps(&d, then)
}

// states are those of the record of a change; was is what it said where both agree.
func (t contrast) states(c Change, was json.RawMessage) *recordStates {
	if t.records[c.Table] == nil {
		t.records[c.Table] = map[string]*recordStates{}
	}
	if t.records[c.Table][c.Key] == nil {
		t.records[c.Table][c.Key] = &recordStates{was, was}
	}
	return t.records[c.Table][c.Key]
}

func (t contrast) lose(c Change) error {
	if c.Delta != nil {
		return t.move(c, c.Delta.Neg())
	}
	t.states(c, c.Before).now = c.After
	return nil
}

func (t contrast) gain(c Change) error {
	if c.Delta != nil {
		return t.move(c, *c.Delta)
	}
	t.states(c, c.Before).then = c.After
	return nil
}

func (t contrast) move(c Change, by Amount) error {
	if t.amounts[c.Table] == nil {
		t.amounts[c.Table] = map[string]Amount{}
	}
	sum, known := t.amounts[c.Table][c.Key]
	if !known {
		t.amounts[c.Table][c.Key] = by
		return nil
	}
	sum, err := sum.Add(by)
	t.amounts[c.Table][c.Key] = sum
	return err
}

// count counts the records that differ, by what a person knows them as.
func (t contrast) count(d *Difference) {
	for _, table := range tables {
		n := table.differs(d)
		if n == nil {
			continue
		}
		for _, r := range t.records[table.name] {
			if !bytes.Equal(r.now, r.then) {
				*n++
			}
		}
		for _, more := range t.amounts[table.name] {
			if !more.IsZero() {
				*n++
			}
		}
	}
}

// heaps are the heaps that differ, by item and place.
func (t contrast) heaps(d *Difference, then ledger) error {
	for key, more := range t.amounts[tableStock] {
		if more.IsZero() {
			continue
		}
		k, err := parseStockKey(key)
		if err != nil {
			return err
		}
		is, found, err := lookup[Amount](then, tableStock, key)
		if err != nil {
			return err
		}
		if !found {
			is = Exact(measure.Quantity{Unit: more.Unit})
		}
		was, err := is.Add(more.Neg())
		if err != nil {
			return err
		}
		d.Stock = append(d.Stock, StockDifference{StockKey: k, Where: t.where(k.Place, then), Now: was, Then: is})
	}
	slices.SortFunc(d.Stock, func(a, b StockDifference) int {
		return cmp.Or(cmp.Compare(a.Item, b.Item), cmp.Compare(a.Where, b.Where), cmp.Compare(a.key(), b.key()))
	})
	return nil
}

// where is a place in words, as it is then, or as it was where it is not there then.
func (t contrast) where(id string, then ledger) string {
	var path []Place
	for at := id; at != "" && len(path) < MaxDepth; {
		p, found, err := lookup[Place](then, tablePlaces, at)
		if !found || err != nil {
			states := t.records[tablePlaces][at]
			if states == nil {
				break
			}
			if p, err = decode[Place](states.now); err != nil {
				break
			}
		}
		path = append(path, p)
		at = p.Parent
	}
	slices.Reverse(path)
	return PathText(path)
}
