package unpack

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/labels"
	"stowright/store"
	"stowright/store/phrase"
)

// SheetState is what the page of a check-off sheet shows.
type SheetState struct {
	Loading bool
	Title   string
	Note    string // which lines are not in the column, and why
	Rows    []table.Row
	Row     int    // index of the line in hand, -1 for none
	Ask     string // "Line 38, AN3-4A: 12 listed"
	Text    string // what is typed at it
	Problem string // why it cannot be so
	Filled  int    // lines with something written
	Path    string // where Save would write the sheet
	Said    string
	Error   string
}

// SheetModel prints the check-off sheet of a crate, and enters what was ticked on it: down
// the column, as one entry at the end.
type SheetModel struct {
	// AskReplace asks whether a file is written over, and calls replace if it is.
	AskReplace session.AskReplace

	session *session.Session
	about   string
	folder  string
	show    func(SheetState)
	entered func(shipment string)
	state   SheetState
	data    delivery
	tag     store.Tag
	scope   scope
	lines   []store.Line            // the column
	texts   map[store.LineID]string // as typed
	working loop.Once
}

// NewSheetModel makes the model of a crate or bag, given the id of its place; entered is
// called when the column is entered.
func NewSheetModel(s *session.Session, about, folder string, show func(SheetState), entered func(string)) *SheetModel {
	return &SheetModel{session: s, about: about, folder: folder, show: show, entered: entered, texts: map[store.LineID]string{}, state: SheetState{Loading: true, Row: -1}}
}

// State is what is shown now.
func (m *SheetModel) State() SheetState { return m.state }

// sheetData is a delivery with the tag of what its sheet is about.
type sheetData struct {
	delivery
	tag store.Tag
}

// Load reads the lines.
func (m *SheetModel) Load() {
	session.Do(m.session, func() (sheetData, error) { return loadSheet(m.session, m.about) }, func(d sheetData, err error) {
		m.state.Loading = false
		if err != nil {
			m.state.Error = wording.Error(err)
			m.show(m.state)
			return
		}
		m.take(d)
	})
}

func loadSheet(s *session.Session, about string) (sheetData, error) {
	return session.Answer(s, func(r *session.Reader) (sheetData, error) {
		d, err := loadIn(r, about)
		if err != nil {
			return sheetData{}, err
		}
		place, err := r.Shop.Place(d.placeOf(d.start(about)))
		if store.KindOf(err) == store.NotFound {
			return sheetData{delivery: d}, nil
		}
		return sheetData{d, place.Tag}, err
	})
}

// placeOf is the place of a bag or of a crate.
func (d delivery) placeOf(s scope) string {
	if s.group != "" {
		for _, l := range d.within(s) {
			return l.Place
		}
	}
	for _, c := range d.ship.Crates {
		if c.Name == s.crate {
			return c.Place
		}
	}
	return ""
}

func (m *SheetModel) take(d sheetData) {
	m.data, m.tag, m.scope = d.delivery, d.tag, d.start(m.about)
	m.lines = nil
	left := 0
	for _, l := range m.data.within(m.scope) {
		switch {
		case !m.data.open(l) || !m.data.receivable(l):
		case partial(l):
			left++
		default:
			m.lines = append(m.lines, l)
		}
	}
	m.state.Title = "Check-off sheet for " + m.scope.sheetName()
	m.state.Note = ""
	if left > 0 {
		m.state.Note = wording.Plural(left, "line got some from another bag and is", "lines got some from another bag and are") + " counted at the line, not here."
	}
	if m.state.Path == "" {
		m.state.Path = proposed(m.folder, "check-off-"+m.data.ship.Order+"-"+m.scope.crate+m.scope.group, ".pdf")
	}
	if m.state.Row < 0 || m.state.Row >= len(m.lines) {
		m.state.Row = min(0, len(m.lines)-1)
	}
	m.render()
}

// sheetName is what a sheet is about: "crate C1", "bag H103 of crate C1".
func (s scope) sheetName() string {
	switch {
	case s.group != "":
		return "bag " + s.group + " of " + phrase.Crate(s.crate)
	case s.crate != "":
		return phrase.Crate(s.crate)
	}
	return "all crates"
}

// SheetColumns are those of the column that is filled.
func SheetColumns() []table.Column {
	return []table.Column{
		{Title: "line", Kind: table.Faint, Width: 34},
		{Title: "on the list", Kind: table.Names},
		{Title: "listed", Kind: table.Plain, Width: 70},
		{Title: "on the sheet", Kind: table.Figure, Width: 110},
		{Title: "", Kind: table.States, Width: 150},
	}
}

// render shows the column as it is filled.
func (m *SheetModel) render() {
	m.state.Rows, m.state.Filled = nil, 0
	for _, l := range m.lines {
		text := m.texts[l.ID]
		_, found, err := operation.TickedAmount(m.session, l, text)
		mark := notice.Mark{Word: "not ticked", Tone: notice.Quiet}
		switch {
		case err != nil:
			mark = notice.Mark{Word: "not a count", Tone: notice.Stop}
		case found:
			m.state.Filled++
			mark = m.data.mark(m.ticked(l, text))
		}
		m.state.Rows = append(m.state.Rows, table.Row{ID: fmt.Sprint(l.ID), Cells: []table.Cell{
			table.T(fmt.Sprint(l.Number())), table.Name(l.Designation, m.data.titles[l.Designation]),
			{Text: l.Listed.Number(), Sub: wording.ShortUnit(l.Listed.Unit)},
			table.T(text),
			{Mark: mark},
		}})
	}
	m.state.Ask, m.state.Text = "", ""
	if l := m.inHand(); l != nil {
		m.state.Ask = fmt.Sprintf("Line %d, %s: %s listed", l.Number(), l.Designation, l.Listed)
		m.state.Text = m.texts[l.ID]
	}
	m.show(m.state)
}

// ticked is a line as it would be.
func (m *SheetModel) ticked(l store.Line, text string) store.Line {
	amount, _, _ := operation.TickedAmount(m.session, l, text)
	l.Finding = &store.Finding{Found: amount, Counted: true}
	return l
}

func (m *SheetModel) inHand() *store.Line {
	if m.state.Row < 0 || m.state.Row >= len(m.lines) {
		return nil
	}
	return &m.lines[m.state.Row]
}

// Type follows what is typed at the line in hand.
func (m *SheetModel) Type(text string) {
	l := m.inHand()
	if l == nil || m.texts[l.ID] == text {
		return
	}
	m.texts[l.ID] = text
	m.state.Problem, m.state.Said, m.state.Error = "", "", ""
	m.render()
}

// Next takes what is typed and goes on to the next line; a text that is no count stays in
// hand and says why.
func (m *SheetModel) Next() {
	l := m.inHand()
	if l == nil {
		return
	}
	if _, _, err := operation.TickedAmount(m.session, *l, m.texts[l.ID]); err != nil {
		m.state.Problem = wording.Error(err)
		m.render()
		return
	}
	m.Choose(m.state.Row + 1)
}

// Choose makes the line with that index the one in hand.
func (m *SheetModel) Choose(index int) {
	if index < 0 || index >= len(m.lines) {
		m.render()
		return
	}
	m.state.Row, m.state.Problem = index, ""
	m.render()
}

// Enter books the whole column as one entry.
func (m *SheetModel) Enter() {
	o := operation.Column{List: m.data.ship.ID}
	for i, l := range m.lines {
		if _, _, err := operation.TickedAmount(m.session, l, m.texts[l.ID]); err != nil {
			m.state.Row = i
			m.state.Problem = wording.Error(err)
			m.render()
			return
		}
		o.Found = append(o.Found, operation.Ticked{Line: l.Number(), Found: m.texts[l.ID]})
	}
	operation.Start(m.session, &m.working, o, func(_ operation.Result, err error) {
		if err != nil {
			m.state.Error = wording.Error(err)
			m.render()
			return
		}
		m.texts = map[store.LineID]string{}
		m.entered(m.data.ship.ID)
	})
}

// Save writes the sheet to be printed.
func (m *SheetModel) Save(path string) { m.save(strings.TrimSpace(path), false) }

func (m *SheetModel) save(path string, replace bool) {
	if m.state.Loading {
		return
	}
	d, s, tag := m.data, m.scope, m.tag
	loop.DoOnce(m.session.Loop, &m.working, func() (string, error) {
		if path == "" {
			return "", say("Say where to save it: a folder and a name, such as sheet.pdf.")
		}
		doc, err := m.session.Lay(d.sheet(s, tag))
		if err != nil {
			return "", err
		}
		return "Saved to " + path + ". Print it at 100 %.", m.session.SavePDF(path, doc, replace)
	}, func(said string, err error) {
		if m.AskReplace.Asks(err, func() { m.save(path, true) }) {
			return
		}
		m.state.Said, m.state.Error = said, ""
		if err != nil {
			m.state.Said, m.state.Error = "", wording.Error(err)
		}
		m.render()
	})
}

// sheet is the check-off sheet of a crate or bag, to take to it on a clipboard.
func (d delivery) sheet(s scope, tag store.Tag) labels.Paper {
	title, note := d.heading(s)
	p := labels.Paper{
		Title: title, Tag: string(tag),
		Under: []string{note, "Tick what is all here; else write how many are. Damaged or wrong: write what. Enter it down the column: Unpack, K."},
	}
	columns := []labels.PaperColumn{
		{Title: "line", Width: 12, Mono: true},
		{Title: "part number", Width: 40, Mono: true},
		{Title: "description"},
		{Title: "listed", Width: 20, Mono: true},
		{Title: "all", Width: 9, Tick: true},
		{Title: "found", Width: 18, Line: true},
		{Title: "damaged, wrong", Width: 34, Line: true},
	}
	var groups []string
	for _, l := range d.within(s) {
		if !slices.Contains(groups, l.Group) {
			groups = append(groups, l.Group)
		}
	}
	for _, g := range groups {
		b := labels.Block{Columns: columns}
		if s.group == "" {
			b.Heading = cmp.Or(g, "in no bag")
		}
		for _, l := range d.within(s) {
			if l.Group != g || l.Extra {
				continue
			}
			b.Rows = append(b.Rows, []string{fmt.Sprint(l.Number()), l.Designation, d.sheetWords(l), l.Listed.String(), ""})
		}
		if len(b.Rows) > 0 {
			p.Blocks = append(p.Blocks, b)
		}
	}
	return p
}

// sheetWords are what a sheet says of a line: its title, and that it needs no tick.
func (d delivery) sheetWords(l store.Line) string {
	words := cmp.Or(d.titles[l.Designation], l.Title)
	if state := d.state(l); state != store.ToCheck {
		words += " (" + l.Describe(d.arrived(l)) + ")"
	}
	if l.LookIn != "" {
		words += ". Look: " + l.LookIn
	}
	return words
}

// SheetPaper is the check-off sheet of a crate of a packing list, by its name.
func SheetPaper(s *session.Session, shipment, crate string) (labels.Document, error) {
	d, err := load(s, shipment)
	if err != nil {
		return labels.Document{}, err
	}
	for _, c := range d.ship.Crates {
		if !strings.EqualFold(c.Name, crate) {
			continue
		}
		sheet, err := loadSheet(s, c.Place)
		if err != nil {
			return labels.Document{}, err
		}
		return s.Lay(sheet.sheet(scope{crate: c.Name}, sheet.tag))
	}
	var names []string
	for _, c := range d.ship.Crates {
		names = append(names, c.Name)
	}
	return labels.Document{}, say("No crate of this list is called %q: it has %s.", crate, strings.Join(names, ", "))
}
