package today

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
)

// Host is the window as this screen needs it.
type Host interface {
	Go(to card.Route)
	ShowSide(o fyne.CanvasObject)
	HideCard()
}

// Page is the screen.
type Page struct {
	model *Model
	host  Host

	title, note *look.Paragraph
	problem     *look.Notice
	sections    *fyne.Container
	lists       []*look.RowList
	ids         []string // kinds of the sections that are built
	heads       []*look.Paragraph
	clears      []*look.Paragraph
	scroll      *container.Scroll
	body        *fyne.Container
	root        *fyne.Container // body, or what to do first
	side        *fyne.Container
	entries     *look.RowList
	undo        *look.KeyButton
	shown       bool // the side is shown
}

// rowHeight fits a name with a line under it, in points at normal size.
const rowHeight = 50

// New makes the page.
func New(s *session.Session, host Host, _ card.Route) *Page {
	p := &Page{
		host: host, title: look.NewTitle("Today"), note: look.NewQuiet(""), problem: look.NewNotice(card.Notice{Tone: card.Stop}),
		sections: look.Rows(16), entries: look.NewRowList(EntryColumns()...),
	}
	p.model = NewModel(s, p.Render, host.Go)
	p.problem.Hide()
	p.scroll = container.NewVScroll(look.Inset(2, 2, p.sections)) // the edges of the lists are drawn whole
	p.body = container.NewBorder(look.Rows(2, p.title, p.note, p.problem), nil, nil, nil, look.Inset(0, 8, p.scroll))
	p.root = container.NewStack()
	p.entries.SetRowHeight(rowHeight)
	p.entries.OnTapped = func(i int, _ card.Row) { p.model.OpenEntry(i) }
	p.entries.OnOpened = func(i int, _ card.Row) { p.model.OpenEntry(i) }
	p.undo = look.NewKeyButton("Undo the newest", "Ctrl+Z", p.model.Undo)
	p.side = look.Fill(12, look.NewHeading("Last entries"), p.entries, p.undo)
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.root }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Today" }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) }

// Changed reads again what waits, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// Render shows a state.
func (p *Page) Render(s State) {
	p.note.SetText(s.Note)
	p.problem.SetNotice(card.Notice{Tone: card.Stop, Text: s.Error})
	p.problem.Hidden = s.Error == ""
	p.renderSide(s)
	if s.First {
		p.set(p.first(s))
		return
	}
	p.renderSections(s)
	p.set(p.body)
	p.body.Refresh()
	p.reveal(s)
}

// set shows an object in place of the whole page.
func (p *Page) set(o fyne.CanvasObject) {
	if len(p.root.Objects) == 1 && p.root.Objects[0] == o {
		return
	}
	p.root.Objects = []fyne.CanvasObject{o}
	p.root.Refresh()
}

// first says what to do in a shop without a packing list.
func (p *Page) first(s State) fyne.CanvasObject {
	to := func(r card.Route) func() { return func() { p.host.Go(r) } }
	buttons := []*look.KeyButton{look.NewPrimary("Bring a packing list in", "I", to(card.Route{Screen: card.Unpack, Part: "list"}))}
	next := "Start with the list that came with your crates: a spreadsheet or CSV file. Then the crates are checked off line by line, and what was found goes into its drawers."
	if !s.Places {
		buttons = append(buttons, look.NewKeyButton("Make a cabinet first", "P", to(card.Route{Screen: card.Places})))
		next += " Drawers and shelves can be made now or later."
	}
	return look.NewEmptyState("Nothing waits here yet", next, buttons...)
}

// renderSide shows the last entries.
func (p *Page) renderSide(s State) {
	if len(s.Entries) == 0 {
		p.host.HideCard()
		p.shown = false
		return
	}
	p.entries.SetRows(s.Entries)
	p.undo.SetOff(s.Undo == "")
	p.side.Refresh()
	if !p.shown {
		p.shown = true
		p.host.ShowSide(p.side)
	}
}

// renderSections fills the sections, which are built the first time.
func (p *Page) renderSections(s State) {
	if !p.builtFor(s) {
		p.build(s)
	}
	start := 0
	for i, section := range s.Sections {
		p.heads[i].SetText(section.Title)
		p.clears[i].SetText(section.Clear)
		p.clears[i].Hidden, p.lists[i].Hidden = len(section.Rows) > 0, len(section.Rows) == 0
		p.lists[i].SetRows(section.Rows)
		p.lists[i].Mark(-1)
		if at := s.Chosen - start; at >= 0 && at < len(section.Rows) {
			p.lists[i].Mark(at)
		}
		start += len(section.Rows)
	}
	p.sections.Refresh()
}

func (p *Page) builtFor(s State) bool {
	if len(p.ids) != len(s.Sections) {
		return false
	}
	for i, section := range s.Sections {
		if section.ID != p.ids[i] {
			return false
		}
	}
	return true
}

func (p *Page) build(s State) {
	p.sections.Objects, p.ids, p.lists, p.heads, p.clears = nil, nil, nil, nil, nil
	for i, section := range s.Sections {
		list := look.NewRowList(Columns(section.ID)...)
		list.SetRowHeight(rowHeight)
		list.OnTapped = func(at int, _ card.Row) { p.model.Open(p.offset(i) + at) }
		list.OnOpened = func(at int, _ card.Row) { p.model.Open(p.offset(i) + at) }
		head, clear := look.NewHeading(section.Title), look.NewQuiet(section.Clear)
		p.ids, p.lists = append(p.ids, section.ID), append(p.lists, list)
		p.heads, p.clears = append(p.heads, head), append(p.clears, clear)
		p.sections.Add(look.Rows(6, head, clear, list))
	}
}

// offset is how many rows stand in the sections before one.
func (p *Page) offset(section int) int {
	n := 0
	for _, s := range p.model.State().Sections[:section] {
		n += len(s.Rows)
	}
	return n
}

// reveal scrolls so that the chosen row is in sight.
func (p *Page) reveal(s State) {
	for i, section := range s.Sections {
		at := s.Chosen - p.offset(i)
		if at < 0 || at >= len(section.Rows) {
			continue
		}
		list, h := p.lists[i], look.Px(rowHeight)
		top := p.sections.Objects[i].Position().Y + p.sections.Position().Y + list.Position().Y + float32(at)*h
		if at == 0 && i == 0 {
			top = 0
		}
		offset, view := p.scroll.Offset.Y, p.scroll.Size().Height
		if top < offset {
			offset = top
		} else if view > h && top+h+look.Px(4) > offset+view {
			offset = top + h + look.Px(4) - view
		}
		p.scroll.ScrollToOffset(fyne.NewPos(0, offset))
	}
}
