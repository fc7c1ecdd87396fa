package building

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
)

// TicksPage is where the ticks of a printed list are entered.
type TicksPage struct {
	host  app.Host
	model *TicksModel
	about string

	filling bool // the field is being filled by the program
	title   *look.Paragraph
	note    *look.Paragraph
	ask     *look.Paragraph
	field   *look.Entry
	problem *look.Notice
	rows    *look.RowList
	enter   *look.KeyButton
	column  *fyne.Container
	content *fyne.Container
}

func newTicksPage(s *session.Session, host app.Host, route routes.Route) *TicksPage {
	p := &TicksPage{
		host: host, about: route.About, title: look.NewTitle("Ticked on paper"), note: look.NewQuiet(""), ask: look.NewHeading(""),
		field: look.NewEntry("how many; a for all, n for none; nothing: not ticked"), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), rows: look.NewRowList(TicksColumns()...),
	}
	p.model = NewTicksModel(s, strings.Split(route.About, ","), p.Render, p.entered, p.askReason)
	p.field.OnChanged = p.typed
	p.field.OnSubmitted = func(string) { p.next() }
	p.field.OnDown = p.next
	p.rows.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.enter = look.NewPrimary("Enter the column", "E", p.model.Enter)
	p.column = look.Rows(8, p.ask, p.field)
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), look.Line(p.enter)), p.column, p.problem, p.rows,
		look.NewFoot("Enter goes down the column; Esc leaves the field, then E books all of it."))
	host.HideCard()
	p.Render(TicksState{Loading: true, Row: -1})
	p.model.Load()
	s.Loop.Post(func() { look.FocusOn(p.field) })
	return p
}

// Object is the page's content.
func (p *TicksPage) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *TicksPage) Title() string { return "Ticked on paper" }

// Changed reads what is left again, because the shop has changed.
func (p *TicksPage) Changed() { p.model.Load() }

// HandleKey does what a key is for.
func (p *TicksPage) HandleKey(key string) bool {
	switch key {
	case "Up":
		p.model.Choose(p.model.State().Row - 1)
	case "Down", "Enter":
		p.next()
	default:
		return false
	}
	look.FocusOn(p.field)
	return true
}

func (p *TicksPage) typed(text string) {
	if !p.filling {
		p.model.Type(text)
	}
}

// next goes on down the column; behind its end the field is left, and E books it.
func (p *TicksPage) next() {
	if p.model.Next() {
		p.host.Rest()
		return
	}
	look.FocusOn(p.field)
}

// entered goes back to the walk, on what is left.
func (p *TicksPage) entered(words string) {
	p.host.Go(routes.Route{Screen: routes.Build, Part: PullPart, About: p.about})
	p.host.Say(notice.Notice{Tone: notice.OK, Text: wording.Sentence(words)})
}

// askReason asks why more than is called was taken.
func (p *TicksPage) askReason(question string, back func(reason string)) {
	reason := look.NewEntry("")
	var dialog *look.Dialog
	answer := func() {
		if strings.TrimSpace(reason.Text) == "" {
			return
		}
		dialog.Close()
		back(reason.Text)
	}
	reason.OnSubmitted = func(string) { answer() }
	dialog = look.NewDialog(question, look.NewField("", reason, "Why was it taken all the same? The journal keeps the reason."),
		look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("Book it all the same", "Enter", answer))
	p.host.Ask(dialog, reason)
}

// Render shows a state.
func (p *TicksPage) Render(s TicksState) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.ask.SetText(s.Ask)
	none := len(s.Rows) == 0
	p.column.Hidden, p.rows.Hidden, p.enter.Hidden = none, none, none
	if p.field.Text != s.Text {
		p.filling = true
		p.field.SetText(s.Text)
		p.field.CursorColumn = len([]rune(s.Text))
		p.filling = false
	}
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.rows.SetRows(s.Rows)
	p.rows.Mark(s.Row)
	p.enter.SetOff(s.Filled == 0)
	p.enter.SetLabel(fmt.Sprintf("Book %d of %d", s.Filled, len(s.Rows)))
	p.content.Refresh()
}
