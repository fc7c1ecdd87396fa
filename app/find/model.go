// Package find is the screen that answers what is typed or scanned: what it is,
// how many there are, and the drawer lit on its cabinet.
package find

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/session"
)

// maxRows is how many answers are shown: further ones want more typing.
const maxRows = 200

// State is what the screen shows.
type State struct {
	Query   string
	Heading string // "8 found"
	Note    string // under the heading
	Rows    []card.Row
	Chosen  int // index of the chosen row, -1 for none
	Card    card.Card
	Empty   bool   // the shop holds nothing to be found yet
	Error   string // a sentence; empty for none
}

// Columns are those of the rows.
func Columns() []card.Column {
	return []card.Column{
		{Title: "what", Kind: card.Names},
		{Title: "how many", Kind: card.Figure, Width: 150},
		{Title: "where", Kind: card.Words, Width: 290},
	}
}

// Model decides what the screen shows. Its methods are called on the window's
// goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	state   State
	found   []session.Found
	asked   int    // number of the last question, so that late answers are dropped
	carded  int    // the same for the card
	want    string // item or place to be chosen when the answers are there
}

// NewModel makes the model; show is called with every new state.
func NewModel(s *session.Session, show func(State)) *Model {
	return &Model{session: s, show: show, state: State{Chosen: -1}}
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// answers is what a question brought back.
type answers struct {
	found []session.Found
	more  bool
}

// Ask answers what was typed.
func (m *Model) Ask(query string) {
	m.asked++
	number := m.asked
	m.state.Query = query
	if strings.TrimSpace(query) == "" {
		m.everything(number)
		return
	}
	session.Do(m.session, func() (answers, error) {
		found, more, err := m.session.Find(query, maxRows)
		return answers{found, more}, err
	}, func(a answers, err error) { m.answered(number, a, err) })
}

// everything shows what is in the shop while nothing is typed.
func (m *Model) everything(number int) {
	session.Do(m.session, func() (answers, error) {
		found, more, err := m.session.InShop(maxRows)
		return answers{found, more}, err
	}, func(a answers, err error) { m.answered(number, a, err) })
}

func (m *Model) answered(number int, a answers, err error) {
	if number != m.asked {
		return
	}
	m.found, m.state.Error = a.found, ""
	if err != nil {
		m.state.Error, m.found = err.Error(), nil
	}
	m.state.Empty = m.state.Query == "" && len(a.found) == 0 && err == nil
	m.state.Heading, m.state.Note = headings(m.state.Query, len(a.found), a.more)
	m.state.Rows = make([]card.Row, 0, len(m.found))
	for _, f := range m.found {
		m.state.Rows = append(m.state.Rows, row(f))
	}
	if len(m.found) == 0 {
		m.state.Chosen, m.state.Card = -1, card.Card{}
		m.show(m.state)
		return
	}
	// The card that is shown stays until the new one is there: it must not flicker
	// at every key.
	m.Choose(m.wanted())
}

// wanted is the index of the row to be chosen first.
func (m *Model) wanted() int {
	want := m.want
	m.want = ""
	for i, f := range m.found {
		if want != "" && (f.Item == want || f.Place == want) {
			return i
		}
	}
	return 0
}

func headings(query string, n int, more bool) (heading, note string) {
	switch {
	case query == "":
		return "In the shop", "type a part number or a part of one, words, dimensions or a place"
	case n == 0:
		return "Nothing answers to " + query, "try fewer characters, another number, or words such as “washer thin”"
	case more:
		return fmt.Sprintf("More than %d found", n), "the best of them; type more to narrow it down"
	}
	return fmt.Sprintf("%d found", n), "best first; what is in the shop before what is not"
}

// row is one answer as a row.
func row(f session.Found) card.Row {
	if f.Item == "" {
		kind := f.Kind.String()
		return card.Row{ID: f.Place, Cells: []card.Cell{card.Name(f.Name, kind), card.T(""), card.T(f.Path)}}
	}
	quantity := f.Stock.Total.Number()
	if f.Stock.Total.Estimate() {
		quantity = "about " + quantity
	}
	sub := f.Title
	if f.Why != "" {
		sub += " (" + f.Why + ")"
	}
	where := card.T("none in the shop")
	if len(f.Stock.Heaps) > 0 {
		where = card.T(session.ShortPath(f.Stock.Heaps[0].Path))
		if n := len(f.Stock.Heaps) - 1; n > 0 {
			where.Sub = fmt.Sprintf("and %d more", n)
		}
	}
	return card.Row{ID: f.Item, Dim: len(f.Stock.Heaps) == 0, Cells: []card.Cell{
		card.Name(f.Name, sub), {Text: quantity, Sub: session.UnitWord(f.Stock.Item.Unit)}, where,
	}}
}

// Choose shows the card of a row.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.found) {
		return
	}
	m.state.Chosen = index
	m.show(m.state)
	m.carded++
	number, f := m.carded, m.found[index]
	session.Do(m.session, func() (card.Card, error) {
		if f.Item != "" {
			return m.session.ItemCard(f.Item)
		}
		return m.session.PlaceCard(f.Place)
	}, func(c card.Card, err error) {
		if number != m.carded {
			return
		}
		if err != nil {
			m.state.Error = err.Error()
		}
		m.state.Card = c
		m.show(m.state)
	})
}

// Chosen is the answer that is chosen, and whether one is.
func (m *Model) Chosen() (session.Found, bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.found) {
		return session.Found{}, false
	}
	return m.found[m.state.Chosen], true
}

// Again asks the same question, because the shop has changed, and keeps the row.
func (m *Model) Again() {
	if f, ok := m.Chosen(); ok {
		m.want = f.Item + f.Place
	}
	m.Ask(m.state.Query)
}
