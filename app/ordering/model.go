package ordering

import (
	"context"
	"slices"
	"strconv"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/output"
)

// OwedPart is the page of what was ordered and has not come.
const OwedPart = "owed"

// State is what the screen shows.
type State struct {
	Loading bool
	Owed    bool // what was ordered and has not come, in place of what is to be bought
	Title   string
	Note    string // "4 lines of 2 suppliers, 106.50 USD together"
	// Ask is what has to be counted, or said of what came, before the list can be trusted.
	Ask     string
	Rows    []table.Row
	Chosen  int // index of the chosen row; -1 for none
	Card    card.Card
	Hint    string // in place of rows: what there is to do first
	Lead    string // over the hint
	Problem string
}

// Columns are those of what is to be bought.
func Columns() []table.Column {
	return []table.Column{
		{Title: "part number", Kind: table.Names},
		{Title: "need", Kind: table.Figure, Width: 74},
		{Title: "have", Kind: table.Figure, Width: 94},
		{Title: "order", Kind: table.Figure, Width: 84},
		{Title: "price", Kind: table.Figure, Width: 84},
		{Title: "unblocks", Kind: table.Words, Width: 170},
	}
}

// OwedColumns are those of what was ordered. The card has the days: beside them the state would
// be cut off in the larger size.
func OwedColumns() []table.Column {
	return []table.Column{
		{Title: "part number", Kind: table.Names},
		{Title: "owed", Kind: table.Figure, Width: 64},
		{Title: "order", Kind: table.Words, Width: 130},
		{Title: "", Kind: table.States, Width: 140},
	}
}

// line is what a row of the screen is about; one of its fields counts.
type line struct {
	id       string
	supplier *build.SupplierOrder
	item     *build.OrderLine
	of       string // the supplier of item
	owing    *store.Owing
	offer    *session.Offer
}

// reading is what was read of the shop, with what items are called.
type reading struct {
	session.Ordering
	suppliers map[string]store.Supplier
	today     store.Date
}

// Model decides what the screen shows. Its methods are called on the window's goroutine.
type Model struct {
	// AskReplace asks whether a file is written over, and calls replace if it is.
	AskReplace session.AskReplace
	// Said is told what was done, and what was refused. It may be nil.
	Said func(notice.Notice)

	session *session.Session
	show    func(State)
	state   State
	data    reading
	lines   []line // as Rows
	chosen  string // id
	latest  loop.Latest
	doing   loop.Once
	saving  loop.Latest
}

// NewModel makes the model: show is called with every new state. Owed shows what was
// ordered; about is the item to begin with, "" for the first.
func NewModel(s *session.Session, owed bool, about string, show func(State)) *Model {
	return &Model{session: s, show: show, chosen: about, state: State{Loading: true, Owed: owed, Chosen: -1}}
}

// State is what is shown now.
func (m *Model) State() State { return m.state }

// Load reads everything.
func (m *Model) Load() {
	loop.DoLatest(m.session.Loop, &m.latest, func(context.Context) (reading, error) {
		return session.Answer(m.session, read)
	}, func(r reading, err error) {
		if err != nil {
			m.state = State{Owed: m.state.Owed, Problem: wording.Error(err), Chosen: -1}
			m.show(m.state)
			return
		}
		m.data = r
		m.fill()
	})
}

func read(r *session.Reader) (reading, error) {
	list, err := r.Ordering()
	if err != nil {
		return reading{}, err
	}
	d := reading{Ordering: list, suppliers: map[string]store.Supplier{}, today: r.Shop.Today()}
	suppliers, err := r.Shop.Suppliers()
	if err != nil {
		return d, err
	}
	for _, u := range suppliers {
		d.suppliers[u.Name] = u
	}
	return d, nil
}

// fill works out what is shown of what was read.
func (m *Model) fill() {
	m.state = State{Owed: m.state.Owed, Chosen: -1, Title: "Order"}
	m.lines = nil
	if m.state.Owed {
		m.fillOwed()
	} else {
		m.state.Ask = m.data.ask()
		m.fillList()
	}
	for _, l := range m.lines {
		m.state.Rows = append(m.state.Rows, m.data.row(l))
	}
	if len(m.lines) > 0 {
		at := slices.IndexFunc(m.lines, func(l line) bool { return l.id == m.chosen || l.item != nil && l.item.Item == m.chosen })
		if at < 0 {
			at = m.first()
		}
		m.mark(at)
	}
	m.show(m.state)
}

// first is the first row that is a line, and not a heading.
func (m *Model) first() int {
	return max(0, slices.IndexFunc(m.lines, func(l line) bool { return l.supplier == nil }))
}

func (m *Model) fillList() {
	list := &m.data.List
	m.state.Note = m.data.note()
	for i := range list.Suppliers {
		s := &list.Suppliers[i]
		m.lines = append(m.lines, line{id: "supplier/" + s.Name, supplier: s})
		for k := range s.Lines {
			m.lines = append(m.lines, line{id: "item/" + s.Lines[k].Item, item: &s.Lines[k], of: s.Name})
		}
	}
	switch {
	case len(m.lines) > 0:
	case m.data.Subs == 0:
		m.state.Lead = "What do you build?"
		m.state.Hint = "Bring in what your plans list for each sub-assembly: Build shows how. What is missing for them then stands here, by supplier."
	case len(list.Ask) > 0:
		m.state.Lead = "Count first."
		m.state.Hint = "Nothing is to be bought before it is known what is here. What has to be counted or weighed stands above."
	default:
		m.state.Lead = "Nothing is to be bought."
		m.state.Hint = "What every sub-assembly needs is here, or is owed. What was ordered stands behind O."
	}
}

func (m *Model) fillOwed() {
	open := 0
	for i := range m.data.Offers {
		o := &m.data.Offers[i]
		m.lines = append(m.lines, line{id: "offer/" + o.Ship.ID + "/" + strconv.Itoa(o.Line.Number()), offer: o})
	}
	for i := range m.data.Owing {
		w := &m.data.Owing[i]
		if w.Owed.Sign() <= 0 && w.Coming.Sign() <= 0 {
			continue
		}
		open++
		m.lines = append(m.lines, line{id: "owed/" + w.Ref().String(), owing: w})
	}
	m.state.Title = "Ordered, and not here yet"
	m.state.Note = wording.Plural(open, "line is", "lines are") + " owed"
	if open == 0 {
		m.state.Note = ""
	}
	if sum := Sums(m.data.Ordered); sum != "" {
		m.state.Note = wording.Joined("; ", m.state.Note, "ordered so far for "+sum)
	}
	if len(m.lines) == 0 {
		m.state.Lead = "Nothing that was ordered is owed."
		m.state.Hint = "What is marked as ordered on the list stands here until it has come. O goes back to the list."
	}
}

func (m *Model) mark(index int) {
	m.state.Chosen, m.state.Card = index, card.Card{}
	if index < 0 || index >= len(m.lines) {
		return
	}
	l := m.lines[index]
	m.chosen = l.id
	m.state.Card = m.data.card(l)
}

// Choose chooses a row.
func (m *Model) Choose(index int) {
	if index < 0 || index >= len(m.lines) || index == m.state.Chosen {
		return
	}
	m.mark(index)
	m.show(m.state)
}

// Key does what a key is for that no button has.
func (m *Model) Key(key string) bool {
	step := map[string]int{"Up": -1, "Down": 1}[key]
	if step == 0 || len(m.lines) == 0 {
		return false
	}
	m.Choose(min(max(0, m.state.Chosen+step), len(m.lines)-1))
	return true
}

// Item is the item of the chosen line, "" where it is none.
func (m *Model) Item() string {
	if l := m.at(); l.item != nil {
		return l.item.Item
	}
	return ""
}

// Supplier is that of the chosen row.
func (m *Model) Supplier() string {
	l := m.at()
	if l.supplier != nil {
		return l.supplier.Name
	}
	return l.of
}

func (m *Model) at() line {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.lines) {
		return line{}
	}
	return m.lines[m.state.Chosen]
}

// Show shows what was ordered, or what is to be bought.
func (m *Model) Show(owed bool) {
	m.state.Owed = owed
	m.chosen = ""
	m.fill()
}

// Change does an operation; problem says in the question what was refused, "" for nothing.
func (m *Model) Change(o operation.Operation, problem func(text string)) {
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		if err != nil {
			problem(wording.Error(err))
			return
		}
		problem("")
		m.say(notice.Notice{Tone: notice.OK, Lead: "Done:", Text: r.Words() + ". Ctrl+Z undoes it."})
	})
}

func (m *Model) say(n notice.Notice) {
	if m.Said != nil {
		m.Said(n)
	}
}

// Answer says of the line that came whether it is what was ordered: of its oldest order, or of none.
func (m *Model) Answer(yes bool) {
	l := m.at()
	if l.offer == nil {
		return
	}
	o := operation.MatchOrder{List: l.offer.Ship.ID, Line: l.offer.Line.Number()}
	if yes {
		o.Orders = []string{l.offer.Orders[0].Ref().String()}
	}
	m.Change(o, func(problem string) {
		if problem != "" {
			m.say(notice.Notice{Tone: notice.Stop, Text: problem})
		}
	})
}

// Owing is the chosen line of an order, and whether there is one.
func (m *Model) Owing() (store.Owing, bool) {
	if l := m.at(); l.owing != nil {
		return *l.owing, true
	}
	return store.Owing{}, false
}

// Typed is what stands of the chosen item, as it is typed.
func (m *Model) Typed(field Field) string {
	if field == MinimumField {
		return m.session.Region.Typed(m.data.suppliers[m.Supplier()].Minimum.String())
	}
	return m.session.Region.Typed(typedOf(m.data.Supplies[m.Item()], m.data, field))
}

// Save writes the list to a file, by its ending. Where a file is there already, AskReplace
// is called first.
func (m *Model) Save(path string) { m.save(path, false) }

func (m *Model) save(path string, replace bool) {
	request := m.saving.Start()
	session.Do(m.session, func() (string, error) {
		return path, Save(m.session, path, output.Options{Replace: replace, Shop: m.session.Shop.File()})
	}, func(path string, err error) {
		if !request.Current() {
			return
		}
		if m.AskReplace.Asks(err, func() { m.save(path, true) }) {
			return
		}
		if err != nil {
			m.say(notice.Notice{Tone: notice.Stop, Lead: "The list was not saved.", Text: wording.Error(err)})
			return
		}
		m.say(notice.Notice{Tone: notice.OK, Lead: "Saved:", Text: path + "."})
	})
}
