package today

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
)

// Page is the screen.
type Page struct {
	model *Model
	host  app.Host

	title, note *look.Paragraph
	problem     *look.Notice
	sections    *fyne.Container
	lists       []*look.RowList
	ids         []string // kinds of the sections that are built
	heads       []*look.Paragraph
	clears      []*look.Paragraph
	body        *fyne.Container
	root        *fyne.Container // body, or what to do first
	side        *fyne.Container
	entries     *look.RowList
	undo        *look.KeyButton
	due         *look.KeyButton // shown where something is
	shown       bool            // the side is shown
}

// rowHeight fits a name with a line under it, in points at normal size.
const rowHeight = 50

// New makes the page.
func New(s *session.Session, host app.Host, _ routes.Route) *Page {
	p := &Page{
		host: host, title: look.NewTitle("Today"), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		entries: look.NewRowList(EntryColumns()...),
	}
	p.model = NewModel(s, p.Render, host.Go)
	p.problem.Hide()
	p.sections = container.New(&sectionsLayout{page: p})
	p.due = look.NewKeyButton("What is due", "D", p.model.OpenDue)
	p.body = look.Fill(2, look.Head(look.Rows(2, p.title, p.note), look.Line(p.due)), p.problem, p.sections)
	p.root = container.NewStack()
	p.entries.SetRowHeight(rowHeight)
	p.entries.OnTapped = func(i int, _ table.Row) { p.model.OpenEntry(i) }
	p.entries.OnOpened = func(i int, _ table.Row) { p.model.OpenEntry(i) }
	p.undo = look.NewKeyButton("Undo the newest", "Ctrl+Z", p.model.Undo)
	safe := look.NewKeyButton("Safe copies", "F12", func() { host.Go(routes.Route{Screen: routes.Copies}) })
	p.side = look.Fill(12, look.NewHeading("Last entries"), p.entries, look.Line(p.undo, safe))
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
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	p.problem.Hidden = s.Error == ""
	p.renderSide(s)
	p.renderSections(s)
	if s.First {
		p.set(p.first(s))
		return
	}
	p.set(p.body)
	p.body.Refresh()
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
	to := func(r routes.Route) func() { return func() { p.host.Go(r) } }
	buttons := []*look.KeyButton{look.NewPrimary("Bring a packing list in", "I", to(routes.Route{Screen: routes.Unpack, Part: "list"}))}
	next := "Start with the list that came with your crates: a spreadsheet or CSV file. Then the crates are checked off line by line, and what was found goes into its drawers."
	if !s.Places {
		buttons = append(buttons, look.NewKeyButton("Make a cabinet first", "P", to(routes.Route{Screen: routes.Places})))
		next += " Drawers and shelves can be made now or later."
	}
	if len(s.Entries) == 0 {
		buttons = append(buttons, look.NewKeyButton("Bring an export in", "E", to(routes.Route{Screen: routes.Copies})))
		next += " An export of another shop brings all of that shop in."
	}
	if !s.due() {
		return look.NewEmptyState("Nothing waits here yet", next, buttons...)
	}
	return look.Fill(2, look.Head(look.Rows(2, p.title, p.note), look.Line(p.due)), p.problem, p.sections,
		look.NewEmptyState("No packing list is here yet", next, buttons...))
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
	for i, section := range s.Sections {
		p.heads[i].Set(section.Title, section.Note)
		p.clears[i].SetText(section.Clear)
		p.clears[i].Hidden, p.lists[i].Hidden = len(section.Rows) > 0, len(section.Rows) == 0
		p.lists[i].SetRows(section.Rows)
	}
	p.due.Hidden = !s.due()
	p.mark(s)
	p.sections.Refresh()
}

// mark shows which row is chosen.
func (p *Page) mark(s State) {
	start := 0
	for i, section := range s.Sections {
		at := s.Chosen - start
		if at < 0 || at >= len(section.Rows) {
			at = -1
		}
		p.lists[i].Mark(at)
		start += len(section.Rows)
	}
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
		list.OnTapped = func(at int, _ table.Row) { p.model.Open(p.offset(i) + at) }
		list.OnOpened = func(at int, _ table.Row) { p.model.Open(p.offset(i) + at) }
		head, clear := look.NewNotedHeading(section.Title, section.Note), look.NewQuiet(section.Clear)
		p.ids, p.lists = append(p.ids, section.ID), append(p.lists, list)
		p.heads, p.clears = append(p.heads, head), append(p.clears, clear)
		p.sections.Objects = append(p.sections.Objects, head, clear, list)
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

// sectionsLayout stacks the sections. Where they do not all fit, the longest lists
// become lower and scroll.
type sectionsLayout struct {
	page  *Page
	sized fyne.Size // of the last layout
}

// Space around the parts, in points at normal size.
const (
	overHead  = 16
	underHead = 6
)

// MinSize is small: the lists scroll.
func (l *sectionsLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	var high float32
	for i, list := range l.page.lists {
		high += l.page.heads[i].MinSize().Height + look.Px(overHead+underHead)
		if list.Visible() {
			high += list.HeightFor(l.sized.Width)
		}
	}
	return fyne.NewSize(look.Px(300), min(look.Px(240), high))
}

// Layout places headings and lists.
func (l *sectionsLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	p, left := l.page, size.Height
	heights := make([]float32, len(p.lists))
	for i, list := range p.lists {
		left -= p.heads[i].HeightFor(size.Width) + look.Px(overHead+underHead)
		if list.Visible() {
			heights[i] = list.HeightFor(size.Width)
		} else {
			left -= p.clears[i].HeightFor(size.Width)
		}
	}
	lower(heights, left, look.Px(rowHeight*1.4))
	var y float32
	down := func(o fyne.CanvasObject, h float32) {
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		y += h
	}
	for i, list := range p.lists {
		y += look.Px(overHead)
		down(p.heads[i], p.heads[i].HeightFor(size.Width))
		y += look.Px(underHead)
		if list.Visible() {
			down(list, heights[i])
		} else {
			down(p.clears[i], p.clears[i].HeightFor(size.Width))
		}
	}
	if l.sized != size { // a list cannot bring its row into sight before it has a height
		l.sized = size
		p.mark(p.model.State())
	}
}

// lower takes from the largest heights until their sum fits, down to the least one.
func lower(heights []float32, room, least float32) {
	for range heights {
		var sum, most, next float32
		n := float32(0)
		for _, h := range heights {
			sum += h
			switch {
			case h > most:
				most, next, n = h, max(next, most), 1
			case h == most:
				n++
			default:
				next = max(next, h)
			}
		}
		if sum <= room || most <= least {
			return
		}
		to := max(next, least, most-(sum-room)/n)
		for i, h := range heights {
			if h == most {
				heights[i] = to
			}
		}
	}
}
