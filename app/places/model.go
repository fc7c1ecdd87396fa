// Package places is the screen on which the shop is built and looked at: rooms,
// cabinets as they look, what lies in each drawer; and moved about.
package places

import (
	"context"
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/drawing"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/hardware"
)

// State is what the screen shows.
type State struct {
	Place   store.Place // what is looked into; its ID is empty for the whole shop
	Title   string
	Note    string
	Cabinet *drawing.Cabinet // the place as it looks; nil where its places are a list
	Foot    string           // under the cabinet: its nearest look-alikes
	Grid    bool             // the place is a cabinet of rows and columns, which takes no further places
	Rows    []table.Row      // the places in it, where it is no cabinet
	Chosen  string           // id of the chosen place in it; empty for none
	Card    card.Card        // of the chosen place
	Heap    *session.Heap    // the one heap that lies in the chosen place; nil for none or several
	Empty   bool             // the shop has no places yet
	Problem string
}

// Columns are those of the rows.
func Columns() []table.Column {
	return []table.Column{
		{Title: "place", Kind: table.Names},
		{Title: "what it is", Kind: table.Words, Width: 130},
		{Title: "places in it", Kind: table.Plain, Width: 110},
		{Title: "kinds of things", Kind: table.Plain, Width: 140},
	}
}

// Model decides what the screen shows. Its methods are called on the window's
// goroutine.
type Model struct {
	session  *session.Session
	show     func(State)
	state    State
	children []store.Place
	reading  loop.Latest // of the place that is looked into
	opening  reading     // of that, until it has answered; nil for none
	card     loop.Latest // of the chosen place
}

// NewModel makes the model; show is called with every new state.
func NewModel(s *session.Session, show func(State)) *Model {
	return &Model{session: s, show: show}
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// reading looks into a place.
type reading func(*session.Reader) (opened, error)

// opened is what was read of a place.
type opened struct {
	state    State
	children []store.Place
}

// Open looks into a place, or at the whole shop for "". A place that holds no
// others is shown chosen in the one that it lies in.
func (m *Model) Open(id string) { m.look(id, "") }

// Start looks into what there is: the one room of a shop that has one, or else the
// whole shop.
func (m *Model) Start() { m.load(openFirst) }

// Again reads the same place once more, because the shop has changed: the one that is
// about to be shown, where one is.
func (m *Model) Again() {
	if m.opening != nil {
		m.load(m.opening)
		return
	}
	m.look(m.state.Place.ID, m.state.Chosen)
}

// look opens a place with one of its own chosen.
func (m *Model) look(id, chosen string) {
	m.load(func(r *session.Reader) (opened, error) { return openIn(r, id, chosen) })
}

func (m *Model) load(open reading) {
	m.opening = open
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (opened, error) { return m.read(open) }, func(o opened, err error) {
		m.opening = nil
		if err != nil {
			m.state.Problem = wording.Error(err)
			m.show(m.state)
			return
		}
		m.state, m.children = o.state, o.children
		m.show(m.state)
		if m.state.Chosen != "" {
			m.Choose(m.state.Chosen)
		}
	})
}

func (m *Model) read(open reading) (opened, error) {
	o, err := session.Answer(m.session, open)
	o.state.Foot = foot(m.session.Catalog(), o.state.Cabinet)
	return o, err
}

// openFirst looks into the one room of a shop that has one, or else into the whole shop.
func openFirst(r *session.Reader) (opened, error) {
	top, err := r.Shop.Children("")
	if err != nil {
		return opened{}, err
	}
	if top = storageOnly(top); len(top) == 1 {
		return openIn(r, top[0].ID, "")
	}
	return openWith(r, "", top, "")
}

// openIn looks into a place.
func openIn(r *session.Reader, id, chosen string) (opened, error) {
	children, err := r.Shop.Children(id)
	if err != nil {
		return opened{}, err
	}
	return openWith(r, id, children, chosen)
}

// openWith looks into a place whose children are known.
func openWith(r *session.Reader, id string, children []store.Place, chosen string) (opened, error) {
	shop := r.Shop
	var path []store.Place
	var err error
	if id != "" {
		if path, err = shop.Path(id); err != nil {
			return opened{}, err
		}
		if last := path[len(path)-1]; len(children) == 0 && holdsNoPlaces(last.Kind) {
			return openIn(r, last.Parent, id)
		}
	}
	if id == "" {
		children = storageOnly(children)
	}
	o := opened{children: children, state: State{Chosen: chosen, Title: "The shop", Empty: id == "" && len(children) == 0}}
	if len(path) > 0 {
		o.state.Place = path[len(path)-1]
		o.state.Title = strings.ReplaceAll(store.PathText(path), store.PathSeparator, " · ")
	}
	if o.state.Cabinet, err = cabinet(r, o.state.Place, len(children)); err != nil {
		return opened{}, err
	}
	if o.state.Rows, err = rows(shop, children); err != nil {
		return opened{}, err
	}
	o.state.Note = note(o.state, len(children))
	o.state.Grid = o.state.Place.Rows > 0 && o.state.Place.Columns > 0
	return o, nil
}

// holdsNoPlaces reports whether a place of the kind is looked at from the outside.
func holdsNoPlaces(k store.PlaceKind) bool {
	return k == store.Drawer || k == store.Bin || k == store.Tub || k == store.Shelf || !k.Storage()
}

// storageOnly leaves out crates and sub-assemblies, which stand at the top beside
// the rooms and have screens of their own.
func storageOnly(places []store.Place) []store.Place {
	var storage []store.Place
	for _, p := range places {
		if p.Kind.Storage() {
			storage = append(storage, p)
		}
	}
	return storage
}

// cabinet is the picture of a place, nil where it is a room or holds nothing.
func cabinet(r *session.Reader, p store.Place, places int) (*drawing.Cabinet, error) {
	if p.ID == "" || p.Kind == store.Room || places == 0 {
		return nil, nil
	}
	picture, err := r.Cabinet(p.ID)
	return &picture, err
}

func rows(shop *store.Reader, children []store.Place) ([]table.Row, error) {
	rows := make([]table.Row, 0, len(children))
	for _, c := range children {
		within, err := shop.Children(c.ID)
		if err != nil {
			return nil, err
		}
		kinds, err := kinds(shop, c)
		if err != nil {
			return nil, err
		}
		rows = append(rows, table.Row{ID: c.ID, Cells: []table.Cell{
			table.Name(c.Name, "tag "+c.Tag.Spaced()), table.T(string(c.Kind)), table.T(figure(len(within))), table.T(kinds),
		}})
	}
	return rows, nil
}

// kinds is how many kinds of things lie in a place and in those within it. Of a
// room it is not said: a large shop has thousands of places in one.
func kinds(shop *store.Reader, p store.Place) (string, error) {
	if p.Kind == store.Room {
		return "", nil
	}
	found := map[string]bool{}
	if err := kindsWithin(shop, p.ID, found); err != nil {
		return "", err
	}
	return figure(len(found)), nil
}

// kindsWithin collects what lies in a place and in those within it.
func kindsWithin(shop *store.Reader, id string, kinds map[string]bool) error {
	contents, err := shop.Contents(id)
	if err != nil {
		return err
	}
	for _, h := range contents {
		kinds[h.Item] = true
	}
	children, err := shop.Children(id)
	if err != nil {
		return err
	}
	for _, c := range children {
		if err := kindsWithin(shop, c.ID, kinds); err != nil {
			return err
		}
	}
	return nil
}

func figure(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}

func note(s State, places int) string {
	if s.Place.ID == "" {
		return "rooms, and what stands in no room"
	}
	tag := "tag " + s.Place.Tag.Spaced()
	if s.Cabinet == nil {
		return fmt.Sprintf("%s, %s", s.holds(places), tag)
	}
	empty := 0
	for _, d := range s.Cabinet.Drawers {
		if d.Empty && d.ID != "" {
			empty++
		}
	}
	return fmt.Sprintf("%s, %d empty, %s", s.holds(places), empty, tag)
}

// holds is how many places a place holds, in its own word for them.
func (s State) holds(n int) string {
	if s.Place.Kind == store.Cabinet {
		return wording.Plural(n, "drawer", "drawers")
	}
	return wording.Plural(n, "place", "places")
}

// foot names the look-alikes of a cabinet that lie closest together.
func foot(catalog *hardware.Catalog, c *drawing.Cabinet) string {
	if c == nil {
		return ""
	}
	pair, found := session.NearestPair(catalog, *c)
	switch {
	case !found:
		return ""
	case pair.Away > 1:
		return fmt.Sprintf("No look-alikes lie beside each other. Nearest pair: %s (%s) and %s (%s).", pair.A.Designation, pair.A.Name, pair.B.Designation, pair.B.Name)
	}
	return fmt.Sprintf("≠ a look-alike lies within reach of this drawer. Nearest pair: %s (%s) and %s (%s).", pair.A.Designation, pair.A.Name, pair.B.Designation, pair.B.Name)
}

// looked is what was read of a chosen place.
type looked struct {
	card card.Card
	heap *session.Heap
}

// Choose shows the card of a place in the one that is looked into.
func (m *Model) Choose(id string) {
	m.state.Chosen = id
	m.light(id)
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (looked, error) { return m.lookAt(id) }, func(l looked, err error) {
		if err != nil {
			m.state.Problem = wording.Error(err)
		}
		m.state.Card, m.state.Heap = l.card, l.heap
		m.show(m.state)
	})
}

func (m *Model) lookAt(id string) (looked, error) {
	l, err := session.Answer(m.session, func(r *session.Reader) (l looked, err error) {
		if l.card, err = r.PlaceCard(id); err != nil {
			return looked{}, err
		}
		l.heap, err = r.OnlyHeap(id)
		return l, err
	})
	m.session.Picture(&l.card)
	return l, err
}

// light lights the chosen drawer and no other, on a picture of its own.
func (m *Model) light(id string) {
	if m.state.Cabinet == nil {
		return
	}
	lit := *m.state.Cabinet
	lit.Drawers = make([]drawing.Drawer, len(m.state.Cabinet.Drawers))
	copy(lit.Drawers, m.state.Cabinet.Drawers)
	for i := range lit.Drawers {
		lit.Drawers[i].Lit = lit.Drawers[i].ID == id && id != ""
	}
	m.state.Cabinet = &lit
}

// Chosen is the chosen place, and whether one is.
func (m *Model) Chosen() (store.Place, bool) {
	for _, c := range m.children {
		if c.ID == m.state.Chosen && c.ID != "" {
			return c, true
		}
	}
	return store.Place{}, false
}

// Subject is what an action on a place is about: the chosen place, or else the one
// that is looked into.
func (m *Model) Subject() (store.Place, bool) {
	if p, ok := m.Chosen(); ok {
		return p, true
	}
	return m.state.Place, m.state.Place.ID != ""
}
