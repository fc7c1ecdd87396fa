package find

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
)

// Page is the screen.
type Page struct {
	session *session.Session
	host    app.Host
	model   *Model

	title   *look.Paragraph
	note    *look.Paragraph
	list    *look.RowList
	empty   *look.EmptyState
	problem *look.Notice
	warning *look.Notice
	ways    *fyne.Container // on from here, without a name
	taken   bool            // the person has taken a row in hand: until then letters are a question
	content *fyne.Container
}

// New makes the page; the route's About is a question to start with.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{session: s, host: host, title: look.NewTitle(""), note: look.NewQuiet(""), list: look.NewRowList(Columns()...)}
	p.model = NewModel(s, p.Render)
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.list.OnOpened = func(int, table.Row) { p.open() }
	p.list.OnTaken = func() { p.take(true) }
	p.empty = look.NewEmptyState("Nothing is in the shop yet",
		"Bring the packing list of your first delivery in, and check it off crate by crate: what you find there can be found here.",
		look.NewPrimary("Bring a packing list in", "I", func() { host.Go(routes.Route{Screen: routes.Unpack}) }))
	p.problem, p.warning = look.NewNotice(notice.Notice{Tone: notice.Stop}), look.NewNotice(notice.Notice{Tone: notice.Warn})
	p.ways = look.Line(look.NewQuiet("Loose piece, no name?"), look.NewLink("Measure it", "F6", p.measure), look.NewQuiet("What does a number mean?"),
		look.NewLink("Look it up in the Handbook", "", p.lookUp))
	p.content = look.Fill(12, look.Rows(2, p.title, p.note), p.problem, p.warning, p.list, p.empty, p.ways)
	p.empty.Hide()
	p.problem.Hide()
	p.warning.Hide()
	host.SetCommand(route.About)
	p.model.Ask(route.About)
	return p
}

// measure leads to where a loose piece is measured.
func (p *Page) measure() { p.host.Go(routes.Route{Screen: routes.Handbook, Part: "measure"}) }

// lookUp leads to the Handbook with what was typed.
func (p *Page) lookUp() {
	p.host.Go(routes.Route{Screen: routes.Handbook, About: p.model.State().Query})
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Find" }

// Query follows the command bar.
func (p *Page) Query(text string) bool {
	if p.model.Answered(text) {
		return true
	}
	p.take(false)
	p.model.Ask(text)
	return true
}

// Results is the list that the down arrow goes to, and Enter; nil while nothing is found.
func (p *Page) Results() fyne.Focusable {
	if p.list.Len() == 0 {
		return nil
	}
	return p.list
}

// AnswersTyping says that the command bar is the field of the page, once there is something
// to be found.
func (p *Page) AnswersTyping() bool { return !p.model.State().Empty }

// First is the list, where a question brought the person here; without one the question is
// typed first.
func (p *Page) First() fyne.Focusable {
	if p.model.State().Query == "" {
		return nil
	}
	return p.Results()
}

// take notes whether the person has taken a row in hand. Only then do letters act on it, and
// only then are they shown.
func (p *Page) take(taken bool) {
	if p.taken == taken {
		return
	}
	p.taken = taken
	if !p.model.State().Card.Empty() {
		p.card(p.model.State().Card)
	}
}

// Saved is the question, for the way back.
func (p *Page) Saved() any { return p.model.State().Query }

// Restore asks the question again.
func (p *Page) Restore(saved any) {
	if query, ok := saved.(string); ok {
		p.host.SetCommand(query)
		p.model.Ask(query)
	}
}

// Changed asks again, because the shop has changed.
func (p *Page) Changed() { p.model.Again() }

// Indexed asks again, because the index is there now.
func (p *Page) Indexed() { p.model.Again() }

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Heading)
	p.note.SetText(s.Note)
	p.list.SetRows(s.Rows)
	if s.Chosen >= 0 {
		p.list.Mark(s.Chosen)
	}
	p.list.Hidden = len(s.Rows) == 0
	p.empty.Hidden = !s.Empty
	p.ways.Hidden = s.Empty
	p.title.Hidden, p.note.Hidden = s.Empty, s.Empty
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	p.problem.Hidden = s.Error == ""
	p.warning.SetNotice(notice.Notice{Tone: notice.Warn, Text: s.Warning})
	p.warning.Hidden = s.Warning == ""
	p.content.Refresh()
	p.card(s.Card)
}

func (p *Page) card(c card.Card) {
	if c.Empty() {
		p.host.HideCard()
		return
	}
	if f, ok := p.model.Chosen(); ok && f.Item != "" {
		c.Actions = append(stockdialog.Actions(f.Largest()), card.Action{ID: showID, Label: "Show me", Key: "F2", Off: f.Largest() == nil},
			card.Action{ID: lotsID, Label: "Its lots and their dates", Key: "D"})
	} else {
		c.Actions = []card.Action{{ID: openID, Label: "Open place", Key: "O", Primary: true}, {ID: stockdialog.LabelID, Label: "Label", Key: "L"}}
	}
	p.host.ShowCard(p.withKeys(c), p.act)
}

// withKeys is a card whose letters are left out while they would be a question, and the camera
// where it would look for nothing.
func (p *Page) withKeys(c card.Card) card.Card {
	c.Actions = slices.Clone(c.Actions)
	for i := range c.Actions {
		if a := &c.Actions[i]; !p.taken && len(a.Key) == 1 || a.ID == showID && p.Seeks() == "" {
			a.Key = ""
		}
	}
	return c
}

// The actions of a card besides those with a heap.
const (
	openID = "open" // a place
	showID = "show" // with the camera where it lies
	lotsID = "lots" // of an item
)

// Seeks is the item that the camera looks for: that of the row in hand, or of the only one.
// The first of several answers was chosen by nobody.
func (p *Page) Seeks() string {
	f, ok := p.model.Chosen()
	if !ok || !p.taken && len(p.model.State().Rows) > 1 {
		return ""
	}
	return f.Item
}

// open goes where the chosen thing lies.
func (p *Page) open() {
	f, ok := p.model.Chosen()
	switch {
	case !ok:
	case f.Item == "":
		p.leave(routes.Route{Screen: routes.Places, About: f.Place})
	case len(f.Stock.Heaps) > 0:
		p.leave(routes.Route{Screen: routes.Places, About: f.Stock.Heaps[0].Place})
	}
}

// leave goes to another page, which has the focus then: the question is answered, and would stand
// there as if it filtered what is shown.
func (p *Page) leave(to routes.Route) {
	p.host.SetCommand("")
	p.host.Rest()
	p.host.Go(to)
}

// act does an action of the card.
func (p *Page) act(id string) {
	f, ok := p.model.Chosen()
	if !ok {
		return
	}
	place := f.Place
	if len(f.Stock.Heaps) > 0 {
		place = f.Stock.Heaps[0].Place
	}
	switch id {
	case openID:
		p.open()
	case showID:
		p.leave(routes.Route{Screen: routes.Camera, Part: f.Item})
	case lotsID:
		p.leave(routes.Route{Screen: routes.Alerts, Part: "lots", About: f.Item})
	case stockdialog.LabelID:
		p.leave(routes.Route{Screen: routes.Labels, About: place})
	default:
		stockdialog.Ask(p.session, p.host, f.Largest(), id)
	}
}
