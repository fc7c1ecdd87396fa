package store

import (
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"stowright/store/disk"
)

// RestorePlan says what restoring would do, before anything is done.
type RestorePlan struct {
	File string // the shop file that would be replaced
	// Copy is what would take its place. Without a File there is no good copy, and
	// the shop would be made anew from the entries that can be read in the file.
	Copy Copy
	Bad  []Copy // newer copies that are damaged themselves
	// Missing are the entries that the file has and the copy lacks, as far as they
	// can be read, the oldest first. They can be put back.
	Missing []Entry
	// Lost are photographs among the missing entries whose pictures cannot be read in
	// the file: they are put back without.
	Lost []Photo
	// Cut is how many entries at least come after the missing ones and cannot be put
	// back, since one before them cannot be read.
	Cut uint64
	// Difference is what the shop would be otherwise than the file says, were nothing put back.
	Difference Difference

	at     time.Time // of planning
	seen   []byte    // the file at that time: see fingerprint
	whole  bool      // the file can be opened: entries says how many it has
	newest uint64    // entry of a whole file
	empty  bool      // nothing was ever done in the file: it need not be kept
	folder string    // where copies are
	end    disk.End
	read   []disk.Record // of the missing entries
	carved *disk.Carved
}

// Sentence says the plan to a person.
func (p RestorePlan) Sentence() string {
	text := "The newest good copy is of " + p.Copy.String() + "."
	if p.Copy.File == "" {
		text = "There is no good copy."
	}
	switch n := len(p.Missing); {
	case n == 0 && p.Copy.File != "":
		text += " No later entry can be read in " + filepath.Base(p.File) + "."
	case n == 1:
		text += " One later entry can be read in " + filepath.Base(p.File) + " and put back: " + p.Missing[0].Text + "."
	default:
		text = fmt.Sprintf("%s %d later entries can be read in %s and put back: from %q to %q.", text, n, filepath.Base(p.File), p.Missing[0].Text, p.Missing[n-1].Text)
	}
	var lost []string
	for _, photo := range p.Lost {
		lost = append(lost, photo.Name())
	}
	if len(lost) > 0 {
		text += " What is on photograph " + joinNames(lost) + " cannot be read any more."
	}
	if p.Cut > 0 {
		text += fmt.Sprintf(" %d entries after those cannot be put back: what they follow cannot be read.", p.Cut)
	}
	return text
}

// PlanRestore looks for the newest good copy of a shop file in a folder, and for
// what the file holds that the copy lacks. The file may be damaged or missing, and
// must not be open. It is NotFound when there is neither a copy nor an entry.
func PlanRestore(ctx context.Context, file, folder string) (RestorePlan, error) {
	copies, err := Backups(file, folder)
	if err != nil {
		return RestorePlan{}, err
	}
	slices.SortStableFunc(copies, func(a, b Copy) int { return boolOrder(setAside(a), setAside(b)) })
	p := newPlan(file, folder)
	for _, c := range copies {
		end, err := verify(ctx, c.File)
		if ctx.Err() != nil {
			return RestorePlan{}, ctx.Err()
		}
		if err != nil {
			p.Bad = append(p.Bad, c)
			continue
		}
		p.Copy, p.end = c, end
		break
	}
	if err := p.look(ctx, nil); err != nil {
		return RestorePlan{}, err
	}
	if p.Copy.File == "" && len(p.read) == 0 {
		return RestorePlan{}, fail(NotFound, file, "There is no good copy of %s in %s, and no entry can be read in it: look for a copy elsewhere, and name it.", filepath.Base(file), folder)
	}
	return p, nil
}

// PlanRestore is PlanRestoreFrom of a shop that is open here.
func (s *Shop) PlanRestore(ctx context.Context, copyFile string) (RestorePlan, error) {
	return planFrom(ctx, s.File(), s.backups, copyFile, s)
}

// PlanRestoreFrom is PlanRestore with a copy that is named.
func PlanRestoreFrom(ctx context.Context, file, copyFile string) (RestorePlan, error) {
	return planFrom(ctx, file, BackupFolder(file), copyFile, nil)
}

func planFrom(ctx context.Context, file, folder, copyFile string, now *Shop) (RestorePlan, error) {
	end, err := verify(ctx, copyFile)
	if err != nil {
		return RestorePlan{}, err
	}
	info, err := os.Stat(copyFile)
	if err != nil {
		return RestorePlan{}, disk.ErrUnreadable(copyFile, err)
	}
	p := newPlan(file, folder)
	if now != nil {
		p.at = now.Now()
	}
	p.Copy, p.end = copyOf(file, copyFile, info, end), end
	return p, p.look(ctx, now)
}

// newPlan notes how the file is before anything is read of it.
func newPlan(file, folder string) RestorePlan {
	return RestorePlan{File: file, folder: folder, at: time.Now(), seen: fingerprint(file)}
}

// copyOf is a copy that was named: what its name does not say, the file does.
func copyOf(file, copyFile string, info os.FileInfo, end disk.End) Copy {
	if copies, err := Backups(file, filepath.Dir(copyFile)); err == nil {
		for _, c := range copies {
			if c.File == copyFile {
				return c
			}
		}
	}
	return Copy{File: copyFile, At: info.ModTime().UTC(), Entries: end.Seq, Bytes: info.Size()}
}

// look reads what follows the copy in the file, and what would be otherwise. Now is the
// shop where it is open here; nil where the file is not.
func (p *RestorePlan) look(ctx context.Context, now *Shop) error {
	carved, err := disk.Carve(p.File, p.end.Seq, func(done, size int64) error {
		tellProgress(ctx, "reading what the file still holds", share(done, size))
		return ctx.Err()
	})
	if err != nil {
		return err
	}
	p.carved = carved
	for _, r := range carved.Follow(p.end) {
		e, err := decode[Entry](r.Body)
		if err != nil {
			break // no entry of this program's: nothing can follow it
		}
		p.read, p.Missing = append(p.read, r), append(p.Missing, e)
	}
	if last := p.end.Seq + uint64(len(p.read)); carved.Highest() > last {
		p.Cut = carved.Highest() - last
	}
	if err := p.lose(); err != nil {
		return err
	}
	return p.compare(ctx, now)
}

// photos are those that entries to be put back have made.
func (p RestorePlan) photos() (pictured, error) {
	photos := pictured{}
	for _, e := range p.Missing {
		if e.Verb != VerbPhoto {
			continue // an undo or redo brings no picture
		}
		for _, c := range e.Changes {
			if c.Before != nil {
				continue
			}
			if err := photos.note(c); err != nil {
				return nil, err
			}
		}
	}
	return photos, nil
}

// lose finds the photographs whose pictures cannot be read in the file.
func (p *RestorePlan) lose() error {
	photos, err := p.photos()
	if err != nil || len(photos) == 0 {
		return err
	}
	from, err := os.Open(p.File)
	if err != nil {
		return disk.ErrUnreadable(p.File, err)
	}
	defer from.Close()
	for _, number := range slices.Sorted(maps.Keys(photos)) {
		if p.carvePicture(from, photos[number]) == nil {
			p.Lost = append(p.Lost, photos[number])
		}
	}
	return nil
}

// carvePicture puts the picture of a photograph together from parts in the file,
// whatever state that is in; nil when it cannot be.
func (p RestorePlan) carvePicture(from io.ReaderAt, photo Photo) []byte {
	picture := p.carved.Blob(from, photo.Number, photo.Bytes)
	if photo.proves(picture) != nil {
		return nil
	}
	return picture
}

// setAside says that a copy is what another copy took the place of: not the shop as it
// went on, unless nothing else is there.
func setAside(c Copy) bool { return c.Why == BeforeRestore }

// Strange says so where the file is not the shop that its newest copy is of: another
// shop's file has taken its place. It is nil where there is no copy that can be read.
func (s *Shop) Strange() error {
	copies, err := Backups(s.File(), s.backups)
	if copies = slices.DeleteFunc(copies, setAside); err != nil || len(copies) == 0 {
		return err
	}
	mine, err := s.firstEntry()
	if err != nil {
		return err
	}
	c, err := openCopy(copies[0].File)
	if err != nil {
		return nil // a damaged copy says nothing of the file
	}
	defer func() { _ = c.Close() }() // it was only read
	if theirs, err := c.firstEntry(); err != nil || theirs == "" || mine == theirs {
		return nil
	}
	return fail(Corrupt, s.File(), "%s is not the shop that its safe copies are of, another shop's file has taken its place: restore a copy, or use the file as it is.", s.File())
}

// firstEntry is the checksum of the first entry of the journal, which no other shop has;
// empty for none.
func (s *Shop) firstEntry() (sum string, err error) {
	err = s.view(func(tx *disk.Tx) error {
		first, _, err := tx.Record(1)
		sum = first.Sum
		return err
	})
	return sum, err
}
