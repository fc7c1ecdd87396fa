package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"

	"stowright/store/disk"
	"stowright/store/progress"
)

// What store/copies and store/exchange need of a shop beside its verbs: they write whole
// files, read journals that may be damaged, and build shops again.

// OpenCopy opens a file for reading as it stands, whatever lies beside it.
func OpenCopy(path string) (*Shop, error) {
	return openShop(path, Options{}, disk.Options{Alone: true})
}

// Snapshot does something with one state of the file, whatever is written meanwhile.
func (s *Shop) Snapshot(do func(tx *disk.Tx) error) error { return s.view(do) }

// EachRecord calls do with every record of every table, in the order of the tables and of
// their keys. What do is handed is good until it returns.
func EachRecord(tx *disk.Tx, do func(table, key string, body []byte) error) error {
	for _, table := range tables {
		b, err := tx.Bucket(table.name)
		if err != nil {
			return err
		}
		if err := b.Scan(nil, func(key, body []byte) error { return do(table.name, string(key), body) }); err != nil {
			return err
		}
	}
	return nil
}

// End is where the journal ends: the number of the newest entry and its checksum; zero
// in a shop in which nothing was done yet.
func (s *Shop) End() (end disk.End, err error) {
	err = s.view(func(tx *disk.Tx) error {
		end, err = tx.End()
		return err
	})
	return end, err
}

// Continues reports whether the journal went through an end: whether the shop is what
// became of the file that ended so. Every shop continues an empty journal.
func (s *Shop) Continues(end disk.End) (continued bool, err error) {
	err = s.view(func(tx *disk.Tx) error {
		r, found, err := tx.Record(end.Seq)
		continued = end.Seq == 0 || found && r.Sum == end.Sum
		return err
	})
	return continued, err
}

// EntryOf decodes a record of a journal.
func EntryOf(r disk.Record) (Entry, error) { return decode[Entry](r.Body) }

// Pictured are the pictures and the files that entries have brought in, by number.
func Pictured(entries []Entry) ([]Kept, error) {
	all, err := broughtIn(entries)
	if err != nil {
		return nil, err
	}
	var list []Kept
	for _, number := range slices.Sorted(maps.Keys(all)) {
		list = append(list, all[number])
	}
	return list, nil
}

func broughtIn(entries []Entry) (keptBlobs, error) {
	all := keptBlobs{}
	for _, e := range entries {
		for _, c := range e.Changes {
			k, ok, err := keptBy(c)
			if err == nil && ok && brings(e, c, k) {
				err = all.note(c)
			}
			if err != nil {
				return nil, err
			}
		}
	}
	return all, nil
}

// Rebuild brings a file, a copy or an empty new one that nobody else opens, up to this
// program's format and does records again, which must follow its journal. Picture is
// asked for every picture and file that they brought in; no bytes are one that was lost.
func Rebuild(ctx context.Context, path string, records []disk.Record, picture func(Kept) ([]byte, error)) error {
	s, err := openShop(path, Options{}, disk.Options{Create: true})
	if err != nil {
		return err
	}
	if err := errors.Join(s.rebuild(ctx, records, picture), s.Close()); err != nil {
		return asError(err)
	}
	return nil
}

func (s *Shop) rebuild(ctx context.Context, records []disk.Record, picture func(Kept) ([]byte, error)) error {
	if err := s.migrate(); err != nil {
		return err
	}
	entries := make([]Entry, 0, len(records))
	for _, r := range records {
		e, err := EntryOf(r)
		if err != nil {
			return err
		}
		entries = append(entries, e)
	}
	all, err := broughtIn(entries)
	if err != nil {
		return err
	}
	if err := s.file.Replay(records, ctx.Err); err != nil {
		return err
	}
	return s.takePictures(ctx, all, picture)
}

// CheckAll is Check that reports its progress to the context's follower.
func (s *Shop) CheckAll(ctx context.Context) (Report, error) {
	return s.Check(ctx, func(done, total uint64) { progress.Report(ctx, "going over the journal", progress.Share(done, total)) })
}

// Verify opens a file for reading as it stands, checks all of it, and says where its
// journal ends. It fails with Corrupt where it is not whole.
func Verify(ctx context.Context, path string) (disk.End, error) {
	s, err := OpenCopy(path)
	if err != nil {
		return disk.End{}, err
	}
	defer func() { _ = s.Close() }() // it was only read
	report, err := s.Check(ctx, func(done, total uint64) {
		progress.Report(ctx, "looking whether it is whole", progress.Share(done, total))
	})
	if err != nil {
		return disk.End{}, err
	}
	if !report.OK {
		return disk.End{}, &Error{Kind: Corrupt, Where: path, Message: fmt.Sprintf("%s is damaged: keep it, and open a copy made earlier.", path), Err: errors.New(report.Problems[0])}
	}
	return s.End()
}
