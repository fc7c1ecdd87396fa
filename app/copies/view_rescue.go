package copies

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/loop"
	"stowright/app/notice"
)

// RescueHost is the window as the page needs it.
type RescueHost interface {
	Ask(d *look.Dialog, first fyne.Focusable)
	Shown(text string) // what a script may wait for
}

// Rescue is the page.
type Rescue struct {
	model    *RescueModel
	host     RescueHost
	ways     *folders.Ways
	problem  *look.Notice
	trouble  *look.Notice
	text     *look.Paragraph
	list     *look.RowList
	restore  *look.KeyButton
	older    *look.KeyButton
	progress *look.Progress
	lasting  fyne.CanvasObject
	working  fyne.CanvasObject
	root     *fyne.Container
}

// NewRescue returns the page for a shop file that cannot be opened. opened is called when
// it was restored, with the path under which the damaged file is kept. openAnyway opens
// the file in spite of the problem; it is nil where that is impossible.
func NewRescue(file string, problem error, l loop.Loop, host RescueHost, opened func(aside string), openAnyway func()) *Rescue {
	p := &Rescue{
		host: host, ways: folders.New(l, file), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), trouble: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		text: look.NewText(""), list: look.NewRowList(EntryColumns()...),
	}
	p.model = NewRescueModel(file, problem, l, p.Render, opened)
	p.restore = look.NewPrimary("Restore it", "Enter", func() { p.model.Restore(true) })
	p.older = look.NewKeyButton("The copy alone", "O", func() { p.model.Restore(false) })
	p.progress = look.NewProgress("", p.model.job.Stop)
	p.list.SetRowHeight(50)
	title := func() fyne.CanvasObject { return look.NewTitle("The shop file cannot be used as it is") }
	ways := look.Line(p.restore, p.older, look.NewKeyButton("Another copy", "A", p.ask))
	if openAnyway != nil {
		ways.Add(look.NewKeyButton("Use it as it is", "U", openAnyway))
	}
	p.lasting = look.Fill(12, title(), p.problem, p.text, p.list, p.trouble, ways)
	p.working = look.Rows(12, title(), look.NewPanel(20, p.progress))
	p.root = container.NewStack()
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *Rescue) Object() fyne.CanvasObject { return p.root }

// Title is the page's title for the window.
func (p *Rescue) Title() string { return "Damaged" }

// HandleKey does what a key is for.
func (p *Rescue) HandleKey(key string) bool { return p.model.Key(key) }

// Leave stops what is under way.
func (p *Rescue) Leave() { p.model.job.Stop() }

// Render shows a state.
func (p *Rescue) Render(s RescueState) {
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.trouble.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Error})
	p.trouble.Hidden = s.Error == ""
	p.text.SetText(s.Text)
	p.list.SetRows(s.Rows)
	p.list.Hidden = len(s.Rows) == 0
	p.restore.SetOff(!s.CanDo)
	p.older.Hidden = !s.Older
	shown := p.lasting
	if s.Job.Title != "" {
		p.progress.SetTitle(s.Job.Title)
		p.progress.Set(s.Job.Words, s.Job.Done)
		shown = p.working
	} else {
		p.host.Shown(s.Text)
	}
	p.root.Objects = []fyne.CanvasObject{shown}
	p.root.Refresh()
}

// ask asks for another copy.
func (p *Rescue) ask() {
	look.AskPath(p.ways, look.PathQuestion{
		Title: "Another copy", Label: "Which copy of the shop file", Do: "Look at it", Want: folders.File(".stow"),
	}, p.host.Ask, p.model.Use)
}
