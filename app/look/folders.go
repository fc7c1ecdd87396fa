package look

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app/card"
)

// FolderEntry is one line of a folder.
type FolderEntry struct {
	Name   string
	Folder bool
	Bytes  int64
}

// Folders is a file dialog of this family: a list that the keyboard walks, large
// enough for gloves, closed by Esc.
type Folders struct {
	// OnPicked is told the path of the file that was chosen.
	OnPicked func(path string)

	read    func(dir string) ([]FolderEntry, error)
	endings []string
	dir     string
	where   *Paragraph
	trouble *Notice
	list    *RowList
	dialog  *Dialog
}

// upRow is the row that leads to the folder above.
const upRow = ".."

// NewFolders shows dir through read, which is ReadFolder outside of tests.
func NewFolders(dir string, endings []string, read func(string) ([]FolderEntry, error)) *Folders {
	f := &Folders{read: read, endings: endings, where: NewFoot("")}
	f.trouble = NewNotice(card.Notice{Tone: card.Stop})
	f.trouble.Hide()
	f.list = NewRowList(card.Column{}, card.Column{Kind: card.Plain, Width: 110})
	f.list.SetRowHeight(44)
	f.list.OnOpened = func(_ int, row card.Row) { f.open(row.ID) }
	open := NewPrimary("Open", "Enter", f.openChosen)
	cancel := NewKeyButton("Cancel", "Esc", func() { f.dialog.Close() })
	f.dialog = NewDialog("Choose a file", Fill(8, f.where, f.trouble, f.list), cancel, open)
	f.dialog.SetWidth(720)
	f.show(dir)
	return f
}

// Open shows the dialog with the keyboard in the list.
func (f *Folders) Open(c fyne.Canvas) { f.dialog.Open(c, f.list) }

// Dialog is the dialog itself.
func (f *Folders) Dialog() *Dialog { return f.dialog }

// Folder is the folder that is shown.
func (f *Folders) Folder() string { return f.dir }

// Rows is the list, for tests.
func (f *Folders) Rows() *RowList { return f.list }

func (f *Folders) openChosen() {
	if row, ok := f.list.Chosen(); ok {
		f.open(row.ID)
	}
}

// open goes into a folder or picks a file.
func (f *Folders) open(id string) {
	name, folder := strings.CutPrefix(id, "folder:")
	switch {
	case id == upRow:
		f.show(filepath.Dir(f.dir))
	case folder:
		f.show(filepath.Join(f.dir, name))
	default:
		f.dialog.Close()
		if f.OnPicked != nil {
			f.OnPicked(filepath.Join(f.dir, id))
		}
	}
}

// show lists a folder; one that cannot be read says so and the old one stays.
func (f *Folders) show(dir string) {
	entries, err := f.read(dir)
	f.trouble.Hidden = err == nil
	if err != nil {
		f.trouble.SetNotice(card.Notice{Tone: card.Stop, Text: fmt.Sprintf("This folder cannot be read: %v. Choose another one.", err)})
		if f.dir == "" {
			f.dir = dir
		}
	} else {
		f.dir = dir
		f.list.SetRows(f.rows(entries))
		f.list.Mark(min(0, f.list.Len()-1))
	}
	f.where.SetText(f.dir)
	f.dialog.Refresh()
}

// rows puts the way up first, then folders, then the files with a wanted ending;
// hidden ones are left out.
func (f *Folders) rows(entries []FolderEntry) []card.Row {
	entries = slices.Clone(entries)
	slices.SortFunc(entries, func(a, b FolderEntry) int {
		if a.Folder != b.Folder {
			if a.Folder {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	var rows []card.Row
	if filepath.Dir(f.dir) != f.dir {
		rows = append(rows, card.Row{ID: upRow, Cells: []card.Cell{card.T("the folder above")}, Dim: true})
	}
	for _, e := range entries {
		switch {
		case strings.HasPrefix(e.Name, "."):
		case e.Folder:
			rows = append(rows, card.Row{ID: "folder:" + e.Name, Cells: []card.Cell{card.T(e.Name), card.T("folder")}})
		case f.wanted(e.Name):
			rows = append(rows, card.Row{ID: e.Name, Cells: []card.Cell{card.T(e.Name), card.T(bytesText(e.Bytes))}})
		}
	}
	return rows
}

func (f *Folders) wanted(name string) bool {
	if len(f.endings) == 0 {
		return true
	}
	return slices.ContainsFunc(f.endings, func(e string) bool { return strings.EqualFold(filepath.Ext(name), e) })
}

// bytesText is a file size in the largest unit that gives a whole number.
func bytesText(n int64) string {
	switch {
	case n < 1000:
		return fmt.Sprintf("%d B", n)
	case n < 1000_000:
		return fmt.Sprintf("%d kB", (n+500)/1000)
	default:
		return fmt.Sprintf("%.1f MB", float64(n)/1e6)
	}
}

// mostEntries bounds what is read of one folder.
const mostEntries = 10_000

// ReadFolder lists a folder of the file system, 10,000 entries at most.
func ReadFolder(dir string) ([]FolderEntry, error) {
	d, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	defer d.Close()
	names, err := d.ReadDir(mostEntries)
	if err != nil && !errors.Is(err, io.EOF) { // an empty folder says EOF
		return nil, err
	}
	out := make([]FolderEntry, 0, len(names))
	for _, n := range names {
		info, err := os.Stat(filepath.Join(dir, n.Name())) // follows links
		if err != nil {
			continue // gone meanwhile, or a link to nothing
		}
		out = append(out, FolderEntry{Name: n.Name(), Folder: info.IsDir(), Bytes: info.Size()})
	}
	return out, nil
}

// startFolder is where browsing begins: the folder of a path that is there, or
// else the home folder.
func startFolder(path string) string {
	if info, err := os.Stat(path); path != "" && err == nil {
		if info.IsDir() {
			return filepath.Clean(path)
		}
		return filepath.Dir(path)
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return string(filepath.Separator)
}
