package unpack

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/packinglist"
)

// ListState is what is shown while a packing list is brought in.
type ListState struct {
	Path     string
	Working  string // what is being done; empty when nothing is
	Title    string // name of the file
	Note     string // "CSV, commas, UTF-8 · 60 lines in 3 crates"
	Columns  []table.Row
	Column   int // index of the field in hand
	Lines    []table.Row
	Problems []table.Row
	Trouble  *notice.Notice // why the list cannot be brought in, or what to look at
	Ready    bool           // Enter brings the list in
	Order    string         // as the list gives it
	Sheets   int            // of a workbook with packing lists; 0 for text
}

// ListModel brings a packing list in.
type ListModel struct {
	session *session.Session
	show    func(ListState)
	opened  func(ship store.Shipment, fresh bool) // the list is in the shop
	state   ListState

	writing loop.Once // the list is brought in, whole or not at all
	reading loop.Latest
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
	m.show(m.state)
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (reading, error) { return work() }, m.took)
}

// Stop gives up what is being read.
func (m *ListModel) Stop() {
	if m.state.Working == "" || m.writing.Busy() {
		return
	}
	m.reading.Drop()
	m.state = ListState{Path: m.state.Path, Trouble: &notice.Notice{Tone: notice.Warn, Text: "Stopped. Nothing was brought in."}}
	m.show(m.state)
}

func (m *ListModel) took(r reading, err error) {
	chosen := m.state.Column
	m.state = ListState{Path: m.state.Path, Column: chosen}
	if err != nil {
		m.state.Trouble = &notice.Notice{Tone: notice.Stop, Lead: "Not read:", Text: err.Error() + "."}
		m.show(m.state)
		return
	}
	m.table, m.columns, m.list = r.table, r.columns, r.list
	m.state.Title, m.state.Order = r.table.File, r.list.Order
	m.state.Note = strings.Join([]string{format(r.table), headings(r.columns), summary(r.list)}, " · ")
	m.state.Sheets = len(r.table.Sheets)
	m.state.Columns = columnRows(r.table, r.columns)
	doubts := session.ListDoubts(m.session.Catalog(), r.list)
	m.state.Lines = previewRows(r.list, doubts)
	m.state.Problems = problemRows(r.problems)
	m.state.Ready = len(r.problems) == 0 && !r.list.Empty()
	if m.state.Trouble = trouble(r); m.state.Trouble == nil {
		m.state.Trouble = doubtNotice(doubts)
	}
	m.show(m.state)
}

// doubtNotice says which numbers no table has. The list can be brought in all the same.
func doubtNotice(doubts []session.ListDoubt) *notice.Notice {
	if len(doubts) == 0 {
		return nil
	}
	text := wording.Sentence(doubts[0].Problem)
	if more := len(doubts) - 1; more > 0 {
		text += " And " + wording.Plural(more, "other line", "other lines") + " below."
	}
	return &notice.Notice{Tone: notice.Warn, Lead: fmt.Sprintf("Look at line %d:", doubts[0].Line), Text: text}
}

// trouble says what stands against bringing the list in, or what to look at first.
func trouble(r reading) *notice.Notice {
	switch {
	case len(r.columns.Missing()) > 0:
		var names []string
		for _, f := range r.columns.Missing() {
			names = append(names, f.String())
		}
		return &notice.Notice{Tone: notice.Stop, Lead: "Which column?", Text: "The " + strings.Join(names, " and the ") + " was not recognised. Choose its column with Left and Right."}
	case len(r.problems) > 0:
		return &notice.Notice{Tone: notice.Stop, Lead: "Nothing was brought in.", Text: wording.Plural(len(r.problems), "row wants", "rows want") + " mending: put it right in the file and open it again, or choose another column."}
	}
	for _, f := range packinglist.Fields() {
		if r.columns.Confidence(f) == packinglist.Likely {
			return &notice.Notice{Tone: notice.Warn, Lead: "Look at the " + f.String() + ":", Text: "its heading is only likely. Left and Right choose another column."}
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

// NextSheet reads the next sheet of a workbook that has several with lines.
func (m *ListModel) NextSheet() {
	if m.table == nil || m.state.Working != "" || len(m.table.Sheets) < 2 {
		return
	}
	sheets, path := m.table.Sheets, m.state.Path
	next := sheets[(slices.Index(sheets, m.table.Sheet)+1)%len(sheets)]
	m.state.Working = "Reading sheet " + next
	m.read(func() (reading, error) {
		table, err := openSheet(path, next)
		if err != nil {
			return reading{}, err
		}
		return read(table, guess(table)), nil
	})
}

// openSheet reads one sheet of a workbook, no larger than a packing list may be.
func openSheet(path, sheet string) (*packinglist.Table, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, packinglist.MaxBytes+1)) // one more is refused as too large
	if err != nil {
		return nil, err
	}
	return packinglist.OpenSheet(filepath.Base(path), data, sheet)
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
	m.state.Working, m.state.Ready = "Bringing "+wording.Plural(len(list.Lines), "line", "lines")+" in, all of them or none", false
	m.reading.Drop()
	m.show(m.state)
	loop.DoOnce(m.session.Loop, &m.writing, func() (imported, error) {
		ship, fresh, err := m.session.Import(context.Background(), list, strings.TrimSpace(supplier))
		return imported{ship, fresh}, err
	}, m.brought)
}

func (m *ListModel) brought(i imported, err error) {
	m.state.Working = ""
	if err != nil {
		m.state.Ready = true
		m.state.Trouble = &notice.Notice{Tone: notice.Stop, Lead: "Nothing was brought in.", Text: wording.Error(err)}
		m.show(m.state)
		return
	}
	m.opened(i.ship, i.fresh)
}
