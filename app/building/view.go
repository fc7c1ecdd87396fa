package building

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
)

// The pages of the screen besides the picture of all sub-assemblies.
const (
	PullPart = "pull" // the walk; About are codes, apart by commas
	TickPart = "tick" // what was ticked on paper; About are codes, apart by commas
	ListPart = "list" // what the plans list comes in

	// ChangesPart is what changed the plans; About is the code of a sub-assembly, "" for all.
	ChangesPart = "changes"
	// ChangePart is one change of the plans, whose name About is: C-2.
	ChangePart = "change"

	// BenchPart is the tray of one sub-assembly, whose code About is.
	BenchPart = "bench"
)

// Page is the picture of all sub-assemblies.
type Page struct {
	session *session.Session
	host    app.Host
	model   *Model
	hasty   app.FirstKey // changes no plans

	title, note    *look.Paragraph
	problem        *look.Notice
	buttons        *fyne.Container
	tiles          *look.Tiles
	scroller       *look.Scroller
	head, sentence *look.Paragraph
	list           *look.RowList
	body           *fyne.Container
	empty          *look.EmptyState
	content        *fyne.Container
	side           *sideView
}

// New makes the page of a route: About is the code of a sub-assembly, or nothing.
func New(s *session.Session, host app.Host, route routes.Route) app.Page {
	switch route.Part {
	case PullPart:
		return newWalkPage(s, host, route)
	case TickPart:
		return newTicksPage(s, host, route)
	case ListPart:
		return newListPage(s, host, route)
	case ChangesPart, ChangePart:
		return newChangesPage(s, host, route)
	case BenchPart:
		return newBenchPage(s, host, route)
	}
	return newBoardPage(s, host, route.About)
}

func newBoardPage(s *session.Session, host app.Host, code string) *Page {
	p := &Page{
		session: s, host: host, title: look.NewTitle("Build"), note: look.NewQuiet(""), problem: look.NewNotice(notice.Notice{Tone: notice.Stop}),
		tiles: look.NewTiles(), head: look.NewHeading(""), sentence: look.NewQuiet(""), list: look.NewRowList(Columns()...),
	}
	p.model = NewModel(s, code, p.Render)
	p.model.Said = host.Say
	if code != "" {
		p.hasty.Taken()
	}
	p.tiles.OnTapped = p.tapped
	p.scroller = look.NewScroller(p.tiles)
	p.buttons = look.Line(look.NewKeyButton("Earlier", "-", func() { p.model.Earlier(true) }), look.NewKeyButton("Later", "+", func() { p.model.Earlier(false) }),
		look.NewKeyButton("Along", "Space", p.model.Along),
		look.NewKeyButton("Bring in", "I", p.bringIn))
	p.empty = look.NewEmptyState("What do you build first?",
		"Bring in what your plans list for each sub-assembly. Then this page shows which ones can be started, and what stops the others.",
		look.NewPrimary("Bring a list in", "I", p.bringIn), look.NewKeyButton("Type one", "N", p.typeOne))
	p.side = newSideView(p)
	p.body = container.New(&boardLayout{page: p}, p.scroller, p.head, p.sentence, p.list)
	p.content = look.Fill(12, look.Head(look.Rows(2, p.title, p.note), p.buttons), p.problem, p.body, p.empty)
	p.Render(State{Loading: true, Chosen: -1})
	p.model.Load()
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Build" }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Changed reads everything again, because the shop has changed.
func (p *Page) Changed() { p.model.Load() }

// HandleKey does what a key is for.
func (p *Page) HandleKey(key string) bool {
	if key == " " { // as a character comes
		key = "Space"
	}
	switch key {
	case "N":
		p.typeOne()
		return true
	case "Enter":
		p.bench()
		return true
	}
	if p.hasty.Stops(key, p.model.Hasty(key), p.host) {
		return true
	}
	if !p.model.Key(key, p.tiles.Columns()) {
		return false
	}
	p.hasty.Taken()
	return true
}

// Saved is which one is chosen and which ones go along.
func (p *Page) Saved() any { return saved{p.model.code, p.model.taken} }

// Restore chooses it again.
func (p *Page) Restore(was any) {
	if s, ok := was.(saved); ok {
		p.model.code, p.model.taken = s.code, s.taken
		p.model.Load()
	}
}

type saved struct {
	code  string
	taken map[string]bool
}

func (p *Page) tapped(index int) {
	if index == len(p.model.State().Tiles)-1 {
		p.typeOne()
		return
	}
	p.hasty.Taken()
	p.model.Choose(index)
}

// bringIn goes to where a list of the plans comes in.
func (p *Page) bringIn() { p.host.Go(routes.Route{Screen: routes.Build, Part: ListPart}) }

// typeOne goes to where a sub-assembly is typed.
func (p *Page) typeOne() {
	p.host.Go(routes.Route{Screen: routes.Build, Part: ListPart, About: typing})
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Stop, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.empty.Hidden = !s.Empty
	none := s.Empty || len(s.Tiles) == 0
	p.title.Hidden, p.note.Hidden, p.buttons.Hidden, p.body.Hidden = s.Empty, s.Empty, none, none
	p.tiles.SetTiles(s.Tiles, s.Chosen)
	p.head.SetText(s.Head)
	p.sentence.SetText(s.Sentence)
	p.list.SetRows(s.Lines)
	if none {
		p.host.HideCard()
	} else { // before the tiles are laid out, since it takes of their width
		p.side.render(s)
		p.host.ShowSide(p.side.content)
	}
	p.content.Refresh()
	if !none {
		p.reveal()
	}
}

// reveal brings the chosen tile into sight.
func (p *Page) reveal() {
	top, height := p.tiles.ChosenAt()
	p.scroller.Reveal(top, height)
}

// bench goes to the tray of the chosen one.
func (p *Page) bench() {
	if code := p.model.Chosen(); code != "" {
		p.host.Go(routes.Route{Screen: routes.Build, Part: BenchPart, About: code})
	}
}

// walk goes to the walk for some sub-assemblies.
func (p *Page) walk(codes []string) {
	if len(codes) > 0 {
		p.host.Go(routes.Route{Screen: routes.Build, Part: PullPart, About: strings.Join(codes, ",")})
	}
}

// boardLayout stacks the tiles over what the chosen one needs. Where not all fits, the
// tiles have half of the height at most, and scroll.
type boardLayout struct {
	page  *Page
	sized fyne.Size // of the last layout
}

// Space between the parts, points at normal size.
const (
	overHead  = 14
	underHead = 6
)

// MinSize is small: tiles and list scroll.
func (l *boardLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(look.Px(300), look.Px(300))
}

// Layout places them.
func (l *boardLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	p := l.page
	words := p.head.HeightFor(size.Width) + p.sentence.HeightFor(size.Width) + look.Px(overHead+2*underHead)
	wanted, list := p.tiles.HeightFor(size.Width)+look.Px(4), p.list.HeightFor(size.Width)
	tiles := min(wanted, max(size.Height/2-look.Px(20), size.Height-words-list))
	put := func(o fyne.CanvasObject, y, h float32) float32 {
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, h))
		return y + h
	}
	y := put(p.scroller, 0, tiles) + look.Px(overHead)
	y = put(p.head, y, p.head.HeightFor(size.Width)) + look.Px(underHead)
	y = put(p.sentence, y, p.sentence.HeightFor(size.Width)) + look.Px(underHead)
	put(p.list, y, max(0, size.Height-y))
	if l.sized != size { // nothing can be brought into sight before there is a height
		l.sized = size
		p.reveal()
	}
}

// sideView is what would free the most for the least, the hours, and the walk.
type sideView struct {
	page     *Page
	advice   *fyne.Container
	words    []*look.Paragraph
	panels   []*look.Panel
	rest     *look.Paragraph
	bar      *look.ProgressBar
	hours    *look.Paragraph
	hoursRow *fyne.Container
	past     *fyne.Container // what leads to what was
	pull     *look.KeyButton
	all      *look.KeyButton
	letGo    *look.KeyButton
	tray     *look.KeyButton
	content  *fyne.Container
}

func newSideView(p *Page) *sideView {
	v := &sideView{page: p, advice: look.Rows(8), rest: look.NewQuiet(""), bar: look.NewProgressBar(""), hours: look.NewQuiet("")}
	v.pull = look.NewPrimary("Pull", "P", func() { p.walk(p.model.WalkFor()) })
	v.all = look.NewKeyButton("Pull", "A", func() { p.walk(p.model.AllFor()) })
	v.letGo = look.NewKeyButton("", "G", p.model.LetGo)
	v.tray = look.NewKeyButton("At the bench", "Enter", p.bench)
	v.hoursRow = look.Rows(8, look.NewRule(), look.NewHeading("Hours"), v.bar, v.hours)
	v.past = look.Line(look.NewFootLink("What changed the plans", "C", func() { p.host.Go(routes.Route{Screen: routes.Build, Part: ChangesPart}) }))
	words := look.NewScroller(look.Rows(12, look.NewHeading("Cheapest first"), v.advice, v.rest, v.hoursRow, v.past))
	v.content = look.Pin(8, words, v.pull, v.tray, v.all, v.letGo)
	return v
}

func (v *sideView) render(s State) {
	for len(v.words) < len(s.Cheapest) {
		words := look.NewLead("", "")
		v.words, v.panels = append(v.words, words), append(v.panels, look.NewPanel(10, words))
		v.advice.Add(v.panels[len(v.panels)-1])
	}
	for i, panel := range v.panels {
		if panel.Hidden = i >= len(s.Cheapest); !panel.Hidden {
			a := s.Cheapest[i]
			if a.Key != "" {
				a.Frees += " (" + a.Key + " does it)"
			}
			v.words[i].Set(a.Do+":", a.Frees)
		}
	}
	rest := s.Rest
	if len(s.Cheapest) == 0 && rest == "" {
		rest = "Nothing waits for anything."
	}
	v.rest.SetText(rest)
	v.rest.Hidden = rest == ""
	h := s.Hours
	v.hoursRow.Hidden = h.All == 0
	v.bar.Set("", look.Segment{Share: h.Now, Tone: notice.OK}, look.Segment{Share: h.Perhaps, Tone: notice.Warn}, look.Segment{Share: h.All - h.Now - h.Perhaps})
	v.hours.SetText(h.Words)
	v.pull.SetLabel("Pull for " + s.Walk)
	v.all.SetLabel("Pull all that can start")
	v.all.Hidden = s.All == ""
	v.letGo.SetLabel(s.LetGo)
	v.letGo.Hidden = s.LetGo == ""
	v.content.Refresh()
}
