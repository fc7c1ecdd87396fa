package copies

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"stowright/store"
	"stowright/store/disk"
	"stowright/store/fault"
)

// Copy is a safe copy of a shop file.
type Copy struct {
	File    string    `json:"file"`
	At      time.Time `json:"at"`      // when it was made, UTC, to the second
	Entries uint64    `json:"entries"` // in its journal
	Why     Why       `json:"why,omitempty"`
	Bytes   int64     `json:"bytes"`
}

// Why is for what a copy was made.
type Why string

// The reasons for a copy. Copies of earlier versions of the program do not say theirs.
// What was Replaced is not the shop as it went on: a restored file took its place.
const (
	ByHand   Why = "hand"
	Daily    Why = "daily"
	Import   Why = "import"
	Upgrade  Why = "upgrade"
	Replaced Why = "restore"
)

// String is the reason in words: "once a day", "before a packing list".
func (w Why) String() string {
	switch w {
	case ByHand:
		return "by hand"
	case Daily:
		return "once a day"
	case Import:
		return "before a packing list"
	case Upgrade:
		return "before an update"
	case Replaced:
		return "before a restore"
	}
	return "not noted"
}

// String is "14 March 2026 09:00, 123 entries", by the time of day of UTC.
func (c Copy) String() string {
	return fmt.Sprintf("%s %s, %d entries", store.DateOf(c.At), c.At.Format("15:04"), c.Entries)
}

// Folder is where the safe copies of a shop file go unless another folder is named.
func Folder(shopFile string) string { return filepath.Join(filepath.Dir(shopFile), "backups") }

const (
	copyTime = "20060102T150405Z"
)

// copyName is the end of a copy's name: when it was made, how many entries it has,
// and why, so that copies are listed without opening any.
var copyName = regexp.MustCompile(`^-(\d{8}T\d{6}Z)-(\d{1,19})(?:-(hand|daily|import|upgrade|restore))?(?:-(\d{1,9}))?\.stow$`)

// copyStem is the name of a copy without its ending.
func copyStem(shopFile, folder string, c Copy) string {
	stem := fmt.Sprintf("%s-%s-%d", disk.BaseName(shopFile), c.At.Format(copyTime), c.Entries)
	if c.Why != "" {
		stem += "-" + string(c.Why)
	}
	return filepath.Join(folder, stem)
}

// List lists the safe copies of a shop file in a folder, the newest first. They are not
// opened. A folder that is not there holds none.
//
// Newest is what has the most entries, since a journal only grows; what a restored file
// took the place of comes after all others. When a copy was made says nothing of it: a
// clock can be wrong.
func List(shopFile, folder string) ([]Copy, error) {
	files, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, &fault.Error{Kind: fault.Invalid, Where: folder, Message: fmt.Sprintf("The folder %s cannot be read: see that it may be.", folder), Err: err}
	}
	type numbered struct {
		Copy
		number int // of several that have as many entries and were made in the same second
	}
	var list []numbered
	for _, f := range files {
		rest, ours := strings.CutPrefix(f.Name(), disk.BaseName(shopFile))
		parts := copyName.FindStringSubmatch(rest)
		if !ours || parts == nil || !f.Type().IsRegular() {
			continue
		}
		at, err := time.Parse(copyTime, parts[1])
		entries, err2 := strconv.ParseUint(parts[2], 10, 64)
		info, err3 := f.Info() // which fails where it is gone meanwhile
		if err != nil || err2 != nil || err3 != nil {
			continue
		}
		number, _ := strconv.Atoi(parts[4]) // none is 0
		list = append(list, numbered{Copy{File: filepath.Join(folder, f.Name()), At: at, Entries: entries, Why: Why(parts[3]), Bytes: info.Size()}, number})
	}
	slices.SortFunc(list, func(a, b numbered) int {
		return cmp.Or(boolOrder(setAside(b.Copy), setAside(a.Copy)), cmp.Compare(b.Entries, a.Entries), cmp.Compare(b.number, a.number), cmp.Compare(b.File, a.File))
	})
	copies := make([]Copy, 0, len(list))
	for _, c := range list {
		copies = append(copies, c.Copy)
	}
	return copies, nil
}

// thin removes the copies of the shop that are no longer needed. What was kept when
// another copy took its place stays: it may be all that there is of later work.
func thin(shopFile, folder string) error {
	copies, err := List(shopFile, folder)
	if err != nil {
		return err
	}
	copies = slices.DeleteFunc(copies, setAside)
	for _, c := range unneeded(copies) {
		if err := os.Remove(c.File); err != nil {
			return &fault.Error{Kind: fault.Internal, Where: c.File, Message: fmt.Sprintf("The old copy %s cannot be removed: see that its folder may be written.", c.File), Err: err}
		}
	}
	return nil
}

// mostCopies is how many bytes the copies beside the newest five may take with those:
// with its photographs a shop can be large, and its copies must not fill the disk.
const mostCopies = 8 << 30

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
	var bytes int64 // of those kept
	var drop []Copy
	for i, c := range copies {
		keep := i < newest
		for _, r := range rules {
			if p := r.period(c.At); len(r.kept) < r.most && !r.kept[p] {
				r.kept[p] = true
				keep = true
			}
		}
		if !keep || i >= newest && bytes+c.Bytes > mostCopies {
			drop = append(drop, c)
			continue
		}
		bytes += c.Bytes
	}
	return drop
}

// setAside reports whether a copy is what another file took the place of.
func setAside(c Copy) bool { return c.Why == Replaced }

// boolOrder puts what is true first.
func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}
