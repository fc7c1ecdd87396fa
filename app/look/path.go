package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"stowright/app/folders"
)

// PathPick is how a file or a folder is named, everywhere: typed or pasted as a
// path, or chosen in the folders, which fills the same field. It opens nothing
// itself. It is made of the widgets here: Fyne has no field for a path.
type PathPick struct {
	widget.BaseWidget
	// OnPicked is called with the path after Enter; and when it was chosen, unless something is
	// written there: then the field has it, for Enter or a button of the page.
	OnPicked func(path string)

	ways  *folders.Ways
	want  folders.Want
	entry *Entry
	row   *fyne.Container
}

// NewPathPick is an empty path field with its button.
func NewPathPick(ways *folders.Ways, want folders.Want, placeholder string) *PathPick {
	p := &PathPick{ways: ways, want: want, entry: NewEntry(placeholder)}
	p.entry.OnSubmitted = func(string) { p.picked() }
	p.row = Line(p.entry, NewKeyButton("Choose", "F5", p.Choose))
	p.ExtendBaseWidget(p)
	return p
}

// SetPath puts a path into the field without telling anyone.
func (p *PathPick) SetPath(path string) { p.entry.SetText(p.ways.Short(path)) }

// Path is the path in the field, "" for none.
func (p *PathPick) Path() string { return p.ways.Clean(p.entry.Text) }

func (p *PathPick) picked() {
	if path := p.Path(); path != "" && p.OnPicked != nil {
		p.OnPicked(path)
	}
}

// Choose shows the folders, from where the field says.
func (p *PathPick) Choose() {
	if c := canvasOf(p); c != nil {
		NewFolders(p.ways, p.want, p.chosen).Open(c, p.entry.Text)
	}
}

func (p *PathPick) chosen(path string) {
	p.SetPath(path)
	if p.want.Writes() {
		FocusOn(p.entry)
		return
	}
	p.picked()
}

func (p *PathPick) held() []fyne.CanvasObject { return []fyne.CanvasObject{p.row} }

// Focusable is the path field, to give the focus to.
func (p *PathPick) Focusable() fyne.Focusable { return p.entry }

// HeightFor is the height of one line, or two on a narrow window.
func (p *PathPick) HeightFor(width float32) float32 { return heightFor(p.row, width) }

// CreateRenderer draws field and button.
func (p *PathPick) CreateRenderer() fyne.WidgetRenderer {
	r := &drawn{objects: []fyne.CanvasObject{p.row}}
	r.min = func() fyne.Size { return p.row.MinSize() }
	r.layout = func(size fyne.Size) { place(p.row, 0, 0, size.Width, size.Height) }
	r.refresh = func() { p.row.Refresh() }
	return r.ready(p)
}

// PathQuestion asks for a path in a dialog of its own.
type PathQuestion struct {
	Title string
	Label string // over the field
	Hint  string
	Do    string // the button that goes on, with Enter
	Want  folders.Want
	Path  string // proposed
}

// pathDialog is the question while it is open.
type pathDialog struct {
	PathQuestion
	ways   *folders.Ways
	take   func(path string)
	field  *Field
	dialog *Dialog
}

// AskPath asks for a path through the window's Ask. One that cannot be taken is refused
// in the dialog; take is called with another when the dialog is closed.
func AskPath(ways *folders.Ways, q PathQuestion, ask func(d *Dialog, first fyne.Focusable), take func(path string)) {
	d := &pathDialog{PathQuestion: q, ways: ways, take: take}
	pick := NewPathPick(ways, q.Want, "type a path, or choose one")
	pick.SetPath(q.Path)
	pick.OnPicked = d.check
	d.field = NewField(q.Label, pick, q.Hint)
	d.dialog = NewDialog(q.Title, d.field, NewKeyButton("Cancel", "Esc", func() { d.dialog.Close() }), NewPrimary(q.Do, "Enter", pick.picked))
	d.dialog.SetWidth(foldersWidth)
	ask(d.dialog, pick.entry)
	pick.entry.SelectAll()
}

func (d *pathDialog) check(path string) {
	d.ways.Check(path, d.Want, func(problem string) { d.checked(path, problem) })
}

// checked takes the path, or says why it cannot be taken.
func (d *pathDialog) checked(path, problem string) {
	switch {
	case d.dialog.canvas == nil: // closed meanwhile
	case problem != "":
		d.field.SetProblem(problem)
		d.dialog.Refresh()
	default:
		d.dialog.Close()
		d.take(path)
	}
}
