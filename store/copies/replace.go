package copies

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/exchange"
	"stowright/store/fault"
	"stowright/store/progress"
)

// Restored is a shop file that was made of a copy and is whole, under a name of its
// own beside the file that it is to replace. Until Replace nothing else has changed.
type Restored struct {
	plan Plan
	temp *disk.Temp
}

// Restore does what a plan says: the copy takes the place of the file, with the
// missing entries put back where putBack is true. The file as it was is kept under
// the name that is returned, which is empty when there was none. Until all of it is
// known to be whole, nothing is replaced, and no other program can open the file.
func Restore(ctx context.Context, p Plan, putBack bool) (aside string, err error) {
	unlock, err := disk.Lock(p.File)
	if err != nil {
		return "", err
	}
	defer unlock()
	r, err := p.Prepare(ctx, putBack)
	if err != nil {
		return "", err
	}
	defer r.Discard()
	return r.replace(unlock)
}

// Prepare makes the restored file. The shop may be open meanwhile, and is not touched.
// Discard it in any case in the end.
func (p Plan) Prepare(ctx context.Context, putBack bool) (*Restored, error) {
	temp, err := p.build(ctx, putBack)
	if err != nil {
		return nil, err
	}
	return &Restored{plan: p, temp: temp}, nil
}

// PrepareImport makes a shop file of an archive that is to replace the shop, in which
// nothing was done yet. The shop may be open meanwhile. Discard it in any case in the end.
func (k *Keeper) PrepareImport(ctx context.Context, archive string) (*Restored, error) {
	r := &Restored{plan: newPlan(k.shop.File(), k.folder)}
	r.plan.empty = true
	var err error
	if r.temp, err = exchange.ImportArchiveBeside(ctx, k.shop, archive); err != nil {
		return nil, err
	}
	return r, nil
}

// Discard removes what Prepare made, unless it has taken its place.
func (r *Restored) Discard() {
	if r.temp != nil {
		r.temp.Discard()
	}
}

// Replace puts the restored file in the place of the other one, which must not be
// open. It says where that is kept, as Restore does.
func (r *Restored) Replace() (aside string, err error) {
	unlock, err := disk.Lock(r.plan.File)
	if err != nil {
		return "", err
	}
	defer unlock()
	return r.replace(unlock)
}

// replace is Replace while the lock of the file is held, and until it is renamed.
func (r *Restored) replace(unlock func()) (aside string, err error) {
	p := r.plan
	if now := fingerprint(p.File); !bytes.Equal(now, p.seen) {
		return "", fault.New(fault.Conflict, p.File, "%s has changed since you looked at what restoring does: look again, then decide.", p.File)
	}
	if p.seen == nil {
		if err := r.temp.BecomeNew(p.File); err != nil {
			return "", errNotRestored(p.File, r.temp.Named(err))
		}
		return "", p.keepLog("")
	}
	if disk.HeldStays {
		unlock()
	}
	if !p.empty {
		if aside, err = p.keepAside(); err != nil {
			return "", errNotRestored(p.File, err)
		}
	}
	if err := r.temp.Become(p.File); err != nil {
		return aside, errNotRestored(p.File, r.temp.Named(err))
	}
	setOthersAside(p.File, p.folder)
	return aside, p.keepLog(aside)
}

// setOthersAside marks the copies that the journal of a shop file does not continue: they
// are of the shop that it took the place of, and none of them is the newest any more. One
// that cannot be renamed stays what it was called.
func setOthersAside(file, folder string) {
	list, err := List(file, folder)
	if err != nil {
		return
	}
	for _, c := range list {
		end, err := disk.EndOf(c.File)
		if err != nil || setAside(c) {
			continue
		}
		if there, err := disk.RecordOf(file, end.Seq); err != nil || there == end {
			continue
		}
		c.Why = Replaced
		_ = os.Rename(c.File, disk.UnusedName(copyStem(file, folder, c), disk.Ext))
	}
}

// keepLog gives the write-ahead log of the file, as one that was not closed leaves it, the
// name that goes with that of the file as it was. What could be put back was carved out of both.
func (p Plan) keepLog(aside string) error {
	beside := disk.LogPath(p.File)
	if _, err := os.Lstat(beside); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if aside == "" {
		aside = disk.UnusedName(p.File+".before-restore", "")
	}
	if err := os.Rename(beside, disk.LogPath(aside)); err != nil {
		return &fault.Error{Kind: fault.Internal, Where: beside, Message: fmt.Sprintf("%s is restored, but %s is in its way: move that elsewhere.", p.File, beside), Err: err}
	}
	return nil
}

// fingerprinted is more than the bytes that every transaction writes: two pages of the
// largest size that the file may have.
const fingerprinted = 128 << 10

// fingerprint tells one state of a file from another: its length, when it was
// written, and its first pages, which every transaction writes. It is nil for a file
// that is not there.
func fingerprint(path string) []byte {
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	sum := sha256.New()
	if info, err := f.Stat(); err == nil {
		fmt.Fprintln(sum, info.Size(), info.ModTime().UnixNano())
	}
	_, _ = io.CopyN(sum, f, fingerprinted) // a short file is read to its end
	return sum.Sum(nil)
}

func errNotRestored(file string, cause error) error {
	return &fault.Error{Kind: fault.Internal, Where: file, Message: fmt.Sprintf("%s could not be restored, and is as it was: see that its folder may be written and its disk has room.", file), Err: cause}
}

// keepAside gives the file a second name: a whole one that of a copy among the
// copies, any other one beside its own.
func (p Plan) keepAside() (aside string, err error) {
	if p.whole && p.newest > 0 && os.MkdirAll(p.folder, disk.FolderPerm) == nil {
		c := Copy{At: p.at.UTC().Truncate(time.Second), Entries: p.newest, Why: Replaced}
		aside = disk.UnusedName(copyStem(p.File, p.folder, c), disk.Ext)
		if err := os.Link(p.File, aside); err == nil {
			disk.SyncFolder(aside)
			return aside, nil
		}
	}
	aside = disk.UnusedName(p.File+".before-restore", "")
	return aside, secondName(p.File, aside)
}

// secondName gives a file a second name, so that there is no moment without it;
// where the disk knows no second names, it is renamed.
func secondName(file, aside string) error {
	if err := os.Link(file, aside); err == nil {
		return nil
	}
	return os.Rename(file, aside)
}

// build makes the restored file under a hidden name beside the one it replaces.
func (p Plan) build(ctx context.Context, putBack bool) (_ *disk.Temp, err error) {
	if err := disk.MakeFolder(p.File); err != nil {
		return nil, err
	}
	temp, err := disk.NewTemp(p.File, disk.BaseName(p.File))
	if err != nil {
		return nil, errNotRestored(p.File, err)
	}
	defer func() {
		if err != nil {
			temp.Discard()
			err = temp.Named(err)
		}
	}()
	if err := p.copyInto(ctx, temp.Path()); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, errNotRestored(p.File, err)
	}
	if err := p.rebuild(ctx, temp.Path(), putBack || p.Copy.File == ""); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, err
	}
	_, err = store.Verify(ctx, temp.Path())
	return temp, err
}

// rebuild brings the copy up to date and puts the missing entries back.
func (p Plan) rebuild(ctx context.Context, path string, putBack bool) error {
	if !putBack || len(p.read) == 0 {
		return store.Rebuild(ctx, path, nil, nil)
	}
	from, err := os.Open(p.File)
	if err != nil {
		return disk.ErrUnreadable(p.File, err)
	}
	defer from.Close()
	return store.Rebuild(ctx, path, p.read, func(photo store.Kept) ([]byte, error) { return p.carvePicture(from, photo), nil })
}

// copyInto copies the copy to a file, if there is one.
func (p Plan) copyInto(ctx context.Context, path string) error {
	if p.Copy.File == "" {
		return nil // a new one is made
	}
	from, err := os.Open(p.Copy.File)
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, disk.FilePerm)
	if err != nil {
		return err
	}
	_, err = io.Copy(progress.NewWriter(ctx, to, "copying", p.Copy.Bytes), from)
	return errors.Join(err, to.Sync(), to.Close())
}
