package building

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// WalkPage is the walk that pulls what sub-assemblies need.
type WalkPage struct {
	session *session.Session
	host    app.Host
	model   *WalkModel

	title, note *look.Paragraph
	bar         *look.ProgressBar
	head        *fyne.Container
	problem     *look.Notice
	list        *look.RowList
	short       *look.Notice    // what is not on the walk
	shorter     *look.Paragraph // that there is something, where there is no room for it
	hand        *walkHand
	finished    *look.EmptyState
	content     *fyne.Container
}

func newWalkPage(s *session.Session, host app.Host, route routes.Route) *WalkPage {
	p := &WalkPage{
		session: s, host: host, title: look.NewTitle("Pull"), note: look.NewQuiet(""), bar: look.NewProgressBar(""),
		problem: look.NewNotice(notice.Notice{Tone: notice.Stop}), list: look.NewRowList(WalkColumns()...), short: look.NewNotice(notice.Notice{Tone: notice.Warn}),
		shorter: look.NewFoot(""),
	}
	p.model = NewWalkModel(s, strings.Split(route.About, ","), p.Render)
	p.model.Said = host.Say
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Choose(i) }
	p.hand = newWalkHand(p)
	p.finished = look.NewEmptyState("All of it is in the trays", "What was pulled is in the tray of its sub-assembly until it is fitted.",
		look.NewPrimary("Back to Build", "Enter", func() { host.Go(routes.Route{Screen: routes.Build}) }))
	p.head = look.Head(look.Rows(2, p.title, p.note), p.bar)
	p.content = container.New(&walkLayout{page: p}, p.head, p.problem, p.list, p.hand.panel, p.short, p.shorter, p.finished)
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

// HandleKey does what a key is for: those of buttons too that have no room.
func (p *WalkPage) HandleKey(key string) bool {
	s := p.model.State()
	switch {
	case p.model.Key(key):
	case s.Prompt != nil:
		return false
	case key == "K":
		p.ticks()
	case key == "M":
		p.model.Sound()
	case key == "W" && len(s.notOnWalk()) > 0:
		p.rest()
	default:
		return false
	}
	return true
}

// rest says what is not on the walk, where the page has no room for it.
func (p *WalkPage) rest() {
	var dialog *look.Dialog
	words := look.NewScroller(look.NewText(strings.Join(p.model.State().notOnWalk(), ".\n") + "."))
	dialog = look.NewDialog("Not on this walk", words, look.NewKeyButton("Back to it", "Esc", func() { dialog.Close() }))
	p.host.Ask(dialog, nil)
}

// Tag takes a tag that was scanned or shown to the camera, and reports whether it is a
// matter of the walk.
func (p *WalkPage) Tag(r store.Resolution) bool { return p.model.Scan(r.Place) }

// InHand is the name of the place of the stop in hand, "" for none.
func (p *WalkPage) InHand() string { return p.model.State().Hand.Place }

// Wants reports whether something is still to be taken out of a place.
func (p *WalkPage) Wants(place store.Place) bool { return p.model.Wants(place) }

// Next is the id of the place that the walk goes to next; ok is false where all is taken.
func (p *WalkPage) Next() (place string, ok bool) { return p.model.Next() }

// Query keeps the walk on the screen while a tag is typed or scanned into the command bar.
func (p *WalkPage) Query(text string) bool { return beginsTag(text) }

// Saved is the stop in hand, and where things were taken from.
func (p *WalkPage) Saved() any { return p.model.kept }

// Restore puts that back.
func (p *WalkPage) Restore(was any) {
	if kept, ok := was.(walkKept); ok {
		p.model.kept = kept
	}
}

// Render shows a state.
func (p *WalkPage) Render(s WalkState) {
	p.title.SetText(s.Title)
	p.note.SetText(s.Note)
	p.bar.Set(fmt.Sprintf("%d of %d taken", s.Done, s.Of), look.Segment{Share: float64(s.Done), Tone: notice.OK}, look.Segment{Share: float64(s.Of - s.Done)})
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.list.SetRows(s.Rows)
	p.list.Mark(s.Current)
	p.list.Hidden = len(s.Rows) == 0
	words := s.notOnWalk()
	p.short.SetNotice(notice.Notice{Tone: notice.Warn, Lead: "Not on this walk:", Text: strings.Join(words, ". ") + "."})
	p.shorter.SetText(fmt.Sprintf("▲ Not on this walk: %s (W).", wording.Plural(len(words), "thing", "things")))
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
