package handbook

import (
	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/store/hardware"
)

// measureView identifies a piece while it is measured.
type measureView struct {
	host  Host
	model *MeasureModel

	kinds   *look.Choices
	entries map[string]*look.Entry
	fields  map[string]*look.Field
	seen    map[string]*look.Choices
	form    *fyne.Container
	shown   int // the kind that the form is for

	heading *look.Paragraph
	verdict *fyne.Container
	list    *look.RowList
	facts   *look.Facts
	panel   *look.Panel
	alike   *alikes
	hint    *look.Paragraph
	details *look.Scroller
	root    *fyne.Container
}

func newMeasureView(s *session.Session, host Host, diameter string) *measureView {
	v := &measureView{
		host: host, entries: map[string]*look.Entry{}, fields: map[string]*look.Field{}, seen: map[string]*look.Choices{}, shown: -1,
		heading: look.NewTitle(""), verdict: look.Rows(8), list: look.NewRowList(Candidates()...), facts: look.NewFacts(),
		alike: newAlikes(host), form: look.Rows(10),
		hint: look.NewQuiet("A caliper and a thread gauge tell most pieces. Fill in what you can; the answer follows as you type."),
	}
	words := []string{"Not sure"}
	for _, k := range Kinds()[1:] {
		words = append(words, upper(string(k)))
	}
	v.kinds = look.NewChoices(0, words...)
	v.panel = look.NewPanel(12, v.facts)
	v.details = look.NewScroller(look.Rows(12, v.panel, v.alike.rows, caution()))
	v.root = look.Fill(10, v.kinds,
		look.Beside(formWidth, look.NewScroller(look.Inset(2, 2, v.form)), split(look.Rows(8, v.heading, v.hint, v.verdict), v.list, v.details)))
	v.model = NewMeasureModel(s, v.render)
	v.kinds.OnChosen = v.model.SetKind
	v.list.OnChosen = func(i int, _ card.Row) { v.model.Choose(i) }
	v.list.OnOpened = func(_ int, row card.Row) { lookUp(host, row.ID) }
	v.render(v.model.State())
	v.entries[ReadDiameter].SetText(diameter)
	s.Loop.Post(func() { look.FocusOn(v.entries[ReadDiameter]) })
	return v
}

// formWidth is the width of a form beside its answer, points at normal size.
const formWidth = 300

func (v *measureView) object() fyne.CanvasObject { return v.root }

func (v *measureView) changed() { v.model.Identify() }

func (v *measureView) results() fyne.Focusable { return v.list }

func (v *measureView) saved() any { return v.model.Form() }

func (v *measureView) restore(saved any) {
	if form, ok := saved.(MeasureForm); ok {
		v.model.SetForm(form)
	}
}

// build makes the form of a kind.
func (v *measureView) build(s MeasureState) {
	v.shown = s.Kind
	v.form.Objects = nil
	for i := 0; i < len(s.Readings); i += 2 {
		pair := look.Columns(8, v.field(s.Readings[i]))
		if i+1 < len(s.Readings) {
			pair.Add(v.field(s.Readings[i+1]))
		} else {
			pair.Add(look.NewFoot(""))
		}
		v.form.Add(pair)
	}
	for _, sight := range Sights() {
		v.form.Add(look.NewField(sight.Label, v.sight(sight.Name), ""))
	}
	v.form.Add(look.NewKeyButton("Clear, another piece", "C", v.clear))
}

// field is the field of a reading, kept with what is in it.
func (v *measureView) field(r Reading) *look.Field {
	if f, ok := v.fields[r.Name]; ok {
		return f
	}
	e := look.NewEntry(r.Hint)
	e.OnChanged = func(text string) { v.model.Type(r.Name, text) }
	e.OnDown = func() { look.FocusOn(v.list) }
	v.entries[r.Name], v.fields[r.Name] = e, look.NewField(r.Label, e, "")
	return v.fields[r.Name]
}

// sight is what was seen, in three answers.
func (v *measureView) sight(name string) *look.Choices {
	if c, ok := v.seen[name]; ok {
		return c
	}
	c := look.NewChoices(0, "Not looked", "Yes", "No")
	c.OnChosen = func(i int) { v.model.See(name, []hardware.Answer{hardware.NotLooked, hardware.Yes, hardware.No}[i]) }
	v.seen[name] = c
	return c
}

// clear empties the form for the next piece.
func (v *measureView) clear() {
	v.model.Clear()
	look.FocusOn(v.entries[v.model.State().Readings[0].Name])
}

func (v *measureView) render(s MeasureState) {
	if v.shown != s.Kind {
		v.build(s)
	}
	v.kinds.Mark(s.Kind)
	for name, e := range v.entries {
		show(e, s.Typed[name])
		v.fields[name].SetProblem(s.Wrong[name])
	}
	for name, c := range v.seen {
		c.Mark(int(s.Seen[name]))
	}
	v.heading.SetText(s.Heading)
	v.hint.Hidden = len(s.Rows) > 0
	notices(v.verdict, s.Verdict)
	v.list.SetRows(s.Rows)
	v.list.Mark(s.Chosen)
	v.list.Hidden = len(s.Rows) == 0
	v.facts.SetFacts(s.Facts)
	v.panel.Hidden = len(s.Facts) == 0
	v.alike.set(s.Alike)
	v.root.Refresh()
	showPiece(v.host, s.Card, lookUpID, findID)
}
