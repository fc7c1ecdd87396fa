package store

import (
	"bytes"
	"context"
	"errors"

	"go.etcd.io/bbolt"
)

// journalEnd is the last entry of a journal: its number, and its checksum, which
// the next entry carries.
type journalEnd struct {
	seq uint64
	sum string
}

// CheckCopy says what is wrong with a copy, after going over all of it.
func CheckCopy(ctx context.Context, path string) error {
	_, err := verify(ctx, path)
	return err
}

// CheckAll is Check that tells the context's follower how far it is.
func (s *Shop) CheckAll(ctx context.Context) (Report, error) {
	return s.Check(ctx, func(done, total uint64) { tellProgress(ctx, "going over the journal", share(done, total)) })
}

// verify opens a copy for reading only, checks all of it, and says where its
// journal ends.
func verify(ctx context.Context, path string) (journalEnd, error) {
	return readCopy(path, func(s *Shop) error {
		report, err := s.Check(ctx, func(done, total uint64) { tellProgress(ctx, "looking whether it is whole", share(done, total)) })
		if err == nil && !report.OK {
			err = errDamaged(path, errors.New(report.Problems[0]))
		}
		return err
	})
}

// readAll opens a copy for reading only, reads every record of it with its checksum,
// and says where its journal ends.
func readAll(ctx context.Context, path string) (journalEnd, error) {
	tellProgress(ctx, "reading the copy again", -1)
	return readCopy(path, func(s *Shop) error {
		return s.view(func(tx *bbolt.Tx) error {
			for _, name := range bucketNames(s.format) {
				err := s.pass(tx, string(name), "", func(_, sealed []byte) error {
					if err := openAny(name, sealed); err != nil {
						return errDamaged(path, err)
					}
					return ctx.Err()
				})
				if err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// openAny proves a value of a bucket by its checksum, if it has one.
func openAny(bucket, sealed []byte) (err error) {
	switch {
	case bytes.Equal(bucket, bucketPictures):
		_, _, err = openPart(sealed)
	case bytes.HasPrefix(sealed, []byte(envelopePrefix)): // else of an index, or the format
		_, _, err = unseal(sealed)
	}
	return err
}

// readCopy opens a copy for reading only, looks at it, and says where its journal ends.
func readCopy(path string, look func(s *Shop) error) (journalEnd, error) {
	s, err := openShop(path, Options{}, true)
	if err != nil {
		return journalEnd{}, err
	}
	defer func() { _ = s.Close() }() // it was only read
	var end journalEnd
	err = s.view(func(tx *bbolt.Tx) error {
		if tx.Bucket(bucketMeta) == nil || tx.Bucket(bucketJournal) == nil {
			return errNoShop(path, nil)
		}
		if s.format, err = readFormat(path, tx); err != nil {
			return err
		}
		if err := checkBuckets(path, tx, s.format); err != nil {
			return err
		}
		if key, sealed := tx.Bucket(bucketJournal).Cursor().Last(); key != nil {
			e, sum, err := readEntry(key, sealed)
			end = journalEnd{e.Seq, sum}
			return err
		}
		return nil
	})
	if err != nil {
		return journalEnd{}, err
	}
	return end, look(s)
}
