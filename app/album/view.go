package album

import (
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"stowright/app"
	"stowright/app/folders"
	"stowright/app/look"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
)

// Page is the page.
type Page struct {
	host   app.Host
	model  *Model
	ways   *folders.Ways
	camera string

	title   *look.Paragraph
	note    *look.Paragraph
	said    *look.Notice
	tiles   *look.PhotoTiles
	scroll  *look.Scroller
	empty   *look.EmptyState
	file    *look.PathPick
	kept    uint64            // what was brought in when the field was emptied last
	chosen  []*look.KeyButton // what can be done with the chosen photograph
	all     *fyne.Container   // every photograph
	heading *look.Paragraph
	picture *look.Photo
	steps   []*look.KeyButton // of the large picture
	shots   []*look.KeyButton // of the camera
	one     *fyne.Container   // one picture: of the camera, or large
	root    *fyne.Container
}

// Options are what the page needs beside the shop.
type Options struct {
	Camera string // what the camera key opens; empty for the first camera
	Open   Opener // opens what pictures come from; nil for what camera.Open does
}

// New makes the page of what the route is about.
func New(s *session.Session, host app.Host, route routes.Route, o Options) *Page {
	p := &Page{
		host: host, ways: s.Folders, camera: o.Camera, title: look.NewTitle("Photographs"), note: look.NewQuiet(""), said: look.NewNotice(notice.Notice{}),
		tiles: look.NewPhotoTiles(tileWidth), heading: look.NewTitle(""), picture: look.NewPhoto(), root: container.NewStack(),
	}
	p.model = NewModel(s, route.About, o.Open, p.Render)
	p.model.AskReplace = func(files []string, replace func()) { look.AskReplace(files, host.Ask, replace) }
	p.tiles.OnTapped = p.tapped
	p.scroll = look.NewScroller(p.tiles)
	p.empty = look.NewEmptyState("No photograph yet", "Take one with the camera of this computer, or name the file of one that a phone took. It is kept in the shop file, and goes with its copies.")
	p.buildAll()
	p.buildOne()
	host.HideCard()
	host.Rest() // out of the command bar, where a card was found: keys are for this page
	p.Render(p.model.State())
	p.model.Load()
	return p
}

// tileWidth is the least width of a photograph among others.
const tileWidth = 220

// buildAll builds the page of all photographs.
func (p *Page) buildAll() {
	p.chosen = []*look.KeyButton{
		look.NewKeyButton("Large", "Enter", p.model.Open), look.NewKeyButton("Describe", "D", p.describe),
		look.NewKeyButton("Take away", "Del", p.model.Remove), look.NewKeyButton("Save all", "A", p.save),
	}
	p.file = look.NewPathPick(p.ways, folders.Source(".png", ".jpg", ".jpeg", ".gif"), "")
	p.file.OnPicked = func(path string) { p.model.Bring(path) }
	buttons := look.Line(look.NewPrimary("Camera", "C", p.look), look.NewKeyButton("File", "F", func() { look.FocusOn(p.file.Focusable()) }))
	for _, b := range p.chosen {
		buttons.Add(b)
	}
	buttons.Add(look.NewKeyButton("Back", "B", func() { p.host.Back() }))
	p.all = look.Fill(12, look.Rows(2, p.title, p.note), buttons, p.said, p.scroll, p.empty,
		look.NewField("From a file", p.file, "a JPEG or PNG file of a phone or a camera: type its path, choose it, or drop files on the window"))
}

// buildOne builds the page of one picture.
func (p *Page) buildOne() {
	p.steps = []*look.KeyButton{
		look.NewPrimary("All", "Enter", p.model.Shut), look.NewKeyButton("Before", "Left", func() { p.model.Step(-1) }),
		look.NewKeyButton("Next", "Right", func() { p.model.Step(1) }), look.NewKeyButton("Take away", "Del", p.model.Remove),
	}
	p.shots = []*look.KeyButton{look.NewPrimary("Take it", "Enter", p.model.Take), look.NewKeyButton("Done", "Esc", p.model.Done)}
	buttons := look.Line()
	for _, b := range append(p.steps, p.shots...) {
		buttons.Add(b)
	}
	p.one = look.Fill(12, p.heading, buttons, p.said, p.picture)
}

// Object is the page's content.
func (p *Page) Object() fyne.CanvasObject { return p.root }

// Title is the page's title for the window.
func (p *Page) Title() string { return "Photographs" }

// Leave stops the camera.
func (p *Page) Leave() { p.model.Stop() }

// Changed reads the photographs again.
func (p *Page) Changed() { p.model.Changed() }

// Dropped brings picture files in that were dropped on the window.
func (p *Page) Dropped(paths []string) { p.model.Bring(paths...) }

// HandleKey moves the choice, and leaves the large picture or the camera. The other
// keys are on buttons.
func (p *Page) HandleKey(key string) bool {
	s := p.model.State()
	if key == "Esc" && s.Large != nil {
		p.model.Shut()
		return true
	}
	if s.Live || s.Large != nil || len(s.Photos) == 0 {
		return false
	}
	by := map[string]int{"Left": -1, "Right": 1, "Up": -p.tiles.Columns(), "Down": p.tiles.Columns()}[key]
	if by == 0 || key == "Up" && s.Chosen+by < 0 { // up from the first line leads to the command bar
		return false
	}
	p.model.Step(by)
	return true
}

// tapped chooses a photograph, and shows it large when it was chosen already.
func (p *Page) tapped(index int) {
	if index == p.model.State().Chosen {
		p.model.Open()
		return
	}
	p.model.Choose(index)
}

func (p *Page) look() { p.model.Look(p.camera) }

// Render shows a state.
func (p *Page) Render(s State) {
	said := notice.Notice{Tone: notice.OK, Text: s.Said}
	if s.Problem != "" {
		said = notice.Notice{Tone: notice.Stop, Text: s.Problem}
	}
	p.said.SetNotice(said)
	p.said.Hidden = said.Text == ""
	if s.Live || s.Large != nil {
		p.renderOne(s)
		p.set(p.one)
		return
	}
	if s.Kept != p.kept { // the next keys are for the photograph
		p.kept = s.Kept
		p.file.SetPath("")
		p.host.Rest()
	}
	if s.Title != "" {
		p.title.SetText(s.Title)
	}
	p.note.SetText(s.Note)
	p.tiles.SetPhotos(s.Photos, s.Chosen)
	none := len(s.Photos) == 0
	p.scroll.Hidden, p.empty.Hidden = none, !none || s.Loading
	for _, b := range p.chosen {
		b.SetOff(none)
	}
	p.set(p.all)
	p.scroll.Reveal(p.tiles.ChosenAt())
}

func (p *Page) renderOne(s State) {
	for _, b := range p.steps {
		b.Hidden = s.Live
	}
	for _, b := range p.shots {
		b.Hidden = !s.Live
	}
	switch photo, ok := p.model.Chosen(); {
	case s.Live && s.Picture == nil:
		p.heading.SetText("The camera is starting")
	case s.Live:
		p.heading.SetText("Enter takes the photograph")
		p.picture.SetPicture(s.Picture)
	case ok:
		p.heading.Set(photo.Name(), photo.Caption)
		p.picture.SetPicture(s.Large)
	}
	p.picture.Hidden = s.Live && s.Picture == nil
}

// set shows one of the two pages.
func (p *Page) set(o fyne.CanvasObject) {
	p.root.Objects = []fyne.CanvasObject{o}
	o.Refresh()
	p.root.Refresh()
}

// describe asks what is on the chosen photograph.
func (p *Page) describe() {
	photo, ok := p.model.Chosen()
	if !ok {
		return
	}
	p.ask("What is on "+photo.Name()+"?", "It stands under the photograph.", photo.Caption, "Keep it", p.model.Describe)
}

// save asks for a folder.
func (p *Page) save() {
	look.AskPath(p.ways, look.PathQuestion{
		Title: "Save the photographs where?", Label: "Which folder", Hint: "Each is saved as P-17.jpg by its own number.", Do: "Save them",
		Want: folders.Folder(), Path: filepath.Join(p.ways.ToWrite(), "photographs"),
	}, p.host.Ask, p.model.Save)
}

// ask asks for a line of text and tells it.
func (p *Page) ask(title, hint, text, yes string, tell func(string)) {
	entry := look.NewEntry("")
	entry.SetText(text)
	var d *look.Dialog
	answer := func(string) {
		d.Close()
		tell(entry.Text)
	}
	entry.OnSubmitted = answer
	d = look.NewDialog(title, look.NewField("", entry, hint), look.NewKeyButton("Cancel", "Esc", func() { d.Close() }),
		look.NewPrimary(yes, "Enter", func() { answer("") }))
	p.host.Ask(d, entry)
}
