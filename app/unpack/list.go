package unpack

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/packinglist"
	"stowright/store/progress"
)

// ListState is what is shown while a packing list is brought in.
type ListState struct {
	Path    string
	Working string // what is being done; empty when nothing is
	Title   string // name of the file
	Note    string // "CSV, commas, UTF-8 · 60 lines in 3 crates"
	Columns []table.Row
	Column  int // index of the field in hand
	Lines   []table.Row
	Points  []table.Row // what is to be settled first, then what was settled or left out
	Point   int         // index of the one in hand
	Ways    []string    // the ways to settle that one, by the digit from 1 up
	Settle  bool        // the points are shown, else the lines
	Trouble *notice.Notice
	Ready   bool   // Enter brings the list in
	Order   string // as the list gives it
	Sheets  int    // of a workbook that are read; 0 for text
}

// ListModel brings a packing list in.
type ListModel struct {
	session *session.Session
	show    func(ListState)
	opened  func(Brought) // the list is in the shop
	state   ListState

	writing loop.Once          // the list is brought in, whole or not at all
	stop    context.CancelFunc // ends that; nil before
	working loop.Latest
	book    *packinglist.Book
	choices packinglist.Choices
	reading *packinglist.Reading
	sheet   int // index of the sheet whose columns are shown
	points  []point
	revised *session.Revised // another list of the same order in the shop, nil for none
	taken   taken            // as what it was taken where there is that one
	told    []told           // of lines that a revised list may have more than once
	doubts  []session.ListDoubt
	as      string // the list whose columns were taken over; empty for none
}

// Brought is what bringing a list in came to.
type Brought struct {
	Ship  store.Shipment
	Fresh bool // it was not in the shop before
	// Revised is the list whose place it took; nil: none.
	Revised *session.Revised
}

// taken is what a person said that a list of an order is, of which the shop has another.
type taken int

const (
	unsaid  taken = iota
	beside        // it is a list of its own
	revises       // it takes the place of the other one
)

// NewListModel makes the model. Show is called with every new state, and opened when
// the list is in the shop: now, or since it was brought in before.
func NewListModel(s *session.Session, show func(ListState), opened func(Brought)) *ListModel {
	return &ListModel{session: s, show: show, opened: opened}
}

// State is what is shown now.
func (m *ListModel) State() ListState { return m.state }

// read is a file with what was made of it.
type read struct {
	book    *packinglist.Book
	reading *packinglist.Reading
	revised *session.Revised // nil while anything is open, and for none
	choices packinglist.Choices
	as      string // the list whose columns were taken over; empty for none
}

// Open reads a file and recognises its columns.
func (m *ListModel) Open(path string) {
	words := "Reading " + path
	m.open(path, words, func(ctx context.Context) (*packinglist.Book, error) {
		return packinglist.OpenFile(m.follow(ctx, words), path)
	})
}

// Paste reads a table that was copied from a spreadsheet or a mail.
func (m *ListModel) Paste(text string) {
	m.open("", "Reading what was pasted", func(context.Context) (*packinglist.Book, error) {
		return packinglist.Open("pasted table", []byte(text))
	})
}

func (m *ListModel) open(path, words string, open func(context.Context) (*packinglist.Book, error)) {
	m.state = ListState{Path: path, Working: words}
	m.book, m.reading, m.choices, m.sheet, m.taken, m.told, m.as = nil, nil, packinglist.Choices{}, 0, unsaid, nil, ""
	m.read(func(ctx context.Context) (read, error) {
		book, err := open(ctx)
		if err != nil {
			return read{}, err
		}
		return m.by(book, packinglist.Choices{}, nil)
	})
}

// read reads away from the window and shows what came of it.
func (m *ListModel) read(work func(context.Context) (read, error)) {
	m.show(m.state)
	loop.DoLatest(m.session.Loop, &m.working, work, m.took)
}

// follow has work that reads say how far it is behind those words, as long as it counts.
func (m *ListModel) follow(ctx context.Context, words string) context.Context {
	return progress.With(ctx, progress.Func(loop.EachPercent(func(what string, done float64) {
		m.session.Loop.Post(func() {
			if ctx.Err() == nil && m.state.Working != "" {
				m.state.Working = words + ": " + wording.Progress(what, done)
				m.show(m.state)
			}
		})
	})))
}

// again reads the file with one more choice. The choices before are kept as they
// were, for a reading under way.
func (m *ListModel) again(choose func(*packinglist.Choices)) {
	c := packinglist.Choices{
		Sheets: own(m.choices.Sheets), Columns: own(m.choices.Columns), Answers: own(m.choices.Answers),
		Cells: own(m.choices.Cells), LeftOut: own(m.choices.LeftOut),
	}
	choose(&c)
	m.choices, m.told = c, nil // the numbers of lines may be others by now
	book := m.book
	m.read(func(context.Context) (read, error) { return m.by(book, c, nil) })
}

// by reads the file by the choices, and looks for another list of the same order.
func (m *ListModel) by(book *packinglist.Book, c packinglist.Choices, said []told) (read, error) {
	r := read{book: book, choices: c}
	if c.Columns == nil { // just opened: as lists of that shape were read before
		var err error
		if r.choices.Columns, r.as, err = session.ColumnsBefore(m.session.Shop, book); err != nil {
			return r, err
		}
	}
	r.reading = book.Read(r.choices)
	list, problems := r.reading.List()
	if len(problems) > 0 {
		return r, nil
	}
	made := session.NewShipment(m.session.Catalog(), list, "")
	made.Told = toldOf(said)
	revised, found, err := m.session.FindRevised(made)
	if found {
		r.revised = &revised
	}
	return r, err
}

// own is a copy that can be written to.
func own[K comparable, V any](from map[K]V) map[K]V {
	to := make(map[K]V, len(from))
	maps.Copy(to, from)
	return to
}

// Stop gives up what is being read.
func (m *ListModel) Stop() {
	if m.state.Working == "" {
		return
	}
	if m.writing.Busy() { // what it comes to is shown when it has ended
		m.stop()
		m.state.Working = "Stopping"
		m.show(m.state)
		return
	}
	m.working.Drop()
	m.state = ListState{Path: m.state.Path, Trouble: &notice.Notice{Tone: notice.Warn, Text: "Stopped. Nothing was brought in."}}
	m.show(m.state)
}

func (m *ListModel) took(r read, err error) {
	before := m.state
	m.state = ListState{Path: before.Path, Column: before.Column}
	if err != nil {
		m.state.Trouble = &notice.Notice{Tone: notice.Stop, Lead: "Not read:", Text: err.Error() + "."}
		m.show(m.state)
		return
	}
	m.book, m.reading, m.revised = r.book, r.reading, r.revised
	if r.as != "" {
		m.choices, m.as = r.choices, r.as
	}
	sheets := m.sheets()
	m.sheet = min(m.sheet, max(0, len(sheets)-1))
	m.state.Title, m.state.Order = m.reading.File, m.reading.Order
	m.state.Note = strings.Join([]string{m.reading.Format, m.headings(), summary(m.reading.Lines)}, " · ")
	if m.as != "" {
		m.state.Note += " · columns as you chose them for " + m.as
	}
	if t := m.table(); t != nil {
		m.state.Columns = columnRows(t, m.columns())
	}
	if len(m.book.Sheets) > 1 {
		m.state.Sheets = len(sheets)
	}
	m.doubts = session.ListDoubts(m.session.Catalog(), packinglist.List{Lines: m.reading.Lines})
	m.state.Lines = previewRows(m.reading.Lines, m.doubts)
	m.settled()
}

// settled shows what is open, and whether the list can be brought in.
func (m *ListModel) settled() {
	m.points = points(m.reading)
	_, problems := m.reading.List()
	m.state.Ready = len(problems) == 0
	if m.revised != nil {
		m.points = slices.Insert(m.points, 0, m.revisedPoints()...)
		m.state.Ready = m.state.Ready && m.taken != unsaid && (m.taken == beside || len(m.revised.Asked) == 0)
	}
	m.state.Settle = !m.state.Ready
	m.render()
}

// render shows the points with the one in hand.
func (m *ListModel) render() {
	m.state.Points = pointRows(m.points)
	m.state.Point = min(m.state.Point, max(0, len(m.points)-1))
	m.state.Ways = nil
	if m.state.Settle && m.state.Point < len(m.points) {
		m.state.Ways = m.points[m.state.Point].words()
	}
	m.state.Trouble = m.trouble()
	m.show(m.state)
}

// sheets are those that are read.
func (m *ListModel) sheets() []packinglist.SheetReading {
	if m.reading == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(m.reading.Sheets), func(s packinglist.SheetReading) bool { return !s.Taken })
}

// table is the sheet whose columns are shown, nil for none.
func (m *ListModel) table() *packinglist.Table {
	if s := m.sheets(); m.sheet < len(s) {
		return s[m.sheet].Table
	}
	return nil
}

// columns are those of the sheet shown. Where no headings are known the first row is
// taken for headings all the same: a person chooses the columns then, and says so if
// not.
func (m *ListModel) columns() packinglist.Columns {
	t := m.table()
	c := m.sheets()[m.sheet].Columns
	if c == (packinglist.Columns{}) && len(t.Rows) > 1 {
		c.Heading = t.Rows[0].Number
	}
	return c
}

// headings says which row was taken for the headings, and of which sheet.
func (m *ListModel) headings() string {
	t := m.table()
	if t == nil {
		return "nothing is read"
	}
	words := headings(m.columns())
	if len(m.book.Sheets) > 1 {
		words = "sheet " + t.Sheet + ", " + words
	}
	return words
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
func (m *ListModel) trouble() *notice.Notice {
	if t := m.table(); t != nil && len(m.columns().Missing()) > 0 {
		var names []string
		for _, f := range m.columns().Missing() {
			names = append(names, f.String())
		}
		return &notice.Notice{Tone: notice.Stop, Lead: "Which column?", Text: "The " + strings.Join(names, " and the ") + " was not recognised. Choose its column with Left and Right."}
	}
	if m.state.Settle && m.state.Point < len(m.points) {
		p := m.points[m.state.Point]
		return &notice.Notice{Tone: p.tone(), Lead: openWords(m.points), Text: wording.Upper(p.where() + p.text)}
	}
	if t := m.table(); t != nil {
		for _, f := range packinglist.Fields() {
			if m.columns().Confidence(f) == packinglist.Likely {
				return &notice.Notice{Tone: notice.Warn, Lead: "Look at the " + f.String() + ":", Text: "its heading is only likely. Left and Right choose another column."}
			}
		}
	}
	return doubtNotice(m.doubts)
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
	t := m.table()
	if t == nil || m.state.Working != "" {
		return
	}
	field := packinglist.Fields()[m.state.Column]
	n := width(t) + 1
	m.choose(m.columns().With(field, (m.columns().Column(field)+by+n)%n))
}

// choose reads the file again by other columns of the sheet shown.
func (m *ListModel) choose(columns packinglist.Columns) {
	name := m.table().Sheet
	m.again(func(c *packinglist.Choices) { c.Columns[name] = columns })
}

// NextSheet shows the columns of the next sheet that is read.
func (m *ListModel) NextSheet() {
	sheets := m.sheets()
	if len(sheets) < 2 || m.state.Working != "" {
		return
	}
	m.sheet = (m.sheet + 1) % len(sheets)
	m.took(read{book: m.book, reading: m.reading, revised: m.revised}, nil)
}

// Headings says that the lines start with the first row of the file, or that it
// holds headings after all.
func (m *ListModel) Headings() {
	t := m.table()
	if t == nil || m.state.Working != "" || len(t.Rows) == 0 {
		return
	}
	columns := m.columns()
	if columns.Heading != 0 {
		columns.Heading = 0
	} else {
		columns.Heading = t.Rows[0].Number
	}
	m.choose(columns)
}

// imported is what bringing a list in came to. Asked is another list of its order that
// has to be asked about first: then nothing was brought in.
type imported struct {
	Brought
	asked *session.Revised
}

// Confirm brings the list in, with the order and the supplier as typed.
func (m *ListModel) Confirm(order, supplier string) {
	if !m.state.Ready || m.state.Working != "" {
		return
	}
	list, problems := m.reading.List()
	if len(problems) > 0 {
		return
	}
	if order = strings.TrimSpace(order); order != "" {
		list.Order = order
	}
	m.state.Working, m.state.Ready = "Bringing "+wording.Plural(len(list.Lines), "line", "lines")+" in, all of them or none", false
	m.working.Drop()
	m.show(m.state)
	as, of, shape, said := m.taken, m.revised, session.ShapeOf(m.sheets()), toldOf(m.told)
	ctx := m.stoppable()
	loop.DoOnce(m.session.Loop, &m.writing, func() (imported, error) {
		made := session.NewShipment(m.session.Catalog(), list, strings.TrimSpace(supplier))
		made.Shape, made.Told = shape, said
		revised, found, err := m.session.FindRevised(made) // by the order as it was typed
		if err != nil || found && (as == unsaid || of == nil || of.Of.ID != revised.Of.ID) {
			return imported{asked: &revised}, err
		}
		done := imported{}
		if as == revises { // whatever its order is called by now
			made.Revises, done.Revised = of.Of.ID, of
		}
		done.Ship, done.Fresh, err = session.BringIn(ctx, m.session.Shop, m.session.Copies, made)
		return done, err
	}, m.brought)
}

// stoppable is the context of bringing a list in, which Stop ends, and which shows how far
// the safe copy before it is.
func (m *ListModel) stoppable() context.Context {
	ctx, stop := context.WithCancel(context.Background())
	m.stop = stop
	return progress.With(ctx, func(what string, done float64) {
		m.session.Loop.Post(func() {
			if !m.writing.Busy() || ctx.Err() != nil {
				return
			}
			m.state.Working = fmt.Sprintf("A safe copy first: %s, %d %%", what, int(100*max(0, done)))
			m.show(m.state)
		})
	})
}

func (m *ListModel) brought(i imported, err error) {
	m.stop()
	m.state.Working = ""
	if errors.Is(err, context.Canceled) {
		m.state.Ready = true
		m.state.Trouble = &notice.Notice{Tone: notice.Warn, Text: "Stopped. Nothing was brought in."}
		m.show(m.state)
		return
	}
	if err != nil {
		m.state.Ready = true
		m.state.Trouble = &notice.Notice{Tone: notice.Stop, Lead: "Nothing was brought in.", Text: wording.Error(err)}
		m.show(m.state)
		return
	}
	if i.asked != nil {
		m.revised, m.taken = i.asked, unsaid
		m.settled()
		return
	}
	m.opened(i.Brought)
}
