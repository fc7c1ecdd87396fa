package copies

import (
	"context"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/progress"
)

// Check says what is wrong with a copy, after going over all of it.
func Check(ctx context.Context, path string) error {
	_, err := store.Verify(ctx, path)
	return err
}

// readAll reads every record of a copy with its checksum, and says where its journal ends.
func readAll(ctx context.Context, path string) (end disk.End, err error) {
	progress.Report(ctx, "reading the copy again", -1)
	shop, err := store.OpenCopy(path)
	if err != nil {
		return disk.End{}, err
	}
	defer func() { _ = shop.Close() }() // it was only read
	err = shop.Snapshot(func(tx *disk.Tx) error {
		if end, err = tx.End(); err != nil {
			return err
		}
		return tx.ProveAll(ctx.Err)
	})
	return end, err
}
