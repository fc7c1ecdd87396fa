// Package find is the screen that answers what is typed or scanned: what it is,
// how many there are, and the drawer lit on its cabinet.
package find

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
)

// maxRows is how many answers are shown: further ones need more typing.
const maxRows = 200

// State is what the screen shows.
type State struct {
	Query   string
	Heading string // "8 found"
	Note    string // under the heading
	Rows    []table.Row
	Chosen  int // index of the chosen row, -1 for none
	Card    card.Card
	Empty   bool   // the shop holds nothing to be found yet
	Warning string // why what was typed is no part number; empty where it may be one
	Error   string // a sentence; empty for none
}

// Columns are those of the rows.
func Columns() []table.Column {
	return []table.Column{
		{Title: "what", Kind: table.Names},
		{Title: "how many", Kind: table.Figure, Width: 150},
		{Title: "where", Kind: table.Words, Width: 290},
	}
}

// Model decides what the screen shows. Its methods are called on the window's
// goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	state   State
	found   []session.Found
	answers loop.Latest
	card    loop.Latest // of the chosen answer
	want    string      // item or place to be chosen when the answers are there
}

// NewModel makes the model; show is called with every new state.
func NewModel(s *session.Session, show func(State)) *Model {
	return &Model{session: s, show: show, state: State{Chosen: -1}}
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// answers is what a question brought back: the rows with the card of the one that
// is chosen, so that both are shown at once.
type answers struct {
	found  []session.Found
	more   bool
	chosen int
	card   card.Card
}

// exact reports whether something answers to what was typed as it stands.
func (a answers) exact() bool { return len(a.found) > 0 && !a.found[0].Near }

// Ask answers what was typed; nothing typed shows what is in the shop.
func (m *Model) Ask(query string) {
	m.card.Drop()
	want := m.want
	m.want = ""
	m.state.Query = query
	loop.DoLatest(m.session.Loop, &m.answers, func(context.Context) (answers, error) { return m.answer(query, want) }, m.answered)
}

// Answered reports whether what is shown answers that question already.
func (m *Model) Answered(query string) bool { return m.state.Query == query && !m.answers.Waiting() }

func (m *Model) answer(query, want string) (a answers, err error) {
	a.chosen = -1
	ask := (*session.Reader).InShop
	if strings.TrimSpace(query) != "" {
		hits := m.session.Search(query, maxRows)
		ask = func(r *session.Reader, _ int) ([]session.Found, bool, error) { return r.Found(hits) }
	}
	err = m.session.Read(func(r *session.Reader) error {
		if a.found, a.more, err = ask(r, maxRows); err != nil || len(a.found) == 0 {
			return err
		}
		a.chosen = wanted(a.found, want)
		a.card, err = cardOf(r, a.found[a.chosen])
		return err
	})
	m.session.Picture(&a.card)
	return a, err
}

func cardOf(r *session.Reader, f session.Found) (card.Card, error) {
	if f.Item != "" {
		return r.ItemCard(f.Item)
	}
	return r.PlaceCard(f.Place)
}

func (m *Model) cardOf(f session.Found) (card.Card, error) {
	if f.Item != "" {
		return m.session.ItemCard(f.Item)
	}
	return m.session.PlaceCard(f.Place)
}

func (m *Model) answered(a answers, err error) {
	m.found, m.state.Error = a.found, ""
	if err != nil {
		m.state.Error = wording.Error(err)
	}
	m.state.Empty = strings.TrimSpace(m.state.Query) == "" && len(a.found) == 0 && err == nil
	m.state.Heading, m.state.Note = headings(strings.TrimSpace(m.state.Query), a)
	m.state.Warning = ""
	if !a.exact() {
		m.state.Warning = m.session.NoSuchNumber(m.state.Query)
	}
	if words := session.IndexWords(m.session.Indexing()); words != "" && strings.TrimSpace(m.state.Query) != "" {
		m.state.Note = words + ": until then only whole numbers and tags are found"
	}
	m.state.Rows = make([]table.Row, 0, len(m.found))
	for _, f := range m.found {
		m.state.Rows = append(m.state.Rows, row(f))
	}
	m.state.Chosen, m.state.Card = a.chosen, a.card
	m.show(m.state)
}

// wanted is the index of the row to be chosen first: the one that was chosen before, or what is
// called as it was typed, or the first. A look-alike that is in the shop never takes the place
// of the number that was typed.
func wanted(found []session.Found, want string) int {
	for i, f := range found {
		if want != "" && (f.Item == want || f.Place == want) {
			return i
		}
	}
	return max(0, slices.IndexFunc(found, func(f session.Found) bool { return f.Exact }))
}

func headings(query string, a answers) (heading, note string) {
	n := len(a.found)
	switch {
	case query == "":
		return "In the shop", "type a part number or a part of one, words, dimensions or a place"
	case n == 0:
		return "Nothing answers to " + query, "try fewer characters, another number, or words such as “washer thin”"
	case !a.exact():
		return "Nothing is called " + query, "these are close to it"
	case a.more:
		return fmt.Sprintf("More than %d found", n), "the best of them; type more to narrow it down"
	}
	return fmt.Sprintf("%d found", n), "best first; what is in the shop before what is not"
}

// row is one answer as a row.
func row(f session.Found) table.Row {
	if f.Item == "" {
		return table.Row{ID: f.Place, Cells: []table.Cell{table.Name(f.Name, f.Title), table.T(""), table.T(f.Path)}}
	}
	sub := f.Title
	if f.Why != "" && !f.Near { // the heading says that it is only close
		sub = wording.Joined(" · ", f.Why, f.Title) // of the two the title gives way
	}
	many := table.Cell{Text: f.Stock.Total.Figure(), Sub: string(f.Stock.Item.Unit)}
	if f.Uncounted() {
		many = table.T("to check")
	}
	return table.Row{ID: f.Item, Dim: len(f.Stock.Heaps) == 0, Cells: []table.Cell{table.Name(f.Name, sub), many, where(f)}}
}

// where is the place of the largest heap with what else is known of the item; where none is in
// the shop, what has become of it.
func where(f session.Found) table.Cell {
	away := make([]string, 0, len(f.Away))
	for _, a := range f.Away {
		away = append(away, a.String())
	}
	if len(f.Stock.Heaps) == 0 {
		if len(f.Away) == 0 {
			return table.T("none in the shop")
		}
		return table.Cell{Text: f.Away[0].Text, Sub: wording.Joined("; ", append([]string{f.Away[0].State}, away[1:]...)...)}
	}
	heap, n := f.Stock.Heaps[0], len(f.Stock.Heaps)-1
	more := ""
	switch {
	case !heap.Usable():
		more = heap.Amount.String() + ", " + heap.State()
	case n > 0:
		more = fmt.Sprintf("and %d more", n)
	}
	return table.Cell{Text: session.ShortPath(heap.Path), Sub: wording.Joined("; ", append([]string{more}, away...)...)}
}

// Choose shows the card of a row.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.found) {
		return
	}
	m.state.Chosen = index
	m.show(m.state)
	f := m.found[index]
	loop.DoLatest(m.session.Loop, &m.card, func(context.Context) (card.Card, error) { return m.cardOf(f) }, func(c card.Card, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
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
