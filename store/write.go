package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math/bits"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/oklog/ulid/v2"

	"stowright/store/disk"
	"stowright/store/measure"
)

// writer is one verb at work: it makes changes in a transaction and keeps them
// for the entry.
type writer struct {
	ledger  fileLedger
	shop    *Shop
	at      time.Time // of the entry
	hand    string    // of the entry
	changes []Change
	undoes  uint64
	reason  string // of the entry
}

// now is the time of the entry, which is all that a verb knows of the time.
func (w *writer) now() time.Time { return w.at }

// commit does one verb as one synced transaction and one entry. Where do fails,
// nothing has happened.
func (s *Shop) commit(verb Verb, do func(w *writer) (text string, err error)) (Entry, error) {
	e := Entry{Verb: verb}
	err := s.update(func(tx *disk.Tx) error {
		e.At, e.Hand = s.clock().Round(0), s.handIn(tx)
		w := &writer{ledger: fileLedger{tx}, shop: s, at: e.At, hand: e.Hand}
		text, err := do(w)
		if err == nil {
			err = w.lockStock()
		}
		if err != nil {
			return err
		}
		e.Text, e.Reason, e.Changes, e.Undoes = text, w.reason, w.changes, w.undoes
		err = tx.Append(func(after disk.Head) ([]byte, error) {
			e.Seq, e.Prev, e.PrevSHA256 = after.Seq+1, after.Sum, after.Hash
			return encode(e)
		})
		if err != nil {
			return err
		}
		return markUndone(tx, e)
	})
	if err != nil {
		return Entry{}, asError(err)
	}
	s.notify(e)
	return e, nil
}

// asError gives an error from inside a transaction its kind and its sentence.
func asError(err error) error {
	var e *Error
	if errors.As(err, &e) {
		return err
	}
	switch {
	case errors.Is(err, errBelowZero):
		return &Error{Kind: Conflict, Message: "There is not that much there: count it, or take less.", Err: err}
	case errors.Is(err, measure.ErrUnits):
		return &Error{Kind: Conflict, Message: "That is kept by another unit here, and nothing is converted: give it in the unit of the item.", Err: err}
	case errors.Is(err, measure.ErrOverflow):
		return &Error{Kind: Invalid, Message: "That is more than can be kept: correct the figure.", Err: err}
	case errors.Is(err, errStale):
		return &Error{Kind: Conflict, Message: "Something later depends on it: undo the later entries first.", Err: err}
	}
	return &Error{Kind: Internal, Message: "The shop file could not be written: see that the disk has room, then try again.", Err: err}
}

// change applies a change and keeps it for the entry.
func (w *writer) change(c Change) error {
	if err := apply(w.ledger, c); err != nil {
		return err
	}
	w.changes = append(w.changes, c)
	return nil
}

// put writes a record in place of what stands; a record that stays the same is no change.
func (w *writer) put(table, key string, record any) error {
	before, err := w.ledger.get(table, key)
	if err != nil {
		return err
	}
	after, err := encode(record)
	if err != nil {
		return err
	}
	if string(before) == string(after) {
		return nil
	}
	return w.change(Change{Table: table, Key: key, Before: before, After: after})
}

// stock adds delta to a heap; nothing is no change.
func (w *writer) stock(k StockKey, delta Amount) error {
	if delta.IsZero() {
		return nil
	}
	return w.change(Change{Table: tableStock, Key: k.key(), Delta: &delta})
}

// amount is how much lies in a heap: nothing when there is none.
func (w *writer) amount(k StockKey) (Amount, error) {
	a, _, err := lookup[Amount](w.ledger, tableStock, k.key())
	return a, err
}

// newID draws an id that sorts after all that there are, whatever the clock says:
// places and shipments are listed in the order in which they were made.
func (w *writer) newID() (string, error) {
	id, err := ulid.New(ulid.Timestamp(w.at), w.shop.random)
	if err != nil {
		return "", fmt.Errorf("drawing an id: %w", err)
	}
	var last ulid.ULID
	for _, t := range tables {
		if t.keys != drawn {
			continue
		}
		b, err := w.ledger.tx.Bucket(t.name)
		if err != nil {
			return "", err
		}
		key, err := b.Last()
		if err != nil {
			return "", err
		}
		if known, err := ulid.ParseStrict(string(key)); err == nil && known.Compare(last) > 0 {
			last = known
		}
	}
	if id.Compare(last) <= 0 {
		// At random, since the next one in order may have been given and undone.
		step := 1 + uint64(binary.BigEndian.Uint32(id[12:]))
		low, carry := bits.Add64(binary.BigEndian.Uint64(last[8:]), step, 0)
		binary.BigEndian.PutUint64(id[8:], low)
		binary.BigEndian.PutUint64(id[:8], binary.BigEndian.Uint64(last[:8])+carry)
	}
	return id.String(), nil
}

// newPlace makes a place with an id and a tag of its own.
func (w *writer) newPlace(p Place) (Place, error) {
	var err error
	if p.Name, err = cleanName("The name of the place", p.Name); err != nil {
		return Place{}, err
	}
	if p.ID, err = w.newID(); err != nil {
		return Place{}, err
	}
	if p.Tag, err = w.newTag(tagKindOf(p.Kind)); err != nil {
		return Place{}, err
	}
	if err := w.put(tablePlaces, p.ID, p); err != nil {
		return Place{}, err
	}
	return p, w.put(tableTags, string(p.Tag), tagRecord{Place: p.ID})
}

func tagKindOf(k PlaceKind) TagKind {
	switch k {
	case Crate:
		return TagCrate
	case Bag:
		return TagBag
	case SubAssemblyKind:
		return TagSubAssembly
	}
	return TagPlace
}

// newTag draws a tag that this shop has never issued.
func (w *writer) newTag(kind TagKind) (Tag, error) {
	for {
		t, err := NewTag(w.shop.random, kind)
		if err != nil {
			return "", err
		}
		taken, err := w.ledger.get(tableTags, string(t))
		if err != nil {
			return "", err
		}
		if taken == nil {
			return t, nil
		}
	}
}

// ensureItem makes the item when the shop does not know it yet.
func (w *writer) ensureItem(item Item) error {
	if item.Unit == "" {
		return fail(Invalid, item.Designation, "%s has no unit: say whether it is counted in ea, ft, lb or the like.", item.Designation)
	}
	known, found, err := lookup[Item](w.ledger, tableItems, item.Designation)
	if err != nil {
		return err
	}
	if !found {
		return w.put(tableItems, item.Designation, item)
	}
	if known.Unit != item.Unit {
		return fail(Conflict, item.Designation, "%s is kept by %s here, and this says %s: nothing is converted, so give it in %s.", item.Designation, known.Unit, item.Unit, known.Unit)
	}
	return nil
}

// MaxName is the longest name, designation or note in characters.
const MaxName = 200

// cleanName trims a name from outside and refuses one that is empty, too long or
// holds control characters, which the keys of the file rely on.
func cleanName(what, s string) (string, error) { return clean(what, s, MaxName) }

func clean(what, s string, longest int) (string, error) {
	s = strings.Join(strings.Fields(s), " ")
	switch {
	case s == "":
		return "", fail(Invalid, what, "%s is empty: type it.", what)
	case utf8.RuneCountInString(s) > longest:
		return "", fail(Invalid, what, "%s is longer than %d characters: shorten it.", what, longest)
	case !utf8.ValidString(s):
		return "", fail(Invalid, what, "%s contains bytes that are not text: type it again.", what)
	case strings.ContainsFunc(s, unicode.IsControl):
		return "", fail(Invalid, what, "%s contains a control character: type it again.", what)
	}
	return s, nil
}

// maxText is the longest description in characters.
const maxText = 1000

// cleanLong is cleanName for a description, which may be empty.
func cleanLong(what, s string) (string, error) {
	if strings.TrimSpace(s) == "" {
		return "", nil
	}
	return clean(what, s, maxText)
}

func cleanOptional(what, s string) (string, error) {
	if strings.TrimSpace(s) == "" {
		return "", nil
	}
	return cleanName(what, s)
}
