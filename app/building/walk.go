package building

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
)

// WalkState is what a walk shows.
type WalkState struct {
	Loading  bool
	Title    string // "Pull: SA-10 Fin and SA-21 Rudder hinges"
	Note     string // "5 stops in one walk, 2 trays"
	Done, Of int    // stops
	Rows     []table.Row
	Current  int // index of the row in hand; -1 for none
	Hand     Hand
	Card     card.Card // of the stop in hand
	Short    []string  // what cannot be pulled
	Ask      []string  // what is to be looked at first
	Finished bool      // nothing is left to pull
	Prompt   *WalkPrompt
	Problem  string // what was refused
}

// Hand is the stop in hand.
type Hand struct {
	Quantity string // "26"
	Item     string
	Place    string
	Left     string        // "70 there, 44 will be left"
	Beware   notice.Notice // the look-alike nearest to it; no text for none
}

// notOnWalk is what cannot be pulled, and what is to be looked at first.
func (s WalkState) notOnWalk() []string { return slices.Concat(s.Short, s.Ask) }

// WalkPrompt is a question about the stop in hand.
type WalkPrompt struct {
	Serial   int // grows with each question
	Question string
	Hint     string
	Text     string // proposed
	Answer   string // the button
	Problem  string
}

// WalkColumns are those of a walk.
func WalkColumns() []table.Column {
	return []table.Column{
		{Kind: table.Faint, Width: 28},
		{Title: "place", Kind: table.Names, Width: 86},
		{Title: "take", Kind: table.Names},
		{Title: "amount", Kind: table.Figure, Width: 93},
		{Title: "for", Kind: table.Words, Width: 224},
	}
}

// WalkModel decides what a walk shows. Its methods are called on the window's goroutine.
type WalkModel struct {
	session *session.Session
	show    func(WalkState)
	codes   []string
	state   WalkState
	data    walkData
	kept    walkKept
	scanned *store.Place      // before the walk was read
	next    string            // key of the stop that comes after the one in hand
	answer  func(text string) // what the open question is for
	serial  int
	reading loop.Latest
	doing   loop.Once

	// AskReplace is called before a file is written over; nil: none is.
	AskReplace session.AskReplace
	// Said is told what was done, and that a drawer is the wrong one. It may be nil.
	Said func(notice.Notice)
}

// walkKept is what a walk keeps while another page is looked at.
type walkKept struct {
	places  map[string]string // names of the places that items were taken from
	passed  map[string]bool   // stops that were not there
	current string            // key of the stop in hand
}

// NewWalkModel makes the model of a walk for sub-assemblies, by their codes.
func NewWalkModel(s *session.Session, codes []string, show func(WalkState)) *WalkModel {
	return &WalkModel{session: s, codes: codes, show: show, kept: walkKept{places: map[string]string{}, passed: map[string]bool{}}, state: WalkState{Loading: true, Current: -1}}
}

// State is what is shown now.
func (m *WalkModel) State() WalkState { return m.state }

// Load reads what is left.
func (m *WalkModel) Load() {
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (walkData, error) {
		return session.Answer(m.session, func(r *session.Reader) (walkData, error) { return readWalk(r, m.codes) })
	}, func(d walkData, err error) {
		if err != nil {
			m.state = WalkState{Title: "Pull", Current: -1, Problem: wording.Error(err)}
			m.show(m.state)
			return
		}
		m.data = d
		m.render()
		if at := m.scanned; at != nil {
			m.scanned = nil
			m.Scan(*at)
		}
	})
}

// render makes the state of what was read.
func (m *WalkModel) render() {
	d, several := m.data, len(m.data.list.For) > 1
	names := d.names
	if len(names) > 2 { // more of them would take the room of the list
		names = d.list.For
	}
	s := WalkState{Title: "Pull: " + listed(names), Current: -1, Prompt: m.state.Prompt, Problem: m.state.Problem}
	for _, t := range d.taken {
		s.Rows = append(s.Rows, t.row(m.kept.places[t.item]))
	}
	s.Done, s.Of = len(d.taken), len(d.taken)+len(d.stops)
	at := m.inHand()
	for i, stop := range d.stops {
		if i == at {
			s.Current = len(s.Rows)
			m.kept.current = stop.key()
			s.Card = stop.card
			s.Hand = Hand{Quantity: stop.Quantity.Number(), Item: stop.Item, Place: stop.Place.Name, Left: leftWords(stop)}
			if len(s.Card.Beware) > 0 {
				s.Hand.Beware = s.Card.Beware[0]
			}
		}
		s.Rows = append(s.Rows, stop.row(len(d.taken)+i+1, several, m.kept.passed[stop.key()]))
	}
	s.Note = fmt.Sprintf("%s in one walk, %s", wording.Plural(s.Of, "stop", "stops"), wording.Plural(len(d.list.For), "tray", "trays"))
	for _, x := range d.list.Short {
		s.Short = append(s.Short, x.Code+": "+x.Sentence)
	}
	for _, q := range d.list.Ask {
		s.Ask = append(s.Ask, q.Sentence)
	}
	s.Finished = len(d.stops) == 0
	m.state = s
	m.show(s)
}

// inHand is the index of the stop in hand: the one that was, or else the first that was
// not passed by; -1 where none is left.
func (m *WalkModel) inHand() int {
	stops := m.data.stops
	if i := slices.IndexFunc(stops, func(s stopRead) bool { return s.key() == m.kept.current }); i >= 0 {
		return i
	}
	if i := slices.IndexFunc(stops, func(s stopRead) bool { return s.key() == m.next }); i >= 0 {
		return i
	}
	if i := slices.IndexFunc(stops, func(s stopRead) bool { return !m.kept.passed[s.key()] }); i >= 0 {
		return i
	}
	return len(stops) - 1
}

// stop is the stop in hand, and whether there is one.
func (m *WalkModel) stop() (stopRead, bool) {
	for _, s := range m.data.stops {
		if s.key() == m.kept.current && m.state.Current >= 0 {
			return s, true
		}
	}
	return stopRead{}, false
}

// leftWords is what lies at a stop and what will be left: "70 there, 44 will be left".
func leftWords(s stopRead) string {
	left := s.there
	for _, q := range []*int64{&left.Micro, &left.Low.Micro, &left.High.Micro} {
		*q = max(0, *q-s.Quantity.Micro)
	}
	return fmt.Sprintf("%s there, %s will be left", s.there.Figure(), left.Figure())
}

// Choose takes the stop of a row in hand.
func (m *WalkModel) Choose(row int) {
	i := row - len(m.data.taken)
	if i < 0 || i >= len(m.data.stops) || row == m.state.Current {
		return
	}
	m.kept.current, m.state.Problem, m.state.Prompt, m.answer = m.data.stops[i].key(), "", nil, nil
	m.render()
}

// Key does what a key is for and reports whether it is one of this page's.
func (m *WalkModel) Key(key string) bool {
	if m.state.Prompt != nil {
		if key == "Esc" {
			m.Leave()
			return true
		}
		return false
	}
	stop, ok := m.stop()
	switch {
	case key == "Down":
		m.Choose(m.state.Current + 1)
	case key == "Up" && m.state.Current > len(m.data.taken):
		m.Choose(m.state.Current - 1)
	case key == "E" && len(m.data.list.For) > 0:
		hint := "The number and how many, as in AN3-5A 2."
		if len(m.data.list.For) > 1 {
			hint += " Then for which: " + listed(m.data.list.For) + "."
		}
		m.ask(WalkPrompt{Question: "What else goes into the tray?", Hint: hint, Answer: "Take it"}, m.somethingElse)
	case !ok:
		return false
	case key == "Enter":
		m.Take()
	case key == "S":
		m.ask(WalkPrompt{Question: fmt.Sprintf("How many %s did you take out of %s?", stop.Item, stop.Place.Name), Hint: "What is called is " + stop.Quantity.String() + ". The rest stays on the list.", Answer: "Taken"}, m.takeSome)
	case key == "N":
		m.ask(WalkPrompt{Question: fmt.Sprintf("How many %s are in %s?", stop.Item, stop.Place.Name), Hint: "0 for none. It is recorded as a count, and the list looks for them elsewhere.", Answer: "Counted"}, m.counted)
	default:
		return false
	}
	return true
}

// ask opens a question about the stop in hand.
func (m *WalkModel) ask(p WalkPrompt, answer func(text string)) {
	m.serial++
	p.Serial = m.serial
	m.state.Prompt, m.state.Problem, m.answer = &p, "", answer
	m.show(m.state)
}

// Leave drops the open question.
func (m *WalkModel) Leave() {
	m.state.Prompt, m.answer = nil, nil
	m.show(m.state)
}

// Answer answers the open question with what was typed.
func (m *WalkModel) Answer(text string) {
	if m.state.Prompt == nil || m.answer == nil {
		return
	}
	if strings.TrimSpace(text) == "" {
		m.refused("Type an answer, or leave it with Esc.")
		return
	}
	m.answer(text)
}

// refused says what is wrong with an answer, or with what was done.
func (m *WalkModel) refused(words string) {
	if m.state.Prompt != nil {
		p := *m.state.Prompt
		p.Problem = words
		m.state.Prompt = &p
	} else {
		m.state.Problem = words
	}
	m.show(m.state)
}

// Take takes the stop in hand as it is called.
func (m *WalkModel) Take() {
	if stop, ok := m.stop(); ok {
		m.take(stop, "", "")
	}
}

// takeSome takes another number than is called.
func (m *WalkModel) takeSome(text string) {
	if stop, ok := m.stop(); ok {
		m.take(stop, text, "")
	}
}

// take books what was taken, a tray after the other: what was booked stays when the
// program ends meanwhile, and the list has the rest.
func (m *WalkModel) take(stop stopRead, amount, reason string) {
	operation.Start(m.session, &m.doing, operation.PullStop{Stop: stop.Stop, Amount: amount, Reason: reason}, func(r operation.Result, err error) {
		if errors.Is(err, store.ErrReason) {
			m.askReason(err, func(reason string) { m.take(stop, amount, reason) })
			return
		}
		if err != nil {
			m.refused(wording.Error(err))
			m.Load()
			return
		}
		m.kept.places[stop.Item] = stop.Place.Name
		m.goOn(stop)
		m.done(r.Words())
	})
}

// askReason asks why something is taken all the same, and then takes it for that reason.
func (m *WalkModel) askReason(refused error, take func(reason string)) {
	m.ask(WalkPrompt{Question: wording.Error(refused), Hint: "Why is it taken all the same? The journal keeps the reason.", Answer: "Take it all the same"}, take)
}

// somethingElse takes what is on no line of the list: a number, how many, and for which
// tray where there are several.
func (m *WalkModel) somethingElse(text string) {
	words := strings.Fields(text)
	code := m.data.list.For[0]
	if len(words) == 3 {
		code, words = words[2], words[:2]
	}
	if len(words) != 2 {
		m.refused("Type the number and how many, as in AN3-5A 2.")
		return
	}
	m.takeElse(operation.Take{Heap: operation.Heap{Item: words[0]}, Amount: words[1], For: code})
}

func (m *WalkModel) takeElse(o operation.Take) {
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		switch {
		case errors.Is(err, store.ErrReason):
			m.askReason(err, func(reason string) {
				o.Reason = reason
				m.takeElse(o)
			})
		case errors.Is(err, store.ErrOrigin):
			m.askOrigin(err, o)
		case err != nil:
			m.refused(wording.Error(err))
		default:
			m.done(r.Words())
		}
	})
}

// goOn takes the stop after another one in hand, once nothing of that one is left.
func (m *WalkModel) goOn(after stopRead) {
	stops := m.data.stops
	i := slices.IndexFunc(stops, func(s stopRead) bool { return s.key() == after.key() })
	m.next = ""
	if i >= 0 && i+1 < len(stops) {
		m.next = stops[i+1].key()
	}
}

// done says what was done and reads what is left.
func (m *WalkModel) done(words string) {
	m.state.Prompt, m.state.Problem, m.answer = nil, "", nil
	m.say(notice.Notice{Tone: notice.OK, Text: wording.Sentence(words)})
	m.Load()
}

func (m *WalkModel) say(n notice.Notice) {
	if m.Said != nil {
		m.Said(n)
	}
}

// counted records what lies at the stop in hand after all.
func (m *WalkModel) counted(text string) {
	stop, ok := m.stop()
	if !ok {
		return
	}
	o := operation.Count{Heap: operation.Heap{Key: store.StockKey{Item: stop.Item, Place: stop.Place.ID, Lot: stop.Lot}}, Counted: text}
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		if err != nil {
			m.refused(wording.Error(err))
			return
		}
		m.kept.passed[stop.key()], m.kept.current = true, ""
		m.done(r.Words())
	})
}

// Save writes the list as a PDF, and asks first where a file is there already.
func (m *WalkModel) Save(path string, replace bool) {
	codes := m.data.list.For
	loop.DoOnce(m.session.Loop, &m.doing, func() (string, error) {
		doc, err := PullPaper(m.session, codes)
		if err != nil {
			return "", err
		}
		return "Saved to " + path + ". Print it at 100 %.", m.session.SavePDF(path, doc, replace)
	}, func(said string, err error) {
		if m.AskReplace.Asks(err, func() { m.Save(path, true) }) {
			return
		}
		if err != nil {
			m.say(notice.Notice{Tone: notice.Stop, Text: wording.Error(err)})
			return
		}
		m.say(notice.Notice{Tone: notice.OK, Text: said})
	})
}

// Wants reports whether something is still to be taken out of a place.
func (m *WalkModel) Wants(place store.Place) bool { return m.rowAt(place) >= 0 }

// Next is the id of the place of the stop in hand; ok is false where all is taken.
func (m *WalkModel) Next() (place string, ok bool) {
	stop, ok := m.stop()
	return stop.Place.ID, ok
}

// rowAt is the row of the stop at a place, the one in hand before others there; -1 for none.
func (m *WalkModel) rowAt(place store.Place) int {
	row := -1
	for i, s := range m.data.stops {
		if s.Place.ID == place.ID && (row < 0 || s.key() == m.kept.current) {
			row = len(m.data.taken) + i
		}
	}
	return row
}

// Scan takes the stop of a drawer in hand that was scanned or shown to the camera, or says
// that it is the wrong one: what lies in it, and where the right one is. It reports whether
// the tag is a matter of the walk. Before the walk was read it waits for that.
func (m *WalkModel) Scan(place store.Place) bool {
	if !place.Kind.Storage() {
		return false
	}
	if m.state.Loading {
		m.scanned = &place
		return true
	}
	if row := m.rowAt(place); row >= 0 {
		m.state.Problem = ""
		m.Choose(row)
		m.say(notice.Notice{Tone: notice.OK, Lead: place.Name + ":", Text: "the right drawer. Enter takes it."})
		return true
	}
	stop, ok := m.stop()
	if !ok {
		return false
	}
	session.Do(m.session, func() (string, error) {
		return session.Answer(m.session, func(r *session.Reader) (string, error) { return r.Scanned(stop.Stop, place) })
	}, func(words string, err error) {
		if err != nil {
			words = wording.Error(err)
		}
		m.say(notice.Notice{Tone: notice.Stop, Text: wording.Sentence(words)})
		m.ring()
	})
	return true
}

// ring makes the sound of a wrong drawer. What the words say is enough where there is none.
func (m *WalkModel) ring() {
	m.session.Loop.Run(func() { _ = m.session.Bell.Ring(context.Background()) })
}

// Silent reports whether a wrong drawer makes no sound.
func (m *WalkModel) Silent() bool { return m.session.Bell.Off() }

// Sound has a wrong drawer make a sound, or none any more, and makes it once where it does.
func (m *WalkModel) Sound() {
	m.session.Bell.SetOff(!m.Silent())
	words := "A wrong drawer makes no sound now."
	if !m.Silent() {
		words = "A wrong drawer makes this sound, where the system has a player for it."
		m.ring()
	}
	m.say(notice.Notice{Tone: notice.OK, Text: words})
	m.render()
}

// beginsTag reports whether a text may become a tag of the shop: S, one letter for what it
// names, and more of them, spaces and dashes left out.
func beginsTag(text string) bool {
	text = strings.ToUpper(strings.NewReplacer(" ", "", "-", "").Replace(text))
	for i, r := range text {
		switch {
		case i == 0 && r != 'S', i == 1 && !strings.ContainsRune("PBCS", r):
			return false
		case (r < '0' || r > '9') && (r < 'A' || r > 'Z'):
			return false
		}
	}
	const characters = 10
	return text != "" && len(text) <= characters
}
