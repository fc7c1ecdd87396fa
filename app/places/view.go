package places

import (
	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/store"
)

// Page is the screen.
type Page struct {
	session *session.Session
	host    app.Host
	model   *Model

	title   *look.Paragraph
	note    *look.Paragraph
	picture *look.CabinetView
	fronts  *look.CabinetScroller // shows the picture
	foot    *look.Paragraph
	list    *look.RowList
	empty   *look.EmptyState
	problem *look.Notice
	buttons *fyne.Container
	upward  *look.KeyButton
	making  []*look.KeyButton // buttons that a cabinet has no use for
	content *fyne.Container
}

// New makes the page; the route's About is the id of a place, or nothing.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{
		session: s, host: host, title: look.NewTitle(""), note: look.NewQuiet(""), list: look.NewRowList(Columns()...),
		picture: look.NewCabinetView(drawing.Cabinet{}), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
	}
	p.fronts = look.NewCabinetScroller(p.picture)
	p.model = NewModel(s, p.Render)
	p.list.OnChosen = func(_ int, row table.Row) { p.model.Choose(row.ID) }
	p.list.OnOpened = func(_ int, row table.Row) { p.enter(row.ID) }
	p.picture.OnChosen = func(_ int, d drawing.Drawer) { p.choose(d) }
	p.picture.OnOpened = func(_ int, d drawing.Drawer) { p.enter(d.ID) }
	p.empty = look.NewEmptyState("Where do things go?",
		"Make the room you work in, then a cabinet with all its drawers in one step. Every place gets a tag of its own for its label.",
		look.NewPrimary("New room", "N", p.askPlace), look.NewKeyButton("New cabinet", "K", p.askCabinet))
	p.making = []*look.KeyButton{look.NewKeyButton("New place", "N", p.askPlace), look.NewKeyButton("New cabinet", "K", p.askCabinet)}
	p.upward, p.foot = look.NewKeyButton("Up", "U", p.up), look.NewQuiet("")
	p.buttons = look.Line(p.upward, p.making[0], p.making[1], look.NewKeyButton("All labels", "A", p.labels))
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), p.buttons), p.problem, p.fronts, p.foot, p.list,
		look.Rows(0), // the last one shown: a cabinet is no higher than its drawers are
		p.empty)
	p.Render(State{})
	switch route.About {
	case "":
		p.model.Start()
	case wholeShop:
		p.model.Open("")
	default:
		p.model.Open(route.About)
	}
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Places" }

// Results is what the down arrow goes to from the command bar.
func (p *Page) Results() fyne.Focusable {
	if p.model.State().Cabinet != nil {
		return p.picture
	}
	return p.list
}

// First is what shows the places: one of them is chosen, and has keys.
func (p *Page) First() fyne.Focusable {
	if p.model.State().Empty {
		return nil
	}
	return p.Results()
}

// Changed reads the place again, because the shop has changed.
func (p *Page) Changed() { p.model.Again() }

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.empty.Hidden = !s.Empty
	p.title.Hidden, p.note.Hidden, p.buttons.Hidden = s.Empty, s.Empty, s.Empty
	p.upward.Hidden = s.Place.ID == ""
	for _, b := range p.making {
		b.Hidden = s.Grid
	}
	p.fronts.Hidden = s.Cabinet == nil
	p.foot.SetText(s.Foot)
	p.foot.Hidden = s.Foot == ""
	p.list.Hidden = s.Cabinet != nil || s.Empty
	if s.Cabinet != nil {
		p.picture.SetCabinet(*s.Cabinet)
		p.fronts.Refresh()
	} else {
		p.list.SetRows(s.Rows)
		p.list.Mark(indexOf(s.Rows, s.Chosen))
	}
	p.content.Refresh()
	p.card(s)
}

func indexOf(rows []table.Row, id string) int {
	for i, r := range rows {
		if r.ID == id {
			return i
		}
	}
	return -1
}

// The actions of a place's card.
const (
	openID   = "open"
	putID    = "put"
	moveID   = "move place"
	renameID = "rename"
	retireID = "retire"
)

func (p *Page) card(s State) {
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	c.Actions = p.actions()
	p.host.ShowCard(c, p.act)
}

// actions are what can be done with the chosen place, and with what lies in it.
func (p *Page) actions() []card.Action {
	chosen, ok := p.model.Chosen()
	if !ok { // it has been moved away from here
		return []card.Action{{ID: openID, Label: "Go there", Key: "O", Primary: true}}
	}
	rename, retire := card.Action{ID: renameID, Label: "Rename", Key: "R"}, card.Action{ID: retireID, Label: "Out of use", Key: "X"}
	if heap := p.model.State().Heap; heap != nil {
		return append(stockdialog.Actions(heap), rename)
	}
	move, label := card.Action{ID: moveID, Label: "Move it", Key: "M"}, card.Action{ID: stockdialog.LabelID, Label: "Label", Key: "L"}
	switch {
	case chosen.Kind == store.Drawer: // stays in its cabinet
		return []card.Action{{ID: putID, Label: "Put in", Key: "P", Primary: true}, label, rename, retire}
	case holdsNoPlaces(chosen.Kind):
		return []card.Action{{ID: putID, Label: "Put in", Key: "P", Primary: true}, label, move, rename, retire}
	}
	return []card.Action{{ID: openID, Label: "Look into", Key: "O", Primary: true}, move, label, rename, retire}
}

// act does an action of the card.
func (p *Page) act(id string) {
	if id == openID {
		p.enter(p.model.State().Chosen)
		return
	}
	chosen, ok := p.model.Chosen()
	if !ok {
		return
	}
	switch id {
	case putID:
		stockdialog.AskPut(p.session, p.host, chosen)
	case stockdialog.LabelID:
		p.host.Go(routes.Route{Screen: routes.Labels, About: chosen.ID})
	case moveID:
		p.askMove(chosen)
	case renameID:
		p.askRename(chosen)
	case retireID:
		p.askRetire(chosen)
	default:
		stockdialog.Ask(p.session, p.host, p.model.State().Heap, id)
	}
}

func (p *Page) choose(d drawing.Drawer) {
	if d.ID != "" {
		p.model.Choose(d.ID)
	}
}

// enter looks into a place. What holds no others is seen from outside already.
func (p *Page) enter(id string) {
	if chosen, ok := p.model.Chosen(); ok && chosen.ID == id && holdsNoPlaces(chosen.Kind) {
		return
	}
	if id != "" {
		p.host.Go(routes.Route{Screen: routes.Places, About: id})
	}
}

// wholeShop as what a route is about means all rooms, where nothing means the one
// room that there is.
const wholeShop = "shop"

// up looks at what the place lies in.
func (p *Page) up() {
	place := p.model.State().Place
	switch {
	case place.ID == "":
	case place.Parent == "":
		p.host.Go(routes.Route{Screen: routes.Places, About: wholeShop})
	default:
		p.host.Go(routes.Route{Screen: routes.Places, About: place.Parent})
	}
}

func (p *Page) labels() {
	if place := p.model.State().Place; place.ID != "" {
		p.host.Go(routes.Route{Screen: routes.Labels, About: place.ID})
		return
	}
	p.host.Go(routes.Route{Screen: routes.Labels})
}
