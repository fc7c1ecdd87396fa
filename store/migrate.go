package store

import (
	"fmt"

	"stowright/store/disk"
)

// formatVersion is the version of the file's layout that this program writes. A
// file of a newer program is refused, one of an older program is brought up to it.
const formatVersion = 7

// migration is one step from a layout of the file to the next: the tables and indexes
// that appeared in it are made, indexes of older tables with what is in them, then do does
// the rest.
type migration struct {
	to   int
	name string
	do   func(tx *disk.Tx) error
}

// migrations are all steps, in order. A step is never changed once it has shipped.
func migrations() []migration {
	nothing := func(*disk.Tx) error { return nil }
	return []migration{
		{2, "a table of what was fitted", nothing},
		{3, "photographs", nothing},
		// An older program would not look for entries beside the file.
		{4, "the newest entries beside the file", nothing},
		{5, "keys sealed with their records", (*disk.Tx).SealKeys},
		{6, "lots, requirements and orders", nothing},
		// Entries carry the hash of the one before from here on (disk.ChainHashed).
		{7, "what asks for an item, by the item", nothing},
	}
}

// migrate brings a file of an older layout up to this program's, in one transaction.
func (s *Shop) migrate() error {
	// The hash of an older journal is worked out here, by plain reads, and not at the first change.
	if _, err := s.Head(); err != nil {
		return err
	}
	doing := ""
	err := s.update(func(tx *disk.Tx) error {
		for _, m := range migrations() {
			if m.to <= s.file.Format() {
				continue
			}
			doing = m.name
			for _, b := range layout().Buckets {
				if b.Since != m.to {
					continue
				}
				if err := tx.CreateBucket(b.Name); err != nil {
					return err
				}
			}
			if err := fillIndexes(tx, m.to); err != nil {
				return err
			}
			if err := m.do(tx); err != nil {
				return err
			}
			if err := tx.SetFormat(m.to); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil || KindOf(err) == Corrupt {
		return err
	}
	return &Error{Kind: Internal, Where: s.File(), Message: fmt.Sprintf("%s could not be brought up to date (%s), and is as it was: see that the disk has room.", s.File(), doing), Err: err}
}

// fillIndexes fills the indexes that appeared in a format later than their tables did.
func fillIndexes(tx *disk.Tx, format int) error {
	for _, t := range tables {
		for _, index := range t.indexes {
			if index.since != format || t.since == format {
				continue
			}
			if err := fillIndex(tx, t.name, index); err != nil {
				return err
			}
		}
	}
	return nil
}

func fillIndex(tx *disk.Tx, table string, index index) error {
	records, err := tx.Bucket(table)
	if err != nil {
		return err
	}
	var keys []string // all of them first: nothing is read of a file while it is written
	if err := records.Scan(nil, func(key, body []byte) error {
		at, err := index.key(string(key), body)
		keys = append(keys, at)
		return err
	}); err != nil {
		return err
	}
	b, err := tx.Bucket(index.name)
	if err != nil {
		return err
	}
	for _, key := range keys {
		if err := b.Put([]byte(key), nil); err != nil {
			return err
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

// upgrade migrates a file of an older layout, once a safe copy of it was made.
func (s *Shop) upgrade(makeCopy func(*Shop) error) error {
	if s.file.Format() == formatVersion {
		return nil
	}
	if makeCopy == nil {
		return fail(Invalid, s.File(), "%s was made by an older Stowright, and is changed only once there is a safe copy of it: open it with the program itself.", s.File())
	}
	if err := makeCopy(s); err != nil {
		return err
	}
	return s.migrate()
}
