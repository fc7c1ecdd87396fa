// Package unpack is the screen that brings a packing list in, says which of its
// crates came, checks them off line by line, stows what was found, and writes the
// claim. Models decide and hold plain state; the files named view hold widgets.
package unpack

import (
	"context"
	"errors"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// Model checks a shipment off. Its methods are called on the window's goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	state   State

	about   string // what to show first: id of a shipment, or of the place of a crate or bag
	back    *Saved // where to start instead, when the screen is come back to
	data    delivery
	scope   scope
	current store.LineID // 0 for none
	stowing store.LineID // the line that the side asks about, 0 for none
	looked  map[store.LineID]bool
	prompt  *question
	meet    func(why error) // asks what becomes of two lots that meet where something is stowed
	serial  int             // of the newest question
	course  course

	working loop.Once
}

// NewModel makes the model; show is called with every new state. About is the id
// of a shipment, or of the place of a crate or bag; empty for what waits.
func NewModel(s *session.Session, about string, show func(State)) *Model {
	return &Model{session: s, about: about, show: show, looked: map[store.LineID]bool{}, state: State{Loading: true, Line: -1}}
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// Load reads the shipment and shows it.
func (m *Model) Load() { m.work(func() error { return nil }, nil) }

// Changed follows a change of the shop that was made elsewhere: an undo, or another screen.
// What is typed waits for it, since while it is read nothing else can be done.
func (m *Model) Changed() {
	if !m.working.Busy() {
		m.session.Loop.Asked.Ask(m.Load)
	}
}

// outcome is what came back from the store.
type outcome struct {
	data    delivery
	err     error // of what was done
	loadErr error // of reading afterwards
}

// work does something to the shop away from the window, reads the shipment again,
// and calls then with what was done already in m.data.
func (m *Model) work(do func() error, then func()) {
	about := m.about
	loop.DoOnce(m.session.Loop, &m.working, func() (outcome, error) {
		o := outcome{err: do()}
		o.data, o.loadErr = load(m.session, about)
		return o, nil
	}, func(o outcome, _ error) { m.done(o, then) })
}

// do does an operation and reads the list again; then is called once it is done.
func (m *Model) do(o operation.Operation, then func()) {
	m.work(func() error {
		_, err := o.Do(context.Background(), m.session)
		return err
	}, then)
}

func (m *Model) done(o outcome, then func()) {
	before := m.data
	m.state.Loading, m.state.Error = false, ""
	switch {
	case o.loadErr != nil:
		m.state.Error = wording.Error(o.loadErr)
	case errors.Is(o.err, store.ErrLotsMeet) && m.meet != nil:
		m.data = o.data
		m.meet(o.err)
	case o.err != nil:
		m.state.Error = wording.Error(o.err)
		m.data = o.data
	default:
		m.data, m.about = o.data, o.data.ship.ID
		m.adopt(before)
		if then != nil {
			then()
		}
	}
	m.suggest()
}

// adopt keeps the choice where it was, puts it where the page was asked to start,
// or on the line that an undo elsewhere has changed.
func (m *Model) adopt(before delivery) {
	if back := m.back; back != nil {
		m.scope, m.current, m.stowing, m.back = scope{back.Crate, back.Group}, back.Line, back.Line, nil
	} else if before.ship.ID != m.data.ship.ID {
		m.scope = m.data.start(m.about)
		m.current, m.stowing, m.course = 0, 0, course{}
	} else if n := m.elsewhereChanged(before); n != 0 && m.prompt == nil {
		m.current, m.stowing, m.course = n, n, course{}
		if !m.scope.holds(*m.data.line(n)) {
			m.scope = scope{}
		}
	} else if n := putBack(before, m.data); n != 0 && m.prompt == nil {
		m.stowing = n // stowing it was undone: it is asked about again
	}
	if m.data.line(m.current) == nil {
		m.current = m.firstOpen()
	}
}

// elsewhereChanged is the line to be in hand after a change: the first one of the entry
// that was undone or done again, or else the only line whose finding has changed; 0 for
// none.
func (m *Model) elsewhereChanged(before delivery) store.LineID {
	if m.data.newest != before.newest && m.data.reversed != 0 {
		return m.data.reversed
	}
	return changedLine(before, m.data)
}

// suggest asks for the place of the line that is to be stowed, or else where the
// line in hand lies, then shows the state.
func (m *Model) suggest() {
	find := func(*session.Reader) (Side, error) { return Side{}, nil }
	if l := m.data.line(m.stowing); l != nil && !m.data.inBag(*l).IsZero() {
		line, amount := *l, m.data.inBag(*l)
		find = func(r *session.Reader) (Side, error) { return suggestion(r, line, amount) }
	} else if l := m.data.line(m.current); l != nil && l.Finding != nil {
		line := *l
		find = func(r *session.Reader) (Side, error) { return lies(r, line) }
	}
	pictures := m.data.photos[m.current]
	loop.DoOnce(m.session.Loop, &m.working, func() (Side, error) {
		s, err := session.Answer(m.session, find)
		s.Photos = m.session.Photos.Cards(pictures, sidePhotos)
		return s, err
	}, func(s Side, err error) {
		m.state.Side.Stow, m.state.Side.Lies, m.state.Side.Photos = s.Stow, s.Lies, s.Photos
		if err != nil {
			m.state.Error = wording.Error(err)
		}
		m.render()
	})
}

// sidePhotos is how many photographs of the line in hand stand at the right.
const sidePhotos = 4

// step moves the choice by lines.
func (m *Model) step(by int) { m.ChooseLine(m.state.Line + by) }

// ChooseLine makes the line with that index current.
func (m *Model) ChooseLine(index int) {
	lines := m.data.within(m.scope)
	if index < 0 || index >= len(lines) || m.prompt != nil || m.working.Busy() {
		return
	}
	m.current = lines[index].ID
	m.stowing, m.state.Error, m.course = m.current, "", course{}
	m.suggest()
}

// ChooseBag shows the lines of the bag with that index: 0 is all of them.
func (m *Model) ChooseBag(index int) {
	if m.data.shown == nil || m.prompt != nil || m.working.Busy() {
		return
	}
	scopes := m.data.shown.scopes
	if index < 0 || index >= len(scopes) {
		return
	}
	m.scope = scopes[index]
	m.current, m.state.Error, m.course = m.firstOpen(), "", course{}
	m.stowing = m.current
	m.suggest()
}

// firstOpen is the first line of the scope that is to be checked, or
// else its first line; 0 where it has none.
func (m *Model) firstOpen() store.LineID {
	lines := m.data.within(m.scope)
	for _, l := range lines {
		if m.data.open(l) {
			return l.ID
		}
	}
	if len(lines) > 0 {
		return lines[0].ID
	}
	return 0
}

// Saved is where the screen stands, for the way back to it.
type Saved struct {
	Shipment, Crate, Group string
	Line                   store.LineID
}

// Saved is where the screen stands now.
func (m *Model) Saved() Saved {
	return Saved{m.data.ship.ID, m.scope.crate, m.scope.group, m.current}
}

// Restore puts the screen back to where it stood. It is called before Load.
func (m *Model) Restore(s Saved) {
	if s.Shipment == "" {
		return
	}
	m.about, m.back = s.Shipment, &s
}
