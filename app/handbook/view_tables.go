package handbook

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/app/table"
)

// tablesView browses the tables: a field to search, the families with how well they
// are known, and beside them what is known of one.
type tablesView struct {
	host  app.Host
	model *TablesModel

	field    *look.Entry
	breadth  *look.Paragraph
	families *look.RowList
	title    *look.Paragraph
	facts    *look.Facts
	series   *fyne.Container
	numbers  *look.RowList
	note     *look.Paragraph
	none     *look.Paragraph
	details  *look.Scroller
	right    *fyne.Container
	root     *fyne.Container
	quietly  bool // the field is being changed by the view
}

func newTablesView(s *session.Session, host app.Host, about string) *tablesView {
	v := &tablesView{
		host: host, field: newEntry("family, kind or number: clamp, AN365, blind rivet, AN742-6 ..."), breadth: look.NewQuiet(""),
		families: look.NewRowList(FamilyColumns()...), title: look.NewHeading(""), facts: look.NewFacts(), series: look.Rows(0),
		numbers: look.NewRowList(NumberColumns()...), note: look.NewQuiet(""), none: look.NewQuiet(""),
	}
	v.details = look.NewScroller(look.Rows(8, v.series, v.facts, caution()))
	v.right = split(look.Rows(8, v.title, v.note), v.numbers, v.details)
	v.root = look.Fill(10, v.field, v.breadth, look.Beside(familiesWidth, look.Fill(8, v.families, v.none), v.right))
	v.model = NewTablesModel(s, v.render)
	v.field.OnChanged = v.typed
	v.field.OnSubmitted = host.Command // a tag may have been scanned into it
	v.field.OnDown = func() { look.FocusOn(v.families) }
	v.families.OnChosen = func(i int, _ table.Row) { v.choose(i) }
	v.numbers.OnChosen = func(_ int, row table.Row) { v.model.Show(row.ID) }
	v.numbers.OnOpened = func(_ int, row table.Row) { lookUp(host, row.ID) }
	if about != "" {
		v.query(about)
	} else {
		s.Loop.Post(func() { look.FocusOn(v.field) })
	}
	return v
}

// familiesWidth is the width of the list of families, points at normal size.
const familiesWidth = 430

func (v *tablesView) object() fyne.CanvasObject { return v.root }

func (v *tablesView) changed() { v.model.Filter(v.model.State().Filter) }

// typed follows the field.
func (v *tablesView) typed(text string) {
	if !v.quietly {
		v.model.Filter(text)
	}
}

// query shows what was typed into the command bar.
func (v *tablesView) query(text string) {
	v.quietly = true
	v.field.SetText(text)
	v.quietly = false
	v.model.Filter(text)
}

// choose shows another family from its top.
func (v *tablesView) choose(index int) {
	v.details.ToTop()
	v.model.Choose(index)
}

func (v *tablesView) results() fyne.Focusable { return v.families }

func (v *tablesView) saved() any { return v.model.Place() }

func (v *tablesView) restore(saved any) {
	if place, ok := saved.(TablesPlace); ok {
		v.quietly = true
		v.field.SetText(place.Filter)
		v.quietly = false
		v.model.GoTo(place)
	}
}

func (v *tablesView) render(s TablesState) {
	v.breadth.SetText(s.Breadth)
	v.families.SetRows(s.Families)
	v.families.Mark(s.Chosen)
	v.none.SetText(s.None)
	v.families.Hidden, v.none.Hidden = len(s.Families) == 0, len(s.Families) > 0
	v.right.Hidden = len(s.Families) == 0
	v.title.SetText(s.Title)
	v.facts.SetFacts(s.Facts)
	v.series.Objects = nil
	v.series.Hidden = len(s.Series) < 2 || len(s.Numbers) == 0
	if !v.series.Hidden {
		choices := look.NewChoices(s.At, s.Series...)
		choices.OnChosen = func(i int) { v.model.ChooseSeries(i) } // the model is made after the first rendering
		v.series.Objects = []fyne.CanvasObject{choices}
	}
	v.note.SetText(s.Note)
	v.note.Hidden = s.Note == ""
	v.numbers.SetRows(s.Numbers)
	v.numbers.Hidden = len(s.Numbers) == 0
	v.numbers.Mark(slices.IndexFunc(s.Numbers, func(r table.Row) bool { return r.ID == s.Number }))
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
