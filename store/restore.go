package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
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

	end  journalEnd
	read []carved
	// parts are where parts of pictures seem to begin in the file, by picture and index.
	parts map[uint64]map[int][]int64
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
	p := RestorePlan{File: file}
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
	if err := p.look(ctx); err != nil {
		return RestorePlan{}, err
	}
	if p.Copy.File == "" && len(p.read) == 0 {
		return RestorePlan{}, fail(NotFound, file, "There is no good copy of %s in %s, and no entry can be read in it: look for a copy elsewhere, and name it.", filepath.Base(file), folder)
	}
	return p, nil
}

// PlanRestoreFrom is PlanRestore with a copy that is named.
func PlanRestoreFrom(ctx context.Context, file, copyFile string) (RestorePlan, error) {
	end, err := verify(ctx, copyFile)
	if err != nil {
		return RestorePlan{}, err
	}
	info, err := os.Stat(copyFile)
	if err != nil {
		return RestorePlan{}, errUnreadable(copyFile, err)
	}
	p := RestorePlan{File: file, Copy: Copy{File: copyFile, At: info.ModTime().UTC(), Entries: end.seq}, end: end}
	return p, p.look(ctx)
}

// look reads what follows the copy in the file.
func (p *RestorePlan) look(ctx context.Context) error {
	p.parts = map[uint64]map[int][]int64{}
	found, err := carve(ctx, p.File, p.end.seq, func(found part, offset int64) {
		if p.parts[found.picture] == nil {
			p.parts[found.picture] = map[int][]int64{}
		}
		p.parts[found.picture][found.index] = append(p.parts[found.picture][found.index], offset)
	})
	if err != nil {
		return err
	}
	p.read = follow(found, p.end)
	for _, c := range p.read {
		p.Missing = append(p.Missing, c.Entry)
	}
	return p.lose()
}

// Restore does what a plan says: the copy takes the place of the file, with the
// missing entries put back where putBack is true. The file as it was is kept under
// the name that is returned, which is empty when there was none. Until all of it is
// known to be whole, nothing is replaced.
func Restore(ctx context.Context, p RestorePlan, putBack bool) (aside string, err error) {
	if db, err := openBolt(p.File, true); err == nil {
		_ = guarded(p.File, db.Close)
	} else if KindOf(err) == Busy {
		return "", err
	}
	temp, err := p.build(ctx, putBack)
	if err != nil {
		return "", err
	}
	defer os.Remove(temp) // once it has its name, there is nothing to remove
	if _, err := os.Lstat(p.File); err == nil {
		aside = unusedName(p.File+".before-restore", "")
		if err := keepAside(p.File, aside); err != nil {
			return "", errNotRestored(p.File, err)
		}
	}
	if err := os.Rename(temp, p.File); err != nil {
		return aside, errNotRestored(p.File, err)
	}
	syncFolder(p.File)
	return aside, nil
}

func errNotRestored(file string, cause error) error {
	return &Error{Kind: Internal, Where: file, Message: fmt.Sprintf("%s could not be restored, and is as it was: see that its folder may be written and its disk has room.", file), Err: cause}
}

// keepAside gives a file a second name, so that there is no moment without it;
// where the disk knows no second names, it is renamed.
func keepAside(file, aside string) error {
	if err := os.Link(file, aside); err == nil {
		return nil
	}
	return os.Rename(file, aside)
}

// build makes the restored file under a name of its own beside the one it replaces.
func (p RestorePlan) build(ctx context.Context, putBack bool) (temp string, err error) {
	if err := makeFolder(p.File); err != nil {
		return "", err
	}
	f, err := newTemp(filepath.Dir(p.File), copyBase(p.File))
	if err != nil {
		return "", errNotRestored(p.File, err)
	}
	defer func() {
		if err != nil {
			_ = os.Remove(f.Name())
		}
	}()
	if err := errors.Join(p.copyInto(f), f.Sync(), f.Close()); err != nil {
		return "", errNotRestored(p.File, err)
	}
	s, err := openShop(f.Name(), Options{}, false)
	if err != nil {
		return "", err
	}
	err = s.rebuild(ctx, p, putBack || p.Copy.File == "")
	if err := errors.Join(err, s.Close()); err != nil {
		return "", asError(err)
	}
	if _, err := verify(ctx, f.Name()); err != nil {
		return "", err
	}
	return f.Name(), nil
}

func (s *Shop) rebuild(ctx context.Context, p RestorePlan, putBack bool) error {
	if _, err := s.prepare(s.path); err != nil {
		return err
	}
	if err := s.migrate(); err != nil || !putBack {
		return err
	}
	if err := s.putBack(ctx, p.read); err != nil {
		return err
	}
	photos, err := p.photos()
	if err != nil || len(photos) == 0 {
		return err
	}
	from, err := os.Open(p.File)
	if err != nil {
		return errUnreadable(p.File, err)
	}
	defer from.Close()
	return s.takePictures(ctx, photos, func(photo Photo) ([]byte, error) { return p.carvePicture(from, photo), nil })
}

// photos are those that entries to be put back have made.
func (p RestorePlan) photos() (pictured, error) {
	photos := pictured{}
	for _, e := range p.read {
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
		return errUnreadable(p.File, err)
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
	var picture []byte
	for i := range (photo.Bytes + partSize - 1) / partSize {
		raw := carvePart(from, p.parts[photo.Number][i])
		if raw == nil {
			return nil
		}
		picture = append(picture, raw...)
	}
	if photo.proves(picture) != nil {
		return nil
	}
	return picture
}

// carvePart reads the first whole part at one of the offsets.
func carvePart(from io.ReaderAt, offsets []int64) []byte {
	buf := make([]byte, partHead+partSize+1)
	for _, at := range offsets {
		n, err := from.ReadAt(buf, at)
		if err != nil && !errors.Is(err, io.EOF) {
			continue
		}
		head, ok := partAt(buf[:n])
		if !ok || head.length() > n {
			continue
		}
		if _, raw, err := openPart(buf[:head.length()]); err == nil {
			return raw
		}
	}
	return nil
}

func (p RestorePlan) copyInto(w io.Writer) error {
	if p.Copy.File == "" {
		return nil // an empty file is a new one
	}
	from, err := os.Open(p.Copy.File)
	if err != nil {
		return err
	}
	defer from.Close()
	_, err = io.Copy(w, from)
	return err
}
