package store

import (
	"fmt"
	"slices"

	"stowright/store/disk"
)

// PutItem makes an item, or changes what is known of it. Its unit cannot change
// while there is stock of it anywhere.
func (s *Shop) PutItem(item Item) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if item.Designation, err = cleanName("A part number", item.Designation); err != nil {
			return "", err
		}
		known, found, err := lookup[Item](w.ledger, tableItems, item.Designation)
		if err != nil {
			return "", err
		}
		if err := checkItem(&item); err != nil {
			return "", err
		}
		inUse, err := w.inUse(item.Designation)
		if err != nil {
			return "", err
		}
		if found && known.Unit != item.Unit && inUse {
			return "", fail(Conflict, item.Designation, "%s is kept by %s here: its unit cannot change while there is stock of it.", item.Designation, known.Unit)
		}
		text := item.Designation + " described"
		switch {
		case item.SingleUse && !known.SingleUse:
			text += ": used once"
		case known.SingleUse && !item.SingleUse:
			text += ": marked as used once no more"
		}
		return text, w.put(tableItems, item.Designation, item)
	})
}

func checkItem(item *Item) error {
	if item.Unit == "" {
		return fail(Invalid, item.Designation, "%s has no unit: say whether it is counted in ea, ft, lb or the like.", item.Designation)
	}
	if item.Minimum.Sign() < 0 || !canBeKept(item.Minimum) {
		return fail(Invalid, item.Designation, "That minimum of %s is not possible: give zero or more.", item.Designation)
	}
	if !item.Minimum.IsZero() && item.Minimum.Unit != item.Unit {
		return fail(Invalid, item.Designation, "%s is counted in %s: give its minimum in %s too.", item.Designation, item.Unit, item.Unit)
	}
	err := cleanSample(*item)
	if err != nil {
		return err
	}
	if item.Title, err = cleanLong("The title of "+item.Designation, item.Title); err != nil {
		return err
	}
	item.Note, err = cleanLong("The note on "+item.Designation, item.Note)
	return err
}

// inUse reports whether there is stock of an item, or some of it is fitted.
func (w *writer) inUse(item string) (bool, error) {
	stock, err := w.ledger.tx.Bucket(tableStock)
	if err != nil {
		return false, err
	}
	there := false
	err = stock.Scan([]byte(item+keySeparator), func(_, _ []byte) error {
		there = true
		return disk.ErrStop
	})
	if err != nil || there {
		return there, err
	}
	return w.isFitted(item)
}

// PutEquivalent records that an old number is now supplied as a new one. A source
// is required: nothing is equivalent by hearsay.
func (s *Shop) PutEquivalent(q Equivalent) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		for _, field := range []struct {
			what string
			text *string
		}{{"The old number", &q.Old}, {"The new number", &q.New}, {"The source of the new number", &q.Source}} {
			var err error
			if *field.text, err = cleanName(field.what, *field.text); err != nil {
				return "", err
			}
		}
		if q.Old == q.New {
			return "", fail(Invalid, q.Old, "%s is the old and the new number: give two different ones.", q.Old)
		}
		return fmt.Sprintf("%s is now %s, by %s", q.Old, q.New, q.Source), w.put(tableEquivalents, q.key(), q)
	})
}

// PutSettings records the shop's title and who works in it.
func (s *Shop) PutSettings(settings Settings) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if settings.Title, err = cleanOptional("The title of the shop", settings.Title); err != nil {
			return "", err
		}
		hands := make([]string, 0, len(settings.Hands))
		for _, h := range settings.Hands {
			if h, err = cleanName("A name", h); err != nil {
				return "", err
			}
			if !slices.Contains(hands, h) {
				hands = append(hands, h)
			}
		}
		settings.Hands = hands
		return "the shop's settings", w.put(tableSettings, settingsKey, settings)
	})
}
