package look

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// FilePick is how a file is named: typed or pasted as a path, or looked for in
// the folders. It opens nothing itself.
type FilePick struct {
	widget.BaseWidget
	// OnPicked is told the path, after Enter or from the folders. Blanks and
	// quotes around it and a leading file:// are gone.
	OnPicked func(path string)

	entry   *Entry
	endings []string
	row     *fyne.Container
}

// NewFilePick is an empty path field with its button. Endings such as ".csv" limit
// what the folders show; none shows every file.
func NewFilePick(placeholder string, endings ...string) *FilePick {
	p := &FilePick{entry: NewEntry(placeholder), endings: endings}
	p.entry.OnSubmitted = p.picked
	p.row = Line(p.entry, NewKeyButton("Browse", "", p.Browse))
	p.ExtendBaseWidget(p)
	return p
}

// SetPath puts a path into the field without telling anyone.
func (p *FilePick) SetPath(path string) { p.entry.SetText(path) }

// Path is the path in the field.
func (p *FilePick) Path() string { return CleanPath(p.entry.Text) }

// CleanPath is a path as it was typed, pasted or dropped, without what stands around it.
func CleanPath(text string) string {
	return strings.TrimPrefix(strings.Trim(strings.TrimSpace(text), `"'`), "file://")
}

func (p *FilePick) picked(text string) {
	if path := CleanPath(text); path != "" && p.OnPicked != nil {
		p.OnPicked(path)
	}
}

// Browse shows the folders, from the one that the field names.
func (p *FilePick) Browse() {
	c := canvasOf(p)
	if c == nil {
		return
	}
	f := NewFolders(startFolder(p.Path()), p.endings, ReadFolder)
	f.OnPicked = func(path string) {
		p.entry.SetText(path)
		p.picked(path)
	}
	f.Open(c)
}

func (p *FilePick) held() []fyne.CanvasObject { return []fyne.CanvasObject{p.row} }

// Focusable is the path field, to give the focus to.
func (p *FilePick) Focusable() fyne.Focusable { return p.entry }

// HeightFor is the height of one line, or two on a narrow window.
func (p *FilePick) HeightFor(width float32) float32 { return heightFor(p.row, width) }

// CreateRenderer draws field and button.
func (p *FilePick) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{p.row}}
	r.min = func() fyne.Size { return p.row.MinSize() }
	r.layout = func(size fyne.Size) { place(p.row, 0, 0, size.Width, size.Height) }
	r.refresh = func() { p.row.Refresh() }
	return r.ready(p)
}
