package building

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"stowright/app/card"
	"stowright/app/loop"
	"stowright/app/notice"
	"stowright/app/operation"
	"stowright/app/session"
	"stowright/app/table"
	"stowright/app/wording"
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// BenchState is what the page of one tray shows.
type BenchState struct {
	Title, Note string
	Rows        []table.Row
	Chosen      int      // index of the chosen line; -1 for none
	Looked      []string // what is looked for
	Asked       string   // which joints the tables doubt, as they are called; empty for none
	Card        card.Card
	Place       string // id of the tray
	Problem     string
}

// BenchColumns are those of the lines of a tray.
func BenchColumns() []table.Column {
	return []table.Column{
		{Title: "called", Kind: table.Names},
		{Title: "need", Kind: table.Figure, Width: 58},
		{Title: "in the tray", Kind: table.Figure, Width: 92},
		{Title: "fitted", Kind: table.Figure, Width: 68},
		{Kind: table.States, Width: 190},
	}
}

// benchData is what was read of a tray.
type benchData struct {
	sub    store.SubAssembly
	status build.Status
	lines  []benchLine
	lost   []store.Scrapped
	open   []build.Open
	items  map[string]store.Item
	joints []build.JointCheck
	with   map[string][]string // lines that may be one joint with a bolt's
	papers []offer
}

// benchLine is one item that is called, lies in the tray, was fitted or is looked for.
type benchLine struct {
	item, title, called string
	needed              measure.Quantity
	tray, fitted        store.Amount
	lost                measure.Quantity
	kind                build.Kind
	requirements        []string // "R-31": the lines of the list that call it
}

// readBench reads the tray of a sub-assembly.
func readBench(r *session.Reader, code string) (benchData, error) {
	d := benchData{items: map[string]store.Item{}}
	subs, err := r.Shop.SubAssemblies()
	if err != nil {
		return d, err
	}
	if d.sub, err = session.SubAssemblyNamed(subs, code); err != nil {
		return d, err
	}
	err = r.Board(func(b *build.Board) error {
		d.status, _ = b.Status(d.sub.Code)
		d.status.Needs = slices.Clone(d.status.Needs)
		return nil
	})
	if err != nil {
		return d, err
	}
	for _, n := range d.status.Needs {
		l := d.line(n.Item)
		l.needed.Micro, l.needed.Unit, l.kind = l.needed.Micro+n.Needed.Micro, n.Needed.Unit, n.Kind
		if !slices.Contains(l.requirements, n.Requirement) {
			l.requirements = append(l.requirements, n.Requirement)
		}
		if n.Called != n.Item {
			l.called = n.Called
		}
	}
	if err := d.amounts(r); err != nil {
		return d, err
	}
	for i := range d.lines {
		l := &d.lines[i]
		record, err := r.Shop.Item(l.item)
		if err != nil && store.KindOf(err) != store.NotFound {
			return d, err
		}
		d.items[l.item] = record
		l.title = session.Title(record, r.Catalog().Decode(l.item))
	}
	if d.joints, err = r.Joints(d.sub.Code); err != nil {
		return d, err
	}
	if d.with, err = proposals(r, d); err != nil {
		return d, err
	}
	if d.papers, err = papersNamed(r); err != nil {
		return d, err
	}
	d.open, _, err = r.Shop.Closing(d.sub.Code, nil)
	return d, err
}

// amounts adds what lies in the tray, what was fitted and what is looked for.
func (d *benchData) amounts(r *session.Reader) error {
	heaps, err := r.Shop.Contents(d.sub.Place)
	if err != nil {
		return err
	}
	for _, h := range heaps {
		if l := d.line(h.Item); h.Condition == store.Good {
			if l.tray, err = l.tray.Add(h.Amount); err != nil {
				return fmt.Errorf("adding up %s: %w", h.Item, err)
			}
		}
	}
	fitted, err := r.Shop.Fitted(d.sub.Code)
	if err != nil {
		return err
	}
	for _, f := range fitted {
		l := d.line(f.Item)
		if l.fitted, err = l.fitted.Add(f.Amount); err != nil {
			return fmt.Errorf("adding up %s: %w", f.Item, err)
		}
	}
	d.lost, err = r.Shop.LookedFor(d.sub.Code)
	for _, x := range d.lost {
		l, q := d.line(x.Item), x.Missing()
		l.lost.Micro, l.lost.Unit = l.lost.Micro+q.Micro, q.Unit
	}
	return err
}

// line is the line of an item, which is added where there is none.
func (d *benchData) line(item string) *benchLine {
	for i := range d.lines {
		if d.lines[i].item == item {
			return &d.lines[i]
		}
	}
	d.lines = append(d.lines, benchLine{item: item})
	return &d.lines[len(d.lines)-1]
}

// mark is how a line stands.
func (l benchLine) mark() notice.Mark {
	switch {
	case l.lost.Sign() > 0:
		return notice.Mark{Word: l.lost.Number() + " looked for", Tone: notice.Stop}
	case l.needed.IsZero() && l.kind == build.Exact:
		return notice.Mark{Word: "not called here", Tone: notice.Warn}
	case l.kind == build.Temporary && l.tray.Sign() > 0:
		return notice.Mark{Word: "temporary: comes back", Tone: notice.Warn}
	case l.kind != build.Exact:
		return notice.Mark{Word: string(l.kind)}
	case l.fitted.Micro >= l.needed.Micro && l.tray.Sign() > 0:
		return notice.Mark{Word: l.tray.Figure() + " left over", Tone: notice.Warn}
	case l.fitted.Micro > l.needed.Micro:
		return notice.Mark{Word: "fitted, more than called", Tone: notice.Warn}
	case l.fitted.Micro == l.needed.Micro:
		return notice.Mark{Word: "fitted", Tone: notice.OK}
	case l.tray.Micro+l.fitted.Micro >= l.needed.Micro:
		return notice.Mark{Word: "in the tray", Tone: notice.OK}
	}
	return notice.Mark{Word: measure.Quantity{Micro: l.needed.Micro - l.tray.Micro - l.fitted.Micro, Unit: l.needed.Unit}.Number() + " to pull", Tone: notice.Quiet}
}

func (l benchLine) row(joints []build.JointCheck) table.Row {
	sub := l.title
	if words := inJoints(joints); words != "" {
		sub = words + " · " + sub
	}
	if l.called != "" {
		sub = "called " + l.called + " · " + sub
	}
	figure := func(a store.Amount) string {
		if a.IsZero() {
			return "–"
		}
		return a.Figure()
	}
	need := l.needed.Number()
	if l.needed.IsZero() {
		need = "–"
	}
	return table.Row{ID: l.item, Cells: []table.Cell{table.Name(l.item, sub), table.T(need), table.T(figure(l.tray)), table.T(figure(l.fitted)), {Mark: l.mark()}}}
}

// BenchModel decides what the page of one tray shows. Its methods are called on the
// window's goroutine.
type BenchModel struct {
	session *session.Session
	show    func(BenchState)
	code    string
	state   BenchState
	data    benchData
	item    string // of the chosen line
	reading loop.Latest
	doing   loop.Once
}

// NewBenchModel makes the model of the tray of a sub-assembly, by its code.
func NewBenchModel(s *session.Session, code string, show func(BenchState)) *BenchModel {
	return &BenchModel{session: s, code: code, show: show, state: BenchState{Chosen: -1}}
}

// State is what is shown now.
func (m *BenchModel) State() BenchState { return m.state }

// Load reads the tray.
func (m *BenchModel) Load() {
	code := m.code
	loop.DoLatest(m.session.Loop, &m.reading, func(context.Context) (benchData, error) {
		return session.Answer(m.session, func(r *session.Reader) (benchData, error) { return readBench(r, code) })
	}, func(d benchData, err error) {
		if err != nil {
			m.state = BenchState{Title: "At the bench", Chosen: -1, Problem: wording.Error(err)}
			m.show(m.state)
			return
		}
		m.data, m.code = d, d.sub.Code
		m.render()
	})
}

func (m *BenchModel) render() {
	d := m.data
	s := BenchState{Title: "At the bench: " + strings.TrimSpace(d.sub.Code+" "+d.sub.Name), Note: wording.Sentence(d.status.Sentence), Chosen: -1, Place: d.sub.Place}
	for i, l := range d.lines {
		if l.item == m.item {
			s.Chosen = i
		}
		s.Rows = append(s.Rows, l.row(l.ofBolt(d.joints)))
	}
	s.Asked = doubted(d.joints)
	if s.Chosen < 0 && len(s.Rows) > 0 {
		s.Chosen, m.item = 0, d.lines[0].item
	}
	for _, x := range d.lost {
		s.Looked = append(s.Looked, fmt.Sprintf("%s %s (%s)", x.Missing().Number(), x.Item, x.Name()))
	}
	s.Card = d.card(s.Chosen)
	m.state = s
	m.show(s)
}

// card is the tray as a card: the joints of the chosen line, and what is open.
func (d benchData) card(chosen int) card.Card {
	c := card.Card{Designation: d.sub.Code, Title: cmp.Or(d.sub.Name, "Sub-assembly"), Place: "its tray"}
	if chosen >= 0 {
		c.Beware, c.Notes = jointNotices(jointsAt(d.joints, d.lines[chosen].requirements))
	}
	if d.sub.Closed != nil {
		c.Mark = notice.Mark{Word: "closed", Tone: notice.OK}
		return c
	}
	for i, o := range d.open {
		if i == mostOpen {
			c.Notes = append(c.Notes, fmt.Sprintf("and %d more before it can be closed", len(d.open)-i))
			break
		}
		c.Notes = append(c.Notes, "open: "+o.Sentence)
	}
	return c
}

// mostOpen is how much of what is open a card lists.
const mostOpen = 5

// Choose chooses a line, by index.
func (m *BenchModel) Choose(index int) {
	if index >= 0 && index < len(m.data.lines) && index != m.state.Chosen {
		m.item = m.data.lines[index].item
		m.render()
	}
}

func (m *BenchModel) line() (benchLine, bool) {
	if m.state.Chosen < 0 || m.state.Chosen >= len(m.data.lines) {
		return benchLine{}, false
	}
	return m.data.lines[m.state.Chosen], true
}

// Closed reports whether the sub-assembly is closed.
func (m *BenchModel) Closed() bool { return m.data.sub.Closed != nil }

// Do does an operation, and calls back with what was done in words, or with what is wrong.
func (m *BenchModel) Do(o operation.Operation, back func(words string, err error)) {
	operation.Start(m.session, &m.doing, o, func(r operation.Result, err error) {
		if err == nil {
			m.Load()
		}
		back(r.Words(), err)
	})
}
