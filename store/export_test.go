package store

import (
	"sync"

	"stowright/store/disk"
)

// WithoutSync does something to a shop without waiting for the disk, for tests
// that need many entries and no safety.
func WithoutSync(s *Shop, do func()) {
	s.file.SetUnsynced(true)
	do()
	s.file.SetUnsynced(false)
}

// Format is the version of the file's layout that this program writes.
const Format = formatVersion

// PutBare puts one small record anew, as it stands: the least that a change of the
// file can be, two syncs and what bbolt writes for itself.
func PutBare(s *Shop) error {
	return s.update(func(tx *disk.Tx) error { return tx.SetFormat(s.file.Format()) })
}

// Recover opens a shop file and closes it. Halfway calls back where the file has the state
// of its checkpoint again and none of the entries of its log, if there are any.
func Recover(path string, halfway func()) error {
	var once sync.Once
	file, err := disk.Open(path, disk.Options{Layout: layout(), Replay: func(tx *disk.Tx, r disk.Record) error {
		once.Do(halfway)
		return replay(tx, r)
	}})
	if err != nil {
		return err
	}
	return file.Close()
}
