package labelling

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
	"stowright/labels"
)

// Host is the window as this screen needs it.
type Host interface {
	Go(to card.Route)
	ShowSide(o fyne.CanvasObject)
	HideCard()
}

// Page is the screen.
type Page struct {
	host  Host
	model *Model

	title   *look.Paragraph
	summary *look.Paragraph
	problem *look.Notice
	saved   *look.Notice
	groups  *look.RowList
	sheet   *look.SheetPicture
	turn    *look.Paragraph
	empty   *look.EmptyState
	work    *fyne.Container
	content *fyne.Container

	stocks *look.RowList
	start  *look.Entry
	path   *look.FilePick
	notes  *look.Paragraph
	side   *fyne.Container
}

// New makes the page; the route's About is the id of a place to print labels for.
func New(s *session.Session, host Host, route card.Route) *Page {
	p := &Page{host: host, title: look.NewTitle("Labels"), summary: look.NewQuiet(""), turn: look.NewQuiet("")}
	p.model = NewModel(s, p.Render)
	p.problem, p.saved = look.NewNotice(card.Notice{Tone: card.Stop}), look.NewNotice(card.Notice{Tone: card.OK})
	p.makeWork()
	p.makeSide()
	p.content.Refresh()
	host.ShowSide(p.side)
	p.model.Open(route.About)
	return p
}

func (p *Page) makeWork() {
	p.groups = look.NewRowList(Columns()...)
	p.groups.OnOpened = func(_ int, row card.Row) { p.model.Toggle(row.ID) }
	p.sheet = look.NewSheetPicture(labels.Page{})
	p.sheet.OnTapped = p.model.StartHere
	p.empty = look.NewEmptyState("Nothing to label yet", "Make a cabinet on Places: each of its drawers then gets a label with a code that leads back to it.",
		look.NewPrimary("Go to Places", "G", func() { p.host.Go(card.Route{Screen: card.Places}) }))
	left := look.Rows(12, p.groups, look.Line(look.NewKeyButton("Pick or leave out", "Enter", p.toggle)))
	right := look.Fill(8, p.sheet, look.Line(p.turn, look.Gap(), look.NewKeyButton("Sheet before", "<", func() { p.model.Turn(-1) }), look.NewKeyButton("Next sheet", ">", func() { p.model.Turn(1) })))
	p.work = look.Beside(330, left, right)
	p.content = look.Fill(12, look.Rows(2, p.title, p.summary), p.problem, p.saved, p.empty, p.work)
}

func (p *Page) makeSide() {
	p.stocks = look.NewRowList(card.Column{Title: "printed on", Kind: card.Words})
	p.stocks.SetRowHeight(stockRow)
	p.stocks.OnChosen = func(i int, _ card.Row) { p.model.SetStock(i) }
	rows := make([]card.Row, 0, len(labels.Stocks()))
	for _, s := range labels.Stocks() {
		rows = append(rows, card.Row{ID: s.Name, Cells: []card.Cell{card.T(s.String())}})
	}
	p.stocks.SetRows(rows)
	p.start = look.NewEntry("1")
	p.start.OnChanged = p.startAt
	p.path = look.NewFilePick("labels.pdf", ".pdf")
	p.path.SetPath(p.model.State().Path)
	p.path.OnPicked = p.model.Save
	p.notes = look.NewFoot("")
	p.side = look.Fill(12, p.stocks,
		look.NewField("First free label of the sheet", p.start, "on a used sheet, count along the rows, or tap the label"),
		look.NewField("Save the PDF as", p.path, ""),
		look.NewPrimary("Save the PDF", "S", func() { p.model.Save(p.path.Path()) }), p.notes)
}

// stockRow is the height of a stock in the list, points at normal size.
const stockRow = 34

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Labels" }

// Results is the list that the down arrow goes to.
func (p *Page) Results() fyne.Focusable { return p.groups }

// Changed lays the labels out anew, because the shop has changed.
func (p *Page) Changed() { p.model.Lay() }

func (p *Page) toggle() {
	if row, ok := p.groups.Chosen(); ok {
		p.model.Toggle(row.ID)
	}
}

func (p *Page) startAt(text string) {
	if n, err := strconv.Atoi(strings.TrimSpace(text)); err == nil {
		p.model.SetStart(n)
	}
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.summary.SetText(s.Summary())
	p.problem.SetNotice(card.Notice{Tone: card.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.saved.SetNotice(card.Notice{Tone: card.OK, Lead: "Saved:", Text: s.Saved})
	p.saved.Hidden = s.Saved == ""
	p.empty.Hidden = !s.Empty
	p.work.Hidden = s.Empty
	chosen, _ := p.groups.Chosen()
	p.groups.SetRows(s.Rows())
	p.groups.Mark(max(0, groupIndex(s.Groups, chosen.ID)))
	p.stocks.Mark(s.Stock)
	if s.StartAt != 1 && p.start.Text != strconv.Itoa(s.StartAt) {
		p.start.SetText(strconv.Itoa(s.StartAt))
	}
	p.sheet.Hidden = s.Page.W == 0
	p.sheet.SetPage(s.Page, s.Used, labels.Rect{})
	p.turn.SetText("")
	if s.Sheets > 0 {
		p.turn.SetText(fmt.Sprintf("sheet %d of %d", s.Sheet+1, s.Sheets))
	}
	p.notes.SetText(strings.Join(s.Notes, " "))
	p.side.Refresh()
	p.content.Refresh()
}

func groupIndex(groups []Group, id string) int {
	for i, g := range groups {
		if g.ID == id {
			return i
		}
	}
	return -1
}
