package store

import "go.etcd.io/bbolt"

// WithoutSync does something to a shop without waiting for the disk, for tests
// that need many entries and no safety.
func WithoutSync(s *Shop, do func()) {
	s.db.NoSync = true
	do()
	s.db.NoSync = false
}

// Format is the version of the file's layout that this program writes.
const Format = formatVersion

// PutBare puts one small record anew, as it stands: the least that a change of the
// file can be, two syncs and what bbolt writes for itself.
func PutBare(s *Shop) error {
	return s.update(func(tx *bbolt.Tx) error { return writeFormat(tx, s.format) })
}

// Writes is how often the shop has written to its file since it was opened, and how
// many bytes.
func Writes(s *Shop) (writes, bytes int64) {
	stats := s.db.Stats()
	return stats.TxStats.GetWrite(), stats.TxStats.GetPageAlloc()
}
