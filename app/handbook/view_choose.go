package handbook

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
)

// answerPane shows the answer of a chooser: the list, the chosen one cut along its
// axis, what is said of it, and the cautions.
type answerPane struct {
	host Host

	heading  *look.Paragraph
	hint     *look.Paragraph
	problem  *look.Notice
	list     *look.RowList
	picture  *fyne.Container
	facts    *look.Facts
	panel    *look.Panel
	cautions *look.Facts
	root     *fyne.Container
}

func newAnswerPane(host Host, hint string, columns []card.Column) *answerPane {
	p := &answerPane{
		host: host, heading: look.NewTitle(""), hint: look.NewQuiet(hint), problem: look.NewNotice(card.Notice{Tone: card.Stop}),
		list: look.NewRowList(columns...), picture: look.Rows(4), facts: look.NewFacts(), cautions: look.NewFacts(),
	}
	p.list.OnOpened = func(_ int, row card.Row) { lookUp(host, row.ID) }
	p.panel = look.NewPanel(14, look.Rows(10, p.picture, p.facts))
	p.root = split(look.Rows(8, p.heading, p.hint, p.problem), p.list, look.NewScroller(look.Rows(12, p.panel, p.cautions, caution())))
	return p
}

// Room of a section drawing, points at normal size.
const (
	sectionWide = 300
	sectionHigh = 190
)

func (p *answerPane) render(a Answer) {
	p.heading.SetText(a.Heading)
	p.hint.Hidden = len(a.Rows) > 0 || a.Problem != ""
	p.problem.SetNotice(card.Notice{Tone: card.Stop, Text: a.Problem})
	p.problem.Hidden = a.Problem == ""
	p.list.SetRows(a.Rows)
	p.list.Mark(a.Chosen)
	p.list.Hidden = len(a.Rows) == 0
	p.picture.Objects = nil
	if a.Section != nil {
		p.picture.Objects = []fyne.CanvasObject{drawn(*a.Section, sectionWide, sectionHigh), look.NewFoot(a.Section.Caption)}
	}
	p.facts.SetFacts(a.Facts)
	p.panel.Hidden = a.Chosen < 0
	p.cautions.SetFacts(a.Cautions)
	p.root.Refresh()
	showPiece(p.host, a.Card, lookUpID, findID)
}

// boltView chooses a bolt for a stack.
type boltView struct {
	model  *BoltModel
	pane   *answerPane
	series *look.Entry
	stack  *look.Entry
	nuts   *fyne.Container // the choice is made anew for another thread
	other  *look.Entry
	height *look.Entry
	form   *fyne.Container
	root   *fyne.Container
	made   []string // the nuts that can be chosen now
}

func newBoltView(s *session.Session, host Host, stack string) *boltView {
	v := &boltView{
		series: look.NewEntry("AN3, AN4, NAS6203"), stack: look.NewEntry(".125, 3/16"), other: look.NewEntry("a designation"), height: look.NewEntry("of the tables"),
		nuts: look.Rows(0), made: []string{"?"},
	}
	v.pane = newAnswerPane(host, "Give the thickness of each part that the bolt goes through, from the head to the nut. Washers are not counted: the answer says which it takes.", BoltColumns())
	v.series.SetText("AN3")
	head, under := look.NewChoices(0, Washers()...), look.NewChoices(0, Washers()...)
	wired := look.NewChoices(0, "Plain", "Drilled")
	v.form = look.Rows(10,
		look.NewField("Parts, from head to nut", v.stack, "a name may stand before each: spar .125, rib .040"),
		look.NewField("Bolt", v.series, ""),
		look.NewField("Nut", v.nuts, ""), v.other,
		look.NewField("Washer under the head", head, ""),
		look.NewField("Washer under the nut", under, "more are added where the grip asks for them"),
		look.NewField("Head of the bolt", wired, ""),
		look.NewField("Height of the nut, measured", v.height, ""))
	v.root = look.Beside(formWidth, look.NewScroller(look.Inset(2, 2, v.form)), v.pane.root)
	v.model = NewBoltModel(s, v.render)
	v.series.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Series = text }) }
	v.stack.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Stack = text }) }
	v.other.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Other = text }) }
	v.height.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Height = text }) }
	head.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Head = i }) }
	under.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Under = i }) }
	wired.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Wired = i == 1 }) }
	v.pane.list.OnChosen = func(i int, _ card.Row) { v.model.Pick(i) }
	v.stack.SetText(stack)
	s.Loop.Post(func() { look.FocusOn(v.stack) })
	return v
}

func (v *boltView) object() fyne.CanvasObject { return v.root }

func (v *boltView) changed() { v.model.Choose() }

func (v *boltView) results() fyne.Focusable { return v.pane.list }

func (v *boltView) saved() any { return v.model.State().Form }

func (v *boltView) restore(saved any) {
	if form, ok := saved.(BoltForm); ok {
		v.series.SetText(form.Series)
		v.model.Set(form)
		v.stack.SetText(form.Stack)
	}
}

// set changes the form in one place.
func (v *boltView) set(change func(*BoltForm)) {
	form := v.model.State().Form
	change(&form)
	v.model.Set(form)
}

func (v *boltView) render(s BoltState) {
	if !slices.Equal(v.made, s.Nuts) {
		v.made = s.Nuts
		nuts := look.NewChoices(s.Form.Nut, append(append([]string{}, s.Nuts...), "Another")...)
		nuts.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Nut = i }) }
		v.nuts.Objects = []fyne.CanvasObject{nuts}
	}
	v.other.Hidden = s.Form.Nut < len(s.Nuts)
	v.pane.render(s.Answer)
	v.root.Refresh()
}

// rivetView chooses rivets for sheets.
type rivetView struct {
	model  *RivetModel
	pane   *answerPane
	sheets *look.Entry
	root   *fyne.Container
}

func newRivetView(s *session.Session, host Host, sheets string) *rivetView {
	v := &rivetView{sheets: look.NewEntry(".032, .040")}
	v.pane = newAnswerPane(host, "Give the thickness of each sheet. The diameter goes by the thickest one, the length by all of them together.", RivetColumns())
	diameter := look.NewEntry("by the rule")
	material, head := look.NewChoices(0, RivetMaterials()...), look.NewChoices(0, RivetHeads()...)
	form := look.Rows(10,
		look.NewField("Sheets", v.sheets, "a name may stand before each: skin .032"),
		look.NewField("Head", head, ""),
		look.NewField("Material", material, "AD is 2117 with a dimple on its head, the usual one"),
		look.NewField("Diameter, where the plans give it", diameter, "1/8 or .125"))
	v.root = look.Beside(formWidth, look.NewScroller(look.Inset(2, 2, form)), v.pane.root)
	v.model = NewRivetModel(s, v.render)
	v.sheets.OnChanged = func(text string) { v.set(func(f *RivetForm) { f.Sheets = text }) }
	diameter.OnChanged = func(text string) { v.set(func(f *RivetForm) { f.Diameter = text }) }
	material.OnChosen = func(i int) { v.set(func(f *RivetForm) { f.Material = i }) }
	head.OnChosen = func(i int) { v.set(func(f *RivetForm) { f.Head = i }) }
	v.pane.list.OnChosen = func(i int, _ card.Row) { v.model.Pick(i) }
	v.sheets.SetText(sheets)
	s.Loop.Post(func() { look.FocusOn(v.sheets) })
	return v
}

func (v *rivetView) object() fyne.CanvasObject { return v.root }

func (v *rivetView) changed() { v.model.Choose() }

func (v *rivetView) results() fyne.Focusable { return v.pane.list }

func (v *rivetView) saved() any { return v.model.State().Form }

func (v *rivetView) restore(saved any) {
	if form, ok := saved.(RivetForm); ok {
		v.model.Set(form)
		v.sheets.SetText(form.Sheets)
	}
}

// set changes the form in one place.
func (v *rivetView) set(change func(*RivetForm)) {
	form := v.model.State().Form
	change(&form)
	v.model.Set(form)
}

func (v *rivetView) render(s RivetState) {
	v.pane.render(s.Answer)
	v.root.Refresh()
}
