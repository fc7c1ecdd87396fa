package handbook

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/hardware"
	"stowright/store/measure"
)

// measureView identifies a piece while it is measured.
type measureView struct {
	lengths func() measure.System // in what unit plain numbers are
	host    app.Host
	model   *MeasureModel

	kinds   *look.Choices
	form    *measureForm
	heading *look.Paragraph
	hint    *look.Paragraph
	verdict *fyne.Container
	list    *look.RowList
	panel   *look.Panel
	facts   *look.Facts
	alike   *alikes
	root    *fyne.Container
}

func newMeasureView(s *session.Session, host app.Host, diameter string) *measureView {
	v := &measureView{
		host: host, lengths: s.Lengths, heading: look.NewTitle(""), verdict: look.Rows(8), list: look.NewRowList(Candidates()...), facts: look.NewFacts(), alike: newAlikes(host),
		hint: look.NewQuiet("A caliper and a thread gauge tell most pieces. Fill in what you can; the answer follows as you type."),
	}
	words := []string{"Not sure"}
	for _, k := range Kinds()[1:] {
		words = append(words, wording.Upper(string(k)))
	}
	v.kinds = look.NewChoices(0, words...)
	v.form = newMeasureForm(v)
	v.panel = look.NewPanel(12, v.facts)
	details := look.NewScroller(look.Rows(12, v.panel, v.alike.rows, caution()))
	v.root = look.Fill(10, v.kinds,
		look.Beside(formWidth, look.NewScroller(v.form.body), split(look.Rows(8, v.heading, v.hint, v.verdict), v.list, details)))
	v.model = NewMeasureModel(s, v.render)
	v.kinds.OnChosen = v.model.SetKind
	v.list.OnChosen = func(i int, _ table.Row) { v.model.Choose(i) }
	v.list.OnOpened = func(_ int, row table.Row) { lookUp(host, row.ID) }
	v.form.entries[ReadDiameter].SetText(diameter)
	s.Loop.Post(func() { v.form.focus(ReadDiameter) })
	return v
}

// formWidth is the width of a form beside its answer, points at normal size.
const formWidth = 300

func (v *measureView) object() fyne.CanvasObject { return v.root }

func (v *measureView) changed() {
	for _, r := range allReadings {
		if e := v.form.entries[r.Name]; e != nil && r.Length {
			setUnits(v.lengths(), e)
		}
	}
	v.model.Identify()
}

func (v *measureView) results() fyne.Focusable { return v.list }

func (v *measureView) saved() any { return v.model.Form() }

func (v *measureView) restore(saved any) {
	if form, ok := saved.(MeasureForm); ok {
		v.model.SetForm(form)
	}
}

// clear empties the form for the next piece.
func (v *measureView) clear() {
	v.model.Clear()
	v.form.focus(v.model.State().Readings[0].Name)
}

func (v *measureView) render(s MeasureState) {
	v.kinds.Mark(s.Kind)
	v.form.render(s)
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

// measureForm is the fields of what is measured and seen. They are kept when
// another kind of piece hides them.
type measureForm struct {
	view    *measureView
	entries map[string]*look.Entry
	fields  map[string]*look.Field
	seen    map[string]*look.Choices
	body    *fyne.Container
	kind    int // that the body is for
}

func newMeasureForm(v *measureView) *measureForm {
	return &measureForm{
		view: v, entries: map[string]*look.Entry{}, fields: map[string]*look.Field{}, seen: map[string]*look.Choices{}, body: look.Rows(10), kind: -1,
	}
}

// build puts the fields of a kind into the form.
func (f *measureForm) build(s MeasureState) {
	f.kind = s.Kind
	f.body.Objects = nil
	for i := 0; i < len(s.Readings); i += 2 {
		pair := look.Columns(8, f.field(s.Readings[i]))
		if i+1 < len(s.Readings) {
			pair.Add(f.field(s.Readings[i+1]))
		} else {
			pair.Add(look.NewFoot(""))
		}
		f.body.Add(pair)
	}
	for _, sight := range Sights() {
		f.body.Add(look.NewField(sight.Label, f.sight(sight.Name), ""))
	}
	f.body.Add(look.NewKeyButton("Clear, another piece", "C", f.view.clear))
}

// field is the field of a reading, kept with what is in it.
func (f *measureForm) field(r Reading) *look.Field {
	if kept, ok := f.fields[r.Name]; ok {
		return kept
	}
	e := newEntry(r.Hint)
	if r.Length {
		e = newLength(f.view.lengths(), r.Hint)
	}
	e.OnChanged = func(text string) { f.view.model.Type(r.Name, text) }
	e.OnDown = func() { look.FocusOn(f.view.list) }
	f.entries[r.Name], f.fields[r.Name] = e, look.NewField(r.Label, e, "")
	return f.fields[r.Name]
}

// sight is what was seen, in three answers.
func (f *measureForm) sight(name string) *look.Choices {
	if kept, ok := f.seen[name]; ok {
		return kept
	}
	c := look.NewChoices(0, "Not looked", "Yes", "No")
	c.OnChosen = func(i int) {
		f.view.model.See(name, []hardware.Answer{hardware.NotLooked, hardware.Yes, hardware.No}[i])
	}
	f.seen[name] = c
	return c
}

// focus puts the cursor into a field.
func (f *measureForm) focus(name string) { look.FocusOn(f.entries[name]) }

func (f *measureForm) render(s MeasureState) {
	if f.kind != s.Kind {
		f.build(s)
	}
	for name, e := range f.entries {
		show(e, s.Typed[name])
		f.fields[name].SetProblem(s.Wrong[name])
	}
	for name, c := range f.seen {
		c.Mark(int(s.Seen[name]))
	}
}
