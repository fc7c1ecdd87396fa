// Package labelling is the screen on which labels are picked, seen on their sheet
// exactly as they will print, and saved as PDF.
package labelling

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"stowright/app/card"
	"stowright/app/session"
	"stowright/labels"
	"stowright/store"
)

// State is what the screen shows.
type State struct {
	Groups  []Group
	Stocks  []labels.Stock
	Stock   int    // index of the chosen stock
	StartAt int    // the first free label of the first sheet, from 1
	BadAt   string // why what was typed is no label of the sheet; empty for none
	Labels  int    // picked
	Module  float64
	Sheets  int
	Sheet   int           // index of the sheet that is shown
	Page    labels.Page   // that sheet; no width while nothing is picked
	First   labels.Rect   // the first label on that sheet; zero where it is the only one
	Used    []labels.Rect // the labels of the first sheet that are used up
	Notes   []string      // what a person should know before printing, a sentence each
	Path    string        // where the PDF goes
	Saved   string        // what was saved, in words; empty before
	Empty   bool          // the shop has no places yet
	Problem string
}

// Group is places that get their labels together.
type Group struct {
	ID     string
	Name   string
	Note   string
	On     bool
	kind   store.PlaceKind // of the place that holds them
	places []store.Place
}

// Columns are those of the groups.
func Columns() []card.Column {
	return []card.Column{{Title: "labels for", Kind: card.Names}, {Title: "", Kind: card.States, Width: 110}}
}

// Rows are the groups as rows.
func (s State) Rows() []card.Row {
	rows := make([]card.Row, 0, len(s.Groups))
	for _, g := range s.Groups {
		mark := card.State("left out", card.Quiet)
		if g.On {
			mark = card.State("printed", card.OK)
		}
		rows = append(rows, card.Row{ID: g.ID, Cells: []card.Cell{card.Name(g.Name, g.Note), mark}})
	}
	return rows
}

// Summary is "40 labels on 2 sheets of US Letter, 3 x 10; modules 0.76 mm, a
// camera reads them from about 55 cm".
func (s State) Summary() string {
	if s.Labels == 0 {
		return "nothing is picked yet"
	}
	text := card.Plural(s.Labels, "label", "labels") + " on "
	if !s.single() {
		text += card.Plural(s.Sheets, "sheet", "sheets") + " of "
	}
	text += s.Stocks[s.Stock].Words
	if s.Module > 0 {
		text += fmt.Sprintf("; modules %.2f mm, a camera reads them from about %d cm", s.Module, reach(s.Module))
	}
	return text
}

// single reports whether the stock has one label a page: a roll, or tape.
func (s State) single() bool { return s.Stocks[s.Stock].PerPage() == 1 }

// Turned is "sheet 1 of 2": which of them is shown.
func (s State) Turned() string {
	noun := "sheet"
	if s.single() {
		noun = "label"
	}
	if s.Sheets == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d of %d", noun, s.Sheet+1, s.Sheets)
}

// reachOfModule is how many times its module a code may be away: a picture 1280
// pixels wide that takes in 60 degrees shows 1109 pixels to a width equal to the
// distance, and the reader wants one and a half pixels to a module (measured).
const reachOfModule = 739

// reach is how far away a camera reads modules of a size in millimetres, in
// centimetres, rounded down to five.
func reach(module float64) int { return int(module*reachOfModule/50) * 5 }

// Model decides what the screen shows. Its methods are called on the window's
// goroutine.
type Model struct {
	session *session.Session
	show    func(State)
	state   State
	list    []labels.Label
	doc     labels.Document
	asked   int    // number of the last layout, so that late ones are dropped
	laying  bool   // labels are being laid out
	waiting string // where they go once they are; empty for nowhere
	saving  int    // number of what is saved, so that late ones are dropped
}

// NewModel makes the model; show is called with every new state. The PDF goes into
// the folder that the person has for documents, until another is named.
func NewModel(s *session.Session, show func(State)) *Model {
	return &Model{session: s, show: show, state: State{Stocks: labels.Stocks(), StartAt: 1, Path: defaultPath()}}
}

func defaultPath() string {
	home, err := os.UserHomeDir()
	if err != nil {
		return "labels.pdf"
	}
	if documents := filepath.Join(home, "Documents"); isFolder(documents) {
		return filepath.Join(documents, "labels.pdf")
	}
	return filepath.Join(home, "labels.pdf")
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// State is what the screen shows now.
func (m *Model) State() State { return m.state }

// Open lists what can have labels, and picks what about names: the id of a place,
// with the places in it. Nothing picks the first group.
func (m *Model) Open(about string) {
	m.laying = true
	session.Do(m.session, func() ([]Group, error) { return groups(m.session, about) }, func(g []Group, err error) {
		if err != nil {
			m.laying, m.waiting = false, ""
			m.state.Problem = session.Sentence(err)
			m.show(m.state)
			return
		}
		m.state.Groups, m.state.Empty = g, len(g) == 0
		m.Lay()
	})
}

// Toggle picks a group, or leaves it out.
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

// TypeStart takes the first free label as typed; nothing typed is the first.
func (m *Model) TypeStart(text string) {
	text = strings.TrimSpace(text)
	most := m.state.Stocks[m.state.Stock].PerPage()
	n, err := strconv.Atoi(text)
	switch {
	case text == "":
		n = 1
	case err != nil || n < 1 || n > most:
		m.state.BadAt = fmt.Sprintf("A sheet of this stock has %s: type a number from 1 to %d.", card.Plural(most, "label", "labels"), most)
		m.show(m.state)
		return
	}
	if n == m.state.StartAt && m.state.BadAt == "" {
		return
	}
	m.SetStart(n)
}

// SetStart says which label of the first sheet is the first free one, from 1. One
// that the sheet does not have is ignored.
func (m *Model) SetStart(first int) {
	if first < 1 || first > m.state.Stocks[m.state.Stock].PerPage() {
		return
	}
	m.state.StartAt, m.state.Sheet, m.state.BadAt = first, 0, ""
	m.Lay()
}

// StartHere makes the label at a point of the first sheet the first free one.
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

// Turn shows another sheet, by so many from the one that is shown.
func (m *Model) Turn(by int) {
	if to := m.state.Sheet + by; to >= 0 && to < m.state.Sheets {
		m.state.Sheet = to
		m.page()
		m.show(m.state)
	}
}

// laid is labels laid out on sheets.
type laid struct {
	list []labels.Label
	doc  labels.Document
}

// Lay lays the picked labels out anew.
func (m *Model) Lay() {
	m.asked++
	m.laying = true
	number := m.asked
	stock, start := m.state.Stocks[m.state.Stock], m.state.StartAt
	var places []store.Place
	for _, g := range m.state.Groups {
		if g.On {
			places = append(places, g.places...)
		}
	}
	session.Do(m.session, func() (laid, error) {
		list, err := m.session.Labels(places)
		if err != nil || len(list) == 0 {
			return laid{}, err
		}
		doc, err := labels.Layout(list, stock, labels.Options{StartAt: start - 1})
		return laid{list, doc}, err
	}, func(l laid, err error) { m.laid(number, l, err) })
}

func (m *Model) laid(number int, l laid, err error) {
	if number != m.asked {
		return
	}
	m.list, m.doc = l.list, l.doc
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = session.Sentence(err)
	}
	m.state.Labels, m.state.Sheets, m.state.Module = len(l.list), len(l.doc.Pages), l.doc.Module
	m.state.Sheet = max(0, min(m.state.Sheet, m.state.Sheets-1))
	m.state.Notes = notes(l.doc.Notes, l.list)
	m.page()
	m.show(m.state)
	m.laying = false
	if path := m.waiting; path != "" {
		m.waiting = ""
		m.Save(path)
	}
}

// maxNotes is how many labels are named that want another stock.
const maxNotes = 2

// notes are what a person should know before printing: of all labels first, then
// one line for each label.
func notes(all []labels.Note, list []labels.Label) []string {
	var lines, named []string
	of := map[int]int{} // the label's line, and how many further notes it has
	further := map[int]int{}
	for _, n := range all {
		if n.Label < 0 || n.Label >= len(list) {
			lines = append(lines, card.Sentence(n.Text))
			continue
		}
		if at, ok := of[n.Label]; ok {
			further[at]++
			continue
		}
		of[n.Label] = len(named)
		named = append(named, list[n.Label].Name+": "+n.Text)
	}
	for i := range named {
		if further[i] > 0 {
			named[i] += fmt.Sprintf(" and for %d more", further[i])
		}
		named[i] += "."
	}
	if more := len(named) - maxNotes; more > 0 {
		named = append(named[:maxNotes], card.Plural(more, "other label wants", "other labels want")+" larger stock too.")
	}
	return append(lines, named...)
}

// page puts the sheet that is shown into the state.
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

// Save writes the PDF to a path, as soon as the labels are laid out.
func (m *Model) Save(path string) {
	if m.laying && path != "" {
		m.waiting = path
		return
	}
	if path == "" || len(m.doc.Pages) == 0 {
		m.state.Problem = "Pick at least one group of labels, and name the PDF to save."
		m.show(m.state)
		return
	}
	doc := m.doc
	m.save(path, func() (labels.Document, error) { return doc, nil })
}

// SaveTest writes the test print of the chosen stock beside where the labels go:
// rulers and the outline of each label, to hold against a sheet.
func (m *Model) SaveTest(path string) {
	if path == "" {
		path = defaultPath()
	}
	stock := m.state.Stocks[m.state.Stock]
	path = withEnding(path)
	path = strings.TrimSuffix(path, filepath.Ext(path)) + "-test" + filepath.Ext(path)
	m.save(path, func() (labels.Document, error) { return labels.Calibration(stock) })
}

// withEnding is a path that ends in .pdf.
func withEnding(path string) string {
	if strings.EqualFold(filepath.Ext(path), ".pdf") {
		return path
	}
	return path + ".pdf"
}

// save makes a document and writes it, both away from the window.
func (m *Model) save(path string, make func() (labels.Document, error)) {
	path = withEnding(path)
	m.saving++
	number, made := m.saving, m.session.Shop.Now()
	session.Do(m.session, func() (string, error) {
		doc, err := make()
		if err != nil {
			return "", err
		}
		return path, labels.WriteFile(path, doc, labels.PDFOptions{Made: made})
	}, func(path string, err error) { m.saved(number, path, err) })
}

func (m *Model) saved(number int, path string, err error) {
	if number != m.saving {
		return
	}
	m.state.Problem, m.state.Saved = "", ""
	if err != nil {
		m.state.Problem = card.Sentence("the PDF was not saved: " + err.Error())
	} else {
		m.state.Saved = path + ". Print it at 100 %, not fitted to the page."
	}
	m.show(m.state)
}
