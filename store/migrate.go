package store

import (
	"context"
	"errors"
	"fmt"

	"stowright/store/disk"
)

// formatVersion is the version of the file's layout that this program writes. A
// file of a newer program is refused, one of an older program is brought up to it.
const formatVersion = 4

// migration is one step from a layout of the file to the next.
type migration struct {
	to   int
	name string
	do   func(tx *disk.Tx) error
}

// migrations are all steps, in order. A step is never changed once it has shipped.
func migrations() []migration {
	return []migration{
		{2, "a table of what was fitted", func(tx *disk.Tx) error {
			return tx.CreateBucket(tableFitted)
		}},
		{3, "photographs", func(tx *disk.Tx) error {
			return errors.Join(tx.CreateBucket(tablePhotos), tx.CreateBucket(blobPictures))
		}},
		// An older program would not look for entries beside the file.
		{4, "the newest entries beside the file", func(*disk.Tx) error { return nil }},
	}
}

// firstFormat is the layout that a table appeared in; all others were in the first.
func firstFormat(table string) int {
	switch table {
	case tableFitted:
		return 2
	case tablePhotos:
		return 3
	}
	return 1
}

// migrate brings a file of an older layout up to this program's, each step in one
// transaction.
func (s *Shop) migrate() error {
	for _, m := range migrations() {
		if m.to <= s.file.Format() {
			continue
		}
		err := s.update(func(tx *disk.Tx) error {
			if err := m.do(tx); err != nil {
				return err
			}
			return tx.SetFormat(m.to)
		})
		if err != nil {
			return &Error{Kind: Internal, Where: s.File(), Message: fmt.Sprintf("%s could not be brought up to date (%s), and is as it was: see that the disk has room.", s.File(), m.name), Err: err}
		}
	}
	return nil
}

// UpdateDue reports whether opening a file brings it up to this program's layout first,
// which copies it and takes its time where it is large. It is false for a file that
// cannot be read: opening says why.
func UpdateDue(path string) bool {
	format, ok := disk.FormatOf(path)
	return ok && format < formatVersion
}

// upgrade makes a safe copy of a file of an older layout and migrates it.
func (s *Shop) upgrade(p Progress) error {
	if s.file.Format() == formatVersion {
		return nil
	}
	if p == nil {
		p = func(string, float64) {}
	}
	if _, err := s.quickBackup(WithProgress(context.Background(), p), s.backups, BeforeUpgrade); err != nil {
		return err
	}
	return s.migrate()
}
