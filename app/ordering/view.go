package ordering

import (
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// Page is the screen.
type Page struct {
	session *session.Session
	host    app.Host
	model   *Model

	title, note *look.Paragraph
	ask         *look.Notice
	problem     *look.Notice
	list, owed  *look.RowList
	lead, hint  *look.Paragraph
	nothing     *fyne.Container
	mark, save  *look.KeyButton
	other       *look.KeyButton
	toBuild     *look.KeyButton
	buttons     *fyne.Container
	content     *fyne.Container
}

// New makes the page of a route: Part is OwedPart for what was ordered, About the item to
// begin with.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{
		session: s, host: host, title: look.NewTitle("Order"), note: look.NewQuiet(""), ask: look.NewNotice(notice.Notice{Tone: notice.Warn}),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), list: look.NewRowList(Columns()...), owed: look.NewRowList(OwedColumns()...),
		lead: look.NewHeading(""), hint: look.NewQuiet(""),
	}
	p.model = NewModel(s, route.Part == OwedPart, route.About, p.Render)
	p.model.Said = host.Say
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	for _, l := range []*look.RowList{p.list, p.owed} {
		l.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	}
	p.mark = look.NewPrimary("Mark as ordered", "M", p.askMark)
	p.save = look.NewKeyButton("Save", "S", p.askSave)
	p.other = look.NewKeyButton("What is owed", "O", func() { p.model.Show(!p.model.State().Owed) })
	p.toBuild = look.NewKeyButton("Build", "B", func() { host.Go(routes.Route{Screen: routes.Build}) })
	p.buttons = look.Line(p.mark, p.save, p.other)
	p.nothing = look.Rows(12, p.lead, p.hint, look.Line(p.toBuild))
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), p.buttons), p.problem, p.ask, p.nothing, p.list, p.owed, look.Rows(0))
	p.Render(State{Loading: true, Owed: p.model.State().Owed, Chosen: -1})
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Order" }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Changed reads everything again, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// Results is what the down arrow goes to from the command bar.
func (p *Page) Results() fyne.Focusable {
	if p.model.State().Owed {
		return p.owed
	}
	return p.list
}

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) }

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.note.Hidden = s.Note == ""
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.ask.SetNotice(notice.Notice{Tone: notice.Warn, Text: s.Ask})
	p.ask.Hidden = s.Ask == ""
	p.lead.SetText(s.Lead)
	p.hint.SetText(s.Hint)
	p.nothing.Hidden = s.Hint == ""
	p.toBuild.Hidden = s.Owed
	p.list.Hidden, p.owed.Hidden = s.Owed || len(s.Rows) == 0, !s.Owed || len(s.Rows) == 0
	p.mark.Hidden, p.save.Hidden = s.Owed || len(s.Rows) == 0, s.Owed || len(s.Rows) == 0
	p.other.SetLabel("What is owed")
	if s.Owed {
		p.other.SetLabel("What to order")
	}
	shown := p.list
	if s.Owed {
		shown = p.owed
	}
	shown.SetRows(s.Rows)
	shown.Mark(s.Chosen)
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	c.Actions = p.actions()
	p.host.ShowCard(c, p.act)
}

// The actions of a line's card.
const (
	priceID    = "price"
	packID     = "pack"
	fromID     = "supplier"
	spareID    = "spare"
	leastID    = "least"
	keepID     = "keep"
	minimumID  = "minimum"
	promiseID  = "promise"
	cancelID   = "cancel"
	yesID      = "yes"
	noID       = "no"
	findItemID = "find"
)

func (p *Page) actions() []card.Action {
	l := p.model.at()
	switch {
	case l.supplier != nil && l.supplier.Name != "":
		return []card.Action{{ID: minimumID, Label: "Minimum order", Key: "I", Primary: true}}
	case l.item != nil:
		return []card.Action{
			{ID: priceID, Label: "Price", Key: "P", Primary: true},
			{ID: packID, Label: "Pack", Key: "K"},
			{ID: fromID, Label: "Supplier", Key: "U"},
			{ID: spareID, Label: "Spares", Key: "R"},
			{ID: leastID, Label: "Fewest sold", Key: "L"},
			{ID: keepID, Label: "Never below", Key: "N"},
			{ID: findItemID, Label: "Find it", Key: "F"},
		}
	case l.owing != nil:
		return []card.Action{
			{ID: promiseID, Label: "Promised for", Key: "P", Primary: true},
			{ID: cancelID, Label: "Will not come", Key: "X"},
		}
	case l.offer != nil:
		return []card.Action{
			{ID: yesID, Label: "Yes, it is that", Key: "Y", Primary: true},
			{ID: noID, Label: "No, something else", Key: "N"},
		}
	}
	return nil
}

// act does an action of the card.
func (p *Page) act(id string) {
	switch id {
	case yesID, noID:
		p.model.Answer(id == yesID)
	case promiseID:
		p.askPromise()
	case cancelID:
		p.askCancel()
	case findItemID:
		p.host.Go(routes.Route{Screen: routes.Find, About: p.model.Item()})
	default:
		p.askField(map[string]Field{
			priceID: PriceField, packID: PackField, fromID: SupplierField, spareID: SpareField, leastID: LeastField, keepID: KeepField, minimumID: MinimumField,
		}[id])
	}
}

// question is a question of this screen while it is open.
type question struct {
	page   *Page
	dialog *look.Dialog
	field  *look.Field
}

// answered shows what is wrong, or closes the question.
func (q *question) answered(problem string) {
	if problem != "" {
		q.field.SetProblem(problem)
		q.dialog.Refresh()
		return
	}
	q.dialog.Close()
}

// asked is a question for one text: its words, what stands in the field at first, and
// the word of the button that answers.
type asked struct{ title, label, hint, text, do string }

// askOne asks for one text and does what it comes to.
func (p *Page) askOne(a asked, change func(typed string) operation.Operation) {
	entry := look.NewEntry("")
	entry.SetText(a.text)
	q := &question{page: p, field: look.NewField(a.label, entry, a.hint)}
	done := func() { p.model.Change(change(entry.Text), q.answered) }
	entry.OnSubmitted = func(string) { done() }
	q.dialog = look.NewDialog(a.title, q.field, look.NewKeyButton("Cancel", "Esc", func() { q.dialog.Close() }), look.NewPrimary(a.do, "Enter", done))
	p.host.Ask(q.dialog, entry)
	entry.SelectAll()
}

func (p *Page) askField(f Field) {
	item, supplier := p.model.Item(), p.model.Supplier()
	label, hint := f.Question()
	title := item
	if f == MinimumField {
		title = supplier
	}
	p.askOne(asked{title, label, hint, p.model.Typed(f), "Keep it"}, func(typed string) operation.Operation { return f.Change(item, supplier, typed) })
}

func (p *Page) askPromise() {
	w, ok := p.model.Owing()
	if !ok {
		return
	}
	day := ""
	if !w.Promised.IsZero() {
		day = w.Promised.String()
	}
	p.askOne(asked{w.Item + ", " + w.Ref().String(), "For which day is it promised?", "as 2026-04-30; nothing where no day was promised", day, "Keep it"}, func(typed string) operation.Operation {
		if strings.TrimSpace(typed) == "" {
			typed = operation.None
		}
		return operation.PromiseOrder{Order: w.Ref().String(), Day: typed}
	})
}

func (p *Page) askCancel() {
	w, ok := p.model.Owing()
	if !ok {
		return
	}
	p.askOne(asked{w.Item + ", " + w.Ref().String(), "Why will it never come?", "the reason is kept; what is missing then stands on the list again", "", "It will not come"}, func(typed string) operation.Operation {
		return operation.CancelOrder{Order: w.Ref().String(), Reason: typed}
	})
}

// askMark asks what was ordered.
func (p *Page) askMark() {
	supplier, all := p.model.Supplier(), len(p.model.data.List.Suppliers)
	if p.model.State().Owed || all == 0 {
		return
	}
	day, number := look.NewEntry("2026-04-30, or nothing"), look.NewEntry("their number of the order, or nothing")
	q := &question{page: p, field: look.NewField("Promised for", day, "")}
	which := look.NewChoices(0, SupplierName(supplier), "all suppliers")
	body := look.Rows(12, look.NewText("What is marked is owed from now on, and is on the list no more. Ctrl+Z takes it back."))
	if all > 1 {
		body.Add(look.NewField("What was ordered?", which, ""))
	}
	body.Add(q.field)
	body.Add(look.NewField("Reference", number, ""))
	done := func() {
		p.model.Change(operation.MarkOrdered{Supplier: supplier, All: all == 1 || which.Chosen() == 1, Promised: day.Text, Reference: number.Text}, q.answered)
	}
	day.OnSubmitted, number.OnSubmitted = func(string) { done() }, func(string) { done() }
	q.dialog = look.NewDialog("Was it ordered?", body, look.NewKeyButton("Cancel", "Esc", func() { q.dialog.Close() }), look.NewPrimary("Mark as ordered", "Enter", done))
	p.host.Ask(q.dialog, day)
}

// askSave asks where the list is written to, and as what.
func (p *Page) askSave() {
	if p.model.State().Owed || len(p.model.State().Rows) == 0 {
		return
	}
	look.AskPath(p.session.Folders, look.PathQuestion{
		Title: "Save the order list", Label: "The file", Hint: "ends in .pdf to be read, .csv or .xlsx for a spreadsheet", Do: "Save",
		Want: folders.NewFile("order.pdf", ".csv", ".xlsx"), Path: filepath.Join(p.session.Folders.ToWrite(), "order.pdf"),
	}, p.host.Ask, p.model.Save)
}
