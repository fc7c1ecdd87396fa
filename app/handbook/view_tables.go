package handbook

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/app/table"
)

// tablesView browses the tables.
type tablesView struct {
	host  app.Host
	model *TablesModel

	families *look.RowList
	facts    *look.Facts
	series   *fyne.Container
	numbers  *look.RowList
	note     *look.Paragraph
	none     *look.Paragraph
	root     *fyne.Container
}

func newTablesView(s *session.Session, host app.Host, about string) *tablesView {
	v := &tablesView{
		host: host, families: look.NewRowList(FamilyColumns()...), facts: look.NewFacts(), series: look.Rows(0),
		numbers: look.NewRowList(NumberColumns()...), note: look.NewQuiet(""), none: look.NewQuiet("No table answers to that: type fewer letters into the command bar."),
	}
	left := look.Fill(8, v.families, v.none)
	v.root = look.Beside(familiesWidth, left, look.Fill(8, look.Rows(8, v.facts, v.series, v.note, caution()), v.numbers))
	v.model = NewTablesModel(s, v.render)
	v.families.OnChosen = func(i int, _ table.Row) { v.model.Choose(i) }
	v.numbers.OnChosen = func(_ int, row table.Row) { v.model.Show(row.ID) }
	v.numbers.OnOpened = func(_ int, row table.Row) { lookUp(host, row.ID) }
	if about != "" {
		v.model.Filter(about)
	}
	return v
}

// familiesWidth is the width of the list of families, points at normal size.
const familiesWidth = 400

func (v *tablesView) object() fyne.CanvasObject { return v.root }

func (v *tablesView) changed() { v.model.Filter(v.model.State().Filter) }

func (v *tablesView) query(text string) { v.model.Filter(text) }

func (v *tablesView) results() fyne.Focusable { return v.families }

func (v *tablesView) saved() any { return v.model.Place() }

func (v *tablesView) restore(saved any) {
	if place, ok := saved.(TablesPlace); ok {
		v.model.GoTo(place)
	}
}

func (v *tablesView) render(s TablesState) {
	v.families.SetRows(s.Families)
	v.families.Mark(s.Chosen)
	v.families.Hidden, v.none.Hidden = len(s.Families) == 0, len(s.Families) > 0
	v.facts.SetFacts(s.Facts)
	v.series.Objects = nil
	if len(s.Series) > 1 {
		choices := look.NewChoices(s.At, s.Series...)
		choices.OnChosen = func(i int) { v.model.ChooseSeries(i) } // the model is made after the first rendering
		v.series.Objects = []fyne.CanvasObject{choices}
	}
	v.series.Hidden = len(s.Series) < 2
	v.note.SetText(s.Note)
	v.note.Hidden = s.Note == ""
	v.numbers.SetRows(s.Numbers)
	v.numbers.Hidden = len(s.Numbers) == 0
	v.root.Refresh()
	showPiece(v.host, s.Card, lookUpID, findID)
}

// torqueView shows the torque table with its cautions.
type torqueView struct{ root *fyne.Container }

func newTorqueView(s *session.Session, host app.Host) *torqueView {
	list := look.NewRowList(TorqueColumns()...)
	list.SetRows(TorqueRows(s.Catalog()))
	list.SetRowHeight(torqueRow)
	cautions := look.Rows(8, look.NewHeading("Before you turn a wrench"))
	for _, f := range TorqueFacts(s.Catalog()) {
		cautions.Add(look.Rows(0, look.NewText(f.Text), look.NewFoot(f.Source)))
	}
	host.ShowSide(look.NewScroller(cautions))
	return &torqueView{root: look.Fill(12, look.Rows(2, look.NewTitle("Torque"), look.NewQuiet(TorqueTitle)), look.NewNotice(TorqueFirst()), list, caution())}
}

// torqueRow is the height of a row of the torque table, points at normal size.
const torqueRow = 46

func (v *torqueView) object() fyne.CanvasObject { return v.root }

func (v *torqueView) changed() {}
