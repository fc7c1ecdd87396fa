package aircraft

import (
	"context"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/app/wording"
)

// The lists of the screen, as the parts of its routes.
const (
	AircraftPart  = "" // the first
	ComponentPart = "components"
	DuePart       = "due"
	PositionPart  = "positions"
)

// State is what the screen shows.
type State struct {
	Loading bool
	Part    string
	Title   string
	Note    string
	Rows    []table.Row
	Chosen  int // index of the chosen row; -1 for none
	Card    card.Card
	Lead    string // what to do first, where nothing is recorded
	Hint    string
	Problem string
}

// Columns are those of a list.
func Columns(part string) []table.Column {
	switch part {
	case ComponentPart:
		return []table.Column{{Title: "component", Kind: table.Names}, {Title: "where", Kind: table.Words, Width: 130}, {Title: "ran here", Kind: table.Figure, Width: 98}, {Title: "due", Kind: table.States, Width: 150}}
	case DuePart:
		return []table.Column{{Title: "what is due", Kind: table.Words}, {Title: "of", Kind: table.Words, Width: 170}, {Kind: table.States, Width: 150}}
	case PositionPart:
		return []table.Column{{Title: "position", Kind: table.Words}, {Title: "fitted", Kind: table.Figure, Width: 70}, {Title: "photographs", Kind: table.Figure, Width: 110}}
	}
	return []table.Column{{Title: "aircraft", Kind: table.Names}, {Title: "certificate", Kind: table.Words, Width: 120}, {Title: "total time", Kind: table.Figure, Width: 100}, {Title: "due", Kind: table.States, Width: 150}}
}

// Model decides what the screen shows. Its methods are called on the window's goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	part    string
	inHand  table.InHand
	state   State
	data    data
	reading loop.Latest
	doing   loop.Once
}

// NewModel makes the model of a list; about is the id of the one to begin with, "" for the
// first.
func NewModel(s *session.Session, part, about string, show func(State)) *Model {
	return &Model{session: s, part: part, inHand: table.InHand{ID: about}, show: show, state: State{Loading: true, Part: part, Chosen: -1, Title: titles[part]}}
}

// State is what is shown now.
func (m *Model) State() State { return m.state }

// titles are the headings of the lists.
var titles = map[string]string{AircraftPart: "Aircraft", ComponentPart: "Components", DuePart: "What is due", PositionPart: "Positions"}

// Load reads the list.
func (m *Model) Load() {
	part := m.part
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (data, error) {
		d, err := session.Answer(m.session, func(r *session.Reader) (data, error) { return read(r, part) })
		for i := range d.things {
			m.session.Picture(&d.things[i].card)
		}
		return d, err
	}, func(d data, err error) {
		if err != nil {
			m.state = State{Part: part, Title: titles[part], Chosen: -1, Problem: wording.Error(err)}
			m.show(m.state)
			return
		}
		m.data = d
		m.render()
	})
}

func (m *Model) render() {
	s := State{Part: m.part, Title: titles[m.part], Note: m.data.note}
	for _, t := range m.data.things {
		s.Rows = append(s.Rows, t.row)
	}
	if s.Chosen = m.inHand.In(s.Rows); s.Chosen >= 0 {
		s.Card = m.data.things[s.Chosen].card
	} else {
		s.Lead, s.Hint = empty[m.part].lead, empty[m.part].hint
	}
	m.state = s
	m.show(s)
}

// Choose chooses a row, by index.
func (m *Model) Choose(index int) {
	if m.inHand.Take(m.state.Rows, index) {
		m.render()
	}
}

// Key does what a key is for and reports whether it is one of this screen's.
func (m *Model) Key(key string) bool {
	to, ok := table.Arrow(key, m.state.Chosen)
	if ok {
		m.Choose(to)
	}
	return ok
}

// thing is the chosen one; the zero thing where there is none.
func (m *Model) thing() thing {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.data.things) {
		return thing{}
	}
	return m.data.things[m.state.Chosen]
}

// Do does an operation, and tells back what is wrong, "" for nothing, and what to say.
func (m *Model) Do(o operation.Operation, back func(problem string, said notice.Notice)) {
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		if err != nil {
			back(wording.Error(err), notice.Notice{})
			return
		}
		m.Load()
		back("", stockdialog.Done(r.Words()))
	})
}

// empty says of each list what to do first.
var empty = map[string]struct{ lead, hint string }{
	AircraftPart:  {"No aircraft is recorded", "Record the one that you build. Its total time is what its components run by, and what is due by hours."},
	ComponentPart: {"No component is recorded", "A component is one piece with a serial number: a propeller, a magneto. How long it ran follows from the hours of the aircraft that it was on."},
	DuePart:       {"Nothing is recorded that is due", "Record it with its rule in words, of an aircraft, a component or a tool: by calendar months, by hours, or by a day."},
	PositionPart:  {"No position is recorded, and no list names one", "A position is words on the aircraft, from the large to the small: Tailplane / left / hinge 2. What goes in there, and its photographs, are kept under it."},
}
