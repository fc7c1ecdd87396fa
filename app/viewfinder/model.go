// Package viewfinder is the page that shows the picture of a camera, or a photograph,
// and lists the codes in it with what each refers to.
package viewfinder

import (
	"context"
	"fmt"
	"image"
	"slices"
	"sync/atomic"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/labels/camera"
	"stowright/labels/scan"
	"stowright/store"
)

// State is what the page shows.
type State struct {
	Where   string      // what was opened; empty for the first camera
	Picture *image.RGBA // the newest picture with its codes outlined; nil before the first
	Heading string
	Note    string
	Rows    []table.Row
	Chosen  int
	Card    card.Card
	Running bool
	Cameras []camera.Device // of this computer, when there are several
	Camera  int             // index of the one in use; -1 for none
	Seen    int             // pictures read so far
	Help    bool            // there is no picture: the page shows what to do instead
	Problem string          // a sentence; empty for none
}

// Columns are those of the rows.
func Columns() []table.Column {
	return []table.Column{{Title: "in the picture", Kind: table.Names}, {Title: "it names", Kind: table.Words}, {Title: "", Kind: table.States, Width: 150}}
}

// Model reads one source of pictures at a time. Its methods are called on the
// window's goroutine.
type Model struct {
	session  *session.Session
	open     Opener
	devices  func() ([]camera.Device, error)
	prefer   string // path of the camera to use when there are several
	show     func(State)
	state    State
	memory   memory
	readings []session.Reading                      // those of the rows
	picked   bool                                   // the chosen code was chosen by the person
	source   loop.Latest                            // drops late pictures of a source that was closed
	card     loop.Latest                            // the card of the chosen reading
	places   loop.Latest                            // where lies what is looked for
	papers   func(text string) (routes.Route, bool) // what the code of a paper opens; nil: nothing does
	walk     Walk                                   // nil for none
	item     string                                 // what is looked for; empty for nothing
	sought   atomic.Pointer[[]session.Sought]       // where that lies, or where the walk goes next
	unsought string                                 // why nothing can be looked for; empty where something is
	hint     hint                                   // of the newest picture, of what is looked for
}

// NewModel returns a model; show is called with every new state. A nil open means
// OpenSource.
func NewModel(s *session.Session, open Opener, show func(State)) *Model {
	if open == nil {
		open = OpenSource
	}
	return &Model{session: s, open: open, devices: camera.Devices, show: show, state: State{Chosen: -1, Camera: -1}}
}

// State returns what the page shows now.
func (m *Model) State() State { return m.state }

// Start opens a source: a camera of this computer for nothing, or a camera, the
// address of a stream, a folder of pictures, or one picture.
func (m *Model) Start(where string) {
	m.Stop()
	m.state = State{Where: where, Chosen: -1, Running: true, Cameras: m.state.Cameras, Camera: -1, Heading: looking, Note: lookingNote}
	m.readings, m.memory = nil, memory{}
	m.show(m.state)
	m.findSought()
	m.openFeed(&feed{request: m.source.Start(), where: where})
}

// What the page shows until a code was read.
const (
	looking     = "Looking"
	lookingNote = "hold a label to the camera, and more light on it if it is slow"
)

// Seek has an item looked for in the pictures from now on.
func (m *Model) Seek(item string) { m.item = item }

// Sought is the first place in which what is looked for lies; ok is false where nothing is
// looked for, or it is nowhere.
func (m *Model) Sought() (place store.Place, ok bool) {
	sought := m.sought.Load()
	if sought == nil || len(*sought) == 0 {
		return place, false
	}
	return (*sought)[0].Place(), true
}

// findSought reads anew where that lies, or else where the walk goes next, and says so where
// it is nowhere.
func (m *Model) findSought() {
	find := func(r *session.Reader) ([]session.Sought, error) { return r.SoughtItem(m.item) }
	if m.item == "" {
		if m.walk == nil {
			return
		}
		var next []string
		if id, ok := m.walk.Next(); ok {
			next = append(next, id)
		}
		find = func(r *session.Reader) ([]session.Sought, error) { return r.SoughtPlaces(next) }
	}
	loop.DoLatest(m.session.Loop, &m.places, func(context.Context) ([]session.Sought, error) {
		return session.Answer(m.session, find)
	}, m.seek)
}

// seek looks for something in those places from now on.
func (m *Model) seek(places []session.Sought, err error) {
	m.unsought = ""
	switch {
	case err != nil:
		m.unsought = wording.Error(err)
	case len(places) == 0 && m.item != "":
		m.unsought = fmt.Sprintf("There is no %s in the shop: Find says what is listed and owed of it.", m.item)
	}
	m.state.Problem = m.unsought
	m.sought.Store(&places)
	m.show(m.state)
}

// Stop closes the source.
func (m *Model) Stop() {
	m.source.Drop()
	m.state.Running = false
}

// saw shows a picture that was read. The chosen code stays chosen while it is in the
// picture, whatever other codes appear or disappear.
func (m *Model) saw(of loop.Request, s seen) {
	if !of.Current() {
		return
	}
	elsewhere := !slices.Equal(m.hint.found, s.hint.found)
	m.state.Picture, m.hint = s.picture, s.hint
	m.state.Seen++
	chosen, had := m.chosenText()
	changed, fresh := m.memory.take(s.readings)
	if changed {
		m.readings = m.memory.readings()
	}
	m.state.Heading, m.state.Note = m.heading()
	if !changed && !elsewhere {
		m.show(m.state)
		return
	}
	m.state.Rows = make([]table.Row, 0, len(m.readings))
	for i, r := range m.readings {
		m.state.Rows = append(m.state.Rows, m.row(i, r))
	}
	if !had || !m.memory.has(chosen) || !m.picked && !m.memory.sees(chosen) && len(fresh) > 0 {
		chosen, m.picked = best(m.readings, fresh), false
	}
	m.turnTo(chosen)
	if r, ok := alone(s.readings, fresh); ok {
		m.take(r)
	}
}

// turnTo chooses what the picture is looked at for, or else the reading of a text. Where what
// is looked for is not in the picture, its card is shown rather than that of another drawer.
func (m *Model) turnTo(text string) {
	m.state.Chosen = -1
	wanted, seen := m.wanted()
	if place, seeking := m.Sought(); seeking && !seen && !m.picked {
		m.showCard(place, false)
		return
	}
	if seen {
		text = wanted
	}
	m.Choose(max(0, slices.IndexFunc(m.readings, func(r session.Reading) bool { return r.Code.Text == text })))
}

// chosenText is the text of the chosen code; ok reports whether one is chosen.
func (m *Model) chosenText() (text string, ok bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.readings) {
		return "", false
	}
	return m.readings[m.state.Chosen].Code.Text, true
}

// take takes a reading on a walk as a tag that is scanned, and reports whether it is a
// matter of it.
func (m *Model) take(r session.Reading) bool { return m.walk != nil && m.walk.Take(r.Resolution) }

// wanted is the text of a drawer in the picture that holds what is looked for, or that the
// walk leads to.
func (m *Model) wanted() (text string, ok bool) {
	for _, text := range m.hint.found {
		if m.memory.sees(text) {
			return text, true
		}
	}
	for _, r := range m.readings {
		if m.walk != nil && r.Answer == store.TagFound && m.memory.sees(r.Code.Text) && m.walk.Wants(r.Place) {
			return r.Code.Text, true
		}
	}
	return "", false
}

// alone is the one tag in a picture, where it was not seen before: it is held to the camera
// as to a scanner. Where several are in sight, the camera is looked through for one.
func alone(picture, fresh []session.Reading) (tag session.Reading, ok bool) {
	n := 0
	for _, r := range picture {
		if r.Answer == store.TagFound {
			tag, n = r, n+1
		}
	}
	return tag, n == 1 && slices.ContainsFunc(fresh, func(r session.Reading) bool { return r.Code.Text == tag.Code.Text })
}

// best is the text of the reading to choose: the first new one that refers to a place,
// or else the first of all that does.
func best(all, fresh []session.Reading) string {
	for _, list := range [][]session.Reading{fresh, all} {
		for _, r := range list {
			if r.Answer == store.TagFound {
				return r.Code.Text
			}
		}
	}
	return ""
}

func (m *Model) heading() (heading, note string) {
	found, papers := 0, 0
	for _, r := range m.readings {
		switch {
		case r.Answer == store.TagFound:
			found++
		case m.opens(r):
			papers++
		}
	}
	switch {
	case m.hint.heading != "":
		return m.hint.heading, m.hint.note
	case len(m.readings) == 0:
		return looking, lookingNote
	case found == 0 && papers > 0:
		return "A printed list", "Enter opens it"
	case found == 0:
		return "Not a tag of this shop", "the list says what it is"
	case m.walk != nil && found == 1:
		return "1 tag", "on the walk: a drawer of it is taken, a wrong one is said"
	case m.walk != nil:
		return fmt.Sprintf("%d tags", found), "show one drawer alone, or choose one: Enter takes it"
	case found == 1:
		return "1 tag", "Enter goes there"
	}
	return fmt.Sprintf("%d tags", found), "choose one; Enter goes there"
}

// opens reports whether a reading is the code of a paper that can be opened.
func (m *Model) opens(r session.Reading) bool {
	if m.papers == nil {
		return false
	}
	_, ok := m.papers(r.Code.Text)
	return ok
}

// Paper is where the chosen code leads; ok reports whether it is that of a paper.
func (m *Model) Paper() (to routes.Route, ok bool) {
	text, chosen := m.chosenText()
	if !chosen || m.papers == nil {
		return to, false
	}
	return m.papers(text)
}

func (m *Model) row(i int, r session.Reading) table.Row {
	id := fmt.Sprint(i)
	if m.opens(r) {
		return table.Row{ID: id, Cells: []table.Cell{table.Name("a list", ""), table.T(r.Code.Text), table.State("Enter opens it", notice.OK)}}
	}
	if r.Answer != store.TagFound {
		name := r.Tag.Spaced()
		if name == "" {
			name = "another code"
		}
		return table.Row{ID: id, Cells: []table.Cell{table.Name(name, ""), table.T(r.Sentence()), table.State(string(r.Answer), notice.Warn)}}
	}
	state := table.State("read", notice.OK)
	if r.Code.How == scan.Recognised {
		state = table.State("recognised", notice.Warn)
	}
	if m.walk != nil && r.Place.Kind.Storage() {
		state = table.State("wrong drawer", notice.Stop)
		if m.walk.Wants(r.Place) {
			state = table.State("on the list", notice.OK)
		}
	}
	if slices.Contains(m.hint.found, r.Code.Text) {
		state = table.State("it is here", notice.OK)
	}
	what := "empty"
	if len(r.Contents) > 0 {
		what = r.Contents[0].Item
	}
	if r.Within > 0 {
		what = fmt.Sprintf("%d places", r.Within)
	}
	return table.Row{ID: id, Cells: []table.Cell{table.Name(r.Place.Name, r.Tag.Spaced()), {Text: what, Sub: session.PlaceWords(r.Path)}, state}}
}

// Pick chooses a reading for a person: it stays chosen as long as it is listed.
func (m *Model) Pick(index int) {
	m.picked = index >= 0 && index < len(m.readings)
	m.Choose(index)
}

// Key moves the choice, and reports whether a key does; up from the first one leads elsewhere.
func (m *Model) Key(key string) bool {
	step := map[string]int{"Up": -1, "Down": 1}[key]
	to := m.state.Chosen + step
	if step == 0 || len(m.readings) == 0 || to < 0 {
		return false
	}
	m.Pick(min(to, len(m.readings)-1))
	return true
}

// Choose shows the card of a reading.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.readings) {
		return
	}
	m.state.Chosen = index
	r := m.readings[index]
	if r.Answer != store.TagFound {
		m.card.Drop()
		m.state.Card = card.Card{}
		m.show(m.state)
		return
	}
	m.showCard(r.Place, r.Code.How == scan.Recognised)
}

// showCard shows the card of a place, which has a warning where its label was only recognised.
func (m *Model) showCard(place store.Place, recognised bool) {
	m.card.Drop()
	m.show(m.state)
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (card.Card, error) { return m.session.PlaceCard(place.ID) }, func(c card.Card, err error) {
		if err != nil {
			m.state.Problem = wording.Error(err)
		}
		if recognised {
			c.Beware = append([]notice.Notice{{Tone: notice.Warn, Lead: "Recognised, not read:", Text: "check the label before you book anything."}}, c.Beware...)
		}
		m.state.Card = c
		m.show(m.state)
	})
}

// Chosen is the chosen reading; ok reports whether it refers to a place.
func (m *Model) Chosen() (session.Reading, bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.readings) {
		return session.Reading{}, false
	}
	r := m.readings[m.state.Chosen]
	return r, r.Answer == store.TagFound
}
