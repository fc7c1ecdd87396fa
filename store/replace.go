package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"stowright/store/disk"
)

// Restored is a shop file that was made of a copy and is whole, under a name of its
// own beside the file that it is to replace. Until Replace nothing else has changed.
type Restored struct {
	plan RestorePlan
	temp *disk.Temp
}

// Restore does what a plan says: the copy takes the place of the file, with the
// missing entries put back where putBack is true. The file as it was is kept under
// the name that is returned, which is empty when there was none. Until all of it is
// known to be whole, nothing is replaced, and no other program can open the file.
func Restore(ctx context.Context, p RestorePlan, putBack bool) (aside string, err error) {
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
	return r.replace()
}

// Prepare makes the restored file. The shop may be open meanwhile, and is not touched.
// Discard it in any case in the end.
func (p RestorePlan) Prepare(ctx context.Context, putBack bool) (*Restored, error) {
	temp, err := p.build(ctx, putBack)
	if err != nil {
		return nil, err
	}
	return &Restored{plan: p, temp: temp}, nil
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
	return r.replace()
}

// replace is Replace while the lock of the file is held.
func (r *Restored) replace() (aside string, err error) {
	p := r.plan
	if now := fingerprint(p.File); !bytes.Equal(now, p.seen) {
		return "", fail(Conflict, p.File, "%s has changed since you looked at what restoring does: look again, then decide.", p.File)
	}
	if p.seen == nil {
		if err := r.temp.BecomeNew(p.File); err != nil {
			return "", errNotRestored(p.File, r.temp.Named(err))
		}
		return "", p.keepLog("")
	}
	if !p.empty {
		if aside, err = p.keepAside(); err != nil {
			return "", errNotRestored(p.File, err)
		}
	}
	if err := r.temp.Become(p.File); err != nil {
		return aside, errNotRestored(p.File, r.temp.Named(err))
	}
	return aside, p.keepLog(aside)
}

// keepLog gives the write-ahead log of the file, as one that was not closed leaves it, the
// name that goes with that of the file as it was. What could be put back was carved out of both.
func (p RestorePlan) keepLog(aside string) error {
	beside := disk.LogPath(p.File)
	if _, err := os.Lstat(beside); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if aside == "" {
		aside = unusedName(p.File+".before-restore", "")
	}
	if err := os.Rename(beside, disk.LogPath(aside)); err != nil {
		return &Error{Kind: Internal, Where: beside, Message: fmt.Sprintf("%s is restored, but %s is in its way: move that elsewhere.", p.File, beside), Err: err}
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
	return &Error{Kind: Internal, Where: file, Message: fmt.Sprintf("%s could not be restored, and is as it was: see that its folder may be written and its disk has room.", file), Err: cause}
}

// keepAside gives the file a second name: a whole one that of a copy among the
// copies, any other one beside its own.
func (p RestorePlan) keepAside() (aside string, err error) {
	if p.whole && p.newest > 0 && os.MkdirAll(p.folder, disk.FolderPerm) == nil {
		c := Copy{At: p.at.UTC().Truncate(time.Second), Entries: p.newest, Why: BeforeRestore}
		aside = unusedName(copyStem(p.File, p.folder, c), copyExt)
		if err := os.Link(p.File, aside); err == nil {
			disk.SyncFolder(aside)
			return aside, nil
		}
	}
	aside = unusedName(p.File+".before-restore", "")
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
func (p RestorePlan) build(ctx context.Context, putBack bool) (_ *disk.Temp, err error) {
	if err := disk.MakeFolder(p.File); err != nil {
		return nil, err
	}
	temp, err := disk.NewTemp(p.File, copyBase(p.File))
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
	s, err := openShop(temp.Path(), Options{}, disk.Options{Create: p.Copy.File == ""})
	if err != nil {
		return nil, err
	}
	err = s.rebuild(ctx, p, putBack || p.Copy.File == "")
	if err := errors.Join(err, s.Close()); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, asError(err)
	}
	_, err = verify(ctx, temp.Path())
	return temp, err
}

func (s *Shop) rebuild(ctx context.Context, p RestorePlan, putBack bool) error {
	if err := s.migrate(); err != nil || !putBack {
		return err
	}
	if err := s.file.Replay(p.read, ctx.Err); err != nil {
		return err
	}
	photos, err := p.photos()
	if err != nil || len(photos) == 0 {
		return err
	}
	from, err := os.Open(p.File)
	if err != nil {
		return disk.ErrUnreadable(p.File, err)
	}
	defer from.Close()
	return s.takePictures(ctx, photos, func(photo Photo) ([]byte, error) { return p.carvePicture(from, photo), nil })
}

// copyInto copies the copy to a file, if there is one.
func (p RestorePlan) copyInto(ctx context.Context, path string) error {
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
	_, err = io.Copy(&watched{ctx: ctx, to: to, what: "copying", whole: p.Copy.Bytes}, from)
	return errors.Join(err, to.Sync(), to.Close())
}
