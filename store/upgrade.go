package store

import (
	"fmt"

	"stowright/store/disk"
	"stowright/store/phrase"
)

// Records that an older program made and this one keeps otherwise are brought up to date
// by one entry, so that the journal replayed still gives the shop. That entry is made
// when a shop is opened that has such records, however they came into it: from an older
// file, from an export of one, or from a copy. It cannot be undone.

// upgradeDue reports whether records of an older program are left.
func upgradeDue(tx *disk.Tx) (due bool, err error) {
	err = scan(tx, tableSubAssemblies, "", func(_ string, s SubAssembly) error {
		due = due || s.Order == 0
		return nil
	})
	return due, err
}

// upgradeRecords makes the entry that brings older records up to date, where there are any.
func (s *Shop) upgradeRecords() error {
	var due bool
	err := s.view(func(tx *disk.Tx) (err error) {
		due, err = upgradeDue(tx)
		return err
	})
	if err != nil || !due {
		return err
	}
	_, err = s.commit(VerbUpgrade, func(w *writer) (string, error) {
		moved, err := w.moveRequirements()
		return "records of an older version brought up to date: " + phrase.Count(moved, "need", "needs"), err
	})
	return err
}

// moveRequirements takes what sub-assemblies listed in their own records into the table of
// requirements, and gives each its place in the builder's order, that of the codes.
func (w *writer) moveRequirements() (moved int, err error) {
	subs, err := inBuildersOrder(w.ledger.tx)
	if err != nil {
		return 0, err
	}
	last, err := w.lastInOrder()
	if err != nil {
		return 0, err
	}
	for _, sub := range subs {
		if sub.Order != 0 {
			continue
		}
		last++
		old := sub.Old
		sub.Old, sub.Order = nil, last
		if err := w.put(tableSubAssemblies, sub.Code, sub); err != nil {
			return 0, err
		}
		for _, o := range old {
			if err := w.moveRequirement(sub.Code, o); err != nil {
				return 0, err
			}
			moved++
		}
	}
	return moved, nil
}

// moveRequirement makes a requirement of an old one, whose callout was the number that the
// plans use, or words on where they name it.
func (w *writer) moveRequirement(code string, o OldRequirement) error {
	r := Requirement{SubAssembly: code, Called: o.Item, Item: o.Item, Needed: o.Needed}
	if o.Callout != o.Item {
		q, found, err := lookup[Equivalent](w.ledger, tableEquivalents, Equivalent{Old: o.Callout, New: o.Item}.key())
		switch {
		case err != nil:
			return err
		case found:
			r.Called, r.Via = o.Callout, []Equivalent{q}
		default:
			r.Callout.Text = o.Callout
		}
	}
	var err error
	if r.Number, err = w.nextNumber(tableRequirements); err != nil {
		return fmt.Errorf("moving what %s needs: %w", code, err)
	}
	return w.put(tableRequirements, r.key(), r)
}
