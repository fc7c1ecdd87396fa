package viewfinder

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"stowright/app/card"
	"stowright/app/look"
	"stowright/app/session"
)

// Host is the window as this page needs it.
type Host interface {
	Go(to card.Route)
	Back() bool
	ShowCard(c card.Card, act func(id string))
	HideCard()
}

// Page is the page.
type Page struct {
	host  Host
	model *Model
	goTo  func(session.Reading) card.Route

	title   *look.Paragraph
	note    *look.Paragraph
	picture *canvas.Image
	list    *look.RowList
	problem *look.Notice
	file    *look.FilePick
	content *fyne.Container
}

// New makes the page and starts what the route names, or the first camera. goTo
// says where the window goes for what a reading names.
func New(s *session.Session, host Host, route card.Route, goTo func(session.Reading) card.Route) *Page {
	p := &Page{
		host: host, goTo: goTo, title: look.NewTitle("Looking"), note: look.NewQuiet(""), list: look.NewRowList(Columns()...),
		picture: canvas.NewImageFromImage(image.NewRGBA(image.Rect(0, 0, 1, 1))), problem: look.NewNotice(card.Notice{Tone: card.Warn}),
		file: look.NewFilePick("a photograph, a folder of them, or the address of a camera stream", ".png", ".jpg", ".jpeg", ".gif"),
	}
	p.model = NewModel(s, p.Render)
	p.picture.FillMode = canvas.ImageFillContain
	p.picture.SetMinSize(fyne.NewSize(look.Px(320), look.Px(300)))
	p.list.OnChosen = func(i int, _ card.Row) { p.model.Choose(i) }
	p.list.OnOpened = func(int, card.Row) { p.open() }
	p.file.OnPicked = p.model.Start
	p.content = look.Fill(12,
		look.Line(look.Rows(2, p.title, p.note), look.Gap(), look.NewKeyButton("Camera", "F2", func() { p.model.Start("") }), look.NewKeyButton("Back", "Esc", func() { host.Back() })),
		p.problem, p.picture, p.list, look.NewField("Or read a photograph", p.file, "a picture of a label, of a drawer or of a whole wall of them"))
	p.model.Start(route.About)
	return p
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Camera" }

// Leave stops the camera.
func (p *Page) Leave() { p.model.Stop() }

// Changed leaves the camera running while the shop changes.
func (p *Page) Changed() {}

// HandleKey goes to the chosen place on Enter.
func (p *Page) HandleKey(key string) bool {
	if key != "Enter" {
		return false
	}
	p.open()
	return true
}

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Heading)
	p.note.SetText(s.Note)
	p.problem.SetNotice(card.Notice{Tone: card.Warn, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.picture.Hidden = s.Picture == nil
	if s.Picture != nil {
		p.picture.Image = s.Picture
		p.picture.Refresh()
	}
	p.list.SetRows(s.Rows)
	if s.Chosen >= 0 {
		p.list.Mark(s.Chosen)
	}
	p.list.Hidden = len(s.Rows) == 0
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	c.Actions = []card.Action{{ID: "go", Label: "Go there", Key: "Enter", Primary: true}}
	p.host.ShowCard(c, func(string) { p.open() })
}

// open goes to what the chosen reading names.
func (p *Page) open() {
	if r, ok := p.model.Chosen(); ok {
		p.host.Go(p.goTo(r))
	}
}
