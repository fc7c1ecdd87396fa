package look

import (
	"fyne.io/fyne/v2"

	"stowright/app/folders"
	"stowright/app/notice"
	"stowright/app/table"
)

// Folders is the one dialog in which a file or a folder is chosen: a list that the
// keyboard walks, large enough for gloves. Esc closes it with nothing chosen.
// Fyne's file dialog is plain and not closed by Esc.
type Folders struct {
	model   *folders.Model
	where   *Paragraph
	trouble *Notice
	list    *RowList
	note    *Paragraph
	above   *KeyButton
	do      *KeyButton
	dialog  *Dialog
}

// foldersWidth and foldersHeight are of the dialog and of its list, points at normal
// size. The list is as high in every folder, so that nothing moves under the pointer.
const (
	foldersWidth  = 720
	foldersHeight = 352
)

// NewFolders makes the dialog. Picked is called with the path, when it is closed again.
func NewFolders(ways *folders.Ways, want folders.Want, picked func(path string)) *Folders {
	f := &Folders{where: NewText(""), note: NewFoot(""), trouble: NewNotice(notice.Notice{})}
	f.list = NewRowList(table.Column{}, table.Column{Kind: table.Plain, Width: 90})
	f.model = folders.NewModel(ways, want, f.render, func(path string) {
		f.dialog.Close()
		picked(path)
	})
	f.list.SetRowHeight(44)
	f.list.SetHeight(foldersHeight)
	f.list.OnChosen = func(i int, _ table.Row) { f.model.Choose(i) }
	f.list.OnOpened = func(int, table.Row) { f.model.Open() }
	f.list.OnTappedAgain = f.model.Open
	f.above = NewKeyButton("Folder above", "Left", func() { f.leap(f.model.Above) })
	home := NewKeyButton("Home", "H", func() { f.leap(func() { f.model.Go(ways.Home) }) })
	home.Hidden = ways.Home == ""
	ofShop := NewKeyButton("Folder of the shop", "S", func() { f.leap(func() { f.model.Go(ways.Shop) }) })
	f.do = NewPrimary("Open", "Enter", f.model.Open)
	cancel := NewKeyButton("Cancel", "Esc", func() { f.dialog.Close() })
	f.dialog = NewDialog(want.Title(), Fill(10, f.where, Line(f.above, home, ofShop), f.trouble, f.list, f.note), cancel, f.do)
	f.dialog.SetWidth(foldersWidth)
	f.dialog.OnClosed = f.model.Leave
	return f
}

// leap goes elsewhere. A click on a button takes the keyboard out of the list: it comes
// back.
func (f *Folders) leap(to func()) {
	to()
	FocusOn(f.list)
}

// Open shows the dialog, where a field says, with the keyboard in the list.
func (f *Folders) Open(c fyne.Canvas, field string) {
	f.model.Start(field)
	f.dialog.Open(c, f.list)
}

// Dialog is the dialog itself, begun where a field says, to draw it.
func (f *Folders) Dialog(field string) *Dialog {
	f.model.Start(field)
	return f.dialog
}

// render shows a state.
func (f *Folders) render(s folders.State) {
	f.where.SetText(s.Folder)
	f.trouble.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	f.trouble.Hidden = s.Problem == ""
	f.list.SetRows(s.Rows)
	f.list.Mark(s.Chosen)
	f.note.SetText(s.Note)
	f.above.SetOff(s.Top)
	f.do.SetOff(s.Do == "")
	if s.Do != "" {
		f.do.SetLabel(s.Do)
	}
	f.dialog.Refresh()
}
