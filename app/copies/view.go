package copies

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/folders"
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
	ways  *folders.Ways
	log   string // the file of the program's log; empty for none

	traced func(text string)

	note     *look.Paragraph
	said     *look.Notice
	list     *look.RowList
	progress *look.Progress
	planHead *look.Paragraph
	planText *look.Paragraph
	planRows *look.RowList

	lasting, working, planning fyne.CanvasObject
	ofCopy                     []*look.KeyButton // that need a chosen copy
	ofShop                     []*look.KeyButton // that need something in the shop
	bring                      *look.KeyButton
	root                       *fyne.Container
}

// Options are what the page needs beside the shop.
type Options struct {
	// Replace puts a restored file in the place of the shop file.
	Replace Replacer
	// Shown is called with what the page shows, for scripts that wait for it.
	Shown func(text string)
}

// New makes the page.
func New(s *session.Session, host app.Host, _ routes.Route, o Options) *Page {
	p := &Page{
		host: host, traced: o.Shown, ways: s.Folders, log: s.Log, note: look.NewQuiet(""), said: look.NewNotice(notice.Notice{}), list: look.NewRowList(Columns()...),
		planHead: look.NewTitle(""), planText: look.NewText(""), planRows: look.NewRowList(DifferColumns()...),
	}
	p.model = NewModel(s, p.Render, o.Replace)
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	p.progress = look.NewProgress("", p.model.Stop)
	p.list.SetRowHeight(50)
	p.planRows.SetRowHeight(50)
	p.list.OnTapped = func(i int, _ table.Row) { p.model.Choose(i) }
	p.said.Hide()
	p.build()
	host.HideCard()
	p.model.Load()
	return p
}

func (p *Page) build() {
	restore := look.NewKeyButton("Restore this one", "Enter", p.model.AskRestore)
	see := look.NewKeyButton("Is it whole?", "W", p.model.LookAt)
	p.ofCopy = []*look.KeyButton{restore, see}
	p.bring = look.NewKeyButton("Bring an export in", "I", p.askExport)
	p.ofShop = []*look.KeyButton{
		look.NewPrimary("Copy now", "N", func() { p.model.Copy("") }),
		look.NewKeyButton("Copy elsewhere", "O", func() { p.askFolder("Copy to another folder", "Copy", p.model.Copy) }),
		look.NewKeyButton("Export everything", "X", func() { p.askFolder("Export everything", "Export", p.model.Export) }),
	}
	ways := look.Line()
	for _, b := range slices.Concat(p.ofShop, p.ofCopy) {
		ways.Add(b)
	}
	ways.Add(look.NewKeyButton("Check the shop", "H", p.model.Check))
	ways.Add(p.bring)
	p.lasting = look.Fill(12, look.NewTitle("Safe copies"), p.note, p.list, p.said, ways)
	if p.log != "" {
		p.lasting = look.Fill(12, look.NewTitle("Safe copies"), p.note, p.list, p.said, ways,
			look.NewFoot("What goes wrong inside the program is noted in "+p.ways.Short(p.log)+". Nothing of the shop is in it."))
	}
	p.working = look.Rows(12, look.NewTitle("Safe copies"), look.NewPanel(20, p.progress))
	p.planning = look.Fill(12, p.planHead, p.planText, p.planRows,
		look.Line(look.NewKeyButton("Leave it as it is", "Esc", p.model.Drop), look.Gap(), look.NewPrimary("Restore", "Enter", p.model.Restore)))
	p.root = container.NewStack(p.lasting)
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.root }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Safe copies" }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) }

// Changed reads the copies again, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// Leave stops what is under way.
func (p *Page) Leave() { p.model.Leave() }

// Render shows a state.
func (p *Page) Render(s State) {
	p.note.SetText(s.Note)
	p.said.SetNotice(s.Said)
	p.said.Hidden = s.Said.Text == ""
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Chosen)
	for _, b := range p.ofCopy {
		b.Hidden = s.Chosen < 0
	}
	for _, b := range p.ofShop {
		b.Hidden = s.Empty
	}
	p.bring.Hidden = !s.Empty
	shown := p.lasting
	switch {
	case s.Job.Title != "":
		p.progress.SetTitle(s.Job.Title)
		p.progress.Set(s.Job.Words, s.Job.Done)
		shown = p.working
	case s.Plan != nil:
		p.planHead.SetText(s.Plan.Title)
		p.planText.SetText(s.Plan.Text)
		p.planRows.SetRows(s.Plan.Rows)
		p.planRows.Hidden = len(s.Plan.Rows) == 0
		p.traced(s.Plan.Text)
		shown = p.planning
	}
	p.root.Objects = []fyne.CanvasObject{shown}
	p.root.Refresh()
}

// askFolder asks for a folder.
func (p *Page) askFolder(title, do string, take func(folder string)) {
	look.AskPath(p.ways, look.PathQuestion{
		Title: title, Label: "Which folder, such as that of another disk", Do: do, Want: folders.Folder(), Path: p.ways.ToWrite(),
	}, p.host.Ask, take)
}

// askExport asks for an export to bring in.
func (p *Page) askExport() {
	look.AskPath(p.ways, look.PathQuestion{
		Title: "Bring an export in", Label: "Which file that was exported", Do: "Bring it in", Want: folders.File(".zip"),
	}, p.host.Ask, p.model.BringIn)
}
