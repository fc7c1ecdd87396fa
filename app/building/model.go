// Package building is the screen on which one sees what can be built: all sub-assemblies
// in the builder's order with what each of them lacks, the walk that pulls what one needs,
// and its tray at the bench.
package building

import (
	"cmp"
	"context"
	"slices"
	"strconv"

	"stowright/app/drawing"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store/build"
)

// State is what the picture of all sub-assemblies shows.
type State struct {
	Loading  bool
	Empty    bool // no sub-assembly is listed yet: say what to do first
	Title    string
	Note     string // "7 sub-assemblies in your order; 2 can be started"
	Tiles    []drawing.Tile
	Chosen   int    // index of the chosen tile; -1 for none
	Head     string // of what is needed: "SA-41 Elevator hinges"
	Sentence string // how the chosen one stands, with everything that stops it
	Lines    []table.Row
	Cheapest []Advice
	Rest     string // what nothing here frees
	Hours    Hours
	Walk     string // which ones the walk is for: "SA-20 and SA-21"; empty where nothing can be pulled
	All      string // all that can be started, where they are others than Walk
	LetGo    string // what G does with what is kept for the chosen one; empty where nothing is
	Problem  string
}

// Advice is one thing to do, and what it would free.
type Advice struct {
	Do    string // "Weigh A-03 and A-21"
	Frees string // "SA-10 can start, 20 h of work"
	Key   string // that does it, "1"; empty for what is done elsewhere
}

// Hours are the planned hours: those that can be worked now, those that counting may free,
// and all.
type Hours struct {
	Now, Perhaps, All float64
	Words             string // "14 of 129 h can be worked now, 20 h more after counting"
}

// Columns are those of what is needed.
func Columns() []table.Column {
	return []table.Column{
		{Title: "called", Kind: table.Names},
		{Title: "need", Kind: table.Figure, Width: 92},
		{Title: "free", Kind: table.Figure, Width: 76},
		{Title: "where", Kind: table.States, Width: 300},
	}
}

// Model decides what the picture of all sub-assemblies shows. Its methods are called on
// the window's goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	state   State
	data    standing
	code    string          // of the chosen one
	taken   map[string]bool // that were chosen for one walk
	reading loop.Latest
	listing loop.Latest
	doing   loop.Once
	before  []build.Status // how things stood before what was just done; nil: nothing is to be said of it
	lead    string         // what was done

	// Said is told what a change of the order did, and what was refused. It may be nil.
	Said func(notice.Notice)
}

// NewModel makes the model: show is called with every new state; code is that of the
// sub-assembly to begin with, "" for the first.
func NewModel(s *session.Session, code string, show func(State)) *Model {
	return &Model{session: s, show: show, code: code, taken: map[string]bool{}, state: State{Loading: true, Chosen: -1}}
}

// State is what is shown now.
func (m *Model) State() State { return m.state }

// Load reads how everything stands.
func (m *Model) Load() {
	code := m.code
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (standing, error) {
		return session.Answer(m.session, func(r *session.Reader) (standing, error) { return read(r, code) })
	}, func(s standing, err error) {
		if err == nil && m.code != code { // another one was chosen meanwhile
			m.Load()
			return
		}
		if err != nil {
			m.state = State{Problem: wording.Error(err), Chosen: -1}
			m.show(m.state)
			return
		}
		m.took(s)
	})
}

func (m *Model) took(s standing) {
	m.data = s
	m.listing.Drop()
	m.state = State{Title: "Build", Note: noteOf(s), Empty: len(s.statuses) == 0, Chosen: -1}
	if m.state.Empty {
		m.show(m.state)
		return
	}
	m.cheapest()
	m.hours()
	m.state.Lines = s.lines
	m.mark(s.chosen)
	m.show(m.state)
	if m.before != nil {
		words := changed(m.before, s.statuses)
		m.say(notice.Notice{Tone: notice.OK, Lead: m.lead, Text: wording.Sentence(cmp.Or(words, "what can be started stays as it is"))})
		m.before = nil
	}
}

func (m *Model) say(n notice.Notice) {
	if m.Said != nil {
		m.Said(n)
	}
}

// Earlier has the chosen one built one place earlier, or later, and says what that changes.
func (m *Model) Earlier(earlier bool) {
	at := m.state.Chosen
	to := at + 1
	if earlier {
		to = at - 1
	}
	if at < 0 || to < 0 || to >= len(m.data.statuses) {
		return
	}
	var codes []string
	for _, s := range m.data.statuses {
		codes = append(codes, s.Code)
	}
	codes[at], codes[to] = codes[to], codes[at]
	first, second := codes[min(at, to)], codes[max(at, to)]
	m.do(operation.OrderSubAssemblies{Codes: codes}, first+" before "+second+":")
}

// Advised does what a line of the advice says, where that is another order of building.
func (m *Model) Advised(index int) {
	if index < 0 || index >= len(m.state.Cheapest) || m.state.Cheapest[index].Key == "" {
		return
	}
	u := m.data.cheapest.Unblocks[index]
	a := u.Actions[0]
	if a.LetGo != "" {
		m.do(operation.LetGo{For: a.LetGo}, u.Do+":")
		return
	}
	var codes []string
	for _, s := range m.data.statuses {
		switch s.Code {
		case a.First:
		case a.Then:
			codes = append(codes, a.First, a.Then)
		default:
			codes = append(codes, s.Code)
		}
	}
	m.do(operation.OrderSubAssemblies{Codes: codes}, a.First+" before "+a.Then+":")
}

// LetGo lets what is kept for the chosen one go to others, or takes it up again.
func (m *Model) LetGo() {
	if m.state.Chosen < 0 || m.state.LetGo == "" { // what can be started, or is done, keeps nothing from others
		return
	}
	s := m.data.statuses[m.state.Chosen]
	lead := s.Code + " lets go of what is kept for it:"
	if s.LetGo {
		lead = s.Code + " holds what it needs again:"
	}
	m.do(operation.LetGo{For: s.Code, Hold: s.LetGo}, lead)
}

// do does something and says what it changed.
func (m *Model) do(o operation.Operation, lead string) {
	operation.Start(m.session, &m.doing, o, func(_ operation.Result, err error) {
		if err != nil {
			m.say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
			return
		}
		m.before, m.lead = m.data.statuses, lead
		m.Load()
	})
}

// mostAdvice is how many things to do are shown.
const mostAdvice = 6

func (m *Model) cheapest() {
	for i, u := range m.data.cheapest.Unblocks {
		if i == mostAdvice {
			break
		}
		a := Advice{Do: u.Do, Frees: freed(u)}
		if len(u.Actions) == 1 && u.Actions[0].Class == build.OrderClass {
			a.Key = strconv.Itoa(i + 1)
		}
		m.state.Cheapest = append(m.state.Cheapest, a)
	}
	if rest := m.data.cheapest.Rest; len(rest) > 0 {
		m.state.Rest = "Nothing alone frees " + listed(rest) + ": see what stops each."
	}
}

func (m *Model) hours() {
	now, perhaps, all := hoursOf(m.data.statuses)
	if all == 0 {
		return
	}
	h := Hours{Now: float64(now), Perhaps: float64(perhaps), All: float64(all)}
	h.Words = wording.Upper(now.String() + " of " + all.String() + " can be worked now")
	if perhaps > 0 {
		h.Words += ", " + perhaps.String() + " more after counting"
	}
	m.state.Hours = h
}

// tiles makes the tiles anew, with what goes along on the walk.
func (m *Model) tiles() {
	m.state.Tiles = nil
	for i, s := range m.data.statuses {
		m.state.Tiles = append(m.state.Tiles, tileOf(s, m.data.squares[i], m.taken[s.Code]))
	}
	m.state.Tiles = append(m.state.Tiles, drawing.Tile{ID: "new", Name: "New sub-assembly", Corner: "N", New: true})
	m.state.Walk, m.state.All = listed(m.WalkFor()), ""
	if all := m.startable(); len(all) > 1 && !slices.Equal(all, m.WalkFor()) {
		m.state.All = listed(all)
	}
}

// Choose chooses a tile, by index.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.data.statuses) || index == m.state.Chosen {
		return
	}
	m.state.Lines = nil
	m.mark(index)
	m.show(m.state)
	code := m.code
	loop.DoLatest(m.session.Loop, &m.listing, func(context.Context) ([]table.Row, error) {
		return session.Answer(m.session, func(r *session.Reader) ([]table.Row, error) { return lines(r, code) })
	}, func(rows []table.Row, err error) {
		if err != nil {
			m.state.Problem = wording.Error(err)
		}
		m.state.Lines = rows
		m.show(m.state)
	})
}

// mark has a tile be the chosen one.
func (m *Model) mark(index int) {
	s := m.data.statuses[index]
	m.state.Chosen, m.code = index, s.Code
	m.state.Head, m.state.Sentence = s.Code+" "+s.Name, wording.Sentence(s.Sentence)
	m.state.LetGo = ""
	switch {
	case s.LetGo:
		m.state.LetGo = "Hold its parts again"
	case s.State == build.Blocked || s.State == build.Estimate:
		m.state.LetGo = "Let go what it holds"
	}
	m.tiles()
}

func (m *Model) chosenCode() string {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.data.statuses) {
		return ""
	}
	return m.data.statuses[m.state.Chosen].Code
}

// Chosen is the code of the chosen one; "" for none.
func (m *Model) Chosen() string { return m.chosenCode() }

// Along takes the chosen one along on the next walk, or leaves it here.
func (m *Model) Along() {
	code := m.chosenCode()
	if code == "" {
		return
	}
	if m.taken[code] {
		delete(m.taken, code)
	} else {
		m.taken[code] = true
	}
	m.tiles()
	m.show(m.state)
}

// WalkFor are the codes of those that the next walk is for: those that were chosen for it,
// or else the chosen one, in the builder's order.
func (m *Model) WalkFor() []string {
	var codes []string
	for _, s := range m.data.statuses {
		if m.taken[s.Code] {
			codes = append(codes, s.Code)
		}
	}
	if code := m.chosenCode(); len(codes) == 0 && code != "" {
		codes = []string{code}
	}
	return codes
}

// startable are all that can be started and of which something is to be pulled.
func (m *Model) startable() []string {
	var codes []string
	for _, s := range m.data.statuses {
		if s.State.Startable() && m.data.pulls[s.Code] {
			codes = append(codes, s.Code)
		}
	}
	return codes
}

// AllFor are the codes of all that can be started.
func (m *Model) AllFor() []string { return m.startable() }

// Hasty is what is said of a key that would change the order of building, or what is kept for
// the one that is chosen, at once, when it is the first one on the page. Nil for any other key.
func (m *Model) Hasty(key string) *notice.Notice {
	code, does := m.chosenCode(), ""
	switch {
	case m.state.Empty || code == "":
	case key == "-":
		does = "has " + code + " built one place earlier"
	case key == "+":
		does = "has " + code + " built one place later"
	case key == "G" && m.state.LetGo != "":
		does = "does this for " + code + ": " + m.state.LetGo
	case len(key) == 1 && key >= "1" && key <= "6":
		if i := int(key[0] - '1'); i < len(m.state.Cheapest) && m.state.Cheapest[i].Key != "" {
			does = "does this: " + m.state.Cheapest[i].Do
		}
	}
	if does == "" {
		return nil
	}
	return &notice.Notice{Tone: notice.Warn, Lead: "Nothing is changed yet.", Text: key + " " + does + ". Press it again."}
}

// Key does what a key is for and reports whether it is one of this page's. Columns is how
// many tiles stand in a line.
func (m *Model) Key(key string, columns int) bool {
	if m.state.Empty || m.state.Chosen < 0 {
		return false
	}
	at := m.state.Chosen
	switch key {
	case "Right":
		m.Choose(at + 1)
	case "Left":
		m.Choose(at - 1)
	case "Down":
		m.Choose(min(at+columns, len(m.data.statuses)-1))
	case "Up":
		if at < columns {
			return false // on to the command bar
		}
		m.Choose(at - columns)
	case "Space":
		m.Along()
	case "-":
		m.Earlier(true)
	case "+":
		m.Earlier(false)
	case "1", "2", "3", "4", "5", "6":
		m.Advised(int(key[0] - '1'))
	case "G":
		m.LetGo()
	default:
		return false
	}
	return true
}
