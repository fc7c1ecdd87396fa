package unpack

import (
	"fmt"
	"strings"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/store"
	"stowright/store/packinglist"
)

// ListState is what is shown while a packing list is brought in.
type ListState struct {
	Path     string
	Working  string // what is being done; empty when nothing is
	Title    string // name of the file
	Note     string // "CSV, commas, UTF-8 · 60 lines in 3 crates"
	Columns  []card.Row
	Column   int // index of the field in hand
	Lines    []card.Row
	Problems []card.Row
	Trouble  *card.Notice // why the list cannot be brought in, or what to look at
	Ready    bool         // Enter brings the list in
	Order    string       // as the list gives it
}

// ColumnColumns are those of the fields with the columns they were found in.
func ColumnColumns() []card.Column {
	return []card.Column{
		{Title: "what we need", Width: 108}, {Title: "column of the file", Kind: card.Words}, {Title: "how sure", Kind: card.States, Width: 112},
	}
}

// PreviewColumns are those of the lines as they were read.
func PreviewColumns() []card.Column {
	return []card.Column{
		{Title: "line", Kind: card.Faint, Width: 30},
		{Title: "crate, bag", Width: 84},
		{Title: "on the list", Kind: card.Names},
		{Title: "listed", Kind: card.Plain, Width: 62},
		{Title: "status", Width: 104},
	}
}

// ProblemColumns are those of what is wrong with a list.
func ProblemColumns() []card.Column {
	return []card.Column{{Title: "where", Width: 150}, {Title: "what is wrong, and what to do"}}
}

// ListModel brings a packing list in.
type ListModel struct {
	session *session.Session
	show    func(ListState)
	opened  func(ship store.Shipment, fresh bool) // the list is in the shop
	state   ListState

	asked   int // number of the last piece of work, so that late ones are dropped
	table   *packinglist.Table
	columns packinglist.Columns
	list    packinglist.List
}

// NewListModel makes the model. Show is called with every new state, and opened when
// the list is in the shop: now, or since it was brought in before.
func NewListModel(s *session.Session, show func(ListState), opened func(store.Shipment, bool)) *ListModel {
	return &ListModel{session: s, show: show, opened: opened}
}

// State is what is shown now.
func (m *ListModel) State() ListState { return m.state }

// reading is a table with what was made of it.
type reading struct {
	table    *packinglist.Table
	columns  packinglist.Columns
	list     packinglist.List
	problems []packinglist.Problem
}

// Open reads a file and recognises its columns.
func (m *ListModel) Open(path string) {
	m.state = ListState{Path: path, Working: "Reading " + path}
	m.table = nil
	m.read(func() (reading, error) {
		table, err := packinglist.OpenFile(path)
		if err != nil {
			return reading{}, err
		}
		return read(table, guess(table)), nil
	})
}

// guess recognises the columns. Where no headings are known the first row is taken
// for headings all the same: a person chooses the columns then, and says so if not.
func guess(t *packinglist.Table) packinglist.Columns {
	columns := packinglist.Guess(t)
	if columns == (packinglist.Columns{}) && len(t.Rows) > 1 {
		columns.Heading = t.Rows[0].Number
	}
	return columns
}

func read(table *packinglist.Table, columns packinglist.Columns) reading {
	r := reading{table: table, columns: columns}
	r.list, r.problems = packinglist.Read(table, columns)
	return r
}

// read reads away from the window and shows what came of it.
func (m *ListModel) read(work func() (reading, error)) {
	m.asked++
	number := m.asked
	m.show(m.state)
	session.Do(m.session, work, func(r reading, err error) {
		if number == m.asked {
			m.took(r, err)
		}
	})
}

// Stop gives up what is being read.
func (m *ListModel) Stop() {
	if m.state.Working == "" {
		return
	}
	m.asked++
	m.state = ListState{Path: m.state.Path, Trouble: &card.Notice{Tone: card.Warn, Text: "Stopped. Nothing was brought in."}}
	m.show(m.state)
}

func (m *ListModel) took(r reading, err error) {
	chosen := m.state.Column
	m.state = ListState{Path: m.state.Path, Column: chosen}
	if err != nil {
		m.state.Trouble = &card.Notice{Tone: card.Stop, Lead: "Not read:", Text: err.Error() + "."}
		m.show(m.state)
		return
	}
	m.table, m.columns, m.list = r.table, r.columns, r.list
	m.state.Title, m.state.Order = r.table.File, r.list.Order
	m.state.Note = strings.Join([]string{r.table.Format, headings(r.columns), summary(r.list)}, " · ")
	m.state.Columns = columnRows(r.table, r.columns)
	m.state.Lines = previewRows(r.list)
	m.state.Problems = problemRows(r.problems)
	m.state.Ready = len(r.problems) == 0 && !r.list.Empty()
	m.state.Trouble = trouble(r)
	m.show(m.state)
}

// trouble says what stands against bringing the list in, or what to look at first.
func trouble(r reading) *card.Notice {
	switch {
	case len(r.columns.Missing()) > 0:
		var names []string
		for _, f := range r.columns.Missing() {
			names = append(names, f.String())
		}
		return &card.Notice{Tone: card.Stop, Lead: "Which column?", Text: "The " + strings.Join(names, " and the ") + " was not recognised. Choose its column with Left and Right."}
	case len(r.problems) > 0:
		return &card.Notice{Tone: card.Stop, Lead: "Nothing was brought in.", Text: plural(len(r.problems), "row wants", "rows want") + " mending: put it right in the file and open it again, or choose another column."}
	}
	for _, f := range packinglist.Fields() {
		if r.columns.Confidence(f) == packinglist.Likely {
			return &card.Notice{Tone: card.Warn, Lead: "Look at the " + f.String() + ":", Text: "its heading is only likely. Left and Right choose another column."}
		}
	}
	return nil
}

// ChooseField takes the field with that index in hand.
func (m *ListModel) ChooseField(index int) {
	if index < 0 || index >= len(m.state.Columns) {
		return
	}
	m.state.Column = index
	m.show(m.state)
}

// Shift gives the field in hand the next column of the file, or the one before;
// before the first stands no column at all.
func (m *ListModel) Shift(by int) {
	if m.table == nil || m.state.Working != "" {
		return
	}
	field := packinglist.Fields()[m.state.Column]
	n := width(m.table) + 1
	columns := m.columns.With(field, (m.columns.Column(field)+by+n)%n)
	m.columns = columns
	table := m.table
	m.read(func() (reading, error) { return read(table, columns), nil })
}

// Headings says that the lines start with the first row of the file, or that it
// holds headings after all.
func (m *ListModel) Headings() {
	if m.table == nil || m.state.Working != "" || len(m.table.Rows) == 0 {
		return
	}
	columns := m.columns
	if columns.Heading != 0 {
		columns.Heading = 0
	} else {
		columns.Heading = m.table.Rows[0].Number
	}
	m.columns = columns
	table := m.table
	m.read(func() (reading, error) { return read(table, columns), nil })
}

// headings says which row was taken for the headings.
func headings(c packinglist.Columns) string {
	if c.Heading == 0 {
		return "no headings: lines from the first row"
	}
	return fmt.Sprintf("headings in row %d", c.Heading)
}

// imported is a shipment and whether the list was new.
type imported struct {
	ship  store.Shipment
	fresh bool
}

// Confirm brings the list in, with the order and the supplier as typed.
func (m *ListModel) Confirm(order, supplier string) {
	if !m.state.Ready || m.state.Working != "" {
		return
	}
	list := m.list
	if order = strings.TrimSpace(order); order != "" {
		list.Order = order
	}
	m.state.Working, m.state.Ready = "Bringing "+plural(len(list.Lines), "line", "lines")+" in", false
	m.asked++
	m.show(m.state)
	session.Do(m.session, func() (imported, error) {
		ship, fresh, err := m.session.Import(list, strings.TrimSpace(supplier))
		return imported{ship, fresh}, err
	}, m.brought)
}

func (m *ListModel) brought(i imported, err error) {
	m.state.Working = ""
	if err != nil {
		m.state.Ready = true
		m.state.Trouble = &card.Notice{Tone: card.Stop, Lead: "Nothing was brought in.", Text: sentence(err)}
		m.show(m.state)
		return
	}
	m.opened(i.ship, i.fresh)
}

// width is how many columns the table has.
func width(t *packinglist.Table) int {
	n := 0
	for _, r := range t.Rows {
		n = max(n, len(r.Cells))
	}
	return n
}

// columnRows are the fields with the column each was found in, and samples of it.
func columnRows(t *packinglist.Table, c packinglist.Columns) []card.Row {
	var rows []card.Row
	for _, f := range packinglist.Fields() {
		column := c.Column(f)
		found := card.Cell{Text: "no column"}
		mark := card.Mark{Word: "not needed"}
		if f.Required() {
			mark = card.Mark{Word: "missing", Tone: card.Stop}
		}
		if column > 0 {
			heading, samples := sample(t, c, column)
			found = card.Cell{Text: packinglist.ColumnName(column) + ": " + heading, Sub: samples}
			mark = card.Mark{Word: "likely", Tone: card.Warn}
			if c.Confidence(f) == packinglist.Certain {
				mark = card.Mark{Word: "certain", Tone: card.OK}
			}
		}
		rows = append(rows, card.Row{ID: f.String(), Cells: []card.Cell{card.T(f.String()), found, {Mark: mark}}})
	}
	return rows
}

// samples is how many values of a column are shown.
const samples = 3

// sample is the heading of a column and its first different values.
func sample(t *packinglist.Table, c packinglist.Columns, column int) (heading, values string) {
	var list []string
	for _, r := range t.Rows {
		text := r.Cell(column)
		switch {
		case r.Number == c.Heading:
			heading = text
		case r.Number > c.Heading && text != "" && len(list) < samples && !strings.Contains(strings.Join(list, "\n")+"\n", text+"\n"):
			list = append(list, text)
		}
	}
	return heading, strings.Join(list, ", ")
}

// previewRows are the lines as they will be brought in.
func previewRows(l packinglist.List) []card.Row {
	rows := make([]card.Row, 0, len(l.Lines))
	for _, line := range l.Lines {
		where := strings.Trim(line.Crate+", "+line.Group, ", ")
		tone := card.OK
		if line.Status != packinglist.Shipped {
			tone = card.Quiet
		}
		rows = append(rows, card.Row{ID: fmt.Sprint(line.Number), Dim: tone == card.Quiet, Cells: []card.Cell{
			card.T(fmt.Sprint(line.Number)), card.T(where), card.Name(line.Designation, line.Description),
			{Text: line.Listed.Number(), Sub: string(line.Listed.Unit)},
			card.T(line.Status.String()),
		}})
	}
	return rows
}

func problemRows(problems []packinglist.Problem) []card.Row {
	rows := make([]card.Row, 0, len(problems))
	for _, p := range problems {
		where := strings.TrimPrefix(p.Where(), p.File+", ")
		wrong, do, _ := strings.Cut(p.Message, "; ")
		rows = append(rows, card.Row{ID: p.Where(), Cells: []card.Cell{card.T(where), {Text: wrong, Sub: do}}})
	}
	return rows
}

// summary is "60 lines in 3 crates and 14 bags".
func summary(l packinglist.List) string {
	crates, bags := map[string]bool{}, map[string]bool{}
	for _, line := range l.Lines {
		crates[line.Crate] = true
		if line.Group != "" {
			bags[line.Crate+"\n"+line.Group] = true
		}
	}
	if l.Empty() {
		return "no line could be read"
	}
	words := plural(len(l.Lines), "line", "lines") + " in " + plural(len(crates), "crate", "crates")
	if len(bags) > 0 {
		words += " and " + plural(len(bags), "bag", "bags")
	}
	return words
}
