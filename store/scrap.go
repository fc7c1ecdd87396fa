package store

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"stowright/store/disk"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// ScrapReason says why something left the shop for good.
type ScrapReason string

// The reasons. UsedOnce is that of what came out of an aircraft and is not used again.
const (
	Lost     ScrapReason = "lost"
	Spoiled  ScrapReason = "spoiled"
	Expired  ScrapReason = "expired"
	Practice ScrapReason = "practice"
	Recalled ScrapReason = "recalled"
	UsedOnce ScrapReason = "used once"
	Other    ScrapReason = "other"
)

// Scrapped is an event: so much of an item left the shop for good. What was lost out of
// the tray of a sub-assembly is looked for there until it is found.
type Scrapped struct {
	Number      uint64           `json:"number"`
	Item        string           `json:"item"`
	Lot         string           `json:"lot,omitempty"`
	Amount      Amount           `json:"amount"`
	Place       string           `json:"place"` // id of where it was last
	Reason      ScrapReason      `json:"reason"`
	Words       string           `json:"words,omitempty"`
	SubAssembly string           `json:"sub_assembly,omitempty"` // whose work it was for; empty for none
	At          time.Time        `json:"at"`
	Hand        string           `json:"hand"`
	Found       measure.Quantity `json:"found,omitzero"` // how many of what was lost came up again
	Undone      bool             `json:"undone,omitempty"`
}

// Name is what people call it: X-5.
func (s Scrapped) Name() string { return numberName("X", s.Number) }

func (s Scrapped) key() string { return numberKey(s.Number) }

// Missing is how many are looked for.
func (s Scrapped) Missing() measure.Quantity {
	if s.Reason != Lost || s.SubAssembly == "" || s.Undone {
		return measure.Quantity{}
	}
	return measure.Quantity{Micro: s.Amount.Micro - s.Found.Micro, Unit: s.Amount.Unit}
}

var scrappedTable = table{
	name: tableScrapped, one: "scrapped part", since: 6, keys: named, by: replacing,
	forms: []form{formOf[Scrapped]("scrapped")},
	valid: filed(Scrapped.key),
	refers: naming(func(_ string, s Scrapped) []reference {
		if s.Undone {
			return nil
		}
		refs := append([]reference{{tableItems, s.Item}, {tablePlaces, s.Place}}, lotReference(s.Lot)...)
		if s.SubAssembly != "" {
			refs = append(refs, reference{tableSubAssemblies, s.SubAssembly})
		}
		return refs
	}),
	indexes: []index{},
	touches: touchingNothing, // the stock is
	differs: others,
	unmade:  marked(func(s *Scrapped) { s.Undone = true }),
	sheet:   ownSheet("scrapped.csv", (*Reader).scrappedRows),
}

// scrapReason reads a reason as a person gives it: one of the words, or the word and more
// about it ("spoiled: drilled out"), or anything else.
func scrapReason(text string) (ScrapReason, string) {
	word, words := text, ""
	if i := strings.IndexAny(text, ":,;"); i >= 0 {
		word, words = text[:i], strings.TrimSpace(text[i+1:])
	}
	reason := ScrapReason(strings.ToLower(strings.TrimSpace(word)))
	switch reason {
	case Lost, Spoiled, Expired, Practice, Recalled:
		return reason, words
	}
	return Other, text
}

// Scrap takes stock out of the shop for good, for a reason that is kept; To of the
// transfer does not count. A reason that begins with lost, spoiled, expired, practice or
// recalled is counted as such. What is lost out of a tray is looked for: see Found.
func (s *Shop) Scrap(t Transfer, reason string) (Entry, error) {
	return s.commit(VerbScrap, func(w *writer) (string, error) {
		reason, err := cleanName("The reason", reason)
		if err != nil {
			return "", err
		}
		heap, went, err := w.take(t)
		if err != nil {
			return "", err
		}
		from, _, err := lookup[Place](w.ledger, tablePlaces, t.Place)
		if err != nil {
			return "", err
		}
		gone := Scrapped{Item: t.Item, Lot: heap.Lot, Amount: went, Place: t.Place}
		gone.Reason, gone.Words = scrapReason(reason)
		if from.Kind == SubAssemblyKind {
			gone.SubAssembly = from.Name
		}
		w.reason = reason
		return fmt.Sprintf("%s: %s%s%s", t.Item, went, scrappedFor, reason), w.scrapped(gone)
	})
}

// scrapped keeps what left the shop.
func (w *writer) scrapped(s Scrapped) (err error) {
	if s.Number, err = w.nextNumber(tableScrapped); err != nil {
		return err
	}
	s.At, s.Hand = w.at, w.hand
	if err := w.put(tableScrapped, s.key(), s); err != nil {
		return err
	}
	return w.gone(StockKey{Item: s.Item, Lot: s.Lot}, goneScrapped, s.Amount)
}

// Found puts back what was lost, named by the number under which it is looked for;
// quantity zero is all of it. Meeting is for where another lot of the item lies there.
func (s *Shop) Found(name string, quantity measure.Quantity, place string, meeting Meeting) (Entry, error) {
	return s.commit(VerbFound, func(w *writer) (string, error) {
		n, _ := numbered("X", name)
		lost, found, err := lookup[Scrapped](w.ledger, tableScrapped, numberKey(n))
		if err != nil {
			return "", err
		}
		missing := lost.Missing()
		if !found || missing.IsZero() {
			return "", fail(NotFound, name, "Nothing is looked for under %s: see what is.", name)
		}
		if quantity.IsZero() {
			quantity = missing
		}
		if c, err := quantity.Cmp(missing); err != nil || c > 0 || quantity.Sign() < 0 {
			return "", fail(Conflict, lost.Item, "%s of %s is looked for, and %s cannot be found: correct the figure.", missing, lost.Item, quantity)
		}
		to, err := w.usablePlace(place)
		if err != nil {
			return "", err
		}
		lost.Found = measure.Quantity{Micro: lost.Found.Micro + quantity.Micro, Unit: missing.Unit}
		if err := w.put(tableScrapped, lost.key(), lost); err != nil {
			return "", err
		}
		heap := StockKey{Item: lost.Item, Lot: lost.Lot, Place: to.ID}
		if err := w.gone(heap, goneScrapped, Exact(quantity).Neg()); err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s found that was lost in %s, to %s", lost.Item, quantity, lost.SubAssembly, to.Name), w.putInto(to, Holding{heap, Exact(quantity)}, meeting)
	})
}

// usedOnce reports whether an item is used once, and who says so.
func (w *writer) usedOnce(item string) (source string, once bool, err error) {
	known, _, err := lookup[Item](w.ledger, tableItems, item)
	if err != nil {
		return "", false, err
	}
	source, once = hardware.SingleUse(item)
	if known.SingleUse {
		source = cmp.Or(source, "marked so in this shop")
	}
	return source, once || known.SingleUse, nil
}

// Scrapped is all that left the shop for good since format 6, the oldest first.
func (r *Reader) Scrapped() ([]Scrapped, error) {
	list, err := all[Scrapped](r, tableScrapped, "")
	return slices.DeleteFunc(list, func(s Scrapped) bool { return s.Undone }), err
}

// LookedFor is what was lost and not found yet out of the tray of a sub-assembly, or of
// all of them for "".
func (r *Reader) LookedFor(code string) ([]Scrapped, error) {
	list, err := r.Scrapped()
	return slices.DeleteFunc(list, func(s Scrapped) bool { return s.Missing().IsZero() || code != "" && s.SubAssembly != code }), err
}

func (r *Reader) scrappedRows() ([][]string, error) {
	list, err := r.Scrapped()
	rows := [][]string{{"number", "when", "who", "part number", "lot", "quantity", "unit", "reason", "words", "sub-assembly", "found again"}}
	for _, s := range list {
		found := ""
		if !s.Found.IsZero() {
			found = s.Found.Plain()
		}
		rows = append(rows, []string{s.Name(), s.At.Format(time.RFC3339), s.Hand, s.Item, s.Lot, s.Amount.Plain(), string(s.Amount.Unit), string(s.Reason), s.Words, s.SubAssembly, found})
	}
	return rows, err
}

// numberedOf are the records with numbers that an index lists under a name, or all of the
// table for "".
func numberedOf[T any](tx *disk.Tx, table, index, name string) ([]T, error) {
	var list []T
	if name == "" {
		err := scanAll(tx, table, "", func(_ string, v T) error {
			list = append(list, v)
			return nil
		})
		return list, err
	}
	b, err := tx.Bucket(index)
	if err != nil {
		return nil, err
	}
	prefix := []byte(name + keySeparator)
	err = b.Scan(prefix, func(k, _ []byte) error {
		v, _, err := lookup[T](fileLedger{tx}, table, string(k[len(prefix):]))
		list = append(list, v)
		return err
	})
	return list, err
}
