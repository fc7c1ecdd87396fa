package copies

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
	"stowright/store/progress"
)

// Keeper keeps the safe copies of an open shop in a folder. Its methods may be called
// from several goroutines; one copy is made at a time.
type Keeper struct {
	shop   *store.Shop
	folder string
	making sync.Mutex
}

// NewKeeper keeps the copies of a shop; no folder is that of [Folder].
func NewKeeper(shop *store.Shop, folder string) *Keeper {
	if folder == "" {
		folder = Folder(shop.File())
	}
	return &Keeper{shop: shop, folder: folder}
}

// Folder is where the copies are.
func (k *Keeper) Folder() string { return k.folder }

// List is List of the shop's copies in the folder.
func (k *Keeper) List() ([]Copy, error) { return List(k.shop.File(), k.folder) }

// Make makes a copy in a folder, the keeper's own for "", while the shop is in use, looks
// whether the copy is whole, and then removes old copies there that are no longer needed:
// it keeps the newest five, one a day for two weeks, one a week for two months and one a
// month for two years, as far as they fit into 8 GB. Nothing of a copy that fails is left.
// A shop in which nothing was ever done is refused with Conflict: a copy of it would only
// be in the way of others.
func (k *Keeper) Make(ctx context.Context, folder string, why Why) (Copy, error) {
	if folder == "" {
		folder = k.folder
	}
	made, err := k.into(ctx, folder, why, store.Verify)
	if err != nil {
		return Copy{}, err
	}
	return made, thin(k.shop.File(), folder)
}

// Adopt makes a copy of a shop whose file took the place of another one's, and marks the
// copies of that one: from then on the copies are of this shop.
func (k *Keeper) Adopt(ctx context.Context) error {
	if _, err := k.Make(ctx, "", ByHand); err != nil {
		return err
	}
	setOthersAside(k.shop.File(), k.folder)
	return nil
}

// BeforeUpgrade returns what [store.Options] needs for a file of an older program: it
// makes a copy of the file as it is, in a folder ("" for that of [Folder]), before the
// file is upgraded. The copy is checked by its journal: a key that was damaged would be
// sealed as right.
func BeforeUpgrade(ctx context.Context, folder string) func(*store.Shop) error {
	return func(shop *store.Shop) error {
		k := NewKeeper(shop, folder)
		head, err := shop.End()
		if err == nil && head.Seq > 0 {
			_, err = k.into(ctx, k.folder, Upgrade, store.Verify)
		}
		return err
	}
}

// BeforeImport makes a copy of the shop as it is before a packing list is brought in,
// unless nothing was ever done in it, or nothing since the newest copy.
func (k *Keeper) BeforeImport(ctx context.Context) error {
	head, err := k.shop.End()
	if err != nil || head.Seq == 0 {
		return err
	}
	newest, found, err := k.newest()
	if err != nil || found && newest.Entries == head.Seq {
		return err
	}
	_, err = k.into(ctx, k.folder, Import, readAll)
	return err
}

// proof finds what is wrong with a copy, and says where its journal ends.
type proof func(ctx context.Context, path string) (disk.End, error)

// into makes a copy in a folder that proof finds nothing wrong with, and removes no older
// ones. ReadAll as proof says that all of it was written as it is, and not that it adds
// up: for a copy that somebody waits for.
func (k *Keeper) into(ctx context.Context, folder string, why Why, proof proof) (Copy, error) {
	k.making.Lock()
	defer k.making.Unlock()
	made, err := write(ctx, k.shop, folder, why, proof)
	if err != nil {
		return Copy{}, errNoCopy(ctx, folder, err)
	}
	return made, nil
}

func errNoCopy(ctx context.Context, folder string, cause error) error {
	var ours *fault.Error
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(cause, &ours):
		return cause
	}
	return &fault.Error{Kind: fault.Internal, Where: folder, Message: fmt.Sprintf("No safe copy could be made in %s: see that the folder may be written and its disk has room.", folder), Err: cause}
}

// write writes a copy of a shop into a folder, and gives it its name once proof found
// nothing wrong with it.
func write(ctx context.Context, shop *store.Shop, folder string, why Why, proof proof) (Copy, error) {
	head, err := shop.End()
	if err != nil {
		return Copy{}, err
	}
	if head.Seq == 0 {
		return Copy{}, fault.New(fault.Conflict, shop.File(), "Nothing was ever done in %s, and there is nothing to copy: bring a packing list in, or make a place first.", shop.File())
	}
	if err := os.MkdirAll(folder, disk.FolderPerm); err != nil {
		return Copy{}, err
	}
	c := Copy{At: shop.Now().UTC().Truncate(time.Second), Why: why}
	temp, err := disk.NewTemp(filepath.Join(folder, filepath.Base(shop.File())), disk.BaseName(shop.File()))
	if err != nil {
		return Copy{}, err
	}
	defer temp.Discard()
	if err := copyTo(ctx, shop, temp.Path(), &c); err != nil {
		return Copy{}, temp.Named(err)
	}
	end, err := proof(ctx, temp.Path())
	if err != nil {
		return Copy{}, fault.Rename(err, temp.Path(), shop.File()) // it was copied as it stands
	}
	if end.Seq != c.Entries {
		return Copy{}, fmt.Errorf("the copy has %d entries of %d", end.Seq, c.Entries)
	}
	c.File = disk.UnusedName(copyStem(shop.File(), folder, c), disk.Ext)
	return c, temp.Named(temp.Become(c.File))
}

// copyTo writes the file as it stands to a new one, and notes what it is a copy of.
func copyTo(ctx context.Context, shop *store.Shop, path string, c *Copy) error {
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, disk.FilePerm)
	if err != nil {
		return err
	}
	err = shop.Snapshot(func(tx *disk.Tx) error {
		end, err := tx.End()
		if err != nil {
			return err
		}
		c.Entries, c.Bytes = end.Seq, tx.Size()
		_, err = tx.WriteTo(progress.NewWriter(ctx, to, "copying", c.Bytes))
		return err
	})
	return errors.Join(err, to.Sync(), to.Close())
}

// copyEvery is how old the newest copy may get.
const copyEvery = 24 * time.Hour

// MakeWhenDue makes a copy in the keeper's folder when something was done since the newest
// one, and that one is a day old or was made by a clock that was ahead; and after a
// restore, so that the copies go on from what was restored. Where it is not due, the
// newest copy is returned.
func (k *Keeper) MakeWhenDue(ctx context.Context) (made Copy, due bool, err error) {
	disk.RemoveLeftovers(k.folder, disk.BaseName(k.shop.File()))
	head, err := k.shop.End()
	if err != nil || head.Seq == 0 {
		return Copy{}, false, err
	}
	newest, found, err := k.newest()
	if err != nil {
		return Copy{}, false, err
	}
	if found {
		age := k.shop.Now().Sub(newest.At)
		if newest.Entries == head.Seq || age >= 0 && age < copyEvery {
			return newest, false, nil
		}
	}
	made, err = k.Make(ctx, "", Daily)
	return made, true, err
}

// newest is the newest copy of the shop as it went on: one whose journal the shop's own
// continues.
func (k *Keeper) newest() (Copy, bool, error) {
	list, err := k.List()
	if err != nil {
		return Copy{}, false, err
	}
	for _, c := range list {
		end, err := disk.EndOf(c.File)
		if err != nil || setAside(c) {
			continue // PlanRestore says what is wrong with it
		}
		if continued, err := k.shop.Continues(end); err != nil || continued {
			return c, continued, err
		}
	}
	return Copy{}, false, nil
}
