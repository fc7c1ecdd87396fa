package disk

import (
	"errors"

	"stowright/store/fault"
)

// ProveAll reads everything that the file holds and proves it by its seals. GoOn is
// called with every record and ends it by an error.
func (t *Tx) ProveAll(goOn func() error) error {
	for _, name := range t.file.options.Layout.names(t.format) {
		if name == bucketMeta {
			continue
		}
		b, err := t.open(name)
		if err != nil {
			return err
		}
		err = b.plain.ScanUnmapped(nil, func(_, _ []byte) error { return goOn() })
		if fault.KindOf(err) == fault.Corrupt {
			return errDamaged(t.file.path, err)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// PageError is what is wrong with a page of the file.
type PageError = pageProblem

// CheckPages goes over the pages of the state that the transaction sees: what is wrong
// with one of them is a PageError. Where a change is made at that very moment, the state
// is no longer the newest one, and nothing is looked at.
func (t *Tx) CheckPages() error {
	own := uint64(t.bolt.ID())
	newest, both, ok := readMetas(t.file.plain)
	if ok && newest.tx > own {
		return nil // its pages may lie beyond what the transaction sees of the file
	}
	if err := judgeMeta(t.file.path, newest, both, ok, t.Size()); err != nil || newest.tx != own {
		return err
	}
	var problem *pageProblem
	err := checkPages(t.file.plain, newest, false)
	if err == nil || errors.As(err, &problem) {
		return err
	}
	return ErrUnreadable(t.file.path, err)
}
