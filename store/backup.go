package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"go.etcd.io/bbolt"
)

// Copy is a safe copy of a shop file.
type Copy struct {
	File    string    `json:"file"`
	At      time.Time `json:"at"`      // when it was made, UTC, to the second
	Entries uint64    `json:"entries"` // in its journal
}

// String is "14 March 2026 09:00, 123 entries", by the time of day of UTC.
func (c Copy) String() string {
	return fmt.Sprintf("%s %s, %d entries", DateOf(c.At), c.At.Format("15:04"), c.Entries)
}

// BackupFolder is where the safe copies of a shop file go unless another folder is named.
func BackupFolder(shopFile string) string { return filepath.Join(filepath.Dir(shopFile), "backups") }

const (
	copyTime = "20060102T150405Z"
	copyExt  = ".stow"
)

// copyName is the end of a copy's name: when it was made and how many entries it
// has, so that the newest one can be told without opening any.
var copyName = regexp.MustCompile(`^-(\d{8}T\d{6}Z)-(\d{1,19})(?:-(\d{1,9}))?\.stow$`)

func copyBase(shopFile string) string {
	return strings.TrimSuffix(filepath.Base(shopFile), copyExt)
}

// Backups are the safe copies of a shop file in a folder, the newest first. They
// are not opened. A folder that is not there holds none.
func Backups(shopFile, folder string) ([]Copy, error) {
	files, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, &Error{Kind: Invalid, Where: folder, Message: fmt.Sprintf("The folder %s cannot be read: see that it may be.", folder), Err: err}
	}
	type numbered struct {
		Copy
		number int // of several that have as many entries and were made in the same second
	}
	var list []numbered
	for _, f := range files {
		rest, ours := strings.CutPrefix(f.Name(), copyBase(shopFile))
		parts := copyName.FindStringSubmatch(rest)
		if !ours || parts == nil || !f.Type().IsRegular() {
			continue
		}
		at, err := time.Parse(copyTime, parts[1])
		entries, err2 := strconv.ParseUint(parts[2], 10, 64)
		if err != nil || err2 != nil {
			continue
		}
		number, _ := strconv.Atoi(parts[3]) // none is 0
		list = append(list, numbered{Copy{File: filepath.Join(folder, f.Name()), At: at, Entries: entries}, number})
	}
	slices.SortFunc(list, func(a, b numbered) int {
		return cmp.Or(b.At.Compare(a.At), cmp.Compare(b.Entries, a.Entries), cmp.Compare(b.number, a.number))
	})
	copies := make([]Copy, 0, len(list))
	for _, c := range list {
		copies = append(copies, c.Copy)
	}
	return copies, nil
}

// Backup makes a safe copy in a folder while the shop is in use, looks whether the
// copy is whole, and then removes old copies that are no longer needed: it keeps
// the newest five, one a day for two weeks, one a week for two months and one a
// month for two years. Nothing of a copy that fails is left.
func (s *Shop) Backup(ctx context.Context, folder string) (Copy, error) {
	s.copying.Lock()
	defer s.copying.Unlock()
	made, err := s.backup(ctx, folder)
	if err != nil {
		var ours *Error
		if ctx.Err() != nil {
			return Copy{}, ctx.Err()
		}
		if errors.As(err, &ours) {
			return Copy{}, err
		}
		return Copy{}, &Error{Kind: Internal, Where: folder, Message: fmt.Sprintf("No safe copy could be made in %s: see that the folder may be written and its disk has room.", folder), Err: err}
	}
	return made, s.thin(folder)
}

func (s *Shop) backup(ctx context.Context, folder string) (Copy, error) {
	if err := os.MkdirAll(folder, folderPerm); err != nil {
		return Copy{}, err
	}
	c := Copy{At: s.clock().UTC().Truncate(time.Second)}
	temp, err := newTemp(folder, copyBase(s.path))
	if err != nil {
		return Copy{}, err
	}
	defer os.Remove(temp.Name()) // once it has its name, there is nothing to remove
	err = s.view(func(tx *bbolt.Tx) error {
		if last, _ := tx.Bucket(bucketJournal).Cursor().Last(); last != nil {
			c.Entries = seqOf(last)
		}
		_, err := tx.WriteTo(cancelled{ctx, temp})
		return err
	})
	if err := errors.Join(err, temp.Sync(), temp.Close()); err != nil {
		return Copy{}, err
	}
	end, err := verify(ctx, temp.Name())
	if err != nil {
		return Copy{}, err
	}
	if end.seq != c.Entries {
		return Copy{}, fmt.Errorf("the copy has %d entries of %d", end.seq, c.Entries)
	}
	stem := filepath.Join(folder, fmt.Sprintf("%s-%s-%d", copyBase(s.path), c.At.Format(copyTime), c.Entries))
	c.File = unusedName(stem, copyExt)
	if err := os.Rename(temp.Name(), c.File); err != nil {
		return Copy{}, err
	}
	syncFolder(c.File)
	return c, nil
}

// newTemp makes a hidden file of a shop's own in a folder, and removes what an
// interrupted program left there before.
func newTemp(folder, base string) (*os.File, error) {
	left, err := filepath.Glob(filepath.Join(folder, "."+base+"-unfinished-*"))
	if err != nil {
		return nil, err
	}
	for _, name := range left {
		if err := os.Remove(name); err != nil {
			return nil, err
		}
	}
	return os.CreateTemp(folder, "."+base+"-unfinished-*")
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

// cancelled is a writer that fails once its context is done.
type cancelled struct {
	ctx context.Context
	io.Writer
}

func (c cancelled) Write(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.Writer.Write(p)
}

// journalEnd is the last entry of a journal: its number, and its checksum, which
// the next entry carries.
type journalEnd struct {
	seq uint64
	sum string
}

// verify opens a copy for reading only, checks all of it, and says where its
// journal ends.
func verify(ctx context.Context, path string) (journalEnd, error) {
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
	report, err := s.Check(ctx, nil)
	if err == nil && !report.OK {
		err = errDamaged(path, errors.New(report.Problems[0]))
	}
	return end, err
}

// backupEvery is how old the newest copy may get.
const backupEvery = 24 * time.Hour

// BackupWhenDue makes a safe copy in the shop's own folder for them when something
// was done since the newest one, and that one is a day old or was made by a clock
// that was ahead. Where it is not due, the newest copy is returned.
func (s *Shop) BackupWhenDue(ctx context.Context) (made Copy, due bool, err error) {
	copies, err := Backups(s.path, s.backups)
	if err != nil {
		return Copy{}, false, err
	}
	entries, err := s.Entries(0, 1)
	if err != nil || len(entries) == 0 {
		return Copy{}, false, err
	}
	if len(copies) > 0 {
		age := s.clock().Sub(copies[0].At)
		if copies[0].Entries == entries[0].Seq || age >= 0 && age < backupEvery {
			return copies[0], false, nil
		}
	}
	made, err = s.Backup(ctx, s.backups)
	return made, true, err
}

// thin removes the copies of the shop that are no longer needed.
func (s *Shop) thin(folder string) error {
	copies, err := Backups(s.path, folder)
	if err != nil {
		return err
	}
	for _, c := range unneeded(copies) {
		if err := os.Remove(c.File); err != nil {
			return &Error{Kind: Internal, Where: c.File, Message: fmt.Sprintf("The old copy %s cannot be removed: see that its folder may be written.", c.File), Err: err}
		}
	}
	return nil
}

// unneeded are those of the copies, the newest first, that are not kept.
func unneeded(copies []Copy) []Copy {
	type rule struct {
		most   int
		period func(t time.Time) string
		kept   map[string]bool
	}
	week := func(t time.Time) string { y, w := t.ISOWeek(); return fmt.Sprint(y, w) }
	rules := []rule{
		{14, func(t time.Time) string { return t.Format(time.DateOnly) }, map[string]bool{}},
		{9, week, map[string]bool{}},
		{24, func(t time.Time) string { return t.Format("2006-01") }, map[string]bool{}},
	}
	const newest = 5
	var drop []Copy
	for i, c := range copies {
		keep := i < newest
		for _, r := range rules {
			if p := r.period(c.At); len(r.kept) < r.most && !r.kept[p] {
				r.kept[p] = true
				keep = true
			}
		}
		if !keep {
			drop = append(drop, c)
		}
	}
	return drop
}
