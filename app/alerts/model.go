package alerts

import (
	"context"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/stockdialog"
	"stowright/app/table"
	"stowright/app/wording"
)

// The pages of the screen, as the parts of its routes.
const (
	AlertsPart = ""      // all alerts
	AlertPart  = "alert" // one, About it: "A-1"
	DatesPart  = "dates" // lots in stock that have a life
	LotsPart   = "lots"  // of an item, About it, and behind a slash the lot to begin with: "AN3-5A/L-17"
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
	Lead    string // what to do first, where there is nothing to show
	Hint    string
	Problem string
	Acts    []act // what can be done, the most usual first
}

// Columns are those of a page.
func Columns(part string) []table.Column {
	switch part {
	case AlertPart:
		return []table.Column{{Title: "where", Kind: table.Names}, {Title: "how many", Kind: table.Words, Width: 130}, {Title: "lot and delivery", Kind: table.Words, Width: 210}, {Kind: table.States, Width: 190}}
	case DatesPart:
		return []table.Column{{Title: "lot", Kind: table.Names}, {Title: "where", Kind: table.Words, Width: 104}, {Title: "use until", Kind: table.Words, Width: 230}, {Kind: table.States, Width: 200}}
	case LotsPart:
		return []table.Column{{Title: "lot", Kind: table.Names}, {Title: "came", Kind: table.Words, Width: 170}, {Title: "origin", Kind: table.Words, Width: 150}, {Title: "expiry", Kind: table.States, Width: 200}}
	}
	return []table.Column{{Title: "alert", Kind: table.Names}, {Title: "newest issue", Kind: table.Words, Width: 190}, {Title: "apart", Kind: table.Figure, Width: 86}, {Title: "fitted", Kind: table.Figure, Width: 72}, {Title: "unclear", Kind: table.Figure, Width: 88}, {Kind: table.States, Width: 160}}
}

// Model decides what the screen shows. Its methods are called on the window's goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	part    string
	about   string
	inHand  table.InHand
	state   State
	data    data
	reading loop.Latest
	asking  loop.Latest
	doing   loop.Once
}

// NewModel makes the model of a page.
func NewModel(s *session.Session, part, about string, show func(State)) *Model {
	m := &Model{session: s, part: part, about: about, show: show, state: State{Loading: true, Part: part, Chosen: -1}}
	switch part {
	case AlertsPart:
		m.inHand.ID = about
	case LotsPart:
		m.about, m.inHand.ID, _ = strings.Cut(about, "/")
	}
	return m
}

// State is what is shown now.
func (m *Model) State() State { return m.state }

// Load reads what is shown.
func (m *Model) Load() {
	part, about := m.part, m.about
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (data, error) {
		return session.Answer(m.session, func(r *session.Reader) (data, error) { return read(r, part, about) })
	}, func(d data, err error) {
		if err != nil {
			m.state = State{Part: part, Title: "Alerts", Chosen: -1, Problem: wording.Error(err)}
			m.show(m.state)
			return
		}
		m.data = d
		m.render()
	})
}

func (m *Model) render() {
	s := State{Part: m.part, Title: m.data.title, Note: m.data.note}
	for _, t := range m.data.things {
		s.Rows = append(s.Rows, t.row)
	}
	if s.Chosen = m.inHand.In(s.Rows); s.Chosen >= 0 {
		s.Card = m.data.things[s.Chosen].card
	} else {
		s.Lead, s.Hint = empty[m.part].lead, empty[m.part].hint
	}
	m.state = s
	m.state.Acts = acts(m.part, m.thing())
	m.show(m.state)
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
		if a, is := o.(operation.Alert); is && a.Alert == "" {
			m.inHand = table.InHand{} // the new one is the first
		}
		m.Load()
		back("", stockdialog.Done(r.Words()))
	})
}

// Comes tells back what an alert would come to, as lines, or what is wrong with it. Nothing is
// recorded.
func (m *Model) Comes(o operation.Alert, back func(problem string, lines []string)) {
	type answer struct{ now, then session.Alerted }
	loop.DoLatest(m.session.Loop, &m.asking, func(context.Context) (a answer, err error) {
		a.now, a.then, err = o.Comes(m.session)
		return a, err
	}, func(a answer, err error) {
		if err != nil {
			back(wording.Error(err), nil)
			return
		}
		back("", preview(a.now, a.then))
	})
}

// empty says of each page what to do first.
var empty = map[string]struct{ lead, hint string }{
	AlertsPart: {"No alert is recorded", "When a bulletin or a maker warns of parts, record it with what it names: part number, lots, days on which they were sent. What lies here of it is set apart, and what went into the aircraft is listed."},
	AlertPart:  {"There is no such alert", "See all alerts."},
	DatesPart:  {"Nothing here has a date", "Of a sealant, a paint or a seal say when it expires, or when it was made and its life, off its container: find the item, and see its lots."},
	LotsPart:   {"No lot of it is recorded", "Every receipt makes one. What an older version recorded has none."},
}
