package store

import (
	"fmt"
	"slices"
)

// PutItem makes an item, or changes what is known of it. Its unit cannot change
// while there is stock of it.
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
		if found && known.Unit != item.Unit {
			return "", fail(Conflict, item.Designation, "%s is kept by %s here: its unit cannot change.", item.Designation, known.Unit)
		}
		return item.Designation + " described", w.put(tableItems, item.Designation, item)
	})
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
		return fmt.Sprintf("%s is now %s, by %s", q.Old, q.New, q.Source), w.put(tableEquivalents, q.Old+keySeparator+q.New, q)
	})
}

// PutSubAssembly makes a sub-assembly, with a place for what is pulled for it, or
// changes its name and requirements. Its Place is the shop's to give.
func (s *Shop) PutSubAssembly(sub SubAssembly) (Entry, error) {
	return s.commit(VerbRecord, func(w *writer) (string, error) {
		var err error
		if sub.Code, err = cleanName("The code of the sub-assembly", sub.Code); err != nil {
			return "", err
		}
		known, found, err := lookup[SubAssembly](w.ledger, tableSubAssemblies, sub.Code)
		if err != nil {
			return "", err
		}
		sub.Place = known.Place
		if !found {
			place, err := w.newPlace(Place{Kind: SubAssemblyKind, Name: sub.Code})
			if err != nil {
				return "", err
			}
			sub.Place = place.ID
		}
		for _, r := range sub.Requirements {
			if r.Needed.Sign() <= 0 {
				return "", fail(Invalid, r.Item, "%s needs more than nothing of %s: correct the list.", sub.Code, r.Item)
			}
		}
		return fmt.Sprintf("%s %s: %d needs", sub.Code, sub.Name, len(sub.Requirements)), w.put(tableSubAssemblies, sub.Code, sub)
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
