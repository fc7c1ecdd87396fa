package copies

import (
	"context"
	"errors"
	"sort"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/progress"
)

// compare finds what would be otherwise. Where the file cannot be opened, what can be
// read in it counts.
func (p *Plan) compare(ctx context.Context, now *store.Shop) error {
	if p.Copy.File == "" {
		return nil
	}
	if now == nil {
		file, err := store.OpenCopy(p.File)
		if err == nil {
			defer func() { _ = file.Close() }() // it was only read
			now = file
		}
	}
	then, err := store.OpenCopy(p.Copy.File)
	if err != nil {
		return err
	}
	defer func() { _ = then.Close() }() // it was only read
	lost, gained := p.Missing, []store.Entry(nil)
	if now != nil {
		head, headErr := now.End()
		lost, gained, err = parted(ctx, now, then)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case errors.Join(err, headErr) != nil:
			lost, gained = p.Missing, nil
		default:
			p.whole, p.newest = true, head.Seq
		}
	}
	p.Difference, err = store.Differ(lost, gained, then)
	return err
}

// parted are the entries of two journals after the last one that both have.
func parted(ctx context.Context, now, then *store.Shop) (lost, gained []store.Entry, err error) {
	nowEnd, err := now.End()
	if err != nil {
		return nil, nil, err
	}
	thenEnd, err := then.End()
	if err != nil {
		return nil, nil, err
	}
	common, err := lastCommon(now, then, min(nowEnd.Seq, thenEnd.Seq))
	if err != nil {
		return nil, nil, err
	}
	if lost, err = entriesBetween(ctx, now, common+1, nowEnd.Seq); err != nil {
		return nil, nil, err
	}
	gained, err = entriesBetween(ctx, then, common+1, thenEnd.Seq)
	return lost, gained, err
}

// lastCommon is the last entry that two journals both have, of which each has at least so
// many; 0 for none. An entry carries the checksum of the one before it: from where the
// journals part, no two entries are the same.
func lastCommon(now, then *store.Shop, most uint64) (common uint64, err error) {
	err = now.Snapshot(func(nowTx *disk.Tx) error {
		return then.Snapshot(func(thenTx *disk.Tx) error {
			var failed error
			common = uint64(sort.Search(int(most), func(i int) bool {
				ours, _, oursErr := nowTx.Record(uint64(i + 1))
				theirs, _, theirsErr := thenTx.Record(uint64(i + 1))
				failed = errors.Join(failed, oursErr, theirsErr)
				return ours.Sum != theirs.Sum
			}))
			return failed
		})
	})
	return common, err
}

// progressEvery is how many entries lie between two reports of progress.
const progressEvery = 4096

func entriesBetween(ctx context.Context, shop *store.Shop, first, last uint64) ([]store.Entry, error) {
	var list []store.Entry
	for seq := first; seq <= last; seq++ {
		e, err := shop.Entry(seq)
		if err != nil {
			return nil, err
		}
		if seq%progressEvery == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			progress.Report(ctx, "reading what changes", progress.Share(seq-first, last-first))
		}
		list = append(list, e)
	}
	return list, nil
}
