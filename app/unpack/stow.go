package unpack

import (
	"cmp"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/wording"
	"stowright/store"
)

// suggestion is where the good stock of a line would lie well.
func suggestion(s *session.Reader, l store.Line, amount store.Amount) (Side, error) {
	stow := &Stow{Line: l.ID, What: amountOf(amount, l.Designation)}
	found, ok, err := s.SuggestPlace(l.Designation, l.Group)
	if err != nil {
		return Side{}, err
	}
	if !ok {
		stow.Why = "This shop has no place for it yet: make a cabinet or a shelf in Places, or name any place with E."
		return Side{Stow: stow}, nil
	}
	stow.to, stow.Place, stow.Why = found.Place.ID, session.ShortPath(found.Path), found.Why
	stow.Cabinet, err = s.Around(found.Place.ID)
	return Side{Stow: stow}, err
}

// amountOf is so much of an item: "12 AN3-6A", "3 ft TUBE-6".
func amountOf(a store.Amount, designation string) string {
	return strings.Join(strings.Fields(a.Figure()+" "+wording.ShortUnit(a.Unit)+" "+designation), " ")
}

// lies is where the good stock of a line's item lies, when it was stowed.
func lies(s *session.Reader, l store.Line) (Side, error) {
	stock, err := s.Stock(l.Designation)
	if err != nil || len(stock.Heaps) == 0 {
		return Side{}, err
	}
	heap := stock.Heaps[0]
	place := heap.Path[len(heap.Path)-1]
	if !heap.Usable() || !place.Kind.Storage() {
		return Side{}, nil
	}
	found := &Stow{Line: l.ID, What: amountOf(heap.Amount, l.Designation), Place: session.ShortPath(heap.Path)}
	found.Cabinet, err = s.Around(place.ID)
	return Side{Lies: found}, err
}

// stow puts the line that the side asks about where it is suggested.
func (m *Model) stow() {
	if s := m.state.Side.Stow; s != nil && s.to != "" {
		m.stowTo(s.Line, s.to, store.AskMeeting)
	}
}

// Scan stows what the side asks about in the place whose label was scanned, and reports whether
// it asks. The label of a room, or of a cabinet with its drawers, is for looking into it.
func (m *Model) Scan(place store.Place) bool {
	s := m.state.Side.Stow
	if s == nil || m.state.Prompt != nil || !place.Kind.Storage() || place.Kind == store.Room || place.Rows > 0 {
		return false
	}
	m.stowTo(s.Line, place.ID, store.AskMeeting)
	return true
}

// stowTo puts all good stock of a line's item that is in its bag into a place, and asks
// what becomes of it where another lot of the item lies there.
func (m *Model) stowTo(id store.LineID, to string, meeting store.Meeting) {
	l := m.data.line(id)
	if l == nil {
		return
	}
	m.meet = func(why error) { m.askMeeting(id, to, why) }
	m.do(operation.StowLine{List: l.Shipment, Line: l.Number(), To: to, Meeting: meeting}, func() { m.stowing = 0 })
}

// askMeeting asks what becomes of two lots of an item that would lie in one place.
func (m *Model) askMeeting(of store.LineID, to string, why error) {
	about := ""
	if l := m.data.line(of); l != nil { // not the line in hand, which is the next one by now
		about = l.Designation
	}
	ways := []offer{
		{id: string(store.PourLots), name: "Pour together", sub: "no piece says any more which lot it is of"},
		{id: string(store.LotsApart), name: "Keep apart", sub: "in one place, each in a bag or a part of its own"},
	}
	m.ask(question{
		Prompt: Prompt{About: about, Question: wording.Error(why), Hint: "Arrows choose, Enter takes it; Esc leaves it in its bag.", Answer: "Stow it"},
		match:  func(string) []offer { return ways },
		pick: func(_, id string) error {
			m.stowTo(of, to, store.Meeting(id))
			return nil
		},
	})
}

// elsewhere asks for another place by part of its name.
func (m *Model) elsewhere() {
	s := m.state.Side.Stow
	if s == nil {
		return
	}
	of, what, about := s.Line, s.What, ""
	if l := m.data.line(of); l != nil {
		about = l.Designation
	}
	loop.DoOnce(m.session.Loop, &m.working, func() ([]offer, error) { return session.Answer(m.session, storage) }, func(places []offer, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.render()
			return
		}
		m.ask(question{
			Prompt: Prompt{About: about, Question: "Where do the " + what + " go?", Hint: "Type part of the name of a place. Arrows choose, Enter puts all there.", Answer: "Stow there"},
			match:  func(text string) []offer { return matching(places, text) },
			pick: func(text, id string) error {
				if id == "" {
					return say("No place here is named %q: type less of the name, or make the place in Places first.", strings.TrimSpace(text))
				}
				m.stowTo(of, id, store.AskMeeting)
				return nil
			},
		})
		m.render()
	})
}

// storage are the places where things are kept, each with its path.
func storage(s *session.Reader) ([]offer, error) {
	places, err := s.Shop.Places()
	if err != nil {
		return nil, err
	}
	var out []offer
	for _, p := range places {
		if p.Retired || !p.Kind.Storage() || p.Kind == store.Room {
			continue
		}
		path, err := s.Shop.Path(p.ID)
		if err != nil {
			return nil, err
		}
		contents, err := s.Shop.Contents(p.ID)
		if err != nil {
			return nil, err
		}
		out = append(out, offer{id: p.ID, name: p.Name, sub: holds(contents), more: store.PathText(path)})
	}
	return out, nil
}

// holds is what a place holds, in a few words.
func holds(contents []store.Holding) string {
	switch len(contents) {
	case 0:
		return "empty"
	case 1:
		return contents[0].Item
	}
	return contents[0].Item + " and more"
}

// matching are the places whose name holds what was typed, those that start with it
// first, in their natural order.
func matching(places []offer, text string) []offer {
	want := fold(text)
	if want == "" {
		return nil
	}
	hits := slices.DeleteFunc(slices.Clone(places), func(o offer) bool { return !strings.Contains(fold(o.name), want) })
	rank := func(o offer) int {
		switch name := fold(o.name); {
		case name == want:
			return 0
		case strings.HasPrefix(name, want):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(hits, func(a, b offer) int {
		return cmp.Or(rank(a)-rank(b), store.CompareNames(a.name, b.name))
	})
	return hits
}

// nextToStow makes the next checked line that still lies in its bag the one that
// the side asks about.
func (m *Model) nextToStow() {
	first, after := store.LineID(0), m.data.numberOf(m.stowing)
	for _, l := range m.data.lines {
		if !m.data.toStow(l) {
			continue
		}
		if l.Number() > after {
			first = l.ID
			break
		}
		if first == 0 {
			first = l.ID
		}
	}
	if first == 0 {
		return
	}
	l := m.data.line(first)
	m.current, m.stowing = first, first
	if !m.scope.holds(*l) {
		m.scope = scope{l.Crate, l.Group}
	}
	m.suggest()
}
