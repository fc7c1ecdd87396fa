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
	p.path.OnPicked = p.model.Open
	again := func(string) { p.model.Type(p.code.Text, p.name.Text, p.text.Text) }
	p.code.OnChanged, p.name.OnChanged, p.text.OnChanged = again, again, again
	p.code.OnSubmitted = func(string) { look.FocusOn(p.name) }
	p.name.OnSubmitted = func(string) { look.FocusOn(p.text) }
	p.bring = look.NewPrimary("Bring it in", "Enter", p.model.BringIn)
	p.typed = look.Rows(10, look.Line(look.NewField("Its code", p.code, ""), look.NewField("Its name", p.name, "")),
		look.NewField("What it needs, one line a part number", p.text, "The number, how many as the plans print it, and after a comma where they call it. Esc leaves the field."))
	title, from := "A list from the plans", fyne.CanvasObject(p.path)
	if route.About == typing {
		title, from = "New sub-assembly", p.typed
	}
	p.content = look.Fill(12, look.Head(look.Rows(2, look.NewTitle(title), p.note), look.Line(p.bring)), from, p.problem, p.list, p.questions)
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

// broughtIn goes to the picture of all, on what came in.
func (p *ListPage) broughtIn(code, words string) {
	p.host.Go(routes.Route{Screen: routes.Build, About: code})
	p.host.Say(notice.Notice{Tone: notice.OK, Text: wording.Sentence(words)})
}

// Render shows a state.
func (p *ListPage) Render(s ListState) {
	p.note.SetText(s.Note)
	if s.Note == "" {
		p.note.SetText("The headings are sub-assembly, number and quantity; unit, figure, step, revision, position and side may stand there too.")
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
	p.bring.SetOff(!s.Ready)
	p.content.Refresh()
}
