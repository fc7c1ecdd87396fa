package store

import (
	"context"
	"errors"

	"stowright/store/disk"
)

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
func verify(ctx context.Context, path string) (disk.End, error) {
	return readCopy(path, func(s *Shop) error {
		report, err := s.Check(ctx, func(done, total uint64) { tellProgress(ctx, "looking whether it is whole", share(done, total)) })
		if err == nil && !report.OK {
			err = damagedCopy(path, errors.New(report.Problems[0]))
		}
		return err
	})
}

func damagedCopy(path string, cause error) error {
	e := fail(Corrupt, path, "%s is damaged: keep it, and open a copy made earlier.", path)
	e.Err = cause
	return e
}

// readAll opens a copy for reading only, reads every record of it with its checksum,
// and says where its journal ends.
func readAll(ctx context.Context, path string) (disk.End, error) {
	tellProgress(ctx, "reading the copy again", -1)
	return readCopy(path, func(s *Shop) error {
		return s.view(func(tx *disk.Tx) error { return tx.ProveAll(ctx.Err) })
	})
}

// readCopy opens a copy for reading only, looks at it, and says where its journal ends.
func readCopy(path string, look func(s *Shop) error) (disk.End, error) {
	s, err := openCopy(path)
	if err != nil {
		return disk.End{}, err
	}
	defer func() { _ = s.Close() }() // it was only read
	var end disk.End
	err = s.view(func(tx *disk.Tx) error {
		end, err = tx.End()
		return err
	})
	if err != nil {
		return disk.End{}, err
	}
	return end, look(s)
}
