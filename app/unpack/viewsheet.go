package unpack

import (
	"fmt"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// sheetView prints a check-off sheet and enters what was ticked on it.
type sheetView struct {
	model *SheetModel
	host  app.Host

	setting bool // the field is being filled by the program
	name    *look.Paragraph
	note    *look.Paragraph
	ask     *look.Paragraph
	field   *look.Entry
	problem *look.Notice
	said    *look.Notice
	rows    *look.RowList
	enter   *look.KeyButton
	hint    *look.Paragraph
	path    *look.PathPick
	saving  *fyne.Container
	root    *fyne.Container
}

func newSheetView(s *session.Session, host app.Host, about string) *sheetView {
	v := &sheetView{
		host: host, name: look.NewTitle("Check-off sheet"), note: look.NewQuiet(""), ask: look.NewHeading(""),
		field: look.NewEntry("how many; a for all, n for none; nothing: not ticked"), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		said: look.NewNotice(notice.Notice{}), rows: look.NewRowList(SheetColumns()...),
		path: look.NewPathPick(s.Folders, folders.NewFile("sheet.pdf"), "where to save the sheet"),
	}
	v.model = NewSheetModel(s, about, s.Folders.ToWrite(), v.render, v.entered)
	v.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	v.rows.OnChosen = func(i int, _ table.Row) { v.model.Choose(i) }
	v.rows.SetRowHeight(46)
	v.field.OnChanged = v.typed
	v.field.OnSubmitted = func(string) { v.next() }
	v.field.OnDown = v.next
	v.path.OnPicked = v.model.Save
	v.enter = look.NewPrimary("Enter the column", "E", v.model.Enter)
	v.hint = look.NewFoot("Enter goes down the column; Esc leaves the field, then E enters all of it as one entry, which one Undo takes back.")
	v.saving = look.Line(v.path, look.NewKeyButton("Save the sheet", "S", func() { v.model.Save(v.path.Path()) }))
	v.root = look.Fill(10, v.name, v.note, v.ask, v.field, v.problem, v.rows, v.hint, v.said, look.Line(v.enter), v.saving)
	host.HideCard()
	v.model.Load()
	s.Loop.Post(func() { look.FocusOn(v.field) })
	return v
}

func (v *sheetView) object() fyne.CanvasObject { return v.root }
func (v *sheetView) title() string             { return "Check-off sheet" }
func (v *sheetView) changed()                  { v.model.Load() }

func (v *sheetView) key(key string) bool {
	switch key {
	case "Up":
		v.model.Choose(v.model.State().Row - 1)
	case "Down", "Enter":
		v.next()
	default:
		return false
	}
	look.FocusOn(v.field)
	return true
}

func (v *sheetView) typed(text string) {
	if !v.setting {
		v.model.Type(text)
	}
}

// next goes on down the column; behind its end the field is left, and E enters it.
func (v *sheetView) next() {
	last := v.model.State().Row == len(v.model.State().Rows)-1
	v.model.Next()
	if last && v.model.State().Problem == "" {
		v.host.Rest()
		return
	}
	look.FocusOn(v.field)
}

func (v *sheetView) entered(shipment string) {
	v.host.Go(routes.Route{Screen: routes.Unpack, About: shipment})
}

// render shows a state.
func (v *sheetView) render(s SheetState) {
	v.name.SetText(s.Title)
	v.note.SetText(s.Note)
	v.note.Hidden = s.Note == ""
	v.ask.SetText(s.Ask)
	none := len(s.Rows) == 0 && !s.Loading
	if none {
		v.ask.SetText("Nothing is left to check in it.")
	}
	v.field.Hidden, v.rows.Hidden, v.hint.Hidden, v.enter.Hidden, v.saving.Hidden = none, none, none, none, none
	if v.field.Text != s.Text {
		v.setting = true
		v.field.SetText(s.Text)
		v.field.CursorColumn = len([]rune(s.Text))
		v.setting = false
	}
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	v.problem.Hidden = s.Problem == ""
	v.rows.SetRows(s.Rows)
	v.rows.Mark(s.Row)
	v.enter.SetOff(s.Filled == 0)
	v.enter.SetLabel(fmt.Sprintf("Enter %d of %d lines", s.Filled, len(s.Rows)))
	n := notice.Notice{Tone: notice.OK, Text: s.Said}
	if s.Error != "" {
		n = notice.Notice{Tone: notice.Stop, Text: s.Error}
	}
	v.said.SetNotice(n)
	v.said.Hidden = n.Text == ""
	if v.path.Path() == "" && s.Path != "" {
		v.path.SetPath(s.Path)
	}
	v.root.Refresh()
}
