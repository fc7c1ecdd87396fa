package store

import (
	"context"
	"fmt"
	"os"
	"strconv"

	"go.etcd.io/bbolt"
)

// formatVersion is the version of the file's layout that this program writes. A
// file of a newer program is refused, one of an older program is brought up to it.
const formatVersion = 4

// migration is one step from a layout of the file to the next.
type migration struct {
	to   int
	name string
	do   func(tx *bbolt.Tx) error
}

// migrations are all steps, in order. A step is never changed once it has shipped.
func migrations() []migration {
	return []migration{
		{2, "a table of what was fitted", func(tx *bbolt.Tx) error {
			_, err := tx.CreateBucket([]byte(tableFitted))
			return err
		}},
		{3, "photographs", func(tx *bbolt.Tx) error {
			if _, err := tx.CreateBucket([]byte(tablePhotos)); err != nil {
				return err
			}
			_, err := tx.CreateBucket(bucketPictures)
			return err
		}},
		// An older program would not look for entries beside the file.
		{4, "the newest entries beside the file", func(*bbolt.Tx) error { return nil }},
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

// readFormat reads the layout that a file says it has.
func readFormat(path string, tx *bbolt.Tx) (int, error) {
	v, err := strconv.Atoi(string(tx.Bucket(bucketMeta).Get(keyFormat)))
	if err != nil || v < 1 {
		return 0, fail(Corrupt, path, "%s does not say which version of the program made it: keep it, and open a copy made earlier.", path)
	}
	if v > formatVersion {
		return 0, fail(Invalid, path, "%s was made by a newer Stowright (format %d, this program knows %d): update the program.", path, v, formatVersion)
	}
	return v, nil
}

func writeFormat(tx *bbolt.Tx, v int) error {
	return tx.Bucket(bucketMeta).Put(keyFormat, strconv.AppendInt(nil, int64(v), 10))
}

// migrate brings a file of an older layout up to this program's, each step in one
// transaction.
func (s *Shop) migrate() error {
	for _, m := range migrations() {
		if m.to <= s.format {
			continue
		}
		err := s.update(func(tx *bbolt.Tx) error {
			if err := m.do(tx); err != nil {
				return err
			}
			return writeFormat(tx, m.to)
		})
		if err != nil {
			return &Error{Kind: Internal, Where: s.path, Message: fmt.Sprintf("%s could not be brought up to date (%s), and is as it was: see that the disk has room.", s.path, m.name), Err: err}
		}
		s.format = m.to
	}
	return nil
}

// UpdateDue says whether opening a file brings it up to this program's layout first,
// which copies it and takes its time where it is large. It is false for a file that
// cannot be read: opening says why.
func UpdateDue(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	newest, _, ok := readMetas(f)
	if !ok {
		return false
	}
	e, err := newest.record(f, bucketMeta, keyFormat)
	if err != nil || e == nil {
		return false
	}
	format, err := strconv.Atoi(string(e.value))
	return err == nil && format < formatVersion
}

// upgrade makes a safe copy of a file of an older layout and migrates it.
func (s *Shop) upgrade(p Progress) error {
	if s.format == formatVersion {
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
