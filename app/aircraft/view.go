package aircraft

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/evidence"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// Page is one list of the screen.
type Page struct {
	host  app.Host
	model *Model
	part  string

	title, note *look.Paragraph
	problem     *look.Notice
	list        *look.RowList
	lead, hint  *look.Paragraph
	first       *fyne.Container // what to do where nothing is recorded
	make        *look.KeyButton
	content     *fyne.Container
}

// New makes the page of a route: Part is the list, About the id of the one to begin with.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{
		host: host, part: route.Part, title: look.NewTitle(titles[route.Part]), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		list: look.NewRowList(Columns(route.Part)...), lead: look.NewHeading(""), hint: look.NewQuiet(""),
	}
	p.model = NewModel(s, route.Part, route.About, p.Render)
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	made := newAct(route.Part)
	p.make = look.NewKeyButton(made.label, made.key, func() { p.begin(made) })
	p.first = look.Rows(12, p.lead, p.hint, look.Line(look.NewPrimary(made.label, made.key, func() { p.begin(made) })))
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), look.Line(p.make)), p.tabs(), p.problem, p.first, p.list, look.Rows(0))
	p.Render(p.model.State())
	p.model.Load()
	return p
}

// tabs lead to the lists.
func (p *Page) tabs() *fyne.Container {
	line := look.Line()
	for i, part := range []string{AircraftPart, ComponentPart, DuePart, PositionPart} {
		button := look.NewLink
		if part == p.part {
			button = look.NewPrimary
		}
		words := map[string]string{AircraftPart: "Aircraft", ComponentPart: "Components", DuePart: "Due", PositionPart: "Positions"}
		line.Add(button(words[part], string(rune('1'+i)), func() { p.host.Go(routes.Route{Screen: routes.Aircraft, Part: part}) }))
	}
	return line
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string { return titles[p.part] }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Changed reads the list again, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// Results is what the down arrow goes to from the command bar.
func (p *Page) Results() fyne.Focusable { return p.list }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) }

// Saved is the chosen one.
func (p *Page) Saved() any { return p.model.inHand.ID }

// Restore chooses it again.
func (p *Page) Restore(was any) {
	if id, ok := was.(string); ok {
		p.model.inHand.ID = id
	}
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	none := len(s.Rows) == 0
	p.lead.SetText(s.Lead)
	p.hint.SetText(s.Hint)
	p.first.Hidden, p.list.Hidden, p.make.Hidden, p.note.Hidden = s.Lead == "", none, s.Lead != "", none
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Chosen)
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	for i, a := range acts(p.part, p.model.thing()) {
		c.Actions = append(c.Actions, card.Action{ID: a.id, Label: a.label, Key: a.key, Primary: i == 0})
	}
	if _, name := subject(p.model.thing()); name != "" {
		c.Actions = append(c.Actions, card.Action{ID: evidenceID, Label: "Evidence", Key: "G"})
	}
	p.host.ShowCard(c, p.act)
}

// act begins an action of the card.
func (p *Page) act(id string) {
	if id == evidenceID {
		of, name := subject(p.model.thing())
		evidence.Ask(p.model.session, p.host, of, name)
		return
	}
	for _, a := range acts(p.part, p.model.thing()) {
		if a.id == id {
			p.begin(a)
		}
	}
}

const evidenceID = "evidence"

// subject is what the evidence of the chosen one is about, and what that is called; "" for
// none.
func subject(t thing) (of evidence.Subject, name string) {
	switch {
	case t.aircraft != nil:
		return evidence.Subject{Aircraft: t.aircraft.Name}, t.aircraft.Name
	case t.component != nil:
		return evidence.Subject{Component: t.component.Name()}, t.component.Name()
	}
	return of, ""
}

// begin asks for what an act needs, and does it.
func (p *Page) begin(a act) {
	f := a.form(p.model.data, p.model.thing())
	asked := look.Form{Title: f.title, Note: f.note, Yes: f.yes, Send: func(typed []string, back func(string)) {
		p.model.Do(f.do(typed), func(wrong string, said notice.Notice) {
			if back(wrong); wrong == "" {
				p.host.Say(said)
			}
		})
	}}
	for _, x := range f.fields {
		asked.Fields = append(asked.Fields, look.FormField{Label: x.label, Ghost: x.ghost, Text: x.text})
	}
	look.AskForm(asked, p.host.Ask)
}
