package building

import (
	"context"
	"errors"
	"fmt"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// TicksState is what the page shows on which the ticks of a printed list are entered.
type TicksState struct {
	Loading bool
	Title   string
	Note    string
	Rows    []table.Row
	Row     int    // index of the stop in hand, -1 for none
	Ask     string // "A-12, AN3-5A: 6 on the list"
	Text    string // what is typed at it
	Problem string // why it cannot be so, or why nothing was entered
	Filled  int    // stops with something taken
}

// TicksColumns are those of the column that is filled.
func TicksColumns() []table.Column {
	return []table.Column{
		{Kind: table.Faint, Width: 28},
		{Title: "place", Kind: table.Names, Width: 86},
		{Title: "take", Kind: table.Names},
		{Title: "on the list", Kind: table.Figure, Width: 96},
		{Title: "on paper", Kind: table.Figure, Width: 96},
		{Title: "", Kind: table.States, Width: 150},
	}
}

// TicksModel enters what was ticked on a printed pull list: down the column, and all of it
// at the end. Its methods are called on the window's goroutine.
type TicksModel struct {
	session *session.Session
	codes   []string
	show    func(TicksState)
	entered func(words string)
	because func(question string, back func(reason string))
	state   TicksState
	stops   []stopRead
	texts   map[string]string // as typed, by the key of the stop
	reading loop.Latest
	doing   loop.Once
}

// NewTicksModel makes the model of the list of some sub-assemblies. Entered is called when
// the column is booked; because asks for a reason where more than is called was taken.
func NewTicksModel(s *session.Session, codes []string, show func(TicksState), entered func(words string), because func(question string, back func(reason string))) *TicksModel {
	return &TicksModel{session: s, codes: codes, show: show, entered: entered, because: because, texts: map[string]string{}, state: TicksState{Loading: true, Row: -1}}
}

// State is what is shown now.
func (m *TicksModel) State() TicksState { return m.state }

// Load reads what is left of the list.
func (m *TicksModel) Load() {
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (walkData, error) {
		return session.Answer(m.session, func(r *session.Reader) (walkData, error) { return readWalk(r, m.codes) })
	}, func(d walkData, err error) {
		m.state.Loading = false
		if err != nil {
			m.stops, m.state = nil, TicksState{Title: "Ticked on paper", Row: -1, Problem: wording.Error(err)}
			m.show(m.state)
			return
		}
		m.stops = d.stops
		m.state.Title = "Ticked on paper: " + listed(d.names)
		m.state.Note = wording.Plural(len(d.stops), "stop is", "stops are") + " left on the list, in walking order."
		if len(d.stops) == 0 {
			m.state.Note = "Nothing is left on the list."
		}
		if m.state.Row < 0 || m.state.Row >= len(m.stops) {
			m.state.Row = min(0, len(m.stops)-1)
		}
		m.render()
	})
}

// render shows the column as it is filled.
func (m *TicksModel) render() {
	m.state.Rows, m.state.Filled = nil, 0
	for i, s := range m.stops {
		text := m.texts[s.key()]
		taken, _, err := operation.TickedStop(m.session, s.Stop, text)
		mark := notice.Mark{Word: "not ticked"}
		switch {
		case err != nil:
			mark = notice.Mark{Word: "not a count", Tone: notice.Stop}
		case taken:
			m.state.Filled++
			mark = notice.Mark{Word: "taken", Tone: notice.OK}
		case text != "":
			mark = notice.Mark{Word: "none taken"}
		}
		m.state.Rows = append(m.state.Rows, table.Row{ID: s.key(), Cells: []table.Cell{
			table.T(fmt.Sprint(i + 1)), table.Name(s.Place.Name, ""), table.Name(s.Item, s.title),
			{Text: s.Quantity.Number(), Sub: wording.ShortUnit(s.Quantity.Unit)},
			table.T(text),
			{Mark: mark},
		}})
	}
	m.state.Ask, m.state.Text = "", ""
	if s, ok := m.stop(); ok {
		m.state.Ask = fmt.Sprintf("%s, %s: %s on the list", s.Place.Name, s.Item, s.Quantity)
		m.state.Text = m.texts[s.key()]
	}
	m.show(m.state)
}

// stop is the stop in hand, and whether there is one.
func (m *TicksModel) stop() (stopRead, bool) {
	if m.state.Row < 0 || m.state.Row >= len(m.stops) {
		return stopRead{}, false
	}
	return m.stops[m.state.Row], true
}

// Type follows what is typed at the stop in hand.
func (m *TicksModel) Type(text string) {
	s, ok := m.stop()
	if !ok || m.texts[s.key()] == text {
		return
	}
	m.texts[s.key()] = text
	m.state.Problem = ""
	m.render()
}

// Next takes what is typed and goes on to the next stop; it reports whether it was the
// last one. A text that is no count stays in hand and says why.
func (m *TicksModel) Next() (last bool) {
	s, ok := m.stop()
	if !ok {
		return false
	}
	if _, _, err := operation.TickedStop(m.session, s.Stop, m.texts[s.key()]); err != nil {
		m.state.Problem = wording.Error(err)
		m.render()
		return false
	}
	last = m.state.Row == len(m.stops)-1
	m.Choose(m.state.Row + 1)
	return last
}

// Choose takes the stop with that index in hand.
func (m *TicksModel) Choose(index int) {
	if index >= 0 && index < len(m.stops) {
		m.state.Row, m.state.Problem = index, ""
	}
	m.render()
}

// Enter books the whole column, or nothing of it.
func (m *TicksModel) Enter() { m.enter("") }

func (m *TicksModel) enter(reason string) {
	o := operation.PullColumn{Reason: reason}
	for i, s := range m.stops {
		taken, stop, err := operation.TickedStop(m.session, s.Stop, m.texts[s.key()])
		if err != nil {
			m.state.Row, m.state.Problem = i, wording.Error(err)
			m.render()
			return
		}
		if taken {
			o.Stops = append(o.Stops, stop)
		}
	}
	operation.Start(m.session, &m.doing, o, func(_ operation.Result, err error) {
		switch {
		case errors.Is(err, store.ErrReason) && reason == "":
			m.because(wording.Error(err), m.enter)
		case err != nil:
			m.state.Problem = wording.Error(err)
			m.render()
		default:
			m.texts = map[string]string{}
			m.entered(wording.Plural(len(o.Stops), "stop", "stops") + " booked as ticked")
		}
	})
}
