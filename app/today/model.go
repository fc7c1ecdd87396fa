// Package today is the first screen: what waits in the shop. Crates to check off with
// the days left to claim, stock to put away, what blocks each sub-assembly, and the
// last entries with their undo. Every row leads to where its work is done.
package today

import (
	"context"
	"slices"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/routes"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// State is what the screen shows.
type State struct {
	Loading  bool
	First    bool   // no packing list is here yet: say what to do first
	Places   bool   // places have been made
	Title    string // "Today"
	Note     string // "Wednesday 18 March 2026"
	Sections []Section
	Chosen   int // index of the chosen row, counted through all sections; -1 for none
	Entries  []table.Row
	Undo     string // the entry that Undo would take back, in words; empty for none
	Error    string // a sentence; empty for nothing
}

// Section is rows of one kind under a heading.
type Section struct {
	ID    string // which kind of rows: its columns follow from it
	Title string
	Note  string // behind the title
	Rows  []table.Row
	Clear string // what to say where there are no rows
}

// The kinds of section.
const (
	Deliveries = "deliveries"
	ToStow     = "stow"
	Needs      = "needs"
	Due        = "due"
	Alerts     = "alerts"
)

// Columns are those of a kind of section.
func Columns(id string) []table.Column {
	switch id {
	case Deliveries:
		return []table.Column{{Kind: table.Names}, {Kind: table.Words, Width: 130}, {Kind: table.States, Width: 196}, {Kind: table.States, Width: 216}}
	case Alerts:
		return []table.Column{{Kind: table.Words}, {Kind: table.Words, Width: 180}, {Kind: table.States, Width: 250}}
	case Due:
		return []table.Column{{Kind: table.Words}, {Kind: table.Words, Width: 220}, {Kind: table.States, Width: 150}}
	case ToStow:
		return []table.Column{{Kind: table.Names, Width: 150}, {Kind: table.Words}, {Kind: table.States, Width: 110}}
	}
	return []table.Column{{Kind: table.Names}, {Kind: table.Words, Width: 150}, {Kind: table.Words, Width: 196}, {Kind: table.States, Width: 122}}
}

// EntryColumns are those of the last entries.
func EntryColumns() []table.Column { return []table.Column{{Kind: table.Words}} }

// waiting is what was read of the shop.
type waiting struct {
	first    bool
	places   bool
	today    store.Date
	sections []Section
	leads    []routes.Route // of all rows of all sections, in order
	entries  []store.Entry
	named    map[uint64][]string // by entry: what the places are called that it changed
	undone   map[uint64]bool
	undo     string
}

// Model decides what the screen shows. Its methods are called on the window's goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	open    func(routes.Route)
	state   State
	data    waiting
	reading loop.Latest
	undoing loop.Once
}

// NewModel makes the model: show is called with every new state, and open with where
// a chosen row leads.
func NewModel(s *session.Session, show func(State), open func(routes.Route)) *Model {
	return &Model{session: s, show: show, open: open, state: State{Loading: true, Chosen: -1}}
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// Load reads what waits.
func (m *Model) Load() {
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (waiting, error) { return session.Answer(m.session, read) }, m.took)
}

func (m *Model) took(w waiting, err error) {
	chosen := max(m.state.Chosen, 0)
	m.state = State{Title: "Today", Chosen: -1}
	if err != nil {
		m.state.Error = err.Error()
		m.show(m.state)
		return
	}
	m.data = w
	m.state.First, m.state.Places, m.state.Note = w.first, w.places, wording.FullDay(w.today)
	m.state.Sections, m.state.Undo = w.sections, w.undo
	m.state.Entries = entryRows(w)
	if len(w.leads) > 0 {
		m.state.Chosen = min(chosen, len(w.leads)-1)
	}
	m.show(m.state)
}

// Key does what a key is for and reports whether it is one of this screen's.
func (m *Model) Key(key string) bool {
	switch key {
	case "Down":
		m.Choose(m.state.Chosen + 1)
	case "Up":
		if m.state.Chosen <= 0 {
			return false // on to the command bar
		}
		m.Choose(m.state.Chosen - 1)
	case "D":
		if !m.state.due() {
			return false
		}
		m.OpenDue()
	case "Enter":
		if m.state.Chosen < 0 {
			return false
		}
		m.Open(m.state.Chosen)
	default:
		return false
	}
	return true
}

// OpenDue goes to the list of all that is due.
func (m *Model) OpenDue() { m.open(dueRoute) }

// due reports whether something is overdue or due soon.
func (s State) due() bool { return len(s.Sections) > 0 && s.Sections[0].ID == Due }

// Choose chooses a row, counted through all sections.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.data.leads) {
		return
	}
	m.state.Chosen = index
	m.show(m.state)
}

// Open goes where a row leads.
func (m *Model) Open(index int) {
	if index >= 0 && index < len(m.data.leads) {
		m.state.Chosen = index
		m.open(m.data.leads[index])
	}
}

// OpenEntry goes to what an entry was about.
func (m *Model) OpenEntry(index int) {
	if index >= 0 && index < len(m.data.entries) {
		m.open(entryRoute(m.data.entries[index]))
	}
}

// Undo takes the newest entry that stands back.
func (m *Model) Undo() {
	if m.state.Undo == "" {
		return
	}
	operation.Start(m.session, &m.undoing, operation.Undo{}, func(_ operation.Result, err error) {
		if err != nil {
			m.state.Error = err.Error()
			m.show(m.state)
			return
		}
		m.Load()
	})
}

// entryRoute is where an entry's work can be seen.
func entryRoute(e store.Entry) routes.Route {
	if e.Shipments() {
		return routes.Route{Screen: routes.Unpack}
	}
	if items := e.Items(); len(items) > 0 {
		return routes.Route{Screen: routes.Find, About: items[0]}
	}
	if places := e.Places(); len(places) > 0 {
		return routes.Route{Screen: routes.Places, About: places[0]}
	}
	return routes.Route{Screen: routes.Places}
}

// read reads all that waits.
func read(s *session.Reader) (waiting, error) {
	w := waiting{today: s.Shop.Today()}
	ships, err := s.Shop.Shipments()
	if err != nil {
		return w, err
	}
	w.first = len(ships) == 0
	places, err := s.Shop.Places()
	if err != nil {
		return w, err
	}
	w.places = slices.ContainsFunc(places, func(p store.Place) bool { return p.Kind.Storage() && p.Kind != store.Room })
	var lists []list
	lines, err := s.AllLines(ships)
	if err != nil {
		return w, err
	}
	for i, ship := range ships {
		lists = append(lists, list{ship, lines[i]})
	}
	parts := []func(*session.Reader, []list) (Section, []routes.Route, error){due, alerts, deliveries, toStow, needs}
	if w.first {
		parts = parts[:1] // what is due needs no packing list
	}
	for _, part := range parts {
		section, leads, err := part(s, lists)
		if err != nil {
			return w, err
		}
		if (section.ID == Due || section.ID == Alerts) && len(leads) == 0 {
			continue
		}
		w.sections = append(w.sections, section)
		w.leads = append(w.leads, leads...)
	}
	return w, w.readEntries(s.Shop)
}

// shownEntries is how many of the last entries are shown.
const shownEntries = 9

func (w *waiting) readEntries(shop *store.Reader) error {
	var err error
	if w.entries, err = shop.Entries(0, shownEntries); err != nil {
		return err
	}
	if err := w.nameEntries(shop); err != nil {
		return err
	}
	w.undone = map[uint64]bool{}
	for _, e := range w.entries { // newest first: a redo takes back the undo before it
		if (e.Verb == store.VerbUndo || e.Verb == store.VerbRedo) && !w.undone[e.Seq] {
			w.undone[e.Undoes] = true
		}
	}
	undoable, ok, err := shop.Undoable()
	if ok {
		w.undo = undoable.Text
	}
	return err
}

// nameEntries reads what the places are called that the entries changed, or stock in them: a
// few of each, since one entry may make a cabinet.
func (w *waiting) nameEntries(shop *store.Reader) error {
	const most = 4
	w.named = map[uint64][]string{}
	for _, e := range w.entries {
		ids := append(e.StockPlaces(), e.Places()...)
		for _, id := range ids[:min(most, len(ids))] {
			place, err := shop.Place(id)
			if store.KindOf(err) == store.NotFound { // its making was undone
				continue
			} else if err != nil {
				return err
			}
			w.named[e.Seq] = append(w.named[e.Seq], place.Name)
		}
	}
	return nil
}

// list is a shipment with its lines.
type list struct {
	ship  store.Shipment
	lines []store.Line
}

// state is how a line of the list stands.
func (l list) state(line store.Line) store.State {
	_, arrived := l.ship.Delivery(line.Crate)
	return line.State(arrived)
}
