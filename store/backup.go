package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"stowright/store/disk"
	"stowright/store/fault"
)

// Backup makes a safe copy in a folder while the shop is in use, looks whether the
// copy is whole, and then removes old copies that are no longer needed: it keeps
// the newest five, one a day for two weeks, one a week for two months and one a
// month for two years, as far as they fit into 8 GB. Nothing of a copy that fails is left.
func (s *Shop) Backup(ctx context.Context, folder string, why Why) (Copy, error) {
	s.copying.Lock()
	defer s.copying.Unlock()
	made, err := s.backup(ctx, folder, why, verify)
	if err != nil {
		return Copy{}, errNoCopy(ctx, folder, err)
	}
	return made, s.thin(folder)
}

// copyNow makes a safe copy that somebody waits for, has it looked at, and removes no
// older copies. ReadAll as look proves that all of it was written as it is, and not that
// it adds up.
func (s *Shop) copyNow(ctx context.Context, folder string, why Why, look func(context.Context, string) (disk.End, error)) (Copy, error) {
	s.copying.Lock()
	defer s.copying.Unlock()
	made, err := s.backup(ctx, folder, why, look)
	if err != nil {
		return Copy{}, errNoCopy(ctx, folder, err)
	}
	return made, nil
}

func errNoCopy(ctx context.Context, folder string, cause error) error {
	var ours *Error
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case errors.As(cause, &ours):
		return cause
	}
	return &Error{Kind: Internal, Where: folder, Message: fmt.Sprintf("No safe copy could be made in %s: see that the folder may be written and its disk has room.", folder), Err: cause}
}

func (s *Shop) backup(ctx context.Context, folder string, why Why, look func(context.Context, string) (disk.End, error)) (Copy, error) {
	if err := os.MkdirAll(folder, disk.FolderPerm); err != nil {
		return Copy{}, err
	}
	c := Copy{At: s.clock().UTC().Truncate(time.Second), Why: why}
	temp, err := disk.NewTemp(filepath.Join(folder, filepath.Base(s.File())), copyBase(s.File()))
	if err != nil {
		return Copy{}, err
	}
	defer temp.Discard()
	if err := s.copyTo(ctx, temp.Path(), &c); err != nil {
		return Copy{}, temp.Named(err)
	}
	end, err := look(ctx, temp.Path())
	if err != nil {
		return Copy{}, fault.Rename(err, temp.Path(), s.File()) // it was copied as it stands
	}
	if end.Seq != c.Entries {
		return Copy{}, fmt.Errorf("the copy has %d entries of %d", end.Seq, c.Entries)
	}
	c.File = unusedName(copyStem(s.File(), folder, c), copyExt)
	return c, temp.Named(temp.Become(c.File))
}

// copyTo writes the file as it stands to a new one, and notes what it is a copy of.
func (s *Shop) copyTo(ctx context.Context, path string, c *Copy) error {
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, disk.FilePerm)
	if err != nil {
		return err
	}
	err = s.view(func(tx *disk.Tx) error {
		end, err := tx.End()
		if err != nil {
			return err
		}
		c.Entries, c.Bytes = end.Seq, tx.Size()
		_, err = tx.WriteTo(&watched{ctx: ctx, to: to, what: "copying", whole: c.Bytes})
		return err
	})
	return errors.Join(err, to.Sync(), to.Close())
}

// unusedName is the name of a file that is not there yet: stem and ext with a number
// between them where that is needed.
func unusedName(stem, ext string) string {
	name := stem + ext
	for n := 2; ; n++ {
		if _, err := os.Lstat(name); errors.Is(err, os.ErrNotExist) {
			return name
		}
		name = fmt.Sprintf("%s-%d%s", stem, n, ext)
	}
}

// watched is a writer that fails once its context is done, and tells how much of
// the whole was written.
type watched struct {
	ctx         context.Context
	to          io.Writer
	what        string
	done, whole int64 // bytes; a whole of 0 is not known
}

func (w *watched) Write(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.to.Write(p)
	w.done += int64(n)
	tellProgress(w.ctx, w.what, share(w.done, w.whole))
	return n, err
}

// backupEvery is how old the newest copy may get.
const backupEvery = 24 * time.Hour

// BackupWhenDue makes a safe copy in the shop's own folder for them when something
// was done since the newest one, and that one is a day old or was made by a clock
// that was ahead; and after a restore, so that the copies go on from what was restored.
// Where it is not due, the newest copy is returned.
func (s *Shop) BackupWhenDue(ctx context.Context) (made Copy, due bool, err error) {
	copies, err := Backups(s.File(), s.backups)
	if err != nil {
		return Copy{}, false, err
	}
	entries, err := s.Entries(0, 1)
	if err != nil || len(entries) == 0 {
		return Copy{}, false, err
	}
	if len(copies) > 0 && !setAside(copies[0]) {
		age := s.clock().Sub(copies[0].At)
		if copies[0].Entries == entries[0].Seq || age >= 0 && age < backupEvery {
			return copies[0], false, nil
		}
	}
	made, err = s.Backup(ctx, s.backups, Daily)
	return made, true, err
}
