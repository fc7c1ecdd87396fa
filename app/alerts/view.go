package alerts

import (
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
)

// Page is one page of the screen.
type Page struct {
	session *session.Session
	host    app.Host
	model   *Model
	part    string

	title, note *look.Paragraph
	problem     *look.Notice
	list        *look.RowList
	lead, hint  *look.Paragraph
	first       *fyne.Container // what to do where there is nothing
	buttons     *fyne.Container
	shown       string // ids of the acts that have a button
	content     *fyne.Container
}

// New makes the page of a route.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{
		session: s, host: host, part: route.Part, title: look.NewTitle(""), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		list: look.NewRowList(Columns(route.Part)...), lead: look.NewHeading(""), hint: look.NewQuiet(""), buttons: look.Line(),
	}
	p.model = NewModel(s, route.Part, route.About, p.Render)
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.list.OnOpened = func(i int, _ table.Row) { p.model.Choose(i); p.key("Enter") }
	p.first = look.Rows(12, p.lead, p.hint)
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), p.tabs()), p.problem, p.first, p.list, p.buttons)
	p.Render(p.model.State())
	p.model.Load()
	return p
}

// tabs lead to the two lists; the one that is shown leads nowhere.
func (p *Page) tabs() *fyne.Container {
	line := look.Line()
	for _, to := range []struct{ part, label, key string }{{AlertsPart, "All alerts", "1"}, {DatesPart, "Dates", "2"}} {
		if to.part != p.part {
			line.Add(look.NewKeyButton(to.label, to.key, func() { p.host.Go(routes.Route{Screen: routes.Alerts, Part: to.part}) }))
		}
	}
	return line
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string {
	if t := p.model.State().Title; t != "" {
		return t
	}
	return "Alerts"
}

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Changed reads the page again, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// Results is what the down arrow goes to from the command bar.
func (p *Page) Results() fyne.Focusable { return p.list }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) || p.key(key) }

// Saved is the chosen row.
func (p *Page) Saved() any { return p.model.inHand.ID }

// Restore chooses it again.
func (p *Page) Restore(was any) {
	if id, ok := was.(string); ok {
		p.model.inHand.ID = id
	}
}

// moreKey lists what is done more seldom.
const moreKey = "M"

// mostButtons is how many acts have a button, the one that leads to the others among them.
const mostButtons = 4

// key does the act of a key, and reports whether there is one.
func (p *Page) key(key string) bool {
	for _, a := range p.model.State().Acts {
		if a.key == key {
			p.begin(a)
			return true
		}
	}
	return false
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	none := len(s.Rows) == 0
	p.lead.SetText(s.Lead)
	p.hint.SetText(s.Hint)
	p.first.Hidden, p.list.Hidden, p.note.Hidden = s.Lead == "", none, s.Lead != "" || s.Note == ""
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Chosen)
	p.renderButtons(s)
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	p.host.ShowCard(s.Card, nil)
}

// renderButtons makes the buttons, anew where there are others than before.
func (p *Page) renderButtons(s State) {
	ids := ""
	for _, a := range s.Acts {
		ids += a.id + " "
	}
	if ids == p.shown {
		return
	}
	p.shown = ids
	p.buttons.Objects = nil
	shown := s.Acts
	if len(shown) > mostButtons {
		shown = shown[:mostButtons-1]
	}
	for i, a := range shown {
		button := look.NewKeyButton
		if i == 0 {
			button = look.NewPrimary
		}
		p.buttons.Add(button(a.label, a.key, func() { p.begin(a) }))
	}
	if len(shown) < len(s.Acts) {
		p.buttons.Add(look.NewKeyButton("More", moreKey, p.askMore))
	}
}

// askMore lists the acts that have no button.
func (p *Page) askMore() {
	s := p.model.State()
	var more []card.Action
	for _, a := range s.Acts[min(mostButtons-1, len(s.Acts)):] {
		more = append(more, card.Action{ID: a.id, Label: a.label, Key: a.key})
	}
	app.AskAction(p.host, "More for "+s.Title, more, p.act)
}

// act begins the act of an id.
func (p *Page) act(id string) {
	acts := p.model.State().Acts
	if i := slices.IndexFunc(acts, func(a act) bool { return a.id == id }); i >= 0 {
		p.begin(acts[i])
	}
}

// begin goes where an act leads, or asks for what it needs and does it.
func (p *Page) begin(a act) {
	t := p.model.thing()
	if a.to != nil {
		p.host.Go(a.to(t))
		return
	}
	if a.lot {
		stockdialog.AskLot(p.session, p.host, t.lot.Lot)
		return
	}
	p.ask(a.form(t))
}

// ask asks for what a form has. An alert is shown first as what it comes to.
func (p *Page) ask(f form) {
	asked := look.Form{Title: f.title, Note: f.note, Yes: f.yes}
	for _, x := range f.fields {
		asked.Fields = append(asked.Fields, look.FormField{Label: x.label, Ghost: x.ghost, Text: x.text})
	}
	asked.Send = func(typed []string, back func(string)) { p.send(f, typed, back) }
	look.AskForm(asked, p.host.Ask)
}

// send does what was typed, or shows what an alert comes to: the form keeps what was typed, for
// the way back to it.
func (p *Page) send(f form, typed []string, back func(problem string)) {
	o := f.do(typed)
	alert, first := o.(operation.Alert)
	if !first {
		p.do(o, back)
		return
	}
	for i := range f.fields {
		f.fields[i].text = typed[i]
	}
	p.model.Comes(alert, func(problem string, lines []string) {
		if back(problem); problem == "" {
			p.preview(f, alert, lines)
		}
	})
}

// previewWidth is how wide the preview is, points at normal size.
const previewWidth = 640

// preview shows what an alert comes to, and records it.
func (p *Page) preview(f form, o operation.Alert, lines []string) {
	var d *look.Dialog
	problem := look.NewNotice(notice.Notice{Tone: notice.Stop})
	problem.Hide()
	body := look.Rows(10, problem)
	for i, line := range lines {
		if i == 0 {
			body.Add(look.NewText(line))
			continue
		}
		body.Add(look.NewQuiet(line))
	}
	body.Add(look.NewFoot("Nothing is recorded yet. Once it is, it is one entry, and Ctrl+Z takes it back."))
	record := look.NewPrimary("Record it", "Enter", func() {
		p.do(o, func(wrong string) { d.Answered(problem, wrong) })
	})
	d = look.NewDialog("What it comes to", body, look.NewKeyButton("Back to it", "Esc", func() {
		d.Close()
		p.ask(f)
	}), record)
	d.SetWidth(previewWidth)
	p.host.Ask(d, nil)
}

// do does an operation, and says what was done.
func (p *Page) do(o operation.Operation, back func(problem string)) {
	p.model.Do(o, func(wrong string, said notice.Notice) {
		if back(wrong); wrong == "" {
			p.host.Say(said)
		}
	})
}
