package building

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/store"
)

// WalkPage is the walk that pulls what sub-assemblies need.
type WalkPage struct {
	session *session.Session
	host    app.Host
	model   *WalkModel

	title, note *look.Paragraph
	bar         *look.ProgressBar
	problem     *look.Notice
	list        *look.RowList
	short       *look.Notice
	hand        *walkHand
	finished    *look.EmptyState
	content     *fyne.Container
}

func newWalkPage(s *session.Session, host app.Host, route routes.Route) *WalkPage {
	p := &WalkPage{
		session: s, host: host, title: look.NewTitle("Pull"), note: look.NewQuiet(""), bar: look.NewProgressBar(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), list: look.NewRowList(WalkColumns()...), short: look.NewNotice(notice.Notice{Tone: notice.Warn}),
	}
	p.model = NewWalkModel(s, strings.Split(route.About, ","), p.Render)
	p.model.Said = host.Say
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.hand = newWalkHand(p)
	p.finished = look.NewEmptyState("All of it is in the trays", "What was pulled is in the tray of its sub-assembly until it is fitted.",
		look.NewPrimary("Back to Build", "Enter", func() { host.Go(routes.Route{Screen: routes.Build}) }))
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), p.bar), p.problem, p.list, p.hand.panel, p.short, p.finished)
	p.Render(WalkState{Loading: true, Current: -1})
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *WalkPage) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *WalkPage) Title() string { return "Pull" }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *WalkPage) GivesWay() bool { return true }

// Changed reads what is left again, because the shop has changed.
func (p *WalkPage) Changed() { p.model.Load() }

// HandleKey does what a key is for.
func (p *WalkPage) HandleKey(key string) bool { return p.model.Key(key) }

// Tag takes a tag that was scanned, and reports whether it is a matter of the walk.
func (p *WalkPage) Tag(r store.Resolution) bool { return p.model.Scan(r.Place) }

// Query keeps the walk on the screen while a tag is typed or scanned into the command bar.
func (p *WalkPage) Query(text string) bool { return beginsTag(text) }

// Saved is where things were taken from.
func (p *WalkPage) Saved() any { return p.model.places }

// Restore puts that back.
func (p *WalkPage) Restore(was any) {
	if places, ok := was.(map[string]string); ok {
		p.model.places = places
	}
}

// Render shows a state.
func (p *WalkPage) Render(s WalkState) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.bar.Set(fmt.Sprintf("%d of %d taken", s.Done, s.Of), look.Segment{Share: float64(s.Done), Tone: notice.OK}, look.Segment{Share: float64(s.Of - s.Done)})
	p.bar.Hidden = s.Of == 0
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Current)
	p.list.Hidden = len(s.Rows) == 0
	words := append(append([]string{}, s.Short...), s.Ask...)
	p.short.SetNotice(notice.Notice{Tone: notice.Warn, Lead: "Not on this walk:", Text: strings.Join(words, ". ") + "."})
	p.short.Hidden = len(words) == 0
	p.finished.Hidden = !s.Finished || s.Loading || len(s.Rows) == 0 && len(words) > 0 || s.Title == "Pull"
	p.hand.render(s)
	p.content.Refresh()
	if s.Current < 0 {
		p.host.HideCard()
		return
	}
	c := s.Card
	c.Actions = []card.Action{{ID: cameraID, Label: "Show me", Key: "F2"}, {ID: paperID, Label: "Paper", Key: "L"}}
	p.host.ShowCard(c, p.act)
}

// The actions of a stop's card.
const (
	cameraID = "camera"
	paperID  = "paper"
)

// ticks goes to where the ticks of the printed list are entered.
func (p *WalkPage) ticks() {
	p.host.Go(routes.Route{Screen: routes.Build, Part: TickPart, About: strings.Join(p.model.codes, ",")})
}

// soundWord is what M would make of the sound of a wrong drawer.
func soundWord(silent bool) string {
	if silent {
		return "Sound on"
	}
	return "Sound off"
}

func (p *WalkPage) act(id string) {
	if id == cameraID {
		p.host.Go(routes.Route{Screen: routes.Camera})
		return
	}
	look.AskPath(p.session.Folders, look.PathQuestion{
		Title: "The list on paper", Label: "Where to save it", Hint: "A PDF with boxes to tick, in walking order.", Do: "Save it",
		Want: folders.NewFile("pull.pdf"), Path: filepath.Join(p.session.Folders.ToWrite(), "pull.pdf"),
	}, p.host.Ask, func(path string) { p.model.Save(path, false) })
}

// walkHand is the stop in hand with its keys, or the question about it.
type walkHand struct {
	page   *WalkPage
	panel  *look.Panel
	number *look.Designation
	words  *look.Paragraph
	left   *look.Paragraph
	take   *look.KeyButton
	keys   *fyne.Container
	hint   *look.Paragraph
	sound  *look.KeyButton
	row    *fyne.Container

	serial   int
	question *look.Paragraph
	field    *look.Entry
	answer   *look.KeyButton
	problem  *look.Notice
	foot     *look.Paragraph
	asking   *fyne.Container
}

func newWalkHand(p *WalkPage) *walkHand {
	v := &walkHand{
		page: p, number: look.NewDesignation("", 30), words: look.NewHeading(""), left: look.NewQuiet(""), hint: look.NewFoot("Or scan the drawer: the right one takes the line, a wrong one says so."),
		question: look.NewHeading(""), field: look.NewEntry(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), foot: look.NewFoot(""),
	}
	key := func(name string) func() { return func() { p.model.Key(name) } }
	v.take = look.NewPrimary("Taken", "Enter", key("Enter"))
	v.keys = look.Line(v.take, look.NewKeyButton("Fewer", "S", key("S")), look.NewKeyButton("Not here", "N", key("N")), look.NewKeyButton("Else", "E", key("E")), look.NewKeyButton("Leave it", "Esc", func() { p.host.Back() }))
	v.sound = look.NewLink("", "M", p.model.Sound)
	v.row = look.Rows(10, look.Line(v.number, v.words, look.Gap(), v.left), v.keys, v.hint, look.Line(look.NewLink("Ticked on paper", "K", p.ticks), v.sound))
	v.answer = look.NewPrimary("", "Enter", func() { p.model.Answer(v.field.Text) })
	v.field.OnSubmitted = p.model.Answer
	v.field.OnEscape = func() bool { return p.model.Key("Esc") }
	v.asking = look.Rows(8, v.question, look.Line(v.field, v.answer, look.NewKeyButton("Leave it", "Esc", p.model.Leave)), v.problem, v.foot)
	v.panel = look.NewPanel(16, look.Rows(0, v.row, v.asking))
	return v
}

func (v *walkHand) render(s WalkState) {
	v.panel.Hidden = s.Current < 0 && s.Prompt == nil
	v.row.Hidden, v.asking.Hidden = s.Prompt != nil, s.Prompt == nil
	v.number.SetText(s.Hand.Quantity)
	v.words.SetText(s.Hand.Item + " out of " + s.Hand.Place)
	v.left.SetText(s.Hand.Left)
	v.take.SetLabel("Taken: " + s.Hand.Quantity)
	v.sound.SetLabel(soundWord(v.page.model.Silent()))
	defer v.panel.Refresh()
	if s.Prompt == nil {
		if v.serial != 0 {
			v.serial = 0
			v.page.host.Rest()
		}
		return
	}
	v.question.SetText(s.Prompt.Question)
	v.foot.SetText(s.Prompt.Hint)
	v.answer.SetLabel(s.Prompt.Answer)
	v.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Prompt.Problem})
	v.problem.Hidden = s.Prompt.Problem == ""
	if v.serial != s.Prompt.Serial {
		v.serial = s.Prompt.Serial
		v.field.SetText(s.Prompt.Text)
		look.FocusOn(v.field)
	}
}
