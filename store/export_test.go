package store

import (
	"bytes"
	"errors"
	"fmt"
	"sync"
	"testing"

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

// PutBare puts one small record again, as it stands: the least that a change of the
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

// What tests of this package share with those from outside it.
var (
	UnpackKept  = unpackKept
	FormatOf    = formatOf
	KeptShop    = keptShop
	Damagers    = damagers
	SmallShop   = smallShop
	KeptPicture = keptPicture
	NewCounting = newCounting
	WantWhole   = wantWhole
)

// CountMore counts so many further items.
func (c *counting) CountMore(n int) { c.count(n) }

// Crash leaves the files as a program does that is killed, under another name.
func (c *counting) Crash() (path string) { return c.crash() }

// Copied is a copy of the file as it stands.
func (c *counting) Copied() (path string) { return c.copied() }

// Bin is where the items are.
func (c *counting) Bin() Place { return c.bin }

// Weigh records what a heap was weighed or measured to be, without the readings of a
// scale: an amount with the range it is in, which stays an estimate until somebody counts
// it. Where the item is kept by another unit, it changes to the new one.
func (s *Shop) Weigh(k StockKey, about Amount) (Entry, error) {
	return s.commit(VerbCount, func(w *writer) (string, error) {
		if about.Low.Unit != about.Unit || about.High.Unit != about.Unit ||
			about.Low.Micro > about.Micro || about.High.Micro < about.Micro || about.Low.Sign() < 0 {
			return "", fail(Invalid, k.Item, "%s is not a range: weigh %s again.", about, k.Item)
		}
		return w.weigh(k, about)
	})
}

// Redoable is the undo that Redo would take back: the newest entry, if it is an
// undo that has not been taken back. It is false when there is none.
func (r *Reader) Redoable() (Entry, bool, error) {
	return r.find(redoable)
}

// BodyOf is the body of an entry as it stands in the file.
func BodyOf(t testing.TB, s *Shop, seq uint64) (body []byte) {
	t.Helper()
	err := s.view(func(tx *disk.Tx) error {
		r, _, err := tx.Record(seq)
		body = bytes.Clone(r.Body)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return body
}

// Dump is all that a shop says: every record, the keys of every index, the last key of each,
// and where the journal ends.
func Dump(s *Shop) (map[string]string, error) {
	all := map[string]string{}
	return all, s.view(func(tx *disk.Tx) error {
		buckets := []string{indexUndone}
		for _, t := range tables {
			buckets = append(buckets, t.name)
			for _, index := range t.indexes {
				buckets = append(buckets, index.name)
			}
		}
		for _, name := range buckets {
			b, err := tx.Bucket(name)
			if err != nil {
				return err
			}
			keys := 0
			err = b.Scan(nil, func(key, body []byte) error {
				keys++
				all[name+" "+string(key)] = string(body)
				got, err := b.Get(key)
				if string(got) != string(body) {
					all[name+" "+string(key)] += " but got " + string(got)
				}
				return err
			})
			if err != nil {
				return err
			}
			err = b.ScanUnmapped(nil, func(key, body []byte) error {
				if keys--; all[name+" "+string(key)] != string(body) {
					all[name+" "+string(key)] += " but unmapped " + string(body)
				}
				return nil
			})
			last, lastErr := b.Last()
			if err := errors.Join(err, lastErr); err != nil {
				return err
			}
			all["last "+name] = string(last)
			if keys != 0 {
				all["unmapped "+name] = "has others"
			}
		}
		end, err := tx.End()
		records := uint64(0)
		err = errors.Join(err, tx.Records(func(disk.Record, error) error { records++; return nil }))
		all["end"] = fmt.Sprint(end, records)
		return err
	})
}

// Scanned is the entry of a body as going back reads it, and as it is.
func Scanned(body []byte) (quick, whole Entry, err error) {
	r := disk.Record{Body: body}
	if whole, err = entryOf(r); err != nil {
		return quick, whole, err
	}
	r.Seq = whole.Seq
	quick, err = scanned(r)
	return quick, whole, err
}

// Bodies are those of the journal.
func Bodies(s *Shop) (all [][]byte, err error) {
	err = s.view(func(tx *disk.Tx) error {
		return tx.Records(func(r disk.Record, err error) error {
			all = append(all, bytes.Clone(r.Body))
			return err
		})
	})
	return all, err
}
