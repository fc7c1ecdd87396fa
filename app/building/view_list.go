package building

import (
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/wording"
)

// typing as what the page of a list is about means that it is typed.
const typing = "typed"

// ListPage is the page on which what the plans list comes in.
type ListPage struct {
	host  app.Host
	model *ListModel

	note      *look.Paragraph
	path      *look.PathPick
	code      *look.Entry
	name      *look.Entry
	text      *look.Entry
	typed     *fyne.Container
	problem   *look.Notice
	list      *look.RowList
	questions *look.Notice
	bring     *look.KeyButton
	revise    *look.KeyButton
	opening   bool // a file was named, and the focus goes to what was read of it
	content   *fyne.Container
}

func newListPage(s *session.Session, host app.Host, route routes.Route) *ListPage {
	p := &ListPage{
		host: host, note: look.NewQuiet(""), code: look.NewEntry("SA-60"), name: look.NewEntry("Wing, left"),
		text:    look.NewNote("AN3-5A 10 x 2 sides, figure 41-3", 5),
		path:    look.NewPathPick(s.Folders, folders.File(".csv", ".xlsx", ".ods", ".txt", ".tsv"), "path of a CSV, XLSX, ODS or text file"),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), list: look.NewRowList(ListColumns()...), questions: look.NewNotice(notice.Notice{Tone: notice.Warn}),
	}
	p.model = NewListModel(s, p.Render, p.broughtIn)
	p.path.OnPicked = p.open
	again := func(string) { p.model.Type(p.code.Text, p.name.Text, p.text.Text) }
	p.code.OnChanged, p.name.OnChanged, p.text.OnChanged = again, again, again
	p.code.OnSubmitted = func(string) { look.FocusOn(p.name) }
	p.name.OnSubmitted = func(string) { look.FocusOn(p.text) }
	p.bring = look.NewPrimary("Bring it in", "Enter", p.bringIn)
	p.revise = look.NewKeyButton("", "R", p.model.Revise)
	p.typed = look.Rows(10, look.Line(look.NewField("Its code", p.code, ""), look.NewField("Its name", p.name, "")),
		look.NewField("What it needs, one line a part number", p.text, "The number, how many as the plans print it, and after a comma where they call it. Esc leaves the field."))
	title, from := "A list from the plans", fyne.CanvasObject(p.path)
	if route.About == typing {
		title, from = "New sub-assembly", p.typed
	}
	p.content = look.Fill(12, look.Head(look.Rows(2, look.NewTitle(title), p.note), look.Line(p.revise, p.bring)), from, p.problem, p.list, p.questions, look.NewQuiet("")) // which takes what is left where no list is there
	host.HideCard()
	p.Render(ListState{})
	if route.About == typing {
		s.Loop.Post(func() { look.FocusOn(p.code) })
	}
	return p
}

// Object is the page's content.
func (p *ListPage) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *ListPage) Title() string { return "Build: a list" }

// open reads a file; what was read of it has the focus then, so that the keys are the page's.
func (p *ListPage) open(path string) {
	p.host.Rest()
	p.opening = true
	p.model.Open(path)
}

// focus gives the focus to what was read of a file, or to its path where it cannot be read.
func (p *ListPage) focus(s ListState) {
	switch {
	case !p.opening || len(s.Rows) == 0 && s.Problem == "":
		return
	case len(s.Rows) > 0:
		look.FocusOn(p.list)
	default:
		look.FocusOn(p.path.Focusable())
	}
	p.opening = false
}

// bringIn brings the list in, and asks of a change which paper says so.
func (p *ListPage) bringIn() {
	switch s := p.model.State(); {
	case !s.Ready:
	case s.Revising:
		p.askPaper()
	default:
		p.model.BringIn()
	}
}

// askPaper asks which paper changes the plans, and applies it.
func (p *ListPage) askPaper() {
	title, paper, on := look.NewEntry("Bulletin 4"), look.NewEntry("letter, binder 2"), look.NewEntry("2026-04-08; today without it")
	first := look.NewField("Its name", title, "")
	var dialog *look.Dialog
	apply := func() {
		p.model.Apply(title.Text, paper.Text, on.Text, func(err error) {
			if err == nil {
				dialog.Close()
				return
			}
			first.SetProblem(wording.Error(err))
			dialog.Refresh()
		})
	}
	title.OnSubmitted = func(string) { look.FocusOn(paper) }
	paper.OnSubmitted = func(string) { look.FocusOn(on) }
	on.OnSubmitted = func(string) { apply() }
	content := look.Rows(12, first, look.NewField("Where it is kept", paper, ""), look.NewField("Its day", on, "What is fitted already stays as it is. Undo takes all of it back."))
	dialog = look.NewDialog("Which paper changes the plans?", content, look.NewKeyButton("Cancel", "Esc", func() { dialog.Close() }), look.NewPrimary("Apply it", "Enter", apply))
	p.host.Ask(dialog, title)
}

// broughtIn goes to the picture of all, on what came in.
func (p *ListPage) broughtIn(code, words string) {
	p.host.Go(routes.Route{Screen: routes.Build, About: code})
	p.host.Say(notice.Notice{Tone: notice.OK, Text: wording.Sentence(words)})
}

// Render shows a state.
func (p *ListPage) Render(s ListState) {
	p.note.SetText(s.Note)
	switch {
	case s.Note == "" && s.Revising:
		p.note.SetText("A whole list takes the place of what its sub-assemblies list; a bulletin has a column change: adds, drops, replaces. Nothing fitted is altered.")
	case s.Note == "":
		p.note.SetText("The headings are sub-assembly, number and quantity; unit, figure, step, revision, position, side, joint and stack may stand there too.")
	}
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Lead: "Nothing comes in yet:", Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.list.SetRows(s.Rows)
	p.list.Hidden = len(s.Rows) == 0
	words := strings.Join(s.Questions, " ")
	if s.More > 0 {
		words += " And " + wording.Plural(s.More, "question", "questions") + " more."
	}
	p.questions.SetNotice(notice.Notice{Tone: notice.Warn, Lead: "Ask before you begin:", Text: words})
	p.questions.Hidden = len(s.Questions) == 0
	if s.Listed {
		p.problem.SetNotice(notice.Notice{Tone: notice.Warn, Lead: "Listed already:", Text: s.Problem + " If the paper changes what is listed, R takes it as a revised list."})
	}
	p.bring.SetLabel("Bring it in")
	p.revise.SetLabel("It changes what is listed")
	if s.Revising {
		p.bring.SetLabel("Apply it")
		p.revise.SetLabel("It is a new list")
	}
	p.bring.SetOff(!s.Ready)
	p.content.Refresh()
	p.focus(s)
}
