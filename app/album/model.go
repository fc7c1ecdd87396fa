// Package album is the page of the photographs of one thing: a line of a packing list,
// a place or an item. It takes them with a camera or brings files in, shows them small
// and large, describes them, saves them and takes them away.
package album

import (
	"context"
	"fmt"
	"image"
	"os"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/photos"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/labels/camera"
	"stowright/store"
	"stowright/store/output"
)

// State is what the page shows.
type State struct {
	Loading bool
	Title   string // "Photographs of line 5 OQ-10-020"
	Note    string // "2 photographs"
	Photos  []card.Photo
	Chosen  int         // index, -1 for none
	Large   image.Image // the chosen one, when it is looked at; else nil
	Live    bool        // the camera is looking
	Picture image.Image // what it sees; nil before the first picture
	Kept    uint64      // number of the photograph that was brought in last, 0 for none
	Said    string      // what was done last
	Problem string      // what went wrong, as a sentence; empty for nothing
}

// Opener opens what pictures come from: the first camera for nothing, a camera, the
// address of a stream, or a folder.
type Opener func(ctx context.Context, where string) (camera.Source, error)

// Model shows the photographs of one thing. Its methods are called on the window's
// goroutine.
type Model struct {
	// AskReplace asks whether files are written over, and calls replace if they are; nil
	// leaves them as they are and says so.
	AskReplace session.AskReplace

	session *session.Session
	of      store.Subject
	open    Opener
	show    func(State)
	state   State

	list    []store.Photo
	choose  uint64      // number of the photograph to choose when the list is there; 0 for none
	large   loop.Latest // the one to look at
	writing loop.Once
	camera  loop.Latest // late pictures of a camera that was stopped are dropped
}

// NewModel makes the model of what a route is about; show is called with every new
// state. Nil opens what camera.Open does.
func NewModel(s *session.Session, about string, open Opener, show func(State)) *Model {
	if open == nil {
		open = camera.Open
	}
	m := &Model{session: s, open: open, show: show, state: State{Loading: true, Chosen: -1}}
	m.of, _ = photos.SubjectOf(about)
	return m
}

// State is what the page shows now.
func (m *Model) State() State { return m.state }

// loaded is what was read of the shop.
type loaded struct {
	name  string
	list  []store.Photo
	cards []card.Photo
}

// mostShown is how many photographs are shown, the newest.
const mostShown = 200

// Load reads the photographs and shows them.
func (m *Model) Load() {
	session.Do(m.session, m.read, func(l loaded, err error) {
		m.state.Loading = false
		if err != nil {
			m.state.Problem = wording.Error(err)
			m.show(m.state)
			return
		}
		m.take(l)
	})
}

// Changed follows a change of the shop: one that was not made here ends what was said.
func (m *Model) Changed() {
	if !m.writing.Busy() {
		m.state.Said = ""
	}
	m.Load()
}

func (m *Model) read() (loaded, error) {
	var l loaded
	err := m.session.Read(func(r *session.Reader) (err error) {
		if l.name, err = r.Shop.SubjectText(m.of); err != nil {
			return err
		}
		l.list, err = r.Shop.Photos(m.of)
		return err
	})
	l.list = l.list[max(0, len(l.list)-mostShown):]
	l.cards = m.session.Photos.Cards(l.list, mostShown) // after the reading: pictures take their time
	return l, err
}

// take shows what was read, with the same photograph chosen as before, or the one
// that was just brought in.
func (m *Model) take(l loaded) {
	chosen := m.choose
	if m.state.Chosen >= 0 && m.state.Chosen < len(m.list) && chosen == 0 {
		chosen = m.list[m.state.Chosen].Number
	}
	before := m.state.Chosen
	m.list = l.list
	if m.choose != 0 {
		m.state.Kept, m.choose = m.choose, 0
	}
	m.state.Title, m.state.Photos = "Photographs of "+l.name, l.cards
	m.state.Note = wording.Plural(len(l.list), "photograph", "photographs")
	m.state.Chosen = min(max(before, 0), len(l.list)-1)
	for i, p := range l.list {
		if p.Number == chosen {
			m.state.Chosen = i
		}
	}
	if m.state.Large != nil {
		m.Open()
		return
	}
	m.show(m.state)
}

// Choose chooses the photograph with that index; beyond the ends nothing happens.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.list) || index == m.state.Chosen {
		return
	}
	m.state.Chosen = index
	if m.state.Large != nil {
		m.Open()
		return
	}
	m.show(m.state)
}

// Step moves the choice.
func (m *Model) Step(by int) { m.Choose(m.state.Chosen + by) }

// Chosen is the chosen photograph.
func (m *Model) Chosen() (store.Photo, bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.list) {
		return store.Photo{}, false
	}
	return m.list[m.state.Chosen], true
}

// Open shows the chosen photograph large.
func (m *Model) Open() {
	p, ok := m.Chosen()
	if !ok {
		m.Shut()
		return
	}
	loop.DoLatest(m.session.Loop, &m.large, func(context.Context) (image.Image, error) { return m.session.Photos.Large(p.Number) }, func(picture image.Image, err error) {
		m.state.Large, m.state.Problem = picture, ""
		if err != nil {
			m.state.Large, m.state.Problem = nil, wording.Error(err)
		}
		m.show(m.state)
	})
}

// Shut goes back from the large picture to all of them.
func (m *Model) Shut() {
	m.large.Drop()
	m.state.Large = nil
	m.show(m.state)
}

// Bring brings picture files in, all of them or none; or, where a folder or the address
// of a stream is named, lets the camera look there.
func (m *Model) Bring(paths ...string) {
	if len(paths) == 1 && isSource(paths[0]) {
		m.Look(paths[0])
		return
	}
	m.keep(func() (operation.AddPhotos, error) { return operation.AddPhotos{Files: paths}, nil })
}

// isSource reports whether a path is a source of pictures (a folder, a device or the
// address of a stream) and not a file.
func isSource(path string) bool {
	info, err := os.Stat(path)
	return err == nil && !info.Mode().IsRegular() || strings.HasPrefix(path, "http://") || strings.HasPrefix(path, "https://")
}

// keep adds pictures that are made away from the window.
func (m *Model) keep(pictures func() (operation.AddPhotos, error)) {
	m.write(func() (done, error) {
		add, err := pictures()
		if err != nil {
			return done{}, err
		}
		add.Of.Of = m.of
		r, err := add.Do(context.Background(), m.session)
		if err != nil {
			return done{}, err
		}
		var names []string
		for _, p := range r.Photos {
			names = append(names, p.Name())
		}
		return done{said: "Kept: " + strings.Join(names, ", ") + ". Ctrl+Z undoes it.", choose: r.Photos[len(r.Photos)-1].Number}, nil
	})
}

// done is what was done, in words, and the photograph to choose after it, 0 for none.
type done struct {
	said   string
	choose uint64
	then   func() // what to do next, on the window's goroutine; nil for nothing
}

// write does something to the shop, says what it was, and reads the photographs again.
func (m *Model) write(do func() (done, error)) {
	loop.DoOnce(m.session.Loop, &m.writing, do, func(d done, err error) {
		m.state.Said, m.state.Problem, m.choose = d.said, "", d.choose
		if err != nil {
			m.state.Said, m.state.Problem = "", wording.Error(err)
		}
		m.Load()
		if d.then != nil {
			d.then()
		}
	})
}

// Remove takes the chosen photograph away.
func (m *Model) Remove() {
	p, ok := m.Chosen()
	if !ok || m.state.Live {
		return
	}
	m.write(func() (done, error) {
		_, err := operation.RemovePhoto{Photo: p.Name()}.Do(context.Background(), m.session)
		return done{said: p.Name() + " taken away. Ctrl+Z brings it back."}, err
	})
}

// Describe says what is on the chosen photograph.
func (m *Model) Describe(caption string) {
	p, ok := m.Chosen()
	if !ok || strings.TrimSpace(caption) == p.Caption {
		return
	}
	m.write(func() (done, error) {
		_, err := operation.DescribePhoto{Photo: p.Name(), Caption: caption}.Do(context.Background(), m.session)
		return done{said: p.Name() + " described."}, err
	})
}

// Save writes all of the photographs into a folder.
func (m *Model) Save(folder string) { m.save(folder, false) }

func (m *Model) save(folder string, replace bool) {
	list := m.list
	m.write(func() (done, error) {
		files, err := photos.Save(m.session.Shop, list, folder, replace)
		if _, there := output.Existing(err); there && m.AskReplace != nil {
			return done{then: func() { m.AskReplace.Asks(err, func() { m.save(folder, true) }) }}, nil
		}
		return done{said: fmt.Sprintf("%s saved in %s.", wording.Plural(len(files), "photograph", "photographs"), folder)}, err
	})
}
