// Package labelling is the screen on which labels are selected, previewed on their sheet
// exactly as they will print, and saved as PDF.
package labelling

import (
	"context"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/printing"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
)

// State is what the screen shows.
type State struct {
	Groups  []Group
	Stocks  []labels.Stock // those of the program, then one's own
	Stock   int            // index of the chosen stock
	Setup   Setup
	StartAt int           // the first free label of the first sheet, from 1
	BadAt   string        // why the number typed for StartAt is wrong; empty for none
	Labels  int           // number of labels selected
	Module  float64       // side of one module of the smallest code, mm; 0 for no code
	Reading loop.Progress // of reading the codes of the layout back
	Sheets  int
	Sheet   int           // index of the sheet that is shown
	Page    labels.Page   // that sheet; its width is 0 while nothing is selected
	First   labels.Rect   // the first label on that sheet; zero if it is the only one
	Used    []labels.Rect // the labels of the first sheet that were used before
	Notes   []string      // what the user should know before printing, a sentence each
	Path    string        // proposed file name of the PDF
	Saved   string        // what was saved or printed, in words; empty before
	Lead    string        // what was done with it: "Saved:", "Printed:"
	Empty   bool          // the shop has no places yet
	Problem string
}

// Group is a group of places whose labels are selected together.
type Group struct {
	ID     string
	Name   string
	Note   string
	On     bool
	kind   store.PlaceKind // of the place that holds them
	places []store.Place
}

// Columns are those of the groups.
func Columns() []table.Column {
	return []table.Column{{Title: "labels for", Kind: table.Names}, {Title: "", Kind: table.States, Width: 110}}
}

// Rows are the groups as rows.
func (s State) Rows() []table.Row {
	rows := make([]table.Row, 0, len(s.Groups))
	for _, g := range s.Groups {
		mark := table.State("left out", notice.Quiet)
		if g.On {
			mark = table.State("picked", notice.OK)
		}
		rows = append(rows, table.Row{ID: g.ID, Cells: []table.Cell{table.Name(g.Name, g.Note), mark}})
	}
	return rows
}

// Model decides what the screen shows. Its methods are called on the window's
// goroutine.
type Model struct {
	// AskReplace asks whether files are written over, and calls replace if they are; nil
	// leaves them as they are and says so.
	AskReplace session.AskReplace

	// AskPrinter asks for one of several printers, and calls take with it; nil takes the
	// first.
	AskPrinter func(names []string, take func(name string))

	printers Printers
	memory   Memory // nil keeps nothing
	// readBack reads the codes of a layout back, in the background.
	readBack func(ctx context.Context, doc labels.Document, list []labels.Label, tell func(done float64)) error
	session  *session.Session
	show     func(State)
	state    State
	list     []labels.Label
	doc      labels.Document
	groups   loop.Latest
	layout   loop.Latest
	reading  *loop.Job   // of the codes of the layout
	layouts  int         // how many layouts were begun
	proven   bool        // the codes of the layout were read back
	waiting  func()      // what is done with the layout once it is offered; nil for nothing
	saving   loop.Latest // only the result of the last save is shown
}

// NewModel returns a model; show is called with every new state. The PDF is saved in the
// user's documents folder unless another is named.
func NewModel(s *session.Session, show func(State)) *Model {
	m := &Model{session: s, show: show, readBack: session.ReadBack, printers: printing.Here(), state: State{Stocks: labels.Stocks(), StartAt: 1, Setup: Setup{Copies: 1}, Path: filepath.Join(s.Folders.ToWrite(), "labels.pdf")}}
	m.reading = loop.NewJob(s.Loop, func() {
		m.state.Reading = m.reading.Progress()
		m.show(m.state)
	})
	return m
}

// State returns what the screen shows now.
func (m *Model) State() State { return m.state }

// Open lists what can have labels and selects the group of about: the id of a place, with
// the places in it. An empty about selects the first group.
func (m *Model) Open(about string) {
	made := m.made()
	loop.DoLatest(m.session.Loop, &m.groups, func(context.Context) ([]Group, error) {
		return session.Answer(m.session, func(r *session.Reader) ([]Group, error) { return groups(r, about, made) })
	}, func(g []Group, err error) {
		if err != nil {
			m.waiting = nil
			m.state.Problem = wording.Error(err)
			m.show(m.state)
			return
		}
		m.state.Groups, m.state.Empty = g, len(g) == 0
		m.Lay()
	})
}

// Toggle selects or deselects a group.
func (m *Model) Toggle(id string) {
	for i := range m.state.Groups {
		if m.state.Groups[i].ID == id {
			m.state.Groups[i].On = !m.state.Groups[i].On
		}
	}
	m.state.Sheet = 0
	m.Lay()
}

// SetStock chooses the stock by its index.
func (m *Model) SetStock(index int) {
	if index < 0 || index >= len(m.state.Stocks) || index == m.state.Stock {
		return
	}
	m.state.Stock, m.state.StartAt, m.state.Sheet, m.state.BadAt = index, 1, 0, ""
	m.Lay()
}

// TypeStart sets the first free label as typed; an empty text is the first label.
func (m *Model) TypeStart(text string) {
	text = strings.TrimSpace(text)
	most := m.state.Stocks[m.state.Stock].PerPage()
	n, err := strconv.Atoi(text)
	switch {
	case text == "":
		n = 1
	case err != nil || n < 1 || n > most:
		m.state.BadAt = fmt.Sprintf("A sheet of this stock has %s: type a number from 1 to %d.", wording.Plural(most, "label", "labels"), most)
		m.show(m.state)
		return
	}
	if n == m.state.StartAt && m.state.BadAt == "" {
		return
	}
	m.SetStart(n)
}

// SetStart sets the first free label of the first sheet, from 1. A number that the sheet
// does not have is ignored.
func (m *Model) SetStart(first int) {
	if first < 1 || first > m.state.Stocks[m.state.Stock].PerPage() {
		return
	}
	m.state.StartAt, m.state.Sheet, m.state.BadAt = first, 0, ""
	m.Lay()
}

// StartHere sets the first free label to the one at a point of the first sheet, in
// millimetres.
func (m *Model) StartHere(x, y float64) {
	if m.state.Sheet != 0 {
		return
	}
	stock := m.state.Stocks[m.state.Stock]
	for i := range stock.PerPage() {
		cell := stock.Cell(i)
		if x >= cell.X && x <= cell.Right() && y >= cell.Y && y <= cell.Bottom() {
			m.SetStart(i + 1)
			return
		}
	}
}

// Turn shows the sheet that many after the current one, or before it if negative.
func (m *Model) Turn(by int) {
	if to := m.state.Sheet + by; to >= 0 && to < m.state.Sheets {
		m.state.Sheet = to
		m.page()
		m.show(m.state)
	}
}

// picked are the places of the groups that are picked, and the names of those.
func (m *Model) picked() (places []store.Place, names []string) {
	for _, g := range m.state.Groups {
		if g.On {
			places, names = append(places, g.places...), append(names, g.Name)
		}
	}
	return places, names
}

// laying reports whether a layout is on its way, or not read back yet.
func (m *Model) laying() bool { return m.groups.Waiting() || m.layout.Waiting() || !m.offered() }

// offered reports whether the layout may be saved and printed: what cannot be read back may not.
func (m *Model) offered() bool { return m.proven || len(m.doc.Pages) == 0 }

// laid is the result of a layout.
type laid struct {
	list []labels.Label
	doc  labels.Document
}

// Lay updates the layout of the selected labels.
func (m *Model) Lay() {
	stock, options := m.state.Stocks[m.state.Stock], labels.Options{StartAt: m.state.StartAt - 1, Copies: m.state.Setup.Copies, CutMarks: m.state.Setup.CutMarks}
	places, _ := m.picked()
	m.layouts, m.proven = m.layouts+1, false
	m.reading.Stop()
	loop.DoLatest(m.session.Loop, &m.layout, func(context.Context) (laid, error) {
		list, err := m.session.Labels(places)
		if err != nil || len(list) == 0 {
			return laid{}, err
		}
		doc, err := labels.Layout(list, stock, options)
		if err != nil {
			return laid{}, err
		}
		return laid{list, doc}, nil
	}, m.laid)
}

func (m *Model) laid(l laid, err error) {
	m.list, m.doc = l.list, l.doc
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = wording.Error(err)
	}
	m.state.Labels, m.state.Sheets, m.state.Module = l.doc.Labels(), len(l.doc.Pages), l.doc.Module
	m.state.Sheet = max(0, min(m.state.Sheet, m.state.Sheets-1))
	m.state.Notes = notes(l.doc.Notes, l.list)
	m.page()
	m.show(m.state)
	switch {
	case err != nil:
		m.waiting = nil
	case m.offered():
		m.goOn()
	default:
		m.prove()
	}
}

// prove has the codes of the layout that is shown read back, and goes on with what waited
// for that. The sheet is seen meanwhile: a shop's thousands of codes take seconds.
func (m *Model) prove() {
	number, doc, list := m.layouts, m.doc, m.list
	loop.DoJob(m.reading, "Reading the codes back", func(ctx context.Context, tell loop.Tell) (struct{}, error) {
		return struct{}{}, m.readBack(ctx, doc, list, func(done float64) { tell("", done) })
	}, func(_ struct{}, err error) { m.wasRead(number, err) })
}

// wasRead takes how reading back the codes of a layout ended, by the layout's number.
func (m *Model) wasRead(number int, err error) {
	m.state.Reading = m.reading.Progress()
	switch {
	case m.layout.Waiting(): // and is proven when it is there
	case number != m.layouts:
		m.prove()
	case err != nil:
		m.laid(laid{}, err)
	default:
		m.proven = true
		m.show(m.state)
		m.goOn()
	}
}

// goOn does what waited for the layout.
func (m *Model) goOn() {
	if then := m.waiting; then != nil {
		m.waiting = nil
		then()
	}
}

// page sets the current sheet in the state.
func (m *Model) page() {
	m.state.Page, m.state.First, m.state.Used = labels.Page{}, labels.Rect{}, nil
	if m.state.Sheet < len(m.doc.Pages) {
		m.state.Page = m.doc.Pages[m.state.Sheet]
		if !m.state.single() {
			m.state.First = m.state.Page.Cells[0].Rect
		}
	}
	if m.state.Sheet > 0 {
		return
	}
	stock := m.state.Stocks[m.state.Stock]
	for i := range m.state.StartAt - 1 {
		m.state.Used = append(m.state.Used, stock.Cell(i))
	}
}
