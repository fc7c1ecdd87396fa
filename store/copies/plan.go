package copies

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
	"stowright/store/phrase"
	"stowright/store/progress"
)

// Plan says what restoring would do, before anything is done.
type Plan struct {
	File string // the shop file that would be replaced
	// Copy is what would take its place. Without a File there is no good copy, and
	// the shop would be made anew from the entries that can be read in the file.
	Copy Copy
	Bad  []Copy // newer copies that are damaged themselves
	// Missing are the entries that the file has and the copy lacks, as far as they
	// can be read, the oldest first. They can be put back.
	Missing []store.Entry
	// Lost are photographs and papers among the missing entries whose pictures or files cannot
	// be read in the shop file: they are put back without.
	Lost []store.Kept
	// Cut is how many entries at least come after the missing ones and cannot be put
	// back, since one before them cannot be read.
	Cut uint64
	// store.Difference is what the shop would be otherwise than the file says, were nothing put back.
	Difference store.Difference

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
func (p Plan) Sentence() string {
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
	text += lostWords("What is on photograph ", p.Lost, func(k store.Kept) bool { return k.Paper == 0 })
	text += lostWords("The file of paper ", p.Lost, func(k store.Kept) bool { return k.Paper > 0 })
	if p.Cut > 0 {
		text += fmt.Sprintf(" %d entries after those cannot be put back: what they follow cannot be read.", p.Cut)
	}
	return text
}

// PlanRestore looks for the newest good copy of a shop file in a folder, and for
// what the file holds that the copy lacks. The file may be damaged or missing, and
// must not be open. It is NotFound when there is neither a copy nor an entry.
func PlanRestore(ctx context.Context, file, folder string) (Plan, error) {
	file, err := disk.Resolve(file)
	if err != nil {
		return Plan{}, err
	}
	copies, err := List(file, folder)
	if err != nil {
		return Plan{}, err
	}
	p := newPlan(file, folder)
	for _, c := range copies {
		end, err := store.Verify(ctx, c.File)
		if ctx.Err() != nil {
			return Plan{}, ctx.Err()
		}
		if err != nil {
			p.Bad = append(p.Bad, c)
			continue
		}
		p.Copy, p.end = c, end
		break
	}
	if err := p.look(ctx, nil); err != nil {
		return Plan{}, err
	}
	if p.Copy.File == "" && len(p.read) == 0 {
		return Plan{}, fault.New(fault.NotFound, file, "There is no good copy of %s in %s, and no entry can be read in it: look for a copy elsewhere, and name it.", filepath.Base(file), folder)
	}
	return p, nil
}

// PlanRestore is PlanRestoreFrom of the shop, which is open here.
func (k *Keeper) PlanRestore(ctx context.Context, copyFile string) (Plan, error) {
	return planFrom(ctx, k.shop.File(), k.folder, copyFile, k.shop)
}

// PlanRestoreFrom is PlanRestore with a copy that is named.
func PlanRestoreFrom(ctx context.Context, file, copyFile string) (Plan, error) {
	file, err := disk.Resolve(file)
	if err != nil {
		return Plan{}, err
	}
	return planFrom(ctx, file, Folder(file), copyFile, nil)
}

func planFrom(ctx context.Context, file, folder, copyFile string, now *store.Shop) (Plan, error) {
	end, err := store.Verify(ctx, copyFile)
	if err != nil {
		return Plan{}, err
	}
	info, err := os.Stat(copyFile)
	if err != nil {
		return Plan{}, disk.ErrUnreadable(copyFile, err)
	}
	p := newPlan(file, folder)
	if now != nil {
		p.at = now.Now()
	}
	p.Copy, p.end = copyOf(file, copyFile, info, end), end
	return p, p.look(ctx, now)
}

// newPlan notes how the file is before anything is read of it.
func newPlan(file, folder string) Plan {
	return Plan{File: file, folder: folder, at: time.Now(), seen: fingerprint(file)}
}

// copyOf is a copy that was named: what its name does not say, the file does.
func copyOf(file, copyFile string, info os.FileInfo, end disk.End) Copy {
	if copies, err := List(file, filepath.Dir(copyFile)); err == nil {
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
func (p *Plan) look(ctx context.Context, now *store.Shop) error {
	carved, err := disk.Carve(p.File, p.end.Seq, func(done, size int64) error {
		progress.Report(ctx, "reading what the file still holds", progress.Share(done, size))
		return ctx.Err()
	})
	if err != nil {
		return err
	}
	p.carved = carved
	for _, r := range carved.Follow(p.end) {
		e, err := store.EntryOf(r)
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

// lostWords says of which photographs or papers the picture or the file cannot be read.
func lostWords(what string, lost []store.Kept, of func(store.Kept) bool) string {
	var names []string
	for _, k := range lost {
		if of(k) {
			names = append(names, k.Name())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " " + what + phrase.List(names) + " cannot be read any more."
}

// pictured are the photographs that the entries have made which can be put back.
func (p Plan) pictured() ([]store.Kept, error) { return store.Pictured(p.Missing) }

// lose finds the photographs whose pictures cannot be read in the file.
func (p *Plan) lose() error {
	photos, err := p.pictured()
	if err != nil || len(photos) == 0 {
		return err
	}
	from, err := os.Open(p.File)
	if err != nil {
		return disk.ErrUnreadable(p.File, err)
	}
	defer from.Close()
	for _, photo := range photos {
		if p.carvePicture(from, photo) == nil {
			p.Lost = append(p.Lost, photo)
		}
	}
	return nil
}

// carvePicture puts the picture of a photograph together from parts in the file,
// whatever state that is in; nil when it cannot be.
func (p Plan) carvePicture(from io.ReaderAt, photo store.Kept) []byte {
	picture := p.carved.Blob(from, photo.Number(), photo.Size())
	if photo.Proves(picture) != nil {
		return nil
	}
	return picture
}

// Strange says so where the file is not the shop that its newest copy is of: another
// shop's file has taken its place. It is nil where there is no copy that can be read.
func (k *Keeper) Strange() error {
	list, err := k.List()
	if list = slices.DeleteFunc(list, setAside); err != nil || len(list) == 0 {
		return err
	}
	theirs, err := disk.RecordOf(list[0].File, 1)
	if err != nil || theirs.Seq == 0 {
		return nil // a damaged copy says nothing of the file
	}
	// The first entry of a journal is one that no other shop has.
	if same, err := k.shop.Continues(theirs); err != nil || same {
		return err
	}
	return fault.New(fault.Corrupt, k.shop.File(), "%s is not the shop that its safe copies are of, another shop's file has taken its place: restore a copy, or use the file as it is.", k.shop.File())
}
