package handbook

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
)

// answerPane shows the answer of a chooser: the list, the chosen one cut along its
// axis, what is said of it, and the cautions.
type answerPane struct {
	host app.Host

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

func newAnswerPane(host app.Host, hint string, columns []table.Column) *answerPane {
	p := &answerPane{
		host: host, heading: look.NewTitle(""), hint: look.NewQuiet(hint), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		list: look.NewRowList(columns...), picture: look.Rows(4), facts: look.NewFacts(), cautions: look.NewFacts(),
	}
	p.list.OnOpened = func(_ int, row table.Row) { lookUp(host, row.ID) }
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
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: a.Problem})
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
	nuts   *fyne.Container // built again for another thread
	other  *look.Entry
	height *look.Entry
	head   *look.Choices
	under  *look.Choices
	wired  *look.Choices
	root   *fyne.Container
	made   []string // the nuts that can be chosen now
}

func newBoltView(s *session.Session, host app.Host, stack string) *boltView {
	v := &boltView{
		series: newEntry("AN3, AN4, NAS6203"), stack: newLength(s.Lengths(), "1/8, 3/16"), other: newEntry("a designation"), height: newLength(s.Lengths(), "of the tables"),
		nuts: look.Rows(0), made: []string{"?"}, head: look.NewChoices(0, Washers()...), under: look.NewChoices(0, Washers()...),
		wired: look.NewChoices(0, "Plain", "Drilled"),
	}
	v.pane = newAnswerPane(host, "Give the thickness of each part that the bolt goes through, from the head to the nut. Washers are not counted: the answer says which it takes.", BoltColumns())
	form := look.Rows(10,
		look.NewField("Parts, from head to nut", v.stack, "a name may stand before each: spar .125 in, rib 1 mm"),
		look.NewField("Bolt", v.series, ""),
		look.NewField("Nut", v.nuts, ""), v.other,
		look.NewField("Washer under the head", v.head, ""),
		look.NewField("Washer under the nut", v.under, "more are added where the grip asks for them"),
		look.NewField("Head of the bolt", v.wired, ""),
		look.NewField("Height of the nut, measured", v.height, ""))
	v.root = look.Beside(formWidth, look.NewScroller(form), v.pane.root)
	v.model = NewBoltModel(s, v.render)
	v.series.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Series = text }) }
	v.stack.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Stack = text }) }
	v.other.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Other = text }) }
	v.height.OnChanged = func(text string) { v.set(func(f *BoltForm) { f.Height = text }) }
	v.head.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Head = i }) }
	v.under.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Under = i }) }
	v.wired.OnChosen = func(i int) { v.set(func(f *BoltForm) { f.Wired = i == 1 }) }
	v.pane.list.OnChosen = func(i int, _ table.Row) { v.model.Pick(i) }
	v.stack.SetText(stack)
	s.Loop.Post(func() { look.FocusOn(v.stack) })
	return v
}

func (v *boltView) object() fyne.CanvasObject { return v.root }

func (v *boltView) changed() {
	setUnits(v.model.session.Lengths(), v.stack, v.height)
	v.model.Choose()
}

func (v *boltView) results() fyne.Focusable { return v.pane.list }

func (v *boltView) saved() any { return v.model.State().Form }

func (v *boltView) restore(saved any) {
	if form, ok := saved.(BoltForm); ok {
		v.model.Set(form)
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
	if choices, ok := v.nuts.Objects[0].(*look.Choices); ok {
		choices.Mark(s.Form.Nut)
	}
	v.head.Mark(s.Form.Head)
	v.under.Mark(s.Form.Under)
	v.wired.Mark(0)
	if s.Form.Wired {
		v.wired.Mark(1)
	}
	show(v.series, s.Form.Series)
	show(v.stack, s.Form.Stack)
	show(v.other, s.Form.Other)
	show(v.height, s.Form.Height)
	v.pane.render(s.Answer)
	v.root.Refresh()
}

// show puts text into a field unless it is there already.
func show(e *look.Entry, text string) {
	if e.Text != text {
		e.SetText(text)
	}
}

// rivetView chooses rivets for sheets.
type rivetView struct {
	model    *RivetModel
	pane     *answerPane
	sheets   *look.Entry
	diameter *look.Entry
	material *look.Choices
	head     *look.Choices
	root     *fyne.Container
}

func newRivetView(s *session.Session, host app.Host, sheets string) *rivetView {
	v := &rivetView{
		sheets: newLength(s.Lengths(), "1/32, 3/64"), diameter: newLength(s.Lengths(), "by the rule"),
		material: look.NewChoices(0, RivetMaterials()...), head: look.NewChoices(0, RivetHeads()...),
	}
	v.pane = newAnswerPane(host, "Give the thickness of each sheet. The diameter goes by the thickest one, the length by all of them together.", RivetColumns())
	form := look.Rows(10,
		look.NewField("Sheets", v.sheets, "a name may stand before each: skin .032 in"),
		look.NewField("Head", v.head, ""),
		look.NewField("Material", v.material, "AD is 2117 with a dimple on its head, the usual one"),
		look.NewField("Diameter, where the plans give it", v.diameter, "1/8, .125 in or 3.2 mm"))
	v.root = look.Beside(formWidth, look.NewScroller(form), v.pane.root)
	v.model = NewRivetModel(s, v.render)
	v.sheets.OnChanged = func(text string) { v.set(func(f *RivetForm) { f.Sheets = text }) }
	v.diameter.OnChanged = func(text string) { v.set(func(f *RivetForm) { f.Diameter = text }) }
	v.material.OnChosen = func(i int) { v.set(func(f *RivetForm) { f.Material = i }) }
	v.head.OnChosen = func(i int) { v.set(func(f *RivetForm) { f.Head = i }) }
	v.pane.list.OnChosen = func(i int, _ table.Row) { v.model.Pick(i) }
	v.sheets.SetText(sheets)
	s.Loop.Post(func() { look.FocusOn(v.sheets) })
	return v
}

func (v *rivetView) object() fyne.CanvasObject { return v.root }

func (v *rivetView) changed() {
	setUnits(v.model.session.Lengths(), v.sheets, v.diameter)
	v.model.Choose()
}

func (v *rivetView) results() fyne.Focusable { return v.pane.list }

func (v *rivetView) saved() any { return v.model.State().Form }

func (v *rivetView) restore(saved any) {
	if form, ok := saved.(RivetForm); ok {
		v.model.Set(form)
	}
}

// set changes the form in one place.
func (v *rivetView) set(change func(*RivetForm)) {
	form := v.model.State().Form
	change(&form)
	v.model.Set(form)
}

func (v *rivetView) render(s RivetState) {
	show(v.sheets, s.Form.Sheets)
	show(v.diameter, s.Form.Diameter)
	v.material.Mark(s.Form.Material)
	v.head.Mark(s.Form.Head)
	v.pane.render(s.Answer)
	v.root.Refresh()
}
