package store

import (
	"cmp"
	"fmt"
	"strings"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// LotKind says how the pieces of a lot came together.
type LotKind string

// The kinds of lot.
const (
	PlainLot   LotKind = ""           // they came together
	MixLot     LotKind = "mix"        // they were poured together out of other lots
	FoundHere  LotKind = "found here" // they were counted where the shop knew of none
	MadeHere   LotKind = "made here"
	BuiltAlong LotKind = "assembled" // they came inside something that was assembled
	// RemovedLot came out of an aircraft again, and was of the one lot that is its parent.
	RemovedLot LotKind = "removed"
)

// Lot is what came together, whether a number is printed on it or not: origin, papers,
// dates and price belong to it. Every receipt makes one.
type Lot struct {
	Number  uint64    `json:"number"` // for life: 17 is L-17
	Item    string    `json:"item"`
	Kind    LotKind   `json:"kind,omitempty"`
	Printed string    `json:"printed,omitempty"` // lot or batch as it is marked
	Receipt *Receipt  `json:"receipt,omitempty"` // nil: it came with no list or order
	Came    Amount    `json:"came"`              // how much of it, as received, found or poured together
	Date    Date      `json:"date,omitzero"`     // on which it came, was found or poured
	Parents []Portion `json:"parents,omitempty"` // of a mix, and of what was removed: what it was before
	Facts   LotFacts  `json:"facts,omitzero"`
	Undone  bool      `json:"undone,omitempty"` // its making was undone
}

// Receipt is where a lot came from: a line of a packing list, or of an order.
type Receipt struct {
	Shipment string `json:"shipment,omitempty"` // id; with Line
	Order    string `json:"order,omitempty"`    // as people call it
	Line     LineID `json:"line,omitempty"`
	Printed  int    `json:"printed,omitempty"` // as of a line
}

// Number is the number of the line on the list as it is now.
func (r Receipt) Number() int { return Line{ID: r.Line, Printed: r.Printed}.Number() }

// Portion is so much of a lot.
type Portion struct {
	Lot    string `json:"lot"` // name, or a lot as an older shop has it
	Amount Amount `json:"amount"`
}

const lotLetter = "L"

// LotName is what a lot is called for life: "L-17".
func LotName(number uint64) string { return numberName(lotLetter, number) }

// lotNamed is the number in the name of a lot as the keys of heaps have it. No other
// spelling is one: in an older shop it is what was printed on the pieces.
func lotNamed(name string) (uint64, bool) {
	n, ok := numbered(lotLetter, name)
	return n, ok && LotName(n) == name
}

// LotNumber reads a name such as L-17, in any case. A number alone is none: it may be
// what is printed.
func LotNumber(name string) (uint64, bool) {
	return lotNamed(strings.ToUpper(strings.TrimSpace(name)))
}

// Name is what the lot is called for life: "L-17". A lot of an older shop, which has no
// number, has none.
func (l Lot) Name() string {
	if l.Number == 0 {
		return ""
	}
	return LotName(l.Number)
}

// StockLot is the lot in the keys of its heaps: its name, or, of a lot of an older
// shop, what is printed on it.
func (l Lot) StockLot() string { return cmp.Or(l.Name(), l.Printed) }

// derived reports whether its pieces were of other lots before, which then say what they
// came as.
func (l Lot) derived() bool { return len(l.Parents) > 0 }

func (l Lot) key() string { return numberKey(l.Number) }

// Words say which lot it is: as it is printed where it is; else by what it came with.
func (l Lot) Words() string {
	switch {
	case l.Printed != "":
		return "lot " + l.Printed
	case l.Kind == MixLot:
		return l.Name() + ", poured together"
	case l.Kind == RemovedLot:
		return l.Name() + ", removed from " + l.Facts.From
	case l.Kind != PlainLot:
		return l.Name() + ", " + string(l.Kind)
	case l.Receipt != nil && l.Receipt.Order != "":
		return fmt.Sprintf("order %s, line %d", l.Receipt.Order, l.Receipt.Number())
	case l.Receipt != nil && l.Receipt.Line > 0:
		return fmt.Sprintf("%s, line %d", l.Name(), l.Receipt.Number())
	case l.Number == 0:
		return "lot not recorded"
	}
	return l.Name()
}

// Answers reports whether a person who types a text may mean this lot: its number, or
// what is printed on it, in any case.
func (l Lot) Answers(typed string) bool {
	typed = strings.TrimSpace(typed)
	return typed != "" && (strings.EqualFold(typed, l.Printed) || strings.EqualFold(typed, l.Name()))
}

// Called is its number with what else is known of it: "L-17 (lot Q7714)".
func (l Lot) Called() string {
	words := l.Words()
	if name := l.Name(); name != "" && !strings.HasPrefix(words, name) {
		return name + " (" + words + ")"
	}
	return words
}

// unrecorded is the lot of a heap that an older shop had: with what was printed on it, or
// without.
func unrecorded(item, key string) Lot { return Lot{Item: item, Printed: key} }

// lotOf is the lot that the key of a heap names; one of an older shop where it has no number.
func lotOf(l ledger, item, key string) (Lot, error) {
	number, numbered := lotNamed(key)
	if !numbered {
		return unrecorded(item, key), nil
	}
	lot, found, err := lookup[Lot](l, tableLots, numberKey(number))
	if err == nil && (!found || lot.Undone || lot.Item != item) {
		err = fail(NotFound, key, "There is no lot %s of %s in this shop: see its lots.", key, item)
	}
	return lot, err
}

// Lot is the lot of an item that the key of a heap or of fitted parts names. For keys that
// were made before lots were recorded it says what is known: what was printed, or nothing.
func (r *Reader) Lot(item, key string) (Lot, error) {
	var lot Lot
	err := r.view(func(tx *disk.Tx) error {
		var err error
		lot, err = lotOf(fileLedger{tx}, item, key)
		return err
	})
	return lot, err
}

// LotNumbered is the lot of a number.
func (r *Reader) LotNumbered(number uint64) (Lot, error) {
	lot, err := one[Lot](r, tableLots, numberKey(number), "lot", LotName(number))
	if err == nil && lot.Undone {
		err = fail(NotFound, LotName(number), "Lot %s was undone: redo it, or look for another one.", LotName(number))
	}
	return lot, err
}

// Lots are all recorded lots of an item, or of every item for "", by number.
func (r *Reader) Lots(item string) ([]Lot, error) {
	var list []Lot
	err := r.view(func(tx *disk.Tx) error {
		if item == "" {
			return scanAll(tx, tableLots, "", func(_ string, l Lot) error {
				if !l.Undone {
					list = append(list, l)
				}
				return nil
			})
		}
		var err error
		list, err = lotsOf(tx, item)
		return err
	})
	return list, err
}

func lotsOf(tx *disk.Tx, item string) ([]Lot, error) {
	index, err := tx.Bucket(indexLotsByItem)
	if err != nil {
		return nil, err
	}
	var list []Lot
	prefix := item + keySeparator
	err = index.Scan([]byte(prefix), func(key, _ []byte) error {
		lot, found, err := lookup[Lot](fileLedger{tx}, tableLots, strings.TrimPrefix(string(key), prefix))
		if err == nil && !found {
			err = fmt.Errorf("the index of lots names %q, which is not there", key)
		}
		if err == nil && !lot.Undone {
			list = append(list, lot)
		}
		return err
	})
	return list, err
}

// newLot makes a lot.
func (w *writer) newLot(l Lot) (Lot, error) {
	var err error
	if l.Number, err = w.nextNumber(tableLots); err != nil {
		return l, err
	}
	return l, w.put(tableLots, l.key(), l)
}

// meant is the key of the heap that a key from outside means. Its lot may be named as it
// is printed, or left out, where only one heap in the place answers to that. What is
// printed names the lot of the item that has it, too, where none of it lies in the place.
func (w *writer) meant(k StockKey) (StockKey, error) { return meant(w.ledger.tx, k) }

func meant(tx *disk.Tx, k StockKey) (StockKey, error) {
	if number, ok := LotNumber(k.Lot); ok {
		k.Lot = LotName(number)
		_, err := lotOf(fileLedger{tx}, k.Item, k.Lot)
		return k, err
	}
	names, exact, err := lotsIn(tx, k)
	if err != nil || exact {
		return k, err
	}
	if len(names) == 0 && k.Lot != "" {
		names, err = lotsPrinted(tx, k.Item, k.Lot)
	}
	switch {
	case err != nil || len(names) == 0:
		return k, err
	case len(names) == 1:
		k.Lot = names[0]
		return k, nil
	}
	return k, severalLots(tx, k.Item, names)
}

// Heap is the heap that a key means: its lot may be named as it is printed, or left out,
// where only one heap in the place answers to that. It is nothing, of no unit, under the
// key as it was given where the place has none.
func (r *Reader) Heap(k StockKey) (Holding, error) {
	var h Holding
	err := r.view(func(tx *disk.Tx) error {
		var err error
		if h.StockKey, err = meant(tx, k); err != nil {
			return err
		}
		h.Amount, _, err = lookup[Amount](fileLedger{tx}, tableStock, h.key())
		return err
	})
	return h, err
}

// severalLots says which lots answer to what somebody meant.
func severalLots(tx *disk.Tx, item string, names []string) error {
	called := make([]string, 0, len(names))
	for _, name := range names {
		lot, err := lotOf(fileLedger{tx}, item, name)
		if err != nil {
			return err
		}
		called = append(called, lot.Called())
	}
	return fail(Invalid, item, "That may be any of %d lots of %s, %s: say which.", len(names), item, phrase.List(called))
}

// lotsPrinted are the names of the recorded lots of an item on which a number is printed.
func lotsPrinted(tx *disk.Tx, item, printed string) (names []string, err error) {
	lots, err := lotsOf(tx, item)
	for _, l := range lots {
		if strings.EqualFold(l.Printed, printed) {
			names = append(names, l.Name())
		}
	}
	return names, err
}

// lotsIn are the names of the recorded lots of an item of which a place has a heap that
// answers to a key: in its condition, and with its lot printed on it, if it says one. Where there is no
// such heap, they are those that were counted there to be none. Exact says that the key is
// that of a heap as it is.
func lotsIn(tx *disk.Tx, k StockKey) (names []string, exact bool, err error) {
	prefix, whole := []byte(k.Item+keySeparator+k.Place+keySeparator), k.key()
	for _, table := range []string{tableStock, tableCounted} {
		b, err := tx.Bucket(table)
		if err != nil {
			return nil, false, err
		}
		err = b.Scan(prefix, func(key, _ []byte) error {
			if table == tableStock && string(key) == whole {
				exact = true
				return disk.ErrStop
			}
			have, err := parseStockKey(string(key))
			if _, numbered := lotNamed(have.Lot); err != nil || !numbered || have.Condition != k.Condition {
				return err
			}
			if k.Lot != "" { // which is what is printed: only then the lot itself is asked
				lot, err := lotOf(fileLedger{tx}, k.Item, have.Lot)
				if err != nil || !strings.EqualFold(k.Lot, lot.Printed) {
					return err
				}
			}
			names = append(names, have.Lot)
			return nil
		})
		if err != nil || exact || len(names) > 0 {
			return names, exact, err
		}
	}
	return nil, false, nil
}
