package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
)

// Draft is a new shop file that is made of entries from outside, which nothing is known
// of: each is admitted, then done again, and then the pictures are put beside them.
type Draft struct {
	shop *Shop
	kept keptBlobs
}

// NewFile makes a shop file at path, where nothing is yet, of what fill puts into it. The file
// is synced once, at the end: it counts only when it gets the name that it is to have.
func NewFile(ctx context.Context, path string, fill func(d *Draft) error) error {
	s, err := openShop(path, Options{}, disk.Options{Create: true})
	if err != nil {
		return err
	}
	s.file.SetUnsynced(true)
	if err = fill(&Draft{shop: s, kept: keptBlobs{}}); err == nil {
		err = s.file.Sync()
	}
	if err := errors.Join(err, s.Close()); err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		return asError(err)
	}
	return nil
}

// Shop is the shop as far as it is made, for reading.
func (d *Draft) Shop() *Shop { return d.shop }

// Admit says what is wrong with an entry that comes from outside: the table and key of each
// change must be such as verbs make, its record must be one, and no photograph changes its picture.
func (d *Draft) Admit(e Entry) error {
	for _, c := range e.Changes {
		if err := errors.Join(validChange(c), d.kept.note(c)); err != nil {
			return err
		}
	}
	return nil
}

// Replay does entries again that were admitted, which must follow the journal.
func (d *Draft) Replay(ctx context.Context, records []disk.Record) error {
	return d.shop.file.Replay(records, ctx.Err)
}

// TakePictures asks for the picture of every photograph and the file of every paper that the
// entries made, and fails with a WrongPictureError where it is given another; no bytes are one
// that was lost.
func (d *Draft) TakePictures(ctx context.Context, from func(Kept) ([]byte, error)) error {
	return d.shop.takePictures(ctx, d.kept, from)
}

// WrongPictureError is what is wrong with a picture from outside, as Photo.Proves says it.
type WrongPictureError struct{ Err error }

func (e *WrongPictureError) Error() string { return e.Err.Error() }

// Unwrap is what Photo.Proves said.
func (e *WrongPictureError) Unwrap() error { return e.Err }

// takePictures puts the pictures of photographs and the files of papers beside their records,
// each proven to be the one that was brought in. Where one cannot be had, from says so by no bytes.
func (s *Shop) takePictures(ctx context.Context, all keptBlobs, from func(Kept) ([]byte, error)) error {
	for _, number := range slices.Sorted(maps.Keys(all)) {
		if err := ctx.Err(); err != nil {
			return err
		}
		p := all[number]
		picture, err := from(p)
		if err != nil {
			return err
		}
		if err := p.Proves(picture); err != nil {
			return &WrongPictureError{err}
		}
		if err := s.update(func(tx *disk.Tx) error { return tx.PutBlob(number, picture) }); err != nil {
			return err
		}
	}
	return nil
}

// validChange says what is wrong with a change that comes from outside: its table
// and key must be such as verbs make, and its record must be one.
func validChange(c Change) error {
	t, err := tableOf(c.Table)
	if err != nil {
		return err
	}
	added := c.Delta != nil
	if added != (t.by == adding) || added && (c.Before != nil || c.After != nil) {
		return fmt.Errorf("%s cannot be changed so", c.Table)
	}
	bodies := []json.RawMessage{c.Before, c.After}
	if added {
		bodies = []json.RawMessage{{}}
	}
	for _, body := range bodies {
		if body == nil {
			continue
		}
		if err := t.valid(c.Key, body); err != nil {
			return fmt.Errorf("%s: %w", c.Table, err)
		}
	}
	return nil
}
