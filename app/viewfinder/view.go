package viewfinder

import (
	"cmp"
	"slices"

	"fyne.io/fyne/v2"

	"stowright/app"
	"stowright/app/card"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/labels/camera"
	"stowright/store"
)

// Page is the page.
type Page struct {
	host  app.Host
	model *Model
	goTo  func(session.Reading) routes.Route

	title   *look.Paragraph
	note    *look.Paragraph
	picture *look.Photo
	list    *look.RowList
	listed  *fyne.Container
	problem *look.Notice
	cameras *fyne.Container // the choice among several, made when they are known
	choice  *look.Choices   // in it
	named   []string        // its answers
	instead *fyne.Container // what to do without a camera
	file    *look.PathPick
	content *fyne.Container
}

// Options are what the page needs beside the shop.
type Options struct {
	// GoTo says where the window goes for what a reading names.
	GoTo func(session.Reading) routes.Route
	// Papers says where the window goes for the code of a paper; nil where none has one.
	Papers func(text string) (routes.Route, bool)
	// Walk is the walk that the page was opened from; nil for none.
	Walk Walk
	// Camera is what the camera key opens; empty for the first camera.
	Camera string
	// Open opens what pictures come from; nil for what camera.Open does.
	Open Opener
	// Devices lists the cameras of this computer; nil for camera.Devices.
	Devices func() ([]camera.Device, error)
}

// Walk is a way through drawers on which the camera was opened.
type Walk interface {
	// Wants reports whether a place is one that the walk leads to.
	Wants(place store.Place) bool
	// Next is the id of the place that it goes to next; ok is false where it is at its end.
	Next() (place string, ok bool)
	// Take takes a tag as one that is scanned, and reports whether it is a matter of the
	// walk. With a drawer of the walk the page is left.
	Take(r store.Resolution) bool
}

// New makes the page and starts what the route names, or the first camera.
func New(s *session.Session, host app.Host, route routes.Route, o Options) *Page {
	p := &Page{
		host: host, goTo: o.GoTo, title: look.NewTitle("Looking"), note: look.NewQuiet(""), list: look.NewRowList(Columns()...),
		picture: look.NewPhoto(), problem: look.NewNotice(notice.Notice{Tone: notice.Warn}),
		file: look.NewPathPick(s.Folders, folders.Source(".png", ".jpg", ".jpeg", ".gif"), ""),
	}
	p.model = NewModel(s, o.Open, p.Render)
	p.model.papers, p.model.walk = o.Papers, o.Walk
	if o.Devices != nil {
		p.model.devices = o.Devices
	}
	p.listed = look.AtMost(listHeight, p.list)
	p.list.OnChosen = func(i int, _ table.Row) { p.model.Pick(i) }
	p.list.OnOpened = func(int, table.Row) { _ = p.open() }
	p.file.OnPicked = p.model.Start
	p.instead = look.Rows(12,
		look.NewLead("Read a photograph.", "Take one with a phone and bring it onto this computer: of a label, of a drawer, or of a whole wall of them."),
		look.NewLead("Or let a phone be the camera.", "Start an app on it that shares its picture in your network, and type the address that it shows, such as http://192.168.1.20:8080/video."))
	p.instead.Hide()
	p.cameras = look.Rows(0)
	p.cameras.Hide()
	p.content = look.Fill(12,
		look.Head(look.Rows(2, p.title, p.note), look.Line(look.NewKeyButton("Camera", "F2", func() { p.model.Start(o.Camera) }), look.NewKeyButton("Back", "B", func() { host.Back() }))),
		p.problem, p.cameras, p.picture, p.listed, p.instead,
		look.NewField("Photograph, folder or stream", p.file, "a picture of a label, a folder of pictures, or the address of a camera that sends its picture"))
	p.model.Prefer(fyne.CurrentApp().Preferences().String(cameraKey))
	p.model.Seek(route.Part)
	p.model.Start(cmp.Or(route.About, o.Camera))
	return p
}

// cameraKey is where the camera that was chosen is kept between runs, by its path. It
// belongs to the machine, not to the shop.
const cameraKey = "camera.path"

// take looks through another camera, and remembers it.
func (p *Page) take(index int) {
	if path, ok := p.model.TakeCamera(index); ok {
		fyne.CurrentApp().Preferences().SetString(cameraKey, path)
	}
}

// offer shows the choice among several cameras.
func (p *Page) offer(s *State) {
	names := s.CameraNames()
	p.cameras.Hidden = len(names) < 2
	if len(names) < 2 {
		return
	}
	if !slices.Equal(names, p.named) {
		p.named = names
		p.choice = look.NewChoices(s.Camera, names...)
		p.choice.OnChosen = p.take
		p.cameras.Objects = []fyne.CanvasObject{look.NewField("Camera", p.choice, "")}
	}
	p.choice.Mark(s.Camera)
}

// listHeight holds the header and three rows: further ones scroll, so that the
// picture stays large enough to be seen.
const listHeight = 34 + 3*58 + 2

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.content }

// GivesWay reports whether the page can stand beside its card in a narrow window.
func (p *Page) GivesWay() bool { return true }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Camera" }

// Leave stops the camera.
func (p *Page) Leave() { p.model.Stop() }

// Changed leaves the camera running while the shop changes.
func (p *Page) Changed() { p.model.findSought() }

// Results is what the down arrow goes to from the command bar; nil while nothing is seen.
func (p *Page) Results() fyne.Focusable {
	if p.list.Len() == 0 {
		return nil
	}
	return p.list
}

// HandleKey moves the choice, and goes to the chosen place on Enter.
func (p *Page) HandleKey(key string) bool { return p.model.Key(key) || key == "Enter" && p.open() }

// Render shows a state.
func (p *Page) Render(s State) {
	p.title.SetText(s.Heading)
	p.note.SetText(s.Note)
	p.problem.SetNotice(notice.Notice{Tone: notice.Warn, Text: s.Problem})
	p.problem.Hidden = s.Problem == ""
	p.offer(&s)
	p.picture.Hidden = s.Picture == nil
	if s.Picture != nil {
		p.picture.SetPicture(s.Picture)
	}
	p.list.SetRows(s.Rows)
	if s.Chosen >= 0 {
		p.list.Mark(s.Chosen)
	}
	p.listed.Hidden = len(s.Rows) == 0
	p.instead.Hidden = !s.Help
	p.content.Refresh()
	if s.Card.Empty() {
		p.host.HideCard()
		return
	}
	c := s.Card
	label := "Go there"
	if p.model.walk != nil {
		label = "This drawer"
	}
	c.Actions = []card.Action{{ID: "go", Label: label, Key: "Enter", Primary: true, Off: p.model.walk != nil && s.Chosen < 0}}
	p.host.ShowCard(c, func(string) { _ = p.open() })
}

// open goes to what the chosen reading names, and reports whether it names anything.
func (p *Page) open() bool {
	to, ok := p.model.Paper()
	if r, found := p.model.Chosen(); found {
		if p.model.take(r) {
			return true
		}
		to, ok = p.goTo(r), true
	} else if place, seeking := p.model.Sought(); seeking && !ok && p.model.walk == nil {
		to, ok = routes.Route{Screen: routes.Places, About: place.ID}, true
	}
	if ok {
		p.host.Go(to)
	}
	return ok
}
