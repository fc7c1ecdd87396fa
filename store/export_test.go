package store

// WithoutSync does something to a shop without waiting for the disk, for tests
// that need many entries and no safety.
func WithoutSync(s *Shop, do func()) {
	s.db.NoSync = true
	do()
	s.db.NoSync = false
}

// Format is the version of the file's layout that this program writes.
const Format = formatVersion
