package store

import (
	"bytes"
	"testing"

	"go.etcd.io/bbolt"
)

// WithoutSync does something to a shop without waiting for the disk, for tests
// that need many entries and no safety.
func WithoutSync(s *Shop, do func()) {
	alone := s.alone
	s.alone, s.db.NoSync = true, true
	do()
	s.alone, s.db.NoSync = alone, false
}

// Format is the version of the file's layout that this program writes.
const Format = formatVersion

// PutBare puts one small record anew, as it stands: the least that a change of the
// file can be, two syncs and what bbolt writes for itself.
func PutBare(s *Shop) error {
	return s.update(func(tx *bbolt.Tx) error { return writeFormat(tx, s.format) })
}

// RestoreBase is the first half of opening a shop that was not closed.
var RestoreBase = restoreBase

// RecentBase is the generation of the base that lies beside a shop file, and how many
// entries follow it.
func RecentBase(t *testing.T, path string) (generation uint64, entries int) {
	t.Helper()
	b, list, err := readRecent(recentPath(path))
	if err != nil {
		t.Fatal(err)
	}
	return b.Generation, len(list)
}

// Unsynced are the parts of a file beside that nothing depends on: the page of the base
// before, and all after the entries.
func Unsynced(beside []byte, entries int) (old []byte, end int) {
	generations := [2]uint64{}
	for slot := range generations {
		body, _, err := unseal(bytes.TrimRight(beside[slot*recentPage:(slot+1)*recentPage], "\x00"))
		if err == nil {
			b, _ := decode[base](body)
			generations[slot] = b.Generation
		}
	}
	if generations[0] < generations[1] {
		old = beside[:recentPage]
	} else {
		old = beside[recentPage:firstRecent]
	}
	end = firstRecent
	for range entries {
		c, _ := carveAt(bytes.NewReader(beside), int64(end), beside[end:], 0)
		end += int(recentPages(len(seal(c.body))))
	}
	return old, end
}
