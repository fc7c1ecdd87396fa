package building

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// ChangesPage is what changed the plans: the list of the changes, or one of them line by line.
type ChangesPage struct {
	host  app.Host
	model *ChangesModel

	title, note *look.Paragraph
	problem     *look.Notice
	list        *look.RowList
	none        *look.EmptyState
	content     *fyne.Container
}

func newChangesPage(s *session.Session, host app.Host, route routes.Route) *ChangesPage {
	one := route.Part == ChangePart
	p := &ChangesPage{
		host: host, title: look.NewTitle(""), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), list: look.NewRowList(ChangesColumns(one)...),
		none: look.NewEmptyState("No paper has changed the plans here", "Where a revised list or a bulletin comes in, R takes it as a change of what is listed. What it did, and what it left alone, is kept here.",
			look.NewPrimary("Bring a list in", "I", func() { host.Go(routes.Route{Screen: routes.Build, Part: ListPart}) })),
	}
	code, name := route.About, ""
	if one {
		code, name = "", route.About
	}
	p.model = NewChangesModel(s, code, name, p.Render)
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.list.OnTappedAgain = p.open
	p.content = look.Fill(12, look.Rows(2, p.title, p.note), p.problem, p.none, p.list, look.Rows(0))
	p.Render(p.model.State())
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *ChangesPage) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *ChangesPage) Title() string { return "Changes of the plans" }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *ChangesPage) GivesWay() bool { return true }

// Changed reads the changes again, because the shop has changed.
func (p *ChangesPage) Changed() { p.model.Load() }

// Results is what the down arrow goes to from the command bar.
func (p *ChangesPage) Results() fyne.Focusable { return p.list }

// HandleKey does what a key is for.
func (p *ChangesPage) HandleKey(key string) bool {
	if key == "Enter" && p.model.Opens() != "" {
		p.open()
		return true
	}
	return p.model.Key(key)
}

// Saved is the chosen row.
func (p *ChangesPage) Saved() any { return p.model.chosen }

// Restore chooses it again.
func (p *ChangesPage) Restore(was any) {
	if id, ok := was.(string); ok {
		p.model.chosen = id
	}
}

// open shows the chosen change line by line.
func (p *ChangesPage) open() {
	if name := p.model.Opens(); name != "" {
		p.host.Go(routes.Route{Screen: routes.Build, Part: ChangePart, About: name})
	}
}

// Render shows a state.
func (p *ChangesPage) Render(s ChangesState) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.none.Hidden = !s.None
	p.title.Hidden, p.note.Hidden = s.None, s.None || s.Note == ""
	p.list.Hidden = len(s.Rows) == 0
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Chosen)
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	if !s.One {
		c.Actions = []card.Action{{ID: "open", Label: "Line by line", Key: "Enter", Primary: true}}
	}
	p.host.ShowCard(c, func(string) { p.open() })
}
