package labelling

import (
	"strconv"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/labels"
)

// Page is the screen.
type Page struct {
	host  app.Host
	model *Model

	title   *look.Paragraph
	summary *look.Paragraph
	problem *look.Notice
	saved   *look.Notice
	groups  *look.RowList
	sheet   *look.SheetView
	turn    *look.Paragraph
	turns   []*look.KeyButton
	first   *look.SheetView
	firstly *look.Paragraph
	empty   *look.EmptyState
	work    *fyne.Container
	content *fyne.Container

	stock  *look.Paragraph // what is printed on
	start  *look.Entry
	path   *look.PathPick
	field  *look.Field
	notes  *fyne.Container
	side   *fyne.Container
	beside bool // the side is shown
	asked  *setupForm
}

// New returns the page; the route's About is the id of the place to print labels for.
func New(s *session.Session, host app.Host, route routes.Route) *Page {
	p := &Page{host: host, title: look.NewTitle("Labels"), summary: look.NewQuiet(""), turn: look.NewQuiet("")}
	p.model = NewModel(s, p.Render)
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	p.model.AskPrinter = p.askPrinter
	p.model.Remember(fyne.CurrentApp().Preferences())
	p.problem, p.saved = look.NewNotice(notice.Notice{Tone: notice.Stop}), look.NewNotice(notice.Notice{Tone: notice.OK})
	p.makeWork()
	p.makeSide(s.Folders)
	p.content.Refresh()
	p.model.Open(route.About)
	return p
}

func (p *Page) makeWork() {
	p.groups = look.NewRowList(Columns()...)
	p.groups.OnOpened = func(_ int, row table.Row) { p.model.Toggle(row.ID) }
	p.groups.OnTapped = p.groups.OnOpened
	p.sheet = look.NewSheetView(labels.Page{})
	p.sheet.OnTapped = p.model.StartHere
	p.empty = look.NewEmptyState("Nothing to label yet", "Each drawer of a cabinet gets a label with a code that leads back to it. Make the cabinet first.",
		look.NewPrimary("Make a cabinet", "P", func() { p.host.Go(routes.Route{Screen: routes.Places}) }))
	p.first, p.firstly = look.NewSheetView(labels.Page{}), look.NewFoot("the first of them, enlarged")
	left := look.Fill(12, p.groups, look.Line(look.NewKeyButton("Pick or leave out", "Enter", p.toggle)), p.firstly, p.first)
	look.Spare(left, leastGroups, func() bool { return p.model.State().First.W > 0 }, p.firstly, p.first)
	p.turns = []*look.KeyButton{
		look.NewKeyButton("Before", "<", func() { p.model.Turn(-1) }),
		look.NewKeyButton("Next", ">", func() { p.model.Turn(1) }),
	}
	right := look.Fill(8, p.sheet, look.Line(p.turns[0], p.turns[1], look.Gap(), p.turn))
	p.work = look.Beside(330, left, right)
	p.content = look.Fill(12, look.Rows(2, p.title, p.summary), p.problem, p.saved, p.empty, p.work)
}

func (p *Page) makeSide(ways *folders.Ways) {
	p.stock = look.NewText("")
	change := look.NewFootLink("Change", stockKey, p.askStock)
	p.start = look.NewEntry("1")
	p.start.OnChanged = p.model.TypeStart
	p.field = look.NewField("First free label of the sheet", p.start, "on a used sheet, count along the rows, or tap the label")
	p.path = look.NewPathPick(ways, folders.NewFile("labels.pdf"), "labels.pdf")
	p.path.SetPath(p.model.State().Path)
	p.path.OnPicked = p.model.Save
	p.notes = look.Rows(4)
	p.side = look.Pin(12, look.NewScroller(look.Rows(12, look.NewField("Printed on", look.Rows(4, p.stock, look.Line(change)), ""), p.field, look.NewField("Save the PDF as", p.path, ""), p.notes)),
		look.Pair(look.NewPrimary("Save PDF", "S", func() { p.model.Save(p.path.Path()) }),
			look.NewKeyButton("Print", "I", func() { p.model.Print(p.path.Path()) }),
			look.NewKeyButton("More", moreKey, p.askMore)))
}

// The keys of the side.
const (
	moreKey  = "M" // lists what is done more seldom
	stockKey = "K" // asks what is printed on
)

// rare is what is done more seldom, by its key.
func (p *Page) rare() map[string]func() {
	return map[string]func(){
		"T": func() { p.model.SaveTest(p.path.Path()) },
		"Z": func() { p.model.SaveSizes(p.path.Path()) },
		"C": p.setup,
	}
}

// askMore lists it.
func (p *Page) askMore() {
	app.AskAction(p.host, "More for these labels", []card.Action{
		{ID: "T", Key: "T", Label: "Test print: to see where the printer puts them"},
		{ID: "Z", Key: "Z", Label: "Sizing card: what lies there, at its real size"},
		{ID: "C", Key: "C", Label: "Copies, a size of your own, the printer's error"},
	}, func(id string) { p.rare()[id]() })
}

// HandleKey does what a key without a button is for.
func (p *Page) HandleKey(key string) bool {
	do, ok := p.rare()[key]
	if ok = ok && p.beside; ok {
		do()
	}
	return ok
}

// leastGroups is the least height of the list of groups at which the enlarged first label
// is shown as well, in points at normal size: its header and three rows.
const leastGroups = 190

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// GivesWay reports true: in a narrow window the page is shown beside its card.
func (p *Page) GivesWay() bool { return true }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Labels" }

// Results is the list that the down arrow goes to.
func (p *Page) Results() fyne.Focusable { return p.groups }

// First is what is chosen for labels.
func (p *Page) First() fyne.Focusable {
	if p.groups.Len() == 0 {
		return nil
	}
	return p.groups
}

// Changed updates the layout after a change of the shop.
func (p *Page) Changed() { p.model.Lay() }

func (p *Page) toggle() {
	if row, ok := p.groups.Chosen(); ok {
		p.model.Toggle(row.ID)
	}
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.summary.SetText(s.Summary())
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.saved.SetNotice(notice.Notice{Tone: notice.OK, Lead: s.Lead, Text: s.Saved})
	p.saved.Hidden = s.Saved == ""
	p.empty.Hidden = !s.Empty
	p.title.Hidden, p.summary.Hidden = s.Empty, s.Empty
	p.showSide(s.Empty)
	p.work.Hidden = s.Empty
	chosen, _ := p.groups.Chosen()
	p.groups.SetRows(s.Rows())
	p.groups.Mark(max(0, groupIndex(s.Groups, chosen.ID)))
	if s.Stock < len(s.Stocks) {
		p.stock.SetText(s.Stocks[s.Stock].String())
	}
	p.showStart(s)
	p.showSheet(s)
	p.notes.Objects = nil
	for _, n := range s.Notes {
		p.notes.Add(look.NewFoot(n))
	}
	p.notes.Hidden = len(s.Notes) == 0
	p.side.Refresh()
	p.content.Refresh()
}

// showSide shows the stock and the file at the side, once there is something to print.
func (p *Page) showSide(empty bool) {
	switch {
	case empty:
		p.host.HideCard()
	case !p.beside:
		p.host.ShowSide(p.side)
	}
	p.beside = !empty
}

// showStart shows the first free label, unless its field has that number already.
func (p *Page) showStart(s State) {
	p.field.SetProblem(s.BadAt)
	text := strconv.Itoa(s.StartAt)
	same := p.start.Text == text || (p.start.Text == "" && s.StartAt == 1)
	if s.BadAt == "" && !same {
		p.start.SetText(text)
	}
}

// showSheet shows the sheet, and its first label enlarged.
func (p *Page) showSheet(s State) {
	p.sheet.Hidden = s.Page.W == 0
	p.sheet.SetPage(s.Page, s.Used, labels.Rect{})
	p.first.SetPart(s.Page, s.First)
	p.turn.SetText(s.Turned())
	for _, b := range p.turns {
		b.Hidden = s.Sheets < 2
	}
}

func groupIndex(groups []Group, id string) int {
	for i, g := range groups {
		if g.ID == id {
			return i
		}
	}
	return -1
}
