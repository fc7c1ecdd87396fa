package store

import (
	"fmt"
	"strings"

	"stowright/store/disk"
)

// The tables of lots.
const (
	tableLots = "lots"
	tableGone = "gone"

	indexLotsByItem = "lots_by_item" // item, number of the lot -> nothing
)

var lotTable = table{
	name: tableLots, one: "lot", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Lot]("lot")},
	valid: filed(Lot.key),
	refers: naming(func(_ string, l Lot) []reference {
		if l.Undone {
			return nil // it outlives what it came of
		}
		refs := []reference{{tableItems, l.Item}}
		if l.Receipt != nil && l.Receipt.Shipment != "" {
			refs = append(refs, reference{tableLines, lineKey(l.Receipt.Shipment, l.Receipt.Line)})
		}
		for _, p := range l.Parents {
			refs = append(refs, lotReference(p.Lot)...)
		}
		for _, p := range l.Facts.Papers {
			number, _ := PaperNumber(p)
			refs = append(refs, reference{tablePapers, numberKey(number)})
		}
		return refs
	}),
	indexes: []index{{name: indexLotsByItem, since: 6, key: func(key string, body []byte) (string, error) {
		l, err := decode[Lot](body)
		return l.Item + keySeparator + key, err
	}}},
	touches: func(c Change) (touched, error) {
		body := c.After
		if body == nil {
			body = c.Before
		}
		l, err := decode[Lot](body)
		return touched{item: l.Item, building: Concern{StockPart, l.Item}}, err
	},
	differs: others,
	unmade:  marked(func(l *Lot) { l.Undone = true }),
	sheet:   ownSheet("lots.csv", (*Reader).lotRows),
}

// How what is no longer in the shop nor in an aircraft went.
const (
	goneScrapped = "scrapped"
	goneBack     = "sent back"
)

var goneTable = table{
	name: tableGone, one: "lot that went", since: 6, keys: named, by: adding,
	forms: []form{formOf[Amount]("amount")},
	valid: func(key string, _ []byte) error {
		_, err := parseGoneKey(key)
		return err
	},
	refers: func(key string, _ []byte) ([]reference, error) {
		g, err := parseGoneKey(key)
		return append([]reference{{tableItems, g.Item}}, lotReference(g.Lot)...), err
	},
	indexes: []index{},
	touches: func(c Change) (touched, error) {
		g, err := parseGoneKey(c.Key)
		return touched{item: g.Item, building: Concern{Part: WastePart}}, err
	},
	differs: uncounted, // the stock that it was is listed
	unmade:  gone,
	sheet:   sheetOf("lots.csv"),
}

// lotReference is the record of a lot that a key names; none, where it was made before
// lots were recorded.
func lotReference(name string) []reference {
	number, ok := lotNamed(name)
	if !ok {
		return nil
	}
	return []reference{{tableLots, numberKey(number)}}
}

// Gone is how much of a lot went out of the shop for good, and how.
type Gone struct {
	Item, Lot string
	How       string // "scrapped", "sent back"
	Amount    Amount
}

func goneKey(item, lot, how string) string {
	return strings.Join([]string{item, lot, how}, keySeparator)
}

// parseGoneKey is what a key names, without how much.
func parseGoneKey(s string) (Gone, error) {
	p := strings.Split(s, keySeparator)
	if len(p) != 3 || p[2] != goneScrapped && p[2] != goneBack {
		return Gone{}, fmt.Errorf("%q is no key of what went", s)
	}
	return Gone{Item: p[0], Lot: p[1], How: p[2]}, nil
}

// gone records how stock that was taken went.
func (w *writer) gone(k StockKey, how string, went Amount) error {
	return w.change(Change{Table: tableGone, Key: goneKey(k.Item, k.Lot, how), Delta: &went})
}

// Gone is what went of an item for good, by lot and way; of every item for "".
func (r *Reader) Gone(item string) ([]Gone, error) {
	prefix := ""
	if item != "" {
		prefix = item + keySeparator
	}
	var list []Gone
	err := r.view(func(tx *disk.Tx) error {
		return scan(tx, tableGone, prefix, func(key string, a Amount) error {
			g, err := parseGoneKey(key)
			g.Amount = a
			list = append(list, g)
			return err
		})
	})
	return list, err
}
