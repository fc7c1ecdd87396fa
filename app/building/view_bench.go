package building

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/evidence"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/photos"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// BenchPage is the tray of one sub-assembly at the bench.
type BenchPage struct {
	host  app.Host
	model *BenchModel
	hasty app.FirstKey // begins nothing with a line that nobody chose

	title, note *look.Paragraph
	problem     *look.Notice
	lost        *look.Notice
	asked       *look.Notice
	list        *look.RowList
	content     *fyne.Container
}

func newBenchPage(s *session.Session, host app.Host, route routes.Route) *BenchPage {
	p := &BenchPage{
		host: host, title: look.NewTitle("At the bench"), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		lost: look.NewNotice(notice.Notice{Tone: notice.Stop}), asked: look.NewNotice(notice.Notice{Tone: notice.Warn}), list: look.NewRowList(BenchColumns()...),
	}
	p.model = NewBenchModel(s, route.About, p.Render)
	p.list.OnChosen = func(i int, _ table.Row) { p.hasty.Taken(); p.model.Choose(i) }
	pull := look.NewKeyButton("Pull the rest", "P", func() {
		host.Go(routes.Route{Screen: routes.Build, Part: PullPart, About: p.model.code})
	})
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), look.Line(pull)), p.problem, p.lost, p.asked, p.list,
		look.NewFoot("Keys act on the chosen line, or on the whole tray; F7 shows all of them."))
	p.Render(BenchState{Chosen: -1})
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *BenchPage) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *BenchPage) Title() string { return "At the bench" }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *BenchPage) GivesWay() bool { return true }

// Results is what the down arrow goes to from the command bar.
func (p *BenchPage) Results() fyne.Focusable { return p.list }

// Changed reads the tray again, because the shop has changed.
func (p *BenchPage) Changed() { p.model.Load() }

// HandleKey does what a key is for.
func (p *BenchPage) HandleKey(key string) bool {
	switch at := p.model.State().Chosen; {
	case p.hasty.Stops(key, p.model.Hasty(key), p.host):
		return true
	case key == "Down":
		p.model.Choose(at + 1)
	case key == "Up" && at > 0:
		p.model.Choose(at - 1)
	default:
		return false
	}
	p.hasty.Taken()
	return true
}

// Render shows a state.
func (p *BenchPage) Render(s BenchState) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.lost.SetNotice(notice.Notice{Tone: notice.Stop, Lead: "Looked for:", Text: strings.Join(s.Looked, ", ") + ". L says that they were found."})
	p.lost.Hidden = len(s.Looked) == 0
	p.asked.SetNotice(notice.Notice{Tone: notice.Warn, Lead: "Ask before you drill:", Text: s.Asked})
	p.asked.Hidden = s.Asked == ""
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Chosen)
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	c.Photographed = photos.About(store.OfPlace(s.Place))
	c.Actions = p.actions()
	p.host.ShowCard(c, p.act)
}

// The actions that are no act of a line or of the tray.
const (
	weighTrayID = "weigh tray"
	reopenID    = "reopen"
	labelID     = "label"
	changesID   = "changes"
	evidenceID  = "evidence"
)

func (p *BenchPage) actions() []card.Action {
	if p.model.Closed() {
		return []card.Action{{ID: reopenID, Label: "Reopen", Key: "O", Primary: true}, {ID: changesID, Label: "What changed its list", Key: "V"}, gatherEvidence}
	}
	var all []card.Action
	for i, a := range acts() {
		all = append(all, card.Action{ID: a.id, Label: a.label, Key: a.key, Primary: i == 0})
	}
	return append(all, card.Action{ID: weighTrayID, Label: "Hold the tray against its weight", Key: "W"}, card.Action{ID: labelID, Label: "Label of the tray", Key: "Y"}, card.Action{ID: changesID, Label: "What changed its list", Key: "V"}, gatherEvidence)
}

// gatherEvidence is offered whether it is closed or not.
var gatherEvidence = card.Action{ID: evidenceID, Label: "Evidence", Key: "G"}

// act does an action of the card.
func (p *BenchPage) act(id string) {
	switch id {
	case weighTrayID:
		p.ask(ask{Title: "What does the tray weigh?", Hint: "With its content, empty, and the step of the scale: 26.0 24.3 0.1 g.", Yes: "Hold against it"}, func(text string, a *asking) {
			p.model.WeighTray(text, a.done)
		})
	case reopenID:
		p.ask(ask{Title: "Why is " + p.model.code + " worked on again?", Hint: "The journal keeps it.", Yes: "Reopen"}, func(text string, a *asking) {
			p.model.Do(reopen(p.model.code, text), a.done)
		})
	case changesID:
		p.host.Go(routes.Route{Screen: routes.Build, Part: ChangesPart, About: p.model.code})
	case evidenceID:
		evidence.Ask(p.model.session, p.host, evidence.Subject{SubAssembly: p.model.code}, p.model.code)
	case labelID:
		p.host.Go(routes.Route{Screen: routes.Labels, About: p.model.State().Place})
	default:
		for _, a := range acts() {
			if a.id == id {
				p.begin(a)
			}
		}
	}
}

// begin asks for what an act needs.
func (p *BenchPage) begin(a act) {
	p.hasty.Taken()
	line, ok := p.model.line()
	if !ok && !a.whole {
		return
	}
	p.ask(a.question(p.model, line), func(text string, asked *asking) { p.do(a, line, text, "", asked) })
}

// do does an act, and asks for a reason where it goes with one alone.
func (p *BenchPage) do(a act, line benchLine, text, reason string, asked *asking) {
	o, err := a.operation(p.model, line, text, reason)
	if err != nil {
		asked.done("", err)
		return
	}
	p.book(o, asked, func(words string, err error) {
		if errors.Is(err, store.ErrReason) && reason == "" {
			asked.dialog.Close()
			p.ask(ask{Title: wording.Error(err), Hint: "Why is it done all the same? The journal keeps the reason.", Yes: "Do it all the same"}, func(why string, next *asking) {
				p.do(a, line, text, why, next)
			})
			return
		}
		asked.done(words, err)
	})
}

// book does an operation, and asks where two lots would meet what becomes of them; back
// is told the rest.
func (p *BenchPage) book(o operation.Operation, asked *asking, back func(words string, err error)) {
	p.model.Do(o, func(words string, err error) {
		if meets, ok := o.(operation.Meets); ok && errors.Is(err, store.ErrLotsMeet) {
			asked.dialog.Close()
			stockdialog.AskMeeting(p.host, err, func(m store.Meeting) { p.book(meets.Met(err, m), asked, p.told) })
			return
		}
		back(words, err)
	})
}

// told says what was done, or why it was not, where no question is open any more.
func (p *BenchPage) told(words string, err error) {
	if err != nil {
		p.host.Say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
		return
	}
	p.host.Say(stockdialog.Done(words))
}

// asking is a question of the bench while it is open.
type asking struct {
	page   *BenchPage
	dialog *look.Dialog
	field  *look.Field
}

// done closes the question, or says in it what is wrong.
func (a *asking) done(words string, err error) {
	if err != nil {
		a.field.SetProblem(wording.Error(err))
		a.dialog.Refresh()
		return
	}
	a.dialog.Close()
	a.page.host.Say(stockdialog.Done(words))
}

// ask asks, and hands on what was typed.
func (p *BenchPage) ask(q ask, answer func(text string, a *asking)) {
	a := &asking{page: p}
	entry := look.NewAmountEntry(q.Unit)
	entry.SetText(q.Text)
	var first fyne.Focusable = entry
	var content fyne.CanvasObject = entry
	if q.Plain {
		first, content = nil, look.Rows(0)
	}
	a.field = look.NewField("", content, q.Hint)
	send := func() { answer(entry.Text, a) }
	entry.OnSubmitted = func(string) { send() }
	a.dialog = look.NewDialog(q.Title, a.offering(entry, q.Papers), look.NewKeyButton("Cancel", "Esc", func() { a.dialog.Close() }), look.NewPrimary(q.Yes, "Enter", send))
	p.host.Ask(a.dialog, first)
	if !q.Plain {
		entry.SelectAll()
	}
}

// offering is the field of a question with the papers under it that may be named in it: the
// down arrow goes to them, and Enter puts the chosen one in its place.
func (a *asking) offering(entry *look.Entry, papers []offer) fyne.CanvasObject {
	if len(papers) == 0 {
		return a.field
	}
	list := look.NewRowList(offerColumns()...)
	list.Hide()
	entry.OnChanged = func(typed string) {
		rows := offerRows(offered(papers, typed))
		list.SetRows(rows)
		if list.Hidden = len(rows) == 0; !list.Hidden {
			list.Mark(0)
		}
		a.dialog.Refresh()
	}
	entry.OnDown = func() {
		if !list.Hidden {
			look.FocusOn(list)
		}
	}
	list.OnOpened = func(_ int, row table.Row) {
		entry.SetText(completed(entry.Text, offer{text: row.ID}))
		look.FocusOn(entry)
	}
	return look.Fill(12, a.field, list)
}
