package handbook

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
)

// ownView keeps the builder's own figures.
type ownView struct {
	host  app.Host
	model *OwnModel

	entries  map[string]*look.Entry
	heading  *look.Paragraph
	problems *fyne.Container
	list     *look.RowList
	drop     *look.KeyButton
	root     *fyne.Container
}

func newOwnView(s *session.Session, host app.Host) *ownView {
	v := &ownView{
		host: host, entries: map[string]*look.Entry{}, heading: look.NewTitle(""), problems: look.Rows(6), list: look.NewRowList(OwnColumns()...),
	}
	v.model = NewOwnModel(s, v.render, v.say)
	form := look.Rows(10, v.field("designation", "Number, without letters", "AN7-10"), v.field("source", "Printed standard, page or table", "sheet AN3-AN20, page 2"))
	fields := OwnFields()
	for i := 0; i+1 < len(fields); i += 2 {
		form.Add(look.Columns(8, v.field(fields[i].Name, fields[i].Label, fields[i].Hint), v.field(fields[i+1].Name, fields[i+1].Label, fields[i+1].Hint)))
	}
	form.Add(look.NewPrimary("Keep this row", "Enter", v.model.Keep))
	file := look.NewPathPick(s.Folders, folders.File(".csv"), "figures.csv")
	file.OnPicked = v.model.Bring
	form.Add(look.NewRule())
	form.Add(look.NewField("Or bring a CSV", file, "all of its rows are kept, or none"))
	v.drop = look.NewKeyButton("Take these figures away", "Del", v.dropChosen)
	v.list.OnOpened = func(_ int, row table.Row) { lookUp(host, row.ID) }
	answer := look.Fill(10, look.Rows(4, v.heading, look.NewQuiet(OwnHelp)), v.problems, v.list, look.Rows(8, look.Line(v.drop), caution()))
	v.root = look.Beside(formWidth, look.NewScroller(form), answer)
	host.HideCard()
	v.model.Load()
	return v
}

// field is a labelled field of the form; Enter in it keeps the row.
func (v *ownView) field(name, label, hint string) *look.Field {
	e := newEntry(hint)
	if name != "designation" && name != "source" {
		e = newLength(v.model.session.Lengths(), hint)
	}
	e.OnChanged = func(text string) { v.model.Type(name, text) }
	v.entries[name] = e
	return look.NewField(label, e, "")
}

func (v *ownView) object() fyne.CanvasObject { return v.root }

func (v *ownView) changed() {
	for _, r := range OwnFields() {
		setUnits(v.model.session.Lengths(), v.entries[r.Name])
	}
	v.model.Load()
}

func (v *ownView) results() fyne.Focusable { return v.list }

func (v *ownView) say(words string) {
	v.host.Say(notice.Notice{Tone: notice.OK, Lead: "Done:", Text: words + ". Ctrl+Z undoes it."})
}

func (v *ownView) dropChosen() {
	if row, ok := v.list.Chosen(); ok {
		v.model.Drop(row.ID)
	}
}

func (v *ownView) render(s OwnState) {
	for name, e := range v.entries {
		want := s.Form.Figures[name]
		switch name {
		case "designation":
			want = s.Form.Designation
		case "source":
			want = s.Form.Source
		}
		show(e, want)
	}
	v.heading.SetText(s.Heading)
	v.problems.Objects = nil
	for _, p := range s.Problems {
		v.problems.Add(look.NewNotice(notice.Notice{Tone: notice.Stop, Text: p}))
	}
	v.problems.Hidden = len(s.Problems) == 0
	v.list.SetRows(s.Rows)
	v.list.Hidden, v.drop.Hidden = len(s.Rows) == 0, len(s.Rows) == 0
	v.root.Refresh()
}
